// Written by `cargo run -p xtask -- data` from drop_limits.csv; do not edit.

use crate::data::{Source, tables::sources};

/// permitted drop from source to load as a share of nominal voltage, by what the circuit is for.
#[derive(Debug)]
pub(crate) struct DropLimits {
    pub(crate) function: &'static str,
    pub(crate) running_ratio: f64,
    pub(crate) note: &'static str,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[DropLimits] = &[
    DropLimits { function: "navigation", running_ratio: 0.03, note: "navigation lights 3 %", source: &sources::ISO_10133_DROP, },
    DropLimits { function: "bilge", running_ratio: 0.03, note: "bilge pumps and blowers 3 %", source: &sources::ISO_10133_DROP, },
    DropLimits { function: "feeder", running_ratio: 0.03, note: "panel main feed 3 %", source: &sources::ISO_10133_DROP, },
    DropLimits { function: "general", running_ratio: 0.1, note: "other circuits 10 %", source: &sources::ISO_10133_MEMORY, },
    DropLimits { function: "inverter", running_ratio: 0.03, note: "3 % at rated power", source: &sources::COMMON_PRACTICE_DEFAULT, },
    DropLimits { function: "solar", running_ratio: 0.02, note: "2 %", source: &sources::COMMON_PRACTICE_DEFAULT, },
];
