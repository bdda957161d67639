//! How far it may come otherwise: samples of weather and of what loads take, day by day.

use std::ops::ControlFlow;

use rand_chacha::ChaCha8Rng;
use rand_core::SeedableRng;
use rand_distr::{Distribution, StandardNormal};

use super::Options;
use super::books::{Day, State};
use super::outcome::NOTHING_WH;
use super::run::Stage;
use crate::data::tables::constants;
use crate::quantity::Ratio;
use crate::study::tolerance::wilson;

/// Bins of a state of charge: half a per cent each.
const BINS: usize = 200;

/// The tenth, fiftieth and ninetieth of a hundred samples.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// One of ten lies lower.
    pub tenth: Ratio,
    /// Half lie lower.
    pub middle: Ratio,
    /// Nine of ten lie lower.
    pub ninetieth: Ratio,
}

/// Many samples of a stay.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// How many.
    pub samples: usize,
    /// Which.
    pub seed: u64,
    /// The chance that every load gets everything, with the ends of its 95 % interval (Wilson 1927).
    pub lasts: [f64; 3],
    /// By bank: the chance that its loads get everything.
    pub bank_lasts: Vec<f64>,
    /// By bank and day: state of charge at the day's end, within half a per cent.
    pub end: Vec<Vec<Spread>>,
    /// By bank: the lowest state of charge of the stay.
    pub lowest: Vec<Spread>,
}

/// Counts of many samples; adding them does not depend on their order.
struct Counts {
    end: Vec<u32>,
    lowest: Vec<u32>,
    lasted: usize,
    bank_lasted: Vec<usize>,
}

impl Counts {
    fn new(banks: usize, days: usize) -> Self {
        Self {
            end: vec![0; banks * days * (BINS + 1)],
            lowest: vec![0; banks * (BINS + 1)],
            lasted: 0,
            bank_lasted: vec![0; banks],
        }
    }

    fn add(&mut self, other: &Self) {
        for (mine, theirs) in [(&mut self.end, &other.end), (&mut self.lowest, &other.lowest)] {
            for (slot, count) in mine.iter_mut().zip(theirs) {
                *slot += count;
            }
        }
        self.lasted += other.lasted;
        for (slot, count) in self.bank_lasted.iter_mut().zip(&other.bank_lasted) {
            *slot += count;
        }
    }
}

fn bin(share: f64) -> usize {
    let place = (share.clamp(0.0, 1.0) * 200.0).floor();
    // A whole number from 0 to 200.
    #[expect(clippy::as_conversions, clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 200")]
    let index = place as usize;
    index
}

/// The latent mean of each day, such that a day so drawn is as bright in the mean as its month.
///
/// A day's brightness is `k·logistic(a + b·z)`, k the brightest that days get: bounded, and with the wide spread of grey
/// months and the narrow one of bright months.
pub(super) fn latent_means(mean: &dyn Fn(usize) -> Option<f64>, days: usize) -> Vec<Option<f64>> {
    let spread = (constants::SPREAD_DAY_LIGHT.powi(2) + constants::SPREAD_STAY_LIGHT.powi(2)).sqrt();
    let mean_of = |a: f64| {
        let (mut sum, mut weights) = (0.0, 0.0);
        for step in -40_i32..=40 {
            let z = f64::from(step) * 0.1;
            let weight = (-0.5 * z * z).exp();
            sum += weight / (1.0 + (-a - spread * z).exp());
            weights += weight;
        }
        sum / weights
    };
    let mut known: Vec<(f64, f64)> = Vec::new();
    let mut solve = |bright: f64| {
        if let Some((_, a)) = known.iter().find(|(one, _)| *one == bright) {
            return *a;
        }
        let target = (bright / constants::BRIGHTEST_DAY).clamp(1e-4, 1.0 - 1e-4);
        let (mut low, mut high) = (-20.0, 20.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if mean_of(middle) < target { low = middle } else { high = middle }
        }
        known.push((bright, low));
        low
    };
    (0..days).map(|day| mean(day).map(&mut solve)).collect()
}

