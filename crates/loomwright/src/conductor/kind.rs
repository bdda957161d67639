//! The kinds of conductor: which standard fixes sizes and resistances.

use crate::names::named;
use crate::quantity::{ThermodynamicTemperature, celsius};

named! {
    /// The standard that a conductor's sizes and resistances follow.
    Kind, "conductor kind", {
        /// IEC 60228 class 1: solid. For fixed wiring only.
        Iec1 => "iec-1",
        /// IEC 60228 class 2: stranded.
        Iec2 => "iec-2",
        /// IEC 60228 class 5: flexible.
        Iec5 => "iec-5",
        /// IEC 60228 class 6: extra-flexible.
        Iec6 => "iec-6",
        /// ISO 6722 road-vehicle cable.
        Iso6722 => "iso-6722",
        /// Stranded American wire gauge, NEC chapter 9 table 8.
        Awg => "awg",
        /// SAE gauge, smaller than AWG of the same number.
        Sae => "sae",
    }
}

impl Kind {
    /// The kind in words, for people.
    pub fn title(self) -> &'static str {
        match self {
            Self::Iec1 => "IEC 60228 class 1 (solid)",
            Self::Iec2 => "IEC 60228 class 2 (stranded)",
            Self::Iec5 => "IEC 60228 class 5 (flexible)",
            Self::Iec6 => "IEC 60228 class 6 (extra-flexible)",
            Self::Iso6722 => "ISO 6722 road-vehicle cable",
            Self::Awg => "AWG, stranded",
            Self::Sae => "SAE gauge",
        }
    }

    /// The insulation class assumed when none is stated: 70 °C for IEC, 100 °C for ISO 6722, 105 °C for
    /// gauges (boat cable).
    pub fn usual_insulation(self) -> ThermodynamicTemperature {
        celsius(match self {
            Self::Iec1 | Self::Iec2 | Self::Iec5 | Self::Iec6 => 70.0,
            Self::Iso6722 => 100.0,
            Self::Awg | Self::Sae => 105.0,
        })
    }

    /// Whether the conductor is one solid wire, which vibration breaks.
    pub fn is_solid(self) -> bool {
        self == Self::Iec1
    }

    /// Whether the conductor is solid or of few strands: it keeps the shape that a screw gives it, takes no ferrule and bends
    /// wider than a flexible one.
    pub fn is_stiff(self) -> bool {
        matches!(self, Self::Iec1 | Self::Iec2 | Self::Awg)
    }

    /// Whether sizes are gauge numbers.
    pub fn is_gauge(self) -> bool {
        matches!(self, Self::Awg | Self::Sae)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_names_the_standard() {
        for (kind, words) in [
            (Kind::Iec1, "60228 class 1"),
            (Kind::Iec2, "60228 class 2"),
            (Kind::Iec5, "60228 class 5"),
            (Kind::Iec6, "60228 class 6"),
            (Kind::Iso6722, "ISO 6722"),
            (Kind::Awg, "AWG"),
            (Kind::Sae, "SAE"),
        ] {
            assert!(kind.title().contains(words), "{kind}");
        }
    }
}
