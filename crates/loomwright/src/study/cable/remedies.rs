//! What would pass when nothing does, cheapest first, each confirmed by asking again.

use super::search::all_and_parallel;
use super::{CableQuery, Candidate, Check, Load, Margin, ReturnPath, Sizing, size};
use crate::data::tables::constants;
use crate::quantity::{ElectricCurrent, ElectricPotential, Length, in_celsius, significant};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::length::{meter, millimeter};

/// What passes a changed question.
pub(super) fn passing(query: &CableQuery) -> Option<Candidate> {
    size(query).ok()?.chosen
}

pub(super) fn words(candidate: &Candidate) -> String {
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
    let Ok(sizes) = all_and_parallel(&sized.circuit) else { return Vec::new() };
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

    if query.bore.is_some()
        && let Some(candidate) = passing(&CableQuery { bore: None, ..query })
    {
        // Rounded up, and asked again with that bore: a wider one sheds more.
        let contents = sized.circuit.lay(candidate.parallel).contents(&candidate.conductor).get::<millimeter>();
        let bore = (contents / constants::CONDUIT_FILL.sqrt()).ceil();
        let wider = CableQuery { bore: Some(Length::new::<millimeter>(bore)), ..query };
        if let Some(candidate) = passing(&wider) {
            found.push(format!("a conduit with a bore of {} mm: {} passes", significant(bore, 4), words(&candidate)));
        }
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

/// Every check that the closest size fails, in words, least margin first.
pub(super) fn why_nothing_passes(sized: &Sizing) -> Vec<(Check, String)> {
    let Some(closest) = sized.closest.as_ref() else { return Vec::new() };
    let mut failing: Vec<&Margin> = closest.margins().filter(|margin| !margin.passes()).collect();
    failing.sort_by(|one, other| one.margin.value.total_cmp(&other.margin.value));
    // One rule, one finding: the fuse has two conditions.
    failing.dedup_by_key(|margin| margin.check.rule());
    failing.into_iter().map(|margin| (margin.check, why(sized, closest, margin))).collect()
}

fn why(sized: &Sizing, closest: &Candidate, failing: &Margin) -> String {
    let size = words(closest);
    let circuit = &sized.circuit;
    match failing.check {
        Check::FuseRating if closest.fuse.is_none() => format!(
            "no fuse family rated for {} V carries {} A in air of {} °C",
            significant(circuit.highest_voltage.value, 3),
            significant(circuit.current.get::<ampere>(), 4),
            significant(in_celsius(circuit.ambient), 3)
        ),
        Check::FuseRating | Check::FuseOverload => format!(
            "the closest size, {size}, bears {} A; the fuse that the load needs asks for {} A",
            significant(failing.limit, 3),
            significant(failing.measured, 3)
        ),
        Check::VoltageDrop if sized.circuit.fixed_drop().value >= failing.limit => format!(
            "joints, fuse and chassis alone lose {} V, more than the {} V permitted: no conductor can mend that",
            significant(sized.circuit.fixed_drop().value, 3),
            significant(failing.limit, 3)
        ),
        Check::VoltageDrop if closest.operating.is_none() => {
            format!("the closest size, {size}, would pass 250 °C: it has no steady temperature to compute a drop at")
        }
        Check::Terminal => format!(
            "the smallest size of this kind, {size}, does not enter a terminal for {} mm²",
            significant(failing.limit, 4)
        ),
        check => format!(
            "the closest size, {size}, fails {}: {} {} against {} {}",
            check.title(),
            significant(failing.measured, 3),
            failing.unit,
            significant(failing.limit, 3),
            failing.unit
        ),
    }
}
