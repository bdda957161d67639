//! Scalar functions of a conductor: what a spreadsheet cell asks.

use loomwright::heat::{HeatPath, Lay, withstand};
use loomwright::quantity::uom::si::area::square_millimeter;
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::length::meter;
use loomwright::quantity::uom::si::time::second;
use loomwright::quantity::{ElectricCurrent, Gauge, Length, celsius, in_celsius, in_ohm_per_km};

use crate::border::{Failure, lw_status, write_number};
use crate::codes::{conductor, installation, within};

/// Resistance of one conductor, one way, at a conductor temperature: the largest that its standard permits at 20 °C,
/// carried to the temperature. Result in ohms.
///
/// `kind`: an `lw_kind`. `material`: an `lw_material`. `csa_mm2`: a standard cross-sectional area, of a gauge its area,
/// to half a per cent.
/// `length_m`: 0 to 100 000 m. `temperature_c`: −200 to 500 °C.
///
/// # Safety
/// `resistance_ohm` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_resistance(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    length_m: f64,
    temperature_c: f64,
    resistance_ohm: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(resistance_ohm, || {
            let conductor = conductor(kind, material, csa_mm2)?;
            let length = within("length_m", length_m, 0.0, 1e5)?;
            let temperature = within("temperature_c", temperature_c, -200.0, 500.0)?;
            Ok(in_ohm_per_km(conductor.resistance_at(celsius(temperature))) * 1e-3 * length)
        })
    }
}

/// Voltage lost in both legs of a two-wire circuit at a conductor temperature, without joints and fuse. Result in volts.
///
/// `current_a`: 0 to 100 000 A. `length_m`: one-way length, 0 to 100 000 m; both legs are computed. The others as in
/// `lw_resistance`.
///
/// # Safety
/// `drop_v` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_drop(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    current_a: f64,
    length_m: f64,
    temperature_c: f64,
    drop_v: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(drop_v, || {
            let conductor = conductor(kind, material, csa_mm2)?;
            let current = ElectricCurrent::new::<ampere>(within("current_a", current_a, 0.0, 1e5)?);
            let length = Length::new::<meter>(within("length_m", length_m, 0.0, 1e5)?);
            let temperature = celsius(within("temperature_c", temperature_c, -200.0, 500.0)?);
            Ok((conductor.resistance_at(temperature) * length * 2.0 * current).value)
        })
    }
}

/// How a conductor lies, with so many loaded conductors together, itself counted; 0 where the usual pair is meant.
fn lay(installation_number: i32, together: i32) -> Result<Lay, Failure> {
    let installation = installation(installation_number)?;
    let count = u16::try_from(together).ok().filter(|count| *count <= 40).ok_or_else(|| {
        Failure::new(lw_status::LW_OUT_OF_RANGE, format!("conductors_together {together} is outside 0 to 40"))
    })?;
    let pair = Lay::pair(installation);
    Ok(if count == 0 { pair } else { Lay { together: count, ..pair } })
}

pub(crate) fn no_heat(error: &loomwright::heat::HeatError) -> Failure {
    Failure::new(lw_status::LW_NO_VALUE, error.to_string())
}

pub(crate) fn path(
    (kind, material, csa_mm2): (i32, i32, f64),
    (installation, together): (i32, i32),
    ambient_c: f64,
) -> Result<HeatPath, Failure> {
    let conductor = conductor(kind, material, csa_mm2)?;
    let ambient = celsius(within("ambient_c", ambient_c, -40.0, 200.0)?);
    HeatPath::new(&conductor, &lay(installation, together)?, ambient).map_err(|error| no_heat(&error))
}

/// The current that a conductor carries without end in this installation, by the heat balance: no practice's table caps it.
/// Result in amperes.
///
/// `installation`: an `lw_installation`. `conductors_together`: loaded conductors laid together, itself counted, 1 to 40; 0
/// for the two of its own circuit. `ambient_c`: −40 to 200 °C. `limit_c`: the least of insulation class and terminals, up to
/// 250 °C. The others as in `lw_resistance`.
///
/// # Safety
/// `ampacity_a` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_ampacity(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    installation: i32,
    conductors_together: i32,
    ambient_c: f64,
    limit_c: f64,
    ampacity_a: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(ampacity_a, || {
            let path = path((kind, material, csa_mm2), (installation, conductors_together), ambient_c)?;
            let limit = celsius(within("limit_c", limit_c, -40.0, 250.0)?);
            path.ampacity(limit).map(|ampacity| ampacity.get::<ampere>()).map_err(|error| no_heat(&error))
        })
    }
}

