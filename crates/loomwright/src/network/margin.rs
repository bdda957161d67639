//! Stability margin: by what common factor every constant power could grow before no operating point is left.
//!
//! Along the operating points the factor λ rises while the voltage of the weakest demand falls, up to a flat top where
//! the two roots meet. Followed by that voltage instead of λ nothing is singular on the way, and the slope of λ comes
//! free with the step: with J the matrix at the point and J·q = Σ P/u (the fall per λ), dλ/du = −1/q at the demand. So
//! the top is the root of a slope that is a straight line for a single demand (λ = 4·λ_max·x·(1 − x), x the voltage
//! over the unloaded one) and nearly one for many: a few secant steps. Inputs of converters count as constant powers.

use super::solver::{DemandState, Power, Solver, SourceState, across};

/// What the search has found.
#[derive(Clone, Copy, Debug)]
pub(super) enum Margin {
    /// No constant power is in the way, or nothing up to [`MOST`].
    None,
    /// The largest factor with an operating point, to [`WITHIN`] and never above it by more.
    Factor(f64),
}

/// Share to which the factor is found.
pub(super) const WITHIN: f64 = 5e-4;
/// A margin beyond this is none.
const MOST: f64 = 1000.0;
const MOST_ROUNDS: usize = 60;
/// Secant steps to the top.
const MOST_SECANTS: usize = 25;
/// Newton steps for one point on the way.
const MOST_STEPS: usize = 20;

/// Voltages and states that can be gone back to.
pub(super) struct Kept {
    voltages: Vec<f64>,
    powers: Vec<Power>,
    sources: Vec<SourceState>,
    blocked: Vec<bool>,
    share: f64,
}

impl Kept {
    fn same_states(&self, other: &Self) -> bool {
        let powers = self.powers.iter().zip(&other.powers).all(|(one, other)| one.state == other.state);
        powers && self.sources == other.sources && self.blocked == other.blocked
    }
}

/// A point on the way to the top.
struct Way {
    voltages: Vec<f64>,
    /// How the voltages fall per factor, by position.
    falls: Vec<f64>,
}

