//! The search over standard sizes.

use super::candidate::Trial;
use super::{CableError, CableQuery, Candidate, Circuit};
use crate::conductor::{Conductor, series};
use crate::data::tables::constants;
use crate::quantity::{in_celsius, in_mm2, mm2};

/// The answer: the chosen size with its neighbours, or what came closest.
#[derive(Clone, Debug)]
pub struct Sizing {
    /// The question, resolved.
    pub circuit: Circuit,
    /// The smallest size that passes everything; `None` when none does.
    pub chosen: Option<Candidate>,
    /// The next smaller size.
    pub smaller: Option<Candidate>,
    /// The next larger size.
    pub larger: Option<Candidate>,
    /// When nothing passes: the size that comes closest.
    pub closest: Option<Candidate>,
}

/// The smallest standard conductor, with its fuse, that satisfies every check at once.
///
/// Valid ranges stand at [`CableQuery`]. When no single conductor passes, two to four in parallel are
/// tried, 50 mm² or larger, fused so that the rest survive when one leg opens.
///
/// ```
/// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length};
/// use loomwright::study::cable::{CableQuery, Load, size};
/// let load = Load::Current(ElectricCurrent::from_text("20 A")?);
/// let near = CableQuery::new(load, Length::from_text("2 m")?, ElectricPotential::from_text("12 V")?);
/// let far = CableQuery { length: Length::from_text("8 m")?, ..near };
/// let [near, far] = [size(&near)?.chosen.ok_or("none")?, size(&far)?.chosen.ok_or("none")?];
/// assert!(far.conductor.area > near.conductor.area); // four times the drop on the same size
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`CableError`] when a value is out of range, the conductor does not exist, or the ambient leaves no
/// room for any current.
pub fn size(query: &CableQuery) -> Result<Sizing, CableError> {
    let circuit = Circuit::resolve(query)?;
    room_for_current(&circuit)?;
    let fuse = circuit.selection.smallest_carrying(circuit.current);
    let mut previous: Option<Conductor> = None;
    let mut sizes = series(circuit.kind, circuit.material);
    let mut found: Option<(Candidate, Option<Candidate>, Option<Candidate>)> = None;
    while let Some(conductor) = sizes.next() {
        if !Trial::hopeless(&circuit, &conductor)
            && let Some(trial) = Trial::new(&circuit, conductor, 1)?
            && let Some(bearing) = trial.promising(fuse.as_ref())?
        {
            let candidate = trial.work_out_from(bearing)?;
            if candidate.passes() {
                let smaller = previous.map(|smaller| Trial::new(&circuit, smaller, 1)).transpose()?.flatten();
                let smaller = smaller.map(|trial| trial.work_out()).transpose()?;
                found = Some((candidate, smaller, next_larger(&circuit, sizes)?));
                break;
            }
        }
        previous = Some(conductor);
    }
    if let Some((chosen, smaller, larger)) = found {
        return Ok(Sizing { circuit, chosen: Some(chosen), smaller, larger, closest: None });
    }
    let Some(chosen) = parallel(&circuit)? else {
        let closest = closest(&circuit)?;
        return Ok(Sizing { circuit, chosen: None, smaller: None, larger: None, closest });
    };
    let same_number = |conductor: &Conductor| Trial::new(&circuit, *conductor, chosen.parallel).ok().flatten();
    let other = |conductor: Option<Conductor>| {
        conductor.as_ref().and_then(same_number).map(|trial| trial.work_out()).transpose()
    };
    let area = chosen.conductor.area;
    let smaller =
        other(series(circuit.kind, circuit.material).filter(|size| size.area < area && permitted(size)).last())?;
    let larger = other(series(circuit.kind, circuit.material).find(|size| size.area > area))?;
    Ok(Sizing { circuit, chosen: Some(chosen), smaller, larger, closest: None })
}

/// Whether a conductor may be laid in parallel.
fn permitted(conductor: &Conductor) -> bool {
    conductor.area >= mm2(constants::SMALLEST_PARALLEL_MM2)
}

