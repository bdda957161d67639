// Written by `cargo run -p xtask -- data` from battery_storage.csv; do not edit.

use crate::data::{Source, tables::sources};

/// how batteries store charge: Peukert's exponent and the hour rate of the rated capacity, charge given over charge taken, the usual least state of charge, self-discharge of a month, and the time constant with which a nearly full battery takes less and less.
#[derive(Debug)]
pub(crate) struct BatteryStorage {
    pub(crate) chemistry: &'static str,
    pub(crate) peukert_ratio: f64,
    pub(crate) rate_h: f64,
    pub(crate) charge_ratio: f64,
    pub(crate) least_ratio: f64,
    pub(crate) month_ratio: f64,
    pub(crate) taper_h: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[BatteryStorage] = &[
    BatteryStorage { chemistry: "flooded", peukert_ratio: 1.3, rate_h: 20.0, charge_ratio: 0.85, least_ratio: 0.5, month_ratio: 0.15, taper_h: 1.5, source: &sources::BATTERY_STORAGE_LEAD, },
    BatteryStorage { chemistry: "agm", peukert_ratio: 1.15, rate_h: 20.0, charge_ratio: 0.85, least_ratio: 0.5, month_ratio: 0.05, taper_h: 1.5, source: &sources::BATTERY_STORAGE_LEAD, },
    BatteryStorage { chemistry: "gel", peukert_ratio: 1.25, rate_h: 20.0, charge_ratio: 0.85, least_ratio: 0.5, month_ratio: 0.05, taper_h: 1.5, source: &sources::BATTERY_STORAGE_LEAD, },
    BatteryStorage { chemistry: "lithium-iron-phosphate", peukert_ratio: 1.05, rate_h: 20.0, charge_ratio: 0.98, least_ratio: 0.2, month_ratio: 0.05, taper_h: 0.1, source: &sources::BATTERY_STORAGE_LITHIUM, },
];
