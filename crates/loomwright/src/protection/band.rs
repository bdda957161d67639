//! Operating time of a fuse-link against current: a band between the fastest and the slowest link of its kind.
//!
//! Standards and data sheets give gates: at a multiple of the rating no sooner than one time, no later than another.
//! Between gates both edges are straight on double logarithmic paper. Beyond the last gate I²t stays: nothing melts a
//! link with less, and at the slow edge the heat that is no longer lost only makes it faster. Below its first gate the
//! slow edge has no end: the link may never open there. A breaker does not melt: its contacts take their time at any
//! current, and what passes then grows with the current.

use super::{Fuse, ProtectionError};
use crate::data::tables::fuse_gates;
use crate::data::{Confidence, Source};
use crate::quantity::{ElectricCurrent, JouleIntegral, Ratio, Time};
use crate::straight::{around, between};
use uom::si::electric_current::ampere;
use uom::si::ratio::ratio;
use uom::si::time::second;

/// At a current, no link opens sooner than `fastest`, and every link has opened by `slowest`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gate {
    /// The current.
    pub current: ElectricCurrent,
    /// The earliest opening, where one is stated.
    pub fastest: Option<Time>,
    /// The latest opening, where one is stated.
    pub slowest: Option<Time>,
}

/// Shortest slowest time of a last gate, in s, from which on constant I²t is how links behave and not just a bound.
const ADIABATIC_S: f64 = 1.0;
/// Seconds of let-through below which a published melting I²t is the better fast edge.
const LEAST: f64 = 1e-6;

/// One edge: ln of current and time, current ascending, time falling.
#[derive(Clone, Debug, Default)]
struct Edge(Vec<(f64, f64)>);

impl Edge {
    /// ln of the time at ln of a current; `None` below the first gate, or without any.
    fn at(&self, x: f64) -> Option<f64> {
        let first = self.0.first()?;
        if x.is_nan() || x < first.0 - 1e-12 {
            return None;
        }
        Some(match around(&self.0, x) {
            (Some(one), Some(other)) => between(one, other, x),
            (Some(end), None) => end.1 - 2.0 * (x - end.0),
            (None, _) => first.1,
        })
    }

    /// ln of the current at which the edge comes down to ln of a time; `None` without gates. Above the first gate's
    /// time it is the first gate's current.
    fn down_to(&self, y: f64) -> Option<f64> {
        let after = self.0.partition_point(|(_, time)| *time > y);
        let last = after.checked_sub(1).and_then(|before| self.0.get(before));
        Some(match (last, self.0.get(after)) {
            (Some(one), Some(other)) => between((one.1, one.0), (other.1, other.0), y),
            (Some(end), None) => end.0 + 0.5 * (end.1 - y),
            (None, Some(first)) => first.0,
            (None, None) => return None,
        })
    }

    fn shift(&mut self, factor: f64) {
        self.0.iter_mut().for_each(|(x, _)| *x += factor.ln());
    }
}

/// A fuse-link's band.
///
/// ```
/// use loomwright::protection::{Band, Family};
/// use loomwright::quantity::{ElectricCurrent, FromText};
/// let fuse = Family::named("blade-e")?.fuse(ElectricCurrent::from_text("60 A")?)?;
/// let band = Band::of(&fuse).expect("its times are at hand");
/// // 200 % of its rating: 2 to 50 s (maker's data sheet); at 110 % it may never open.
/// let twice = ElectricCurrent::from_text("120 A")?;
/// assert!((band.slowest(twice).expect("it opens").value - 50.0).abs() < 1e-9);
/// assert!((band.fastest(twice).expect("it opens").value - 2.0).abs() < 1e-9);
/// assert!(band.slowest(ElectricCurrent::from_text("66 A")?).is_none());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Band {
    fast: Edge,
    slow: Edge,
    /// ln of the time that is still taken at any current: nothing for what melts.
    least: f64,
    sources: Vec<&'static Source>,
}

