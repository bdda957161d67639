//! Which fuse carries a load, and whether it protects a conductor.

use super::{Family, ProtectionError, families};
use crate::quantity::{ElectricCurrent, ElectricPotential, FromText, Ratio, ThermodynamicTemperature};
use uom::si::electric_current::ampere;
use uom::si::ratio::ratio;

/// The overload condition I2 ≤ 1.45 Iz of IEC 60364-4-43, 433.1.
pub const OVERLOAD_FACTOR: f64 = 1.45;

/// A fuse of a family and rating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fuse {
    /// Its family.
    pub family: Family,
    /// Its rated current In.
    pub rating: ElectricCurrent,
}

impl Fuse {
    /// The current it carries continuously in that ambient; `None` outside the family's re-rating data.
    ///
    /// ```
    /// use loomwright::{protection::Fuse, quantity::celsius};
    /// let fuse: Fuse = "30 A blade-c".parse()?;
    /// let [cool, hot] = [25.0, 85.0].map(|air| fuse.continuous_current(celsius(air)).map_or(0.0, |current| current.value));
    /// assert!((cool - 24.0).abs() < 1e-9 && (hot - 24.0 * 0.82).abs() < 1e-9); // 80 % of 30 A, re-rated
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn continuous_current(&self, ambient: ThermodynamicTemperature) -> Option<ElectricCurrent> {
        Some(self.rating * self.family.continuous_share() * self.family.rerating(ambient)?)
    }

    /// Conventional operating current I2.
    ///
    /// ```
    /// use loomwright::protection::Fuse;
    /// let fuse: Fuse = "63 A gg".parse()?;
    /// assert!(fuse.conventional_current().is_some_and(|current| (current.value - 100.8).abs() < 1e-9)); // 1.6 · 63 A
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn conventional_current(&self) -> Option<ElectricCurrent> {
        Some(self.rating * self.family.conventional_ratio(self.rating)?)
    }
}

impl std::str::FromStr for Fuse {
    type Err = ProtectionError;

    /// Rating and family, such as `15 A blade-c`.
    fn from_str(text: &str) -> Result<Self, ProtectionError> {
        let text = text.trim();
        let parts = text.rsplit_once(char::is_whitespace).filter(|_| ElectricCurrent::from_text(text).is_err());
        let (rating, family) = parts.ok_or_else(|| ProtectionError::NoFuse(text.to_owned()))?;
        let rating = ElectricCurrent::from_text(rating)?;
        Family::named(family)?.fuse(rating)
    }
}

/// `(Iz/In, 1.45 Iz/I2)`: each 1 or more when the fuse protects a conductor of ampacity Iz against
/// overload (IEC 60364-4-43, 433.1). The second is `None` for a family without time limits.
///
/// ```
/// use loomwright::protection::{Family, protection_margins};
/// use loomwright::quantity::{ElectricCurrent, FromText};
/// let fuse = Family::named("gg")?.fuse(ElectricCurrent::from_text("63 A")?)?;
/// // I2 of a gG fuse is 1.6 In, so Iz must reach 1.6/1.45 × 63 A = 69.5 A.
/// let (rating, overload) = protection_margins(&fuse, ElectricCurrent::from_text("69 A")?);
/// assert!(rating.value > 1.0 && overload.is_some_and(|margin| margin.value < 1.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn protection_margins(fuse: &Fuse, ampacity: ElectricCurrent) -> (Ratio, Option<Ratio>) {
    overload_margins(ampacity, fuse.rating, fuse.conventional_current())
}

