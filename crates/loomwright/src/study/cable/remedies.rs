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
    // A current or a length of nothing passes no query, and is not proposed.
    let changed = CableQuery { load: Load::Current(ElectricCurrent::new::<ampere>(current)), ..query };
    if let Some(candidate) = passing(&changed) {
        found.push(format!("set the current to {} A or less: {} passes", significant(current, 4), words(&candidate)));
    }

    let longest = sizes.iter().map(|candidate| candidate.longest_run.get::<meter>()).fold(0.0, f64::max);
    let length = down(longest, 0.1);
    if length < sized.circuit.length_m() {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::heat::Installation;
    use crate::quantity::{CrossSection, ElectricalResistance, FromText, in_mm2};

    fn query(amperes: f64, metres: f64, volts: f64) -> CableQuery {
        let load = Load::Current(ElectricCurrent::new::<ampere>(amperes));
        CableQuery::new(load, Length::new::<meter>(metres), ElectricPotential::new::<volt>(volts))
    }

    fn proposals(query: &CableQuery) -> Vec<String> {
        let sized = size(query).unwrap();
        assert!(sized.chosen.is_none(), "{query:?}");
        propose(&sized)
    }

    fn offers(proposals: &[String], start: &str) -> bool {
        proposals.iter().any(|words| words.starts_with(start))
    }

    /// Too far for any size: less current, a shorter run, or, where half the current at twice the voltage does, that.
    #[test]
    fn too_far_is_mended_by_less_current_a_shorter_run_or_twice_the_voltage() {
        let (mut whole_current, mut neither) = (0, 0);
        for metres in (20..400).step_by(20).map(f64::from) {
            if size(&query(200.0, metres, 12.0)).unwrap().chosen.is_some() {
                continue;
            }
            let proposals = proposals(&query(200.0, metres, 12.0));
            assert!(offers(&proposals, "set the current to"), "{metres} m: {proposals:?}");
            assert!(offers(&proposals, "shorten the one-way run to"), "{metres} m: {proposals:?}");
            let doubled = size(&query(100.0, metres, 24.0)).unwrap().chosen.is_some();
            assert_eq!(offers(&proposals, "a system of 24 V"), doubled, "{metres} m: {proposals:?}");
            // With all the current twice the voltage would not do, nor with half of it the voltage there is.
            whole_current += i32::from(doubled && size(&query(200.0, metres, 24.0)).unwrap().chosen.is_none());
            neither += i32::from(doubled && size(&query(100.0, metres, 12.0)).unwrap().chosen.is_none());
        }
        assert!(whole_current > 0 && neither > 0);
    }

    #[test]
    fn what_does_not_fit_is_mended_by_what_it_fits_into() {
        let plain = query(40.0, 5.5, 12.0);
        let fits = in_mm2(size(&plain).unwrap().chosen.unwrap().conductor.area).round();
        let terminal_size = Some(CrossSection::from_text("10 mm2").unwrap());
        let proposals = self::proposals(&CableQuery { terminal_size, ..plain });
        assert!(offers(&proposals, &format!("fit terminals for {fits} mm²")), "{proposals:?}");

        let bore = Some(Length::new::<millimeter>(6.0));
        let laid = CableQuery { installation: Some(Installation::ConduitPlastic), bore, ..plain };
        let proposals = self::proposals(&laid);
        let wider = proposals.iter().find_map(|words| words.strip_prefix("a conduit with a bore of ")).unwrap();
        let bore = Some(Length::from_text(&wider[..wider.find(':').unwrap()]).unwrap());
        assert!(size(&CableQuery { bore, ..laid }).unwrap().chosen.is_some(), "{wider}");
        assert!(!offers(&proposals, "shorten"), "a conduit is no wider for that: {proposals:?}");

        let chassis = ReturnPath::Chassis(Some(ElectricalResistance::from_text("0.05 ohm").unwrap()));
        let proposals = self::proposals(&CableQuery { return_path: Some(chassis), ..plain });
        assert!(offers(&proposals, "return through a second conductor"), "{proposals:?}");
    }
}
