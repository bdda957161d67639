//! Measured against planned, against the engine and against hostile callers.

use std::ffi::c_char;
use std::ptr::{null, null_mut};

use loomwright::study::commission::commission;
use loomwright::study::inspect::{Wiring, before_energising, inspect, steps_record};
use loomwright::study::judge::{Judgement, judge};
use loomwright::study::reconcile::reconcile;
use loomwright::study::remedy::propose;
use loomwright::text::{TemplateForm, read_plan, read_readings, readings_template};
use serde_json::Value;

use super::{message, number, read, text};
use crate::*;

const LAMP: &str = include_str!("../../../loomwright/examples/lamp.toml");
/// One reading of the lamp, and one line that cannot be read.
const ONE_AND_A_HALF: &str =
    "case,quantity,at,value,accuracy\nparked-night,voltage,house,12.71 V,multimeter\n,voltage,lamp,\"12,6 V\",\n";
const IEC_5: i32 = 5;

type Explains = unsafe extern "C" fn(*const lw_plan, *const c_char, usize, *mut *mut lw_report) -> i32;
const EXPLAIN: [Explains; 3] = [lw_plan_reconcile, lw_plan_commission, lw_plan_inspect];

/// Status and JSON of a call that gives a report.
pub(super) fn json(call: impl FnOnce(*mut *mut lw_report) -> i32) -> (i32, String) {
    let mut report = null_mut();
    let status = call(&raw mut report);
    assert_eq!(status == 0, !report.is_null(), "a failed call gives no report");
    if report.is_null() {
        return (status, String::new());
    }
    // SAFETY: a handle of ours, which is freed once.
    unsafe {
        let told = text(|buffer, capacity, length| lw_report_json(report, buffer, capacity, length));
        lw_report_free(report);
        (status, told)
    }
}

fn explained(of: Explains, plan: *const lw_plan, readings: &str) -> (i32, String) {
    // SAFETY: a plan that lives, a text of the length said, a local pointer.
    json(|report| unsafe { of(plan, readings.as_ptr().cast(), readings.len(), report) })
}

fn judged() -> Judgement {
    judge(&read_plan(LAMP).unwrap()).unwrap()
}

fn value(told: &str) -> Value {
    serde_json::from_str(told).unwrap()
}

#[test]
fn readings_are_explained_as_the_engine_does() {
    let (_, plan) = read(LAMP);
    let mut judgement = judged();
    let read = read_readings(ONE_AND_A_HALF, &judgement.installation);
    assert_eq!((read.readings.len(), read.refused.len()), (1, 1));
    let found = reconcile(&judgement, &read.readings).unwrap();
    let (status, told) = explained(lw_plan_reconcile, plan, ONE_AND_A_HALF);
    let (told, own) = (value(&told), serde_json::to_value(found.record(&judgement)).unwrap());
    assert_eq!(status, 0);
    assert_eq!((&told["days"], &told["verdict"]), (&own["days"], &own["verdict"]));
    let [refused] = told["refused"].as_array().unwrap().as_slice() else { panic!("{told}") };
    assert_eq!((refused["line"].as_u64(), refused["key"].as_str()), (Some(3), Some("value")));
    assert_eq!(refused["column"].as_u64(), u64::try_from(read.refused[0].column).ok());

    let (status, inspected) = explained(lw_plan_inspect, plan, ONE_AND_A_HALF);
    assert_eq!((status, value(&inspected)), (0, inspect(&judgement, &found.seen()).record()));
    // SAFETY: a plan that lives; null with length 0 is no readings.
    let (status, inspected) = json(|report| unsafe { lw_plan_inspect(plan, null(), 0, report) });
    assert_eq!((status, value(&inspected)), (0, inspect(&judgement, &[]).record()));

    let (status, record) = explained(lw_plan_commission, plan, ONE_AND_A_HALF);
    propose(&mut judgement);
    let mut own = commission(&judgement, &found).record();
    own["readings"]["refused"] = told["refused"].clone();
    assert_eq!((status, value(&record)), (0, own));
    // SAFETY: it is ours.
    unsafe { lw_plan_free(plan) };
}

