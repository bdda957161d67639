//! What a converter takes at its input for what it gives.

use crate::data::tables::constants;
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
    /// Too few points to fit three coefficients.
    #[error("{0} efficiency points are too few: three or more fix the losses")]
    TooFew(usize),
    /// No loss curve that a converter can have lies anywhere near the points.
    #[error("no converter has losses like these points: its loss is above zero and its input rises with its output")]
    NoFit,
    /// The input would fall while the output rises.
    #[error("between these points the input would fall while the output rises: no converter does that")]
    Falling,
}

impl Losses {
    /// From one efficiency, taken for every output, and the power that it takes for itself besides.
    pub fn flat(efficiency: Ratio, no_load: Power) -> Self {
        Self { own: no_load.value, linear: 1.0 / efficiency.value - 1.0, quadratic: 0.0, no_load: 0.0 }
    }

    /// From one efficiency at rated output, with the loss there split as is typical of published loss curves: 17 % of
    /// it for itself, 19 % in proportion to the output, 64 % to its square. A stated `no_load` is what it takes for
    /// itself, and the rest is split as those two are.
    pub fn typical(efficiency: Ratio, rated: Power, no_load: Option<Power>) -> Self {
        let loss = rated.value * (1.0 / efficiency.value - 1.0);
        let own = no_load.map_or(constants::TYPICAL_OWN * loss, |no_load| no_load.value);
        let (linear, quadratic) = (constants::TYPICAL_LINEAR, constants::TYPICAL_QUADRATIC);
        let rest = (loss - own).max(0.0) / (linear + quadratic);
        if rated.value <= 0.0 {
            return Self::flat(efficiency, no_load.unwrap_or_default());
        }
        let per_watt = 1.0 / rated.value;
        let (linear, quadratic) = (rest * linear * per_watt, rest * quadratic * per_watt * per_watt);
        Self { own, linear, quadratic, no_load: no_load.unwrap_or_default().value }
    }

    /// From coefficients per rated output, as a fit gives them.
    pub(super) fn per_rated([own, linear, quadratic]: [f64; 3], rated: Power, no_load: Power) -> Self {
        let rated = rated.value;
        Self { own: own * rated, linear, quadratic: quadratic / rated, no_load: no_load.value }
    }

    /// Through three points of output, as a share of `rated`, and efficiency; never less than `no_load`.
    ///
    /// # Errors
    /// [`LossError`] when the points are out of range or describe no converter.
    pub fn through(points: [(Ratio, Ratio); 3], rated: Power, no_load: Power) -> Result<Self, LossError> {
        if !(rated.value > 0.0 && rated.value.is_finite()) {
            return Err(LossError::Rated);
        }
        points.iter().try_for_each(|point| in_range(*point))?;
        let [(p1, e1), (p2, e2), (p3, e3)] = points.map(|(share, efficiency)| (share.value, efficiency.value));
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
        Ok(Self::per_rated([own, linear, second], rated, no_load))
    }

    /// What it takes for itself with nothing on its output.
    pub fn own(&self) -> Power {
        watts(self.own.max(self.no_load))
    }

    /// What is lost at an output power, above or at zero.
    pub fn lost(&self, output: Power) -> Power {
        self.input(output) - output
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

/// That a point is one of a converter.
pub(super) fn in_range((share, efficiency): (Ratio, Ratio)) -> Result<(), LossError> {
    if !(0.3..=1.0).contains(&efficiency.value) {
        return Err(LossError::Efficiency);
    }
    if share.value > 0.0 && share.value <= 1.0 + 1e-9 { Ok(()) } else { Err(LossError::Share) }
}

/// A power from watts.
pub(crate) fn watts(watts: f64) -> Power {
    Power::new::<watt>(watts)
}
