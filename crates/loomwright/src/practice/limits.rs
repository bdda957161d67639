//! The limits of each practice that bear on one circuit.

use crate::data::{Source, tables::practice_limits};
use crate::names::named;
use crate::quantity::{Area, ElectricCurrent, Ratio, ThermodynamicTemperature, celsius, mm2};
use thiserror::Error;
use uom::si::electric_current::ampere;
use uom::si::ratio::ratio;

/// The practice does not exist.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum PracticeError {
    /// A name that is not known.
    #[error("{given:?} is not a {what}{}; known: {known}", nearest.map(|name| format!(", did you mean {name:?}?")).unwrap_or_default())]
    UnknownName {
        /// What kind of name was needed.
        what: &'static str,
        /// The text as given.
        given: String,
        /// The nearest known name, when one is near.
        nearest: Option<&'static str>,
        /// All known names.
        known: String,
    },
}

named! {
    /// A rule set.
    Practice, "practice", PracticeError, {
        /// No particular law: physics and good custom.
        General => "general",
        /// Caravans and motor caravans, IEC 60364-7-721.
        IecCaravan => "iec-caravan",
        /// Small craft, ISO 10133.
        IsoSmallCraft => "iso-small-craft",
        /// US small craft, 33 CFR 183 subpart I (boats with inboard petrol engines).
        UsSmallCraft => "us-small-craft",
        /// North American recreational vehicles, NEC 551 and 552.
        NaRecreationalVehicle => "na-recreational-vehicle",
    }
}

/// A limit, in words and with its source.
#[derive(Clone, Copy, Debug)]
pub struct Limit<T> {
    /// The limit itself.
    pub value: T,
    /// What it applies to.
    pub note: &'static str,
    /// Where it comes from.
    pub source: &'static Source,
}

impl Practice {
    fn row(self, limit: &str) -> Option<&'static practice_limits::PracticeLimits> {
        practice_limits::ROWS.iter().find(|row| row.practice == self.name() && row.limit == limit)
    }

    fn limit<T>(self, name: &str, value: impl Fn(&practice_limits::PracticeLimits) -> Option<T>) -> Option<Limit<T>> {
        let row = self.row(name)?;
        Some(Limit { value: value(row)?, note: row.note, source: row.source })
    }

    /// The temperature that terminals of unstated temperature may reach in a circuit of this current.
    pub fn terminal_temperature(self, current: ElectricCurrent) -> Limit<ThermodynamicTemperature> {
        let above = self
            .row("terminal-temperature")
            .and_then(|row| row.current_a)
            .is_some_and(|most| current.get::<ampere>() > most);
        let name = if above { "terminal-temperature-above" } else { "terminal-temperature" };
        self.limit(name, |row| row.temperature_c.map(celsius)).unwrap_or(Limit {
            // A unit test holds every practice to a row of its own.
            value: celsius(60.0),
            note: "lowest usual terminal temperature",
            source: &crate::data::tables::sources::NEC_110_14_MEMORY,
        })
    }

    /// The smallest conductor it permits.
    pub fn smallest_conductor(self) -> Option<Limit<Area>> {
        self.limit("smallest-conductor", |row| row.csa_mm2.map(mm2))
    }

    /// The rule against returning current through the hull or chassis, where there is one.
    pub fn forbids_chassis_return(self) -> Option<Limit<()>> {
        self.limit("hull-return", |_| Some(()))
    }

    /// The rule that conductors be copper, where there is one.
    pub fn copper_only(self) -> Option<Limit<()>> {
        self.limit("copper-only", |_| Some(()))
    }

    /// The share of the table ampacity up to which the law permits an overcurrent device; never used to
    /// choose one.
    pub fn overcurrent_permitted(self) -> Option<Limit<Ratio>> {
        self.limit("overcurrent-permitted", |row| row.ratio.map(Ratio::new::<ratio>))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::in_celsius;

    #[test]
    fn every_practice_limits_terminals() {
        let degrees = |practice: Practice, amperes: f64| {
            in_celsius(practice.terminal_temperature(ElectricCurrent::new::<ampere>(amperes)).value).round()
        };
        for practice in Practice::ALL {
            assert!(practice.row("terminal-temperature").is_some(), "{practice}");
        }
        assert_eq!(degrees(Practice::General, 20.0), 75.0);
        assert_eq!(degrees(Practice::NaRecreationalVehicle, 100.0), 60.0);
        assert_eq!(degrees(Practice::NaRecreationalVehicle, 100.1), 75.0);
        for row in practice_limits::ROWS {
            assert!(row.practice.parse::<Practice>().is_ok(), "{}", row.practice);
        }
    }
}
