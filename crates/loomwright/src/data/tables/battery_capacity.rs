// Written by `cargo run -p xtask -- data` from battery_capacity.csv; do not edit.

use crate::data::{Source, tables::sources};

/// capacity by temperature over that at 25 °C; warmth is not credited.
#[derive(Debug)]
pub(crate) struct BatteryCapacity {
    pub(crate) family: &'static str,
    pub(crate) at_c: f64,
    pub(crate) over_ratio: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[BatteryCapacity] = &[
    BatteryCapacity { family: "lead", at_c: -40.0, over_ratio: 0.1, source: &sources::BATTERY_STORAGE_MEMORY, },
    BatteryCapacity { family: "lead", at_c: -18.0, over_ratio: 0.45, source: &sources::LITHIUM_SUPPLIER_TEXT, },
    BatteryCapacity { family: "lead", at_c: -6.7, over_ratio: 0.6289, source: &sources::BATTERY_WORKSHEETS, },
    BatteryCapacity { family: "lead", at_c: -1.1, over_ratio: 0.6993, source: &sources::IEEE_485_MEMORY, },
    BatteryCapacity { family: "lead", at_c: 4.4, over_ratio: 0.7692, source: &sources::BATTERY_WORKSHEETS, },
    BatteryCapacity { family: "lead", at_c: 10.0, over_ratio: 0.8403, source: &sources::BATTERY_WORKSHEETS, },
    BatteryCapacity { family: "lead", at_c: 15.6, over_ratio: 0.9009, source: &sources::BATTERY_WORKSHEETS, },
    BatteryCapacity { family: "lead", at_c: 21.2, over_ratio: 0.9615, source: &sources::BATTERY_WORKSHEETS, },
    BatteryCapacity { family: "lead", at_c: 26.7, over_ratio: 1.0, source: &sources::BATTERY_WORKSHEETS, },
    BatteryCapacity { family: "lithium", at_c: -40.0, over_ratio: 0.4, source: &sources::BATTERY_STORAGE_MEMORY, },
    BatteryCapacity { family: "lithium", at_c: -18.0, over_ratio: 0.7, source: &sources::LITHIUM_SUPPLIER_TEXT, },
    BatteryCapacity { family: "lithium", at_c: 25.0, over_ratio: 1.0, source: &sources::LITHIUM_SUPPLIER_TEXT, },
];
