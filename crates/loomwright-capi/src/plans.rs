//! Plans: text in, report out, as JSON or field by field.

use std::ffi::c_char;

use loomwright::study::judge::{Judgement, judge};
use loomwright::study::remedy::propose;
use loomwright::text::{PlanError, read_plan};
use serde_json::Value;

use crate::border::{Failure, copy_text, counted, lw_status, run, terminated, usable, writable, write_number};

/// A plan that was read, or the mistakes that keep it from being one. Immutable: any thread may use it. Freed by
/// `lw_plan_free`.
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub struct lw_plan {
    read: Result<loomwright::installation::Installation, Vec<PlanError>>,
}

/// What was found of a plan: its judgement, its schedule, its readings explained, and so on. Immutable: any thread may use it. Freed by `lw_report_free`.
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub struct lw_report {
    fields: Value,
    json: String,
}

/// That something has no value here, and why.
pub(crate) fn no_value(error: &dyn std::fmt::Display) -> Failure {
    Failure::new(lw_status::LW_NO_VALUE, error.to_string())
}

/// Runs `work` and writes a report of what it gives, for the caller to free.
///
/// # Safety
/// `report` is null or valid for writing one pointer.
pub(crate) unsafe fn write_report<T: serde::Serialize>(
    report: *mut *mut lw_report,
    work: impl FnOnce() -> Result<T, Failure>,
) -> i32 {
    run(|| {
        let report = writable(report, "report")?;
        let record = work()?;
        let fields = serde_json::to_value(&record).map_err(|error| no_value(&error))?;
        let json = serde_json::to_string_pretty(&record).map_err(|error| no_value(&error))?;
        // SAFETY: not null and aligned, and the caller promises that it may be written.
        unsafe { report.write(Box::into_raw(Box::new(lw_report { fields, json }))) };
        Ok(())
    })
}

/// The plan of a handle, as judged.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet.
pub(crate) unsafe fn judged(plan: *const lw_plan) -> Result<Judgement, Failure> {
    // SAFETY: the caller's promise is passed on unchanged.
    let installation = unsafe { plan_of(plan) }?
        .read
        .as_ref()
        .map_err(|mistakes| Failure::new(lw_status::LW_REFUSED, format!("the plan has {} mistakes", mistakes.len())))?;
    judge(installation).map_err(|error| no_value(&error))
}

/// Where a mistake of a plan is.
#[repr(C)]
#[derive(Clone, Copy, Debug)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub struct lw_mistake {
    /// Line, from 1.
    pub line: u64,
    /// Column in characters, from 1.
    pub column: u64,
    /// First byte.
    pub start: u64,
    /// The byte after the last.
    pub end: u64,
}

/// Reads a plan. `*plan` is set in any case but a failure of pointers: with `LW_REFUSED` it holds the mistakes, which
/// `lw_mistake_count`, `lw_mistake_at` and `lw_mistake_text` tell.
///
/// `text`: UTF-8, `length` bytes, not necessarily terminated. The caller frees the plan with `lw_plan_free`.
///
/// # Safety
/// `text` is null or valid for reading `length` bytes; `plan` is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_read(text: *const c_char, length: usize, plan: *mut *mut lw_plan) -> i32 {
    run(|| {
        let plan = writable(plan, "plan")?;
        // SAFETY: the caller's promise is passed on unchanged.
        let text = unsafe { counted(text, length, "text") }?;
        let read = read_plan(text);
        let mistakes = read.as_ref().err().map(Vec::len);
        // SAFETY: not null and aligned, and the caller promises that it may be written.
        unsafe { plan.write(Box::into_raw(Box::new(lw_plan { read }))) };
        match mistakes {
            None => Ok(()),
            Some(count) => Err(Failure::new(lw_status::LW_REFUSED, format!("the plan has {count} mistakes"))),
        }
    })
}

/// Frees a plan; null is nothing. Freeing one twice is undefined, as is using it afterwards.
///
/// # Safety
/// `plan` is null or from `lw_plan_read`, and not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_free(plan: *mut lw_plan) {
    if !plan.is_null() {
        // SAFETY: the caller promises that it is ours and not freed yet.
        drop(unsafe { Box::from_raw(plan) });
    }
}