impl Solver<'_> {
    /// The margin, from a settled point at factor 1, or after a collapse there from nothing (`from` 0).
    ///
    /// Leaves the solver at a point that exists, if there is one.
    pub(super) fn margin(&mut self, from: f64) -> Margin {
        self.parts.frozen = true;
        let found = self.seek(from);
        self.parts.frozen = false;
        found
    }

    fn seek(&mut self, from: f64) -> Margin {
        let (mut low, mut high) = (from, if from < 1.0 { 1.0 } else { f64::INFINITY });
        let mut kept = self.keep();
        // Where the top was looked for last: it is the same as long as the states are.
        let (mut looked, mut top) = (false, f64::INFINITY);
        for _ in 0..MOST_ROUNDS {
            if low > 0.0 && !looked {
                looked = true;
                match self.top(low) {
                    // The states hold up to there: that is it.
                    Some((found, true)) if found < high => {
                        return if found > MOST { Margin::None } else { Margin::Factor(found) };
                    }
                    Some((found, _)) => top = found,
                    None if high == f64::INFINITY => return Margin::None,
                    None => top = f64::INFINITY,
                }
                self.go_back(&kept);
            }
            let ceiling = high.min(top);
            if low >= MOST {
                return Margin::None;
            }
            if ceiling <= low * (1.0 + WITHIN) || (low == 0.0 && high < 1e-6) {
                break;
            }
            self.parts.share = 0.5 * (low + ceiling.min(2.0 * MOST));
            match self.settle(low > 0.0) {
                Ok(()) => {
                    low = self.parts.share;
                    let now = self.keep();
                    looked &= now.same_states(&kept);
                    kept = now;
                }
                // States that find no rest there are no point to count on either.
                Err(_) => {
                    high = self.parts.share;
                    self.go_back(&kept);
                }
            }
        }
        Margin::Factor(low)
    }

    pub(super) fn keep(&self) -> Kept {
        Kept {
            voltages: self.parts.voltages.clone(),
            powers: self.parts.powers.clone(),
            sources: self.parts.sources.clone(),
            blocked: self.parts.blocked.clone(),
            share: self.parts.share,
        }
    }

    pub(super) fn go_back(&mut self, kept: &Kept) {
        self.parts.voltages.clone_from(&kept.voltages);
        self.parts.powers.clone_from(&kept.powers);
        self.parts.sources.clone_from(&kept.sources);
        self.parts.blocked.clone_from(&kept.blocked);
        self.parts.share = kept.share;
        self.assemble();
    }

    /// The top with the states as they are, from a settled point at factor `low`; and whether the states are still
    /// right there; beyond [`MOST`] it is not sought on. `None` without a constant power.
    fn top(&mut self, low: f64) -> Option<(f64, bool)> {
        if !self.parts.powers.iter().any(|power| power.state == DemandState::Draws && power.watts > 0.0) {
            return None;
        }
        // The first secant goes through the slope without load.
        let here = self.parts.voltages.clone();
        self.parts.share = 0.0;
        self.step(true).ok()?;
        std::mem::swap(&mut self.parts.voltages, &mut self.parts.next);
        let mut before = self.way(0.0)?;
        self.parts.voltages.clone_from(&here);
        let mut at = self.way(low)?;
        let mut factor = low;
        for _ in 0..MOST_SECANTS {
            let weakest = self.weakest(&at)?;
            let (u, fall) = (across(&at.voltages, weakest), across(&at.falls, weakest));
            let (u0, fall0) = (across(&before.voltages, weakest), across(&before.falls, weakest));
            let (slope, slope0) = (1.0 / fall, 1.0 / fall0);
            // Volts from here to the top, and what λ still gains on that way.
            let to_top = slope * (u0 - u) / (slope0 - slope);
            let gain = 0.5 * to_top * slope;
            if gain.is_nan() || gain <= 0.5 * WITHIN * factor {
                break;
            }
            if factor > MOST {
                break;
            }
            // A little short of it, on the side where the point is stable; shorter still where there is none.
            let mut stride = 0.97 * to_top;
            let found = loop {
                if let Some(found) = self.walk(&at, weakest, factor, u - stride) {
                    break Some(found);
                }
                stride *= 0.5;
                if stride < 1e-3 * to_top {
                    break None;
                }
            };
            let Some((next_factor, next)) = found.filter(|(next, _)| *next > factor) else { break };
            (before, at, factor) = (at, next, next_factor);
        }
        self.parts.voltages.clone_from(&at.voltages);
        self.parts.share = factor;
        let kept = (self.parts.sources.clone(), self.parts.powers.clone(), self.parts.blocked.clone());
        let lasting = self.turn(true).is_none();
        (self.parts.sources, self.parts.powers, self.parts.blocked) = kept;
        Some((factor, lasting))
    }

    /// Positions of the demand whose voltage falls most, as a share of what it is.
    fn weakest(&self, at: &Way) -> Option<[usize; 2]> {
        let drawing = self.parts.powers.iter().filter(|power| power.state == DemandState::Draws && power.watts > 0.0);
        let share = |power: &&Power| across(&at.falls, power.at()) / across(&at.voltages, power.at());
        drawing.max_by(|one, other| share(one).total_cmp(&share(other))).map(|power| power.at())
    }

    /// The point at the present voltages and a factor: with how they fall per factor.
    fn way(&mut self, factor: f64) -> Option<Way> {
        self.parts.share = factor;
        self.step(true).ok()?;
        Some(Way { falls: self.falls(), voltages: self.parts.voltages.clone() })
    }

    /// How the voltages fall per factor by the matrix as eliminated last.
    fn falls(&mut self) -> Vec<f64> {
        self.parts.factor.right.fill(0.0);
        for power in self.parts.powers.iter().filter(|power| power.state == DemandState::Draws) {
            self.parts.factor.current(power.at(), power.watts / power.voltage(&self.parts.voltages));
        }
        let mut falls = vec![0.0; self.parts.order.unknowns + 1];
        self.parts.factor.again(&self.parts.order, &mut falls);
        falls
    }

    /// Newton's rule at a given voltage of the weakest demand, with the factor unknown instead.
    fn walk(&mut self, from: &Way, weakest: [usize; 2], factor: f64, target: f64) -> Option<(f64, Way)> {
        let stretch = (across(&from.voltages, weakest) - target) / across(&from.falls, weakest);
        self.parts.voltages.clone_from(&from.voltages);
        for (voltage, fall) in self.parts.voltages.iter_mut().zip(&from.falls) {
            *voltage -= stretch * fall;
        }
        self.parts.share = factor + stretch;
        for _ in 0..MOST_STEPS {
            self.step(true).ok()?;
            let falls = self.falls();
            // Voltages at the factor that gives the weakest demand its voltage.
            let more = (across(&self.parts.next, weakest) - target) / across(&falls, weakest);
            let mut moved = 0.0_f64;
            for ((next, fall), voltage) in self.parts.next.iter().zip(&falls).zip(&mut self.parts.voltages) {
                let goal = next - more * fall;
                moved = moved.max((goal - *voltage).abs());
                *voltage = goal;
            }
            self.parts.share += more;
            if !moved.is_finite() {
                return None;
            }
            if moved <= 1e-7 * target.abs() {
                let factor = self.parts.share;
                return (factor > 0.0).then(|| self.way(factor)).flatten().map(|way| (factor, way));
            }
        }
        None
    }
}
