//! The constrained least squares behind a fit. Bare numbers: outputs and losses as shares of rated output.
//!
//! Wanted is x = (p₀, k₁, k₂) with the least Σ(w·(x·(1, p, p²) − l))² among all whose loss is nowhere below
//! [`LEAST_LOSS`](constants::LEAST_LOSS) and whose input rises everywhere, for p from 0 to 1. The slope of the input
//! is straight in p, so its two ends decide. The loss is held at both ends and, where a curve dips between them, at
//! the lowest place of the dip; then again, until no dip is left (the exchange method for conditions at endlessly many
//! places). Each round is a convex problem in three unknowns with few conditions: an orthogonal triangle turns it into
//! the point nearest to the free optimum, which lies where at most three conditions meet, and all of those are tried.

use crate::data::tables::constants;

type Three = [f64; 3];

/// One efficiency point: output and loss as shares of rated output, and its weight.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point {
    pub(super) output: f64,
    pub(super) loss: f64,
    pub(super) weight: f64,
}

/// `of · x ≥ least`.
#[derive(Clone, Copy, Debug)]
struct Condition {
    of: Three,
    least: f64,
}

impl Condition {
    /// The loss at an output is not below the least.
    fn loss_at(output: f64) -> Self {
        Self { of: [1.0, output, output * output], least: constants::LEAST_LOSS }
    }

    /// The input rises at an output: 1 + k₁ + 2·k₂·p.
    fn input_rises_at(output: f64) -> Self {
        Self { of: [0.0, 1.0, 2.0 * output], least: constants::LEAST_INPUT_SLOPE - 1.0 }
    }
}

fn dot(one: Three, other: Three) -> f64 {
    let [a, b, c] = one;
    let [d, e, f] = other;
    a * d + b * e + c * f
}

/// Brings a column to length 1 and returns the length it had; nothing when none was left.
fn normalise(column: &mut [f64]) -> Option<f64> {
    let length = column.iter().map(|each| each * each).sum::<f64>().sqrt();
    column.iter_mut().for_each(|each| *each /= length);
    (length > 1e-12).then_some(length)
}

/// Takes out of `from` what lies along `unit`, and returns how much it was.
fn remove(unit: &[f64], from: &mut [f64]) -> f64 {
    let along = unit.iter().zip(&*from).map(|(one, other)| one * other).sum::<f64>();
    from.iter_mut().zip(unit).for_each(|(each, one)| *each -= along * one);
    along
}

/// The problem in orthogonal coordinates y = R·x, in which the sum of squares is a distance from `free`.
struct Triangle {
    diagonal: Three,
    /// Places (1,2), (1,3) and (2,3) of R.
    above: Three,
    free: Three,
}

impl Triangle {
    /// Modified Gram–Schmidt; nothing when the points do not fix three coefficients.
    fn new(points: &[Point]) -> Option<Self> {
        let column = |of: fn(&Point) -> f64| points.iter().map(|point| point.weight * of(point)).collect::<Vec<_>>();
        let mut first = column(|_| 1.0);
        let mut second = column(|point| point.output);
        let mut third = column(|point| point.output * point.output);
        let mut wanted = column(|point| point.loss);
        let d1 = normalise(&mut first)?;
        let (a12, a13, f1) = (remove(&first, &mut second), remove(&first, &mut third), remove(&first, &mut wanted));
        let d2 = normalise(&mut second)?;
        let (a23, f2) = (remove(&second, &mut third), remove(&second, &mut wanted));
        let d3 = normalise(&mut third)?;
        let f3 = remove(&third, &mut wanted);
        Some(Self { diagonal: [d1, d2, d3], above: [a12, a13, a23], free: [f1, f2, f3] })
    }

    /// x of y.
    fn coefficients(&self, [y1, y2, y3]: Three) -> Three {
        let ([d1, d2, d3], [a12, a13, a23]) = (self.diagonal, self.above);
        let x3 = y3 / d3;
        let x2 = (y2 - a23 * x3) / d2;
        [(y1 - a12 * x2 - a13 * x3) / d1, x2, x3]
    }

