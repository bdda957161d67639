//! Temperature against time, for any course of current: when a limit is reached, what a duty cycle settles
//! to, what may flow for how long.

use super::radial::{Radial, Sample, State};
use super::withstand::own_time;
use super::{Duty, HeatError, HeatPath, Lay};
use crate::conductor::Conductor;
use crate::quantity::{ElectricCurrent, ThermodynamicTemperature, Time, in_celsius};
use uom::si::electric_current::ampere;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;

/// A constant current for a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulse {
    /// How long it flows.
    pub duration: Time,
    /// The current; 0 for a pause.
    pub current: ElectricCurrent,
}

/// A moment of a course of temperature.
#[derive(Clone, Copy, Debug)]
pub struct Moment {
    /// Time from the start.
    pub time: Time,
    /// Temperature of the metal.
    pub conductor: ThermodynamicTemperature,
    /// Temperature of the insulation's surface.
    pub surface: ThermodynamicTemperature,
}

/// One conductor in its installation, followed through time.
///
/// ```
/// use loomwright::conductor::{Kind, Material, find};
/// use loomwright::heat::{Installation, Lay, Transient};
/// use loomwright::quantity::{CrossSection, ElectricCurrent, FromText, celsius};
/// let conductor = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
/// let transient = Transient::new(&conductor, &Lay::alone(Installation::FreeAir), celsius(40.0))?;
/// let current = ElectricCurrent::from_text("300 A")?;
/// let reached = transient.time_to(celsius(90.0), current, celsius(40.0))?.ok_or("never")?;
/// assert!(reached.value > 10.0 && reached.value < 60.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Transient {
    radial: Radial,
    path: HeatPath,
    conductor: Conductor,
}

/// The longest time that is followed, s: a hundred days.
const LONGEST: f64 = 100.0 * 86_400.0;
/// Below a second the adiabatic time decides.
const ADIABATIC_BELOW: f64 = 1.0;
/// The highest temperature that is followed, K: insulation is long gone.
const HIGHEST: f64 = 273.15 + 350.0;
/// How close a duty cycle's temperature comes to the one it settles to, K.
const SETTLED: f64 = 0.01;
/// The most cycles that are followed until a duty cycle settles.
const MOST_CYCLES: u32 = 400;

impl Transient {
    /// Makes a conductor that lies so ready.
    ///
    /// # Errors
    /// As [`HeatPath::new`].
    pub fn new(conductor: &Conductor, lay: &Lay, ambient: ThermodynamicTemperature) -> Result<Self, HeatError> {
        let path = HeatPath::new(conductor, lay, ambient)?;
        Ok(Self { radial: Radial::of(conductor, &path), path, conductor: *conductor })
    }

    /// The same with every step so many times as accurate: for tests of convergence.
    #[doc(hidden)]
    pub fn refined(mut self, times: f64) -> Self {
        self.radial.accuracy /= times;
        self
    }

    /// The steady path.
    pub fn path(&self) -> &HeatPath {
        &self.path
    }

    fn valid(current: ElectricCurrent) -> Result<f64, HeatError> {
        let current_a = current.get::<ampere>();
        if current_a.is_finite() && current_a >= 0.0 { Ok(current_a) } else { Err(HeatError::Current { current_a }) }
    }

    /// The state that a steady current has left when the conductor has this temperature.
    pub(super) fn start(&self, conductor: ThermodynamicTemperature) -> Result<State, HeatError> {
        let degrees = in_celsius(conductor);
        if (-60.0..=350.0).contains(&degrees) {
            Ok(self.radial.steady(conductor.value))
        } else {
            Err(HeatError::Ambient { ambient_c: degrees })
        }
    }

    /// Seconds until the metal reaches each of `limits` (ascending) at a constant current, by the shells alone;
    /// infinite where it never does.
    pub(super) fn times<const N: usize>(&self, current: f64, limits: [f64; N], state: &mut State) -> [f64; N] {
        let mut times = [f64::INFINITY; N];
        let mut pending = limits.iter().zip(&mut times).peekable();
        let metal = state.first().copied().unwrap_or_default();
        while let Some((_, time)) = pending.next_if(|(limit, _)| metal >= **limit) {
            *time = 0.0;
        }
        if pending.peek().is_some_and(|(limit, _)| limit.is_finite()) {
            self.radial.follow(current, LONGEST, state, |before, after| {
                while let Some((limit, time)) = pending.next_if(|(limit, _)| after.metal >= **limit) {
                    *time = before.crossing(after, *limit);
                }
                // Nothing more happens once all that can be reached is, or the metal rises by less than a kelvin
                // a month.
                pending.peek().is_none_or(|(limit, _)| limit.is_infinite()) || after.rate < 4e-7
            });
        }
        times
    }

