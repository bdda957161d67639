//! Scalar functions: what a spreadsheet cell asks.

use loomwright::conductor::{Conductor, Kind, Material, series};
use loomwright::quantity::{
    ElectricCurrent, Length, celsius, in_mm2, in_ohm_per_km, uom::si::electric_current::ampere, uom::si::length::meter,
};

use crate::border::{Failure, lw_status, write_number};

/// Conductor materials.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_material {
    /// Annealed copper.
    LW_COPPER = 0,
    /// Tinned copper.
    LW_TINNED_COPPER = 1,
    /// Aluminium.
    LW_ALUMINIUM = 2,
    /// Copper-clad aluminium.
    LW_COPPER_CLAD_ALUMINIUM = 3,
}

fn material(number: i32) -> Result<Material, Failure> {
    match number {
        0 => Ok(Material::Copper),
        1 => Ok(Material::TinnedCopper),
        2 => Ok(Material::Aluminium),
        3 => Ok(Material::CopperCladAluminium),
        other => Err(Failure::new(
            lw_status::LW_UNKNOWN_VALUE,
            format!("material {other} is not known; 0 copper, 1 tinned copper, 2 aluminium, 3 copper-clad aluminium"),
        )),
    }
}

fn within(what: &str, value: f64, low: f64, high: f64) -> Result<f64, Failure> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{what} {value} is outside {low} to {high}")))
    }
}

/// The IEC 60228 conductor of that area: class 5, or class 2 for aluminium, which has no flexible class.
fn conductor(number: i32, csa_mm2: f64) -> Result<Conductor, Failure> {
    let material = material(number)?;
    let csa_mm2 = within("csa_mm2", csa_mm2, 0.01, 2000.0)?;
    let kind = if material == Material::Aluminium { Kind::Iec2 } else { Kind::Iec5 };
    series(kind, material).find(|made| (in_mm2(made.area) / csa_mm2 - 1.0).abs() < 1e-6).ok_or_else(|| {
        let sizes: Vec<String> = series(kind, material).map(|made| format!("{:.4}", in_mm2(made.area))).collect();
        let sizes = sizes.iter().map(|size| size.trim_end_matches('0').trim_end_matches('.')).collect::<Vec<_>>();
        let message = format!("{csa_mm2} mm² is not a size of {kind} in {material}; sizes: {}", sizes.join(", "));
        Failure::new(lw_status::LW_NO_SUCH_CONDUCTOR, message)
    })
}

/// Resistance of one conductor, one way, at a conductor temperature: the maximum of IEC 60228 class 5
/// (aluminium: class 2) at 20 °C carried to the temperature. Result in ohms.
///
/// `csa_mm2`: a standard cross-sectional area, 0.5 to 400 mm². `length_m`: 0 to 100 000 m.
/// `temperature_c`: −200 to 500 °C. `material`: an `lw_material`.
///
/// Returns an `lw_status`; on failure `*resistance_ohm` is left as it was and the message is set.
///
/// # Safety
/// `resistance_ohm` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_resistance(
    csa_mm2: f64,
    length_m: f64,
    temperature_c: f64,
    material: i32,
    resistance_ohm: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(resistance_ohm, || {
            let conductor = conductor(material, csa_mm2)?;
            let length = within("length_m", length_m, 0.0, 1e5)?;
            let temperature = within("temperature_c", temperature_c, -200.0, 500.0)?;
            Ok(in_ohm_per_km(conductor.resistance_at(celsius(temperature))) * 1e-3 * length)
        })
    }
}

