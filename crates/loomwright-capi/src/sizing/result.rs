//! The answer: a sized circuit.

use std::ffi::c_char;
use std::mem::offset_of;

use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::volt;
use loomwright::quantity::uom::si::length::meter;
use loomwright::quantity::uom::si::power::watt;
use loomwright::quantity::{in_celsius, in_mm2};
use loomwright::study::cable::Sizing;

use crate::border::{Failure, lw_status, writable};

/// A sized circuit. Set `struct_size` to `sizeof(lw_circuit_result)`; only so many bytes are written, so a library that
/// knows more fields than its caller leaves them out.
#[repr(C)]
#[derive(Clone, Copy, Debug)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub struct lw_circuit_result {
    /// Size of this struct as the caller knows it.
    pub struct_size: u32,
    /// An `lw_status` for this circuit. `LW_NO_VALUE` when no size passes: the other fields are then 0.
    pub status: i32,
    /// Conductors in parallel in each leg.
    pub parallel: i32,
    /// Not used; 0.
    pub reserved: i32,
    /// The least margin of all checks: 1 or more passes.
    pub least_margin: f64,
    /// Cross-sectional area of one conductor.
    pub csa_mm2: f64,
    /// Drop of conductors, joints and fuse.
    pub drop_v: f64,
    /// Drop of the conductors alone.
    pub conductor_drop_v: f64,
    /// Voltage at the load.
    pub load_voltage_v: f64,
    /// Temperature of the conductor.
    pub conductor_temperature_c: f64,
    /// Heat lost in the circuit.
    pub loss_w: f64,
    /// What the conductor carries without pause here.
    pub ampacity_a: f64,
    /// Rating of the fuse.
    pub fuse_rating_a: f64,
    /// The longest run at this size, within all limits.
    pub longest_run_m: f64,
    /// The largest current at this size and length, within all limits.
    pub largest_current_a: f64,
    /// Family of the fuse: a terminated name such as "blade-c".
    pub fuse_family: [c_char; 40],
}

impl lw_circuit_result {
    pub(super) fn blank(status: lw_status) -> Self {
        Self {
            struct_size: 0,
            status: crate::border::code(status),
            parallel: 0,
            reserved: 0,
            least_margin: 0.0,
            csa_mm2: 0.0,
            drop_v: 0.0,
            conductor_drop_v: 0.0,
            load_voltage_v: 0.0,
            conductor_temperature_c: 0.0,
            loss_w: 0.0,
            ampacity_a: 0.0,
            fuse_rating_a: 0.0,
            longest_run_m: 0.0,
            largest_current_a: 0.0,
            fuse_family: [0; 40],
        }
    }

    pub(super) fn of(sized: &Sizing) -> Self {
        let Some((chosen, point)) = sized.chosen.as_ref().and_then(|chosen| Some((chosen, chosen.operating?))) else {
            return Self::blank(lw_status::LW_NO_VALUE);
        };
        let mut found = Self {
            parallel: i32::from(chosen.parallel),
            least_margin: chosen.binding().map_or(0.0, |binding| binding.margin.value),
            csa_mm2: in_mm2(chosen.conductor.area),
            drop_v: point.drop.get::<volt>(),
            conductor_drop_v: point.conductor_drop.get::<volt>(),
            load_voltage_v: point.load_voltage.get::<volt>(),
            conductor_temperature_c: in_celsius(point.temperature),
            loss_w: point.loss.get::<watt>(),
            ampacity_a: chosen.ampacity.get::<ampere>(),
            longest_run_m: chosen.longest_run.get::<meter>(),
            largest_current_a: chosen.largest_current.get::<ampere>(),
            ..Self::blank(lw_status::LW_OK)
        };
        if let Some(fuse) = chosen.fuse {
            found.fuse_rating_a = fuse.rating.get::<ampere>();
            // A zero at the end stays; no family's name is that long, and a longer one would be cut.
            let [letters @ .., _] = &mut found.fuse_family;
            for (slot, letter) in letters.iter_mut().zip(fuse.family.name().bytes()) {
                *slot = c_char::from_ne_bytes([letter]);
            }
        }
        found
    }
}

/// The least that a result's size may be: all of the first release.
pub(super) const LEAST_RESULT: usize = offset_of!(lw_circuit_result, fuse_family) + 40;

/// The stated size of a result, which must be all of the first release or more.
///
/// # Safety
/// `result` is null or points to a struct whose first field can be read.
pub(super) unsafe fn result_size(result: *mut lw_circuit_result) -> Result<u32, Failure> {
    let result = writable(result, "result")?;
    // SAFETY: not null and aligned, and the caller promises its first field.
    let stated = unsafe { (&raw const (*result).struct_size).read() };
    if usize::try_from(stated).is_ok_and(|stated| stated >= LEAST_RESULT) {
        return Ok(stated);
    }
    let message = format!("result.struct_size {stated} is less than {LEAST_RESULT}");
    Err(Failure::new(lw_status::LW_BAD_SIZE, message))
}

/// Writes a result, keeping the size that the caller has stated.
///
/// # Safety
/// `result` is not null, aligned, and valid for writing this library's struct.
pub(super) unsafe fn write_result(result: *mut lw_circuit_result, stated: u32, found: lw_circuit_result) {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { result.write(lw_circuit_result { struct_size: stated, ..found }) };
}
