// Written by `cargo run -p xtask -- data` from battery_emf.csv; do not edit.

use crate::data::{Source, tables::sources};

/// terminal voltage of a battery at rest per 12 V block (six lead-acid or four lithium iron phosphate cells), highest charge voltage, and resistance of 100 Ah of it.
#[derive(Debug)]
pub(crate) struct BatteryEmf {
    pub(crate) chemistry: &'static str,
    pub(crate) low_v: f64,
    pub(crate) resting_v: f64,
    pub(crate) full_v: f64,
    pub(crate) charge_v: f64,
    pub(crate) resistance_mohm: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[BatteryEmf] = &[
    BatteryEmf { chemistry: "flooded", low_v: 11.9, resting_v: 12.4, full_v: 12.7, charge_v: 14.8, resistance_mohm: 6.0, source: &sources::BATTERY_MEMORY, },
    BatteryEmf { chemistry: "agm", low_v: 11.9, resting_v: 12.5, full_v: 12.8, charge_v: 14.7, resistance_mohm: 4.5, source: &sources::BATTERY_MEMORY, },
    BatteryEmf { chemistry: "gel", low_v: 11.9, resting_v: 12.5, full_v: 12.8, charge_v: 14.4, resistance_mohm: 4.5, source: &sources::BATTERY_MEMORY, },
    BatteryEmf { chemistry: "lithium-iron-phosphate", low_v: 12.8, resting_v: 13.2, full_v: 13.4, charge_v: 14.6, resistance_mohm: 4.0, source: &sources::BATTERY_MEMORY, },
];
