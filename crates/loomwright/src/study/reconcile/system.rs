//! Weighted least squares in two layers: what all rounds share, the resistances, and what each round has of its own. The
//! second layer is eliminated round by round, so the cost grows with the number of rounds and not with its cube.
//! Bare numbers; every equation is one row of a linear system with its deviation.

use std::collections::BTreeMap;

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// A linear function of all unknowns.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) round: usize,
    pub(super) shared: DVector<f64>,
    pub(super) own: DVector<f64>,
}

/// A row through half of the factorisation: the product of two is their covariance.
#[derive(Clone, Debug)]
pub(super) struct Half {
    round: usize,
    own: DVector<f64>,
    shared: DVector<f64>,
}

impl Half {
    /// Covariance of what two rows stand for.
    pub(super) fn covariance(&self, other: &Self) -> f64 {
        let own = if self.round == other.round { self.own.dot(&other.own) } else { 0.0 };
        own + self.shared.dot(&other.shared)
    }

    /// Something whose covariances with others are the products of these numbers.
    #[cfg(test)]
    pub(super) fn of(numbers: &[f64]) -> Self {
        Self { round: 0, own: DVector::from_row_slice(numbers), shared: DVector::zeros(0) }
    }

    /// What two together stand for; both are of shared unknowns.
    pub(super) fn and(&self, other: &Self) -> Self {
        Self { round: self.round, own: self.own.clone(), shared: &self.shared + &other.shared }
    }

    /// Variance of a weighted sum of what some rows stand for.
    pub(super) fn variance_of_sum<'a>(parts: impl Iterator<Item = (f64, &'a Self)>) -> f64 {
        let mut shared: Option<DVector<f64>> = None;
        let mut own: BTreeMap<usize, DVector<f64>> = BTreeMap::new();
        for (weight, half) in parts {
            shared.get_or_insert_with(|| DVector::zeros(half.shared.len())).axpy(weight, &half.shared, 1.0);
            let of_round = own.entry(half.round).or_insert_with(|| DVector::zeros(half.own.len()));
            of_round.axpy(weight, &half.own, 1.0);
        }
        shared.map_or(0.0, |sum| sum.norm_squared()) + own.values().map(DVector::norm_squared).sum::<f64>()
    }

    pub(super) fn variance(&self) -> f64 {
        self.own.norm_squared() + self.shared.norm_squared()
    }
}

struct Own {
    information: DMatrix<f64>,
    across: DMatrix<f64>,
    right: DVector<f64>,
}

/// Equations being collected.
pub(super) struct System {
    information: DMatrix<f64>,
    right: DVector<f64>,
    rounds: Vec<Own>,
}

struct Eliminated {
    factor: Cholesky<f64, Dyn>,
    /// What one of the shared unknowns moves of its own ones: own by shared.
    follows: DMatrix<f64>,
}

/// A solved system.
pub(super) struct Solved {
    shared: Cholesky<f64, Dyn>,
    rounds: Vec<Eliminated>,
    /// The shared unknowns, and those of each round.
    pub(super) values: (DVector<f64>, Vec<DVector<f64>>),
}

impl System {
    /// Equations that say that each unknown is `values` away from zero within its deviation.
    pub(super) fn new(shared: &[(f64, f64)], own: &[Vec<(f64, f64)>]) -> Self {
        let weigh = |known: &[(f64, f64)]| {
            let weights = known.iter().map(|(_, deviation)| 1.0 / (deviation * deviation));
            let weights = DVector::from_iterator(known.len(), weights);
            let right = DVector::from_iterator(known.len(), known.iter().map(|(value, _)| *value));
            (DMatrix::from_diagonal(&weights), right.component_mul(&weights))
        };
        let (information, right) = weigh(shared);
        let rounds = own.iter().map(|own| {
            let (information, right) = weigh(own);
            Own { information, across: DMatrix::zeros(shared.len(), own.len()), right }
        });
        Self { information, right, rounds: rounds.collect() }
    }

    /// One more equation: the row is `value`, within `deviation`.
    pub(super) fn add(&mut self, row: &Row, value: f64, deviation: f64) {
        let weight = 1.0 / (deviation * deviation);
        self.information.syger(weight, &row.shared, &row.shared, 1.0);
        self.right.axpy(weight * value, &row.shared, 1.0);
        if let Some(round) = self.rounds.get_mut(row.round) {
            round.information.syger(weight, &row.own, &row.own, 1.0);
            round.across.ger(weight, &row.shared, &row.own, 1.0);
            round.right.axpy(weight * value, &row.own, 1.0);
        }
    }

    /// `None` when rounding leaves nothing definite, which weights of one scale never do.
    pub(super) fn solve(mut self) -> Option<Solved> {
        let mut rounds = Vec::with_capacity(self.rounds.len());
        for own in &self.rounds {
            let factor = Cholesky::new(own.information.clone())?;
            let follows = factor.solve(&own.across.transpose());
            self.information -= &own.across * &follows;
            self.right -= follows.tr_mul(&own.right);
            rounds.push(Eliminated { factor, follows });
        }
        let shared = Cholesky::new(self.information)?;
        let values = shared.solve(&self.right);
        let each = rounds.iter().zip(&self.rounds);
        let own = each.map(|(round, own)| round.factor.solve(&own.right) - &round.follows * &values).collect();
        Some(Solved { shared, rounds, values: (values, own) })
    }
}