/// Voltage lost in both legs of a two-wire circuit at a conductor temperature, without joints and fuse.
/// Result in volts.
///
/// `current_a`: 0 to 100 000 A. `length_m`: one-way length, 0 to 100 000 m; both legs are computed. The
/// others as in `lw_resistance`.
///
/// Returns an `lw_status`; on failure `*drop_v` is left as it was and the message is set.
///
/// # Safety
/// `drop_v` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_drop(
    current_a: f64,
    csa_mm2: f64,
    length_m: f64,
    temperature_c: f64,
    material: i32,
    drop_v: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(drop_v, || {
            let conductor = conductor(material, csa_mm2)?;
            let current = ElectricCurrent::new::<ampere>(within("current_a", current_a, 0.0, 1e5)?);
            let length = Length::new::<meter>(within("length_m", length_m, 0.0, 1e5)?);
            let temperature = celsius(within("temperature_c", temperature_c, -200.0, 500.0)?);
            Ok((conductor.resistance_at(temperature) * length * 2.0 * current).value)
        })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::panic)]
    use super::*;
    use crate::border::{lw_last_message, lw_status_text};
    use std::ffi::CStr;

    fn message() -> String {
        let mut buffer = [0; 400];
        // SAFETY: the buffer is as long as said, and terminated by the call.
        unsafe {
            lw_last_message(buffer.as_mut_ptr(), buffer.len());
            CStr::from_ptr(buffer.as_ptr()).to_str().unwrap().to_owned()
        }
    }

    #[test]
    fn numbers_in_number_out() {
        let mut ohms = 0.0;
        // SAFETY: a pointer to a local number.
        let status = unsafe { lw_resistance(16.0, 1000.0, 20.0, 0, &raw mut ohms) };
        assert_eq!((status, ohms), (0, 1.21)); // IEC 60228 class 5, 16 mm²: 1.21 Ω/km
        let mut volts = 0.0;
        // SAFETY: as above.
        let status = unsafe { lw_drop(40.0, 16.0, 5.0, 20.0, 0, &raw mut volts) };
        assert_eq!(status, 0);
        assert!((volts - 40.0 * 1.21e-3 * 10.0).abs() < 1e-12);
        assert_eq!(message(), "");
    }

    #[test]
    fn hostile_numbers_and_pointers_become_a_status() {
        let mut ohms = 7.0;
        // SAFETY: null is allowed, and every other pointer is to a local number.
        unsafe {
            assert_eq!(lw_resistance(16.0, 1.0, 20.0, 0, std::ptr::null_mut()), 1);
            let bytes = (&raw mut ohms).cast::<u8>().wrapping_add(1).cast::<f64>();
            assert_eq!(lw_resistance(16.0, 1.0, 20.0, 0, bytes), 1);
            for bad in [f64::NAN, f64::INFINITY, -1.0] {
                assert_eq!(lw_resistance(16.0, bad, 20.0, 0, &raw mut ohms), 2, "{bad}");
                assert!(message().contains("length_m"));
                assert_eq!(lw_resistance(bad, 1.0, 20.0, 0, &raw mut ohms), 2, "{bad}");
            }
            assert_eq!(lw_resistance(16.0, 1.0, 20.0, 9, &raw mut ohms), 3);
            assert_eq!(lw_resistance(17.0, 1.0, 20.0, 0, &raw mut ohms), 4);
            assert!(message().contains("16, 25"), "{}", message());
        }
        assert_eq!(ohms, 7.0, "a failed call leaves the result alone");
    }

    #[test]
    fn messages_are_cut_at_a_character_and_always_terminated() {
        let mut ohms = 0.0;
        let mut small = [1; 7];
        // SAFETY: local buffers, of the size said.
        unsafe {
            lw_resistance(17.0, 1.0, 20.0, 0, &raw mut ohms);
            let whole = lw_last_message(std::ptr::null_mut(), 0);
            assert!(whole > 8);
            assert_eq!(lw_last_message(small.as_mut_ptr(), small.len()), whole);
            assert_eq!(CStr::from_ptr(small.as_ptr()).to_str().unwrap(), "17 mm");
            assert_eq!(CStr::from_ptr(lw_status_text(12345)).to_str().unwrap(), "unknown status");
        }
    }
}