    /// A condition on x as one on the step from `free`, its direction of length 1.
    fn condition(&self, condition: &Condition) -> Condition {
        let ([d1, d2, d3], [a12, a13, a23], [c1, c2, c3]) = (self.diagonal, self.above, condition.of);
        let g1 = c1 / d1;
        let g2 = (c2 - a12 * g1) / d2;
        let of = [g1, g2, (c3 - a13 * g1 - a23 * g2) / d3];
        let length = dot(of, of).sqrt();
        Condition { of: of.map(|each| each / length), least: (condition.least - dot(of, self.free)) / length }
    }

    /// The best coefficients under conditions, and which of them decide.
    fn best(&self, conditions: &[Condition]) -> Option<(Three, Vec<bool>)> {
        let conditions: Vec<Condition> = conditions.iter().map(|each| self.condition(each)).collect();
        let sets = 0_u32..1 << conditions.len().min(20);
        let candidates = sets.filter(|set| set.count_ones() <= 3).filter_map(|set| {
            let chosen: Vec<bool> = (0_u32..).zip(&conditions).map(|(bit, _)| set >> bit & 1 == 1).collect();
            let step = meet(conditions.iter().zip(&chosen).filter(|(_, chosen)| **chosen).map(|(each, _)| each))?;
            let length = dot(step, step);
            let slack = 1e-13 * (1.0 + length.sqrt());
            let holds = conditions.iter().all(|each| dot(each.of, step) >= each.least - slack);
            holds.then_some((length, step, chosen))
        });
        let (_, step, chosen) = candidates.min_by(|one, other| one.0.total_cmp(&other.0))?;
        let ([f1, f2, f3], [s1, s2, s3]) = (self.free, step);
        Some((self.coefficients([f1 + s1, f2 + s2, f3 + s3]), chosen))
    }
}

/// The shortest step onto all conditions at once; nothing where two of them are the same direction.
fn meet<'a>(conditions: impl Iterator<Item = &'a Condition>) -> Option<Three> {
    let mut basis: Vec<Three> = Vec::new();
    let mut step = [0.0; 3];
    for condition in conditions {
        let mut rest = condition.of;
        for unit in &basis {
            remove(unit, &mut rest);
        }
        // All directions have length 1, so what is left says how much a condition differs from those before it.
        let length = normalise(&mut rest).filter(|length| *length > 1e-9)?;
        let missing = (condition.least - dot(condition.of, step)) / length;
        step.iter_mut().zip(rest).for_each(|(each, one)| *each += missing * one);
        basis.push(rest);
    }
    Some(step)
}

/// Where the loss is least between no and rated output, and how much it is there.
fn lowest([own, linear, quadratic]: Three) -> (f64, f64) {
    let turn = if quadratic > 0.0 { (-0.5 * linear / quadratic).clamp(0.0, 1.0) } else { 0.0 };
    let loss = |output: f64| own + output * (linear + output * quadratic);
    let places = [0.0, turn, 1.0].map(|output| (output, loss(output)));
    places.into_iter().min_by(|one, other| one.1.total_cmp(&other.1)).unwrap_or_default()
}

/// A dip this much below the least loss is none, as a share of rated output.
const NO_DIP: f64 = 1e-14;

/// p₀, k₁ and k₂ per rated output; nothing when the points do not fix them.
pub(super) fn solve(points: &[Point]) -> Option<Three> {
    let triangle = Triangle::new(points)?;
    let ends = [
        Condition::loss_at(0.0),
        Condition::loss_at(1.0),
        Condition::input_rises_at(0.0),
        Condition::input_rises_at(1.0),
    ];
    let mut held: Vec<f64> = Vec::new();
    let mut best = [0.0; 3];
    // Dips shrink to a quarter or faster.
    for _ in 0..60 {
        let conditions: Vec<Condition> =
            ends.into_iter().chain(held.iter().map(|output| Condition::loss_at(*output))).collect();
        let (found, deciding) = triangle.best(&conditions)?;
        best = found;
        let (place, loss) = lowest(best);
        if loss >= constants::LEAST_LOSS - NO_DIP {
            break;
        }
        // What did not decide may go: the sum of squares only grows, so no round comes back.
        let keep: Vec<bool> = deciding.into_iter().skip(ends.len()).collect();
        held = held.into_iter().zip(keep).filter(|(_, deciding)| *deciding).map(|(output, _)| output).collect();
        held.push(place);
    }
    let [own, linear, quadratic] = best;
    Some([own + (constants::LEAST_LOSS - lowest(best).1).max(0.0), linear, quadratic])
}
