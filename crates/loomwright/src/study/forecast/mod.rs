//! Does it last the stay, and does it fill on the drive?
//!
//! A stay is stepped through by its middles: in each step every bank of batteries settles with its sources and loads at one
//! voltage, and the books close: what came in is stored, lost or used. Where the sun stands and what a clear sky gives is
//! worked out once and shared by every sample.
//!
//! ```
//! use loomwright::study::{forecast::{Options, forecast}, judge::judge};
//! use loomwright::text::read_plan;
//! let plan = read_plan(include_str!("../../../examples/cabin.toml")).map_err(|errors| format!("{errors:?}"))?;
//! let found = forecast(&judge(&plan)?, &Options::default())?;
//! let stay = &found.stays[0];
//! assert!(stay.banks[0].lowest_charge >= stay.banks[0].floor);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod band;
mod bank;
mod books;
mod coupling;
mod findings;
mod inverse;
mod light;
mod model;
mod node;
mod outcome;
mod profile;
mod questions;
mod record;
mod run;
#[cfg(test)]
mod tests;

pub use band::{Band, Spread};
pub use inverse::{Enlarged, Size, Sized};
pub use outcome::{BankOutcome, CouplingOutcome, DayOutcome, Energies, StayOutcome, StepOutcome};
pub use questions::BankAnswers;
pub use record::{
    ArrayRecord, BankRecord, CouplingRecord, DayRecord, EnergyRecord, ForecastRecord, SizedRecord, StayRecord,
    StepRecord,
};

use jiff::civil::Date;
use thiserror::Error;

use crate::quantity::Ratio;
use crate::source::SourceError;
use crate::source::solar::{SolarError, Weather};
use crate::study::judge::Judgement;
use books::{Sources, State};
use light::Light;
use model::Model;
use profile::Profile;
use run::Stage;

/// Steps of a day that are taken.
pub const STEPS_PER_DAY: [u32; 7] = [24, 48, 96, 144, 288, 720, 1440];
/// Most samples.
pub const MOST_SAMPLES: usize = 100_000;
/// Most steps of all stays times banks; where every step is kept, a tenth of that.
const MOST_STEPS: u64 = 20_000_000;
/// Most threads.
pub const MOST_THREADS: usize = 256;

/// What is asked.
#[derive(Clone)]
pub struct Options<'a> {
    /// One stay only, by its name.
    pub stay: Option<&'a str>,
    /// Steps of a day, one of [`STEPS_PER_DAY`]: 96 are steps of 15 min. A stay takes more where drives and shore power do not
    /// begin and end with a step.
    pub steps_per_day: u32,
    /// Measured weather instead of the place's climate.
    pub weather: Option<&'a Weather>,
    /// How many samples of weather and loads are drawn; 0 for none.
    pub samples: usize,
    /// Which: the same seed gives the same samples, on any number of threads.
    pub seed: u64,
    /// On how many threads, 1 to [`MOST_THREADS`].
    pub threads: usize,
    /// The level to which the hours of driving are told, besides full.
    pub level: Ratio,
    /// What is to be sized so that the stay is lasted.
    pub size: Option<Size>,
    /// Whether every step is kept, not only every day.
    pub series: bool,
    /// Is told after each sample, from whichever thread it was on.
    pub told: Option<&'a (dyn Fn() + Sync)>,
}

impl Default for Options<'_> {
    fn default() -> Self {
        Self {
            stay: None,
            steps_per_day: 96,
            weather: None,
            samples: 0,
            seed: 1,
            threads: 1,
            level: Ratio::from(0.8),
            size: None,
            series: false,
            told: None,
        }
    }
}

