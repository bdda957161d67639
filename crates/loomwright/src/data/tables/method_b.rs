// Written by `cargo run -p xtask -- data` from method_b.csv; do not edit.

use crate::data::{Source, tables::sources};

/// IEC 60364-5-52 method B (conduit or trunking on a wall), single-core 70 °C PVC copper, two loaded, ambient 30 °C.
#[derive(Debug)]
pub(crate) struct MethodB {
    pub(crate) csa_mm2: f64,
    pub(crate) ampacity_a: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[MethodB] = &[
    MethodB { csa_mm2: 1.0, ampacity_a: 13.5, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 1.5, ampacity_a: 17.5, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 2.5, ampacity_a: 24.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 4.0, ampacity_a: 32.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 6.0, ampacity_a: 41.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 10.0, ampacity_a: 57.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 16.0, ampacity_a: 76.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 25.0, ampacity_a: 101.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 35.0, ampacity_a: 125.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 50.0, ampacity_a: 151.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 70.0, ampacity_a: 192.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 95.0, ampacity_a: 232.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 120.0, ampacity_a: 269.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 150.0, ampacity_a: 300.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 185.0, ampacity_a: 341.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 240.0, ampacity_a: 400.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 300.0, ampacity_a: 458.0, source: &sources::IEC_60364_5_52_B, },
    MethodB { csa_mm2: 400.0, ampacity_a: 546.0, source: &sources::IEC_60364_5_52_B, },
];
