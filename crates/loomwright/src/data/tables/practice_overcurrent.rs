// Written by `cargo run -p xtask -- data` from practice_overcurrent.csv; do not edit.

use crate::data::{Source, tables::sources};

/// the largest overcurrent device that a practice permits for a conductor, by its size; a size between two rows takes the smaller one's, one above the last has no such limit.
#[derive(Debug)]
pub(crate) struct PracticeOvercurrent {
    pub(crate) practice: &'static str,
    pub(crate) csa_mm2: f64,
    pub(crate) rating_a: f64,
    pub(crate) note: &'static str,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[PracticeOvercurrent] = &[
    PracticeOvercurrent { practice: "na-recreational-vehicle", csa_mm2: 0.823, rating_a: 6.0, note: "18 AWG", source: &sources::NEC_552_OVERCURRENT_MEMORY, },
    PracticeOvercurrent { practice: "na-recreational-vehicle", csa_mm2: 1.31, rating_a: 8.0, note: "16 AWG", source: &sources::NEC_552_OVERCURRENT_MEMORY, },
    PracticeOvercurrent { practice: "na-recreational-vehicle", csa_mm2: 2.08, rating_a: 15.0, note: "14 AWG", source: &sources::NEC_240_4_D, },
    PracticeOvercurrent { practice: "na-recreational-vehicle", csa_mm2: 3.31, rating_a: 20.0, note: "12 AWG", source: &sources::NEC_240_4_D, },
    PracticeOvercurrent { practice: "na-recreational-vehicle", csa_mm2: 5.26, rating_a: 30.0, note: "10 AWG", source: &sources::NEC_240_4_D, },
];
