//! The border from the caller's side: values, hostile arguments, threads.
#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod energy;
mod hammer;
mod measured;
mod pictures;
mod plans;
mod scalar;
mod sizing;

use std::ffi::{CStr, CString, c_char};
use std::mem::size_of;
use std::ptr::{null, null_mut};

use crate::border::{lw_last_message, lw_status_text};
use crate::{
    lw_circuit_query, lw_circuit_result, lw_opening_latest, lw_plan, lw_plan_check, lw_plan_free, lw_plan_read,
    lw_report_free, lw_report_number, lw_resistance,
};

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
