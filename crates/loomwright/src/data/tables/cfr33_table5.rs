// Written by `cargo run -p xtask -- data` from cfr33_table5.csv; do not edit.

use crate::data::{Source, tables::sources};

/// 33 CFR 183.425 table 5, allowable amperage by conductor insulation temperature, ambient 30 °C.
#[derive(Debug)]
pub(crate) struct Cfr33Table5 {
    pub(crate) gauge: &'static str,
    pub(crate) t60_a: f64,
    pub(crate) t75_a: f64,
    pub(crate) t80_a: f64,
    pub(crate) t90_a: f64,
    pub(crate) t105_a: f64,
    pub(crate) t125_a: f64,
    pub(crate) t200_a: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Cfr33Table5] = &[
    Cfr33Table5 { gauge: "18", t60_a: 10.0, t75_a: 10.0, t80_a: 15.0, t90_a: 20.0, t105_a: 20.0, t125_a: 25.0, t200_a: 25.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "16", t60_a: 15.0, t75_a: 15.0, t80_a: 20.0, t90_a: 25.0, t105_a: 25.0, t125_a: 30.0, t200_a: 35.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "14", t60_a: 20.0, t75_a: 20.0, t80_a: 25.0, t90_a: 30.0, t105_a: 35.0, t125_a: 40.0, t200_a: 45.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "12", t60_a: 25.0, t75_a: 25.0, t80_a: 35.0, t90_a: 40.0, t105_a: 45.0, t125_a: 50.0, t200_a: 55.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "10", t60_a: 40.0, t75_a: 40.0, t80_a: 50.0, t90_a: 55.0, t105_a: 60.0, t125_a: 70.0, t200_a: 70.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "8", t60_a: 55.0, t75_a: 65.0, t80_a: 70.0, t90_a: 70.0, t105_a: 80.0, t125_a: 90.0, t200_a: 100.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "6", t60_a: 80.0, t75_a: 95.0, t80_a: 100.0, t90_a: 100.0, t105_a: 120.0, t125_a: 125.0, t200_a: 135.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "4", t60_a: 105.0, t75_a: 125.0, t80_a: 130.0, t90_a: 135.0, t105_a: 160.0, t125_a: 170.0, t200_a: 180.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "3", t60_a: 120.0, t75_a: 145.0, t80_a: 150.0, t90_a: 155.0, t105_a: 180.0, t125_a: 195.0, t200_a: 210.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "2", t60_a: 140.0, t75_a: 170.0, t80_a: 175.0, t90_a: 180.0, t105_a: 210.0, t125_a: 225.0, t200_a: 240.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "1", t60_a: 165.0, t75_a: 195.0, t80_a: 210.0, t90_a: 210.0, t105_a: 245.0, t125_a: 265.0, t200_a: 280.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "1/0", t60_a: 195.0, t75_a: 230.0, t80_a: 245.0, t90_a: 245.0, t105_a: 285.0, t125_a: 305.0, t200_a: 325.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "2/0", t60_a: 225.0, t75_a: 265.0, t80_a: 285.0, t90_a: 285.0, t105_a: 330.0, t125_a: 355.0, t200_a: 370.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "3/0", t60_a: 260.0, t75_a: 310.0, t80_a: 330.0, t90_a: 330.0, t105_a: 385.0, t125_a: 410.0, t200_a: 430.0, source: &sources::CFR33_183_425, },
    Cfr33Table5 { gauge: "4/0", t60_a: 300.0, t75_a: 360.0, t80_a: 385.0, t90_a: 385.0, t105_a: 445.0, t125_a: 475.0, t200_a: 510.0, source: &sources::CFR33_183_425, },
];