/// The same of any device, or of several together: their rating, and their conventional operating current where it is
/// known.
///
/// ```
/// use loomwright::{protection::overload_margins, quantity::{ElectricCurrent, FromText}};
/// let amperes = ElectricCurrent::from_text;
/// let (rating, overload) = overload_margins(amperes("72.5 A")?, amperes("50 A")?, Some(amperes("80 A")?));
/// assert!((rating.value - 1.45).abs() < 1e-9); // 72.5/50
/// assert!(overload.is_some_and(|margin| (margin.value - 1.3140625).abs() < 1e-9)); // 1.45 · 72.5/80
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn overload_margins(
    ampacity: ElectricCurrent,
    rating: ElectricCurrent,
    operating: Option<ElectricCurrent>,
) -> (Ratio, Option<Ratio>) {
    (ampacity / rating, operating.map(|operating| ampacity * OVERLOAD_FACTOR / operating))
}

/// The largest rating that a law permitting `share` of a conductor's table value allows.
///
/// 33 CFR 183.455(c)(1): 150 % of table 5 below 50 V. It is reported, never used to choose.
///
/// ```
/// use loomwright::{protection::law_allows, quantity::{ElectricCurrent, FromText, Ratio}};
/// let most = law_allows(ElectricCurrent::from_text("80 A")?, Ratio::from_text("150 %")?);
/// assert!((most.value - 120.0).abs() < 1e-9); // 8 AWG of 105 °C by table 5
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn law_allows(table_ampacity: ElectricCurrent, share: Ratio) -> ElectricCurrent {
    table_ampacity * share
}

#[derive(Clone, Copy, Debug)]
struct Usable {
    family: Family,
    /// Continuous current over rating, share and ambient together.
    share: f64,
    round: u8,
}

impl Usable {
    /// What the last rating before this index carries; 0 when there is none.
    fn carried(&self, index: usize) -> f64 {
        let below = index.checked_sub(1).and_then(|last| self.family.ratings_a().get(last));
        below.map_or(0.0, |rating| rating * self.share)
    }
}

/// Families that may be chosen automatically, at most; a unit test holds the data to it.
const MOST_FAMILIES: usize = 16;

/// The families that may be chosen automatically at one voltage and ambient.
#[derive(Clone, Debug)]
pub struct Selection {
    usable: [Option<Usable>; MOST_FAMILIES],
}

