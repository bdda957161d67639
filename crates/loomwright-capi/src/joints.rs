//! Scalar functions of a joint: how hot its resistance makes it, how much it may have, and the spots where it touches.

use loomwright::heat::{HeatPath, contact_voltage, joint_heat, resistance_at_rise, spot_temperature};
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::millivolt;
use loomwright::quantity::uom::si::electrical_resistance::milliohm;
use loomwright::quantity::uom::si::temperature_interval::kelvin;
use loomwright::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, TemperatureInterval, celsius, in_celsius,
};

use crate::border::{Failure, lw_status, write_number};
use crate::codes::within;
use crate::scalar::{no_heat, path};

/// The temperature beyond which no joint is followed, °C.
const CEILING_C: f64 = 1000.0;

fn amperes(current_a: f64) -> Result<ElectricCurrent, Failure> {
    within("current_a", current_a, 0.0, 1e5).map(ElectricCurrent::new::<ampere>)
}

fn too_hot() -> Failure {
    Failure::new(lw_status::LW_NO_VALUE, format!("the joint would pass {CEILING_C} °C, and is not followed there"))
}

/// Rise over the cable and temperature of the body of a joint.
fn heated(path: &HeatPath, current_a: f64, resistance_mohm: f64) -> Result<(f64, f64), Failure> {
    let current = amperes(current_a)?;
    let resistance = ElectricalResistance::new::<milliohm>(within("resistance_mohm", resistance_mohm, 0.0, 1e6)?);
    let heat = joint_heat(resistance, current, &[path]).map_err(|error| no_heat(&error))?;
    if heat.beyond {
        return Err(too_hot());
    }
    Ok((heat.rise.get::<kelvin>(), in_celsius(heat.body)))
}

/// How much hotter than its cable a joint of such a resistance gets at a steady current, cooled by the one cable that ends on
/// it, which is the cautious count. Result in kelvins; `LW_NO_VALUE` where cable or joint would be too hot to be followed.
///
/// `current_a`: 0 to 100 000 A. `resistance_mohm`: of the joint, its drop over its current, 0 to 1 000 000 mΩ. The others as
/// in `lw_ampacity`.
///
/// # Safety
/// `rise_k` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_joint_rise(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    installation: i32,
    conductors_together: i32,
    ambient_c: f64,
    current_a: f64,
    resistance_mohm: f64,
    rise_k: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(rise_k, || {
            let path = path((kind, material, csa_mm2), (installation, conductors_together), ambient_c)?;
            heated(&path, current_a, resistance_mohm).map(|(rise, _)| rise)
        })
    }
}

/// The temperature of the body of such a joint: that of its cable and the rise. Result in °C; otherwise as `lw_joint_rise`.
///
/// # Safety
/// `body_c` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_joint_temperature(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    installation: i32,
    conductors_together: i32,
    ambient_c: f64,
    current_a: f64,
    resistance_mohm: f64,
    body_c: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(body_c, || {
            let path = path((kind, material, csa_mm2), (installation, conductors_together), ambient_c)?;
            heated(&path, current_a, resistance_mohm).map(|(_, body)| body)
        })
    }
}

/// The resistance at which a joint gets so much hotter than its cable: the inverse of `lw_joint_rise`. Result in milliohms;
/// `LW_NO_VALUE` without current, which heats nothing, and where cable or joint would be too hot to be followed.
///
/// `rise_k`: 0 to 1000 K. The others as in `lw_joint_rise`.
///
/// # Safety
/// `resistance_mohm` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_joint_resistance(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    installation: i32,
    conductors_together: i32,
    ambient_c: f64,
    current_a: f64,
    rise_k: f64,
    resistance_mohm: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(resistance_mohm, || {
            let path = path((kind, material, csa_mm2), (installation, conductors_together), ambient_c)?;
            let (current, rise) = (amperes(current_a)?, within("rise_k", rise_k, 0.0, CEILING_C)?);
            let cable = path.temperature(current).map_err(|error| no_heat(&error))?;
            if in_celsius(cable) + rise > CEILING_C {
                return Err(too_hot());
            }
            let found = resistance_at_rise(TemperatureInterval::new::<kelvin>(rise), current, &[&path]);
            let found = found.map_err(|error| no_heat(&error))?;
            let none = || Failure::new(lw_status::LW_NO_VALUE, "without current no resistance heats a joint");
            Ok(found.ok_or_else(none)?.get::<milliohm>())
        })
    }
}

/// How hot the spots are in which a contact touches, by the voltage across it and the temperature of its bodies: the
/// relation of Wiedemann, Franz and Lorenz. Result in °C; where the metal melts first, it ends there.
///
/// `contact_mv`: 0 to 1 000 000 mV. `body_c`: −40 to 1000 °C.
///
/// # Safety
/// `spot_c` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_spot_temperature(contact_mv: f64, body_c: f64, spot_c: *mut f64) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(spot_c, || {
            let contact = ElectricPotential::new::<millivolt>(within("contact_mv", contact_mv, 0.0, 1e6)?);
            let body = celsius(within("body_c", body_c, -40.0, CEILING_C)?);
            spot_temperature(contact, body).map(in_celsius).map_err(|error| no_heat(&error))
        })
    }
}

/// The voltage across a contact whose spots have one temperature and whose bodies another: the inverse of
/// `lw_spot_temperature`. Result in millivolts: 0 where the spots are not the hotter.
///
/// `spot_c`, `body_c`: −40 to 10 000 °C and −40 to 1000 °C.
///
/// # Safety
/// `contact_mv` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_contact_voltage(spot_c: f64, body_c: f64, contact_mv: *mut f64) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(contact_mv, || {
            let spot = celsius(within("spot_c", spot_c, -40.0, 1e4)?);
            let body = celsius(within("body_c", body_c, -40.0, CEILING_C)?);
            Ok(contact_voltage(spot, body).get::<millivolt>())
        })
    }
}
