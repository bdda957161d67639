//! Stability margin: by what common factor every constant power could grow before no operating point is left.
//!
//! Where constant powers draw i = P/u through the resistances of the network, the slope of what they draw against what
//! the network leaves them has a largest eigenvalue μ: 0 without load, 1 at collapse. One demand alone is at
//! μ = (1 − x)/x with x its voltage over the unloaded one, and λ/λ_max = 4·x·(1 − x), so λ_max = λ·(1 + μ)²/(4·μ). For
//! several that is close, and the closer the nearer to collapse; so the search goes where it points and ends when what
//! is solved and what it points to agree.

use super::solver::{DemandState, Nowhere, Solver};

/// What the search has found.
#[derive(Clone, Copy, Debug)]
pub(super) enum Margin {
    /// No constant power is in the way, or nothing up to a thousand times.
    None,
    /// The largest factor with an operating point, to [`WITHIN`].
    Factor(f64),
}

/// Share to which the factor is found.
const WITHIN: f64 = 5e-4;
/// A margin beyond this is none.
const MOST: f64 = 1000.0;
const MOST_ROUNDS: usize = 60;
/// Rounds of the eigenvalue; the start is nearly the right vector.
const MOST_TURNS: usize = 12;

impl Solver<'_> {
    /// The margin, from a settled point at share 1 or, after a collapse there, from nothing.
    ///
    /// Leaves the solver at the last point that exists.
    pub(super) fn margin(&mut self, from: f64) -> Result<Margin, Nowhere> {
        let locks = std::mem::replace(&mut self.locks, false);
        let found = self.seek(from);
        self.locks = locks;
        found
    }

    fn seek(&mut self, from: f64) -> Result<Margin, Nowhere> {
        let (mut low, mut high) = (from, if from < 1.0 { 1.0 } else { f64::INFINITY });
        let mut kept = (self.voltages.clone(), self.powers.clone(), self.sources.clone(), self.blocked.clone());
        for _ in 0..MOST_ROUNDS {
            let points_to = if low > 0.0 { self.points_to(low) } else { f64::INFINITY };
            if points_to <= low * (1.0 + WITHIN) || high <= low * (1.0 + WITHIN) {
                break;
            }
            if low >= MOST || (points_to == f64::INFINITY && high == f64::INFINITY) {
                return Ok(Margin::None);
            }
            let target = if points_to < high { low.max(points_to * (1.0 - 0.5 * WITHIN)) } else { 0.5 * (low + high) };
            self.share = target.min(2.0 * MOST);
            match self.settle(low > 0.0) {
                Ok(()) => {
                    low = self.share;
                    kept = (self.voltages.clone(), self.powers.clone(), self.sources.clone(), self.blocked.clone());
                }
                Err(Nowhere::Collapse) => {
                    high = self.share;
                    (self.voltages, self.powers, self.sources, self.blocked) = kept.clone();
                    self.assemble();
                    // Nothing could be settled yet: whatever is there at no power at all.
                    if low == 0.0 && high < 1e-6 {
                        break;
                    }
                    if low > 0.0 {
                        self.share = low;
                        self.settle(false)?;
                    }
                }
                Err(restless) => return Err(restless),
            }
        }
        self.share = low;
        Ok(Margin::Factor(low))
    }

    /// The factor that the slopes at the present point point to; infinite when no constant power is left.
    fn points_to(&mut self, share: f64) -> f64 {
        let slopes: Vec<([usize; 2], f64)> = self
            .powers
            .iter()
            .filter(|power| power.state == DemandState::Draws && power.watts > 0.0)
            .map(|power| (power.at, power.watts * share / power.voltage(&self.voltages).powi(2)))
            .collect();
        if slopes.is_empty() {
            return f64::INFINITY;
        }
        // How the voltages fall as all powers grow: nearly the vector of the largest eigenvalue already.
        let mut falls = self.voltages.clone();
        let mut ratio = 0.0_f64;
        for turn in 0..MOST_TURNS {
            self.factor.right.fill(0.0);
            let mut own = 0.0;
            for (at, slope) in &slopes {
                let across = if turn == 0 { self.across(*at) } else { super::solver::across(&falls, *at) };
                self.factor.current(*at, slope * across);
                own += slope * across * across;
            }
            let asked = self.factor.right.clone();
            self.factor.again(&self.order, &mut falls);
            let answer: f64 = asked.iter().zip(&falls).take(self.order.unknowns).map(|(one, other)| one * other).sum();
            let last = std::mem::replace(&mut ratio, answer / own);
            if (ratio - last).abs() <= 1e-4 * ratio {
                break;
            }
            let scale = falls.iter().fold(0.0_f64, |most, fall| most.max(fall.abs()));
            if !(scale > 0.0) {
                break;
            }
            falls.iter_mut().for_each(|fall| *fall /= scale);
        }
        let eigenvalue = ratio / (1.0 + ratio);
        if eigenvalue > 0.0 { share * (1.0 + eigenvalue).powi(2) / (4.0 * eigenvalue) } else { f64::INFINITY }
    }

    fn across(&self, at: [usize; 2]) -> f64 {
        super::solver::across(&self.voltages, at)
    }
}
