// Written by `cargo run -p xtask -- data` from practice_grouping.csv; do not edit.

use crate::data::{Source, tables::sources};

/// factor on the ampacity of each conductor by the number of loaded conductors bunched, as each practice prints it.
#[derive(Debug)]
pub(crate) struct PracticeGrouping {
    pub(crate) practice: &'static str,
    pub(crate) conductors_from: f64,
    pub(crate) factor: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[PracticeGrouping] = &[
    PracticeGrouping { practice: "us-small-craft", conductors_from: 3.0, factor: 0.7, source: &sources::CFR33_183_425_BUNDLES, },
    PracticeGrouping { practice: "us-small-craft", conductors_from: 4.0, factor: 0.6, source: &sources::CFR33_183_425_BUNDLES, },
    PracticeGrouping { practice: "us-small-craft", conductors_from: 7.0, factor: 0.5, source: &sources::CFR33_183_425_BUNDLES, },
    PracticeGrouping { practice: "us-small-craft", conductors_from: 25.0, factor: 0.4, source: &sources::CFR33_183_425_BUNDLES, },
    PracticeGrouping { practice: "na-recreational-vehicle", conductors_from: 4.0, factor: 0.8, source: &sources::NEC_310_15_B_3_A, },
    PracticeGrouping { practice: "na-recreational-vehicle", conductors_from: 7.0, factor: 0.7, source: &sources::NEC_310_15_B_3_A, },
    PracticeGrouping { practice: "na-recreational-vehicle", conductors_from: 10.0, factor: 0.5, source: &sources::NEC_310_15_B_3_A, },
    PracticeGrouping { practice: "na-recreational-vehicle", conductors_from: 21.0, factor: 0.45, source: &sources::NEC_310_15_B_3_A, },
    PracticeGrouping { practice: "na-recreational-vehicle", conductors_from: 31.0, factor: 0.4, source: &sources::NEC_310_15_B_3_A, },
    PracticeGrouping { practice: "na-recreational-vehicle", conductors_from: 41.0, factor: 0.35, source: &sources::NEC_310_15_B_3_A, },
    PracticeGrouping { practice: "iso-small-craft", conductors_from: 4.0, factor: 0.7, source: &sources::ISO_10133_BUNDLES_MEMORY, },
    PracticeGrouping { practice: "iso-small-craft", conductors_from: 7.0, factor: 0.6, source: &sources::ISO_10133_BUNDLES_MEMORY, },
    PracticeGrouping { practice: "iso-small-craft", conductors_from: 13.0, factor: 0.5, source: &sources::ISO_10133_BUNDLES_MEMORY, },
    PracticeGrouping { practice: "iso-small-craft", conductors_from: 25.0, factor: 0.4, source: &sources::ISO_10133_BUNDLES_MEMORY, },
];
