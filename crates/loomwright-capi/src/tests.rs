//! The border from the caller's side: values, hostile arguments, threads.
#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod energy;
mod hammer;
mod measured;
mod pictures;

use std::ffi::{CStr, CString, c_char};
use std::mem::size_of;
use std::ptr::{null, null_mut};

use crate::border::{lw_last_message, lw_status_text};
use crate::{
    LW_HAS_AMBIENT, LW_HAS_DUTY, LW_HAS_INSTALLATION, LW_HAS_KIND, LW_HAS_POWER, lw_ampacity, lw_circuit_query,
    lw_circuit_result, lw_conductor_temperature, lw_conduit_fill, lw_converter_input_current, lw_drop, lw_fuse_family,
    lw_fuse_rating, lw_gauge_area, lw_gauge_for_area, lw_longest_run, lw_mistake, lw_mistake_at, lw_mistake_count,
    lw_mistake_text, lw_opening_earliest, lw_opening_latest, lw_pin_resistance, lw_plan, lw_plan_check,
    lw_plan_compare, lw_plan_free, lw_plan_read, lw_plan_schedule, lw_plan_tolerance, lw_report, lw_report_count,
    lw_report_free, lw_report_json, lw_report_number, lw_report_text, lw_resistance, lw_size_circuit, lw_size_circuits,
    lw_smallest_size, lw_torque_least, lw_torque_most, lw_withstand_time,
};
use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length, celsius, in_mm2};
use loomwright::study::cable::{CableQuery, Load, size};

const IEC_5: i32 = 5;

fn message() -> String {
    let mut buffer = [0; 600];
    // SAFETY: the buffer is as long as said, and terminated by the call.
    unsafe {
        lw_last_message(buffer.as_mut_ptr(), buffer.len());
        CStr::from_ptr(buffer.as_ptr()).to_str().unwrap().to_owned()
    }
}

/// A number through a pointer, with its status.
fn number(call: impl FnOnce(*mut f64) -> i32) -> (i32, f64) {
    let mut out = 7.5;
    let status = call(&raw mut out);
    (status, out)
}

fn query() -> lw_circuit_query {
    // SAFETY: a struct of plain numbers, for which all bits zero is a value.
    let blank: lw_circuit_query = unsafe { std::mem::zeroed() };
    lw_circuit_query {
        struct_size: u32::try_from(size_of::<lw_circuit_query>()).unwrap(),
        current_a: 40.0,
        length_m: 5.5,
        voltage_v: 12.0,
        ..blank
    }
}

fn result() -> lw_circuit_result {
    // SAFETY: as above.
    let blank: lw_circuit_result = unsafe { std::mem::zeroed() };
    lw_circuit_result { struct_size: u32::try_from(size_of::<lw_circuit_result>()).unwrap(), ..blank }
}

