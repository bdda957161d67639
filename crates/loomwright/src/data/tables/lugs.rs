// Written by `cargo run -p xtask -- data` from lugs.csv; do not edit.

use crate::data::{Source, tables::sources};

/// crimp lugs as they are made: cross-sectional area of the conductor, threads of the studs that their rings go over.
/// up to 4 mm² pre-insulated rings, above it tubular compression lugs; a maker's own list comes first.
#[derive(Debug)]
pub(crate) struct Lugs {
    pub(crate) csa_mm2: f64,
    pub(crate) threads: &'static str,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Lugs] = &[
    Lugs { csa_mm2: 1.5, threads: "M3.5 M4 M5 M6", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 2.5, threads: "M3.5 M4 M5 M6 M8", source: &sources::LUG_DRIVE_MANUAL, },
    Lugs { csa_mm2: 4.0, threads: "M4 M5 M6 M8", source: &sources::LUG_DRIVE_MANUAL, },
    Lugs { csa_mm2: 6.0, threads: "M5 M6 M8", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 10.0, threads: "M5 M6 M8 M10", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 16.0, threads: "M6 M8 M10 M12", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 25.0, threads: "M6 M8 M10 M12", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 35.0, threads: "M6 M8 M10 M12", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 50.0, threads: "M8 M10 M12 M16", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 70.0, threads: "M8 M10 M12 M16", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 95.0, threads: "M10 M12 M16", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 120.0, threads: "M10 M12 M16", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 150.0, threads: "M10 M12 M16", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 185.0, threads: "M12 M16", source: &sources::LUG_MEMORY, },
    Lugs { csa_mm2: 240.0, threads: "M12 M16", source: &sources::LUG_MEMORY, },
];
