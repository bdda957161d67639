//! Scalar functions of energy: what batteries give, where the sun stands and what a clear sky gives.

use jiff::{SignedDuration, Timestamp};
use loomwright::quantity::uom::si::electric_charge::ampere_hour;
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::heat_flux_density::watt_per_square_meter;
use loomwright::quantity::uom::si::length::meter;
use loomwright::quantity::uom::si::ratio::percent;
use loomwright::quantity::uom::si::time::hour;
use loomwright::quantity::{
    ElectricCharge, ElectricCurrent, HeatFluxDensity, Length, Ratio, ThermodynamicTemperature, Time, celsius, degrees,
    in_degrees,
};
use loomwright::source::solar::{Site, Sky, SolarError, Sun};
use loomwright::source::{Chemistry, Storage};

use crate::border::{Failure, lw_status, write_number};
use crate::codes::{chemistry, within};

/// Smallest and largest capacity in ampere-hours: above nothing, up to the most that a plan takes.
const CAPACITY_AH: [f64; 2] = [1e-6, 1e5];
/// The first second of 2010 and that of 2110.
const SUN_S: [f64; 2] = [1_262_304_000.0, 4_417_977_600.0];

fn charge(what: &str, value_ah: f64) -> Result<ElectricCharge, Failure> {
    let [low, high] = CAPACITY_AH;
    within(what, value_ah, low, high).map(ElectricCharge::new::<ampere_hour>)
}

/// How long a full battery lasts down to nothing at 25 °C and at one current, by Peukert's law with the hour rate of its
/// rated capacity: t = R·(C/(I·R))ⁿ. Result in hours.
///
/// The form t = C/Iⁿ holds only for a capacity measured at one ampere: with a 20-hour rating it is wrong.
///
/// `capacity_ah`: rated capacity, above 0 to 100 000 Ah. `hour_rate_h`: the hours within which it is taken, 1 to 100 h, such
/// as 20. `peukert`: the exponent n, 1 to 1.6. `current_a`: above 0 to 100 000 A.
///
/// # Safety
/// `time_h` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_peukert_time(
    capacity_ah: f64,
    hour_rate_h: f64,
    peukert: f64,
    current_a: f64,
    time_h: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(time_h, || {
            let capacity = charge("capacity_ah", capacity_ah)?;
            let storage = Storage {
                hour_rate: Time::new::<hour>(within("hour_rate_h", hour_rate_h, 1.0, 100.0)?),
                peukert: Ratio::from(within("peukert", peukert, 1.0, 1.6)?),
                // The law is that of every chemistry.
                ..Storage::typical(Chemistry::Flooded, capacity)
            };
            let current = ElectricCurrent::new::<ampere>(within("current_a", current_a, 1e-6, 1e5)?);
            Ok(storage.discharge_time(current).get::<hour>())
        })
    }
}

/// A battery used between two states of charge, and its temperature.
fn window(
    number: i32,
    capacity: ElectricCharge,
    [floor_percent, ceiling_percent]: [f64; 2],
    temperature_c: f64,
) -> Result<(Storage, ThermodynamicTemperature), Failure> {
    let chemistry = chemistry(number)?;
    let floor = within("floor_percent", floor_percent, 0.0, 95.0)?;
    let ceiling = within("ceiling_percent", ceiling_percent, 20.0, 100.0)?;
    if floor >= ceiling {
        let message = format!("floor_percent {floor} is not below ceiling_percent {ceiling}");
        return Err(Failure::new(lw_status::LW_OUT_OF_RANGE, message));
    }
    let temperature = celsius(within("temperature_c", temperature_c, -40.0, 80.0)?);
    let [floor, ceiling] = [floor, ceiling].map(Ratio::new::<percent>);
    Ok((Storage { floor, ceiling, ..Storage::typical(chemistry, capacity) }, temperature))
}

/// What can be used of a battery between two states of charge at a temperature, at its rated current. Result in
/// ampere-hours. Cold takes its share; warmth is not credited.
///
/// `chemistry`: an `lw_chemistry`. `capacity_ah`: rated capacity, above 0 to 100 000 Ah. `floor_percent`: the state of charge
/// below which it is not used, 0 to 95 %. `ceiling_percent`: that to which it is charged, 20 to 100 %, above the floor.
/// `temperature_c`: −40 to 80 °C.
///
/// # Safety
/// `usable_ah` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_battery_usable(
    chemistry: i32,
    capacity_ah: f64,
    floor_percent: f64,
    ceiling_percent: f64,
    temperature_c: f64,
    usable_ah: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(usable_ah, || {
            let capacity = charge("capacity_ah", capacity_ah)?;
            let (storage, at) = window(chemistry, capacity, [floor_percent, ceiling_percent], temperature_c)?;
            Ok(storage.usable(at).get::<ampere_hour>())
        })
    }
}

