//! How surely a plan holds: thousands of variants of it, in which resistances, joints, air, source voltages and losses lie
//! somewhere within their spread, and for every limit the corner where each of them lies at its worse end.
//!
//! Everything that is the same in all variants is worked out once: the networks of the cases, the order of their
//! elimination, what is watched. A variant changes numbers and solves. Temperatures follow to first order: a stretch sheds
//! per kelvin what it does at the judged point. Without any spread a variant is the judged plan, which a test holds.
//!
//! ```
//! use loomwright::study::{judge::judge, tolerance::{Options, tolerance}};
//! use loomwright::text::read_plan;
//! let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
//! let found = tolerance(&judge(&plan)?, &Options { samples: 200, ..Options::default() })?;
//! assert!(found.limits.iter().all(|limit| limit.kept <= 200));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod draw;
mod model;
mod record;
mod variant;

use crate::data::tables::constants;
use crate::finding::Signal;
use crate::network::NetworkError;
use crate::quantity::{Ratio, TemperatureInterval};
use crate::study::judge::Judgement;
use draw::{Draw, GROUPS, groups};
use model::{Limit, Model};
pub use record::{LimitRecord, ToleranceRecord};
use thiserror::Error;
use uom::si::ratio::ratio;
use uom::si::temperature_interval::kelvin;
use variant::Bench;

/// Most variants.
pub const MOST_SAMPLES: usize = 1_000_000;
/// Most variants times limits: what is kept of them takes 400 MB.
const MOST_MARGINS: usize = 50_000_000;
/// Effects on a reciprocal margin below this are none.
const LEAST_EFFECT: f64 = 1e-4;
/// Most threads.
pub const MOST_THREADS: usize = 256;

/// From what to what each quantity may lie; see [`Spreads::default`] for where the defaults come from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spreads {
    /// Resistance of conductors over the one that counts, size by size, evenly in between.
    pub conductor: [Ratio; 2],
    /// Resistance of the joints of each run over the one that counts, its logarithm evenly in between.
    pub joint: [Ratio; 2],
    /// The air of every zone over its hottest, all together, evenly in between.
    pub ambient: [TemperatureInterval; 2],
    /// Voltage of batteries, kind by kind, and of each alternator over the one that counts, evenly in between.
    pub source: [Ratio; 2],
    /// Losses of each converter over those that count, evenly in between.
    pub loss: [Ratio; 2],
}

impl Default for Spreads {
    /// Common practice, no source: conductors 0.94 to 1 times their standard's largest resistance, joints 0.3 to 2 times the one
    /// that counts, air from 20 K below the hottest to 5 K above it, voltages within 2 %, losses 0.9 to 1.2 times.
    fn default() -> Self {
        let both = |low: f64, high: f64| [low, high].map(Ratio::new::<ratio>);
        let ambient = [-constants::SPREAD_AMBIENT_BELOW_K, constants::SPREAD_AMBIENT_ABOVE_K];
        Self {
            conductor: both(constants::SPREAD_CONDUCTOR_LOW, 1.0),
            joint: both(constants::SPREAD_JOINT_LOW, constants::SPREAD_JOINT_HIGH),
            ambient: ambient.map(TemperatureInterval::new::<kelvin>),
            source: both(1.0 - constants::SPREAD_SOURCE, 1.0 + constants::SPREAD_SOURCE),
            loss: both(constants::SPREAD_LOSS_LOW, constants::SPREAD_LOSS_HIGH),
        }
    }
}

impl Spreads {
    /// No spread at all: every variant is the judged plan.
    pub fn none() -> Self {
        let one = [Ratio::new::<ratio>(1.0); 2];
        Self { conductor: one, joint: one, ambient: [TemperatureInterval::default(); 2], source: one, loss: one }
    }
}

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// How many variants, 1 to [`MOST_SAMPLES`].
    pub samples: usize,
    /// Which: the same seed gives the same variants, on any number of threads.
    pub seed: u64,
    /// On how many threads, 1 to [`MOST_THREADS`].
    pub threads: usize,
    /// How far quantities spread.
    pub spreads: Spreads,
}

impl Default for Options {
    fn default() -> Self {
        Self { samples: 10_000, seed: 1, threads: 1, spreads: Spreads::default() }
    }
}

