// Written by `cargo run -p xtask -- data` from ferrules.csv; do not edit.

use crate::data::{Source, tables::sources};

/// crimped end ferrules: cross-sectional area of the flexible conductor, usual lengths of their tubes.
#[derive(Debug)]
pub(crate) struct Ferrules {
    pub(crate) csa_mm2: f64,
    pub(crate) lengths_mm_list: &'static [f64],
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Ferrules] = &[
    Ferrules { csa_mm2: 0.25, lengths_mm_list: &[6.0, 8.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 0.34, lengths_mm_list: &[6.0, 8.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 0.5, lengths_mm_list: &[6.0, 8.0, 10.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 0.75, lengths_mm_list: &[6.0, 8.0, 10.0, 12.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 1.0, lengths_mm_list: &[6.0, 8.0, 10.0, 12.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 1.5, lengths_mm_list: &[8.0, 10.0, 12.0, 18.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 2.5, lengths_mm_list: &[8.0, 10.0, 12.0, 18.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 4.0, lengths_mm_list: &[10.0, 12.0, 18.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 6.0, lengths_mm_list: &[12.0, 18.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 10.0, lengths_mm_list: &[12.0, 18.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 16.0, lengths_mm_list: &[12.0, 18.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 25.0, lengths_mm_list: &[16.0, 18.0, 22.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 35.0, lengths_mm_list: &[16.0, 18.0, 25.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
    Ferrules { csa_mm2: 50.0, lengths_mm_list: &[20.0, 25.0], source: &sources::FERRULE_LENGTHS_MEMORY, },
];
