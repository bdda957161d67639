// Written by `cargo run -p xtask -- data` from bend_radii.csv; do not edit.

use crate::data::{Source, tables::sources};

/// least inner bend radius over outer diameter of a cable fixed in place, up to an outer diameter; the last row of a build serves beyond it.
#[derive(Debug)]
pub(crate) struct BendRadii {
    pub(crate) build: &'static str,
    pub(crate) outer_mm: f64,
    pub(crate) factor: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[BendRadii] = &[
    BendRadii { build: "flexible", outer_mm: 8.0, factor: 3.0, source: &sources::BEND_MEMORY, },
    BendRadii { build: "flexible", outer_mm: 12.0, factor: 4.0, source: &sources::BEND_MEMORY, },
    BendRadii { build: "flexible", outer_mm: 100.0, factor: 5.0, source: &sources::BEND_MEMORY, },
    BendRadii { build: "stiff", outer_mm: 10.0, factor: 3.0, source: &sources::BEND_MEMORY, },
    BendRadii { build: "stiff", outer_mm: 25.0, factor: 4.0, source: &sources::BEND_MEMORY, },
    BendRadii { build: "stiff", outer_mm: 100.0, factor: 6.0, source: &sources::BEND_MEMORY, },
];
