// Written by `cargo run -p xtask -- data` from weighted_efficiency.csv; do not edit.

use crate::data::{Source, tables::sources};

/// weighted efficiency of converters: shares of rated output and what the efficiency there counts; each scheme sums to 1.
#[derive(Debug)]
pub(crate) struct WeightedEfficiency {
    pub(crate) scheme: &'static str,
    pub(crate) load_ratio: f64,
    pub(crate) weight_ratio: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[WeightedEfficiency] = &[
    WeightedEfficiency { scheme: "cec", load_ratio: 0.1, weight_ratio: 0.04, source: &sources::CEC_WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_ratio: 0.2, weight_ratio: 0.05, source: &sources::CEC_WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_ratio: 0.3, weight_ratio: 0.12, source: &sources::CEC_WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_ratio: 0.5, weight_ratio: 0.21, source: &sources::CEC_WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_ratio: 0.75, weight_ratio: 0.53, source: &sources::CEC_WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "cec", load_ratio: 1.0, weight_ratio: 0.05, source: &sources::CEC_WEIGHTED_EFFICIENCY, },
    WeightedEfficiency { scheme: "european", load_ratio: 0.05, weight_ratio: 0.03, source: &sources::EN_50530_WEIGHTS, },
    WeightedEfficiency { scheme: "european", load_ratio: 0.1, weight_ratio: 0.06, source: &sources::EN_50530_WEIGHTS, },
    WeightedEfficiency { scheme: "european", load_ratio: 0.2, weight_ratio: 0.13, source: &sources::EN_50530_WEIGHTS, },
    WeightedEfficiency { scheme: "european", load_ratio: 0.3, weight_ratio: 0.1, source: &sources::EN_50530_WEIGHTS, },
    WeightedEfficiency { scheme: "european", load_ratio: 0.5, weight_ratio: 0.48, source: &sources::EN_50530_WEIGHTS, },
    WeightedEfficiency { scheme: "european", load_ratio: 1.0, weight_ratio: 0.2, source: &sources::EN_50530_WEIGHTS, },
];