/// # Safety
/// `plan` is null or a plan that is not freed yet.
unsafe fn plan_of<'a>(plan: *const lw_plan) -> Result<&'a lw_plan, Failure> {
    let plan = usable(plan, "plan")?;
    // SAFETY: not null, aligned, and the caller promises that it lives.
    Ok(unsafe { &*plan })
}

fn mistake(plan: &lw_plan, index: usize) -> Result<&PlanError, Failure> {
    let mistakes = plan.read.as_ref().err().map_or(&[][..], Vec::as_slice);
    mistakes.get(index).ok_or_else(|| {
        Failure::new(lw_status::LW_OUT_OF_RANGE, format!("mistake {index} of {} does not exist", mistakes.len()))
    })
}

/// How many mistakes a plan has; 0 for one that was read.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `count` is null or valid for writing one `size_t`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_mistake_count(plan: *const lw_plan, count: *mut usize) -> i32 {
    run(|| {
        // SAFETY: the caller's promise is passed on unchanged.
        let plan = unsafe { plan_of(plan) }?;
        let found = plan.read.as_ref().err().map_or(0, Vec::len);
        // SAFETY: not null and aligned, and the caller promises that it may be written.
        unsafe { writable(count, "count")?.write(found) };
        Ok(())
    })
}

/// Where a mistake is; `index` from 0.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `place` is null or valid for writing one `lw_mistake`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_mistake_at(plan: *const lw_plan, index: usize, place: *mut lw_mistake) -> i32 {
    run(|| {
        // SAFETY: the caller's promise is passed on unchanged.
        let found = mistake(unsafe { plan_of(plan) }?, index)?;
        let wide = |value: usize| u64::try_from(value).unwrap_or(u64::MAX);
        let told = lw_mistake {
            line: wide(found.line),
            column: wide(found.column),
            start: wide(found.span.start),
            end: wide(found.span.end),
        };
        // SAFETY: not null and aligned, and the caller promises that it may be written.
        unsafe { writable(place, "place")?.write(told) };
        Ok(())
    })
}

/// A mistake in words, after its key, as a terminated text; `length` is its whole length in bytes without the terminator,
/// and may be null.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `buffer` is null or valid for writing `capacity` bytes; `length` is null
/// or valid for writing one `size_t`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_mistake_text(
    plan: *const lw_plan,
    index: usize,
    buffer: *mut c_char,
    capacity: usize,
    length: *mut usize,
) -> i32 {
    run(|| {
        // SAFETY: the caller's promise is passed on unchanged.
        let found = mistake(unsafe { plan_of(plan) }?, index)?;
        // SAFETY: as above.
        unsafe { give(&format!("{}: {}", found.key, found.message), buffer, capacity, length) }
    })
}

/// # Safety
/// `buffer` is null or valid for writing `capacity` bytes; `length` is null or valid for writing one `size_t`.
unsafe fn give(text: &str, buffer: *mut c_char, capacity: usize, length: *mut usize) -> Result<(), Failure> {
    // SAFETY: the caller's promise is passed on unchanged.
    let whole = unsafe { copy_text(text, buffer, capacity) };
    if !length.is_null() {
        // SAFETY: not null and aligned, and the caller promises that it may be written.
        unsafe { writable(length, "length")?.write(whole) };
    }
    Ok(())
}

/// Judges a plan over its operating cases, with remedies. The caller frees the report with `lw_report_free`.
///
/// `LW_REFUSED` where the plan has mistakes, `LW_NO_VALUE` where a case cannot be computed; the message tells why.
///
/// # Safety
/// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_plan_check(plan: *const lw_plan, report: *mut *mut lw_report) -> i32 {
    let work = || {
        // SAFETY: the caller's promise is passed on unchanged.
        let mut judgement = unsafe { judged(plan) }?;
        propose(&mut judgement);
        Ok(judgement.record())
    };
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_report(report, work) }
}

