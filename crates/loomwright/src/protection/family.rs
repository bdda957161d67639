//! Fuse families.

use super::{Fuse, ProtectionError};
use crate::data::tables::{
    breakers, fuse_breaking, fuse_drops, fuse_families, fuse_holders, fuse_melting, fuse_rerating,
};
use crate::data::{Confidence, Source};
use crate::names::UnknownName;
use crate::names::named;
use crate::quantity::{
    Area, ElectricCurrent, ElectricPotential, ElectricalResistance, JouleIntegral, Ratio, ThermodynamicTemperature,
    Time, Torque, in_celsius, mm2, significant,
};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::ratio::ratio;
use uom::si::time::second;
use uom::si::torque::newton_meter;

named! {
    /// How a circuit breaker closes again (SAE J553).
    Reset, "reset", {
        /// By hand, and trip-free: type III.
        Manual => "manual",
        /// By itself once its circuit is no longer fed: type II.
        Modified => "modified",
        /// By itself, again and again: type I.
        Automatic => "automatic",
    }
}

/// What a usual holder of a family takes; the maker's figure for the part at hand comes first.
#[derive(Clone, Copy, Debug)]
pub struct Holder {
    /// The most that it carries, where that is known.
    pub carries: Option<ElectricCurrent>,
    /// The largest conductor that it takes.
    pub largest: Area,
    /// Its bolt, where it is bolted.
    pub thread: Option<&'static str>,
    /// Tightening torque.
    pub torque: Option<Torque>,
    /// Where current and size come from.
    pub source: &'static Source,
    /// Where the torque comes from.
    pub torque_source: Option<&'static Source>,
}

/// One family of fuse-links or circuit breakers.
#[derive(Clone, Copy, Debug)]
pub struct Family {
    row: &'static fuse_families::FuseFamilies,
}

impl PartialEq for Family {
    fn eq(&self, other: &Self) -> bool {
        self.row.family == other.row.family
    }
}

/// Whether a row is for a rating.
fn same(rating_a: f64, rating: ElectricCurrent) -> bool {
    (rating_a - rating.get::<ampere>()).abs() < 1e-9
}

/// Every family, in the order in which an automatic choice prefers them.
///
/// ```
/// let names: Vec<_> = loomwright::protection::families().map(|family| family.name()).collect();
/// assert!(names.contains(&"strip-sf30") && names.contains(&"class-t"));
/// ```
pub fn families() -> impl Iterator<Item = Family> {
    fuse_families::ROWS.iter().map(|row| Family { row })
}

impl Family {
    /// The family of that name.
    ///
    /// ```
    /// use loomwright::protection::Family;
    /// assert!(Family::named("blade-c").is_ok_and(|family| family.rated_voltage().is_some_and(|rated| rated.value == 32.0)));
    /// assert!(Family::named("blade-cc").is_err());
    /// ```
    ///
    /// # Errors
    /// [`UnknownName`] with the nearest name.
    pub fn named(name: &str) -> Result<Self, UnknownName> {
        families().find(|family| family.name() == name).ok_or_else(|| {
            let known: Vec<&'static str> = families().map(Self::name).collect();
            UnknownName::new("fuse family", name, &known)
        })
    }