    /// When the conductor reaches `limit` at a constant current, from the steady temperature `start`; `None`
    /// when it never does. Below one second the adiabatic time with the conductor's own resistance decides,
    /// which is never later.
    ///
    /// # Errors
    /// [`HeatError::Current`] for a negative or non-finite current, [`HeatError::Ambient`] for a start outside
    /// −60 to 350 °C, [`HeatError::TooHot`] for a limit above 350 °C.
    pub fn time_to(
        &self,
        limit: ThermodynamicTemperature,
        current: ElectricCurrent,
        start: ThermodynamicTemperature,
    ) -> Result<Option<Time>, HeatError> {
        let current_a = Self::valid(current)?;
        if limit.value.is_nan() || limit.value > HIGHEST {
            return Err(HeatError::TooHot { current_a, ceiling_c: HIGHEST - 273.15 });
        }
        let mut state = self.start(start)?;
        if start >= limit {
            return Ok(Some(Time::default()));
        }
        let adiabatic = own_time(&self.conductor, start, limit, current);
        if adiabatic < ADIABATIC_BELOW {
            return Ok(Some(Time::new::<second>(adiabatic)));
        }
        let [time] = self.times(current_a, [limit.value], &mut state);
        Ok(time.is_finite().then(|| Time::new::<second>(time)))
    }

    /// The temperature through a course of pulses, from the steady temperature `start`: the start, then the
    /// end of every step. It ends early where the metal passes 350 °C.
    ///
    /// # Errors
    /// As [`time_to`](Self::time_to), and [`HeatError::Duration`] for a pulse of no, negative or endless time.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{Installation, Lay, Pulse, Transient};
    /// use loomwright::quantity::{CrossSection, ElectricCurrent, FromText, Time, celsius};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let transient = Transient::new(&cable, &Lay::alone(Installation::FreeAir), celsius(40.0))?;
    /// let pulse = |amperes| Some(Pulse { duration: Time::from_text("30 s").ok()?, current: ElectricCurrent::from_text(amperes).ok()? });
    /// let course = transient.course(&[pulse("150 A"), pulse("0 A")].map(|one| one.expect("read")), celsius(40.0))?;
    /// let last = course.last().expect("it starts").conductor;
    /// assert!(last > celsius(40.0) && course.iter().any(|moment| moment.conductor > last)); // it cools in the pause
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn course(&self, pulses: &[Pulse], start: ThermodynamicTemperature) -> Result<Vec<Moment>, HeatError> {
        let mut state = self.start(start)?;
        let moment = |time: f64, metal: f64, surface: f64| Moment {
            time: Time::new::<second>(time),
            conductor: ThermodynamicTemperature::new::<kelvin>(metal),
            surface: ThermodynamicTemperature::new::<kelvin>(surface),
        };
        let mut moments = vec![moment(0.0, start.value, self.radial.surface_of(&state))];
        let mut passed = 0.0;
        for pulse in pulses {
            let duration = pulse.duration.get::<second>();
            if !(0.0..=LONGEST).contains(&duration) || duration == 0.0 {
                let accepted = "above 0 s, at most 100 d".to_owned();
                return Err(HeatError::Duration { what: "a pulse", given_s: duration, accepted });
            }
            let current = Self::valid(pulse.current)?;
            let mut hot = false;
            self.radial.follow(current, duration, &mut state, |_, after: Sample| {
                moments.push(moment(passed + after.time, after.metal, after.surface));
                hot = after.metal > HIGHEST;
                hot
            });
            if hot {
                break;
            }
            passed += duration;
        }
        Ok(moments)
    }

    /// Follows one cycle; the highest metal temperature in it, `None` when it passes 350 °C.
    fn cycle(&self, pulses: &[Pulse], state: &mut State) -> Option<f64> {
        let mut highest = state.first().copied().unwrap_or_default();
        for pulse in pulses.iter().filter(|pulse| pulse.duration.value > 0.0) {
            self.radial.follow(pulse.current.value, pulse.duration.value, state, |_, after| {
                highest = highest.max(after.metal);
                highest > HIGHEST
            });
        }
        (highest <= HIGHEST).then_some(highest)
    }

