//! Efficiencies weighted over the range of output.

use super::error::{ConverterError, check};
use crate::data::Source;
use crate::data::tables::weighted_efficiency::{ROWS, WeightedEfficiency};
use crate::names::named;
use crate::quantity::Ratio;
use uom::si::ratio::{percent, ratio};

named! {
    /// What the efficiencies at parts of rated output count in one weighted efficiency.
    Weighting, "weighting", {
        /// California Energy Commission: made for sunny places, three quarters of output count most.
        Cec => "cec",
        /// European efficiency (EN 50530): half of output counts most.
        European => "european",
    }
}

impl Weighting {
    fn rows(self) -> impl Iterator<Item = &'static WeightedEfficiency> {
        ROWS.iter().filter(move |row| row.scheme == self.name())
    }

    /// The shares of rated output and what each counts; the weights sum to 1.
    ///
    /// ```
    /// use loomwright::converter::Weighting;
    /// let weights: Vec<(f64, f64)> = Weighting::Cec.weights().map(|(share, weight)| (share.value, weight.value)).collect();
    /// assert!((weights.iter().map(|(_, weight)| weight).sum::<f64>() - 1.0).abs() < 1e-9);
    /// assert!(weights.iter().any(|(share, weight)| (share - 0.75).abs() + (weight - 0.53).abs() < 1e-9)); // three quarters
    /// ```
    pub fn weights(self) -> impl Iterator<Item = (Ratio, Ratio)> {
        self.rows().map(|row| (Ratio::new::<ratio>(row.load_ratio), Ratio::new::<ratio>(row.weight_ratio)))
    }

    /// Where the weights stand.
    pub fn source(self) -> Option<&'static Source> {
        self.rows().next().map(|row| row.source)
    }

    /// The weighted efficiency of any curve of efficiency against share of rated output.
    ///
    /// The European standard also weighs how well a solar input is tracked and takes the mean over voltages; this is
    /// the conversion alone, at one voltage.
    ///
    /// # Errors
    /// Whatever the curve refuses; [`ConverterError::OutOfRange`] when it gives an efficiency outside 0 % to 100 %.
    ///
    /// ```
    /// use loomwright::converter::{Losses, Weighting};
    /// use loomwright::quantity::{FromText, Power, Ratio};
    /// let rated = Power::from_text("2 kW")?;
    /// let losses = Losses::typical(Ratio::from_text("90 %")?, rated, None)?;
    /// let european = Weighting::European.efficiency(|share| Ok(losses.efficiency(share * rated)))?;
    /// assert!(european.value > 0.89 && european.value < 0.90);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn efficiency(
        self,
        mut curve: impl FnMut(Ratio) -> Result<Ratio, ConverterError>,
    ) -> Result<Ratio, ConverterError> {
        let mut sum = Ratio::new::<ratio>(0.0);
        for (share, weight) in self.weights() {
            let efficiency = curve(share)?;
            let holds = (0.0..=1.0).contains(&efficiency.value);
            check("an efficiency", efficiency.get::<percent>(), "%", "0 % to 100 %", holds)?;
            sum += weight * efficiency;
        }
        Ok(sum)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn weights_sum_to_one_and_name_their_source() {
        for weighting in Weighting::ALL {
            let sum: f64 = weighting.weights().map(|(_, weight)| weight.value).sum();
            assert!((sum - 1.0).abs() < 1e-12, "{weighting}: {sum}");
            assert_eq!(weighting.weights().count(), 6);
            assert!(weighting.source().is_some());
        }
    }

    #[test]
    fn a_curve_that_is_none_is_refused() {
        for bad in [f64::NAN, 1.1, -0.1, f64::INFINITY] {
            assert!(Weighting::Cec.efficiency(|_| Ok(Ratio::new::<ratio>(bad))).is_err());
        }
        let passed_on = Weighting::European.efficiency(|_| Err(ConverterError::EmptyTable));
        assert_eq!(passed_on, Err(ConverterError::EmptyTable));
    }

    proptest! {
        #[test]
        fn a_weighted_efficiency_lies_between_the_least_and_the_most(values in prop::array::uniform6(0.0_f64..1.0)) {
            for weighting in Weighting::ALL {
                let mut next = values.into_iter();
                let found = weighting.efficiency(|_| Ok(Ratio::new::<ratio>(next.next().unwrap()))).unwrap().value;
                let least = values.into_iter().fold(1.0, f64::min);
                let most = values.into_iter().fold(0.0, f64::max);
                prop_assert!(found >= least - 1e-12 && found <= most + 1e-12);
            }
        }
    }
}