/// The temperature that a conductor settles at. Result in °C; `LW_NO_VALUE` where it would pass 250 °C.
///
/// `current_a`: 0 to 100 000 A. The others as in `lw_ampacity`.
///
/// # Safety
/// `temperature_c` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_conductor_temperature(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    installation: i32,
    conductors_together: i32,
    ambient_c: f64,
    current_a: f64,
    temperature_c: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(temperature_c, || {
            let path = path((kind, material, csa_mm2), (installation, conductors_together), ambient_c)?;
            let current = ElectricCurrent::new::<ampere>(within("current_a", current_a, 0.0, 1e5)?);
            path.temperature(current).map(in_celsius).map_err(|error| no_heat(&error))
        })
    }
}

/// How long a short circuit may flow, no heat lost: the least of the rounded k of IEC 60364-4-43, k from first constants and
/// the conductor's own resistance. Result in seconds; it holds up to 5 s.
///
/// `current_a`: above 0 to 1 000 000 A. `start_c`, `end_c`: conductor temperature before and at the end, −40 to 300 °C, the
/// end above the start. The others as in `lw_resistance`.
///
/// # Safety
/// `time_s` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_withstand_time(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    current_a: f64,
    start_c: f64,
    end_c: f64,
    time_s: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(time_s, || {
            let conductor = conductor(kind, material, csa_mm2)?;
            let current = ElectricCurrent::new::<ampere>(within("current_a", current_a, 1e-9, 1e6)?);
            let start = celsius(within("start_c", start_c, -40.0, 300.0)?);
            let end = celsius(within("end_c", end_c, -40.0, 300.0)?);
            let found = withstand(&conductor, start, end).map_err(|error| no_heat(&error))?;
            Ok(found.time(current).get::<second>())
        })
    }
}

/// Area of an AWG gauge by the law of ASTM B258. Result in mm².
///
/// `gauge`: 40 down to 1, 0 for 1/0, −1 for 2/0, −2 for 3/0, −3 for 4/0.
///
/// # Safety
/// `csa_mm2` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_gauge_area(gauge: i32, csa_mm2: *mut f64) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(csa_mm2, || {
            #[cfg(feature = "panic-on-purpose")]
            assert!(gauge != 12345, "on purpose");
            let found = i8::try_from(gauge).ok().and_then(Gauge::new);
            let found = found.ok_or_else(|| {
                Failure::new(lw_status::LW_OUT_OF_RANGE, format!("gauge {gauge} is outside -3 (4/0) to 40"))
            })?;
            Ok(found.awg_area().get::<square_millimeter>())
        })
    }
}

/// The smallest AWG gauge of no less than an area; numbers as in `lw_gauge_area`. `csa_mm2`: 0.001 to 107.2 mm².
///
/// # Safety
/// `gauge` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_gauge_for_area(csa_mm2: f64, gauge: *mut f64) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(gauge, || {
            let wanted = within("csa_mm2", csa_mm2, 1e-3, 107.3)? * (1.0 - 1e-9);
            let made = (-3..=40).rev().filter_map(Gauge::new);
            let found = made.into_iter().find(|gauge| gauge.awg_area().get::<square_millimeter>() >= wanted);
            found
                .map(|gauge| f64::from(gauge.number()))
                .ok_or_else(|| Failure::new(lw_status::LW_NO_VALUE, format!("no gauge up to 4/0 has {csa_mm2} mm²")))
        })
    }
}

/// The current that a converter of constant efficiency draws at its input. Result in amperes.
///
/// `output_w`: 0 to 100 000 W. `input_v`: 1 to 100 V; its lock-out voltage gives the largest current. `efficiency_percent`:
/// 10 to 100 %.
///
/// # Safety
/// `current_a` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_converter_input_current(
    output_w: f64,
    input_v: f64,
    efficiency_percent: f64,
    current_a: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(current_a, || {
            let output = within("output_w", output_w, 0.0, 1e5)?;
            let input = within("input_v", input_v, 1.0, 100.0)?;
            Ok(output / (within("efficiency_percent", efficiency_percent, 10.0, 100.0)? * 1e-2 * input))
        })
    }
}
