//! Numbers in, numbers out.

use std::ffi::CStr;
use std::ptr::null;

use super::{IEC_5, message, number};
use crate::{
    lw_ampacity, lw_conductor_temperature, lw_conduit_fill, lw_converter_input_current, lw_drop, lw_fuse_family,
    lw_fuse_rating, lw_gauge_area, lw_gauge_for_area, lw_longest_run, lw_opening_earliest, lw_opening_latest,
    lw_pin_resistance, lw_resistance, lw_smallest_size, lw_torque_least, lw_torque_most, lw_withstand_time,
};

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