/// The rated capacity that gives such a charge between two states of charge at a temperature. Result in ampere-hours.
///
/// `charge_ah`: above 0 to 100 000 Ah. The others as in `lw_battery_usable`.
///
/// # Safety
/// `capacity_ah` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_battery_needed(
    chemistry: i32,
    charge_ah: f64,
    floor_percent: f64,
    ceiling_percent: f64,
    temperature_c: f64,
    capacity_ah: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(capacity_ah, || {
            let wanted = charge("charge_ah", charge_ah)?;
            let (storage, at) = window(chemistry, wanted, [floor_percent, ceiling_percent], temperature_c)?;
            Ok(storage.capacity_for(wanted, at).get::<ampere_hour>())
        })
    }
}

fn no_sun(error: &SolarError) -> Failure {
    Failure::new(lw_status::LW_OUT_OF_RANGE, error.to_string())
}

/// The sun above a place at a time, and a clear sky there.
fn sky(latitude_deg: f64, longitude_deg: f64, altitude_m: f64, unix_s: f64) -> Result<(Sun, Sky), Failure> {
    let [latitude, longitude] = [
        degrees(within("latitude_deg", latitude_deg, -90.0, 90.0)?),
        degrees(within("longitude_deg", longitude_deg, -180.0, 180.0)?),
    ];
    let altitude = Length::new::<meter>(within("altitude_m", altitude_m, -500.0, 6000.0)?);
    let [first, last] = SUN_S;
    let seconds = within("unix_s", unix_s, first, last)?;
    let time = SignedDuration::try_from_secs_f64(seconds).and_then(Timestamp::from_duration);
    let time = time.map_err(|error| Failure::new(lw_status::LW_OUT_OF_RANGE, error.to_string()))?;
    let site = Site::new(latitude, longitude, altitude).map_err(|error| no_sun(&error))?;
    let sun = site.sun(time).map_err(|error| no_sun(&error))?;
    let sky = site.clear_sky(&sun, time);
    Ok((sun, sky))
}

/// How high the sun stands as it is seen, with refraction, within 0.01°. Result in degrees above the horizon, negative at
/// night.
///
/// `latitude_deg`: north positive, −90 to 90°. `longitude_deg`: east positive, −180 to 180°. `altitude_m`: above the sea, −500
/// to 6000 m. `unix_s`: seconds since 1970-01-01 00:00 UTC, from 2010 to 2109: 1 262 304 000 to 4 417 977 600 s.
///
/// # Safety
/// `elevation_deg` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_sun_elevation(
    latitude_deg: f64,
    longitude_deg: f64,
    altitude_m: f64,
    unix_s: f64,
    elevation_deg: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(elevation_deg, || {
            let (sun, _) = sky(latitude_deg, longitude_deg, altitude_m, unix_s)?;
            Ok(in_degrees(sun.elevation()))
        })
    }
}

/// The bearing of the sun, from north over east. Result in degrees, 0 to 360. Otherwise as `lw_sun_elevation`.
///
/// # Safety
/// `azimuth_deg` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_sun_azimuth(
    latitude_deg: f64,
    longitude_deg: f64,
    altitude_m: f64,
    unix_s: f64,
    azimuth_deg: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(azimuth_deg, || {
            let (sun, _) = sky(latitude_deg, longitude_deg, altitude_m, unix_s)?;
            Ok(in_degrees(sun.azimuth()))
        })
    }
}

fn watts(light: HeatFluxDensity) -> f64 {
    light.get::<watt_per_square_meter>()
}

/// What a clear sky with the usual haze gives on a level plane, beam and rest together. Result in W/m²; 0 at night.
/// Arguments as of `lw_sun_elevation`.
///
/// # Safety
/// `global_w_per_m2` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_clear_sky_global(
    latitude_deg: f64,
    longitude_deg: f64,
    altitude_m: f64,
    unix_s: f64,
    global_w_per_m2: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(global_w_per_m2, || {
            let (_, sky) = sky(latitude_deg, longitude_deg, altitude_m, unix_s)?;
            Ok(watts(sky.global))
        })
    }
}

/// The sun's beam through a clear sky on a plane across it; otherwise as `lw_clear_sky_global`.
///
/// # Safety
/// `beam_w_per_m2` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_clear_sky_beam(
    latitude_deg: f64,
    longitude_deg: f64,
    altitude_m: f64,
    unix_s: f64,
    beam_w_per_m2: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(beam_w_per_m2, || {
            let (_, sky) = sky(latitude_deg, longitude_deg, altitude_m, unix_s)?;
            Ok(watts(sky.beam))
        })
    }
}

/// What a clear sky gives on a level plane from everywhere but the sun itself; otherwise as `lw_clear_sky_global`.
///
/// # Safety
/// `diffuse_w_per_m2` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_clear_sky_diffuse(
    latitude_deg: f64,
    longitude_deg: f64,
    altitude_m: f64,
    unix_s: f64,
    diffuse_w_per_m2: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(diffuse_w_per_m2, || {
            let (_, sky) = sky(latitude_deg, longitude_deg, altitude_m, unix_s)?;
            Ok(watts(sky.diffuse))
        })
    }
}
