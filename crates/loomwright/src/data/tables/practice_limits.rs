// Written by `cargo run -p xtask -- data` from practice_limits.csv; do not edit.

use crate::data::{Source, tables::sources};

/// what each practice limits for one circuit; csa_mm2 a smallest cross-sectional area, ratio a share, temperature_c a terminal limit up to current_a, length_m how far from its source a protective device may sit.
#[derive(Debug)]
pub(crate) struct PracticeLimits {
    pub(crate) practice: &'static str,
    pub(crate) limit: &'static str,
    pub(crate) csa_mm2: Option<f64>,
    pub(crate) ratio: Option<f64>,
    pub(crate) temperature_c: Option<f64>,
    pub(crate) current_a: Option<f64>,
    pub(crate) length_m: Option<f64>,
    pub(crate) note: &'static str,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[PracticeLimits] = &[
    PracticeLimits { practice: "general", limit: "terminal-temperature", csa_mm2: None, ratio: None, temperature_c: Some(75.0), current_a: None, length_m: None, note: "terminals of unstated temperature", source: &sources::NEC_110_14_MEMORY, },
    PracticeLimits { practice: "iec-caravan", limit: "terminal-temperature", csa_mm2: None, ratio: None, temperature_c: Some(75.0), current_a: None, length_m: None, note: "terminals of unstated temperature", source: &sources::NEC_110_14_MEMORY, },
    PracticeLimits { practice: "iec-caravan", limit: "smallest-conductor", csa_mm2: Some(1.5), ratio: None, temperature_c: None, current_a: None, length_m: None, note: "every conductor", source: &sources::IEC_60364_7_721_MEMORY, },
    PracticeLimits { practice: "iso-small-craft", limit: "terminal-temperature", csa_mm2: None, ratio: None, temperature_c: Some(75.0), current_a: None, length_m: None, note: "terminals of unstated temperature", source: &sources::NEC_110_14_MEMORY, },
    PracticeLimits { practice: "iso-small-craft", limit: "smallest-conductor", csa_mm2: Some(1.0), ratio: None, temperature_c: None, current_a: None, length_m: None, note: "separate conductor longer than 200 mm", source: &sources::ISO_10133_2012, },
    PracticeLimits { practice: "iso-small-craft", limit: "hull-return", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "hull or chassis return is not permitted", source: &sources::COMMON_PRACTICE_BOAT_RETURN, },
    PracticeLimits { practice: "iso-small-craft", limit: "copper-only", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "conductors are stranded copper", source: &sources::ISO_10133_MEMORY, },
    PracticeLimits { practice: "us-small-craft", limit: "terminal-temperature", csa_mm2: None, ratio: None, temperature_c: Some(75.0), current_a: None, length_m: None, note: "terminals of unstated temperature", source: &sources::NEC_110_14_MEMORY, },
    PracticeLimits { practice: "us-small-craft", limit: "smallest-conductor", csa_mm2: Some(1.3), ratio: None, temperature_c: None, current_a: None, length_m: None, note: "16 AWG where installed separately", source: &sources::CFR33_183_425, },
    PracticeLimits { practice: "us-small-craft", limit: "hull-return", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "hull or chassis return is not permitted", source: &sources::COMMON_PRACTICE_BOAT_RETURN, },
    PracticeLimits { practice: "us-small-craft", limit: "copper-only", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "conductors are insulated stranded copper", source: &sources::CFR33_183_425, },
    PracticeLimits { practice: "us-small-craft", limit: "overcurrent-permitted", csa_mm2: None, ratio: Some(1.5), temperature_c: None, current_a: None, length_m: None, note: "below 50 V the rating may be 150 % of the table 5 value", source: &sources::CFR33_183_455, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "terminal-temperature", csa_mm2: None, ratio: None, temperature_c: Some(60.0), current_a: Some(100.0), length_m: None, note: "terminals of unstated temperature on circuits up to 100 A", source: &sources::NEC_110_14_MEMORY, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "terminal-temperature-above", csa_mm2: None, ratio: None, temperature_c: Some(75.0), current_a: None, length_m: None, note: "terminals of unstated temperature on circuits above 100 A", source: &sources::NEC_110_14_MEMORY, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "copper-only", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "conductors are copper", source: &sources::NEC_552_10, },
    PracticeLimits { practice: "general", limit: "fuse-distance", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.2), note: "from its source along the conductor as on small craft", source: &sources::ISO_10133_LOCATION_MEMORY, },
    PracticeLimits { practice: "general", limit: "fuse-distance-sheathed", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(1.8), note: "from its source along a conductor in conduit as on small craft", source: &sources::ISO_10133_LOCATION_MEMORY, },
    PracticeLimits { practice: "iec-caravan", limit: "fuse-distance", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.2), note: "from its source along the conductor as on small craft", source: &sources::ISO_10133_LOCATION_MEMORY, },
    PracticeLimits { practice: "iec-caravan", limit: "fuse-distance-sheathed", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(1.8), note: "from its source along a conductor in conduit as on small craft", source: &sources::ISO_10133_LOCATION_MEMORY, },
    PracticeLimits { practice: "iso-small-craft", limit: "fuse-distance", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.2), note: "from its source along the conductor", source: &sources::ISO_10133_LOCATION_MEMORY, },
    PracticeLimits { practice: "iso-small-craft", limit: "fuse-distance-sheathed", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(1.8), note: "from its source along a conductor in conduit", source: &sources::ISO_10133_LOCATION_MEMORY, },
    PracticeLimits { practice: "us-small-craft", limit: "fuse-distance", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.178), note: "from its source along the conductor", source: &sources::CFR33_183_455_B, },
    PracticeLimits { practice: "us-small-craft", limit: "fuse-distance-sheathed", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(1.016), note: "from its source along a conductor in conduit", source: &sources::CFR33_183_455_B, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "fuse-distance", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.46), note: "from its source along the conductor", source: &sources::NEC_552_LOCATION_MEMORY, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "fuse-distance-sheathed", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.46), note: "from its source along a conductor in conduit", source: &sources::NEC_552_LOCATION_MEMORY, },
    PracticeLimits { practice: "iec-caravan", limit: "case-bond", csa_mm2: Some(4.0), ratio: None, temperature_c: None, current_a: None, length_m: None, note: "protective bonding conductor of copper", source: &sources::IEC_60364_7_721_BONDING_MEMORY, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "case-bond", csa_mm2: Some(8.37), ratio: None, temperature_c: None, current_a: None, length_m: None, note: "8 AWG copper from the enclosure of a converter", source: &sources::NEC_551_20, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "battery-bond", csa_mm2: Some(8.37), ratio: None, temperature_c: None, current_a: None, length_m: None, note: "8 AWG copper from the battery to the chassis and not less than its other lead", source: &sources::NEC_552_10_C, },
    PracticeLimits { practice: "general", limit: "scope", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "no particular law: physics and good custom", source: &sources::PRACTICE_SCOPE, },
    PracticeLimits { practice: "iec-caravan", limit: "scope", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "IEC 60364-7-721 for low voltage; 12 V habitation wiring is EN 1648-1 and -2 whose limits were not at hand", source: &sources::PRACTICE_SCOPE, },
    PracticeLimits { practice: "iso-small-craft", limit: "scope", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "hulls up to 24 m and 50 V; ISO 13297:2020 replaced ISO 10133 whose 2012 edition the rows are from; of ISO 13297 only 12.3 (charging sources) was at hand", source: &sources::PRACTICE_SCOPE, },
    PracticeLimits { practice: "us-small-craft", limit: "scope", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "33 CFR 183 subpart I: boats with inboard petrol engines; the text of 183.460 was not at hand", source: &sources::PRACTICE_SCOPE, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "scope", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: None, note: "NEC 551 and 552 (2008) with 240.4(D); NFPA 1192 and the recreational vehicle low-voltage standard were not at hand", source: &sources::PRACTICE_SCOPE, },
    PracticeLimits { practice: "general", limit: "support-spacing", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.45), note: "as on small craft", source: &sources::ISO_10133_SUPPORTS, },
    PracticeLimits { practice: "general", limit: "support-spacing-battery", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.3), note: "battery conductors up to the disconnect switch as on small craft", source: &sources::ISO_10133_SUPPORTS, },
    PracticeLimits { practice: "iec-caravan", limit: "support-spacing", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.25), note: "horizontal runs; 0.4 m vertically", source: &sources::IEC_60364_7_721_SUPPORTS_MEMORY, },
    PracticeLimits { practice: "iec-caravan", limit: "support-spacing-battery", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.25), note: "horizontal runs; 0.4 m vertically", source: &sources::IEC_60364_7_721_SUPPORTS_MEMORY, },
    PracticeLimits { practice: "iso-small-craft", limit: "support-spacing", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.45), note: "every conductor", source: &sources::ISO_10133_SUPPORTS, },
    PracticeLimits { practice: "iso-small-craft", limit: "support-spacing-battery", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.3), note: "battery conductors up to the disconnect switch", source: &sources::ISO_10133_SUPPORTS, },
    PracticeLimits { practice: "us-small-craft", limit: "support-spacing", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.457), note: "18 in", source: &sources::US_SMALL_CRAFT_SUPPORTS_MEMORY, },
    PracticeLimits { practice: "us-small-craft", limit: "support-spacing-battery", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.457), note: "18 in", source: &sources::US_SMALL_CRAFT_SUPPORTS_MEMORY, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "support-spacing", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.45), note: "as on small craft", source: &sources::ISO_10133_SUPPORTS, },
    PracticeLimits { practice: "na-recreational-vehicle", limit: "support-spacing-battery", csa_mm2: None, ratio: None, temperature_c: None, current_a: None, length_m: Some(0.3), note: "battery conductors up to the disconnect switch as on small craft", source: &sources::ISO_10133_SUPPORTS, },
];
