// Written by `cargo run -p xtask -- data` from breakers.csv; do not edit.

use crate::data::{Source, tables::sources};

/// which families are circuit breakers, whether current may pass them one way only, and how they close again.
#[derive(Debug)]
pub(crate) struct Breakers {
    pub(crate) family: &'static str,
    pub(crate) polarised: &'static str,
    pub(crate) reset: &'static str,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Breakers] = &[
    Breakers { family: "breaker-thermal", polarised: "no", reset: "manual", source: &sources::SAE_J553_PAGES, },
    Breakers { family: "breaker-thermal-modified", polarised: "no", reset: "modified", source: &sources::SAE_J553_PAGES, },
    Breakers { family: "breaker-thermal-automatic", polarised: "no", reset: "automatic", source: &sources::SAE_J553_PAGES, },
    Breakers { family: "breaker-hydraulic", polarised: "no", reset: "manual", source: &sources::BREAKER_MEMORY, },
    Breakers { family: "breaker-hydraulic-polarised", polarised: "yes", reset: "manual", source: &sources::BREAKER_MEMORY, },
    Breakers { family: "breaker-miniature-c", polarised: "no", reset: "manual", source: &sources::IEC_60898_1_PAGE, },
    Breakers { family: "breaker-miniature-c-polarised", polarised: "yes", reset: "manual", source: &sources::BREAKER_MEMORY, },
];
