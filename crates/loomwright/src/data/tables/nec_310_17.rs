// Written by `cargo run -p xtask -- data` from nec_310_17.csv; do not edit.

use crate::data::{Source, tables::sources};

/// NEC 310.17, single insulated conductors in free air, ambient 30 °C.
#[derive(Debug)]
pub(crate) struct Nec31017 {
    pub(crate) gauge: &'static str,
    pub(crate) t60_a: Option<f64>,
    pub(crate) t75_a: Option<f64>,
    pub(crate) t90_a: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Nec31017] = &[
    Nec31017 { gauge: "18", t60_a: None, t75_a: None, t90_a: 18.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "16", t60_a: None, t75_a: None, t90_a: 24.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "14", t60_a: Some(25.0), t75_a: Some(30.0), t90_a: 35.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "12", t60_a: Some(30.0), t75_a: Some(35.0), t90_a: 40.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "10", t60_a: Some(40.0), t75_a: Some(50.0), t90_a: 55.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "8", t60_a: Some(60.0), t75_a: Some(70.0), t90_a: 80.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "6", t60_a: Some(80.0), t75_a: Some(95.0), t90_a: 105.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "4", t60_a: Some(105.0), t75_a: Some(125.0), t90_a: 140.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "3", t60_a: Some(120.0), t75_a: Some(145.0), t90_a: 165.0, source: &sources::NEC_310_17_MEMORY, },
    Nec31017 { gauge: "2", t60_a: Some(140.0), t75_a: Some(170.0), t90_a: 190.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "1", t60_a: Some(165.0), t75_a: Some(195.0), t90_a: 220.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "1/0", t60_a: Some(195.0), t75_a: Some(230.0), t90_a: 260.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "2/0", t60_a: Some(225.0), t75_a: Some(265.0), t90_a: 300.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "3/0", t60_a: Some(260.0), t75_a: Some(310.0), t90_a: 350.0, source: &sources::NEC_310_17, },
    Nec31017 { gauge: "4/0", t60_a: Some(300.0), t75_a: Some(360.0), t90_a: 405.0, source: &sources::NEC_310_17, },
];