/// Why no tolerance could be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ToleranceError {
    /// Too few or too many variants.
    #[error("{0} samples; 1 to {MOST_SAMPLES} are drawn")]
    Samples(usize),
    /// Too many variants of so large a plan.
    #[error("{samples} samples of a plan with {limits} limits; at most {most} fit")]
    TooMuch {
        /// What was asked for.
        samples: usize,
        /// What is watched.
        limits: usize,
        /// What fits.
        most: usize,
    },
    /// Too few or too many threads.
    #[error("{0} threads; 1 to {MOST_THREADS} are started")]
    Threads(usize),
    /// A spread that is none.
    #[error(
        "the spread of {0} runs from its low to its high end; ratios are above 0 and at most 100, air within 100 K"
    )]
    Spread(&'static str),
    /// A variant's network could not be computed.
    #[error("a variant cannot be computed: {0}")]
    Network(#[from] NetworkError),
}

/// One limit over all variants.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitTolerance {
    /// The rule.
    pub rule: &'static str,
    /// What it is about.
    pub subject: String,
    /// The case of least margin in the judged plan.
    pub case: String,
    /// How far the judged plan meets it: 1 or more passes.
    pub margin: f64,
    /// In how many variants it is kept.
    pub kept: usize,
    /// The chance that it is kept, with the ends of its 95 % interval (Wilson 1927).
    pub chance: [f64; 3],
    /// The margin that nineteen of twenty variants reach.
    pub fifth_percentile: f64,
    /// The margin where every quantity lies at the end that is the worse for this limit.
    pub worst_corner: f64,
    /// The kind of quantity that moves it most; `None` where nothing does.
    pub moved_by: Option<&'static str>,
    /// How it is told when it is not kept.
    pub failing: Signal,
}

/// A plan over all variants.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerance {
    /// Name of the plan.
    pub name: String,
    /// How many variants.
    pub samples: usize,
    /// Which.
    pub seed: u64,
    /// How far quantities spread.
    pub spreads: Spreads,
    /// Every limit, the one that is kept least often first, then by margin.
    pub limits: Vec<LimitTolerance>,
}

/// Draws variants of a judged plan and tells how often each of its limits is kept.
///
/// ```
/// use loomwright::study::{judge::judge, tolerance::{Options, Spreads, tolerance}};
/// let text = include_str!("../../../examples/lamp.toml");
/// let judgement = judge(&loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?)?;
/// let found = tolerance(&judgement, &Options { samples: 50, spreads: Spreads::none(), ..Options::default() })?;
/// assert!(found.limits.iter().all(|limit| limit.kept == 0 || limit.kept == 50)); // all variants are the plan
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`ToleranceError`] when an option is out of range, or a variant cannot be computed.
pub fn tolerance(judgement: &Judgement, options: &Options) -> Result<Tolerance, ToleranceError> {
    if !(1..=MOST_SAMPLES).contains(&options.samples) {
        return Err(ToleranceError::Samples(options.samples));
    }
    if !(1..=MOST_THREADS).contains(&options.threads) {
        return Err(ToleranceError::Threads(options.threads));
    }
    check(&options.spreads)?;
    let model = Model::new(judgement);
    let most = MOST_MARGINS / model.limits.len().max(1);
    if options.samples > most {
        let (samples, limits) = (options.samples, model.limits.len());
        return Err(ToleranceError::TooMuch { samples, limits, most });
    }
    let groups = groups(&judgement.installation, &model.together);
    let spreads = &options.spreads;
    let one = |quantity| [false, true].map(|high| Draw::One { quantity, high });
    let singles: Vec<Draw> = (0..groups.len()).flat_map(one).collect();
    let singles = run(&model, spreads, options.threads, &singles)?;
    // For every limit the corner where each quantity stands at the end that is the worse for it.
    let margin = |draw: usize, place: usize| singles.get(draw).and_then(|margins| margins.get(place)).copied();
    let ends = |place: usize| {
        let worse = |quantity: usize| margin(2 * quantity + 1, place) < margin(2 * quantity, place);
        Draw::Ends((0..groups.len()).map(worse).collect())
    };
    let corners: Vec<Draw> = (0..model.limits.len()).map(ends).collect();
    let corners = run(&model, spreads, options.threads, &corners)?;
    let draws: Vec<Draw> = (0..options.samples).map(|index| Draw::Random { seed: options.seed, index }).collect();
    let sampled = run(&model, spreads, options.threads, &draws)?;
    let limits = model.limits.iter().enumerate().filter_map(|(place, of)| {
        let sampled: Vec<f64> = sampled.iter().filter_map(|margins| margins.get(place).copied()).collect();
        // The judged plan and every variant lie within: the corner is no better than any of them. Ends are found one by one, and
        // where two quantities bear on one another, as a resistance and the current that it lets a battery take, a variant may
        // be worse.
        let corner = sampled.iter().copied().fold(corners.get(place)?.get(place)?.min(of.nominal), f64::min);
        let moved_by = moved_by(&groups, &|draw| margin(draw, place));
        Some(LimitTolerance { moved_by, ..limit(of, sampled, corner)? })
    });
    let mut limits: Vec<LimitTolerance> = limits.collect();
    limits
        .sort_by(|one, other| one.kept.cmp(&other.kept).then(one.fifth_percentile.total_cmp(&other.fifth_percentile)));
    Ok(Tolerance {
        name: judgement.installation.name.clone(),
        samples: options.samples,
        seed: options.seed,
        spreads: options.spreads,
        limits,
    })
}

