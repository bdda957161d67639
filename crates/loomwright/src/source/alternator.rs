//! Alternators: hot output against speed, and the voltage that their regulator holds.

use super::SourceError;
use crate::data::tables::constants;
use crate::quantity::{ElectricCurrent, ElectricPotential, Ratio, ThermodynamicTemperature, in_celsius};
use uom::si::electric_potential::volt;
use uom::si::f64::Frequency;
use uom::si::frequency::cycle_per_minute;

/// A rotational speed, of the alternator's own shaft.
pub type Speed = Frequency;

/// A speed from turns per minute.
///
/// ```
/// let speed = loomwright::source::per_minute(6000.0);
/// assert!((speed.value - 100.0).abs() < 1e-9); // turns per second
/// ```
pub fn per_minute(turns: f64) -> Speed {
    Speed::new::<cycle_per_minute>(turns)
}

/// Output against speed, `I(n) = I_end·(1 − e^(−(n − n₀)/τ))` above the cut-in speed n₀, through two points.
///
/// Against a published map (28 V, SAE paper 2000-01-1020) it holds within 2 % of rated output from idle to rated speed.
#[derive(Clone, Copy, Debug)]
pub struct AlternatorCurve {
    end: ElectricCurrent,
    /// 1/min.
    cut_in: f64,
    /// 1/min.
    constant: f64,
}

impl AlternatorCurve {
    /// From the output at idle and at rated speed, hot or cold as they are stated; it cuts in at 1300 1/min.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCurrent, FromText};
    /// use loomwright::source::{AlternatorCurve, per_minute};
    /// let amperes = |text: &str| ElectricCurrent::from_text(text);
    /// let curve = AlternatorCurve::through((per_minute(1800.0), amperes("50 A")?), (per_minute(6000.0), amperes("100 A")?))?;
    /// assert!((curve.output(per_minute(1800.0)).value - 50.0).abs() < 1e-6); // the points that it was made from
    /// assert!(curve.output(per_minute(1200.0)).value == 0.0); // below the cut-in speed
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`SourceError::OutputPoints`] when the points are no alternator's: an idle output below what a straight line from
    /// cut-in would give counts as one too.
    pub fn through(idle: (Speed, ElectricCurrent), rated: (Speed, ElectricCurrent)) -> Result<Self, SourceError> {
        let cut_in = constants::CUT_IN_PER_MIN;
        let [slow, fast] = [idle.0, rated.0].map(|speed| speed.get::<cycle_per_minute>() - cut_in);
        let share = (idle.1 / rated.1).value;
        let straight = slow / fast;
        if !(slow > 0.0 && fast > slow && fast.is_finite() && rated.1.value > 0.0 && share > straight && share < 1.0) {
            return Err(SourceError::OutputPoints { cut_in });
        }
        // The share at idle falls from 1 to that of the straight line as the constant grows.
        let at_idle = |constant: f64| (-slow / constant).exp_m1() / (-fast / constant).exp_m1();
        let (mut low, mut high) = (1e-3 * slow, 1e4 * fast);
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if at_idle(middle) > share { low = middle } else { high = middle }
        }
        let end = rated.1 / -(-fast / low).exp_m1();
        Ok(Self { end, cut_in, constant: low })
    }

    /// Output at a speed; nothing below cut-in.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCurrent, FromText};
    /// use loomwright::source::{AlternatorCurve, per_minute};
    /// let idle = (per_minute(1800.0), ElectricCurrent::from_text("50 A")?);
    /// let curve = AlternatorCurve::through(idle, (per_minute(6000.0), ElectricCurrent::from_text("100 A")?))?;
    /// let between = curve.output(per_minute(3900.0)); // half way in speed, more than half way in output
    /// assert!(between.value > 75.0 && between.value < 100.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn output(&self, speed: Speed) -> ElectricCurrent {
        let above = speed.get::<cycle_per_minute>() - self.cut_in;
        if above > 0.0 {
            self.end * Ratio::from(-(-above / self.constant).exp_m1())
        } else {
            ElectricCurrent::default()
        }
    }
}

/// The voltage that a regulator holds at a temperature of its own, from that at 25 °C: 10.5 mV per kelvin and 12 V less.
///
/// ```
/// use loomwright::quantity::{ElectricPotential, FromText, celsius};
/// let hot = loomwright::source::regulated(ElectricPotential::from_text("14.2 V")?, celsius(65.0));
/// assert!((hot.value - 13.78).abs() < 1e-9); // 14.2 V − 40 K · 10.5 mV/K
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn regulated(at_25: ElectricPotential, temperature: ThermodynamicTemperature) -> ElectricPotential {
    let blocks = (at_25.value / 14.0).round().max(1.0);
    at_25 + ElectricPotential::new::<volt>(blocks * constants::REGULATED_V_PER_K * (in_celsius(temperature) - 25.0))
}
