//! Losses of converters: what a converter takes at its input for what it gives.
//!
//! `P_loss = p₀ + k₁·P + k₂·P²` with P the output power (Schmidt and Sauer 1996, citation from memory): p₀ is
//! what it takes for itself, k₁ the voltage drops of its semiconductors, k₂ its resistances. [`Losses::fit`] takes
//! any number of efficiency points, [`Losses::through`] exactly three, [`Losses::typical`] one.

use super::error::{self, ConverterError, check};
use crate::data::tables::constants;
use crate::quantity::{Power, Ratio};
use thiserror::Error;
use uom::si::power::watt;
use uom::si::ratio::{percent, ratio};
use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{N1, N2, P3, Z0};

/// Per power, 1/W: the unit of the quadratic coefficient.
pub type PerPower = Quantity<ISQ<N2, N1, P3, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

/// The losses of a converter.
///
/// ```
/// use loomwright::converter::Losses;
/// use loomwright::quantity::{FromText, Power, Ratio};
/// let losses = Losses::typical(Ratio::from_text("90 %")?, Power::from_text("1 kW")?, None)?;
/// assert!((losses.input(Power::from_text("1 kW")?).value - 1111.1).abs() < 0.1);
/// assert!(losses.own().value > 15.0); // what it takes with nothing on its output
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
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

