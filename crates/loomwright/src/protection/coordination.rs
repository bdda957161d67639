//! Two curves against each other: a link and what it protects, a link and the one before it.

use super::Band;
use crate::quantity::{ElectricCurrent, Ratio, Time};
use uom::si::electric_current::ampere;
use uom::si::ratio::ratio;

/// Where two curves come closest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Least {
    /// The least ratio of what is borne, or held, to the time the link takes: 1 or more passes.
    pub ratio: Ratio,
    /// The current there.
    pub current: ElectricCurrent,
    /// The time the link takes there.
    pub takes: Time,
}

/// Halvings of what lies between two turns, where bounds do not settle it: both curves are smooth there.
const HALVINGS: u32 = 5;

/// A current with the time taken and the time borne there, where both end.
#[derive(Clone, Copy)]
struct Point {
    current: ElectricCurrent,
    takes: Option<Time>,
    bears: Option<Time>,
}

/// Two curves being compared.
struct Search<T, B> {
    taken: T,
    borne: B,
    found: Option<Least>,
}

impl<T: Fn(ElectricCurrent) -> Option<Time>, B: Fn(ElectricCurrent) -> Option<Time>> Search<T, B> {
    fn at(&mut self, current: ElectricCurrent) -> Point {
        let point = Point { current, takes: (self.taken)(current), bears: (self.borne)(current) };
        if let Some((takes, bears)) = point.takes.zip(point.bears) {
            let here = Least { ratio: bears / takes, current, takes };
            // Where I²t stays on both sides the ratio does too, but for rounding: the least current keeps it.
            let closer = |found: Least| {
                let slight = found.ratio * 1e-9;
                here.ratio < found.ratio - slight || (here.ratio < found.ratio + slight && current < found.current)
            };
            if self.found.is_none_or(closer) {
                self.found = Some(here);
            }
        }
        point
    }

    /// Between two points the ratio is no less than what is borne at the higher current over what is taken at the lower;
    /// only where that leaves it open is the middle looked at, and both halves.
    fn between(&mut self, low: Point, high: Point, halvings: u32) {
        let settled = low.takes.is_some_and(|takes| high.bears.is_none_or(|bears| bears.value > 1.1 * takes.value));
        if settled || halvings == 0 || high.current <= low.current {
            return;
        }
        let middle = self.at(low.current * (high.current / low.current).get::<ratio>().sqrt());
        self.between(low, middle, halvings - 1);
        self.between(middle, high, halvings - 1);
    }
}

/// The least ratio over all currents from `from` to `to`, cut at the turns, which ascend.
fn least(
    turns: impl Iterator<Item = ElectricCurrent>,
    [from, to]: [ElectricCurrent; 2],
    taken: impl Fn(ElectricCurrent) -> Option<Time>,
    borne: impl Fn(ElectricCurrent) -> Option<Time>,
) -> Option<Least> {
    // Not a number, or nothing in between.
    if from.partial_cmp(&to)? == std::cmp::Ordering::Greater {
        return None;
    }
    let mut search = Search { taken, borne, found: None };
    let mut last = search.at(from);
    for turn in turns.filter(|turn| *turn > from && *turn < to).chain([to]) {
        let next = search.at(turn);
        search.between(last, next, HALVINGS);
        last = next;
    }
    search.found
}

/// The least ratio of how long a conductor bears a current to the latest opening of its fuse, over every current from
/// the conventional operating current to `highest`; `bears` gives `None` for good. `None` where nothing is in between,
/// or the conductor bears all of it for good.
///
/// A band rerated for the air around it is the caller's affair.
///
/// ```
/// use loomwright::protection::{Band, Gate, least_ratio};
/// use loomwright::quantity::{ElectricCurrent, FromText, Time, uom::si::time::second};
/// let gate = |current: &str, time: f64| -> Result<Gate, loomwright::quantity::QuantityError> {
///     Ok(Gate { current: ElectricCurrent::from_text(current)?, fastest: None, slowest: Some(Time::new::<second>(time)) })
/// };
/// let band = Band::through(&[gate("100 A", 100.0)?, gate("1 kA", 1.0)?])?; // 1 MA²s all along
/// let bears = |current: ElectricCurrent| Some(Time::new::<second>(4e6 / current.value.powi(2))); // 4 MA²s
/// let least = least_ratio(&band, ElectricCurrent::from_text("1 kA")?, bears).ok_or("they meet")?;
/// assert!((least.ratio.value - 4.0).abs() < 1e-6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn least_ratio(
    band: &Band,
    highest: ElectricCurrent,
    bears: impl Fn(ElectricCurrent) -> Option<Time>,
) -> Option<Least> {
    least(band.turns(), [band.conventional_current()?, highest], |current| band.slowest(current), bears)
}

