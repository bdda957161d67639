//! The commissioning record: what was planned, measured, set, tightened and found, in one document to sign and keep.
//!
//! ```
//! use loomwright::study::{commission::commission, judge::judge, reconcile::reconcile};
//! use loomwright::text::read_plan;
//! let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
//! let judgement = judge(&plan)?;
//! let commission = commission(&judgement, &reconcile(&judgement, &[])?);
//! assert_eq!(commission.record()["signature"]["name"], "");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use serde_json::{Value, json};

use crate::finding::{Finding, verdict};
use crate::study::cable::AssumptionRecord;
use crate::study::inspect::{Inspection, Step, Wiring, before_energising, inspect, steps_record};
use crate::study::judge::Judgement;
use crate::study::reconcile::{ReconcileRecord, Reconciliation};
use crate::study::schedule::{Sheet, SheetName, object, schedule};

/// What the record is not; it stands at its head and its foot.
pub const NO_INSPECTION: &str =
    "This record does not replace inspection by a licensed person where the law asks for one.";

/// The lines that are filled in by hand.
pub const SIGNATURE: [&str; 4] = ["date", "name", "licence", "place"];

/// Everything that is handed over with a finished system.
#[derive(Clone, Debug)]
pub struct Commission {
    /// Name of the plan.
    pub name: String,
    /// Its rule set.
    pub practice: &'static str,
    /// Whether the plan holds.
    pub holds: bool,
    /// What `check` finds, worst first.
    pub findings: Vec<Finding>,
    /// What the plan takes for granted.
    pub plan_assumptions: Vec<AssumptionRecord>,
    /// Readings beside the plan, with verdicts; lines that could not be read may be added to it.
    pub readings: ReconcileRecord,
    /// What is set in chargers, controllers, inverters and buck converters.
    pub settings: Sheet,
    /// Every terminal with its torque.
    pub terminals: Sheet,
    /// In what order it was made live.
    pub before_energising: Vec<Step>,
    /// What is looked at, and when first.
    pub inspection: Inspection,
}

/// The commissioning record of a judged plan whose readings were explained; there may be none, and the record says so.
///
/// ```
/// use loomwright::study::{commission::commission, judge::judge, reconcile::reconcile};
/// use loomwright::text::read_plan;
/// let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let judgement = judge(&plan)?;
/// let record = commission(&judgement, &reconcile(&judgement, &[])?);
/// assert!(record.holds == judgement.holds() && record.findings.len() == judgement.findings.len());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn commission(judgement: &Judgement, readings: &Reconciliation) -> Commission {
    let schedule = schedule(judgement);
    let plan = judgement.record();
    Commission {
        name: plan.name,
        practice: plan.practice,
        holds: judgement.holds(),
        findings: plan.findings,
        plan_assumptions: plan.assumptions,
        readings: readings.record(judgement),
        settings: schedule.sheet(SheetName::Settings),
        terminals: schedule.sheet(SheetName::Terminals),
        before_energising: before_energising(judgement, Wiring::of(&judgement.installation)),
        inspection: inspect(judgement, &readings.seen()),
    }
}

fn rows(sheet: &Sheet) -> Value {
    let rows = sheet.rows.iter().map(|row| object(sheet.columns, row));
    json!({ "rows": rows.collect::<Vec<_>>(), "notes": sheet.notes })
}

impl Commission {
    /// The record as JSON.
    pub fn record(&self) -> Value {
        let days = &self.readings.days;
        let readings: Vec<Value> =
            days.iter().map(|day| json!({ "date": day.date, "readings": day.readings })).collect();
        let told = days.iter().map(|day| {
            json!({
                "date": day.date,
                "segments": day.segments,
                "devices": day.devices,
                "temperatures": day.temperatures,
                "clamp_zero_a": day.clamp_zero_a,
                "clamp_zero": day.clamp_zero,
                "untold": day.untold,
            })
        });
        let signature: serde_json::Map<String, Value> =
            SIGNATURE.iter().map(|line| ((*line).to_owned(), json!(""))).collect();
        json!({
            "format": 1,
            "engine_version": env!("CARGO_PKG_VERSION"),
            "notice": NO_INSPECTION,
            "plan": {
                "name": self.name,
                "practice": self.practice,
                "verdict": verdict(&self.findings),
                "findings": self.findings,
                "assumptions": self.plan_assumptions,
            },
            "readings": {
                "files": self.readings.files,
                "days": readings,
                "refused": self.readings.refused,
                "assumptions": self.readings.assumptions,
                "noise_law": self.readings.noise_law,
            },
            "verdicts": { "verdict": self.readings.verdict, "days": told.collect::<Vec<_>>() },
            "settings": rows(&self.settings),
            "terminals": rows(&self.terminals),
            "before_energising": steps_record(&self.before_energising),
            "inspection": self.inspection.record(),
            "cautions": self.readings.cautions,
            "signature": signature,
        })
    }
}
