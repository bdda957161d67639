//! Losses interpolated between the points of an efficiency table.

use super::losses::watts;
use crate::quantity::{Power, Ratio};
use thiserror::Error;

/// An efficiency table: losses run straight between its points.
#[derive(Clone, Debug)]
pub struct EfficiencyTable {
    /// Output and loss in W, by output.
    points: Vec<(f64, f64)>,
}

/// Why a table cannot be made or read.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum TableError {
    /// Nothing to interpolate.
    #[error("an efficiency table has two points or more")]
    TooFew,
    /// A point out of range, or two at one output.
    #[error("at {0} W: outputs are above 0 W and differ, efficiencies are 30 % to 100 %")]
    Point(f64),
    /// Beyond the last point nothing is known.
    #[error("{asked} W is beyond the table, which ends at {end} W: it is never extrapolated")]
    Beyond {
        /// The output asked for.
        asked: f64,
        /// The last output of the table.
        end: f64,
    },
}

impl EfficiencyTable {
    /// From points of output and efficiency, in any order.
    ///
    /// # Errors
    /// [`TableError`] when a point is out of range.
    pub fn new(points: &[(Power, Ratio)]) -> Result<Self, TableError> {
        let mut made: Vec<(f64, f64)> = Vec::with_capacity(points.len());
        for (output, efficiency) in points {
            let (p, e) = (output.value, efficiency.value);
            if !(p > 0.0 && p.is_finite() && (0.3..=1.0).contains(&e)) || made.iter().any(|(other, _)| *other == p) {
                return Err(TableError::Point(p));
            }
            made.push((p, p * (1.0 / e - 1.0)));
        }
        if made.len() < 2 {
            return Err(TableError::TooFew);
        }
        made.sort_by(|one, other| one.0.total_cmp(&other.0));
        Ok(Self { points: made })
    }

    /// Loss at an output. Below the first point it stays that of the first point, which is the cautious side.
    ///
    /// # Errors
    /// [`TableError::Beyond`] above the last point.
    pub fn lost(&self, output: Power) -> Result<Power, TableError> {
        let p = output.value;
        let mut before = self.points.first().copied().unwrap_or_default();
        for here in &self.points {
            if p <= here.0 {
                let span = here.0 - before.0;
                let share = if span > 0.0 { ((p - before.0) / span).max(0.0) } else { 0.0 };
                return Ok(watts(before.1 + share * (here.1 - before.1)));
            }
            before = *here;
        }
        Err(TableError::Beyond { asked: p, end: before.0 })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn losses_run_straight_between_points() {
        // 100 W at 80 % loses 25 W, 300 W at 75 % loses 100 W; half way 62.5 W.
        let table =
            EfficiencyTable::new(&[(watts(300.0), Ratio::from(0.75)), (watts(100.0), Ratio::from(0.8))]).unwrap();
        assert_relative_eq!(table.lost(watts(200.0)).unwrap().value, 62.5, max_relative = 1e-12);
        assert_relative_eq!(table.lost(watts(10.0)).unwrap().value, 25.0, max_relative = 1e-12);
        assert_eq!(table.lost(watts(301.0)).unwrap_err(), TableError::Beyond { asked: 301.0, end: 300.0 });
        assert!(matches!(EfficiencyTable::new(&[(watts(f64::NAN), Ratio::from(0.9))]), Err(TableError::Point(_))));
    }
}
