//! What else is asked of a plan: its schedule, and what changes from one plan to another.

use loomwright::study::compare::compare;
use loomwright::study::schedule::schedule;
use loomwright::study::tolerance::{Options, tolerance};

use crate::border::{Failure, lw_status, run, writable};
use crate::plans::{judged, lw_plan, lw_report, no_value};

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
    run(|| {
        let report = writable(report, "report")?;
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        let made = lw_report::handle(&schedule(&judgement).record())?;
        // SAFETY: not null and aligned, and the caller promises that it may be written.
        unsafe { report.write(made) };
        Ok(())
    })
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
    run(|| {
        let report = writable(report, "report")?;
        // SAFETY: the caller's promises are passed on unchanged.
        let (old, new) = unsafe { (judged(old_plan)?, judged(new_plan)?) };
        let made = lw_report::handle(&compare(&old, &new))?;
        // SAFETY: not null and aligned, and the caller promises that it may be written.
        unsafe { report.write(made) };
        Ok(())
    })
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
    run(|| {
        let report = writable(report, "report")?;
        let count = |name: &str, value: i32, most: i32| {
            let outside = || Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{name} {value} is outside 1 to {most}"));
            usize::try_from(value).ok().filter(|_| (1..=most).contains(&value)).ok_or_else(outside)
        };
        let (samples, threads) = (count("samples", samples, 1_000_000)?, count("threads", threads, 256)?);
        // SAFETY: the caller's promise is passed on unchanged.
        let judgement = unsafe { judged(plan) }?;
        let options = Options { samples, seed, threads, ..Options::default() };
        let found = tolerance(&judgement, &options).map_err(|error| no_value(&error))?;
        let made = lw_report::handle(&found.record())?;
        // SAFETY: not null and aligned, and the caller promises that it may be written.
        unsafe { report.write(made) };
        Ok(())
    })
}
