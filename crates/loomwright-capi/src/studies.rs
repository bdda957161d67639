//! What else is asked of a plan: its schedule, what changes from one plan to another, how surely it holds, and whether it
//! lasts its stays.

use std::ffi::c_char;

use loomwright::quantity::Ratio;
use loomwright::quantity::uom::si::ratio::percent;
use loomwright::source::solar::Weather;
use loomwright::study::compare::compare;
use loomwright::study::forecast::{self, ForecastError};
use loomwright::study::schedule::schedule;
use loomwright::study::tolerance::{Options, tolerance};
use loomwright::text::read_weather;

use crate::border::{Failure, lw_status, perhaps};
use crate::codes::{self, within};
use crate::plans::{judged, lw_plan, lw_report, no_value, write_report};

/// The schedule of a plan: cables, fuses, terminals, materials, labels, settings and loads, as `loomwright schedule
/// --format json` prints it. The caller frees it with `lw_report_free`; fields are read as of any report, such as
/// "/sheets/cables/0/cut_m".
///
/// `LW_REFUSED` where the plan has mistakes, `LW_NO_VALUE` where a case cannot be computed; a plan that does not hold has a
/// schedule all the same, and its "/verdict" says so.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_schedule(plan: *const lw_plan, report: *mut *mut lw_report) -> i32 {
    let work = || {
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        Ok(schedule(&judgement).record())
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// An old plan against a new one, as `loomwright compare --format json` prints it: findings, runs, devices, alternators and
/// materials. The caller frees it with `lw_report_free`.
///
/// `LW_REFUSED` where one of the plans has mistakes, `LW_NO_VALUE` where a case cannot be computed.
///
/// # Safety
/// `old_plan` and `new_plan` are null or plans that are not freed yet, and may be the same; `report` is null or valid for
/// writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_compare(
    old_plan: *const lw_plan,
    new_plan: *const lw_plan,
    report: *mut *mut lw_report,
) -> i32 {
    let work = || {
        // SAFETY: the caller's promises are passed on unchanged.
        let (old, new) = unsafe { (judged(old_plan)?, judged(new_plan)?) };
        Ok(compare(&old, &new))
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// A whole number within its range.
pub(crate) fn count(name: &str, value: i32, least: i32, most: i32) -> Result<usize, Failure> {
    let outside = || Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{name} {value} is outside {least} to {most}"));
    usize::try_from(value).ok().filter(|_| (least..=most).contains(&value)).ok_or_else(outside)
}

/// How surely a plan holds: variants of it within the spread of its parts, as `loomwright tolerance --format json` prints
/// it. The caller frees it with `lw_report_free`.
///
/// `samples`: how many variants, 1 to 1 000 000. `seed`: the same one gives the same variants. `threads`: 1 to 256; the
/// result is the same on any number of them. `LW_REFUSED` where the plan has mistakes, `LW_NO_VALUE` where a case cannot be
/// computed, or so many variants of so large a plan do not fit.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_tolerance(
    plan: *const lw_plan,
    samples: i32,
    seed: u64,
    threads: i32,
    report: *mut *mut lw_report,
) -> i32 {
    let work = || {
        let (samples, threads) = (count("samples", samples, 1, 1_000_000)?, count("threads", threads, 1, 256)?);
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        let options = Options { samples, seed, threads, ..Options::default() };
        let found = tolerance(&judgement, &options).map_err(|error| no_value(&error))?;
        Ok(found.record())
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// Why there is no forecast.
pub(crate) fn forecast_failure(error: &ForecastError) -> Failure {
    let status = match error {
        ForecastError::UnknownStay { .. } => lw_status::LW_UNKNOWN_VALUE,
        ForecastError::Steps(_) | ForecastError::Level => lw_status::LW_OUT_OF_RANGE,
        _ => lw_status::LW_NO_VALUE,
    };
    Failure::new(status, error.to_string())
}

/// Measured weather, or all its mistakes in one message.
fn measured(text: &str) -> Result<Weather, Failure> {
    read_weather(text).map_err(|mistakes| {
        let told = mistakes.iter().map(|one| format!("{}:{}: {}: {}", one.line, one.column, one.key, one.message));
        let told = told.collect::<Vec<_>>().join("\n");
        Failure::new(lw_status::LW_REFUSED, format!("the weather has {} mistakes:\n{told}", mistakes.len()))
    })
}

/// Whether a plan lasts its stays: every bank of batteries, step by step, as `loomwright forecast --format json` prints it.
/// The caller frees it with `lw_report_free`; fields are read as of any report, such as "/stays/0/banks/0/lowest_charge".
///
/// `stay`: the name of one, UTF-8, `stay_length` bytes; null with length 0 for every stay of the plan. `weather`: measured
/// hours as comma-separated values, as the command reads them, UTF-8, `weather_length` bytes, at most 16 MiB; null with length
/// 0 for the climate of the place. Neither is necessarily terminated.
///
/// `steps_per_day`: 24, 48, 96, 144, 288, 720 or 1440; 96 are steps of 15 min. `level_percent`: the state of charge to which
/// the hours of driving are told besides full, 1 to 100 %; the command's is 80. `size`: an `lw_size`, what to size so that the
/// stay is lasted. `series`: 1 to keep every step in the report, 0 for the days only. `samples`: how many of weather and loads
/// are drawn, up to 100 000; 0 for none. `seed`: the same one gives the same samples. `threads`: 1 to 256; the result is the
/// same on any number of them.
///
/// `LW_REFUSED` where the plan has mistakes, or the weather has, which the message then tells line by line.
/// `LW_UNKNOWN_VALUE` where the plan has no such stay. `LW_NO_VALUE` where it has no stay or no battery, the place has no
/// climate, the weather does not cover the stay, or there is nothing to size.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `stay` is null or valid for reading `stay_length` bytes, `weather` is null
/// or valid for reading `weather_length` bytes; `report` is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_forecast(
    plan: *const lw_plan,
    stay: *const c_char,
    stay_length: usize,
    weather: *const c_char,
    weather_length: usize,
    steps_per_day: i32,
    level_percent: f64,
    size: i32,
    series: i32,
    samples: i32,
    seed: u64,
    threads: i32,
    report: *mut *mut lw_report,
) -> i32 {
    let work = || {
        // SAFETY: the caller's promises are passed on unchanged.
        let (stay, weather) =
            unsafe { (perhaps(stay, stay_length, "stay")?, perhaps(weather, weather_length, "weather")?) };
        let steps_per_day = u32::try_from(count("steps_per_day", steps_per_day, 24, 1440)?).unwrap_or_default();
        let mut options = forecast::Options {
            stay,
            steps_per_day,
            level: Ratio::new::<percent>(within("level_percent", level_percent, 1.0, 100.0)?),
            size: codes::size(size)?,
            series: count("series", series, 0, 1)? == 1,
            samples: count("samples", samples, 0, 100_000)?,
            seed,
            threads: count("threads", threads, 1, 256)?,
            ..forecast::Options::default()
        };
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        let weather = weather.map(measured).transpose()?;
        #[cfg(feature = "panic-on-purpose")]
        assert!(samples != 12345, "on purpose");
        options.weather = weather.as_ref();
        let found = forecast::forecast(&judgement, &options).map_err(|error| forecast_failure(&error))?;
        Ok(found.record(&options))
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}