impl Band {
    /// The band of a fuse by the gates of its family; `None` where none are at hand for its rating.
    pub fn of(fuse: &Fuse) -> Option<Self> {
        let rating = fuse.rating.get::<ampere>();
        let covers = |row: &&fuse_gates::FuseGates| {
            row.family == fuse.family.name() && row.from_a <= rating + 1e-9 && rating <= row.to_a + 1e-9
        };
        let (mut gates, mut sources) = (Vec::new(), Vec::new());
        for row in fuse_gates::ROWS.iter().filter(covers) {
            let Some(amperes) = row.at_a.or(row.multiple_ratio.map(|multiple| multiple * rating)) else { continue };
            gates.push(Gate {
                current: ElectricCurrent::new::<ampere>(amperes),
                fastest: row.fastest_s.map(Time::new::<second>),
                slowest: row.slowest_s.map(Time::new::<second>),
            });
            if !sources.contains(&row.source) {
                sources.push(row.source);
            }
        }
        let band = Self::through(&gates).ok()?;
        Some(Self { sources, ..band.taking(fuse.family.least_time()) })
    }

    /// A band through gates of one's own, such as those of a maker's data sheet.
    ///
    /// # Errors
    /// [`ProtectionError::Gates`] when there is none, one is no positive finite number, or times do not fall as currents
    /// rise; [`ProtectionError::Crossing`] when the fast edge crosses the slow one.
    pub fn through(gates: &[Gate]) -> Result<Self, ProtectionError> {
        let wrong = |gate: &Gate, why: &'static str| ProtectionError::Gates { at_a: gate.current.get::<ampere>(), why };
        let mut sorted = gates.to_vec();
        sorted.sort_by(|one, other| one.current.value.total_cmp(&other.current.value));
        let (mut fast, mut slow) = (Edge::default(), Edge::default());
        for gate in &sorted {
            let positive = |value: f64| value > 0.0 && value.is_finite();
            let times = [gate.fastest, gate.slowest].into_iter().flatten();
            if !positive(gate.current.value) || !times.into_iter().all(|time| positive(time.value)) {
                return Err(wrong(gate, "currents and times are above zero and finite"));
            }
            for (edge, time) in [(&mut fast, gate.fastest), (&mut slow, gate.slowest)] {
                let Some(time) = time else { continue };
                let point = (gate.current.value.ln(), time.value.ln());
                if edge.0.last().is_some_and(|last| point.0 <= last.0 + 1e-12 || point.1 >= last.1) {
                    return Err(wrong(gate, "at a higher current a link opens sooner"));
                }
                edge.0.push(point);
            }
        }
        let Some(last) = sorted.last() else { return Err(ProtectionError::Gates { at_a: 0.0, why: "there is none" }) };
        // Straight edges cross at or between gates, or beyond the last where the shorter edge goes on.
        let far = last.current.value.ln() + 1.0;
        let xs = fast.0.iter().chain(&slow.0).map(|(x, _)| *x).chain([far]);
        for x in xs {
            if let Some((early, late)) = fast.at(x).zip(slow.at(x))
                && early > late + 1e-9
            {
                return Err(ProtectionError::Crossing { at_a: x.exp() });
            }
        }
        Ok(Self { fast, slow, least: f64::NEG_INFINITY, sources: Vec::new() })
    }