#[test]
fn numbers_in_number_out() {
    // SAFETY: pointers to local numbers and terminated texts throughout.
    unsafe {
        // IEC 60228 class 5, 16 mm²: 1.21 Ω/km.
        assert_eq!(number(|out| lw_resistance(IEC_5, 0, 16.0, 1000.0, 20.0, out)), (0, 1.21));
        let (status, volts) = number(|out| lw_drop(IEC_5, 0, 16.0, 40.0, 5.0, 20.0, out));
        assert!(status == 0 && (volts - 40.0 * 1.21e-3 * 10.0).abs() < 1e-12);
        assert_eq!(message(), "");
        // What it carries up to 70 °C heats it to 70 °C.
        let (status, carries) = number(|out| lw_ampacity(IEC_5, 0, 16.0, 0, 0, 30.0, 70.0, out));
        assert_eq!(status, 0);
        let (status, reached) = number(|out| lw_conductor_temperature(IEC_5, 0, 16.0, 0, 0, 30.0, carries, out));
        assert!(status == 0 && (reached - 70.0).abs() < 1e-6, "{reached}");
        // k = 115 of IEC 60364-4-43 for PVC: no longer than (115 · 16 / 1000)² s.
        let (status, seconds) = number(|out| lw_withstand_time(IEC_5, 0, 16.0, 1000.0, 70.0, 160.0, out));
        assert!(status == 0 && seconds <= 1.84 * 1.84 * 1.001 && seconds > 2.5, "{seconds}");
        // ASTM B258: 6 AWG is 13.30 mm², 4/0 is 107.2 mm².
        let (_, area) = number(|out| lw_gauge_area(6, out));
        assert!((area - 13.30).abs() < 0.005);
        assert_eq!(number(|out| lw_gauge_for_area(13.0, out)), (0, 6.0));
        assert_eq!(number(|out| lw_gauge_for_area(107.2, out)), (0, -3.0));
        let (_, current) = number(|out| lw_converter_input_current(1000.0, 11.0, 90.0, out));
        assert!((current - 1000.0 / 0.9 / 11.0).abs() < 1e-12);
        // 40 A over 80 % is 50 A in 20 °C.
        assert_eq!(number(|out| lw_fuse_rating(40.0, 14.6, 20.0, out)), (0, 50.0));
        let mut family = [1; 12];
        let mut length = 0;
        assert_eq!(lw_fuse_family(40.0, 14.6, 20.0, family.as_mut_ptr(), family.len(), &raw mut length), 0);
        assert_eq!((CStr::from_ptr(family.as_ptr()), length), (c"blade-e", 7));
        // 200 % of a 60 A blade of type E: 2 to 50 s (maker's data sheet); at 110 % it may never open.
        let blade = c"blade-e".as_ptr();
        let (_, latest) = number(|out| lw_opening_latest(blade, 60.0, 120.0, out));
        let (_, earliest) = number(|out| lw_opening_earliest(blade, 60.0, 120.0, out));
        assert!((latest - 50.0).abs() < 1e-9 && (earliest - 2.0).abs() < 1e-9);
        assert_eq!(number(|out| lw_opening_latest(blade, 60.0, 66.0, out)), (7, 7.5));
    }
}

#[test]
fn size_and_run_agree() {
    // SAFETY: pointers to local numbers.
    unsafe {
        let (status, size) = number(|out| lw_smallest_size(IEC_5, 0, 40.0, 5.5, 12.0, 3.0, 40.0, 70.0, out));
        assert!(status == 0 && (size - 50.0).abs() < 1e-9, "{size}");
        let (status, run) = number(|out| lw_longest_run(IEC_5, 0, size, 40.0, 12.0, 3.0, 40.0, 70.0, out));
        assert!(status == 0 && run >= 5.5, "{run}");
        let longer = number(|out| lw_smallest_size(IEC_5, 0, 40.0, run * 1.001, 12.0, 3.0, 40.0, 70.0, out)).1;
        assert!(longer > size);
        assert_eq!(number(|out| lw_longest_run(IEC_5, 0, 1.0, 40.0, 12.0, 3.0, 40.0, 70.0, out)).0, 7);
    }
}

#[test]
fn hostile_numbers_and_pointers_become_a_status() {
    let mut ohms = 7.0;
    // SAFETY: null is allowed, and every other pointer is to a local number.
    unsafe {
        assert_eq!(lw_resistance(IEC_5, 0, 16.0, 1.0, 20.0, null_mut()), 1);
        let bytes = (&raw mut ohms).cast::<u8>().wrapping_add(1).cast::<f64>();
        assert_eq!(lw_resistance(IEC_5, 0, 16.0, 1.0, 20.0, bytes), 1);
        for bad in [f64::NAN, f64::INFINITY, -1.0] {
            assert_eq!(lw_resistance(IEC_5, 0, 16.0, bad, 20.0, &raw mut ohms), 2, "{bad}");
            assert!(message().contains("length_m"));
            assert_eq!(lw_resistance(IEC_5, 0, bad, 1.0, 20.0, &raw mut ohms), 2, "{bad}");
        }
        assert_eq!(lw_resistance(IEC_5, 9, 16.0, 1.0, 20.0, &raw mut ohms), 3);
        assert_eq!(lw_resistance(4, 0, 16.0, 1.0, 20.0, &raw mut ohms), 3);
        assert_eq!(lw_resistance(IEC_5, 0, 17.0, 1.0, 20.0, &raw mut ohms), 4);
        assert!(message().contains("16, 25"), "{}", message());
        assert_eq!(lw_opening_latest(null(), 10.0, 20.0, &raw mut ohms), 1);
        assert_eq!(lw_opening_latest(c"blade-cc".as_ptr(), 10.0, 20.0, &raw mut ohms), 3);
        assert!(message().contains("did you mean"), "{}", message());
        let broken = [0xC3_u8, 0x28, 0];
        assert_eq!(lw_opening_latest(broken.as_ptr().cast(), 10.0, 20.0, &raw mut ohms), 5);
    }
    assert_eq!(ohms, 7.0, "a failed call leaves the result alone");
}

