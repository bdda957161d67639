//! How long each current may flow before the insulation is hurt.

use super::transient::Transient;
use super::withstand::own_time;
use super::{HeatError, HeatPath, Lay};
use crate::conductor::Conductor;
use crate::data::tables::constants;
use crate::quantity::{ElectricCurrent, TemperatureInterval, ThermodynamicTemperature, Time, celsius, in_celsius};
use crate::straight::{around, between};
use uom::si::electric_current::ampere;
use uom::si::temperature_interval::kelvin;
use uom::si::time::{hour, second};

/// What a conductor may reach, for how long (PRACTICE: insulation class + 25 K up to 240 h, + 50 K up to 6 h,
/// the short-time temperature up to 5 s).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverloadLimits {
    /// For good: the lower of insulation class and terminals.
    pub continuous: ThermodynamicTemperature,
    /// Up to 240 hours.
    pub days: ThermodynamicTemperature,
    /// Up to 6 hours.
    pub hours: ThermodynamicTemperature,
    /// Up to 5 seconds.
    pub moments: ThermodynamicTemperature,
}

impl OverloadLimits {
    /// The limits of an insulation class; `continuous` is the class or what the terminals permit, if lower.
    ///
    /// The short-time temperature is 160 °C for classes up to 105 °C, which may be PVC, and 250 °C above, and
    /// never below the limit for hours. Nothing passes 250 °C.
    ///
    /// ```
    /// use loomwright::{heat::OverloadLimits, quantity::{celsius, in_celsius}};
    /// let limits = OverloadLimits::of(celsius(90.0), celsius(75.0)); // terminals of 75 °C
    /// let degrees = [limits.continuous, limits.days, limits.hours, limits.moments].map(|limit| in_celsius(limit).round());
    /// assert_eq!(degrees, [75.0, 115.0, 140.0, 160.0]); // the class + 25 K, + 50 K
    /// ```
    pub fn of(insulation: ThermodynamicTemperature, continuous: ThermodynamicTemperature) -> Self {
        let ceiling = celsius(constants::SHORT_TIME_XL_C);
        let lower = |one: ThermodynamicTemperature, other| if one < other { one } else { other };
        let above = |rise: f64| lower(insulation + TemperatureInterval::new::<kelvin>(rise), ceiling);
        let pvc = in_celsius(insulation) <= 105.0 + 1e-6;
        let moments = if pvc { celsius(constants::SHORT_TIME_PVC_C) } else { ceiling };
        Self {
            continuous: lower(continuous, insulation),
            days: lower(above(constants::OVERLOAD_LONG_K), moments),
            hours: lower(above(constants::OVERLOAD_SHORT_K), moments),
            moments,
        }
    }

    fn kelvins(&self) -> [f64; 4] {
        [self.continuous, self.days, self.hours, self.moments].map(|limit| limit.value)
    }

    /// What may be reached at the end of an overload of so long.
    ///
    /// ```
    /// use loomwright::{heat::OverloadLimits, quantity::{FromText, Time, celsius, in_celsius}};
    /// let limits = OverloadLimits::of(celsius(90.0), celsius(90.0));
    /// assert_eq!(in_celsius(limits.at(Time::from_text("1 s")?)).round(), 160.0);
    /// assert_eq!(in_celsius(limits.at(Time::from_text("1 h")?)).round(), 140.0); // the class + 50 K up to 6 h
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn at(&self, duration: Time) -> ThermodynamicTemperature {
        if duration.get::<second>() <= constants::SHORT_TIME_S {
            self.moments
        } else if duration.get::<hour>() <= constants::OVERLOAD_SHORT_H {
            self.hours
        } else if duration.get::<hour>() <= constants::OVERLOAD_LONG_H {
            self.days
        } else {
            self.continuous
        }
    }
}

/// Points of a curve, from 1.0 to 30 times the ampacity, evenly spaced by ratio.
const POINTS: u32 = 40;
const SPAN: f64 = 30.0;
/// What the logarithm of the time constant is taken to be less where no point stands below.
const NEXT_TO_THE_LIMIT: f64 = 0.06;
/// What the simple heating law counts for in the floor.
const STRAIGHT: f64 = 0.85;
/// Below a second the adiabatic time decides.
const ADIABATIC_BELOW: f64 = 1.0;

