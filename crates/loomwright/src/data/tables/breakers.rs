// Written by `cargo run -p xtask -- data` from breakers.csv; do not edit.

use crate::data::{Source, tables::sources};

/// which families are circuit breakers, whether current may pass them one way only, how they close again, and the time that they still take at any current.
#[derive(Debug)]
pub(crate) struct Breakers {
    pub(crate) family: &'static str,
    pub(crate) polarised: &'static str,
    pub(crate) reset: &'static str,
    pub(crate) least_s: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Breakers] = &[
    Breakers { family: "breaker-thermal", polarised: "no", reset: "manual", least_s: 0.2, source: &sources::BREAKER_THERMAL_PAGE, },
    Breakers { family: "breaker-thermal-modified", polarised: "no", reset: "modified", least_s: 0.2, source: &sources::BREAKER_THERMAL_PAGE, },
    Breakers { family: "breaker-thermal-automatic", polarised: "no", reset: "automatic", least_s: 0.2, source: &sources::BREAKER_THERMAL_PAGE, },
    Breakers { family: "breaker-hydraulic", polarised: "no", reset: "manual", least_s: 0.1, source: &sources::BREAKER_MEMORY, },
    Breakers { family: "breaker-hydraulic-polarised", polarised: "yes", reset: "manual", least_s: 0.1, source: &sources::BREAKER_MEMORY, },
    Breakers { family: "breaker-miniature-c", polarised: "no", reset: "manual", least_s: 0.1, source: &sources::BREAKER_MEMORY, },
    Breakers { family: "breaker-miniature-c-polarised", polarised: "yes", reset: "manual", least_s: 0.1, source: &sources::BREAKER_MEMORY, },
];
