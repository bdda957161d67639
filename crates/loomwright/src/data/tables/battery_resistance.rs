// Written by `cargo run -p xtask -- data` from battery_resistance.csv; do not edit.

use crate::data::{Source, tables::sources};

/// resistance of a battery over that at 80 % charge, by state of charge; lithium iron phosphate flat, from memory.
#[derive(Debug)]
pub(crate) struct BatteryResistance {
    pub(crate) family: &'static str,
    pub(crate) charge_ratio: f64,
    pub(crate) over_ratio: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[BatteryResistance] = &[
    BatteryResistance { family: "lead", charge_ratio: 0.0, over_ratio: 2.693, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 0.1, over_ratio: 1.583, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 0.2, over_ratio: 1.312, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 0.3, over_ratio: 1.161, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 0.4, over_ratio: 1.086, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 0.5, over_ratio: 1.029, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 0.6, over_ratio: 1.008, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 0.7, over_ratio: 0.9929, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 0.8, over_ratio: 1.0, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 0.9, over_ratio: 1.035, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lead", charge_ratio: 1.0, over_ratio: 1.042, source: &sources::LEAD_ACID_LAB, },
    BatteryResistance { family: "lithium", charge_ratio: 0.0, over_ratio: 1.5, source: &sources::BATTERY_MEMORY, },
    BatteryResistance { family: "lithium", charge_ratio: 0.1, over_ratio: 1.1, source: &sources::BATTERY_MEMORY, },
    BatteryResistance { family: "lithium", charge_ratio: 0.8, over_ratio: 1.0, source: &sources::BATTERY_MEMORY, },
    BatteryResistance { family: "lithium", charge_ratio: 1.0, over_ratio: 1.0, source: &sources::BATTERY_MEMORY, },
];