/// One limit's time against current, as the time constant that the simple heating law would need:
/// t = τ · ln((I² − I_start²)/(I² − I_limit²)). It hardly changes with current, all the way from the limit's
/// own current, where t has no end, to the adiabatic range, where it is constant.
#[derive(Clone, Debug)]
struct Limit {
    /// The steady current of the limit and that of the starting temperature, squared.
    steady: f64,
    start: f64,
    /// ln I and ln τ, ascending in I.
    constants: Vec<(f64, f64)>,
    /// I²t without lost heat.
    adiabatic: f64,
    /// Whether the start is at or above the limit already.
    passed: bool,
}

impl Limit {
    fn law(&self, square: f64) -> f64 {
        ((square - self.start) / (square - self.steady)).ln()
    }

    /// Seconds, without end at or below the limit's own current.
    fn time(&self, current: f64) -> f64 {
        let square = current * current;
        if self.passed {
            // What is too hot at the start stays so unless the current lets it cool.
            return if square > self.steady { 0.0 } else { f64::INFINITY };
        }
        if square <= self.steady {
            return f64::INFINITY;
        }
        let adiabatic = self.adiabatic / square;
        if adiabatic < ADIABATIC_BELOW {
            return adiabatic;
        }
        let x = current.ln();
        let constant = match around(&self.constants, x) {
            (Some(below), Some(above)) => between(below, above, x),
            // Next to the limit's own current the time constant may fall again, by a few hundredths: below the first point
            // it counts for less. Above the last the adiabatic law holds.
            (None, Some(end)) => end.1 - NEXT_TO_THE_LIMIT,
            (Some(end), None) => end.1,
            (None, None) => return adiabatic,
        };
        // Never earlier than with no heat lost.
        (constant.exp() * self.law(square)).max(adiabatic)
    }
}

/// When each of the four limits is reached at a current; `None` for never.
#[derive(Clone, Copy, Debug)]
pub struct Reached {
    /// The continuous limit.
    pub continuous: Option<Time>,
    /// The limit for days.
    pub days: Option<Time>,
    /// The limit for hours.
    pub hours: Option<Time>,
    /// The limit for moments.
    pub moments: Option<Time>,
}

/// The damage curve of one conductor in its installation: how long each current may flow, from its ampacity
/// to the adiabatic range, starting from one steady temperature.
///
/// Made once for each (conductor, lay, ambient, start, limits) and shared.
#[derive(Clone, Debug)]
pub struct DamageCurve {
    limits: OverloadLimits,
    ampacity: ElectricCurrent,
    of: [Limit; 4],
}