    /// The highest conductor temperature of a duty cycle that has gone on until it repeats itself.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{Installation, Lay, Transient};
    /// use loomwright::quantity::{CrossSection, ElectricCurrent, FromText, celsius};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("6 mm2")?)?;
    /// let transient = Transient::new(&cable, &Lay::alone(Installation::FreeAir), celsius(40.0))?;
    /// let current = ElectricCurrent::from_text("60 A")?;
    /// let peak = transient.settled_peak(&"10 s in 100 s".parse()?, current)?;
    /// assert!(peak > celsius(40.0) && peak < transient.path().temperature(current)?); // it cools between
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`HeatError::Current`]; [`HeatError::TooHot`] when it passes 350 °C or its mean has no steady
    /// temperature.
    pub fn settled_peak(&self, duty: &Duty, current: ElectricCurrent) -> Result<ThermodynamicTemperature, HeatError> {
        let current_a = Self::valid(current)?;
        let too_hot = HeatError::TooHot { current_a, ceiling_c: HIGHEST - 273.15 };
        let pulses = duty.pulses(current);
        // The mean of the squares heats as the cycle does in the long run, but for resistance that rises with
        // temperature: a first guess.
        let mean = current * duty.factor().get::<ratio>().sqrt();
        let mut state = self.radial.steady(self.path.temperature(mean)?.value);
        let mut last: Option<State> = None;
        let mut peak = None;
        for number in 0..MOST_CYCLES {
            let before = state;
            peak = Some(self.cycle(&pulses, &mut state).ok_or_else(|| too_hot.clone())?);
            let moved = distance(&state, &before);
            let Some(previous) = last.replace(before) else { continue };
            // Each cycle is closer by the same share: what remains is the tail of a geometric row.
            let share = (moved / distance(&before, &previous)).min(0.999_9);
            let remaining = if share.is_finite() { share / (1.0 - share) } else { 0.0 };
            if moved * remaining <= SETTLED {
                break;
            }
            if number % 3 == 2 {
                for (now, before) in state.iter_mut().zip(&before) {
                    *now += (*now - before) * remaining;
                }
                last = None;
            }
        }
        let peak = peak.ok_or(too_hot)?;
        Ok(ThermodynamicTemperature::new::<kelvin>(peak))
    }

    /// The largest current of a duty cycle that never takes the conductor above `limit`.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{Installation, Lay, Transient};
    /// use loomwright::quantity::{CrossSection, FromText, Time, celsius};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("6 mm2")?)?;
    /// let transient = Transient::new(&cable, &Lay::alone(Installation::FreeAir), celsius(40.0))?;
    /// let short = transient.permitted_current(&"10 s in 40 s".parse()?, celsius(90.0))?;
    /// let more = short / transient.path().ampacity(celsius(90.0))?;
    /// assert!(more.value > 1.0 && more.value <= 2.0); // a quarter of the time: the root of 4 at the most
    /// let on = transient.permitted_on_time(short, Time::from_text("40 s")?, celsius(90.0))?;
    /// assert!((on.value / 10.0 - 1.0).abs() < 0.01); // and back
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`HeatError::LimitBelowAmbient`] when the limit is not above ambient.
    pub fn permitted_current(
        &self,
        duty: &Duty,
        limit: ThermodynamicTemperature,
    ) -> Result<ElectricCurrent, HeatError> {
        let continuous = self.path.ampacity(limit)?;
        if continuous.value <= 0.0 {
            return Ok(continuous);
        }
        let fits = |current: f64| {
            let peak = self.settled_peak(duty, ElectricCurrent::new::<ampere>(current));
            peak.map_or(f64::INFINITY, |peak| peak.value - limit.value)
        };
        let (low, high) = (continuous.value, continuous.value / duty.factor().get::<ratio>().sqrt());
        Ok(ElectricCurrent::new::<ampere>(largest(low, high, fits)))
    }

    /// The longest on-time of a current in every `period` that never takes the conductor above `limit`; the
    /// whole period when the current may flow for good.
    ///
    /// # Errors
    /// [`HeatError::Current`], [`HeatError::Duration`] for a period that [`Duty`] does not accept, and
    /// [`HeatError::LimitBelowAmbient`].
    pub fn permitted_on_time(
        &self,
        current: ElectricCurrent,
        period: Time,
        limit: ThermodynamicTemperature,
    ) -> Result<Time, HeatError> {
        let current_a = Self::valid(current)?;
        let whole = Duty::new(period, period)?;
        let continuous = self.path.ampacity(limit)?;
        if current <= continuous {
            return Ok(whole.period());
        }
        let share = continuous.value / current_a;
        let fits = |on: f64| {
            let duty = Duty::new(Time::new::<second>(on), period);
            let peak = duty.and_then(|duty| self.settled_peak(&duty, current));
            peak.map_or(f64::INFINITY, |peak| peak.value - limit.value)
        };
        // A longer time than the squares of the currents allow heats beyond the limit on the mean alone.
        let high = (share * share * 1.2).min(1.0) * period.value;
        Ok(Time::new::<second>(largest(0.0, high, fits)))
    }

    /// The largest current that may flow once for `duration` from the steady temperature `start` without
    /// taking the conductor above `limit`.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{Installation, Lay, Transient};
    /// use loomwright::quantity::{CrossSection, FromText, Time, celsius};
    /// let cable = find(Kind::Iec2, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let transient = Transient::new(&cable, &Lay::alone(Installation::FreeAir), celsius(30.0))?;
    /// let rating = transient.short_time_rating(Time::from_text("1 s")?, celsius(160.0), celsius(70.0))?;
    /// assert!((rating.value / (115.0 * 14.99) - 1.0).abs() < 0.03); // k = 115 of IEC 60364; 1.15 Ω/km is 14.99 mm²
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`HeatError::Duration`], [`HeatError::Ambient`], and [`HeatError::LimitBelowAmbient`] when the limit is
    /// not above the start and the air.
    pub fn short_time_rating(
        &self,
        duration: Time,
        limit: ThermodynamicTemperature,
        start: ThermodynamicTemperature,
    ) -> Result<ElectricCurrent, HeatError> {
        let seconds = duration.get::<second>();
        if !(1e-3..=LONGEST).contains(&seconds) {
            let accepted = "1 ms to 100 d".to_owned();
            return Err(HeatError::Duration { what: "a duration", given_s: seconds, accepted });
        }
        let continuous = self.path.ampacity(limit)?;
        if start >= limit {
            return Err(HeatError::LimitBelowAmbient { limit_c: in_celsius(limit), ambient_c: in_celsius(start) });
        }
        self.start(start)?;
        // No heat lost and the least metal: what bears more is above the answer. What flows for good is below.
        let adiabatic = (own_time(&self.conductor, start, limit, ElectricCurrent::new::<ampere>(1.0)) / seconds).sqrt();
        let late = |current: f64| match self.time_to(limit, ElectricCurrent::new::<ampere>(current), start) {
            // The logarithm of times is nearly straight.
            Ok(Some(time)) => (seconds / time.value.max(1e-9)).ln(),
            _ => -1.0,
        };
        let mut high = continuous.value.max(adiabatic);
        while late(high) < 0.0 && high < 1e9 {
            high *= 2.0;
        }
        let low = if seconds < ADIABATIC_BELOW { 0.0 } else { continuous.value.min(high) };
        Ok(ElectricCurrent::new::<ampere>(largest(low, high, late)))
    }
}

fn distance(one: &State, other: &State) -> f64 {
    one.iter().zip(other).map(|(one, other)| (one - other).abs()).fold(0.0, f64::max)
}

/// The largest value between `low`, which fits, and `high` for which `over` is not above zero, from below.
fn largest(mut low: f64, mut high: f64, over: impl Fn(f64) -> f64) -> f64 {
    if over(high) <= 0.0 {
        return high;
    }
    let (mut at_low, mut at_high) = (None, None);
    for round in 0..60 {
        if high - low <= 1e-4 * high {
            break;
        }
        // The straight line between both ends, kept off them; every third time the middle.
        let middle = match (at_low, at_high) {
            (Some(below), Some(above)) if round % 3 != 2 => {
                let share: f64 = below / (below - above);
                low + (high - low) * share.clamp(0.02, 0.98)
            }
            _ => 0.5 * (low + high),
        };
        let found = over(middle);
        if found <= 0.0 {
            (low, at_low) = (middle, Some(found));
        } else {
            (high, at_high) = (middle, found.is_finite().then_some(found));
        }
    }
    low
}

#[cfg(test)]
mod tests;
