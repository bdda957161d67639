//! Where in its spread each quantity of a variant lies.

use super::Spreads;
use crate::installation::{Battery, ConductorChoice, Installation, Run};
use rand_chacha::ChaCha8Rng;
use rand_core::{RngCore, SeedableRng};

/// The kinds of quantities.
pub(super) const GROUPS: [&str; 5] = ["conductors", "joints", "air", "voltages", "losses"];

/// A variant.
#[derive(Clone, Debug)]
pub(super) enum Draw {
    /// One quantity at its low or high end, by its number; everything else as judged.
    One { quantity: usize, high: bool },
    /// Every quantity at its low or high end.
    Ends(Vec<bool>),
    /// Every quantity by itself, from a stream of its own for every index.
    Random { seed: u64, index: usize },
}

/// The quantities of one variant.
pub(super) struct Variant {
    pub(super) conductors: Vec<f64>,
    pub(super) joints: Vec<f64>,
    pub(super) links: Vec<f64>,
    /// Kelvin over the hottest air.
    pub(super) air: f64,
    pub(super) batteries: Vec<f64>,
    pub(super) alternators: Vec<f64>,
    pub(super) losses: Vec<f64>,
}

/// What varies together, by the number of its draw: conductors of one size come from one drum, or single draws would average
/// out; batteries of one kind, or those that are joined would be drawn apart and fight.
pub(super) struct Together {
    conductors: Vec<usize>,
    batteries: Vec<usize>,
}

/// For every item the number of its kind, kinds counted from 0 without gaps.
fn alike<T>(items: &[T], same: impl Fn(&T, &T) -> bool) -> Vec<usize> {
    let mut firsts: Vec<&T> = Vec::new();
    let number = |item| {
        firsts.iter().position(|first| same(first, item)).unwrap_or_else(|| {
            firsts.push(item);
            firsts.len() - 1
        })
    };
    items.iter().map(number).collect()
}

fn count(numbers: &[usize]) -> usize {
    numbers.iter().max().map_or(0, |most| most + 1)
}

impl Together {
    pub(super) fn of(plan: &Installation) -> Self {
        let same_conductor = |one: &Run, other: &Run| match (one.conductor, other.conductor) {
            (ConductorChoice::Fixed(one), ConductorChoice::Fixed(other)) => one == other,
            _ => false,
        };
        let same_battery =
            |one: &Battery, other: &Battery| one.chemistry == other.chemistry && one.nominal == other.nominal;
        Self { conductors: alike(&plan.runs, same_conductor), batteries: alike(&plan.batteries, same_battery) }
    }
}

/// The group of every quantity, in the order in which a variant draws them.
pub(super) fn groups(plan: &Installation, together: &Together) -> Vec<usize> {
    let counts = [
        (0, count(&together.conductors)),
        (1, plan.runs.len() + plan.links.len()),
        (2, 1),
        (3, count(&together.batteries) + plan.alternators.len()),
        (4, plan.converters.len()),
    ];
    counts.into_iter().flat_map(|(group, count)| std::iter::repeat_n(group, count)).collect()
}

impl Variant {
    pub(super) fn of(plan: &Installation, together: &Together, spreads: &Spreads, draw: &Draw) -> Self {
        let ratios = |ends: [crate::quantity::Ratio; 2]| ends.map(|end| end.value);
        let spread_out = |numbers: &[usize], drawn: &[f64]| -> Vec<f64> {
            numbers.iter().map(|number| drawn.get(*number).copied().unwrap_or(1.0)).collect()
        };
        let mut quantities = Quantities::of(draw);
        let drums = quantities.many(count(&together.conductors), ratios(spreads.conductor));
        let conductors = spread_out(&together.conductors, &drums);
        let (runs, links) =
            (quantities.joints(plan.runs.len(), spreads.joint), quantities.joints(plan.links.len(), spreads.joint));
        let air = quantities.next(spreads.ambient.map(|end| end.value), 0.0);
        let sources = ratios(spreads.source);
        let kinds = quantities.many(count(&together.batteries), sources);
        let batteries = spread_out(&together.batteries, &kinds);
        let alternators = quantities.many(plan.alternators.len(), sources);
        let losses = quantities.many(plan.converters.len(), ratios(spreads.loss));
        Self { conductors, joints: runs, links, air, batteries, alternators, losses }
    }
}

/// One quantity after the other.
struct Quantities<'a> {
    draw: &'a Draw,
    stream: Option<Box<ChaCha8Rng>>,
    drawn: usize,
}

impl<'a> Quantities<'a> {
    fn of(draw: &'a Draw) -> Self {
        let stream = match draw {
            Draw::Random { seed, index } => {
                let mut stream = ChaCha8Rng::seed_from_u64(*seed);
                stream.set_stream(u64::try_from(*index).unwrap_or(u64::MAX));
                Some(Box::new(stream))
            }
            Draw::One { .. } | Draw::Ends(_) => None,
        };
        Self { draw, stream, drawn: 0 }
    }

    /// So many factors, 1 as judged.
    fn many(&mut self, count: usize, ends: [f64; 2]) -> Vec<f64> {
        (0..count).map(|_| self.next(ends, 1.0)).collect()
    }

    /// So many factors whose logarithm is even: joints are as often so many times better as worse.
    fn joints(&mut self, count: usize, ends: [crate::quantity::Ratio; 2]) -> Vec<f64> {
        let logarithms = ends.map(|end| end.value.ln());
        (0..count).map(|_| self.next(logarithms, 0.0).exp()).collect()
    }

    /// The next quantity, between its ends or as judged.
    fn next(&mut self, [low, high]: [f64; 2], judged: f64) -> f64 {
        let number = self.drawn;
        self.drawn += 1;
        match self.draw {
            Draw::One { quantity, high: at_high } if *quantity == number => {
                if *at_high {
                    high
                } else {
                    low
                }
            }
            Draw::One { .. } => judged,
            Draw::Ends(ends) => match ends.get(number) {
                Some(true) => high,
                Some(false) => low,
                None => judged,
            },
            Draw::Random { .. } => low + (high - low) * self.stream.as_mut().map_or(0.5, |stream| share(stream)),
        }
    }
}

/// A number from 0 to below 1, of the 53 bits that a float holds.
fn share(stream: &mut ChaCha8Rng) -> f64 {
    let bits = stream.next_u64() >> 11;
    let high = u32::try_from(bits >> 32).map_or(0.0, f64::from);
    let low = u32::try_from(bits & 0xFFFF_FFFF).map_or(0.0, f64::from);
    (high * 4_294_967_296.0 + low) / 9_007_199_254_740_992.0
}
