// Written by `cargo run -p xtask -- data` from instrument_classes.csv; do not edit.

use crate::data::{Source, tables::sources};

/// largest error of usual instruments, by plain name and quantity: a share of what is read, digits of its last place, and an amount.
/// `sum` adds the parts, `larger` takes the largest; the share of a temperature counts in degrees Celsius.
/// the first row of a quantity is assumed where an accuracy is not stated; the maker's own sheet comes first.
#[derive(Debug)]
pub(crate) struct InstrumentClasses {
    pub(crate) name: &'static str,
    pub(crate) quantity: &'static str,
    pub(crate) combine: &'static str,
    pub(crate) share_ratio: f64,
    pub(crate) digits: f64,
    pub(crate) amount_a: Option<f64>,
    pub(crate) amount_k: Option<f64>,
    pub(crate) about: &'static str,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[InstrumentClasses] = &[
    InstrumentClasses { name: "multimeter", quantity: "voltage", combine: "sum", share_ratio: 0.005, digits: 2.0, amount_a: None, amount_k: None, about: "a usual hand-held meter", source: &sources::MEASURING_COMMON_PRACTICE, },
    InstrumentClasses { name: "precise-meter", quantity: "voltage", combine: "sum", share_ratio: 0.001, digits: 2.0, amount_a: None, amount_k: None, about: "a good hand-held or bench meter", source: &sources::MEASURING_COMMON_PRACTICE, },
    InstrumentClasses { name: "panel-meter", quantity: "voltage", combine: "sum", share_ratio: 0.02, digits: 2.0, amount_a: None, amount_k: None, about: "a small display built in", source: &sources::MEASURING_COMMON_PRACTICE, },
    InstrumentClasses { name: "clamp-meter", quantity: "current", combine: "sum", share_ratio: 0.02, digits: 3.0, amount_a: None, amount_k: None, about: "a clamp for direct current set to zero before each reading", source: &sources::MEASURING_COMMON_PRACTICE, },
    InstrumentClasses { name: "shunt-monitor", quantity: "current", combine: "sum", share_ratio: 0.01, digits: 0.0, amount_a: Some(0.1), amount_k: None, about: "a battery monitor with its shunt", source: &sources::MEASURING_COMMON_PRACTICE, },
    InstrumentClasses { name: "multimeter", quantity: "current", combine: "sum", share_ratio: 0.015, digits: 3.0, amount_a: None, amount_k: None, about: "in line within its range", source: &sources::MEASURING_COMMON_PRACTICE, },
    InstrumentClasses { name: "panel-meter", quantity: "current", combine: "sum", share_ratio: 0.02, digits: 2.0, amount_a: None, amount_k: None, about: "a small display built in", source: &sources::MEASURING_COMMON_PRACTICE, },
    InstrumentClasses { name: "infrared", quantity: "temperature", combine: "larger", share_ratio: 0.02, digits: 0.0, amount_a: None, amount_k: Some(2.0), about: "a hand-held infrared instrument that sees only the surface", source: &sources::MEASURING_COMMON_PRACTICE, },
    InstrumentClasses { name: "contact-probe", quantity: "temperature", combine: "sum", share_ratio: 0.005, digits: 0.0, amount_a: None, amount_k: Some(1.5), about: "a probe pressed or clamped on with its meter", source: &sources::MEASURING_COMMON_PRACTICE, },
    InstrumentClasses { name: "thermocouple-k-1", quantity: "temperature", combine: "larger", share_ratio: 0.004, digits: 0.0, amount_a: None, amount_k: Some(1.5), about: "type K of class 1 alone without its meter", source: &sources::IEC_60584_MEMORY, },
    InstrumentClasses { name: "plug-meter", quantity: "power", combine: "sum", share_ratio: 0.02, digits: 2.0, amount_a: None, amount_k: None, about: "a meter in the mains outlet", source: &sources::MEASURING_COMMON_PRACTICE, },
];
