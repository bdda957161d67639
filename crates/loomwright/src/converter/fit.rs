//! Losses fitted to the efficiency points of a data sheet.

use super::Losses;
use super::error::{self, ConverterError, check};
use super::least_squares::{Point, solve};
use crate::quantity::{Power, Ratio};
use uom::si::ratio::percent;

/// Losses fitted to efficiency points, and how far they miss each.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The losses.
    pub losses: Losses,
    /// One for each point, in the order given.
    pub residuals: Vec<Residual>,
}

/// How far fitted losses miss one efficiency point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Residual {
    /// Share of rated output.
    pub share: Ratio,
    /// The efficiency as given.
    pub stated: Ratio,
    /// Fitted less stated efficiency.
    pub efficiency: Ratio,
    /// Fitted loss less that of the stated efficiency.
    pub loss: Power,
}

/// Points nearer to each other than this share of rated output count as one.
const APART: f64 = 0.01;

impl Losses {
    /// Fits three or more points of output, as a share of `rated`, and efficiency; never less than `no_load`.
    ///
    /// Least squares of the efficiencies, to first order: a data sheet's points are as exact in efficiency at a small
    /// output as at a large one, so a loss l at output p counts with the weight e²/p. Constrained so that between no
    /// and rated output the loss is at least 0.01 % of rated output (the efficiency thus below 100 %) and the input
    /// rises with the output. Three points that a quadratic loss meets within that are met exactly. A stated
    /// `no_load` power, zero when unknown, is a floor under the fitted loss and counts in the residuals.
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] for an efficiency outside 1 % to below 100 %, a share outside 0 % (excluded) to
    /// 100 %, a rated output of 0 W or less, a negative no-load power, or any that is no finite number;
    /// [`ConverterError::TooFewPoints`] when fewer than three outputs are 1 % of rated output apart.
    ///
    /// ```
    /// use loomwright::converter::Losses;
    /// use loomwright::quantity::{FromText, Power, Ratio};
    /// let sheet = [("10 %", "84 %"), ("25 %", "91 %"), ("50 %", "93 %"), ("75 %", "92.5 %"), ("100 %", "91 %")];
    /// let mut points = Vec::new();
    /// for (share, efficiency) in sheet {
    ///     points.push((Ratio::from_text(share)?, Ratio::from_text(efficiency)?));
    /// }
    /// let fit = Losses::fit(&points, Power::from_text("1.2 kW")?, Power::from_text("0 W")?)?;
    /// assert!(fit.residuals.iter().all(|residual| residual.efficiency.value.abs() < 0.004));
    /// assert!((fit.losses.own().value - 21.5).abs() < 0.1);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn fit(points: &[(Ratio, Ratio)], rated: Power, no_load: Power) -> Result<Fit, ConverterError> {
        error::rated(rated)?;
        error::power("a no-load power", no_load)?;
        for (share, efficiency) in points {
            let holds = share.value > 0.0 && share.value <= 1.0 + 1e-9;
            check("a share of rated output", share.get::<percent>(), "%", "above 0 % and at most 100 %", holds)?;
            error::efficiency(*efficiency)?;
        }
        let too_few = ConverterError::TooFewPoints { given: points.len() };
        if different(points) < 3 {
            return Err(too_few);
        }
        let shares: Vec<Point> = points
            .iter()
            .map(|(share, efficiency)| {
                let (output, efficiency) = (share.value, efficiency.value);
                Point { output, loss: output * (1.0 / efficiency - 1.0), weight: efficiency * efficiency / output }
            })
            .collect();
        let losses = Self::of_shares(solve(&shares).ok_or(too_few)?, rated.value, no_load.value);
        let residuals = points
            .iter()
            .map(|(share, stated)| {
                let output = *share * rated;
                let efficiency = losses.efficiency(output) - *stated;
                Residual { share: *share, stated: *stated, efficiency, loss: losses.input(output) - output / *stated }
            })
            .collect();
        Ok(Fit { losses, residuals })
    }
}