impl Selection {
    /// The usable families: rated for `highest_voltage` (the highest charge voltage, not the nominal
    /// one), with re-rating data for `ambient`.
    ///
    /// ```
    /// use loomwright::{protection::Selection, quantity::{ElectricCurrent, ElectricPotential, FromText, celsius}};
    /// let charging = ElectricPotential::from_text("58.4 V")?; // a 48 V system: blade fuses of 32 V are out
    /// let chosen = Selection::new(charging, celsius(40.0)).smallest_carrying(ElectricCurrent::from_text("15 A")?);
    /// assert!(chosen.is_some_and(|fuse| fuse.family.rated_voltage().is_some_and(|rated| rated >= charging)));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(highest_voltage: ElectricPotential, ambient: ThermodynamicTemperature) -> Self {
        let mut usable = [None; MOST_FAMILIES];
        let fitting = families().filter(|family| family.rated_voltage().is_some_and(|rated| rated >= highest_voltage));
        let shares = fitting.filter_map(|family| {
            let share = (family.continuous_share() * family.rerating(ambient)?).get::<ratio>();
            Some(Usable { family, share, round: family.automatic_round()? })
        });
        for (slot, found) in usable.iter_mut().zip(shares) {
            *slot = Some(found);
        }
        Self { usable }
    }

    /// The smallest rating that carries `current` continuously; of equal ratings the family named first.
    ///
    /// ```
    /// use loomwright::{protection::Selection, quantity::{ElectricCurrent, ElectricPotential, FromText, celsius}};
    /// let selection = Selection::new(ElectricPotential::from_text("14.6 V")?, celsius(25.0));
    /// let fuse = selection.smallest_carrying(ElectricCurrent::from_text("13 A")?).ok_or("none")?;
    /// assert!((fuse.rating.value - 20.0).abs() < 1e-9); // 80 % of 15 A are 12 A, of 20 A 16 A
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn smallest_carrying(&self, current: ElectricCurrent) -> Option<Fuse> {
        self.smallest(current, ElectricCurrent::default(), |_| true)
    }

    /// As [`smallest_carrying`](Self::smallest_carrying), with a rating of at least `least`, and `fits` for whatever else
    /// it has to do.
    ///
    /// ```
    /// use loomwright::{protection::Selection, quantity::{ElectricCurrent, ElectricPotential, FromText, celsius}};
    /// let selection = Selection::new(ElectricPotential::from_text("14.6 V")?, celsius(25.0));
    /// let (current, least) = (ElectricCurrent::from_text("13 A")?, ElectricCurrent::from_text("1 A")?);
    /// let fuse = selection.smallest(current, least, |fuse| fuse.rating.value > 20.0).ok_or("none")?;
    /// assert!(fuse.rating.value > 20.0 && fuse.continuous_current(celsius(25.0)) >= Some(current));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn smallest(
        &self,
        current: ElectricCurrent,
        least: ElectricCurrent,
        fits: impl Fn(&Fuse) -> bool,
    ) -> Option<Fuse> {
        let (needed, least) = (current.get::<ampere>(), least.get::<ampere>());
        let mut best: Option<(u8, Fuse)> = None;
        for usable in self.usable.iter().flatten() {
            let ratings = usable.family.ratings_a();
            let first = ratings.partition_point(|rating| rating * usable.share < needed || *rating < least);
            let made = ratings
                .iter()
                .skip(first)
                .map(|rating| Fuse { family: usable.family, rating: ElectricCurrent::new::<ampere>(*rating) });
            let better = |fuse: &Fuse| {
                best.is_none_or(|(round, chosen)| (usable.round, fuse.rating.value) < (round, chosen.rating.value))
            };
            if let Some(fuse) = made.take_while(better).find(&fits) {
                best = Some((usable.round, fuse));
            }
        }
        best.map(|(_, fuse)| fuse)
    }

    /// The largest continuous current whose fuse, as [`smallest_carrying`](Self::smallest_carrying)
    /// chooses it, protects a conductor of this ampacity.
    ///
    /// ```
    /// use loomwright::{protection::Selection, quantity::{ElectricCurrent, ElectricPotential, FromText, celsius}};
    /// let selection = Selection::new(ElectricPotential::from_text("14.6 V")?, celsius(25.0));
    /// let current = selection.largest_protected(ElectricCurrent::from_text("22 A")?);
    /// assert!((current.value - 16.0).abs() < 1e-9); // 80 % of a blade fuse of 20 A, the largest not above 22 A
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn largest_protected(&self, ampacity: ElectricCurrent) -> ElectricCurrent {
        let protects = |family: Family, rating: f64| {
            let fuse = Fuse { family, rating: ElectricCurrent::new::<ampere>(rating) };
            let (rating, overload) = protection_margins(&fuse, ampacity);
            rating.value >= 1.0 && overload.is_some_and(|margin| margin.value >= 1.0)
        };
        let mut best = 0.0_f64;
        for round in [1, 2] {
            let mut all_protect = true;
            for usable in self.usable.iter().flatten().filter(|usable| usable.round == round) {
                let ratings = usable.family.ratings_a();
                let protecting = ratings.partition_point(|rating| protects(usable.family, *rating));
                best = best.max(usable.carried(protecting));
                all_protect &= protecting == ratings.len();
            }
            // A second-round family comes in only beyond what the first round can carry.
            if !all_protect {
                break;
            }
        }
        ElectricCurrent::new::<ampere>(best)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::celsius;
    use approx::assert_relative_eq;

    fn amperes(value: f64) -> ElectricCurrent {
        ElectricCurrent::new::<ampere>(value)
    }

    /// What the examples show, by hand: 80 % of a rating, times its maker's 0.82 at 85 °C.
    #[test]
    fn ratings_carry_their_share() {
        let blade: Fuse = "30 A blade-c".parse().unwrap();
        assert_relative_eq!(blade.continuous_current(celsius(25.0)).unwrap().value, 24.0, max_relative = 1e-12);
        assert_relative_eq!(blade.continuous_current(celsius(85.0)).unwrap().value, 24.0 * 0.82, max_relative = 1e-12);
        assert!(blade.continuous_current(celsius(300.0)).is_none());
        let selection =
            Selection::new(ElectricPotential::new::<uom::si::electric_potential::volt>(14.6), celsius(25.0));
        assert_relative_eq!(selection.largest_protected(amperes(22.0)).value, 16.0, max_relative = 1e-12);
        // A rating that is asked for is large enough.
        let least = selection.smallest(amperes(10.0), amperes(20.0), |_| true).unwrap();
        assert_relative_eq!(least.rating.value, 20.0);
    }

    #[test]
    fn automatic_families_fit_and_have_time_limits() {
        let automatic: Vec<Family> = families().filter(|family| family.automatic_round().is_some()).collect();
        assert!(automatic.len() <= MOST_FAMILIES);
        for family in automatic {
            assert!(family.ratings().all(|rating| family.conventional_ratio(rating).is_some()), "{}", family.name());
            assert!(family.rated_voltage().is_some() && family.continuous_share().value <= 0.8, "{}", family.name());
        }
    }

    #[test]
    fn rerates_a_blade_at_85_degrees() {
        // A 40 A type E blade carries 30 A at 85 °C (maker's data sheet): factor 0.75.
        let family = Family::named("blade-e").unwrap();
        assert_relative_eq!(family.rerating(celsius(85.0)).unwrap().value, 0.75);
        assert_relative_eq!(family.rerating(celsius(75.0)).unwrap().value, 0.80);
        assert!(family.rerating(celsius(126.0)).is_none() && family.rerating(celsius(-41.0)).is_none());
        // A 160 A gG at 60 °C carries 144 A: −0.5 %/K above 40 °C (maker's application guide).
        assert_relative_eq!(Family::named("gg").unwrap().rerating(celsius(60.0)).unwrap().value * 160.0, 144.0);
    }

    #[test]
    fn chooses_the_smallest_rating_that_carries() {
        let selection = Selection::new(ElectricPotential::from_text("14.6 V").unwrap(), celsius(20.0));
        // 40 A over 80 % is 50 A; the blade and the strip both have it, the blade stands first.
        let fuse = selection.smallest_carrying(amperes(40.0)).unwrap();
        assert_eq!((fuse.family.name(), fuse.rating.value), ("blade-e", 50.0));
        // A 6 A class T would be smaller than a 7.5 A blade, but class T comes in only where blades and
        // strips end.
        assert_eq!(selection.smallest_carrying(amperes(4.5)).unwrap().family.name(), "blade-c");
        assert_eq!(selection.smallest_carrying(amperes(480.0)).unwrap().family.name(), "class-t");
        assert!(selection.smallest_carrying(amperes(2000.0)).is_none());
    }

    #[test]
    fn no_fuse_of_32_volts_at_48_volts() {
        // A 16-cell lithium iron phosphate battery reaches 58.4 V: neither 32 V nor 58 V will do.
        let selection = Selection::new(ElectricPotential::from_text("58.4 V").unwrap(), celsius(20.0));
        assert_eq!(selection.smallest_carrying(amperes(40.0)).unwrap().family.name(), "class-t");
    }

    #[test]
    fn unknown_names_and_ratings_say_what_exists() {
        assert!(Family::named("blade-cc").unwrap_err().to_string().contains("did you mean \"blade-c\""));
        let error = Family::named("blade-e").unwrap().fuse(amperes(45.0)).unwrap_err().to_string();
        assert!(error.contains("40, 50"), "{error}");
    }
}