#[test]
fn templates_and_steps_are_the_engine_s_own() {
    let (_, plan) = read(LAMP);
    let judgement = judged();
    for (code, form) in [(0, TemplateForm::Csv), (1, TemplateForm::Toml)] {
        let mut report = null_mut();
        // SAFETY: handles of ours and terminated texts.
        let file = unsafe {
            assert_eq!(lw_plan_readings_template(plan, code, &raw mut report), 0);
            let file =
                text(|buffer, capacity, length| lw_report_text(report, c"/text".as_ptr(), buffer, capacity, length));
            lw_report_free(report);
            file
        };
        assert_eq!(file, readings_template(&judgement, form));
        // Nothing is filled in: there is nothing to explain, and a mistake of none.
        for of in EXPLAIN {
            assert_eq!(explained(of, plan, &file).0, 8);
            assert_eq!(message(), "no value stands in these readings");
        }
    }
    // SAFETY: a plan that lives.
    let (status, steps) = json(|report| unsafe { lw_plan_before_energising(plan, report) });
    let own = steps_record(&before_energising(&judgement, Wiring::of(&judgement.installation)));
    assert_eq!((status, &value(&steps)["steps"]), (0, &own));
    for code in [-1, 2, i32::MIN, i32::MAX] {
        // SAFETY: as above.
        assert_eq!(json(|report| unsafe { lw_plan_readings_template(plan, code, report) }).0, 3);
    }
    // SAFETY: it is ours.
    unsafe { lw_plan_free(plan) };
}

#[test]
fn readings_that_cannot_be_used_are_a_status() {
    let (_, plan) = read(LAMP);
    let (_, refused) = read("format = 1\n[plan]\n");
    for of in EXPLAIN {
        // Each line at its place, when none is left.
        let none = "case,quantity,at,value\nparked-night,voltage,house,\"12,7 V\"\n,current,nowhere,3 A\n";
        assert_eq!(explained(of, plan, none).0, 8);
        let told = message();
        assert!(told.contains("\n2:") && told.contains("\n3:") && told.contains("value: "), "{told}");
        // Texts that are none, of both forms; and cut anywhere.
        for broken in ["", "\0\0\0", "nonsense", "quantity,at\n", "format = 1\n[[readings]]\nvalue = [", "\u{feff}"] {
            assert_eq!(explained(of, plan, broken).0, 8, "{broken:?}");
        }
        for end in 0..ONE_AND_A_HALF.len() {
            let (status, _) = explained(of, plan, &ONE_AND_A_HALF[..end]);
            assert!([0, 8].contains(&status), "{end}: {status}");
        }
        // More than is read.
        let large = "#".repeat(loomwright::text::LARGEST_READINGS + 1);
        assert_eq!(explained(of, plan, &large).0, 8);
        assert!(message().contains("bytes"), "{}", message());
        assert_eq!(explained(of, refused, ONE_AND_A_HALF).0, 8);
        assert!(message().starts_with("the plan has"), "{}", message());
        assert_eq!(explained(of, null(), ONE_AND_A_HALF).0, 1);
        let latin = [0xB0_u8, b'C'];
        // SAFETY: null, a local text of the length said, or a length that is refused unread; misaligned where nothing is
        // written.
        unsafe {
            let any = ONE_AND_A_HALF.as_ptr().cast();
            assert_eq!(json(|report| of(plan, latin.as_ptr().cast(), latin.len(), report)).0, 5);
            assert_eq!(json(|report| of(plan, null(), 5, report)).0, 1);
            assert_eq!(json(|report| of(plan, any, usize::MAX, report)).0, 2);
            assert_eq!(of(plan, any, ONE_AND_A_HALF.len(), null_mut()), 1);
            let mut room = [null_mut::<lw_report>(); 2];
            let misaligned = room.as_mut_ptr().cast::<u8>().wrapping_add(3).cast();
            assert_eq!(of(plan, any, ONE_AND_A_HALF.len(), misaligned), 1);
            assert!(room.iter().all(|one| one.is_null()));
        }
    }
    // SAFETY: null is told, and the plans are ours.
    unsafe {
        for plan in [null(), refused.cast_const()] {
            let wanted = if plan.is_null() { 1 } else { 8 };
            assert_eq!(json(|report| lw_plan_readings_template(plan, 0, report)).0, wanted);
            assert_eq!(json(|report| lw_plan_before_energising(plan, report)).0, wanted);
        }
        assert_eq!(lw_plan_readings_template(plan, 0, null_mut()), 1);
        assert_eq!(lw_plan_before_energising(plan, null_mut()), 1);
        assert_eq!(json(|report| lw_plan_reconcile(plan, null(), 0, report)).0, 8);
        [plan, refused].into_iter().for_each(|plan| lw_plan_free(plan));
    }
}