fn room_for_current(circuit: &Circuit) -> Result<(), CableError> {
    let rule = &circuit.terminal_rule;
    let terminal = rule.small_circuits.map_or(rule.usual.value, |(_, small)| small.value);
    if terminal > circuit.ambient && circuit.insulation > circuit.ambient {
        return Ok(());
    }
    let degrees = |temperature| format!("{} °C", crate::quantity::significant(in_celsius(temperature), 4));
    Err(CableError::NoCurrent {
        ambient: degrees(circuit.ambient),
        insulation: degrees(circuit.insulation),
        terminal: degrees(terminal),
    })
}

fn next_larger(circuit: &Circuit, sizes: impl Iterator<Item = Conductor>) -> Result<Option<Candidate>, CableError> {
    for conductor in sizes {
        if let Some(trial) = Trial::new(circuit, conductor, 1)? {
            return trial.work_out().map(Some);
        }
    }
    Ok(None)
}

/// The least metal in two to four parallel conductors that passes, and no less than in the largest single
/// one: tables that end early would else let more current ask for less cable.
fn parallel(circuit: &Circuit) -> Result<Option<Candidate>, CableError> {
    let largest = series(circuit.kind, circuit.material)
        .last()
        .map_or(mm2(constants::SMALLEST_PARALLEL_MM2), |single| single.area);
    let mut best: Option<Candidate> = None;
    for conductors in (2_u8..).take_while(|conductors| f64::from(*conductors) <= constants::MOST_PARALLEL) {
        for conductor in series(circuit.kind, circuit.material) {
            if !permitted(&conductor) || conductor.area * f64::from(conductors) < largest {
                continue;
            }
            let Some(trial) = Trial::new(circuit, conductor, conductors)? else { continue };
            let candidate = trial.work_out()?;
            if candidate.passes() {
                if best.as_ref().is_none_or(|best| candidate.mass < best.mass) {
                    best = Some(candidate);
                }
                break;
            }
        }
    }
    Ok(best)
}

/// Every single size and every permitted parallel one, worked out; for remedies.
pub(super) fn all_and_parallel(circuit: &Circuit) -> Result<Vec<Candidate>, CableError> {
    let mut worked = all(circuit)?;
    for conductors in (2_u8..).take_while(|conductors| f64::from(*conductors) <= constants::MOST_PARALLEL) {
        for conductor in series(circuit.kind, circuit.material).filter(permitted) {
            if let Some(trial) = Trial::new(circuit, conductor, conductors)? {
                worked.push(trial.work_out()?);
            }
        }
    }
    Ok(worked)
}

/// Every single size, worked out.
fn all(circuit: &Circuit) -> Result<Vec<Candidate>, CableError> {
    let mut worked = Vec::new();
    for conductor in series(circuit.kind, circuit.material) {
        if let Some(trial) = Trial::new(circuit, conductor, 1)? {
            worked.push(trial.work_out()?);
        }
    }
    Ok(worked)
}

/// The size that comes closest: of those that fit terminal and practice, if any, the one that fails fewest
/// checks, then the one with the largest least margin.
fn closest(circuit: &Circuit) -> Result<Option<Candidate>, CableError> {
    let fits = |candidate: &Candidate| candidate.margins().all(|margin| !margin.check.is_fit() || margin.passes());
    let failures = |candidate: &Candidate| candidate.margins().filter(|margin| !margin.passes()).count();
    let worst = |candidate: &Candidate| candidate.binding().map_or(0.0, |margin| margin.margin.value);
    // Where one check is hopeless for every size, the others tell sizes apart.
    let together = |candidate: &Candidate| candidate.margins().map(|margin| margin.margin.value.min(1.0)).sum::<f64>();
    Ok(all(circuit)?.into_iter().max_by(|one, other| {
        // Of equal margins the smaller conductor.
        let smaller_first = in_mm2(other.conductor.area).total_cmp(&in_mm2(one.conductor.area));
        fits(one)
            .cmp(&fits(other))
            .then(failures(other).cmp(&failures(one)))
            .then(worst(one).total_cmp(&worst(other)))
            .then(together(one).total_cmp(&together(other)))
            .then(smaller_first)
    }))
}
