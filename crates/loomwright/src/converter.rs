//! Losses of converters: what a converter takes at its input for what it gives.
//!
//! `P_loss = p₀ + k₁·P + k₂·P²` with P the output power (Schmidt and Sauer 1996, citation from memory): p₀ is
//! what it takes for itself, k₁ the voltage drops of its semiconductors, k₂ its resistances. Three efficiency
//! points of a data sheet fix the three; one efficiency fixes k₁ alone.

use crate::quantity::{Power, Ratio};
use thiserror::Error;
use uom::si::power::watt;
use uom::si::ratio::ratio;

/// The losses of a converter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Losses {
    /// W.
    own: f64,
    /// W per W.
    linear: f64,
    /// W per W².
    quadratic: f64,
    /// What the maker says that it takes with nothing on its output, in W: never less than that.
    no_load: f64,
}

/// Why efficiency points describe no converter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum LossError {
    /// An efficiency outside its range.
    #[error("an efficiency is 30 % to 100 %")]
    Efficiency,
    /// A share of rated output outside its range.
    #[error("a share of rated output is above 0 % and at most 100 %")]
    Share,
    /// Nothing to take shares of.
    #[error("rated output is above 0 W")]
    Rated,
    /// Two points at the same output.
    #[error("the three points are at three different outputs, at least 1 % of rated output apart")]
    Same,
    /// The input would fall while the output rises.
    #[error("between these points the input would fall while the output rises: no converter does that")]
    Falling,
}

impl Losses {
    /// From one efficiency, taken for every output, and the power that it takes for itself besides.
    pub fn flat(efficiency: Ratio, no_load: Power) -> Self {
        Self { own: no_load.value, linear: 1.0 / efficiency.value - 1.0, quadratic: 0.0, no_load: 0.0 }
    }

    /// Through three points of output, as a share of `rated`, and efficiency; never less than `no_load`.
    ///
    /// # Errors
    /// [`LossError`] when the points are out of range or describe no converter.
    pub fn through(points: [(Ratio, Ratio); 3], rated: Power, no_load: Power) -> Result<Self, LossError> {
        if !(rated.value > 0.0 && rated.value.is_finite()) {
            return Err(LossError::Rated);
        }
        let [(p1, e1), (p2, e2), (p3, e3)] = points.map(|(share, efficiency)| (share.value, efficiency.value));
        if ![e1, e2, e3].iter().all(|efficiency| (0.3..=1.0).contains(efficiency)) {
            return Err(LossError::Efficiency);
        }
        if ![p1, p2, p3].iter().all(|share| *share > 0.0 && *share <= 1.0 + 1e-9) {
            return Err(LossError::Share);
        }
        if [p1 - p2, p2 - p3, p3 - p1].iter().any(|apart| apart.abs() < 0.01) {
            return Err(LossError::Same);
        }
        // Newton's divided differences of the loss, per rated output.
        let [l1, l2, l3] = [(p1, e1), (p2, e2), (p3, e3)].map(|(share, efficiency)| share * (1.0 / efficiency - 1.0));
        let first = (l2 - l1) / (p2 - p1);
        let second = ((l3 - l2) / (p3 - p2) - first) / (p3 - p1);
        let (own, linear) = (l1 - first * p1 + second * p1 * p2, first - second * (p1 + p2));
        // The slope of the input is straight, so its ends decide.
        let slope = |share: f64| 1.0 + linear + 2.0 * second * share;
        if slope(0.0) <= 0.0 || slope(1.0) <= 0.0 {
            return Err(LossError::Falling);
        }
        let rated = rated.value;
        Ok(Self { own: own * rated, linear, quadratic: second / rated, no_load: no_load.value })
    }

    /// Input power at an output power, both above or at zero.
    pub fn input(&self, output: Power) -> Power {
        let p = output.value;
        let loss = self.own + self.linear * p + self.quadratic * p * p;
        Power::new::<watt>(p + loss.max(self.no_load).max(0.0))
    }

    /// Output power that an input power leaves; zero when it covers not even what the converter takes for itself.
    pub fn output(&self, input: Power) -> Power {
        // The input rises with the output, so halving finds it; it lies below the input.
        let (mut low, mut high) = (0.0, input.value.max(0.0));
        for _ in 0..100 {
            let middle = 0.5 * (low + high);
            if self.input(watts(middle)).value <= input.value { low = middle } else { high = middle }
        }
        watts(low)
    }

    /// Output over input; zero at no output.
    pub fn efficiency(&self, output: Power) -> Ratio {
        let taken = self.input(output).value;
        Ratio::new::<ratio>(if taken > 0.0 { output.value / taken } else { 0.0 })
    }
}

/// A power from watts.
pub(crate) fn watts(watts: f64) -> Power {
    Power::new::<watt>(watts)
}
