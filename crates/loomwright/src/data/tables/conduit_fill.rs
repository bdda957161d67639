// Written by `cargo run -p xtask -- data` from conduit_fill.csv; do not edit.

use crate::data::{Source, tables::sources};

/// share of a conduit's bore that cables of their real outer diameters may fill, by how many they are; the last row serves for more.
#[derive(Debug)]
pub(crate) struct ConduitFill {
    pub(crate) conductors: f64,
    pub(crate) fill_ratio: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[ConduitFill] = &[
    ConduitFill { conductors: 1.0, fill_ratio: 0.53, source: &sources::NEC_CHAPTER9_TABLE1_MEMORY, },
    ConduitFill { conductors: 2.0, fill_ratio: 0.31, source: &sources::NEC_CHAPTER9_TABLE1_MEMORY, },
    ConduitFill { conductors: 3.0, fill_ratio: 0.4, source: &sources::NEC_CHAPTER9_TABLE1_MEMORY, },
];
