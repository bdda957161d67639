// Written by `cargo run -p xtask -- data` from walls.csv; do not edit.

use crate::data::{Source, tables::sources};

/// insulation wall by conductor kind; a row holds for every conductor up to and including csa_mm2.
#[derive(Debug)]
pub(crate) struct Walls {
    pub(crate) kind: &'static str,
    pub(crate) csa_mm2: f64,
    pub(crate) wall_mm: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Walls] = &[
    Walls { kind: "iec", csa_mm2: 1.0, wall_mm: 0.6, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 1.5, wall_mm: 0.7, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 6.0, wall_mm: 0.8, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 16.0, wall_mm: 1.0, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 35.0, wall_mm: 1.2, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 70.0, wall_mm: 1.4, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 120.0, wall_mm: 1.6, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 150.0, wall_mm: 1.8, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 185.0, wall_mm: 2.0, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 240.0, wall_mm: 2.2, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 300.0, wall_mm: 2.4, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "iec", csa_mm2: 400.0, wall_mm: 2.6, source: &sources::WALL_IEC_MEMORY, },
    Walls { kind: "gauge", csa_mm2: 5.5, wall_mm: 0.76, source: &sources::WALL_GAUGE_MEMORY, },
    Walls { kind: "gauge", csa_mm2: 8.5, wall_mm: 1.14, source: &sources::WALL_GAUGE_MEMORY, },
    Walls { kind: "gauge", csa_mm2: 34.0, wall_mm: 1.52, source: &sources::WALL_GAUGE_MEMORY, },
    Walls { kind: "gauge", csa_mm2: 108.0, wall_mm: 2.03, source: &sources::WALL_GAUGE_MEMORY, },
    Walls { kind: "gauge", csa_mm2: 150.0, wall_mm: 2.41, source: &sources::WALL_GAUGE_MEMORY, },
];