/// Frees a report; null is nothing. Freeing one twice is undefined, as is using it afterwards.
///
/// # Safety
/// `report` is null or from a function that gives one, and not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_report_free(report: *mut lw_report) {
    if !report.is_null() {
        // SAFETY: the caller promises that it is ours and not freed yet.
        drop(unsafe { Box::from_raw(report) });
    }
}

/// # Safety
/// `report` is null or a report that is not freed yet.
unsafe fn report_of<'a>(report: *const lw_report) -> Result<&'a lw_report, Failure> {
    let report = usable(report, "report")?;
    // SAFETY: not null, aligned, and the caller promises that it lives.
    Ok(unsafe { &*report })
}

/// The whole report as JSON, the same as the command with `--format json` prints, as a terminated text; `length` is its
/// whole length in bytes without the terminator, and may be null. Call with a null `buffer` and `capacity` 0 to ask for it.
///
/// # Safety
/// `report` is null or a report that is not freed yet; `buffer` is null or valid for writing `capacity` bytes; `length` is
/// null or valid for writing one `size_t`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_report_json(
    report: *const lw_report,
    buffer: *mut c_char,
    capacity: usize,
    length: *mut usize,
) -> i32 {
    run(|| {
        // SAFETY: the caller's promises are passed on unchanged.
        unsafe { give(&report_of(report)?.json, buffer, capacity, length) }
    })
}

/// # Safety
/// `report` is null or a report that is not freed yet; `field` is null or a terminated text.
unsafe fn field_of<'a>(report: *const lw_report, field: *const c_char) -> Result<(&'a Value, &'a str), Failure> {
    // SAFETY: the caller's promises are passed on unchanged.
    let (report, field) = unsafe { (report_of(report)?, terminated(field, "field")?) };
    let found = report.fields.pointer(field);
    let value = found.ok_or_else(|| Failure::new(lw_status::LW_NO_FIELD, format!("the report has no {field:?}")))?;
    Ok((value, field))
}

fn other_kind(field: &str, wanted: &str) -> Failure {
    Failure::new(lw_status::LW_NO_FIELD, format!("{field:?} is no {wanted}"))
}

/// A number of the report; true is 1 and false 0.
///
/// `field`: a JSON Pointer (RFC 6901) such as "/runs/3/drop_v".
///
/// # Safety
/// `report` is null or a report that is not freed yet; `field` is null or a terminated text; `number` is null or valid for
/// writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_report_number(report: *const lw_report, field: *const c_char, number: *mut f64) -> i32 {
    // SAFETY: the caller's promises are passed on unchanged.
    unsafe {
        write_number(number, || {
            let (value, field) = field_of(report, field)?;
            let truth = value.as_bool().map(|truth| f64::from(u8::from(truth)));
            value.as_f64().or(truth).ok_or_else(|| other_kind(field, "number"))
        })
    }
}

/// A text of the report, as a terminated text; otherwise as `lw_report_number` and `lw_report_json`.
///
/// # Safety
/// `report` is null or a report that is not freed yet; `field` is null or a terminated text; `buffer` is null or valid for
/// writing `capacity` bytes; `length` is null or valid for writing one `size_t`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_report_text(
    report: *const lw_report,
    field: *const c_char,
    buffer: *mut c_char,
    capacity: usize,
    length: *mut usize,
) -> i32 {
    run(|| {
        // SAFETY: the caller's promises are passed on unchanged.
        unsafe {
            let (value, field) = field_of(report, field)?;
            give(value.as_str().ok_or_else(|| other_kind(field, "text"))?, buffer, capacity, length)
        }
    })
}

/// How many entries a list of the report has, such as "/findings".
///
/// # Safety
/// `report` is null or a report that is not freed yet; `field` is null or a terminated text; `count` is null or valid for
/// writing one `size_t`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_report_count(report: *const lw_report, field: *const c_char, count: *mut usize) -> i32 {
    run(|| {
        // SAFETY: the caller's promises are passed on unchanged.
        let (value, field) = unsafe { field_of(report, field) }?;
        let entries = value.as_array().ok_or_else(|| other_kind(field, "list"))?;
        // SAFETY: not null and aligned, and the caller promises that it may be written.
        unsafe { writable(count, "count")?.write(entries.len()) };
        Ok(())
    })
}
