// Written by `cargo run -p xtask -- data` from grouping.csv; do not edit.

use crate::data::{Source, tables::sources};

/// factor on the ampacity of each of n equal circuits bunched or enclosed together; between rows the next larger number holds, beyond the last none.
#[derive(Debug)]
pub(crate) struct Grouping {
    pub(crate) circuits: f64,
    pub(crate) factor: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Grouping] = &[
    Grouping { circuits: 1.0, factor: 1.0, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 2.0, factor: 0.8, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 3.0, factor: 0.7, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 4.0, factor: 0.65, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 5.0, factor: 0.6, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 6.0, factor: 0.57, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 7.0, factor: 0.54, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 8.0, factor: 0.52, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 9.0, factor: 0.5, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 12.0, factor: 0.45, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 16.0, factor: 0.41, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
    Grouping { circuits: 20.0, factor: 0.38, source: &sources::IEC_60364_5_52_GROUPING_MEMORY, },
];
