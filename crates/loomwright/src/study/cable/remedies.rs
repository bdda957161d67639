//! What would pass when nothing does, cheapest first, each confirmed by asking again.

use super::search::all;
use super::{CableQuery, Candidate, Check, Load, ReturnPath, Sizing, size};
use crate::quantity::{ElectricCurrent, ElectricPotential, Length, in_mm2, significant};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;

/// The size that passes a changed question, in words.
fn passing(query: &CableQuery) -> Option<Candidate> {
    size(query).ok()?.chosen
}

fn words(candidate: &Candidate) -> String {
    let size = candidate.conductor.label();
    if candidate.parallel > 1 { format!("{} × {size}", candidate.parallel) } else { size }
}

/// Rounds down to a multiple, so that what is offered still passes.
fn down(value: f64, step: f64) -> f64 {
    (value / step).floor() * step
}

/// What would pass, in the order of PRACTICE: setting, shorter, terminal, return, voltage.
pub(super) fn propose(sized: &Sizing) -> Vec<String> {
    let query = sized.circuit.query;
    let Ok(sizes) = all(&sized.circuit) else { return Vec::new() };
    let mut found = Vec::new();

    let largest = sizes.iter().map(|candidate| candidate.largest_current.get::<ampere>()).fold(0.0, f64::max);
    let current = down(largest, if largest > 10.0 { 1.0 } else { 0.1 });
    if current > 0.0 {
        let changed = CableQuery { load: Load::Current(ElectricCurrent::new::<ampere>(current)), ..query };
        if let Some(candidate) = passing(&changed) {
            found.push(format!(
                "set the current to {} A or less: {} passes",
                significant(current, 4),
                words(&candidate)
            ));
        }
    }

    let longest = sizes.iter().map(|candidate| candidate.longest_run.get::<meter>()).fold(0.0, f64::max);
    let length = down(longest, 0.1);
    if length > 0.0 && length < sized.circuit.length_m() {
        let changed = CableQuery { length: Length::new::<meter>(length), ..query };
        if let Some(candidate) = passing(&changed) {
            found.push(format!(
                "shorten the one-way run to {} m or less, or move the device nearer: {} passes",
                significant(length, 4),
                words(&candidate)
            ));
        }
    }

    if query.terminal_size.is_some()
        && let Some(candidate) = passing(&CableQuery { terminal_size: None, ..query })
    {
        found.push(format!(
            "fit terminals for {}, or a short tail of the size that fits from a busbar; never trim strands",
            words(&candidate)
        ));
    }

    if matches!(query.return_path, Some(ReturnPath::Chassis(_)))
        && let Some(candidate) = passing(&CableQuery { return_path: Some(ReturnPath::Conductor), ..query })
    {
        found.push(format!("return through a second conductor instead of the chassis: {} passes", words(&candidate)));
    }

    let doubled = query.voltage * 2.0;
    if doubled.get::<volt>() <= 60.0 {
        let load = match query.load {
            Load::Current(current) => Load::Current(current * 0.5),
            Load::Power { power, lowest_voltage } => Load::Power { power, lowest_voltage: lowest_voltage * 2.0 },
        };
        let changed = CableQuery { load, voltage: doubled, ..query };
        if let Some(candidate) = passing(&changed) {
            found.push(format!(
                "a system of {} V carries the same power at half the current: {} passes",
                significant(ElectricPotential::get::<volt>(&doubled), 4),
                words(&candidate)
            ));
        }
    }
    found
}

/// Why the closest size fails, in words.
pub(super) fn why_nothing_passes(sized: &Sizing) -> Option<(Check, String)> {
    let closest = sized.closest.as_ref()?;
    let failing = closest.binding()?;
    let size = words(closest);
    let text = match failing.check {
        Check::FuseRating if closest.fuse.is_none() => format!(
            "no fuse family of sufficient voltage carries {} A at this ambient",
            significant(sized.circuit.current.get::<ampere>(), 4)
        ),
        Check::FuseRating | Check::FuseOverload => format!(
            "no size bears the fuse that the load needs; the closest, {size}, bears {} A against {} A",
            significant(failing.limit, 3),
            significant(failing.measured, 3)
        ),
        Check::Terminal => format!(
            "the smallest size that would do does not enter the terminal; the closest, {size}, has {} mm² against {} mm²",
            significant(in_mm2(closest.conductor.area), 4),
            significant(failing.limit, 4)
        ),
        check => format!(
            "no size passes; the closest, {size}, fails {} with {} {} against {} {}",
            check.title(),
            significant(failing.measured, 3),
            failing.unit,
            significant(failing.limit, 3),
            failing.unit
        ),
    };
    Some((failing.check, text))
}
