// Written by `cargo run -p xtask -- data` from iec60364_5_52.csv; do not edit.

use crate::data::{Source, tables::sources};

/// IEC 60364-5-52 single-core 70 °C PVC copper, two loaded, ambient 30 °C: method A in conduit in an insulating wall, B in conduit or trunking on a wall, C clipped direct.
#[derive(Debug)]
pub(crate) struct Iec60364552 {
    pub(crate) csa_mm2: f64,
    pub(crate) a_a: Option<f64>,
    pub(crate) b_a: f64,
    pub(crate) c_a: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Iec60364552] = &[
    Iec60364552 { csa_mm2: 1.0, a_a: Some(11.0), b_a: 13.5, c_a: 15.5, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 1.5, a_a: Some(14.5), b_a: 17.5, c_a: 20.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 2.5, a_a: Some(20.0), b_a: 24.0, c_a: 27.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 4.0, a_a: Some(26.0), b_a: 32.0, c_a: 37.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 6.0, a_a: Some(34.0), b_a: 41.0, c_a: 47.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 10.0, a_a: Some(46.0), b_a: 57.0, c_a: 65.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 16.0, a_a: Some(61.0), b_a: 76.0, c_a: 87.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 25.0, a_a: Some(80.0), b_a: 101.0, c_a: 114.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 35.0, a_a: Some(99.0), b_a: 125.0, c_a: 141.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 50.0, a_a: Some(119.0), b_a: 151.0, c_a: 182.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 70.0, a_a: Some(151.0), b_a: 192.0, c_a: 234.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 95.0, a_a: Some(182.0), b_a: 232.0, c_a: 284.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 120.0, a_a: Some(210.0), b_a: 269.0, c_a: 330.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 150.0, a_a: Some(240.0), b_a: 300.0, c_a: 381.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 185.0, a_a: Some(273.0), b_a: 341.0, c_a: 436.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 240.0, a_a: Some(321.0), b_a: 400.0, c_a: 515.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 300.0, a_a: Some(367.0), b_a: 458.0, c_a: 594.0, source: &sources::IEC_60364_5_52_ABC, },
    Iec60364552 { csa_mm2: 400.0, a_a: None, b_a: 546.0, c_a: 694.0, source: &sources::IEC_60364_5_52_ABC, },
];
