//! Scalar functions of fuses: the rating that carries a load, and how long one may take.

use std::ffi::c_char;

use loomwright::protection::{Band, Family, Fuse, Selection};
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::volt;
use loomwright::quantity::uom::si::time::second;
use loomwright::quantity::{ElectricCurrent, ElectricPotential, Time, celsius};

use crate::border::{Failure, copy_text, lw_status, run, terminated, writable, write_number};
use crate::codes::within;

/// The smallest fuse that carries a load without pause.
fn carrying(current_a: f64, highest_v: f64, ambient_c: f64) -> Result<Fuse, Failure> {
    let current = ElectricCurrent::new::<ampere>(within("current_a", current_a, 0.0, 1e5)?);
    let highest = ElectricPotential::new::<volt>(within("highest_v", highest_v, 1.0, 100.0)?);
    let ambient = celsius(within("ambient_c", ambient_c, -40.0, 200.0)?);
    Selection::new(highest, ambient).smallest_carrying(current).ok_or_else(|| {
        Failure::new(
            lw_status::LW_NO_VALUE,
            format!("no fuse for {highest_v} V carries {current_a} A at {ambient_c} °C"),
        )
    })
}

/// Rating of the smallest fuse that carries a load without pause. Result in amperes. What it protects, and what it breaks, is
/// not judged here; data of families are partly from memory: hold the maker's sheet against them.
///
/// `current_a`: 0 to 100 000 A. `highest_v`: the highest charge voltage, not the nominal one, 1 to 100 V. `ambient_c`: air
/// around the fuse, −40 to 200 °C.
///
/// # Safety
/// `rating_a` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_fuse_rating(current_a: f64, highest_v: f64, ambient_c: f64, rating_a: *mut f64) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { write_number(rating_a, || Ok(carrying(current_a, highest_v, ambient_c)?.rating.get::<ampere>())) }
}

/// Family of the fuse that `lw_fuse_rating` finds, as a terminated text such as "blade-c"; `length` is its whole length in
/// bytes without the terminator, and may be null.
///
/// # Safety
/// `buffer` is null or valid for writing `capacity` bytes, `length` null or valid for writing one `size_t`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_fuse_family(
    current_a: f64,
    highest_v: f64,
    ambient_c: f64,
    buffer: *mut c_char,
    capacity: usize,
    length: *mut usize,
) -> i32 {
    run(|| {
        let fuse = carrying(current_a, highest_v, ambient_c)?;
        // SAFETY: the caller's promise is passed on unchanged.
        let whole = unsafe { copy_text(fuse.family.name(), buffer, capacity) };
        if !length.is_null() {
            // SAFETY: not null and aligned, and the caller promises that it may be written.
            unsafe { writable(length, "length")?.write(whole) };
        }
        Ok(())
    })
}

/// # Safety
/// `family` is null or a terminated text.
unsafe fn band(family: *const c_char, rating_a: f64) -> Result<Band, Failure> {
    // SAFETY: the caller's promise is passed on unchanged.
    let name = unsafe { terminated(family, "family") }?;
    let family = Family::named(name).map_err(|error| Failure::new(lw_status::LW_UNKNOWN_VALUE, error.to_string()))?;
    let rating = ElectricCurrent::new::<ampere>(within("rating_a", rating_a, 0.1, 1e4)?);
    let fuse = family.fuse(rating).map_err(|error| Failure::new(lw_status::LW_UNKNOWN_VALUE, error.to_string()))?;
    Band::of(&fuse).ok_or_else(|| {
        let message = format!("no time limits of {name} are at hand for {rating_a} A");
        Failure::new(lw_status::LW_NO_VALUE, message)
    })
}

fn seconds(time: Option<Time>, otherwise: &str) -> Result<f64, Failure> {
    time.map(|time| time.get::<second>()).ok_or_else(|| Failure::new(lw_status::LW_NO_VALUE, otherwise))
}

/// The latest opening of a fuse or breaker at a current, in 25 °C. Result in seconds; `LW_NO_VALUE` where it may never open.
/// Data of families are partly from memory: hold the maker's sheet against them.
///
/// `family`: a terminated name such as "blade-c". `rating_a`: one of its ratings. `current_a`: 0 to 1 000 000 A.
///
/// # Safety
/// `family` is null or a terminated text; `time_s` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_opening_latest(
    family: *const c_char,
    rating_a: f64,
    current_a: f64,
    time_s: *mut f64,
) -> i32 {
    // SAFETY: the caller's promises are passed on unchanged.
    unsafe {
        write_number(time_s, || {
            let current = ElectricCurrent::new::<ampere>(within("current_a", current_a, 0.0, 1e6)?);
            seconds(band(family, rating_a)?.slowest(current), "it may never open at so little")
        })
    }
}

/// The earliest opening; otherwise as `lw_opening_latest`. `LW_NO_VALUE` where it holds for good, or its fastest times are
/// not at hand.
///
/// # Safety
/// `family` is null or a terminated text; `time_s` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_opening_earliest(
    family: *const c_char,
    rating_a: f64,
    current_a: f64,
    time_s: *mut f64,
) -> i32 {
    // SAFETY: the caller's promises are passed on unchanged.
    unsafe {
        write_number(time_s, || {
            let current = ElectricCurrent::new::<ampere>(within("current_a", current_a, 0.0, 1e6)?);
            seconds(band(family, rating_a)?.fastest(current), "it holds for good, or its fastest times are not at hand")
        })
    }
}
