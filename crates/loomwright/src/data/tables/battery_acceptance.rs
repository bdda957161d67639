// Written by `cargo run -p xtask -- data` from battery_acceptance.csv; do not edit.

use crate::data::{Source, tables::sources};

/// most charge current from a temperature up, over capacity in one hour; lead-acid the largest of a sealed battery's sheet, lithium iron phosphate the least of a cell sheet, a system manual and a handling guide.
#[derive(Debug)]
pub(crate) struct BatteryAcceptance {
    pub(crate) family: &'static str,
    pub(crate) from_c: f64,
    pub(crate) most_per_h: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[BatteryAcceptance] = &[
    BatteryAcceptance { family: "lead", from_c: -40.0, most_per_h: 0.4, source: &sources::SEALED_BATTERY_SHEET, },
    BatteryAcceptance { family: "lithium", from_c: -40.0, most_per_h: 0.0, source: &sources::LITHIUM_CELL_SHEET, },
    BatteryAcceptance { family: "lithium", from_c: 0.0, most_per_h: 0.1, source: &sources::LITHIUM_SYSTEM_MANUAL, },
    BatteryAcceptance { family: "lithium", from_c: 10.0, most_per_h: 0.2, source: &sources::LITHIUM_CELL_SHEET, },
    BatteryAcceptance { family: "lithium", from_c: 15.0, most_per_h: 0.5, source: &sources::LITHIUM_CELL_SHEET, },
    BatteryAcceptance { family: "lithium", from_c: 45.0, most_per_h: 0.1, source: &sources::LITHIUM_SYSTEM_MANUAL, },
    BatteryAcceptance { family: "lithium", from_c: 60.0, most_per_h: 0.0, source: &sources::LITHIUM_SYSTEM_MANUAL, },
];
