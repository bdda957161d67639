//! What else is asked of a plan: its schedule, and what changes from one plan to another.

use loomwright::study::compare::compare;
use loomwright::study::schedule::schedule;

use crate::border::{run, writable};
use crate::plans::{judged, lw_plan, lw_report};

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
