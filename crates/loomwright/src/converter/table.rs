//! A table of efficiencies, followed point by point.

use super::error::{self, ConverterError, check};
use crate::quantity::{Power, Ratio};
use crate::straight::{around, between};
use uom::si::power::watt;

/// Efficiencies by output, interpolated in loss: straight between points, never beyond the last.
///
/// Below the first point the loss of the first point is held. That is the cautious side wherever the loss rises with
/// the output, as it does from the smallest outputs on in all but a few converters, where it differs by a per cent.
///
/// ```
/// use loomwright::converter::EfficiencyTable;
/// use loomwright::quantity::{FromText, Power, Ratio};
/// let table = EfficiencyTable::new(&[
///     (Power::from_text("100 W")?, Ratio::from_text("80 %")?),  // loses 25 W
///     (Power::from_text("300 W")?, Ratio::from_text("75 %")?),  // loses 100 W
/// ])?;
/// assert!((table.loss(Power::from_text("200 W")?)?.value - 62.5).abs() < 1e-9);
/// assert!((table.loss(Power::from_text("10 W")?)?.value - 25.0).abs() < 1e-9);
/// assert!(table.loss(Power::from_text("301 W")?).is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct EfficiencyTable {
    /// Output and loss, W, by rising output.
    points: Vec<(f64, f64)>,
}

impl EfficiencyTable {
    /// From points of output power and efficiency, by rising output.
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] for an output of 0 W or less, an efficiency outside 1 % to below 100 %, or any
    /// that is no finite number; [`ConverterError::EmptyTable`]; [`ConverterError::Order`] for outputs that do not
    /// rise; [`ConverterError::Falling`] where the input would not rise with them.
    pub fn new(points: &[(Power, Ratio)]) -> Result<Self, ConverterError> {
        for (output, efficiency) in points {
            check("an output", output.value, "W", "above 0 W", output.value > 0.0)?;
            error::efficiency(*efficiency)?;
        }
        let points: Vec<(f64, f64)> = points
            .iter()
            .map(|(output, efficiency)| (output.value, output.value * (1.0 / efficiency.value - 1.0)))
            .collect();
        for ((before_w, less), (after_w, more)) in points.iter().copied().zip(points.iter().copied().skip(1)) {
            if after_w <= before_w {
                return Err(ConverterError::Order { before_w, after_w });
            }
            if after_w + more <= before_w + less {
                return Err(ConverterError::Falling { before_w, after_w });
            }
        }
        if points.is_empty() { Err(ConverterError::EmptyTable) } else { Ok(Self { points }) }
    }

    /// The loss at an output.
    ///
    /// # Errors
    /// [`ConverterError::AboveTable`] above the last point, [`ConverterError::OutOfRange`] for an output that is
    /// negative or no finite number.
    pub fn loss(&self, output: Power) -> Result<Power, ConverterError> {
        error::power("an output", output)?;
        let given = output.value;
        let loss = match around(&self.points, given) {
            (Some(below), Some(above)) => between(below, above, given),
            (None, Some((_, first))) => first,
            (last, None) => {
                return Err(ConverterError::AboveTable {
                    given_w: given,
                    last_w: last.map_or(0.0, |(known, _)| known),
                });
            }
        };
        Ok(Power::new::<watt>(loss))
    }

    /// Input power at an output.
    ///
    /// ```
    /// use loomwright::{converter::EfficiencyTable, quantity::{FromText, Power, Ratio}};
    /// let table = EfficiencyTable::new(&[(Power::from_text("100 W")?, Ratio::from_text("80 %")?)])?;
    /// assert!((table.input(Power::from_text("100 W")?)?.value - 125.0).abs() < 1e-9); // 100 W/0.8
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// As [`EfficiencyTable::loss`].
    pub fn input(&self, output: Power) -> Result<Power, ConverterError> {
        Ok(output + self.loss(output)?)
    }

    /// Output over input; zero at no output.
    ///
    /// ```
    /// use loomwright::{converter::EfficiencyTable, quantity::{FromText, Power, Ratio}};
    /// let table = EfficiencyTable::new(&[(Power::from_text("100 W")?, Ratio::from_text("80 %")?)])?;
    /// assert!((table.efficiency(Power::from_text("25 W")?)?.value - 0.5).abs() < 1e-9); // the loss of 25 W is held
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// As [`EfficiencyTable::loss`].
    pub fn efficiency(&self, output: Power) -> Result<Ratio, ConverterError> {
        Ok(output / self.input(output)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use uom::si::ratio::ratio;

    fn watts(value: f64) -> Power {
        Power::new::<watt>(value)
    }

    fn table(of: &[(f64, f64)]) -> Result<EfficiencyTable, ConverterError> {
        let points: Vec<_> = of.iter().map(|(output, e)| (watts(*output), Ratio::new::<ratio>(*e))).collect();
        EfficiencyTable::new(&points)
    }

    #[test]
    fn points_are_met_and_nothing_is_made_up_above_them() {
        let sheet = [(50.0, 0.78), (100.0, 0.86), (250.0, 0.9), (500.0, 0.88)];
        let table = table(&sheet).unwrap();
        for (output, efficiency) in sheet {
            assert!((table.efficiency(watts(output)).unwrap().value - efficiency).abs() < 1e-12);
        }
        assert_eq!(table.efficiency(watts(0.0)).unwrap().value, 0.0);
        let above = table.loss(watts(500.1)).unwrap_err();
        assert_eq!(above.to_string(), "500.1 W lies above the last point of the table, 500 W: nothing is known there");
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            assert!(table.loss(watts(bad)).is_err());
        }
    }

    #[test]
    fn what_is_no_table_is_refused() {
        assert_eq!(table(&[]), Err(ConverterError::EmptyTable));
        assert_eq!(table(&[(50.0, 0.8), (50.0, 0.9)]), Err(ConverterError::Order { before_w: 50.0, after_w: 50.0 }));
        assert_eq!(
            table(&[(100.0, 0.5), (110.0, 0.99)]),
            Err(ConverterError::Falling { before_w: 100.0, after_w: 110.0 })
        );
        for bad in [0.0, 1.0, f64::NAN] {
            assert!(table(&[(50.0, bad)]).is_err());
        }
        for bad in [0.0, -5.0, f64::NAN, f64::INFINITY] {
            assert!(table(&[(bad, 0.9)]).is_err());
        }
    }

    proptest! {
        #[test]
        fn the_input_rises_and_the_efficiency_stays_below_one(
            steps in prop::collection::vec((1.0_f64..200.0, 0.3_f64..0.99), 1..8), at in 0.0_f64..1.0, more in 0.0_f64..1.0,
        ) {
            let mut output = 0.0;
            let sheet: Vec<(f64, f64)> = steps.iter().map(|(step, e)| { output += step; (output, *e) }).collect();
            if let Ok(table) = table(&sheet) {
                let (low, high) = (at * output, output.min(at * output + 1e-3 + more * output));
                if high > low {
                    prop_assert!(table.input(watts(high)).unwrap() > table.input(watts(low)).unwrap());
                }
                prop_assert!(table.efficiency(watts(low)).unwrap().value < 1.0);
            }
        }
    }
}
