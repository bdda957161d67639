//! Where people would rather look than read: pictures of a plan, the report on one page, the map of sizes.

use std::ffi::c_char;

use loomwright::study::cable::size_map;
use loomwright::study::dossier::Dossier;
use loomwright::study::forecast;
use loomwright_draw::{DrawError, Picture, Wanted, picture as drawing, report as page, sizes};
use serde_json::{Value, json};

use crate::border::{Failure, lw_status, perhaps};
use crate::codes;
use crate::measured::explained;
use crate::plans::{judged, lw_plan, lw_report, no_value, write_report};
use crate::sizing::{lw_circuit_query, query_at, refused};
use crate::studies::{count, forecast_failure};

/// A picture with what it shows.
fn told(drawn: &Picture, more: Value) -> Value {
    let mut record = json!({
        "format": 1,
        "engine_version": env!("CARGO_PKG_VERSION"),
        "title": drawn.title,
        "description": drawn.description,
        "width": drawn.width,
        "height": drawn.height,
        "svg": drawn.svg(),
    });
    if let (Some(record), Value::Object(more)) = (record.as_object_mut(), more) {
        record.extend(more);
    }
    record
}

/// Samples of weather and loads that the band of a bank is made of, as the command's.
const SAMPLES: usize = 100;

/// A picture of a plan, as `loomwright draw` prints it, under the report's text "/svg", with "/title" and "/description" for
/// whoever does not see it, and "/width" and "/height" in CSS pixels. The caller frees the report with `lw_report_free`.
///
/// `picture`: an `lw_picture`. `of`: the name of the consumer (`LW_PICTURE_VOLTAGE`), run (`LW_PICTURE_FUSES`) or battery
/// (`LW_PICTURE_CHARGE`), UTF-8, `of_length` bytes; null with length 0 for the one with least margin, and for pictures of the
/// whole plan. `stay`: the name of a stay for `LW_PICTURE_CHARGE`, likewise. `readings`: as in `lw_plan_reconcile`, for
/// `LW_PICTURE_JOINTS` and `LW_PICTURE_READINGS`; null with length 0 for the others.
///
/// `LW_REFUSED` where the plan has mistakes or no reading can be used. `LW_UNKNOWN_VALUE` where the plan has nothing of that
/// name, or the picture does not ask for one. `LW_NO_VALUE` where there is nothing to draw.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `of`, `stay` and `readings` are null or valid for reading as many bytes as
/// stated; `report` is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_draw(
    plan: *const lw_plan,
    picture: i32,
    of: *const c_char,
    of_length: usize,
    stay: *const c_char,
    stay_length: usize,
    readings: *const c_char,
    readings_length: usize,
    report: *mut *mut lw_report,
) -> i32 {
    let work = || {
        let kind = codes::picture(picture)?;
        // SAFETY: the caller's promises are passed on unchanged.
        let (of, stay, readings) = unsafe {
            (
                perhaps(of, of_length, "of")?,
                perhaps(stay, stay_length, "stay")?,
                perhaps(readings, readings_length, "readings")?,
            )
        };
        // No name is empty.
        let (of, stay) = (of.filter(|of| !of.is_empty()), stay.filter(|stay| !stay.is_empty()));
        if kind.needs_readings() != readings.is_some() {
            let message = format!("readings go with joints and readings, and those need them; asked: {}", kind.name());
            return Err(Failure::new(lw_status::LW_NO_VALUE, message));
        }
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        let measured = readings.map(|text| explained(&judgement, text)).transpose()?;
        let options = forecast::Options { stay, samples: SAMPLES, series: true, ..forecast::Options::default() };
        let stays = kind.needs_forecast().then(|| forecast::forecast(&judgement, &options)).transpose();
        let stays = stays.map_err(|error| forecast_failure(&error))?.map(|found| found.record(&options));
        let wanted = Wanted { kind, of, stay };
        let drawn = drawing(&judgement, &wanted, stays.as_ref(), measured.as_ref().map(|told| &told.record));
        let drawn = drawn.map_err(|error| match error {
            DrawError::Nothing(_) => no_value(&error),
            error => Failure::new(lw_status::LW_UNKNOWN_VALUE, error.to_string()),
        })?;
        Ok(told(&drawn, json!({ "picture": kind.name() })))
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// Everything about a plan on one page, as `loomwright report` prints it, under the report's text "/html": to read in a browser,
/// which needs no network for it, or to print. The caller frees the report with `lw_report_free`.
///
/// `readings`: as in `lw_plan_reconcile`; null with length 0 where nothing was measured yet. `samples`: how many of weather and
/// loads are drawn for each stay, up to 100 000; the command's is 100. `seed`: the same one gives the same samples; the
/// command's is 1. `threads`: 1 to 256; the result is the same on any number of them.
///
/// `LW_REFUSED` where the plan has mistakes or no reading can be used, `LW_NO_VALUE` where a case cannot be computed. Stays that
/// cannot be forecast are told on the page.
///
/// # Safety
/// As of `lw_plan_inspect`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_page(
    plan: *const lw_plan,
    readings: *const c_char,
    readings_length: usize,
    samples: i32,
    seed: u64,
    threads: i32,
    report: *mut *mut lw_report,
) -> i32 {
    let work = || {
        let (samples, threads) = (count("samples", samples, 0, 100_000)?, count("threads", threads, 1, 256)?);
        // SAFETY: the caller's promise is passed on unchanged.
        let readings = unsafe { perhaps(readings, readings_length, "readings") }?;
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        let measured = readings.map(|text| explained(&judgement, text)).transpose()?;
        let options = forecast::Options { samples, seed, threads, series: true, ..forecast::Options::default() };
        let readings = measured.map(|told| (told.found, told.record));
        let dossier = Dossier::new(judgement, readings, &options).map_err(|error| no_value(&error))?;
        Ok(json!({
            "format": 1,
            "engine_version": env!("CARGO_PKG_VERSION"),
            "name": dossier.judgement.installation.name,
            "verdict": if dossier.holds() { "holds" } else { "does-not-hold" },
            "html": page(&dossier),
        }))
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// Where each standard size takes over around a circuit: "/sizes/0/largest_a/0" and so on are the largest currents that a size
/// is chosen for, by the lengths of "/lengths_m"; and the picture of it under "/svg", as `loomwright cable --format svg` prints
/// it, with "/title" and "/description". The caller frees the report with `lw_report_free`.
///
/// The statuses are those of `lw_size_circuit`.
///
/// # Safety
/// `query` is null or points to a struct of the size that it says; `report` is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_size_map(query: *const lw_circuit_query, report: *mut *mut lw_report) -> i32 {
    let work = || {
        // SAFETY: the caller's promise is passed on unchanged.
        let query = unsafe { query_at(query) }?;
        let map = size_map(&query).map_err(|error| refused(&error))?;
        let more = serde_json::to_value(&map).map_err(|error| no_value(&error))?;
        Ok(told(&sizes(&map), more))
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}
