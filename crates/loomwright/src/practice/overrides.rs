//! Limits that a plan may set otherwise than its practice does, each with a reason.

use crate::names::named;
use crate::quantity::{
    Area, CrossSection, FromText, Length, QuantityError, Ratio, ThermodynamicTemperature, ToText, in_celsius, in_mm2,
};
use uom::si::length::meter;

named! {
    /// A limit that may be set otherwise.
    Limited, "limit", {
        /// Permitted drop of circuits of function general.
        DropGeneral => "drop-general",
        /// Permitted drop of navigation circuits.
        DropNavigation => "drop-navigation",
        /// Permitted drop of bilge pumps and blowers.
        DropBilge => "drop-bilge",
        /// Permitted drop of feeders.
        DropFeeder => "drop-feeder",
        /// Permitted drop up to inverters.
        DropInverter => "drop-inverter",
        /// Permitted drop of solar arrays.
        DropSolar => "drop-solar",
        /// How hot terminals of unstated temperature may get.
        TerminalTemperature => "terminal-temperature",
        /// The smallest conductor.
        SmallestConductor => "smallest-conductor",
        /// How far from its source a protective device may sit.
        FuseDistance => "fuse-distance",
        /// The same where the conductor up to it lies in conduit.
        FuseDistanceSheathed => "fuse-distance-sheathed",
        /// Design current of a solar array over its short-circuit current.
        ArrayDesign => "array-design",
        /// Fuse of an alternator over its rating.
        AlternatorFuse => "alternator-fuse",
    }
}

/// The value of a limit, in the quantity that it is of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LimitValue {
    /// A share.
    Ratio(Ratio),
    /// A length.
    Length(Length),
    /// A temperature.
    Temperature(ThermodynamicTemperature),
    /// A cross-sectional area.
    Area(Area),
}

/// A limit that a plan sets otherwise.
#[derive(Clone, Debug)]
pub struct Override {
    /// Which.
    pub limit: Limited,
    /// Its value.
    pub value: LimitValue,
    /// Why.
    pub reason: String,
}

impl Limited {
    /// Its value from text, in the quantity that it is of, within what can be meant.
    ///
    /// # Errors
    /// What is wrong with it, and the form accepted.
    pub fn value(self, text: &str) -> Result<LimitValue, String> {
        let told = |error: QuantityError| error.to_string();
        let (value, fits, accepted) = match self {
            Self::TerminalTemperature => {
                let value = ThermodynamicTemperature::from_text(text).map_err(told)?;
                (LimitValue::Temperature(value), (40.0..=150.0).contains(&in_celsius(value)), "40 °C to 150 °C")
            }
            Self::SmallestConductor => {
                let value = match CrossSection::from_text(text).map_err(told)? {
                    CrossSection::Area(area) => area,
                    CrossSection::Awg(gauge) | CrossSection::Sae(gauge) => gauge.awg_area(),
                };
                (LimitValue::Area(value), (0.1..=50.0).contains(&in_mm2(value)), "0.1 mm² to 50 mm²")
            }
            Self::FuseDistance | Self::FuseDistanceSheathed => {
                let value = Length::from_text(text).map_err(told)?;
                (LimitValue::Length(value), (0.0..=3.0).contains(&value.get::<meter>()), "0 m to 3 m")
            }
            Self::ArrayDesign | Self::AlternatorFuse => {
                let value = Ratio::from_text(text).map_err(told)?;
                (LimitValue::Ratio(value), (1.0..=3.0).contains(&value.value), "100 % to 300 %")
            }
            _ => {
                let value = Ratio::from_text(text).map_err(told)?;
                (LimitValue::Ratio(value), value.value > 0.0 && value.value <= 0.25, "above 0 % to 25 %")
            }
        };
        if fits { Ok(value) } else { Err(format!("{text} is out of range; {self} is {accepted}")) }
    }
}

impl std::fmt::Display for LimitValue {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let text = match self {
            Self::Ratio(value) => value.to_text(),
            Self::Length(value) => value.to_text(),
            Self::Temperature(value) => value.to_text(),
            Self::Area(value) => value.to_text(),
        };
        formatter.write_str(&text)
    }
}