/// Why there is no forecast.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ForecastError {
    /// No stay in the plan.
    #[error("the plan has no stay; add [places.NAME] and [stays.NAME] with its first and last day")]
    NoStay,
    /// A stay that the plan does not have.
    #[error("{given:?} is no stay of this plan; known: {known}")]
    UnknownStay {
        /// What was asked for.
        given: String,
        /// What there is.
        known: String,
    },
    /// Nothing that stores.
    #[error("the plan has no battery whose terminals are known")]
    NoBattery,
    /// Chargers in a ring.
    #[error("chargers feed one another in a ring: the forecast cannot tell which bank is charged from which")]
    Ring,
    /// More banks than a forecast books.
    #[error("the plan has {0} banks of batteries apart; at most {most} are forecast", most = books::MOST_BANKS)]
    TooManyBanks(usize),
    /// More sources at a bank than a forecast books.
    #[error("more than {most} chargers, controllers and alternators end at {0}", most = books::MOST_SOURCES)]
    TooManySources(String),
    /// Months that nobody stated.
    #[error(
        "the place {place} has arrays in its sun but no climate; add climate = \"…\", or irradiation and air, or give measured weather"
    )]
    NoClimate {
        /// The place.
        place: String,
    },
    /// Weather that does not cover a stay.
    #[error("the measured weather does not cover the stay {stay} from {from} to {to}")]
    Weather {
        /// The stay.
        stay: String,
        /// Its first day.
        from: Date,
        /// Its last day.
        to: Date,
    },
    /// More steps than are taken.
    #[error("{0} steps of all banks and stays; at most {1} are taken: ask for one stay, or longer steps")]
    TooMuch(u64, u64),
    /// A step that is none.
    #[error("{0} steps a day; 24, 48, 96, 144, 288, 720 or 1440 are taken")]
    Steps(u32),
    /// Too many samples.
    #[error("{0} samples; at most {MOST_SAMPLES} are drawn")]
    Samples(usize),
    /// Too few or too many threads.
    #[error("{0} threads; 1 to {MOST_THREADS} are started")]
    Threads(usize),
    /// A level that is no state of charge.
    #[error("the level of driving is a state of charge, 1 % to 100 %")]
    Level,
    /// Nothing of that kind to size.
    #[error("there is nothing to size: {0}")]
    NothingToSize(&'static str),
    /// A battery's values out of range.
    #[error(transparent)]
    Source(#[from] SourceError),
    /// A sun out of range.
    #[error(transparent)]
    Sun(#[from] SolarError),
}

/// A plan over its stays.
#[derive(Clone, Debug)]
pub struct Forecast {
    /// Name of the plan.
    pub name: String,
    /// Whether the plan's wiring holds, as `check` judges it.
    pub plan_holds: bool,
    /// Every stay, in order of its dates.
    pub stays: Vec<StayOutcome>,
    /// Loads that hang on no battery.
    pub unfed: Vec<String>,
    /// What a forecast takes for granted.
    pub assumptions: Vec<(String, &'static crate::data::Source)>,
}

impl Forecast {
    /// Whether every stay is lasted.
    pub fn holds(&self) -> bool {
        self.stays.iter().all(StayOutcome::holds)
    }
}

fn check(options: &Options<'_>) -> Result<(), ForecastError> {
    if !STEPS_PER_DAY.contains(&options.steps_per_day) {
        return Err(ForecastError::Steps(options.steps_per_day));
    }
    if options.samples > MOST_SAMPLES {
        return Err(ForecastError::Samples(options.samples));
    }
    if !(1..=MOST_THREADS).contains(&options.threads) {
        return Err(ForecastError::Threads(options.threads));
    }
    if !(0.01..=1.0).contains(&options.level.value) {
        return Err(ForecastError::Level);
    }
    Ok(())
}

/// So many steps a day, or as many more as it takes for drives and shore power to begin and end with one: a charger holds its
/// voltage for the whole of a step.
fn aligned(stay: &crate::installation::Stay, steps_per_day: u32) -> u32 {
    let ends = || stay.driving.iter().chain(&stay.shore).flat_map(|spell| [spell.span.from, spell.span.to]);
    let fits = |steps: &u32| {
        let length = 86_400.0 / f64::from(*steps);
        ends().all(|time| ((time.value / length).round() * length - time.value).abs() < 1e-6)
    };
    STEPS_PER_DAY.into_iter().filter(|steps| *steps >= steps_per_day).find(fits).unwrap_or(1440)
}

/// Forecasts the stays of a judged plan.
///
/// ```
/// use loomwright::study::{forecast::{ForecastError, Options, forecast}, judge::judge};
/// let text = include_str!("../../../examples/cabin.toml");
/// let judgement = judge(&loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?)?;
/// let refused = forecast(&judgement, &Options { stay: Some("autumn"), ..Options::default() });
/// assert!(matches!(refused, Err(ForecastError::UnknownStay { .. }))); // the plan has a spring only
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`ForecastError`] when an option is out of range, or something is missing that only the plan can say.
pub fn forecast(judgement: &Judgement, options: &Options<'_>) -> Result<Forecast, ForecastError> {
    check(options)?;
    let plan = &judgement.installation;
    let model = Model::new(judgement)?;
    if model.nets.len() > books::MOST_BANKS {
        return Err(ForecastError::TooManyBanks(model.nets.len()));
    }
    if let Some(net) = model.nets.iter().find(|net| net.sources() > books::MOST_SOURCES) {
        return Err(ForecastError::TooManySources(net.bank.name.clone()));
    }
    let wanted = |stay: &&crate::installation::Stay| options.stay.is_none_or(|name| stay.name == name);
    if let Some(given) = options.stay.filter(|name| !plan.stays.iter().any(|stay| stay.name == *name)) {
        let known: Vec<&str> = plan.stays.iter().map(|stay| stay.name.as_str()).collect();
        let given = given.chars().take(60).collect();
        return Err(ForecastError::UnknownStay { given, known: known.join(", ") });
    }
    let steps =
        |stay: &crate::installation::Stay| u64::from(stay.days()) * u64::from(aligned(stay, options.steps_per_day));
    let banks = u64::try_from(model.nets.len()).unwrap_or(u64::MAX);
    let asked = plan.stays.iter().filter(wanted).map(steps).sum::<u64>().saturating_mul(banks);
    let most = if options.series { MOST_STEPS / 10 } else { MOST_STEPS };
    if asked > most {
        return Err(ForecastError::TooMuch(asked, most));
    }
    let mut stays: Vec<StayOutcome> = Vec::new();
    let mut last: Option<(Date, State)> = None;
    for stay in plan.stays.iter().filter(wanted) {
        let steps_per_day = aligned(stay, options.steps_per_day);
        let profile = Profile::new(plan, &model, stay, steps_per_day);
        let light = Light::new(plan, stay, options.weather, steps_per_day)?;
        let stage = Stage {
            plan,
            arrays: &plan.arrays,
            model: &model,
            profile: &profile,
            light: &light,
            sources: Sources::ALL,
            idle_share: stay.idle_share.value,
            temperature: stay.battery_temperature,
        };
        // A stay that adjoins the one before it begins as that one ended.
        let adjoining = last.take().filter(|(end, _)| end.tomorrow().is_ok_and(|next| next == stay.from));
        let start = match (stay.start_charge, adjoining) {
            (None, Some((_, state))) => state,
            (share, _) => State::at(&model, share.map(|share| share.value)),
        };
        let (mut outcome, end) = outcome::follow(&stage, stay, start.clone(), options.series);
        outcome.answers = questions::answers(&stage, stay, options);
        if options.samples > 0 {
            outcome.band = Some(band::band(&stage, &start, options));
        }
        if let Some(size) = options.size {
            outcome.sized = Some(inverse::size(&stage, &start, size)?);
        }
        last = Some((stay.to, end));
        stays.push(outcome);
    }
    if stays.is_empty() {
        return Err(ForecastError::NoStay);
    }
    Ok(Forecast {
        name: plan.name.clone(),
        plan_holds: judgement.holds(),
        stays,
        unfed: model.unfed.clone(),
        assumptions: findings::assumptions(plan, &model, options),
    })
}