#[test]
fn messages_are_cut_at_a_character_and_always_terminated() {
    let mut ohms = 0.0;
    let mut small = [1; 7];
    // SAFETY: local buffers, of the size said.
    unsafe {
        lw_resistance(IEC_5, 0, 17.0, 1.0, 20.0, &raw mut ohms);
        let whole = lw_last_message(null_mut(), 0);
        assert!(whole > 8);
        assert_eq!(lw_last_message(small.as_mut_ptr(), small.len()), whole);
        assert_eq!(CStr::from_ptr(small.as_ptr()).to_str().unwrap(), "17 mm");
        for status in 0..=9 {
            assert_ne!(CStr::from_ptr(lw_status_text(status)), c"unknown status");
        }
        assert_eq!(CStr::from_ptr(lw_status_text(12345)), c"unknown status");
    }
}

#[test]
fn a_circuit_is_the_engine_s_to_the_last_bit() {
    let asked = query();
    let mut given = result();
    // SAFETY: pointers to local structs of the size they say.
    assert_eq!(unsafe { lw_size_circuit(&raw const asked, &raw mut given) }, 0);
    let current = Load::Current(ElectricCurrent::from_text("40 A").unwrap());
    let engine =
        CableQuery::new(current, Length::from_text("5.5 m").unwrap(), ElectricPotential::from_text("12 V").unwrap());
    let chosen = size(&engine).unwrap().chosen.unwrap();
    assert_eq!(given.status, 0);
    assert_eq!(given.csa_mm2.to_bits(), in_mm2(chosen.conductor.area).to_bits());
    assert_eq!(given.drop_v.to_bits(), chosen.operating.unwrap().drop.value.to_bits());
    assert_eq!(given.longest_run_m.to_bits(), chosen.longest_run.value.to_bits());
    let family: Vec<u8> =
        given.fuse_family.iter().take_while(|letter| **letter != 0).map(|letter| letter.to_ne_bytes()[0]).collect();
    assert_eq!(String::from_utf8(family).unwrap(), chosen.fuse.unwrap().family.name());
    // Given fields are read, others are not.
    let hot =
        lw_circuit_query { has: LW_HAS_AMBIENT | LW_HAS_KIND, ambient_c: 60.0, kind: 2, drop_v: f64::NAN, ..asked };
    // SAFETY: as above.
    assert_eq!(unsafe { lw_size_circuit(&raw const hot, &raw mut given) }, 0);
    let engine = CableQuery { ambient: Some(celsius(60.0)), kind: Some(loomwright::conductor::Kind::Iec2), ..engine };
    assert_eq!(given.ampacity_a.to_bits(), size(&engine).unwrap().chosen.unwrap().ampacity.value.to_bits());
}

