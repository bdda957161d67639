// Written by `cargo run -p xtask -- data` from conductor_colours.csv; do not edit.

use crate::data::{Source, tables::sources};

/// insulation colours by practice and what the conductor is for.
#[derive(Debug)]
pub(crate) struct ConductorColours {
    pub(crate) practice: &'static str,
    pub(crate) leg: &'static str,
    pub(crate) colour: &'static str,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[ConductorColours] = &[
    ConductorColours { practice: "general", leg: "positive", colour: "red", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "general", leg: "negative", colour: "black", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "general", leg: "bonding", colour: "green-yellow", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "iec-caravan", leg: "positive", colour: "red", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "iec-caravan", leg: "negative", colour: "black", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "iec-caravan", leg: "bonding", colour: "green-yellow", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "iso-small-craft", leg: "positive", colour: "red", source: &sources::ISO_10133_COLOURS_MEMORY, },
    ConductorColours { practice: "iso-small-craft", leg: "negative", colour: "black or yellow", source: &sources::ISO_10133_COLOURS_MEMORY, },
    ConductorColours { practice: "iso-small-craft", leg: "bonding", colour: "green or green-yellow", source: &sources::ISO_10133_COLOURS_MEMORY, },
    ConductorColours { practice: "us-small-craft", leg: "positive", colour: "red", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "us-small-craft", leg: "negative", colour: "black or yellow", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "us-small-craft", leg: "bonding", colour: "green or green-yellow", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "na-recreational-vehicle", leg: "positive", colour: "red", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "na-recreational-vehicle", leg: "negative", colour: "black or white", source: &sources::COLOUR_COMMON_PRACTICE, },
    ConductorColours { practice: "na-recreational-vehicle", leg: "bonding", colour: "green or bare", source: &sources::COLOUR_COMMON_PRACTICE, },
];
