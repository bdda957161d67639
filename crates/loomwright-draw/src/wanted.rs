//! A picture of a plan by its name: what it is of, and what it needs.

use loomwright::study::forecast::{BankRecord, ForecastRecord, StayRecord};
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::ReconcileRecord;
use thiserror::Error;

use crate::{Picture, charge, diagram, joints, margins, readings, temperatures, through_time, voltage};

/// The pictures of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The single-line diagram.
    Diagram,
    /// Every check with its margin, worst first.
    Margins,
    /// How hot each conductor gets.
    Temperatures,
    /// Voltage along the way to a consumer, in every case.
    Voltage,
    /// The fuses of a run and its conductor through time.
    Fuses,
    /// A battery bank over a stay.
    Charge,
    /// Joints and conductors as measured.
    Joints,
    /// Readings against the plan.
    Readings,
}

impl Kind {
    /// Every kind, in a fixed order.
    pub const ALL: [Self; 8] = [
        Self::Diagram,
        Self::Margins,
        Self::Temperatures,
        Self::Voltage,
        Self::Fuses,
        Self::Charge,
        Self::Joints,
        Self::Readings,
    ];

    /// The name as written in commands and results.
    pub fn name(self) -> &'static str {
        match self {
            Self::Diagram => "diagram",
            Self::Margins => "margins",
            Self::Temperatures => "temperatures",
            Self::Voltage => "voltage",
            Self::Fuses => "fuses",
            Self::Charge => "charge",
            Self::Joints => "joints",
            Self::Readings => "readings",
        }
    }

    /// Whether it shows a forecast.
    pub fn needs_forecast(self) -> bool {
        self == Self::Charge
    }

    /// Whether it shows readings.
    pub fn needs_readings(self) -> bool {
        matches!(self, Self::Joints | Self::Readings)
    }
}

/// Which picture of a plan is wanted.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    /// What it shows.
    pub kind: Kind,
    /// Of which consumer (`voltage`), run (`fuses`) or battery (`charge`); where it is not said, of the one with least margin,
    /// or the first bank that no alternator charges straight.
    pub of: Option<&'a str>,
    /// Of which stay (`charge`); the first where it is not said.
    pub stay: Option<&'a str>,
}

/// Why a picture could not be drawn.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum DrawError {
    /// A name that the plan does not have.
    #[error("{given:?} is no {what} of this plan{}; known: {known}", nearest.as_ref().map(|name| format!(", did you mean {name:?}?")).unwrap_or_default())]
    Unknown {
        /// What kind of name was needed.
        what: &'static str,
        /// What was asked for.
        given: String,
        /// The nearest known name, where one is near.
        nearest: Option<String>,
        /// All known names.
        known: String,
    },
    /// Something is named that this picture does not ask for.
    #[error("a picture of kind {kind} does not ask for {what}: leave it out")]
    NotAsked {
        /// The picture.
        kind: &'static str,
        /// What was said for nothing.
        what: &'static str,
    },
    /// There is nothing to show.
    #[error("nothing to draw: {0}")]
    Nothing(&'static str),
}

/// The one of that name among many.
fn named<'a, T>(what: &'static str, given: &str, all: &'a [T], name: fn(&T) -> &str) -> Result<&'a T, DrawError> {
    let unknown = || {
        let near = all
            .iter()
            .map(|one| (strsim::damerau_levenshtein(name(one), given), name(one)))
            .filter(|(distance, name)| *distance <= (name.len() / 3).max(1))
            .min_by_key(|(distance, _)| *distance);
        DrawError::Unknown {
            what,
            given: given.chars().take(60).collect(),
            nearest: near.map(|(_, name)| name.to_owned()),
            known: all.iter().map(name).collect::<Vec<_>>().join(", "),
        }
    };
    all.iter().find(|one| name(one) == given).ok_or_else(unknown)
}

/// A picture of a judged plan. `forecast` and `found` are looked at where the picture shows them.
///
/// # Errors
/// [`DrawError`] where the plan has nothing of that name, or nothing to show.
pub fn picture(
    judgement: &Judgement,
    wanted: &Wanted<'_>,
    forecast: Option<&ForecastRecord>,
    found: Option<&ReconcileRecord>,
) -> Result<Picture, DrawError> {
    let kind = wanted.kind;
    let asks = matches!(kind, Kind::Voltage | Kind::Fuses | Kind::Charge);
    if wanted.of.is_some() && !asks {
        return Err(DrawError::NotAsked { kind: kind.name(), what: "the name that it should be of" });
    }
    if wanted.stay.is_some() && kind != Kind::Charge {
        return Err(DrawError::NotAsked { kind: kind.name(), what: "the stay" });
    }
    match kind {
        Kind::Diagram => Ok(diagram(judgement)),
        Kind::Margins => Ok(margins(&judgement.record(), usize::MAX)),
        Kind::Temperatures => Ok(temperatures(&judgement.record())),
        Kind::Voltage => {
            let paths = judgement.voltage_paths();
            let path = match wanted.of {
                Some(given) => named("consumer", given, &paths, |path| &path.consumer)?,
                None => paths.first().ok_or(DrawError::Nothing("no consumer of this plan hangs on a source"))?,
            };
            Ok(voltage(path))
        }
        Kind::Fuses => fuses(judgement, wanted.of),
        Kind::Charge => {
            let stays = forecast.map(|found| found.stays.as_slice()).unwrap_or_default();
            let stay: &StayRecord = match wanted.stay {
                Some(given) => named("stay", given, stays, |stay| &stay.name)?,
                None => stays.first().ok_or(DrawError::Nothing("the plan has no stay"))?,
            };
            let bank: &BankRecord = match wanted.of {
                Some(given) => named("battery bank", given, &stay.banks, |bank| &bank.name)?,
                None => {
                    let living = stay.banks.iter().find(|bank| !bank.is_starter);
                    living.or(stay.banks.first()).ok_or(DrawError::Nothing("the plan has no battery"))?
                }
            };
            charge(stay, bank).ok_or(DrawError::Nothing("the stay has no day"))
        }
        Kind::Joints => found.and_then(joints).ok_or(DrawError::Nothing("no reading tells of a joint")),
        Kind::Readings => {
            found.and_then(readings).ok_or(DrawError::Nothing("there is no voltage or current among the readings"))
        }
    }
}

/// A run through time: the one asked for, or the one with least margin.
fn fuses(judgement: &Judgement, of: Option<&str>) -> Result<Picture, DrawError> {
    let plan = &judgement.installation;
    let protected = || {
        let all = plan.runs.iter().zip(&judgement.overcurrents).enumerate();
        all.filter_map(|(index, (run, through))| Some((index, run.name.clone(), through.as_ref()?.least)))
    };
    let all: Vec<(usize, String, f64)> = protected()
        .map(|(index, name, least)| (index, name, least.map_or(f64::INFINITY, |least| least.ratio.value)))
        .collect();
    let run = match of {
        Some(given) => named("run behind a fuse", given, &all, |run| &run.1)?.0,
        None => {
            let least = all.iter().min_by(|one, other| one.2.total_cmp(&other.2));
            least.ok_or(DrawError::Nothing("no run of this plan is behind a fuse"))?.0
        }
    };
    let found = judgement.through_time(run).ok_or(DrawError::Nothing("no times of its fuses are at hand"))?;
    Ok(through_time(&found))
}