/// Why three efficiency points describe no converter.
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
    ///
    /// ```
    /// use loomwright::{converter::Losses, quantity::{FromText, Power, Ratio}};
    /// let losses = Losses::flat(Ratio::from_text("90 %")?, Power::from_text("5 W")?);
    /// assert!((losses.input(Power::from_text("90 W")?).value - 105.0).abs() < 1e-9); // 90 W/0.9 + 5 W
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn flat(efficiency: Ratio, no_load: Power) -> Self {
        Self { own: no_load.value, linear: 1.0 / efficiency.value - 1.0, quadratic: 0.0, no_load: 0.0 }
    }

    /// From one efficiency at rated output, 30 % to below 100 %, with the usual shape of the loss.
    ///
    /// Of the loss at rated output 17 % is its own, 19 % goes with the output and 64 % with its square: medians of
    /// five measured units (source `converter-loss-library`). A stated `no_load` power takes the place of the first
    /// part, and the other two share the rest. The shape is best near half of the output, where the loss per output is
    /// a seventh less than at rated output: a quoted *peak* efficiency read as one at rated output tells that much
    /// too little loss there.
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] for values outside their range, [`ConverterError::NoLoad`] when it would lose
    /// no more at rated output than at rest.
    pub fn typical(efficiency: Ratio, rated: Power, no_load: Option<Power>) -> Result<Self, ConverterError> {
        let holds = (0.3..1.0).contains(&efficiency.value);
        check("an efficiency", efficiency.get::<percent>(), "%", "30 % or more and below 100 %", holds)?;
        error::rated(rated)?;
        let rated = rated.value;
        let loss = rated * (1.0 / efficiency.value - 1.0);
        let own = match no_load {
            None => constants::OWN_LOSS_SHARE * loss,
            Some(stated) => {
                check("a no-load power", stated.value, "W", "above 0 W", stated.value > 0.0)?;
                if stated.value >= loss {
                    return Err(ConverterError::NoLoad { given_w: stated.value, loss_w: loss });
                }
                stated.value
            }
        };
        let linear = (loss - own) * constants::LINEAR_LOSS_SHARE / (1.0 - constants::OWN_LOSS_SHARE);
        let quadratic = loss - own - linear;
        Ok(Self { own, linear: linear / rated, quadratic: quadratic / rated / rated, no_load: 0.0 })
    }

    /// Through three points of output, as a share of `rated`, and efficiency; never less than `no_load`.
    ///
    /// ```
    /// use loomwright::{converter::Losses, quantity::{FromText, Power, Ratio}};
    /// let point = |share: f64| (Ratio::from(share), Ratio::from(share / (share + 0.1))); // loses 10 W of 100 W at every output
    /// let losses = Losses::through([0.25, 0.5, 1.0].map(point), Power::from_text("100 W")?, Power::from_text("0 W")?)?;
    /// assert!((losses.own().value - 10.0).abs() < 1e-9 && losses.linear().value.abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
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
        Ok(Self::of_shares([own, linear, second], rated.value, no_load.value))
    }

    /// From coefficients per rated output, W of rated output and W of no load.
    pub(super) fn of_shares([own, linear, quadratic]: [f64; 3], rated: f64, no_load: f64) -> Self {
        Self { own: own * rated, linear, quadratic: quadratic / rated, no_load }
    }

    /// The losses of a converter that loses so many times as much at every output.
    ///
    /// ```
    /// use loomwright::{converter::Losses, quantity::{FromText, Power, Ratio}};
    /// let losses = Losses::flat(Ratio::from_text("80 %")?, Power::from_text("10 W")?);
    /// let output = Power::from_text("40 W")?; // loses 10 W + 10 W
    /// assert!((losses.scaled(Ratio::from(2.0)).loss(output).value - 40.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn scaled(&self, factor: Ratio) -> Self {
        let of = |value: f64| value * factor.value.max(0.0);
        Self { own: of(self.own), linear: of(self.linear), quadratic: of(self.quadratic), no_load: of(self.no_load) }
    }

    /// p₀: what it takes for itself. A stated no-load power above it counts in [`Losses::loss`], not here.
    pub fn own(&self) -> Power {
        Power::new::<watt>(self.own)
    }

    /// k₁: loss per output; negative for some converters.
    pub fn linear(&self) -> Ratio {
        Ratio::new::<ratio>(self.linear)
    }

    /// The losses of a converter of the same kind and so many times the rating.
    ///
    /// ```
    /// use loomwright::{converter::Losses, quantity::{FromText, Power, Ratio}};
    /// let small = Losses::typical(Ratio::from_text("90 %")?, Power::from_text("500 W")?, None)?;
    /// let large = small.stretched(Ratio::from(2.0));
    /// let [half, full] = [small.loss(Power::from_text("500 W")?), large.loss(Power::from_text("1 kW")?)];
    /// assert!((full.value - 2.0 * half.value).abs() < 1e-9); // as efficient, at twice the output
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn stretched(&self, factor: Ratio) -> Self {
        let Self { own, linear, quadratic, no_load } = *self;
        let factor = factor.value;
        Self { own: own * factor, linear, quadratic: quadratic / factor, no_load: no_load * factor }
    }

    /// k₂: loss per square of output; negative for some converters.
    pub fn quadratic(&self) -> PerPower {
        Ratio::new::<ratio>(self.quadratic) / Power::new::<watt>(1.0)
    }

    /// The loss at an output power of 0 W or more: never below the stated no-load power.
    ///
    /// ```
    /// use loomwright::{converter::Losses, quantity::{FromText, Power, Ratio}};
    /// let losses = Losses::flat(Ratio::from_text("80 %")?, Power::from_text("10 W")?);
    /// assert!((losses.loss(Power::from_text("40 W")?).value - 20.0).abs() < 1e-9); // 40 W · (1/0.8 − 1) + 10 W
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn loss(&self, output: Power) -> Power {
        let p = output.value;
        let loss = self.own + self.linear * p + self.quadratic * p * p;
        Power::new::<watt>(loss.max(self.no_load).max(0.0))
    }

    /// Input power at an output power, both above or at zero.
    pub fn input(&self, output: Power) -> Power {
        output + self.loss(output)
    }

    /// The largest output power for an input power, both above or at zero: the inverse of [`Losses::input`]. Nothing
    /// where the input does not even cover what it takes for itself.
    ///
    /// ```
    /// use loomwright::{converter::Losses, quantity::{FromText, Power, Ratio}};
    /// let losses = Losses::flat(Ratio::from_text("80 %")?, Power::from_text("10 W")?);
    /// assert!((losses.output(Power::from_text("60 W")?).value - 40.0).abs() < 1e-9); // (60 W − 10 W) · 0.8
    /// assert!(losses.output(Power::from_text("8 W")?).value == 0.0); // it takes 10 W for itself
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn output(&self, input: Power) -> Power {
        // k₂·P² + (1 + k₁)·P = what is left, by the root that keeps its digits when k₂ is near 0.
        let (left, slope) = (input.value - self.own, 1.0 + self.linear);
        let square = (slope * slope + 4.0 * self.quadratic * left).max(0.0);
        let of_curve = 2.0 * left / (slope + square.sqrt());
        // The loss is the largest of three, so the output is the least of three.
        let output = of_curve.min(input.value - self.no_load).min(input.value);
        Power::new::<watt>(output.max(0.0))
    }

    /// Output over input; zero at no output.
    ///
    /// ```
    /// use loomwright::{converter::Losses, quantity::{FromText, Power, Ratio}};
    /// let losses = Losses::flat(Ratio::from_text("80 %")?, Power::from_text("10 W")?);
    /// assert!((losses.efficiency(Power::from_text("40 W")?).value - 40.0 / 60.0).abs() < 1e-9); // 50 W + 10 W
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn efficiency(&self, output: Power) -> Ratio {
        let taken = self.input(output).value;
        Ratio::new::<ratio>(if taken > 0.0 { output.value / taken } else { 0.0 })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn watts(value: f64) -> Power {
        Power::new::<watt>(value)
    }

    fn share(value: f64) -> Ratio {
        Ratio::new::<ratio>(value)
    }

    #[test]
    fn typical_shape_has_the_efficiency_asked_for_and_is_best_near_the_middle() {
        let losses = Losses::typical(share(0.9), watts(500.0), None).unwrap();
        assert!((losses.efficiency(watts(500.0)).value - 0.9).abs() < 1e-12);
        let best = losses.efficiency(watts(255.0)).value;
        assert!(best > 0.912 && best < 0.914, "{best}");
        assert!(losses.efficiency(watts(25.0)).value < 0.75);
    }

    #[test]
    fn a_stated_no_load_power_takes_the_place_of_the_own_part() {
        let losses = Losses::typical(share(0.9), watts(500.0), Some(watts(3.0))).unwrap();
        assert!((losses.input(watts(0.0)).value - 3.0).abs() < 1e-12);
        assert!((losses.efficiency(watts(500.0)).value - 0.9).abs() < 1e-12);
        let refused = Losses::typical(share(0.9), watts(500.0), Some(watts(60.0))).unwrap_err();
        assert_eq!(
            refused.to_string(),
            "a no-load power of 60 W is not below the loss at rated output, which is 55.5555556 W at that efficiency"
        );
    }

    #[test]
    fn what_is_no_number_or_out_of_range_is_refused() {
        for efficiency in [0.29, 1.0, 1.2, f64::NAN, f64::INFINITY, -0.5] {
            assert!(Losses::typical(share(efficiency), watts(500.0), None).is_err(), "{efficiency}");
        }
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(Losses::typical(share(0.9), watts(bad), None).is_err(), "rated {bad}");
            assert!(Losses::typical(share(0.9), watts(500.0), Some(watts(bad))).is_err(), "no load {bad}");
        }
    }

    #[test]
    fn two_points_at_one_output_fix_no_curve() {
        let through = |outputs: [f64; 3]| {
            Losses::through(outputs.map(|output| (share(output), share(0.9 + 0.01 * output))), watts(500.0), watts(0.0))
        };
        assert!(through([0.1, 0.5, 1.0]).is_ok());
        for twice in [[0.5, 0.5, 1.0], [0.5, 1.0, 1.0], [1.0, 0.5, 1.0]] {
            assert_eq!(through(twice), Err(LossError::Same), "{twice:?}");
        }
    }

    #[test]
    fn three_times_the_converter_loses_three_times_as_much() {
        let one = Losses::typical(share(0.9), watts(500.0), Some(watts(3.0))).unwrap();
        let three = one.stretched(share(3.0));
        for output in [0.0, 50.0, 250.0, 500.0] {
            let (of_one, of_three) = (one.input(watts(output)).value, three.input(watts(3.0 * output)).value);
            assert!((of_three - 3.0 * of_one).abs() < 1e-9, "{of_three} W against {of_one} W");
        }
    }

    proptest! {
        #[test]
        fn typical_losses_are_positive_and_the_input_rises(
            efficiency in 0.3_f64..0.999, rated in 1.0_f64..1e5, at in 0.0_f64..1.0, more in 1e-6_f64..0.5,
        ) {
            let losses = Losses::typical(share(efficiency), watts(rated), None).unwrap();
            let (low, high) = (watts(at * rated), watts((at + more) * rated));
            prop_assert!(losses.loss(low).value > 0.0);
            prop_assert!(losses.efficiency(low).value < 1.0);
            prop_assert!(losses.input(high) > losses.input(low));
        }

        #[test]
        fn output_is_the_inverse_of_input(
            e1 in 0.7_f64..0.95, e2 in 0.8_f64..0.97, e3 in 0.8_f64..0.95, no_load in 0.0_f64..30.0, at in 0.0_f64..1.0,
        ) {
            let points = [(share(0.1), share(e1)), (share(0.5), share(e2)), (share(1.0), share(e3))];
            if let Ok(losses) = Losses::through(points, watts(800.0), watts(no_load)) {
                let output = watts(800.0 * at);
                prop_assert!((losses.output(losses.input(output)) - output).value.abs() < 1e-6);
                prop_assert_eq!(losses.output(watts(0.0)).value, 0.0);
            }
        }
    }
}