#[test]
fn structs_of_other_sizes_and_foreign_fields() {
    let mut given = result();
    // SAFETY: pointers to local structs; a size that is too small or too large is refused before more is touched.
    unsafe {
        assert_eq!(lw_size_circuit(null(), &raw mut given), 1);
        for wrong in [0, 8, 1 << 20] {
            let asked = lw_circuit_query { struct_size: wrong, ..query() };
            assert_eq!(lw_size_circuit(&raw const asked, &raw mut given), 6, "{wrong}");
        }
        let asked = query();
        given.struct_size = 8;
        assert_eq!(lw_size_circuit(&raw const asked, &raw mut given), 6);
        let foreign = lw_circuit_query { has: 1 << 30, ..query() };
        given = result();
        assert_eq!(lw_size_circuit(&raw const foreign, &raw mut given), 3);
        for (has, broken) in [
            (0, lw_circuit_query { current_a: f64::NAN, ..query() }),
            (LW_HAS_POWER, lw_circuit_query { power_w: f64::INFINITY, ..query() }),
            (LW_HAS_AMBIENT, lw_circuit_query { ambient_c: 1e9, ..query() }),
            (LW_HAS_DUTY, lw_circuit_query { duty_on_s: 9.0, duty_period_s: 3.0, ..query() }),
        ] {
            let broken = lw_circuit_query { has, ..broken };
            assert_eq!(lw_size_circuit(&raw const broken, &raw mut given), 2, "{has}");
        }
        let nowhere = lw_circuit_query { has: LW_HAS_INSTALLATION, installation: 77, ..query() };
        assert_eq!(lw_size_circuit(&raw const nowhere, &raw mut given), 3);
        // What nothing carries is no failure of the call.
        let endless = lw_circuit_query { length_m: 1000.0, voltage_v: 5.0, current_a: 5000.0, ..query() };
        assert_eq!(lw_size_circuit(&raw const endless, &raw mut given), 0);
        assert_eq!((given.status, given.csa_mm2), (7, 0.0));
        // A caller with a newer header has a larger result: its first bytes are written.
        #[repr(C)]
        struct Larger {
            known: lw_circuit_result,
            more: [f64; 4],
        }
        let mut larger = Larger { known: result(), more: [3.25; 4] };
        larger.known.struct_size = u32::try_from(size_of::<Larger>()).unwrap();
        assert_eq!(lw_size_circuit(&raw const asked, (&raw mut larger).cast()), 0);
        assert!(larger.known.csa_mm2 > 0.0 && larger.more == [3.25; 4]);
    }
}

#[test]
fn arrays_are_the_same_on_any_number_of_threads() {
    let rows: Vec<lw_circuit_query> = (0..1000)
        .map(|row| {
            let row = f64::from(row);
            let bad = row == 500.0;
            lw_circuit_query {
                current_a: if bad { f64::NAN } else { 1.0 + row * 0.3 },
                length_m: 1.0 + row % 17.0,
                ..query()
            }
        })
        .collect();
    let solve = |threads: i32| {
        let mut results = vec![result(); rows.len()];
        // SAFETY: arrays of as many rows as said.
        let status = unsafe {
            let strides = (size_of::<lw_circuit_query>(), size_of::<lw_circuit_result>());
            lw_size_circuits(rows.as_ptr(), strides.0, results.as_mut_ptr(), strides.1, rows.len(), threads)
        };
        assert_eq!(status, 0);
        results
    };
    let alone = solve(1);
    assert_eq!((alone[500].status, alone[499].status), (2, 0));
    for threads in [2, 3, 16] {
        for (one, other) in alone.iter().zip(solve(threads)) {
            assert_eq!(format!("{one:?}"), format!("{other:?}"));
        }
    }
    let mut results = vec![result(); rows.len()];
    // SAFETY: refused before anything is touched.
    unsafe {
        let (asked, given) = (size_of::<lw_circuit_query>(), size_of::<lw_circuit_result>());
        let to = results.as_mut_ptr();
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked, to, given, 0, 1), 0);
        assert_eq!(lw_size_circuits(null(), asked, to, given, 5, 1), 1);
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked - 8, to, given, 5, 1), 6);
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked + 3, to, given, 5, 1), 6);
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked, to, given, usize::MAX, 1), 2);
        for threads in [0, -1, 257, i32::MAX] {
            assert_eq!(lw_size_circuits(rows.as_ptr(), asked, to, given, 5, threads), 2);
        }
        // A row whose result says no size is left alone.
        results[1].struct_size = 0;
        assert_eq!(lw_size_circuits(rows.as_ptr(), asked, to, given, 3, 2), 0);
    }
    assert!(results[0].csa_mm2 > 0.0 && results[1].csa_mm2 == 0.0 && results[2].csa_mm2 > 0.0);
}

