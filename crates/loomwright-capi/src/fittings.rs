//! Scalar functions of fittings: torques, reducing pins, conduits.

use std::ffi::c_char;

use loomwright::fitting::{Joint, Pin, Thread, TorqueRange, conduit_fill, torque};
use loomwright::quantity::uom::si::ratio::ratio;
use loomwright::quantity::uom::si::torque::newton_meter;
use loomwright::quantity::{celsius, mm2};

use crate::border::{Failure, lw_status, terminated, write_number};
use crate::codes::within;

/// # Safety
/// `joint` is null or a terminated text.
unsafe fn range(joint: *const c_char, thread_mm: f64) -> Result<TorqueRange, Failure> {
    // SAFETY: the caller's promise is passed on unchanged.
    let named = unsafe { terminated(joint, "joint") }?;
    let joint: Joint = named
        .parse()
        .map_err(|error: loomwright::UnknownName| Failure::new(lw_status::LW_UNKNOWN_VALUE, error.to_string()))?;
    let size = within("thread_mm", thread_mm, 1.0, 100.0)?;
    let none = || Failure::new(lw_status::LW_NO_VALUE, format!("no torque of {joint} joints M{size} is known"));
    let thread: Thread = format!("M{size}").parse().map_err(|_| none())?;
    torque(joint, thread).ok_or_else(none)
}

/// The least tightening torque that makers ask for on such a bolted joint. Result in newton metres. The figure of the part
/// at hand comes first, and where this is far from `lw_torque_most`, only that will do.
///
/// `joint`: "battery" or "stud". `thread_mm`: of a metric thread, such as 8 for M8.
///
/// # Safety
/// `joint` is null or a terminated text; `torque_nm` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_torque_least(joint: *const c_char, thread_mm: f64, torque_nm: *mut f64) -> i32 {
    // SAFETY: the caller's promises are passed on unchanged.
    unsafe { write_number(torque_nm, || Ok(range(joint, thread_mm)?.least.get::<newton_meter>())) }
}

/// The most that makers ask for; otherwise as `lw_torque_least`.
///
/// # Safety
/// `joint` is null or a terminated text; `torque_nm` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_torque_most(joint: *const c_char, thread_mm: f64, torque_nm: *mut f64) -> i32 {
    // SAFETY: the caller's promises are passed on unchanged.
    unsafe { write_number(torque_nm, || Ok(range(joint, thread_mm)?.most.get::<newton_meter>())) }
}

/// Resistance of a reducing pin with its crimp: 25 mm of copper, and 0.1 mΩ. Result in ohms.
///
/// `from_mm2`, `to_mm2`: cross-sectional areas of conductor and pin, 0.1 to 1000 mm², the pin's the smaller. `temperature_c`:
/// −200 to 500 °C.
///
/// # Safety
/// `resistance_ohm` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_pin_resistance(
    from_mm2: f64,
    to_mm2: f64,
    temperature_c: f64,
    resistance_ohm: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(resistance_ohm, || {
            let [from, to] = [within("from_mm2", from_mm2, 0.1, 1e3)?, within("to_mm2", to_mm2, 0.1, 1e3)?];
            let temperature = celsius(within("temperature_c", temperature_c, -200.0, 500.0)?);
            let pin = Pin::new(mm2(from), mm2(to)).ok_or_else(|| {
                Failure::new(lw_status::LW_NO_VALUE, format!("a pin of {to} mm² is not smaller than {from} mm²"))
            })?;
            Ok(pin.resistance(temperature).value)
        })
    }
}

/// The share of a conduit's bore that so many cables may fill, 0 to 1, by their real outer diameters.
///
/// `cables`: 1 to 1000.
///
/// # Safety
/// `share` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_conduit_fill(cables: i32, share: *mut f64) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(share, || {
            let count = u16::try_from(cables).ok().filter(|count| (1..=1000).contains(count));
            let outside = || Failure::new(lw_status::LW_OUT_OF_RANGE, format!("cables {cables} is outside 1 to 1000"));
            Ok(conduit_fill(count.ok_or_else(outside)?).0.get::<ratio>())
        })
    }
}
