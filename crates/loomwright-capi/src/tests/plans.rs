//! Plans, their mistakes, and their reports.

use std::ffi::CString;
use std::ptr::{null, null_mut};

use super::{number, read, text};
use crate::{
    lw_mistake, lw_mistake_at, lw_mistake_count, lw_mistake_text, lw_plan, lw_plan_check, lw_plan_compare,
    lw_plan_free, lw_plan_read, lw_plan_schedule, lw_plan_tolerance, lw_report, lw_report_count, lw_report_free,
    lw_report_json, lw_report_number, lw_report_text,
};

#[test]
fn a_plan_to_its_report() {
    let (status, plan) = read(include_str!("../../../loomwright/examples/lamp.toml"));
    assert_eq!(status, 0);
    let mut report: *mut lw_report = null_mut();
    // SAFETY: handles of ours, local numbers, terminated texts, buffers of the size said.
    unsafe {
        assert_eq!(lw_plan_check(plan, &raw mut report), 0);
        lw_plan_free(plan);
        let json = text(|buffer, capacity, length| lw_report_json(report, buffer, capacity, length));
        let whole: serde_json::Value = serde_json::from_str(&json).unwrap();
        assert_eq!(whole["verdict"], "holds");
        let verdict =
            text(|buffer, capacity, length| lw_report_text(report, c"/verdict".as_ptr(), buffer, capacity, length));
        assert_eq!(verdict, "holds");
        let mut runs = 0;
        assert_eq!(lw_report_count(report, c"/runs".as_ptr(), &raw mut runs), 0);
        assert_eq!(Some(runs), whole["runs"].as_array().map(Vec::len));
        for run in 0..runs {
            let field = CString::new(format!("/runs/{run}/drop_v")).unwrap();
            let (status, drop) = number(|out| lw_report_number(report, field.as_ptr(), out));
            assert_eq!((status, Some(drop)), (0, whole["runs"][run]["drop_v"].as_f64()));
        }
        assert_eq!(number(|out| lw_report_number(report, c"/nothing".as_ptr(), out)).0, 9);
        assert_eq!(number(|out| lw_report_number(report, c"/verdict".as_ptr(), out)).0, 9);
        assert_eq!(number(|out| lw_report_number(report, null(), out)).0, 1);
        assert_eq!(number(|out| lw_report_number(null(), c"/runs".as_ptr(), out)).0, 1);
        lw_report_free(report);
        lw_report_free(null_mut());
        lw_plan_free(null_mut());
    }
}

#[test]
fn a_plan_to_its_schedule_and_to_another_plan() {
    let text_of_plan = include_str!("../../../loomwright/examples/lamp.toml");
    let (_, plan) = read(text_of_plan);
    let (_, other) = read(&text_of_plan.replace("\"4 m in room\"", "\"8 m in room\""));
    let (_, refused) = read("format = 1\n[plan]\n");
    let mut report: *mut lw_report = null_mut();
    let runs = |report, field: &std::ffi::CStr| {
        let mut count = 0;
        // SAFETY: a handle of ours, a terminated text and a local number.
        assert_eq!(unsafe { lw_report_count(report, field.as_ptr(), &raw mut count) }, 0);
        count
    };
    // SAFETY: handles of ours and local pointers.
    unsafe {
        assert_eq!(lw_plan_schedule(plan, &raw mut report), 0);
        assert_eq!((runs(report, c"/sheets/cables"), runs(report, c"/sheets/labels")), (4, 8));
        assert!(number(|out| lw_report_number(report, c"/sheets/cables/0/cut_m".as_ptr(), out)).1 > 0.6);
        lw_report_free(report);
        assert_eq!(lw_plan_compare(plan, other, &raw mut report), 0);
        let change = text(|buffer, capacity, length| {
            lw_report_text(report, c"/runs/2/change".as_ptr(), buffer, capacity, length)
        });
        assert!(["changed", "loaded"].contains(&change.as_str()), "{change}");
        lw_report_free(report);
        assert_eq!(lw_plan_tolerance(plan, 50, 7, 2, &raw mut report), 0);
        assert_eq!(number(|out| lw_report_number(report, c"/samples".as_ptr(), out)), (0, 50.0));
        lw_report_free(report);
        assert_eq!(lw_plan_tolerance(plan, 0, 7, 2, &raw mut report), 2);
        assert_eq!(lw_plan_tolerance(plan, 50, 7, -1, &raw mut report), 2);
        assert_eq!(lw_plan_schedule(refused, &raw mut report), 8);
        assert_eq!(lw_plan_compare(plan, refused, &raw mut report), 8);
        assert_eq!((lw_plan_schedule(null(), &raw mut report), lw_plan_schedule(plan, null_mut())), (1, 1));
        [plan, other, refused].into_iter().for_each(|plan| lw_plan_free(plan));
    }
}

#[test]
fn a_plan_s_mistakes_by_line_and_column() {
    let (status, plan) = read("format = 1\n[plan]\nname = \"x\"\nplace = \"bota\"\nsystem_voltage = \"12 V\"\n");
    assert_eq!(status, 8);
    // SAFETY: as above.
    unsafe {
        let mut count = 0;
        assert_eq!((lw_mistake_count(plan, &raw mut count), count), (0, 1));
        let mut place = lw_mistake { line: 0, column: 0, start: 0, end: 0 };
        assert_eq!(lw_mistake_at(plan, 0, &raw mut place), 0);
        assert_eq!((place.line, place.column), (4, 9));
        assert!(text(|buffer, capacity, length| lw_mistake_text(plan, 0, buffer, capacity, length)).contains("boat"));
        assert_eq!(lw_mistake_at(plan, 1, &raw mut place), 2);
        let mut report = null_mut();
        assert_eq!((lw_plan_check(plan, &raw mut report), report.is_null()), (8, true));
        lw_plan_free(plan);
        let mut nothing: *mut lw_plan = null_mut();
        let broken = [0xFF_u8, 0xFE];
        assert_eq!(lw_plan_read(broken.as_ptr().cast(), 2, &raw mut nothing), 5);
        assert_eq!(lw_plan_read(null(), 5, &raw mut nothing), 1);
        assert_eq!(lw_plan_read(broken.as_ptr().cast(), usize::MAX, &raw mut nothing), 2);
        assert_eq!(lw_plan_read(null(), 0, null_mut()), 1);
        assert!(nothing.is_null());
    }
}