impl DamageCurve {
    /// Follows the conductor through 40 currents from 1.0 to 30 times its ampacity.
    ///
    /// # Errors
    /// As [`Transient::new`] and [`Transient::time_to`]; [`HeatError::LimitBelowAmbient`] when the continuous
    /// limit is not above ambient.
    pub fn new(
        conductor: &Conductor,
        lay: &Lay,
        ambient: ThermodynamicTemperature,
        start: ThermodynamicTemperature,
        limits: OverloadLimits,
    ) -> Result<Self, HeatError> {
        let transient = Transient::new(conductor, lay, ambient)?;
        let ampacity = transient.path().ampacity(limits.continuous)?;
        let kelvins = limits.kelvins();
        let square_at = |temperature: ThermodynamicTemperature| {
            if temperature <= ambient {
                return 0.0;
            }
            transient.path().ampacity(temperature).map_or(0.0, |current| current.value * current.value)
        };
        let begun = square_at(start);
        let one = ElectricCurrent::new::<ampere>(1.0);
        let mut of = [limits.continuous, limits.days, limits.hours, limits.moments].map(|limit| Limit {
            steady: square_at(limit),
            start: begun,
            constants: Vec::new(),
            adiabatic: own_time(conductor, start, limit, one),
            passed: start >= limit,
        });
        let first = transient.start(start)?;
        let least = ampacity.value.max(1e-3);
        for point in 0..POINTS {
            let current = least * SPAN.powf(f64::from(point) / f64::from(POINTS - 1));
            let square = current * current;
            // Only what this current can reach, and no farther than the shells are asked for.
            let wanted = |limit: &Limit| {
                !limit.passed && square > 1.001 * limit.steady && limit.adiabatic >= ADIABATIC_BELOW * square * 0.5
            };
            let asked = of.iter().filter(|limit| wanted(limit)).count();
            if asked == 0 {
                continue;
            }
            // The limits ascend, and so those that are asked for stand together: what lies below them is
            // passed or can be told without lost heat, what lies above is out of reach.
            let skipped = of.iter().take_while(|limit| !wanted(limit)).count();
            let mut sought = kelvins;
            for end in sought.iter_mut().skip(skipped + asked) {
                *end = f64::INFINITY;
            }
            let mut state = first;
            let times = transient.times(current, sought, &mut state);
            for (limit, time) in of.iter_mut().zip(times) {
                let law = limit.law(square);
                if wanted(limit) && time.is_finite() && time > 0.0 && law > 0.0 {
                    limit.constants.push((current.ln(), (time / law).ln()));
                }
            }
        }
        Ok(Self { limits, ampacity, of })
    }

    /// The limits it holds to.
    pub fn limits(&self) -> OverloadLimits {
        self.limits
    }

    /// What the conductor carries for good.
    pub fn ampacity(&self) -> ElectricCurrent {
        self.ampacity
    }

    /// When each limit is reached at a current.
    ///
    /// # Errors
    /// [`HeatError::Current`] for a negative or non-finite current.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{DamageCurve, Installation, Lay, OverloadLimits};
    /// use loomwright::quantity::{CrossSection, FromText, celsius};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let (lay, limits) = (Lay::alone(Installation::FreeAir), OverloadLimits::of(celsius(90.0), celsius(90.0)));
    /// let curve = DamageCurve::new(&cable, &lay, celsius(40.0), celsius(60.0), limits)?;
    /// let reached = curve.reached(3.0 * curve.ampacity())?;
    /// assert!(reached.continuous.is_some() && reached.continuous < reached.hours && reached.hours < reached.moments);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn reached(&self, current: ElectricCurrent) -> Result<Reached, HeatError> {
        let current_a = accepted(current)?;
        let [continuous, days, hours, moments] = self.of.each_ref().map(|limit| {
            let seconds = limit.time(current_a);
            seconds.is_finite().then(|| Time::new::<second>(seconds))
        });
        Ok(Reached { continuous, days, hours, moments })
    }

    /// How long a current may flow: the first moment at which the conductor is hotter than an overload of
    /// that duration may make it; `None` for good.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{DamageCurve, Installation, Lay, OverloadLimits};
    /// use loomwright::quantity::{CrossSection, FromText, celsius};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let (lay, limits) = (Lay::alone(Installation::FreeAir), OverloadLimits::of(celsius(90.0), celsius(90.0)));
    /// let curve = DamageCurve::new(&cable, &lay, celsius(40.0), celsius(60.0), limits)?;
    /// assert!(curve.time(0.99 * curve.ampacity())?.is_none()); // for good
    /// assert!(curve.time(4.0 * curve.ampacity())? < curve.time(2.0 * curve.ampacity())?);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`HeatError::Current`] for a negative or non-finite current.
    pub fn time(&self, current: ElectricCurrent) -> Result<Option<Time>, HeatError> {
        let current_a = accepted(current)?;
        let [continuous, days, hours, moments] = &self.of;
        Ok(first_passed([moments, hours, days, continuous], |limit| limit.time(current_a)))
    }
}

/// A current in A, if it is one.
fn accepted(current: ElectricCurrent) -> Result<f64, HeatError> {
    let current_a = current.get::<ampere>();
    if current_a.is_finite() && current_a >= 0.0 { Ok(current_a) } else { Err(HeatError::Current { current_a }) }
}

