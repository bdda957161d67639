// Written by `cargo run -p xtask -- data` from iec60287_duct.csv; do not edit.

use crate::data::{Source, tables::sources};

/// IEC 60287-2-1, thermal resistance between cables and their conduit: U / (1 + 0.1 (V + Y t) De), t in °C, De in mm.
#[derive(Debug)]
pub(crate) struct Iec60287Duct {
    pub(crate) duct: &'static str,
    pub(crate) u: f64,
    pub(crate) v: f64,
    pub(crate) y: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Iec60287Duct] = &[
    Iec60287Duct { duct: "metal", u: 5.2, v: 1.4, y: 0.011, source: &sources::IEC_60287_2_1_MEMORY, },
    Iec60287Duct { duct: "plastic", u: 1.87, v: 0.312, y: 0.0037, source: &sources::IEC_60287_2_1, },
];
