// Written by `cargo run -p xtask -- data` from battery_charging.csv; do not edit.

use crate::data::{Source, tables::sources};

/// charge settings of a 12 V block at 25 °C: absorption and float between these, equalisation (0: never), change per kelvin, and the charge current over capacity in one hour that makers recommend at least.
#[derive(Debug)]
pub(crate) struct BatteryCharging {
    pub(crate) chemistry: &'static str,
    pub(crate) absorption_low_v: f64,
    pub(crate) absorption_high_v: f64,
    pub(crate) float_low_v: f64,
    pub(crate) float_high_v: f64,
    pub(crate) equalise_v: f64,
    pub(crate) compensation_v_per_k: f64,
    pub(crate) least_per_h: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[BatteryCharging] = &[
    BatteryCharging { chemistry: "flooded", absorption_low_v: 14.25, absorption_high_v: 14.7, float_low_v: 13.2, float_high_v: 13.8, equalise_v: 15.0, compensation_v_per_k: -0.018, least_per_h: 0.1, source: &sources::BATTERY_CHARGE_PAGES, },
    BatteryCharging { chemistry: "agm", absorption_low_v: 14.25, absorption_high_v: 14.7, float_low_v: 13.4, float_high_v: 13.8, equalise_v: 0.0, compensation_v_per_k: -0.018, least_per_h: 0.15, source: &sources::BATTERY_CHARGE_PAGES, },
    BatteryCharging { chemistry: "gel", absorption_low_v: 14.1, absorption_high_v: 14.4, float_low_v: 13.4, float_high_v: 13.8, equalise_v: 0.0, compensation_v_per_k: -0.018, least_per_h: 0.15, source: &sources::BATTERY_CHARGE_PAGES, },
    BatteryCharging { chemistry: "lithium-iron-phosphate", absorption_low_v: 14.2, absorption_high_v: 14.6, float_low_v: 13.2, float_high_v: 13.8, equalise_v: 0.0, compensation_v_per_k: 0.0, least_per_h: 0.05, source: &sources::BATTERY_CHARGE_PAGES, },
];