/// Joints in numbers out: rise, body, resistance and spot belong together, and none is told where none is followed.
#[test]
fn joints_in_numbers_out() {
    type Joint = unsafe extern "C" fn(i32, i32, f64, i32, i32, f64, f64, f64, *mut f64) -> i32;
    let ask = |function: Joint, ambient: f64, current: f64, last: f64| {
        // SAFETY: a local number.
        number(|out| unsafe { function(IEC_5, 0, 35.0, 0, 1, ambient, current, last, out) })
    };
    // The engine's own example: 35 mm² alone in free air of 30 °C at 100 A, below 75 °C with 0.1 mΩ, above 130 °C with 1 mΩ.
    let (rise, body) = (ask(lw_joint_rise, 30.0, 100.0, 0.1), ask(lw_joint_temperature, 30.0, 100.0, 0.1));
    // SAFETY: a local number.
    let cable = number(|out| unsafe { lw_conductor_temperature(IEC_5, 0, 35.0, 0, 1, 30.0, 100.0, out) });
    assert!(rise.0 == 0 && body.0 == 0 && cable.0 == 0 && (body.1 - cable.1 - rise.1).abs() < 1e-9);
    assert!(body.1 < 75.0 && ask(lw_joint_temperature, 30.0, 100.0, 1.0).1 > 130.0);
    let (status, back) = ask(lw_joint_resistance, 30.0, 100.0, rise.1);
    assert!(status == 0 && (back - 0.1).abs() < 1e-4, "{back}");
    assert_eq!(ask(lw_joint_rise, 30.0, 100.0, 0.0), (0, 0.0));
    // A joint that glows, a cable that burns, and one without current.
    assert_eq!(ask(lw_joint_rise, 30.0, 20.0, 5e3), (7, 7.5));
    assert!(message().contains("1000 °C"), "{}", message());
    assert_eq!(ask(lw_joint_temperature, 30.0, 1e5, 0.1).0, 7);
    assert_eq!((ask(lw_joint_resistance, 30.0, 0.0, 45.0).0, ask(lw_joint_resistance, 30.0, 100.0, 999.0).0), (7, 7));
    for function in [lw_joint_rise, lw_joint_temperature, lw_joint_resistance] {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e9, 1e9] {
            for place in 0..3 {
                let mut given = [30.0, 100.0, 1.0];
                given[place] = bad;
                assert_eq!(ask(function, given[0], given[1], given[2]), (2, 7.5), "{given:?}");
            }
        }
        // SAFETY: null is told, and otherwise a local number.
        unsafe {
            assert_eq!(function(IEC_5, 0, 35.0, 0, 1, 30.0, 100.0, 1.0, null_mut()), 1);
            assert_eq!(number(|out| function(4, 0, 35.0, 0, 1, 30.0, 100.0, 1.0, out)).0, 3);
            assert_eq!(number(|out| function(IEC_5, 0, 34.0, 0, 1, 30.0, 100.0, 1.0, out)).0, 4);
            assert_eq!(number(|out| function(IEC_5, 0, 35.0, 9, 1, 30.0, 100.0, 1.0, out)).0, 3);
            assert_eq!(number(|out| function(IEC_5, 0, 35.0, 0, 41, 30.0, 100.0, 1.0, out)).0, 2);
        }
    }
    // Copper softens at about 190 °C: 112 mV from 20 °C. The engine's example: 100 mV over bodies of 60 °C is 188.4 °C.
    // SAFETY: local numbers.
    unsafe {
        let (status, volts) = number(|out| lw_contact_voltage(189.85, 19.85, out));
        assert!(status == 0 && (volts - 112.2).abs() < 0.1, "{volts}");
        let (status, spot) = number(|out| lw_spot_temperature(100.0, 60.0, out));
        assert!(status == 0 && (spot - 188.4).abs() < 0.1, "{spot}");
        assert_eq!(number(|out| lw_contact_voltage(20.0, 60.0, out)), (0, 0.0));
        for bad in [f64::NAN, f64::INFINITY, -1e9, 1e9] {
            assert_eq!(number(|out| lw_spot_temperature(bad, 60.0, out)), (2, 7.5));
            assert_eq!(number(|out| lw_spot_temperature(100.0, bad, out)), (2, 7.5));
            assert_eq!(number(|out| lw_contact_voltage(bad, 60.0, out)), (2, 7.5));
            assert_eq!(number(|out| lw_contact_voltage(190.0, bad, out)), (2, 7.5));
        }
        assert_eq!((lw_spot_temperature(100.0, 60.0, null_mut()), lw_contact_voltage(190.0, 60.0, null_mut())), (1, 1));
    }
}