/// The first moment at which a conductor that reaches its four limits (moments, hours, days, continuous) after so many
/// seconds is hotter than an overload of that duration may make it; `None` for never. Most are not asked for.
fn first_passed<T>(limits: [T; 4], reached: impl Fn(T) -> f64) -> Option<Time> {
    let until = [
        constants::SHORT_TIME_S,
        constants::OVERLOAD_SHORT_H * 3600.0,
        constants::OVERLOAD_LONG_H * 3600.0,
        f64::INFINITY,
    ];
    let mut since = 0.0_f64;
    for (end, limit) in until.into_iter().zip(limits) {
        // Hotter than this stretch allows before it ends: at once if so already when it begins.
        let passed = reached(limit).max(since);
        if passed < end {
            return Some(Time::new::<second>(passed));
        }
        since = end;
    }
    None
}

/// What a conductor bears at the least: as if it were a single body without its insulation's heat, which only slows it
/// down, by the simple heating law; never earlier than without any heat lost, and never for a current that a limit's own
/// steady state carries. Below [`DamageCurve`], cheap, and enough where a fuse is clearly faster.
///
/// ```
/// use loomwright::conductor::{Kind, Material, find};
/// use loomwright::heat::{DamageCurve, DamageFloor, Installation, Lay, OverloadLimits};
/// use loomwright::quantity::{CrossSection, ElectricCurrent, FromText, celsius};
/// let conductor = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
/// let (lay, air, limits) = (Lay::alone(Installation::FreeAir), celsius(40.0), OverloadLimits::of(celsius(90.0), celsius(90.0)));
/// let floor = DamageFloor::new(&conductor, &lay, air, celsius(60.0), limits)?;
/// let curve = DamageCurve::new(&conductor, &lay, air, celsius(60.0), limits)?;
/// let current = ElectricCurrent::from_text("300 A")?;
/// assert!(floor.time(current)? <= curve.time(current)?);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct DamageFloor {
    /// Of each limit: the square of its steady current, and I²t up to it without lost heat; A², A²s.
    of: [(f64, f64); 4],
    /// The square of the steady current of the start.
    start: f64,
}

impl DamageFloor {
    /// From a steady temperature `start`.
    ///
    /// # Errors
    /// As [`DamageCurve::new`].
    pub fn new(
        conductor: &Conductor,
        lay: &Lay,
        ambient: ThermodynamicTemperature,
        start: ThermodynamicTemperature,
        limits: OverloadLimits,
    ) -> Result<Self, HeatError> {
        let path = HeatPath::new(conductor, lay, ambient)?;
        let one = ElectricCurrent::new::<ampere>(1.0);
        let square = |limit: ThermodynamicTemperature| {
            let steady = if limit > ambient { path.ampacity(limit).map_or(0.0, |current| current.value) } else { 0.0 };
            steady * steady
        };
        let of = [limits.continuous, limits.days, limits.hours, limits.moments]
            .map(|limit| (square(limit), if limit > start { own_time(conductor, start, limit, one) } else { 0.0 }));
        Ok(Self { of, start: square(start) })
    }

    /// How long a current may flow at the least; `None` for good.
    ///
    /// # Errors
    /// [`HeatError::Current`] for a negative or non-finite current.
    pub fn time(&self, current: ElectricCurrent) -> Result<Option<Time>, HeatError> {
        let current_a = accepted(current)?;
        let square = current_a * current_a;
        let reached = |(steady, joule): (f64, f64)| {
            if square <= steady {
                return f64::INFINITY;
            }
            let adiabatic = joule / square;
            // Shedding and resistance bend the law by a few hundredths: it counts for less.
            let law = ((square - self.start) / (square - steady)).ln() * joule / (steady - self.start) * STRAIGHT;
            if steady > self.start && law > adiabatic { law } else { adiabatic }
        };
        let [continuous, days, hours, moments] = self.of;
        Ok(first_passed([moments, hours, days, continuous], reached))
    }
}

#[cfg(test)]
mod tests;
