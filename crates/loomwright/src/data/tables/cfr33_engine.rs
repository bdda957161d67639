// Written by `cargo run -p xtask -- data` from cfr33_engine.csv; do not edit.

use crate::data::{Source, tables::sources};

/// 33 CFR 183.425 table 5 note 1: factor on the ampacity of conductors in engine spaces (50 °C) by insulation temperature.
#[derive(Debug)]
pub(crate) struct Cfr33Engine {
    pub(crate) insulation_c: f64,
    pub(crate) factor: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Cfr33Engine] = &[
    Cfr33Engine { insulation_c: 60.0, factor: 0.58, source: &sources::CFR33_183_425_ENGINE_MEMORY, },
    Cfr33Engine { insulation_c: 75.0, factor: 0.75, source: &sources::CFR33_183_425_ENGINE_MEMORY, },
    Cfr33Engine { insulation_c: 80.0, factor: 0.78, source: &sources::CFR33_183_425_ENGINE_MEMORY, },
    Cfr33Engine { insulation_c: 90.0, factor: 0.82, source: &sources::CFR33_183_425_ENGINE_MEMORY, },
    Cfr33Engine { insulation_c: 105.0, factor: 0.85, source: &sources::CFR33_183_425, },
    Cfr33Engine { insulation_c: 125.0, factor: 0.89, source: &sources::CFR33_183_425_ENGINE_MEMORY, },
    Cfr33Engine { insulation_c: 200.0, factor: 1.0, source: &sources::CFR33_183_425_ENGINE_MEMORY, },
];