/// The days of one sample.
pub(super) fn days(latent: &[Option<f64>], seed: u64, index: usize) -> Vec<Day> {
    let mut generator = ChaCha8Rng::seed_from_u64(seed);
    generator.set_stream(u64::try_from(index).unwrap_or(u64::MAX));
    let mut normal = || -> f64 { StandardNormal.sample(&mut generator) };
    let [stay_light, stay_load] = [normal(), normal()];
    let keeps = constants::DAY_AFTER_DAY;
    let mut day_light = normal();
    let mut found = Vec::with_capacity(latent.len());
    for mean in latent {
        let bright = mean.map(|mean| {
            let z = constants::SPREAD_DAY_LIGHT * day_light + constants::SPREAD_STAY_LIGHT * stay_light;
            constants::BRIGHTEST_DAY / (1.0 + (-mean - z).exp())
        });
        let load = (1.0 + constants::SPREAD_STAY_LOAD * stay_load) * (1.0 + constants::SPREAD_DAY_LOAD * normal());
        found.push(Day { bright, load: load.max(0.0) });
        day_light = keeps * day_light + (1.0 - keeps * keeps).sqrt() * normal();
    }
    found
}

/// Draws samples of a stay.
pub(super) fn band(stage: &Stage<'_>, start: &State, options: &Options<'_>) -> Band {
    let banks = stage.model.nets.len();
    let count = stage.profile.doing.len() / stage.profile.steps_per_day;
    let latent = latent_means(&|day| stage.light.mean_brightness(day), count);
    let work = |from: usize, to: usize| {
        let mut counts = Counts::new(banks, count);
        for index in from..to {
            sample(stage, start, &days(&latent, options.seed, index), &mut counts);
            if let Some(told) = options.told {
                told();
            }
        }
        counts
    };
    let share = options.samples.div_ceil(options.threads).max(1);
    let parts: Vec<(usize, usize)> =
        (0..options.samples).step_by(share).map(|from| (from, (from + share).min(options.samples))).collect();
    let work = &work;
    let mut all = Counts::new(banks, count);
    std::thread::scope(|scope| {
        let started: Vec<_> = parts.iter().map(|(from, to)| scope.spawn(move || work(*from, *to))).collect();
        for thread in started {
            // Should one panic, so do we: a part less would be a wrong answer.
            all.add(&thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)));
        }
    });
    let spreads = |bins: &[u32]| bins.chunks(BINS + 1).map(spread).collect::<Vec<_>>();
    let kept = |count: usize| wilson(count, options.samples);
    Band {
        samples: options.samples,
        seed: options.seed,
        lasts: kept(all.lasted),
        bank_lasts: all.bank_lasted.iter().map(|count| kept(*count)[0]).collect(),
        end: all.end.chunks((count * (BINS + 1)).max(1)).map(spreads).collect(),
        lowest: spreads(&all.lowest),
    }
}

fn sample(stage: &Stage<'_>, start: &State, days: &[Day], counts: &mut Counts) {
    let mut state = start.clone();
    let banks = stage.model.nets.len();
    let all_days = stage.profile.doing.len() / stage.profile.steps_per_day;
    let mut lowest: Vec<f64> = vec![1.0; banks];
    let mut unserved = vec![0.0; banks];
    let hours = stage.hours();
    stage.run(
        &mut state,
        |day| days.get(day).copied().unwrap_or_default(),
        |step, state, flows| {
            let ends = (step + 1) % stage.profile.steps_per_day == 0;
            for (place, (net, charge)) in stage.model.nets.iter().zip(&state.charge).enumerate() {
                let share = charge / net.bank.capacity;
                if let (Some(low), Some(sum), Some(flow)) =
                    (lowest.get_mut(place), unserved.get_mut(place), flows.get(place))
                {
                    *low = low.min(share);
                    *sum += flow.unserved * hours;
                }
                let day = step / stage.profile.steps_per_day;
                if ends && let Some(slot) = counts.end.get_mut((place * all_days + day) * (BINS + 1) + bin(share)) {
                    *slot += 1;
                }
            }
            ControlFlow::Continue(())
        },
    );
    for (place, low) in lowest.iter().enumerate() {
        if let Some(slot) = counts.lowest.get_mut(place * (BINS + 1) + bin(*low)) {
            *slot += 1;
        }
    }
    let lasts = |sum: &f64| *sum <= NOTHING_WH;
    counts.lasted += usize::from(unserved.iter().all(lasts));
    for (slot, sum) in counts.bank_lasted.iter_mut().zip(&unserved) {
        *slot += usize::from(lasts(sum));
    }
}

/// The lower ends of the bins that a tenth, half and nine tenths of the counts reach.
fn spread(bins: &[u32]) -> Spread {
    let all: u32 = bins.iter().sum();
    let reach = |tenths: u32| {
        let mut sum = 0;
        let place = bins.iter().position(|count| {
            sum += count;
            sum * 10 >= all * tenths
        });
        Ratio::from(f64::from(u32::try_from(place.unwrap_or_default()).unwrap_or_default()) / 200.0)
    };
    Spread { tenth: reach(1), middle: reach(5), ninetieth: reach(9) }
}