impl Solved {
    /// A row through half of the factorisation.
    pub(super) fn half(&self, row: &Row) -> Half {
        let (own, rest) = match self.rounds.get(row.round) {
            Some(round) => {
                let half = round.factor.l_dirty().solve_lower_triangular(&row.own);
                (half.unwrap_or_else(|| DVector::zeros(row.own.len())), &row.shared - round.follows.tr_mul(&row.own))
            }
            None => (DVector::zeros(0), row.shared.clone()),
        };
        let shared = self.shared.l_dirty().solve_lower_triangular(&rest);
        Half { round: row.round, own, shared: shared.unwrap_or_else(|| DVector::zeros(rest.len())) }
    }

    /// A row that is one of the shared unknowns.
    pub(super) fn unit(&self, unknown: usize) -> Row {
        let shared = DVector::from_fn(self.values.0.len(), |place, _| if place == unknown { 1.0 } else { 0.0 });
        Row { round: usize::MAX, shared, own: DVector::zeros(0) }
    }
}

/// Half the width of the interval that covers 95 %, over the standard deviation: 1.960 of a normal law, 1.645 of a rectangle.
///
/// `flatness` is what rectangles leave of the fourth cumulant: Σ v² / (Σ v)² of their variances, 0 for a normal law, 1 for a
/// single rectangle. Points in between are exact for two rectangles of a half and of a whole width, two alike and three
/// alike; the law of a sum depends on little else.
pub(super) fn coverage(flatness: f64) -> f64 {
    const POINTS: [(f64, f64); 5] = [(0.0, 1.960), (1.0 / 3.0, 1.9373), (0.5, 1.9018), (0.68, 1.8340), (1.0, 1.6454)];
    let mut low = POINTS[0];
    for high in POINTS {
        if flatness <= high.0 {
            let along = if high.0 > low.0 { (flatness - low.0) / (high.0 - low.0) } else { 0.0 };
            return low.1 + along.max(0.0) * (high.1 - low.1);
        }
        low = high;
    }
    low.1
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two layers give what one dense system gives.
    #[test]
    fn rounds_are_eliminated_without_loss() {
        let row = |round: usize, shared: [f64; 2], own: [f64; 1]| Row {
            round,
            shared: DVector::from_row_slice(&shared),
            own: DVector::from_row_slice(&own),
        };
        let rows = [
            (row(0, [1.0, 0.0], [1.0]), 2.0),
            (row(0, [1.0, 1.0], [0.5]), 3.0),
            (row(1, [0.0, 1.0], [2.0]), -1.0),
            (row(1, [2.0, -1.0], [1.0]), 0.5),
        ];
        let deviation = 0.1;
        let mut system = System::new(&[(0.0, 10.0); 2], &[vec![(0.0, 5.0)], vec![(0.0, 5.0)]]);
        rows.iter().for_each(|(row, value)| system.add(row, *value, deviation));
        let solved = system.solve().unwrap();
        let prior = [0.01, 0.01, 0.04, 0.04];
        let mut dense = DMatrix::from_diagonal(&DVector::from_row_slice(&prior));
        let mut right = DVector::zeros(4);
        let whole = |row: &Row| {
            let own = if row.round == 0 { [row.own[0], 0.0] } else { [0.0, row.own[0]] };
            DVector::from_row_slice(&[row.shared[0], row.shared[1], own[0], own[1]])
        };
        for (row, value) in &rows {
            let whole = whole(row);
            dense += &whole * whole.transpose() / (deviation * deviation);
            right += whole * *value / (deviation * deviation);
        }
        let inverse = dense.try_inverse().unwrap();
        let values = &inverse * right;
        // Rounding only: numbers of the size of one, ten digits.
        assert!((solved.values.0[0] - values[0]).abs() < 1e-10 && (solved.values.1[1][0] - values[3]).abs() < 1e-10);
        for (one, _) in &rows {
            for (other, _) in &rows {
                let expected = (whole(one).transpose() * &inverse * whole(other))[0];
                let found = solved.half(one).covariance(&solved.half(other));
                assert!((found - expected).abs() < 1e-10, "{found} {expected}");
            }
        }
        let unit = solved.half(&solved.unit(1));
        assert!((unit.variance() - inverse[(1, 1)]).abs() < 1e-12);
    }

    /// Between the points the factor is that of the sum of two rectangles, whose law is a trapezium: tail (a + b − x)²/8ab.
    #[test]
    fn coverage_of_two_rectangles() {
        for share in [0.05_f64, 0.1, 0.2, 0.35, 0.5, 0.7, 0.9, 1.0] {
            let (a, b) = (1.0, share);
            let deviation = ((a * a + b * b) / 3.0_f64).sqrt();
            let slope = a + b - (0.2 * a * b).sqrt();
            // Where the tail of 2.5 % does not reach the slope, it ends on the flat top.
            let x = if slope > a - b { slope } else { 0.95 * a };
            let flatness = (a.powi(4) + b.powi(4)) / (a * a + b * b).powi(2);
            // 3 %: the widths of intervals, of which a hundredth changes coverage by 0.2 %.
            assert!((coverage(flatness) / (x / deviation) - 1.0).abs() < 0.03, "{share}");
        }
    }
}