/// Refuses spreads whose ends are the wrong way round, or that no wiring has.
fn check(spreads: &Spreads) -> Result<(), ToleranceError> {
    let ratios = [
        ("conductors", spreads.conductor),
        ("joints", spreads.joint),
        ("voltages", spreads.source),
        ("losses", spreads.loss),
    ];
    for (name, [low, high]) in ratios {
        if !(low.value > 0.0 && low <= high && high.value <= 100.0) {
            return Err(ToleranceError::Spread(name));
        }
    }
    let [low, high] = spreads.ambient;
    if low > high || low.value.abs() > 100.0 || high.value.abs() > 100.0 || !(low + high).value.is_finite() {
        return Err(ToleranceError::Spread("air"));
    }
    Ok(())
}

/// The margins of every limit in every variant, in the order of the draws, whatever the threads.
fn run(model: &Model<'_>, spreads: &Spreads, threads: usize, draws: &[Draw]) -> Result<Vec<Vec<f64>>, ToleranceError> {
    let share = draws.len().div_ceil(threads).max(1);
    let work = |draws: &[Draw]| -> Result<Vec<Vec<f64>>, NetworkError> {
        let mut bench = Bench::new(model);
        draws.iter().map(|draw| bench.margins(model, spreads, draw)).collect()
    };
    if threads == 1 {
        return Ok(work(draws)?);
    }
    let parts: Vec<Result<Vec<Vec<f64>>, NetworkError>> = std::thread::scope(|scope| {
        let started: Vec<_> = draws.chunks(share).map(|part| scope.spawn(move || work(part))).collect();
        // Should one panic, so do we: a part less would put every result that follows in the wrong place.
        started
            .into_iter()
            .map(|thread| thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
            .collect()
    });
    let mut all = Vec::with_capacity(draws.len());
    for part in parts {
        all.extend(part?);
    }
    Ok(all)
}

/// The group that moves a limit most: the square root of the sum of the squares of what each of its quantities moves, as
/// they vary by themselves.
fn moved_by(groups: &[usize], margin: &dyn Fn(usize) -> Option<f64>) -> Option<&'static str> {
    let reciprocal = |draw: usize| margin(draw).map_or(0.0, |margin| 1.0 / margin.max(1e-9));
    let mut squares = [0.0; GROUPS.len()];
    for (quantity, group) in groups.iter().enumerate() {
        let moved: f64 = reciprocal(2 * quantity + 1) - reciprocal(2 * quantity);
        if let Some(sum) = squares.get_mut(*group) {
            *sum += moved * moved;
        }
    }
    let most = squares.iter().enumerate().max_by(|one, other| one.1.total_cmp(other.1))?;
    GROUPS.get(most.0).copied().filter(|_| most.1.sqrt() > LEAST_EFFECT)
}

/// One limit from its margins.
fn limit(of: &Limit, mut sampled: Vec<f64>, worst_corner: f64) -> Option<LimitTolerance> {
    let kept = sampled.iter().filter(|margin| **margin >= 1.0 - 1e-9).count();
    let count = sampled.len();
    let twentieth = (count / 20).min(count.checked_sub(1)?);
    let fifth_percentile = *sampled.select_nth_unstable_by(twentieth, f64::total_cmp).1;
    Some(LimitTolerance {
        rule: of.rule,
        subject: of.subject.clone(),
        case: of.case.clone(),
        margin: of.nominal,
        kept,
        chance: wilson(kept, count),
        fifth_percentile,
        worst_corner,
        moved_by: None,
        failing: of.failing,
    })
}

/// A share of successes with the ends of its 95 % interval, by the score of E. B. Wilson (1927): it holds for shares near 0
/// and 1 too.
///
/// ```
/// use loomwright::study::tolerance::wilson;
/// let [share, low, high] = wilson(10, 10);
/// assert_eq!((share, high), (1.0, 1.0));
/// assert!((low - 0.7225).abs() < 1e-4);
/// ```
pub fn wilson(kept: usize, of: usize) -> [f64; 3] {
    // Counts stay below a million: they are exact.
    let number = |count: usize| u32::try_from(count).map_or(f64::from(u32::MAX), f64::from);
    let (kept, n, z) = (number(kept), number(of.max(1)), 1.959_963_984_540_054_f64);
    let share = kept / n;
    let middle = (share + z * z / (2.0 * n)) / (1.0 + z * z / n);
    let half = z / (1.0 + z * z / n) * (share * (1.0 - share) / n + z * z / (4.0 * n * n)).sqrt();
    // Rounding leaves a hair at the ends.
    let low = if kept == 0.0 { 0.0 } else { (middle - half).max(0.0) };
    [share, low, if kept == n { 1.0 } else { (middle + half).min(1.0) }]
}