/// The least ratio of the earliest opening of the fuse before to the latest of the one behind, over every current up to
/// `highest`: 1 or more and the one behind opens first. `None` where either edge is not at hand, or nothing is in
/// between.
///
/// ```
/// use loomwright::protection::{Band, Family, discrimination};
/// use loomwright::quantity::{ElectricCurrent, FromText};
/// let band = |rating: &str, family: &str| -> Result<Band, Box<dyn std::error::Error>> {
///     Ok(Band::of(&Family::named(family)?.fuse(ElectricCurrent::from_text(rating)?)?).ok_or("no times")?)
/// };
/// let fault = ElectricCurrent::from_text("1 kA")?;
/// let far = discrimination(&band("80 A", "blade-e")?, &band("10 A", "blade-c")?, fault).expect("both are known");
/// assert!(far.ratio.value > 1.0);
/// let near = discrimination(&band("20 A", "blade-e")?, &band("15 A", "blade-c")?, fault).expect("both are known");
/// assert!(near.ratio.value < 1.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn discrimination(before: &Band, behind: &Band, highest: ElectricCurrent) -> Option<Least> {
    if !before.knows_fastest() {
        return None;
    }
    let mut turns: Vec<ElectricCurrent> = before.turns().chain(before.fast_turns()).chain(behind.turns()).collect();
    turns.sort_by(|one, other| one.get::<ampere>().total_cmp(&other.get::<ampere>()));
    let from = behind.conventional_current()?;
    least(turns.into_iter(), [from, highest], |current| behind.slowest(current), |current| before.fastest(current))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::protection::{Family, Fuse, families};
    use proptest::prelude::*;
    use uom::si::time::second;

    fn amperes(value: f64) -> ElectricCurrent {
        ElectricCurrent::new::<ampere>(value)
    }

    /// Where the ratio is the same over a stretch, its least current is told, whichever end was looked at first.
    #[test]
    fn the_least_current_of_the_least_ratio_is_told() {
        let time = |seconds: f64| Some(Time::new::<second>(seconds));
        let taken = |current: ElectricCurrent| time(1000.0 / current.value.powi(2));
        let twice = |current: ElectricCurrent| time(2000.0 / current.value.powi(2));
        let range = [amperes(100.0), amperes(1000.0)];
        let turns = || [200.0, 500.0].map(amperes).into_iter();
        let found = least(turns(), range, taken, twice).unwrap();
        assert!(found.current == amperes(100.0) && (found.ratio.value - 2.0).abs() < 1e-9, "{found:?}");
        // Ten times as long below 300 A.
        let longer =
            |current: ElectricCurrent| twice(current).map(|time| if current.value < 300.0 { time * 5.0 } else { time });
        let found = least(std::iter::empty(), range, taken, longer).unwrap();
        assert!((300.0..320.0).contains(&found.current.value) && (found.ratio.value - 2.0).abs() < 1e-9, "{found:?}");
    }

    fn known() -> Vec<Fuse> {
        families()
            .flat_map(|family| family.ratings().map(move |rating| Fuse { family, rating }))
            .filter(|fuse| Band::of(fuse).is_some())
            .collect()
    }

    #[test]
    fn a_conductor_that_bears_everything_has_no_ratio() {
        let band = Band::of(&Family::named("blade-c").unwrap().fuse(amperes(10.0)).unwrap()).unwrap();
        assert_eq!(least_ratio(&band, amperes(500.0), |_| None), None);
        assert_eq!(least_ratio(&band, amperes(5.0), |_| Some(Time::new::<second>(1.0))), None);
        assert_eq!(least_ratio(&band, amperes(f64::NAN), |_| Some(Time::new::<second>(1.0))), None);
    }

    proptest! {
        /// The same verdict as 2 000 samples wherever the least ratio is not within 5 % of 1; a law like that of a wire.
        #[test]
        fn agrees_with_many_samples(pick in 0_usize..10_000, carries in 0.5_f64..3.0, constant in 1.0_f64..3000.0) {
            let all = known();
            let fuse = all[pick % all.len()];
            let band = Band::of(&fuse).unwrap();
            let steady = fuse.rating.value * carries;
            let bears = |current: ElectricCurrent| {
                let share = (current.value / steady).powi(2);
                (share > 1.0).then(|| Time::new::<second>(constant * (share / (share - 1.0)).ln()))
            };
            let (from, to) = (band.conventional_current().unwrap().value, fuse.rating.value * 100.0);
            let mut brute = f64::INFINITY;
            for sample in 0..=2000 {
                let current = amperes(from * (to / from).powf(f64::from(sample) / 2000.0));
                if let Some((takes, bears)) = band.slowest(current).zip(bears(current)) {
                    brute = brute.min((bears / takes).value);
                }
            }
            let found = least_ratio(&band, amperes(to), bears).map_or(f64::INFINITY, |least| least.ratio.value);
            if (brute - 1.0).abs() > 0.05 {
                prop_assert_eq!(found < 1.0, brute < 1.0, "{} {}", found, brute);
            }
        }

        /// What opens first against the next, and that against the third, opens first against the third.
        #[test]
        fn discrimination_is_transitive(picks in prop::array::uniform3(0_usize..10_000), fault in 100.0_f64..5000.0) {
            let all = known();
            let [a, b, c] = picks.map(|pick| Band::of(&all[pick % all.len()]).unwrap());
            let holds = |before: &Band, behind: &Band| discrimination(before, behind, amperes(fault)).is_some_and(|one| one.ratio.value >= 1.0);
            // The chain is asked over the currents of the last.
            let common = b.conventional_current() <= c.conventional_current() || !b.knows_fastest();
            if holds(&a, &b) && holds(&b, &c) && common {
                prop_assert!(holds(&a, &c));
            }
        }

        /// A slower link never protects better.
        #[test]
        fn slower_never_protects_better(pick in 0_usize..10_000, slower in 1.0_f64..5.0, constant in 1.0_f64..3000.0) {
            let all = known();
            let fuse = all[pick % all.len()];
            let band = Band::of(&fuse).unwrap();
            let gates: Vec<crate::protection::Gate> = band
                .turns()
                .map(|current| crate::protection::Gate { current, fastest: None, slowest: band.slowest(current).map(|time| time * slower) })
                .collect();
            let slow = Band::through(&gates).unwrap().taking(fuse.family.least_time().map(|least| least * slower));
            let bears = |current: ElectricCurrent| Some(Time::new::<second>(constant * fuse.rating.value.powi(2) / current.value.powi(2)));
            let to = fuse.rating * 100.0;
            let [one, other] = [&band, &slow].map(|band| least_ratio(band, to, bears).unwrap().ratio.value);
            prop_assert!(other <= one * (1.0 + 1e-9));
        }
    }
}
