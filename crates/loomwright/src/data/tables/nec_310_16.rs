// Written by `cargo run -p xtask -- data` from nec_310_16.csv; do not edit.

use crate::data::{Source, tables::sources};

/// NEC 310.16, up to three loaded conductors in a raceway or cable, ambient 30 °C.
#[derive(Debug)]
pub(crate) struct Nec31016 {
    pub(crate) gauge: &'static str,
    pub(crate) t60_a: Option<f64>,
    pub(crate) t75_a: Option<f64>,
    pub(crate) t90_a: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Nec31016] = &[
    Nec31016 { gauge: "18", t60_a: None, t75_a: None, t90_a: 14.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "16", t60_a: None, t75_a: None, t90_a: 18.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "14", t60_a: Some(15.0), t75_a: Some(20.0), t90_a: 25.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "12", t60_a: Some(20.0), t75_a: Some(25.0), t90_a: 30.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "10", t60_a: Some(30.0), t75_a: Some(35.0), t90_a: 40.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "8", t60_a: Some(40.0), t75_a: Some(50.0), t90_a: 55.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "6", t60_a: Some(55.0), t75_a: Some(65.0), t90_a: 75.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "4", t60_a: Some(70.0), t75_a: Some(85.0), t90_a: 95.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "3", t60_a: Some(85.0), t75_a: Some(100.0), t90_a: 115.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "2", t60_a: Some(95.0), t75_a: Some(115.0), t90_a: 130.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "1", t60_a: Some(110.0), t75_a: Some(130.0), t90_a: 145.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "1/0", t60_a: Some(125.0), t75_a: Some(150.0), t90_a: 170.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "2/0", t60_a: Some(145.0), t75_a: Some(175.0), t90_a: 195.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "3/0", t60_a: Some(165.0), t75_a: Some(200.0), t90_a: 225.0, source: &sources::NEC_310_16, },
    Nec31016 { gauge: "4/0", t60_a: Some(195.0), t75_a: Some(230.0), t90_a: 260.0, source: &sources::NEC_310_16, },
];