    /// The band of what still takes a time at any current: a breaker's, or no more than the end of its own slow edge.
    ///
    /// ```
    /// use loomwright::protection::{Band, Fuse};
    /// use loomwright::quantity::{ElectricCurrent, FromText, Time};
    /// let band = Band::of(&"60 A blade-e".parse::<Fuse>()?).ok_or("no times")?;
    /// let least = Time::from_text("20 ms")?;
    /// assert!(band.taking(Some(least)).slowest(ElectricCurrent::from_text("20 kA")?) >= Some(least));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn taking(self, least: Option<Time>) -> Self {
        let end = self.slow.0.last().map_or(f64::INFINITY, |(_, ln)| *ln);
        let least = least.map_or(f64::NEG_INFINITY, |least| least.value.ln().min(end));
        Self { least, ..self }
    }

    /// The band of several links that feed one conductor together, over the current in it; `None` where one of them has no
    /// slow edge.
    ///
    /// However they share it, one of them carries at least its share by rating, opens by its slowest, and leaves more to
    /// the others: with all at that share, one after the other, the time is a bound. Nothing is known of the fast edge.
    ///
    /// ```
    /// use loomwright::protection::{Band, Fuse};
    /// use loomwright::quantity::{ElectricCurrent, FromText};
    /// let band = Band::of(&"60 A blade-e".parse::<Fuse>()?).ok_or("no times")?;
    /// let rating = ElectricCurrent::from_text("60 A")?;
    /// let both = Band::together(&[(band.clone(), rating), (band.clone(), rating)]).ok_or("no slow edge")?;
    /// let current = ElectricCurrent::from_text("240 A")?;
    /// assert!(both.slowest(current) >= band.slowest(current / 2.0)); // each takes its half, and one may open after the other
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn together(links: &[(Self, ElectricCurrent)]) -> Option<Self> {
        let sum = links.iter().fold(ElectricCurrent::default(), |sum, (_, rating)| sum + *rating);
        let shares: Vec<(f64, &Self)> =
            links.iter().map(|(band, rating)| ((*rating / sum).get::<ratio>().ln(), band)).collect();
        let each = links.iter().fold(0.0, |count, _| count + 1.0_f64).ln();
        let mut turns: Vec<f64> =
            shares.iter().flat_map(|(share, band)| band.slow.0.iter().map(move |(x, _)| x - share)).collect();
        turns.sort_by(f64::total_cmp);
        turns.dedup_by(|one, other| (*one - *other).abs() < 1e-9);
        let mut slow = Edge::default();
        for x in turns {
            let times = shares.iter().map(|(share, band)| band.slow.at(x + share));
            // Below the first gate of any it may never be over.
            let latest = times.reduce(|most, time| most.zip(time).map(|(most, time)| most.max(time))).flatten();
            slow.0.extend(latest.map(|latest| (x, latest + each)));
        }
        let mut sources: Vec<&'static Source> =
            links.iter().flat_map(|(band, _)| band.sources.iter().copied()).collect();
        sources.dedup();
        let least = links.iter().map(|(band, _)| band.least + each).fold(f64::NEG_INFINITY, f64::max);
        // Where one has no slow edge, there is none of all.
        (!slow.0.is_empty()).then_some(Self { fast: Edge::default(), slow, least, sources })
    }

    /// The band in air that leaves the link this share of its rating: what is hot opens sooner. What is cold is not
    /// credited with more speed, nor with more strength.
    ///
    /// ```
    /// use loomwright::protection::{Band, Fuse};
    /// use loomwright::quantity::{ElectricCurrent, FromText, Ratio};
    /// let band = Band::of(&"60 A blade-e".parse::<Fuse>()?).ok_or("no times")?;
    /// let (hot, current) = (band.rerated(Ratio::from(0.8)), ElectricCurrent::from_text("120 A")?);
    /// assert!(hot.fastest(current) < band.fastest(current));
    /// assert_eq!(hot.slowest(current), band.slowest(current)); // what is hot is not credited with more speed
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rerated(&self, share: Ratio) -> Self {
        let share = share.get::<ratio>();
        let mut band = self.clone();
        band.fast.shift(share.min(1.0));
        band.slow.shift(share.max(1.0));
        band
    }

    /// The earliest opening at a current; `None` where no link opens, or the fast edge is not at hand.
    pub fn fastest(&self, current: ElectricCurrent) -> Option<Time> {
        self.fast.at(current.value.ln()).map(|ln| Time::new::<second>(ln.exp()))
    }

    /// The latest opening at a current; `None` where a link may never open.
    pub fn slowest(&self, current: ElectricCurrent) -> Option<Time> {
        self.slow.at(current.value.ln()).map(|ln| Time::new::<second>(ln.max(self.least).exp()))
    }

    /// The least current at which every link has opened by a time; `None` where none is so fast.
    ///
    /// ```
    /// use loomwright::{protection::{Band, Fuse}, quantity::{FromText, Time}};
    /// let band = Band::of(&"60 A blade-e".parse::<Fuse>()?).ok_or("no times")?;
    /// let within = band.opens_within(Time::from_text("50 s")?).ok_or("it opens")?;
    /// assert!((within.value - 120.0).abs() < 1e-6); // 50 s at 200 % by its maker's sheet
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn opens_within(&self, time: Time) -> Option<ElectricCurrent> {
        let ln = time.value.max(LEAST).ln();
        if ln < self.least - 1e-9 {
            return None;
        }
        self.slow.down_to(ln).map(|x| ElectricCurrent::new::<ampere>(x.exp()))
    }

    /// The largest current that every link carries for a time.
    ///
    /// ```
    /// use loomwright::protection::{Band, Fuse};
    /// use loomwright::quantity::{ElectricCurrent, FromText, Time};
    /// let band = Band::of(&"60 A blade-e".parse::<Fuse>()?).ok_or("no times")?;
    /// let held = band.holds_for(Time::from_text("2 s")?).ok_or("it holds")?;
    /// assert!((held.value - 120.0).abs() < 1e-6); // 2 s at 200 % by its maker's sheet
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn holds_for(&self, time: Time) -> Option<ElectricCurrent> {
        let ln = time.value.max(LEAST).ln();
        self.fast.down_to(ln).map(|x| ElectricCurrent::new::<ampere>(x.exp()))
    }

    /// The current from which on every link opens: below it one may carry on for good.
    pub fn conventional_current(&self) -> Option<ElectricCurrent> {
        self.slow.0.first().map(|(x, _)| ElectricCurrent::new::<ampere>(x.exp()))
    }

    /// I²t that every link bears in the adiabatic range: that of the last gate of its fast edge. `None` without one
    /// so short.
    pub fn melting(&self) -> Option<JouleIntegral> {
        let (x, ln) = self.fast.0.last().filter(|(_, ln)| ln.exp() <= ADIABATIC_S)?;
        let current = ElectricCurrent::new::<ampere>(x.exp());
        Some(current * current * Time::new::<second>(ln.exp()))
    }

    /// I²t by which the slowest link has opened at a current.
    ///
    /// ```
    /// use loomwright::protection::{Band, Fuse};
    /// use loomwright::quantity::{ElectricCurrent, FromText};
    /// let band = Band::of(&"60 A blade-e".parse::<Fuse>()?).ok_or("no times")?;
    /// let passes = band.let_through(ElectricCurrent::from_text("120 A")?).ok_or("it opens")?;
    /// assert!((passes.value / (120.0 * 120.0 * 50.0) - 1.0).abs() < 1e-9); // 50 s at 200 %
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn let_through(&self, current: ElectricCurrent) -> Option<JouleIntegral> {
        Some(current * current * self.slowest(current)?)
    }

    /// The gates of the slow edge, and where it ends in the time that is taken at any current: currents at which it turns,
    /// ascending.
    pub fn turns(&self) -> impl Iterator<Item = ElectricCurrent> {
        let end = self.slow.0.last().filter(|_| self.least.is_finite());
        let end = end.map(|(x, ln)| x + 0.5 * (ln - self.least));
        let last = end.filter(|end| self.slow.0.last().is_some_and(|(x, _)| end > x));
        self.slow.0.iter().map(|(x, _)| *x).chain(last).map(|x| ElectricCurrent::new::<ampere>(x.exp()))
    }

    /// The gates of the fast edge.
    pub fn fast_turns(&self) -> impl Iterator<Item = ElectricCurrent> {
        self.fast.0.iter().map(|(x, _)| ElectricCurrent::new::<ampere>(x.exp()))
    }

    /// The current up to which gates are stated; beyond, the slow edge is a bound only unless its last gate is in the
    /// adiabatic range. `None` when it is: then it holds at any current.
    pub fn known_up_to(&self) -> Option<ElectricCurrent> {
        let (x, ln) = self.slow.0.last()?;
        (ln.exp() > ADIABATIC_S + 1e-9).then(|| ElectricCurrent::new::<ampere>(x.exp()))
    }

    /// Whether the fast edge is at hand.
    pub fn knows_fastest(&self) -> bool {
        !self.fast.0.is_empty()
    }

    /// Where its gates come from; empty for gates of one's own.
    pub fn sources(&self) -> &[&'static Source] {
        &self.sources
    }

    /// Whether a gate rests on memory only.
    pub fn from_memory(&self) -> bool {
        self.sources.iter().any(|source| source.confidence == Confidence::Memory)
    }
}

#[cfg(test)]
mod tests;
