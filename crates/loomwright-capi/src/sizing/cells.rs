//! Sizes and runs of a circuit with the usual defaults, for a cell.

use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::volt;
use loomwright::quantity::uom::si::length::meter;
use loomwright::quantity::uom::si::ratio::percent;
use loomwright::quantity::{ElectricCurrent, ElectricPotential, Length, Ratio, celsius, in_mm2};
use loomwright::study::cable::{CableQuery, DropLimit, Load, Sizing, size};

use super::{finite, refused};
use crate::border::{Failure, lw_status, write_number};
use crate::codes::{kind, material};

/// A circuit with the usual defaults, in the terms of a spreadsheet cell.
fn cell(
    (kind_number, material_number): (i32, i32),
    (current_a, length_m, voltage_v): (f64, f64, f64),
    (drop_percent, ambient_c, insulation_c): (f64, f64, f64),
) -> Result<Sizing, Failure> {
    let query = CableQuery {
        kind: Some(kind(kind_number)?),
        material: Some(material(material_number)?),
        drop: Some(DropLimit::Share(Ratio::new::<percent>(finite("drop_percent", drop_percent)?))),
        ambient: Some(celsius(finite("ambient_c", ambient_c)?)),
        insulation: Some(celsius(finite("insulation_c", insulation_c)?)),
        ..CableQuery::new(
            Load::Current(ElectricCurrent::new::<ampere>(finite("current_a", current_a)?)),
            Length::new::<meter>(finite("length_m", length_m)?),
            ElectricPotential::new::<volt>(finite("voltage_v", voltage_v)?),
        )
    };
    size(&query).map_err(|error| refused(&error))
}

fn nothing_passes() -> Failure {
    Failure::new(lw_status::LW_NO_VALUE, "no size passes")
}

/// The smallest conductor of a two-wire circuit, enclosed, with its fuse. Result in mm² of all conductors of a leg together.
///
/// `kind`: an `lw_kind`. `material`: an `lw_material`. `current_a`: above 0 to 5000 A. `length_m`: one way, 0.001 to 1000 m.
/// `voltage_v`: 5 to 60 V. `drop_percent`: above 0, below 50 %. `ambient_c`: −40 to 200 °C. `insulation_c`: 40 to 250 °C.
/// `LW_NO_VALUE` where no size passes.
///
/// # Safety
/// `csa_mm2` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_smallest_size(
    kind: i32,
    material: i32,
    current_a: f64,
    length_m: f64,
    voltage_v: f64,
    drop_percent: f64,
    ambient_c: f64,
    insulation_c: f64,
    csa_mm2: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(csa_mm2, || {
            let asked = (current_a, length_m, voltage_v);
            let sized = cell((kind, material), asked, (drop_percent, ambient_c, insulation_c))?;
            let chosen = sized.chosen.ok_or_else(nothing_passes)?;
            Ok(in_mm2(chosen.conductor.area) * f64::from(chosen.parallel))
        })
    }
}

/// The longest one-way run at which the smallest conductor that passes is no larger than this one, within all limits: drop,
/// ampacity and fuse. Result in metres, up to 1000 m; `LW_NO_VALUE` where it is too small for any length.
///
/// The others as in `lw_smallest_size`.
///
/// # Safety
/// `length_m` is null or valid for writing one `double`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_longest_run(
    kind: i32,
    material: i32,
    csa_mm2: f64,
    current_a: f64,
    voltage_v: f64,
    drop_percent: f64,
    ambient_c: f64,
    insulation_c: f64,
    length_m: *mut f64,
) -> i32 {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe {
        write_number(length_m, || {
            let conductor = crate::codes::conductor(kind, material, csa_mm2)?;
            let most = in_mm2(conductor.area) * (1.0 + 1e-9);
            // The size that passes only ever grows with length.
            let passes = |length_m: f64| {
                let asked = (current_a, length_m, voltage_v);
                let sized = cell((kind, material), asked, (drop_percent, ambient_c, insulation_c))?;
                Ok(sized.chosen.is_some_and(|chosen| chosen.parallel == 1 && in_mm2(chosen.conductor.area) <= most))
            };
            let (mut low, mut high) = (1e-3, 1e3);
            if passes(high)? {
                return Ok(high);
            }
            if !passes(low)? {
                return Err(nothing_passes());
            }
            // To a millionth: far below what anybody measures.
            while high > low * (1.0 + 1e-6) {
                let middle = (low * high).sqrt();
                if passes(middle)? { low = middle } else { high = middle }
            }
            Ok(low)
        })
    }
}
