//! Loss curve through many efficiency points by constrained least squares.
//!
//! What is minimised is the sum of squared misses of efficiency, to first order: a loss off by δ at output p moves the
//! efficiency η by δ·η²/p. The constraints are linear in the three coefficients: a loss above zero and an input that
//! rises, everywhere from no output to the rated one. The best point of such a problem is the free one or lies on one or
//! two constraints; all are tried, which for three unknowns is quicker than being clever.

use super::losses::{LossError, Losses, in_range};
use crate::quantity::{Power, Ratio};
use uom::si::ratio::ratio;

/// A fitted loss curve with what it misses.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// The curve.
    pub losses: Losses,
    /// By point, fitted less given.
    pub residuals: Vec<Residual>,
}

/// What a fit misses at one point.
#[derive(Clone, Copy, Debug)]
pub struct Residual {
    /// Output as a share of rated output.
    pub share: Ratio,
    /// Efficiency, fitted less given.
    pub efficiency: Ratio,
    /// Loss, fitted less given.
    pub loss: Power,
}

/// Least loss over rated output: below it a curve is no converter's. Also more than a parabola dips between two
/// places where it is held: its second coefficient, below 2, over 4 times the places squared.
const LEAST_LOSS: f64 = 2e-4;
/// Least slope of input over output.
const LEAST_SLOPE: f64 = 0.5;
/// Places at which the loss is held above zero, less one.
const PLACES: u8 = 64;

/// Fits losses to three or more points of output, as a share of `rated`, and efficiency; never less than `no_load`.
///
/// # Errors
/// [`LossError`] when points are out of range, too few, at one output, or like no converter's.
pub fn fit(points: &[(Ratio, Ratio)], rated: Power, no_load: Power) -> Result<Fitted, LossError> {
    if !(rated.value > 0.0 && rated.value.is_finite()) {
        return Err(LossError::Rated);
    }
    points.iter().try_for_each(|point| in_range(*point))?;
    let mut outputs: Vec<f64> = points.iter().map(|(share, _)| share.value).collect();
    outputs.sort_by(f64::total_cmp);
    outputs.dedup_by(|one, other| (*one - *other).abs() < 0.01);
    if outputs.len() < 3 {
        return Err(if points.len() < 3 { LossError::TooFew(points.len()) } else { LossError::Same });
    }
    let rows: Vec<([f64; 3], f64)> = points
        .iter()
        .map(|(share, efficiency)| {
            let (p, e) = (share.value, efficiency.value);
            let weight = e * e / p;
            ([weight, weight * p, weight * p * p], weight * p * (1.0 / e - 1.0))
        })
        .collect();
    let coefficients = best(&rows).ok_or(LossError::NoFit)?;
    let losses = Losses::per_rated(coefficients, rated, no_load);
    let residuals = points.iter().map(|(share, efficiency)| {
        let output = rated * *share;
        let given = output / efficiency.value - output;
        let [own, linear, quadratic] = coefficients;
        let p = share.value;
        let loss = rated * (own + linear * p + quadratic * p * p);
        let fitted = p / (p + (loss / rated).value);
        Residual { share: *share, efficiency: Ratio::new::<ratio>(fitted - efficiency.value), loss: loss - given }
    });
    Ok(Fitted { losses, residuals: residuals.collect() })
}

/// A linear constraint: row · coefficients ≥ least.
type Constraint = ([f64; 3], f64);

