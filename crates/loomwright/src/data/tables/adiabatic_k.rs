// Written by `cargo run -p xtask -- data` from adiabatic_k.csv; do not edit.

use crate::data::{Source, tables::sources};

/// k of IEC 60364 as printed: A·√s/mm² by metal and insulation, from the initial to the final temperature.
#[derive(Debug)]
pub(crate) struct AdiabaticK {
    pub(crate) material: &'static str,
    pub(crate) initial_c: f64,
    pub(crate) final_c: f64,
    pub(crate) k: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[AdiabaticK] = &[
    AdiabaticK { material: "copper", initial_c: 70.0, final_c: 160.0, k: 115.0, source: &sources::IEC_60364_K, },
    AdiabaticK { material: "copper", initial_c: 70.0, final_c: 140.0, k: 103.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 90.0, final_c: 160.0, k: 100.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 90.0, final_c: 140.0, k: 86.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 90.0, final_c: 250.0, k: 143.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 60.0, final_c: 200.0, k: 141.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 85.0, final_c: 220.0, k: 134.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 180.0, final_c: 350.0, k: 132.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "aluminium", initial_c: 70.0, final_c: 160.0, k: 76.0, source: &sources::IEC_60364_K, },
    AdiabaticK { material: "aluminium", initial_c: 70.0, final_c: 140.0, k: 68.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "aluminium", initial_c: 90.0, final_c: 250.0, k: 94.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "aluminium", initial_c: 60.0, final_c: 200.0, k: 93.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 30.0, final_c: 160.0, k: 143.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 30.0, final_c: 140.0, k: 133.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 30.0, final_c: 250.0, k: 176.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 30.0, final_c: 200.0, k: 159.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 30.0, final_c: 220.0, k: 166.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 30.0, final_c: 350.0, k: 201.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "aluminium", initial_c: 30.0, final_c: 160.0, k: 95.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "aluminium", initial_c: 30.0, final_c: 250.0, k: 116.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 30.0, final_c: 500.0, k: 228.0, source: &sources::IEC_60364_K_MEMORY, },
    AdiabaticK { material: "copper", initial_c: 30.0, final_c: 150.0, k: 138.0, source: &sources::IEC_60364_K_MEMORY, },
];
