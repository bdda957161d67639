// Written by `cargo run -p xtask -- data` from iso10133.csv; do not edit.

use crate::data::{Source, tables::sources};

/// ISO 10133 table A.1, single conductors in air by insulation temperature, ambient 30 °C (85 and 90 °C share a column).
#[derive(Debug)]
pub(crate) struct Iso10133 {
    pub(crate) csa_mm2: f64,
    pub(crate) t60_a: f64,
    pub(crate) t70_a: f64,
    pub(crate) t85_a: f64,
    pub(crate) t105_a: f64,
    pub(crate) t125_a: f64,
    pub(crate) t200_a: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Iso10133] = &[
    Iso10133 { csa_mm2: 0.75, t60_a: 6.0, t70_a: 10.0, t85_a: 12.0, t105_a: 16.0, t125_a: 20.0, t200_a: 25.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 1.0, t60_a: 8.0, t70_a: 14.0, t85_a: 18.0, t105_a: 20.0, t125_a: 25.0, t200_a: 35.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 1.5, t60_a: 12.0, t70_a: 18.0, t85_a: 21.0, t105_a: 25.0, t125_a: 30.0, t200_a: 40.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 2.5, t60_a: 17.0, t70_a: 25.0, t85_a: 30.0, t105_a: 35.0, t125_a: 40.0, t200_a: 45.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 4.0, t60_a: 22.0, t70_a: 35.0, t85_a: 40.0, t105_a: 45.0, t125_a: 50.0, t200_a: 55.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 6.0, t60_a: 29.0, t70_a: 45.0, t85_a: 50.0, t105_a: 60.0, t125_a: 70.0, t200_a: 75.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 10.0, t60_a: 40.0, t70_a: 65.0, t85_a: 70.0, t105_a: 90.0, t125_a: 100.0, t200_a: 120.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 16.0, t60_a: 54.0, t70_a: 90.0, t85_a: 100.0, t105_a: 130.0, t125_a: 150.0, t200_a: 170.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 25.0, t60_a: 71.0, t70_a: 120.0, t85_a: 140.0, t105_a: 170.0, t125_a: 185.0, t200_a: 200.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 35.0, t60_a: 87.0, t70_a: 160.0, t85_a: 185.0, t105_a: 210.0, t125_a: 225.0, t200_a: 240.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 50.0, t60_a: 105.0, t70_a: 210.0, t85_a: 230.0, t105_a: 270.0, t125_a: 300.0, t200_a: 325.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 70.0, t60_a: 135.0, t70_a: 265.0, t85_a: 285.0, t105_a: 330.0, t125_a: 360.0, t200_a: 375.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 95.0, t60_a: 165.0, t70_a: 310.0, t85_a: 330.0, t105_a: 390.0, t125_a: 410.0, t200_a: 430.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 120.0, t60_a: 190.0, t70_a: 360.0, t85_a: 400.0, t105_a: 450.0, t125_a: 480.0, t200_a: 520.0, source: &sources::ISO_10133_A1_MEMORY, },
    Iso10133 { csa_mm2: 150.0, t60_a: 220.0, t70_a: 380.0, t85_a: 430.0, t105_a: 475.0, t125_a: 520.0, t200_a: 560.0, source: &sources::ISO_10133_A1_MEMORY, },
];
