// Written by `cargo run -p xtask -- data` from weighted_efficiency.csv; do not edit.

use crate::data::{Source, tables::sources};

/// weights of an efficiency at shares of rated output.
#[derive(Debug)]
pub(crate) struct WeightedEfficiency {
    pub(crate) scheme: &'static str,
    pub(crate) load_share: f64,
    pub(crate) weight: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[WeightedEfficiency] = &[
    WeightedEfficiency { scheme: "cec", load_share: 0.1, weight: 0.04, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_share: 0.2, weight: 0.05, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_share: 0.3, weight: 0.12, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_share: 0.5, weight: 0.21, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_share: 0.75, weight: 0.53, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_share: 1.0, weight: 0.05, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "european", load_share: 0.05, weight: 0.03, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "european", load_share: 0.1, weight: 0.06, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "european", load_share: 0.2, weight: 0.13, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "european", load_share: 0.3, weight: 0.1, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "european", load_share: 0.5, weight: 0.48, source: &sources::WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "european", load_share: 1.0, weight: 0.2, source: &sources::WEIGHTED_EFFICIENCY, },
];
