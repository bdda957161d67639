//! A plan with all that is known of it: judged, with what would remove its findings, over its stays, as measured, and the record
//! to sign. It is what a report shows.
//!
//! ```
//! use loomwright::study::dossier::{Dossier, Stays};
//! use loomwright::study::{forecast::Options, judge::judge};
//! use loomwright::text::read_plan;
//! let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
//! let dossier = Dossier::new(judge(&plan)?, None, &Options::default())?;
//! assert!(dossier.holds() && matches!(dossier.stays, Stays::None));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use thiserror::Error;

use crate::study::commission::{Commission, commission};
use crate::study::forecast::{ForecastError, ForecastRecord, Options, forecast};
use crate::study::judge::Judgement;
use crate::study::reconcile::{ReconcileError, ReconcileRecord, Reconciliation, reconcile};
use crate::study::remedy::propose;

/// The plan over its stays.
#[derive(Clone, Debug)]
pub enum Stays {
    /// The plan has none.
    None,
    /// As forecast.
    Forecast(Box<ForecastRecord>),
    /// Why they could not be forecast: something of the plan is missing.
    Unknown(String),
}

/// A plan with all that is known of it.
#[derive(Clone, Debug)]
pub struct Dossier {
    /// The judged plan, with remedies.
    pub judgement: Judgement,
    /// Readings where there are any, settings, terminals, the order of energising, the inspection.
    pub commission: Commission,
    /// The plan over its stays.
    pub stays: Stays,
}

/// Why a dossier could not be made.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum DossierError {
    /// What was asked of the forecast is out of range, or its weather does not cover a stay.
    #[error(transparent)]
    Forecast(ForecastError),
    /// The plan cannot be followed as it is measured.
    #[error(transparent)]
    Reconcile(#[from] ReconcileError),
}

impl Dossier {
    /// All that is known of a judged plan; `readings` are those that were explained, with their record, which may tell more
    /// lines that could not be read.
    ///
    /// # Errors
    /// [`DossierError`] where the options of the forecast cannot be used. A plan whose stays cannot be forecast has a dossier
    /// all the same, which says why.
    pub fn new(
        mut judgement: Judgement,
        readings: Option<(Reconciliation, ReconcileRecord)>,
        options: &Options<'_>,
    ) -> Result<Self, DossierError> {
        let (found, record) = match readings {
            Some(readings) => readings,
            None => {
                let found = reconcile(&judgement, &[])?;
                let record = found.record(&judgement);
                (found, record)
            }
        };
        let stays = match forecast(&judgement, options) {
            Ok(found) => Stays::Forecast(Box::new(found.record(options))),
            Err(ForecastError::NoStay) => Stays::None,
            // What was asked for wrongly is no doubt about the plan.
            Err(
                error @ (ForecastError::Samples(_)
                | ForecastError::Threads(_)
                | ForecastError::Steps(_)
                | ForecastError::Level
                | ForecastError::UnknownStay { .. }
                | ForecastError::Weather { .. }),
            ) => return Err(DossierError::Forecast(error)),
            Err(error) => Stays::Unknown(error.to_string()),
        };
        propose(&mut judgement);
        let mut commission = commission(&judgement, &found);
        commission.readings = record;
        Ok(Self { judgement, commission, stays })
    }

    /// Whether the plan holds, every stay is lasted, and nothing is to be remade by the readings.
    pub fn holds(&self) -> bool {
        let lasted = match &self.stays {
            Stays::Forecast(found) => found.stays.iter().all(|stay| stay.lasts),
            Stays::None => true,
            Stays::Unknown(_) => false,
        };
        self.judgement.holds() && lasted && self.commission.readings.verdict != "remake"
    }
}