fn dot(one: &[f64; 3], other: &[f64; 3]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

/// The coefficients of the smallest sum of squares that meet every constraint.
fn best(rows: &[([f64; 3], f64)]) -> Option<[f64; 3]> {
    let places = (0..=PLACES).map(|place| f64::from(place) / f64::from(PLACES));
    let mut constraints: Vec<Constraint> = places.map(|p| ([1.0, p, p * p], LEAST_LOSS)).collect();
    constraints.extend([0.0, 1.0].map(|p| ([0.0, 1.0, 2.0 * p], LEAST_SLOPE - 1.0)));
    let meets = |found: &[f64; 3]| constraints.iter().all(|(row, least)| dot(row, found) >= least - 1e-12);
    let squares = |found: &[f64; 3]| rows.iter().map(|(row, value)| (dot(row, found) - value).powi(2)).sum::<f64>();
    let singles = constraints.iter().map(|one| vec![*one]);
    let pairs = constraints
        .iter()
        .enumerate()
        .flat_map(|(at, one)| constraints.iter().skip(at + 1).map(|other| vec![*one, *other]));
    let tried = std::iter::once(Vec::new()).chain(singles).chain(pairs);
    let feasible = tried.filter_map(|active| on(rows, &active)).filter(meets);
    feasible.min_by(|one, other| squares(one).total_cmp(&squares(other)))
}

/// Least squares with some constraints met exactly: the normal equations with one multiplier for each.
fn on(rows: &[([f64; 3], f64)], active: &[Constraint]) -> Option<[f64; 3]> {
    let size = 3 + active.len();
    let mut system = vec![vec![0.0; size + 1]; size];
    for (at, equation) in system.iter_mut().enumerate().take(3) {
        for (row, value) in rows {
            let here = row.get(at).copied().unwrap_or(0.0);
            for (slot, other) in equation.iter_mut().zip(row) {
                *slot += here * other;
            }
            if let Some(slot) = equation.last_mut() {
                *slot += here * value;
            }
        }
        for (slot, (row, _)) in equation.iter_mut().skip(3).zip(active) {
            *slot = row.get(at).copied().unwrap_or(0.0);
        }
    }
    for (equation, (row, least)) in system.iter_mut().skip(3).zip(active) {
        for (slot, value) in equation.iter_mut().zip(row) {
            *slot = *value;
        }
        if let Some(slot) = equation.last_mut() {
            *slot = *least;
        }
    }
    let solved = eliminate(system)?;
    let mut found = [0.0; 3];
    for (slot, value) in found.iter_mut().zip(solved) {
        *slot = value;
    }
    found.iter().all(|value| value.is_finite()).then_some(found)
}

/// Gaussian elimination with the largest pivot of each column; each equation ends with its right side.
fn eliminate(mut system: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let size = system.len();
    for column in 0..size {
        let at = |equation: &Vec<f64>| equation.get(column).copied().unwrap_or(0.0);
        let candidates = system.iter().enumerate().skip(column);
        let (pivot, _) = candidates.max_by(|one, other| at(one.1).abs().total_cmp(&at(other.1).abs()))?;
        system.swap(column, pivot);
        let leading = system.get(column)?.clone();
        let over = at(&leading);
        if over.abs() < 1e-14 {
            return None;
        }
        for equation in system.iter_mut().enumerate().filter(|(row, _)| *row != column).map(|(_, equation)| equation) {
            let share = at(equation) / over;
            for (slot, value) in equation.iter_mut().zip(&leading) {
                *slot -= share * value;
            }
        }
    }
    let value = |(row, equation): (usize, &Vec<f64>)| Some(equation.last()? / equation.get(row)?);
    system.iter().enumerate().map(value).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::converter::losses::watts;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn points(all: &[(f64, f64)]) -> Vec<(Ratio, Ratio)> {
        all.iter().map(|(share, efficiency)| (Ratio::from(*share), Ratio::from(*efficiency))).collect()
    }

    #[test]
    fn points_of_a_curve_give_the_curve() {
        // 1 kW: 12 W, 0.01, 3e-5 per W.
        let curve = |p: f64| 12.0 + 0.01 * p + 3e-5 * p * p;
        let given: Vec<_> =
            [50.0, 120.0, 300.0, 600.0, 800.0, 1000.0].map(|p| (p / 1000.0, p / (p + curve(p)))).to_vec();
        let fitted = fit(&points(&given), watts(1000.0), watts(0.0)).unwrap();
        for p in [0.0, 77.0, 450.0, 1000.0] {
            assert_relative_eq!(fitted.losses.lost(watts(p)).value, curve(p), max_relative = 1e-9);
        }
        assert!(fitted.residuals.iter().all(|one| one.efficiency.value.abs() < 1e-12));
    }

    #[test]
    fn impossible_points_are_named() {
        let refused = |all: &[(f64, f64)]| fit(&points(all), watts(500.0), watts(0.0)).unwrap_err();
        assert_eq!(refused(&[(0.1, 0.9), (1.0, 0.9)]), LossError::TooFew(2));
        assert_eq!(refused(&[(0.5, 0.9), (0.5, 0.91), (0.5, 0.92)]), LossError::Same);
        assert_eq!(refused(&[(0.1, 0.9), (0.5, 1.2), (1.0, 0.9)]), LossError::Efficiency);
        assert_eq!(refused(&[(0.1, 0.9), (0.5, f64::NAN), (1.0, 0.9)]), LossError::Efficiency);
        assert_eq!(refused(&[(0.0, 0.9), (0.5, 0.9), (1.0, 0.9)]), LossError::Share);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        /// Whatever a data sheet says, the curve is a converter's: loss above zero, input rising, efficiency below 1.
        #[test]
        fn every_fit_is_a_converter(raw in proptest::collection::vec((0.02..1.0, 0.35..0.999), 3..12)) {
            if let Ok(fitted) = fit(&points(&raw), watts(800.0), watts(0.0)) {
                let mut last = -1.0;
                for step in 0..=400 {
                    let output = watts(2.0 * f64::from(step));
                    let taken = fitted.losses.input(output).value;
                    prop_assert!(taken > last && taken > output.value, "{taken} W for {} W", output.value);
                    last = taken;
                }
            }
        }
    }
}
