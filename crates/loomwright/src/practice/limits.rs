//! The limits of each practice that bear on one circuit.

use crate::data::{Source, tables::conductor_colours, tables::practice_limits, tables::practice_overcurrent};
use crate::names::named;
use crate::quantity::{Area, ElectricCurrent, Length, Ratio, ThermodynamicTemperature, celsius, in_mm2, mm2};
use uom::si::electric_current::ampere;
use uom::si::length::meter;
use uom::si::ratio::ratio;

/// Area of a gauge over that of the gauge two numbers thinner, 92^(4/39) (ASTM B258): the tables skip odd numbers.
const NEXT_GAUGE: f64 = 1.59;

named! {
    /// A rule set.
    Practice, "practice", {
        /// No particular law: physics and good custom.
        General => "general",
        /// Caravans and motor caravans, IEC 60364-7-721.
        IecCaravan => "iec-caravan",
        /// Small craft, ISO 10133, which ISO 13297 replaced.
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

/// How hot terminals of unstated temperature may get.
#[derive(Clone, Copy, Debug)]
pub struct TerminalRule {
    /// The usual limit.
    pub usual: Limit<ThermodynamicTemperature>,
    /// A stricter limit for circuits up to a current. A conductor that cannot carry that current within
    /// the stricter limit is held to it at every current, so that more current never asks for less.
    pub small_circuits: Option<(ElectricCurrent, Limit<ThermodynamicTemperature>)>,
}

impl Practice {
    fn row(self, limit: &str) -> Option<&'static practice_limits::PracticeLimits> {
        practice_limits::ROWS.iter().find(|row| row.practice == self.name() && row.limit == limit)
    }

    fn limit<T>(self, name: &str, value: impl Fn(&practice_limits::PracticeLimits) -> Option<T>) -> Option<Limit<T>> {
        let row = self.row(name)?;
        Some(Limit { value: value(row)?, note: row.note, source: row.source })
    }

    /// How hot terminals of unstated temperature may get.
    ///
    /// ```
    /// use loomwright::{practice::Practice, quantity::in_celsius};
    /// let rule = Practice::NaRecreationalVehicle.terminal_rule(); // NEC 110.14(C)
    /// let (current, small) = rule.small_circuits.ok_or("it has one")?;
    /// assert!((in_celsius(small.value) - 60.0).abs() < 1e-9 && (current.value - 100.0).abs() < 1e-9);
    /// assert!((in_celsius(rule.usual.value) - 75.0).abs() < 1e-9);
    /// # Ok::<(), &str>(())
    /// ```
    pub fn terminal_rule(self) -> TerminalRule {
        let lowest = Limit {
            // A unit test holds every practice to a row of its own.
            value: celsius(60.0),
            note: "lowest usual terminal temperature",
            source: &crate::data::tables::sources::NEC_110_14_MEMORY,
        };
        let first = self.limit("terminal-temperature", |row| row.temperature_c.map(celsius)).unwrap_or(lowest);
        let up_to = self.row("terminal-temperature").and_then(|row| row.current_a).map(ElectricCurrent::new::<ampere>);
        let above = self.limit("terminal-temperature-above", |row| row.temperature_c.map(celsius));
        match (up_to, above) {
            (Some(current), Some(above)) => TerminalRule { usual: above, small_circuits: Some((current, first)) },
            _ => TerminalRule { usual: first, small_circuits: None },
        }
    }

    /// The smallest conductor it permits.
    ///
    /// ```
    /// use loomwright::{practice::Practice, quantity::in_mm2};
    /// let least = Practice::IsoSmallCraft.smallest_conductor().ok_or("it has one")?;
    /// assert!((in_mm2(least.value) - 1.0).abs() < 1e-9); // ISO 10133
    /// assert!(Practice::General.smallest_conductor().is_none());
    /// # Ok::<(), &str>(())
    /// ```
    pub fn smallest_conductor(self) -> Option<Limit<Area>> {
        self.limit("smallest-conductor", |row| row.csa_mm2.map(mm2))
    }

    /// How far from its source along the conductor a protective device may sit; `sheathed` where the conductor up to it
    /// lies in conduit. A practice without a row, which a unit test excludes, permits none.
    ///
    /// ```
    /// use loomwright::practice::Practice;
    /// let [bare, sheathed] = [false, true].map(|sheathed| Practice::UsSmallCraft.fuse_distance(sheathed).value);
    /// assert!((bare.value / 0.0254 - 7.0).abs() < 0.01); // 7 in and 40 in by 33 CFR 183
    /// assert!((sheathed.value / 0.0254 - 40.0).abs() < 0.01);
    /// ```
    pub fn fuse_distance(self, sheathed: bool) -> Limit<Length> {
        let none = Limit {
            value: Length::default(),
            note: "",
            source: &crate::data::tables::sources::COMMON_PRACTICE_DEFAULT,
        };
        let name = if sheathed { "fuse-distance-sheathed" } else { "fuse-distance" };
        self.limit(name, |row| row.length_m.map(Length::new::<meter>)).unwrap_or(none)
    }

    /// The farthest from one support of a conductor to the next; `battery` for conductors between a battery and its
    /// disconnect switch.
    ///
    /// ```
    /// use loomwright::practice::Practice;
    /// let spacing = Practice::UsSmallCraft.support_spacing(false).ok_or("it has one")?;
    /// assert!((spacing.value.value / 0.0254 - 18.0).abs() < 0.01); // inches
    /// # Ok::<(), &str>(())
    /// ```
    pub fn support_spacing(self, battery: bool) -> Option<Limit<Length>> {
        let name = if battery { "support-spacing-battery" } else { "support-spacing" };
        self.limit(name, |row| row.length_m.map(Length::new::<meter>))
    }

    /// The insulation colour of a conductor that is `positive`, `negative` or `bonding`, and where that is from.
    pub fn colour(self, leg: &str) -> Option<(&'static str, &'static Source)> {
        let row = conductor_colours::ROWS.iter().find(|row| row.practice == self.name() && row.leg == leg)?;
        Some((row.colour, row.source))
    }

    /// What it covers, and what of it was not at hand.
    pub fn scope(self) -> Option<Limit<()>> {
        self.limit("scope", |_| Some(()))
    }

    /// The largest overcurrent device that it permits for a conductor of this area, where it prints one.
    ///
    /// ```
    /// use loomwright::{practice::Practice, quantity::mm2};
    /// let limit = |practice: Practice| practice.largest_overcurrent(mm2(3.31)).map(|limit| limit.value.value);
    /// assert_eq!(limit(Practice::NaRecreationalVehicle), Some(20.0)); // 12 AWG by NEC 240.4(D)
    /// assert_eq!(limit(Practice::General), None);
    /// ```
    pub fn largest_overcurrent(self, area: Area) -> Option<Limit<ElectricCurrent>> {
        // Tables round a gauge's area to three digits.
        let csa_mm2 = in_mm2(area) * (1.0 + 1e-2);
        let rows = || practice_overcurrent::ROWS.iter().filter(|row| row.practice == self.name());
        // A size above the last row by a gauge has no such limit; rows ascend.
        let last = rows().next_back()?;
        if csa_mm2 >= last.csa_mm2 * NEXT_GAUGE {
            return None;
        }
        let row = rows().rfind(|row| row.csa_mm2 <= csa_mm2).or_else(|| rows().next())?;
        Some(Limit { value: ElectricCurrent::new::<ampere>(row.rating_a), note: row.note, source: row.source })
    }

    /// The rule against returning current through the hull or chassis, where there is one.
    ///
    /// ```
    /// use loomwright::practice::Practice;
    /// assert!(Practice::IsoSmallCraft.forbids_chassis_return().is_some()); // ISO 10133
    /// assert!(Practice::General.forbids_chassis_return().is_none());
    /// ```
    pub fn forbids_chassis_return(self) -> Option<Limit<()>> {
        self.limit("hull-return", |_| Some(()))
    }

    /// The smallest conductor from a converter's case to the chassis, where it has one.
    pub fn smallest_case_bond(self) -> Option<Limit<Area>> {
        self.limit("case-bond", |row| row.csa_mm2.map(mm2))
    }

    /// The smallest conductor from a battery to the chassis, where it has one: nor smaller than the battery's other lead.
    pub fn smallest_battery_bond(self) -> Option<Limit<Area>> {
        self.limit("battery-bond", |row| row.csa_mm2.map(mm2))
    }

    /// The rule that conductors be copper, where there is one.
    pub fn copper_only(self) -> Option<Limit<()>> {
        self.limit("copper-only", |_| Some(()))
    }

    /// The share of the table ampacity up to which the law permits an overcurrent device; never used to
    /// choose one.
    ///
    /// ```
    /// use loomwright::practice::Practice;
    /// let share = Practice::UsSmallCraft.overcurrent_permitted().map(|limit| limit.value.value);
    /// assert_eq!(share, Some(1.5)); // 33 CFR 183.455 below 50 V
    /// ```
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
        for practice in Practice::ALL {
            assert!(practice.row("terminal-temperature").is_some(), "{practice}");
            let [plain, sheathed] = [false, true].map(|sheathed| practice.fuse_distance(sheathed).value);
            assert!(plain.value > 0.0 && sheathed >= plain, "{practice}");
        }
        let rule = Practice::NaRecreationalVehicle.terminal_rule();
        assert_eq!(in_celsius(rule.usual.value).round(), 75.0);
        let (current, limit) = rule.small_circuits.unwrap();
        assert_eq!((current.value, in_celsius(limit.value).round()), (100.0, 60.0));
        assert!(Practice::General.terminal_rule().small_circuits.is_none());
        for practice in Practice::ALL {
            assert!(practice.scope().is_some(), "{practice}");
            assert!([false, true].iter().all(|battery| practice.support_spacing(*battery).is_some()), "{practice}");
            assert!(["positive", "negative", "bonding"].iter().all(|leg| practice.colour(leg).is_some()), "{practice}");
        }
        let limit =
            |mm2_: f64| Practice::NaRecreationalVehicle.largest_overcurrent(mm2(mm2_)).map(|limit| limit.value.value);
        // 14 AWG and what lies between it and 12 AWG; 8 AWG has none; below 18 AWG the least.
        assert_eq!([2.08, 2.5, 5.26, 8.37, 0.5].map(limit), [Some(15.0), Some(15.0), Some(30.0), None, Some(6.0)]);
        for row in practice_limits::ROWS {
            assert!(row.practice.parse::<Practice>().is_ok(), "{}", row.practice);
        }
    }
}