fn read(text: &str) -> (i32, *mut lw_plan) {
    let mut plan = null_mut();
    // SAFETY: a text of the length said, and a local pointer.
    let status = unsafe { lw_plan_read(text.as_ptr().cast(), text.len(), &raw mut plan) };
    (status, plan)
}

fn text(call: impl Fn(*mut c_char, usize, *mut usize) -> i32) -> String {
    let mut length = 0;
    assert_eq!(call(null_mut(), 0, &raw mut length), 0);
    let mut buffer = vec![1_u8; length + 1];
    assert_eq!(call(buffer.as_mut_ptr().cast(), buffer.len(), null_mut()), 0);
    assert_eq!(buffer.pop(), Some(0));
    String::from_utf8(buffer).unwrap()
}

#[test]
fn a_plan_to_its_report() {
    let (status, plan) = read(include_str!("../../loomwright/examples/lamp.toml"));
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
    let text_of_plan = include_str!("../../loomwright/examples/lamp.toml");
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

/// Torques, a pin and a conduit, against the values beside the engine's own tests.
#[test]
fn fittings_in_numbers_out() {
    // SAFETY: terminated texts and local numbers.
    unsafe {
        assert_eq!(number(|out| lw_torque_least(c"stud".as_ptr(), 8.0, out)), (0, 6.0));
        assert_eq!(number(|out| lw_torque_most(c"battery".as_ptr(), 6.0, out)), (0, 7.9));
        assert_eq!(number(|out| lw_torque_least(c"studs".as_ptr(), 8.0, out)).0, 3);
        assert!(message().contains("did you mean \"stud\""), "{}", message());
        assert_eq!(number(|out| lw_torque_least(c"stud".as_ptr(), 7.0, out)).0, 7);
        assert_eq!(number(|out| lw_torque_least(null(), 8.0, out)).0, 1);
        let (status, ohms) = number(|out| lw_pin_resistance(35.0, 16.0, 20.0, out));
        assert!(status == 0 && (ohms - 126.94e-6).abs() < 1e-8, "{ohms}");
        assert_eq!(number(|out| lw_pin_resistance(16.0, 35.0, 20.0, out)).0, 7);
        assert_eq!(number(|out| lw_conduit_fill(2, out)), (0, 0.31));
        assert_eq!(number(|out| lw_conduit_fill(0, out)).0, 2);
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

/// A fault inside becomes a status, on this thread and on those of an array call.
#[test]
fn no_panic_crosses_the_border() {
    assert_eq!(crate::border::run(|| panic!("on purpose")), 99);
    assert!(message().contains("caught"));
    assert_eq!(crate::border::run(|| Ok(())), 0);
    assert_eq!(message(), "");
}

/// Sixteen threads on one plan and its report, each with a message of its own.
#[test]
fn handles_are_shared_by_threads() {
    let (_, plan) = read(include_str!("../../loomwright/examples/lamp.toml"));
    let shared = plan.addr();
    std::thread::scope(|scope| {
        for thread in 0..16 {
            scope.spawn(move || {
                let plan: *const lw_plan = std::ptr::with_exposed_provenance(shared);
                let mut report = null_mut();
                // SAFETY: the plan lives until all threads are done.
                unsafe {
                    assert_eq!(lw_plan_check(plan, &raw mut report), 0);
                    let field = CString::new(format!("/thread/{thread}")).unwrap();
                    assert_eq!(number(|out| lw_report_number(report, field.as_ptr(), out)).0, 9);
                    assert!(message().contains(&format!("/thread/{thread}")));
                    lw_report_free(report);
                }
            });
        }
    });
    // SAFETY: no thread uses it any more.
    unsafe { lw_plan_free(plan) };
}