    /// The name as written in commands, plans and results.
    pub fn name(self) -> &'static str {
        self.row.family
    }

    /// The family in words.
    pub fn title(self) -> &'static str {
        self.row.title
    }

    /// The standard that describes it.
    pub fn standard(self) -> &'static str {
        self.row.standard
    }

    /// Rated DC voltage; `None` where it differs by size and maker.
    pub fn rated_voltage(self) -> Option<ElectricPotential> {
        self.row.rated_v.map(ElectricPotential::new::<volt>)
    }

    /// The largest current that it breaks in a circuit that reaches this voltage, with its source; `None` where none is
    /// at hand for so high a voltage.
    pub fn breaks(self, highest: ElectricPotential) -> Option<(ElectricCurrent, &'static Source)> {
        let volts = highest.get::<volt>();
        let rows = fuse_breaking::ROWS.iter().filter(|row| row.family == self.row.family && row.up_to_v >= volts);
        let row = rows.min_by(|one, other| one.up_to_v.total_cmp(&other.up_to_v))?;
        Some((ElectricCurrent::new::<ampere>(row.breaks_a), row.source))
    }

    /// Whether it cuts a large fault short before it peaks, which may back up a weaker fuse behind it.
    pub fn limits_current(self) -> bool {
        self.row.limiting == "yes"
    }

    /// Of a circuit breaker: whether current may pass it one way only, and how it closes again.
    pub fn breaker(self) -> Option<(bool, Reset)> {
        let row = breakers::ROWS.iter().find(|row| row.family == self.row.family)?;
        Some((row.polarised == "yes", row.reset.parse().ok()?))
    }

    /// The time that its contacts take at any current; `None` for a fuse-link, which melts the faster the more flows.
    pub fn least_time(self) -> Option<Time> {
        let row = breakers::ROWS.iter().find(|row| row.family == self.row.family)?;
        Some(Time::new::<second>(row.least_s))
    }

    /// Typical I²t that melts a link of this rating in the adiabatic range; `None` where none is at hand.
    ///
    /// ```
    /// use loomwright::protection::Family;
    /// use loomwright::quantity::{ElectricCurrent, FromText};
    /// let blade = Family::named("blade-c")?;
    /// let small = blade.melting(ElectricCurrent::from_text("10 A")?);
    /// let large = blade.melting(ElectricCurrent::from_text("30 A")?);
    /// assert!(small.zip(large).is_some_and(|(small, large)| small < large)); // more metal, more I²t
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn melting(self, rating: ElectricCurrent) -> Option<JouleIntegral> {
        let made = |row: &&fuse_melting::FuseMelting| row.family == self.row.family && same(row.rating_a, rating);
        let squared = ElectricCurrent::new::<ampere>(1.0) * ElectricCurrent::new::<ampere>(1.0);
        fuse_melting::ROWS.iter().find(made).map(|row| squared * Time::new::<second>(row.melting_a2s))
    }

    /// Typical drop of a link of this rating at its rating, hot; `None` where none is at hand.
    pub fn drop(self, rating: ElectricCurrent) -> Option<ElectricPotential> {
        let made = |row: &&fuse_drops::FuseDrops| row.family == self.row.family && same(row.rating_a, rating);
        fuse_drops::ROWS.iter().find(made)?.drop_v.map(ElectricPotential::new::<volt>)
    }

    /// Typical resistance of a cold link of this rating: what a millivolt across its test points says of the current.
    /// `None` where none is at hand.
    ///
    /// ```
    /// use loomwright::{protection::Family, quantity::{ElectricCurrent, FromText}};
    /// let blade = Family::named("blade-c")?;
    /// let [small, large] = ["10 A", "30 A"].map(|rating| blade.cold_resistance(ElectricCurrent::from_text(rating).ok()?));
    /// assert!(small.zip(large).is_some_and(|(small, large)| small > large)); // more metal, less resistance
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn cold_resistance(self, rating: ElectricCurrent) -> Option<ElectricalResistance> {
        let made = |row: &&fuse_drops::FuseDrops| row.family == self.row.family && same(row.rating_a, rating);
        fuse_drops::ROWS.iter().find(made).map(|row| ElectricalResistance::new::<milliohm>(row.cold_mohm))
    }

    /// A usual holder, where there is one.
    pub fn holder(self) -> Option<Holder> {
        let row = fuse_holders::ROWS.iter().find(|row| row.family == self.row.family)?;
        Some(Holder {
            carries: row.carries_a.map(ElectricCurrent::new::<ampere>),
            largest: mm2(row.largest_mm2),
            thread: Some(row.thread).filter(|thread| !thread.is_empty()),
            torque: row.torque_nm.map(Torque::new::<newton_meter>),
            source: row.source,
            torque_source: row.torque_source,
        })
    }

    /// The share of its rating that it carries continuously at its reference temperature.
    pub fn continuous_share(self) -> Ratio {
        Ratio::new::<ratio>(self.row.continuous_ratio)
    }

    /// Conventional operating current I2 over rating, which is larger for the smallest ratings of some
    /// families; `None` where no time limit is at hand.
    ///
    /// ```
    /// use loomwright::{protection::Family, quantity::{ElectricCurrent, FromText}};
    /// let ratio = Family::named("gg")?.conventional_ratio(ElectricCurrent::from_text("63 A")?);
    /// assert!(ratio.is_some_and(|ratio| (ratio.value - 1.6).abs() < 1e-9)); // IEC 60269, from 16 A on
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn conventional_ratio(self, rating: ElectricCurrent) -> Option<Ratio> {
        let small = self.row.small_up_to_a.is_some_and(|most| rating.get::<ampere>() <= most);
        let found = if small { self.row.small_conventional_ratio } else { self.row.conventional_ratio };
        found.map(Ratio::new::<ratio>)
    }

    /// In which round an automatic choice considers it: 1, then 2 where no family of round 1 carries the
    /// load; `None` for never.
    pub fn automatic_round(self) -> Option<u8> {
        match self.row.automatic {
            "first" => Some(1),
            "second" => Some(2),
            _ => None,
        }
    }

    /// The ratings it is made in, smallest first.
    pub fn ratings(self) -> impl Iterator<Item = ElectricCurrent> {
        self.ratings_a().iter().copied().map(ElectricCurrent::new::<ampere>)
    }

    /// The ratings in amperes, ascending.
    pub(super) fn ratings_a(self) -> &'static [f64] {
        self.row.ratings_a_list
    }

    /// The fuse of this family with that rating.
    ///
    /// ```
    /// use loomwright::{protection::Family, quantity::{ElectricCurrent, FromText}};
    /// let family = Family::named("gg")?;
    /// assert!(family.fuse(ElectricCurrent::from_text("63 A")?).is_ok());
    /// assert!(family.fuse(ElectricCurrent::from_text("62 A")?).is_err()); // not a rating of IEC 60269
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`ProtectionError::NoSuchRating`] with the ratings there are.
    pub fn fuse(self, rating: ElectricCurrent) -> Result<Fuse, ProtectionError> {
        let rating_a = rating.get::<ampere>();
        let known = self.ratings().any(|made| (made.get::<ampere>() - rating_a).abs() < 1e-9);
        if known {
            return Ok(Fuse { family: self, rating });
        }
        let all: Vec<String> = self.ratings().map(|made| significant(made.get::<ampere>(), 4)).collect();
        Err(ProtectionError::NoSuchRating { rating_a, family: self.name(), known: format!("{} A", all.join(", ")) })
    }

    /// Ambient re-rating: the share of its rating that it carries in that ambient, straight between the
    /// published points. `None` outside them: the family cannot be used there.
    ///
    /// ```
    /// use loomwright::{protection::Family, quantity::celsius};
    /// let share = Family::named("blade-c")?.rerating(celsius(55.0)).ok_or("known")?;
    /// assert!((share.value - 0.91).abs() < 1e-9); // half way from 1 at 25 °C to 0.82 at 85 °C
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rerating(self, ambient: ThermodynamicTemperature) -> Option<Ratio> {
        let degrees = in_celsius(ambient);
        let mut lower: Option<&fuse_rerating::FuseRerating> = None;
        for row in fuse_rerating::ROWS.iter().filter(|row| row.family == self.row.family) {
            if row.ambient_c >= degrees {
                let factor = match lower {
                    None if row.ambient_c > degrees => return None,
                    None => row.factor,
                    Some(below) => {
                        let share = (degrees - below.ambient_c) / (row.ambient_c - below.ambient_c);
                        below.factor + share * (row.factor - below.factor)
                    }
                };
                return Some(Ratio::new::<ratio>(factor));
            }
            lower = Some(row);
        }
        None
    }

    /// Where its rated voltage comes from.
    pub fn rated_source(self) -> Option<&'static Source> {
        self.row.rated_source
    }

    /// Where its continuous share comes from.
    pub fn continuous_source(self) -> &'static Source {
        self.row.continuous_source
    }

    /// Where its re-rating for ambient comes from.
    pub fn rerating_source(self) -> Option<&'static Source> {
        fuse_rerating::ROWS.iter().find(|row| row.family == self.row.family).map(|row| row.source)
    }

    /// The sources whose values let a fuse of this family pass, worst confidence first.
    pub fn sources(self) -> Vec<&'static Source> {
        let rerating = self.rerating_source();
        let row = self.row;
        let all = [
            row.rated_source,
            Some(row.continuous_source),
            row.conventional_source,
            row.small_conventional_source,
            rerating,
            Some(row.ratings_source),
        ];
        let mut found: Vec<&'static Source> = Vec::new();
        for source in all.into_iter().flatten() {
            if !found.contains(&source) {
                found.push(source);
            }
        }
        found.sort_by_key(|source| source.confidence != Confidence::Memory);
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::protection::{Device, families};
    use crate::quantity::celsius;

    #[test]
    fn every_family_has_words_of_its_own() {
        let mut titles: Vec<&str> = families().map(Family::title).collect();
        assert!(titles.iter().all(|title| title.len() > 5));
        titles.sort_unstable();
        titles.dedup();
        assert_eq!(titles.len(), families().count());
    }

    #[test]
    fn a_holder_has_a_bolt_or_none() {
        let threads: Vec<_> = families().filter_map(Family::holder).map(|holder| holder.thread).collect();
        assert!(threads.iter().flatten().all(|thread| !thread.is_empty()));
        assert!(threads.iter().any(Option::is_some) && threads.iter().any(Option::is_none));
    }

    /// Full at 20 °C, 85 % at 65 °C and 55 % at 125 °C by the maker's sheet of the large blades; nothing is known beyond.
    #[test]
    fn rerating_is_straight_between_its_points_and_ends_with_them() {
        let blade = Family::named("blade-e").unwrap();
        let at = |degrees: f64| blade.rerating(celsius(degrees)).map(|share| share.value);
        for (degrees, share) in
            [(-40.0, 1.0), (0.0, 1.0), (20.0, 1.0), (42.5, 0.925), (65.0, 0.85), (75.0, 0.8), (125.0, 0.55)]
        {
            assert!(at(degrees).is_some_and(|told| (told - share).abs() < 1e-9), "{degrees} °C: {:?}", at(degrees));
        }
        assert_eq!((at(-40.1), at(125.1)), (None, None));
    }

    #[test]
    fn a_link_melts_by_the_least_that_is_known() {
        for family in families().filter(|family| family.breaker().is_none()) {
            for rating in family.ratings() {
                let device = Device::from(Fuse { family, rating });
                let edge = device.band().as_ref().and_then(crate::protection::Band::melting);
                let least = [family.melting(rating), edge].into_iter().flatten().map(|one| one.value).reduce(f64::min);
                assert_eq!(device.melting().map(|one| one.value), least, "{} {}", family.name(), rating.value);
            }
        }
    }
}
