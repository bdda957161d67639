//! Measured against planned: what to measure, readings explained, the record to sign, and what to look at how soon again.

use std::ffi::c_char;

use loomwright::study::commission::commission;
use loomwright::study::inspect::{Wiring, before_energising, inspect, steps_record, steps_sheet};
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{ReconcileRecord, Reconciliation, RefusedRecord, reconcile};
use loomwright::study::remedy::propose;
use loomwright::text::{read_readings, readings_template};
use serde_json::json;

use crate::border::{Failure, counted, lw_status, perhaps};
use crate::codes;
use crate::plans::{judged, lw_plan, lw_report, no_value, write_report};

/// A readings file to fill in, in walking order: for each case what to switch on, where to measure and what the plan lets
/// expect. The file is the report's text "/text", as `loomwright reconcile --template` prints it. The caller frees the report
/// with `lw_report_free`.
///
/// `form`: an `lw_readings_form`. `LW_REFUSED` where the plan has mistakes, `LW_NO_VALUE` where a case cannot be computed.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_readings_template(
    plan: *const lw_plan,
    form: i32,
    report: *mut *mut lw_report,
) -> i32 {
    let work = || {
        let form = codes::readings_form(form)?;
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        Ok(json!({
            "format": 1,
            "engine_version": env!("CARGO_PKG_VERSION"),
            "name": judgement.installation.name,
            "form": form.name(),
            "text": readings_template(&judgement, form),
        }))
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// Readings explained by their plan.
pub(crate) struct Told {
    pub(crate) found: Reconciliation,
    /// The same as plain data, with every line that could not be used.
    pub(crate) record: ReconcileRecord,
}

/// One line of a message.
fn told(refused: &RefusedRecord) -> String {
    let column = refused.column.map_or_else(String::new, |column| format!(":{column}"));
    let key = if refused.key.is_empty() { String::new() } else { format!("{}: ", refused.key) };
    format!("{}{column}: {key}{}", refused.line, refused.reason)
}

pub(crate) fn explained(judgement: &Judgement, text: &str) -> Result<Told, Failure> {
    let read = read_readings(text, &judgement.installation);
    if read.readings.is_empty() && read.refused.is_empty() {
        return Err(Failure::new(lw_status::LW_REFUSED, "no value stands in these readings"));
    }
    let found = reconcile(judgement, &read.readings).map_err(|error| no_value(&error))?;
    let mut record = found.record(judgement);
    record.refuse(found.unused(judgement, &read.readings));
    record.refuse(read.refused);
    if record.days.iter().all(|day| day.readings.is_empty() && day.temperatures.is_empty()) {
        let lines = record.refused.iter().map(told).collect::<Vec<_>>().join("\n");
        return Err(Failure::new(lw_status::LW_REFUSED, format!("no reading can be used:\n{lines}")));
    }
    Ok(Told { found, record })
}

/// What was measured against what was planned, as `loomwright reconcile --format json` prints it: of every day each reading,
/// each piece of a way with its verdict, worst first, and the one more reading that would tell most. The caller frees it with
/// `lw_report_free`; fields are read as of any report, such as "/days/0/segments/0/verdict".
///
/// `readings`: comma-separated values or TOML, as the command reads them, UTF-8, `readings_length` bytes, at most 1 MiB, not
/// necessarily terminated.
///
/// Lines that cannot be used are told under "/refused", and the others are used. `LW_REFUSED` where the plan has mistakes, or
/// where no reading at all can be used, which the message then tells line by line. `LW_NO_VALUE` where a case cannot be
/// computed.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `readings` is null or valid for reading `readings_length` bytes; `report`
/// is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_reconcile(
    plan: *const lw_plan,
    readings: *const c_char,
    readings_length: usize,
    report: *mut *mut lw_report,
) -> i32 {
    let work = || {
        // SAFETY: the caller's promise is passed on unchanged.
        let readings = unsafe { counted(readings, readings_length, "readings") }?;
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        #[cfg(feature = "panic-on-purpose")]
        assert!(readings != "12345", "on purpose");
        Ok(explained(&judgement, readings)?.record)
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// The commissioning record: plan, readings, verdicts, settings, torques, inspection, and the lines to sign, as `loomwright
/// reconcile --record --format json` prints it; otherwise as `lw_plan_reconcile`. It replaces no inspection by a licensed
/// person.
///
/// # Safety
/// As of `lw_plan_reconcile`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_commission(
    plan: *const lw_plan,
    readings: *const c_char,
    readings_length: usize,
    report: *mut *mut lw_report,
) -> i32 {
    let work = || {
        // SAFETY: the caller's promise is passed on unchanged.
        let readings = unsafe { counted(readings, readings_length, "readings") }?;
        // SAFETY: the caller's promise is passed on unchanged.
        let mut judgement = unsafe { judged(plan) }?;
        let told = explained(&judgement, readings)?;
        propose(&mut judgement);
        let mut made = commission(&judgement, &told.found);
        made.readings = told.record;
        Ok(made.record())
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// What to look at, tighten and measure, and how soon again, as `loomwright inspect --format json` prints it. The caller
/// frees it with `lw_report_free`; fields are read as of any report, such as "/rows/0/months".
///
/// `readings`: as in `lw_plan_reconcile`, of any days; null with length 0 where nothing was measured yet. Lines that cannot be
/// used are passed over. The statuses are those of `lw_plan_reconcile`.
///
/// # Safety
/// As of `lw_plan_reconcile`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_inspect(
    plan: *const lw_plan,
    readings: *const c_char,
    readings_length: usize,
    report: *mut *mut lw_report,
) -> i32 {
    let work = || {
        // SAFETY: the caller's promise is passed on unchanged.
        let readings = unsafe { perhaps(readings, readings_length, "readings") }?;
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        let told = readings.map(|text| explained(&judgement, text)).transpose()?;
        let seen = told.map(|told| told.found.seen()).unwrap_or_default();
        Ok(inspect(&judgement, &seen).record())
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// In what order a new system is made live, as `loomwright inspect --before-energising --format json` prints it. The caller
/// frees it with `lw_report_free`; fields are read as of any report, such as "/steps/0/do". `LW_REFUSED` where the plan has
/// mistakes, `LW_NO_VALUE` where a case cannot be computed.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_before_energising(plan: *const lw_plan, report: *mut *mut lw_report) -> i32 {
    let work = || {
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        let steps = before_energising(&judgement, Wiring::of(&judgement.installation));
        // The form of the command, which a test of callers holds to the byte.
        Ok(json!({
            "format": 1,
            "engine_version": env!("CARGO_PKG_VERSION"),
            "name": judgement.installation.name,
            "plan_verdict": if judgement.holds() { "holds" } else { "does-not-hold" },
            "steps": steps_record(&steps),
            "notes": steps_sheet(&steps).notes,
        }))
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}
