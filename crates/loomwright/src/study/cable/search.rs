//! The search over standard sizes.

use super::candidate::Trial;
use super::{CableError, CableQuery, Candidate, Circuit};
use crate::conductor::{Conductor, series};
use crate::quantity::{in_mm2, mm2};

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

/// Parallel conductors are permitted from this size up (NEC 310.10: 1/0 AWG; from memory).
const SMALLEST_PARALLEL_MM2: f64 = 50.0;
/// More than four in parallel share current too unevenly to be counted on; common practice.
const MOST_PARALLEL: u8 = 4;

/// The smallest standard conductor, with its fuse, that satisfies every check at once.
///
/// Valid ranges stand at [`CableQuery`]. When no single conductor passes, two to four in parallel are
/// tried, 50 mm² or larger, fused so that the rest survive when one leg opens.
///
/// # Errors
/// [`CableError`] when a value is out of range, the conductor does not exist, or the ambient leaves no
/// room for any current.
pub fn size(query: &CableQuery) -> Result<Sizing, CableError> {
    let circuit = Circuit::resolve(query)?;
    let fuse = circuit.selection.smallest_carrying(circuit.current);
    let mut previous: Option<Trial<'_>> = None;
    let mut sizes = series(circuit.kind, circuit.material);
    let mut found: Option<(Candidate, Option<Candidate>, Option<Candidate>)> = None;
    while let Some(conductor) = sizes.next() {
        let Some(trial) = Trial::new(&circuit, conductor, 1)? else { continue };
        if !trial.fails_early(fuse.as_ref())? {
            let candidate = trial.work_out()?;
            if candidate.passes() {
                let smaller = previous.as_ref().map(Trial::work_out).transpose()?;
                found = Some((candidate, smaller, next_larger(&circuit, sizes)?));
                break;
            }
        }
        previous = Some(trial);
    }
    if let Some((chosen, smaller, larger)) = found {
        return Ok(Sizing { circuit, chosen: Some(chosen), smaller, larger, closest: None });
    }
    let chosen = parallel(&circuit)?;
    let closest = if chosen.is_none() { closest(&circuit)? } else { None };
    Ok(Sizing { circuit, chosen, smaller: None, larger: None, closest })
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
    let largest =
        series(circuit.kind, circuit.material).last().map_or(mm2(SMALLEST_PARALLEL_MM2), |single| single.area);
    let mut best: Option<Candidate> = None;
    for conductors in 2..=MOST_PARALLEL {
        for conductor in series(circuit.kind, circuit.material) {
            if conductor.area < mm2(SMALLEST_PARALLEL_MM2) || conductor.area * f64::from(conductors) < largest {
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

/// Every single size, worked out; for the closest one and for remedies.
pub(super) fn all(circuit: &Circuit) -> Result<Vec<Candidate>, CableError> {
    let mut worked = Vec::new();
    for conductor in series(circuit.kind, circuit.material) {
        if let Some(trial) = Trial::new(circuit, conductor, 1)? {
            worked.push(trial.work_out()?);
        }
    }
    Ok(worked)
}

fn closest(circuit: &Circuit) -> Result<Option<Candidate>, CableError> {
    let worst = |candidate: &Candidate| candidate.binding().map_or(0.0, |margin| margin.margin.value);
    Ok(all(circuit)?.into_iter().max_by(|one, other| {
        // Of equal margins the smaller conductor.
        worst(one).total_cmp(&worst(other)).then(in_mm2(other.conductor.area).total_cmp(&in_mm2(one.conductor.area)))
    }))
}
