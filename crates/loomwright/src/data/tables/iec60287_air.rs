// Written by `cargo run -p xtask -- data` from iec60287_air.csv; do not edit.

use crate::data::{Source, tables::sources};

/// IEC 60287-2-1 table 2, heat shed by a black surface in still air: h = Z / De^g + E in W/(m²·K^1.25), De in m; conductors counts those touching.
#[derive(Debug)]
pub(crate) struct Iec60287Air {
    pub(crate) arrangement: &'static str,
    pub(crate) place: &'static str,
    pub(crate) conductors: f64,
    pub(crate) z: f64,
    pub(crate) e: f64,
    pub(crate) g: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Iec60287Air] = &[
    Iec60287Air { arrangement: "single", place: "air", conductors: 1.0, z: 0.21, e: 3.94, g: 0.6, source: &sources::IEC_60287_2_1, },
    Iec60287Air { arrangement: "two-touching-level", place: "air", conductors: 2.0, z: 0.29, e: 2.35, g: 0.5, source: &sources::IEC_60287_2_1_MEMORY, },
    Iec60287Air { arrangement: "two-touching-above-each-other", place: "air", conductors: 2.0, z: 1.42, e: 0.86, g: 0.25, source: &sources::IEC_60287_2_1_MEMORY, },
    Iec60287Air { arrangement: "three-touching-level", place: "air", conductors: 3.0, z: 0.62, e: 1.95, g: 0.25, source: &sources::IEC_60287_2_1, },
    Iec60287Air { arrangement: "three-in-trefoil", place: "air", conductors: 3.0, z: 0.96, e: 1.25, g: 0.2, source: &sources::IEC_60287_2_1_MEMORY, },
    Iec60287Air { arrangement: "single-on-wall", place: "wall", conductors: 1.0, z: 1.69, e: 0.63, g: 0.25, source: &sources::IEC_60287_2_1_MEMORY, },
    Iec60287Air { arrangement: "three-in-trefoil-on-wall", place: "wall", conductors: 3.0, z: 0.94, e: 0.79, g: 0.2, source: &sources::IEC_60287_2_1_MEMORY, },
];