/// How many outputs are apart.
fn different(points: &[(Ratio, Ratio)]) -> usize {
    let mut shares: Vec<f64> = points.iter().map(|(share, _)| share.value).collect();
    shares.sort_by(f64::total_cmp);
    let mut last = f64::NEG_INFINITY;
    let apart = shares.into_iter().filter(|share| {
        let counts = share - last >= APART * (1.0 - 1e-9);
        if counts {
            last = *share;
        }
        counts
    });
    apart.count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::data::tables::constants;
    use proptest::prelude::*;
    use uom::si::power::watt;
    use uom::si::ratio::ratio;

    fn watts(value: f64) -> Power {
        Power::new::<watt>(value)
    }

    fn points(of: &[(f64, f64)]) -> Vec<(Ratio, Ratio)> {
        of.iter().map(|(share, efficiency)| (Ratio::new::<ratio>(*share), Ratio::new::<ratio>(*efficiency))).collect()
    }

    fn fit(of: &[(f64, f64)]) -> Result<Fit, ConverterError> {
        Losses::fit(&points(of), watts(1000.0), watts(0.0))
    }

    /// Sum of squares that the fit makes least, for coefficients per rated output.
    fn squares(of: &[(f64, f64)], [own, linear, quadratic]: [f64; 3]) -> f64 {
        let square = |(p, e): &(f64, f64)| {
            let miss = own + linear * p + quadratic * p * p - p * (1.0 / e - 1.0);
            (e * e / p * miss).powi(2)
        };
        of.iter().map(square).sum()
    }

    fn shares(losses: &Losses) -> [f64; 3] {
        [losses.own().value / 1e3, losses.linear().value, losses.quadratic().value * 1e3]
    }

    #[test]
    fn a_stated_no_load_power_is_a_floor_and_shows_in_the_residuals() {
        let sheet = [(0.1, 0.84), (0.5, 0.93), (1.0, 0.91)];
        let fitted = Losses::fit(&points(&sheet), watts(1000.0), watts(25.0)).unwrap();
        assert_eq!(fitted.losses.input(watts(0.0)).value, 25.0);
        let first = fitted.residuals[0];
        assert!((first.loss.value - (25.0 - (100.0 / 0.84 - 100.0))).abs() < 1e-9, "{first:?}");
        assert!((first.efficiency.value - (100.0 / 125.0 - 0.84)).abs() < 1e-12, "{first:?}");
        assert!(fitted.residuals[2].loss.value.abs() < 1e-9);
    }

    #[test]
    fn points_of_no_converter_are_met_as_well_as_one_can() {
        // A loss that would vanish half way, one that would be negative at rest, and an input that would fall.
        for sheet in [
            vec![(0.1, 0.80), (0.5, 0.9999), (1.0, 0.90)],
            vec![(0.1, 0.995), (0.5, 0.93), (1.0, 0.90)],
            vec![(0.3, 0.40), (0.5, 0.50), (1.0, 0.98)],
            vec![(0.1, 0.5), (0.2, 0.99), (0.4, 0.99), (0.6, 0.99), (0.8, 0.99), (1.0, 0.5)],
        ] {
            let fitted = fit(&sheet).unwrap();
            let found = shares(&fitted.losses);
            let least = squares(&sheet, found);
            assert!(least > 1e-9, "{sheet:?} is met by {found:?}");
            // No neighbour that is still a converter is better.
            for step in (0..27).map(|n| [n % 3 - 1, n / 3 % 3 - 1, n / 9 - 1].map(|each| f64::from(each) * 1e-4)) {
                let near = [found[0] + step[0], found[1] + step[1], found[2] + step[2]];
                let loss = |p: f64| near[0] + near[1] * p + near[2] * p * p;
                let converter = (0..=1000).all(|n| loss(f64::from(n) / 1000.0) >= constants::LEAST_LOSS)
                    && 1.0 + near[1] >= constants::LEAST_INPUT_SLOPE
                    && 1.0 + near[1] + 2.0 * near[2] >= constants::LEAST_INPUT_SLOPE;
                assert!(!converter || squares(&sheet, near) >= least - 1e-12, "{sheet:?}: {near:?} beats {found:?}");
            }
        }
    }

    #[test]
    fn what_fixes_no_curve_is_refused() {
        let two = fit(&[(0.5, 0.9), (0.5, 0.91), (0.504, 0.9), (1.0, 0.9)]).unwrap_err();
        assert_eq!(two, ConverterError::TooFewPoints { given: 4 });
        assert!(fit(&[]).is_err());
        // A hundredth apart, to what a float tells, is apart.
        assert!(fit(&[(0.10, 0.8), (0.11, 0.81), (0.12, 0.82)]).is_ok());
        for bad in [0.0, 1.0, 1.3, -0.2, f64::NAN, f64::INFINITY] {
            assert!(fit(&[(0.1, 0.8), (0.5, bad), (1.0, 0.9)]).is_err(), "efficiency {bad}");
        }
        for bad in [0.0, 1.01, -0.2, f64::NAN, f64::INFINITY] {
            assert!(fit(&[(0.1, 0.8), (bad, 0.9), (0.8, 0.9)]).is_err(), "share {bad}");
        }
        let told = fit(&[(0.1, 0.8), (0.5, 1.2), (1.0, 0.9)]).unwrap_err().to_string();
        assert_eq!(told, "an efficiency of 120 %: 1 % or more and below 100 %");
        let sheet = points(&[(0.1, 0.8), (0.5, 0.9), (1.0, 0.9)]);
        for bad in [f64::NAN, f64::INFINITY, -1.0] {
            assert!(Losses::fit(&sheet, watts(bad), watts(0.0)).is_err());
            assert!(Losses::fit(&sheet, watts(100.0), watts(bad)).is_err());
        }
    }

    proptest! {
        #[test]
        fn exact_points_give_their_losses_back(
            own in 0.001_f64..0.05, linear in -0.02_f64..0.1, quadratic in -0.01_f64..0.1,
            outputs in prop::collection::vec(0.02_f64..1.0, 3..9),
        ) {
            let loss = |p: f64| own + linear * p + quadratic * p * p;
            let converter = (0..=100).all(|n| loss(f64::from(n) / 100.0) > 1.1 * constants::LEAST_LOSS);
            let sheet: Vec<(f64, f64)> = outputs.iter().map(|p| (*p, p / (p + loss(*p)))).collect();
            if let Ok(fitted) = fit(&sheet) && converter {
                for residual in &fitted.residuals {
                    prop_assert!(residual.loss.value.abs() < 1e-6, "{residual:?}");
                }
                let (least, most) = outputs.iter().fold((1.0_f64, 0.0_f64), |(l, m), p| (l.min(*p), m.max(*p)));
                if most - least > 0.3 && different(&points(&sheet)) == sheet.len() {
                    for (found, given) in shares(&fitted.losses).into_iter().zip([own, linear, quadratic]) {
                        prop_assert!((found - given).abs() < 1e-6, "{found} for {given}");
                    }
                }
            }
        }

        #[test]
        fn whatever_the_points_it_is_a_converter(
            sheet in prop::collection::vec((0.01_f64..1.0, 0.01_f64..0.9999), 3..12),
        ) {
            let fitted = fit(&sheet);
            prop_assert_eq!(fitted.is_ok(), different(&points(&sheet)) >= 3);
            if let Ok(fitted) = fitted {
                let mut before = -1.0;
                for n in 0..=200 {
                    let output = watts(5.0 * f64::from(n));
                    prop_assert!(fitted.losses.loss(output).value >= 0.99 * 1e3 * constants::LEAST_LOSS);
                    prop_assert!(fitted.losses.efficiency(output).value < 1.0);
                    let input = fitted.losses.input(output).value;
                    prop_assert!(input > before, "{input} W after {before} W");
                    before = input;
                }
            }
        }

        /// Near or far: the problem is convex, so what nothing nearby betters is the best.
        #[test]
        fn no_other_converter_is_better(
            sheet in prop::collection::vec((0.02_f64..1.0, 0.3_f64..0.999), 3..9),
            ways in prop::collection::vec(([-1.0_f64..1.0, -1.0_f64..1.0, -1.0_f64..1.0], 0_i32..6), 100),
        ) {
            let Ok(fitted) = fit(&sheet) else { return Ok(()) };
            let found = shares(&fitted.losses);
            let ours = squares(&sheet, found);
            for (way, exponent) in ways {
                let step = 0.1_f64.powi(exponent);
                let [own, linear, quadratic] = [0, 1, 2].map(|place: usize| found[place] + step * way[place]);
                let loss = |p: f64| own + linear * p + quadratic * p * p;
                let turn = if quadratic > 0.0 { (-0.5 * linear / quadratic).clamp(0.0, 1.0) } else { 0.0 };
                let converter = [0.0, turn, 1.0].into_iter().all(|output| loss(output) > constants::LEAST_LOSS)
                    && 1.0 + linear + 2.0 * quadratic.min(0.0) > constants::LEAST_INPUT_SLOPE;
                if converter {
                    let other = squares(&sheet, [own, linear, quadratic]);
                    prop_assert!(ours <= other * (1.0 + 1e-7) + 1e-12, "{ours} against {other}");
                }
            }
        }
    }
}
