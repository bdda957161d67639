//! What lies together: the conductors of a loom, and both legs of a circuit.

use crate::conductor::Conductor;
use crate::heat::{Installation as Method, Lay, Others};
use crate::installation::{ConductorChoice, Installation, Run, Segment};
use crate::quantity::{Area, ElectricCurrent, Length, LinearPowerDensity};

/// The conductor of a run whose conductor is known.
fn conductor(run: &Run) -> Option<Conductor> {
    match run.conductor {
        ConductorChoice::Fixed(conductor) => Some(conductor),
        ConductorChoice::Auto(..) => None,
    }
}

/// How a run lies along a stretch, with the heat of everything that lies with it: each neighbour at the
/// current that it is judged at (`loads`, by run) and as hot as its insulation permits.
pub(super) fn lay(
    installation: &Installation,
    index: usize,
    run: &Run,
    segment: &Segment,
    loads: &[ElectricCurrent],
) -> Lay {
    let method = installation.method(run, segment);
    let beside = |other: usize| {
        segment.loom.is_some()
            && installation.runs.get(other).is_some_and(|other| {
                other.segments.iter().any(|there| there.loom == segment.loom && there.zone == segment.zone)
            })
    };
    // Both legs of a circuit take the same way, and carry the same current; so, for all that is known, does the
    // return of a single run that is in no loom.
    let returns = run.twin.is_some() || (run.circuit.is_none() && segment.loom.is_none());
    let paired = returns && method != Method::FreeAir;
    let mut lay = if paired { Lay::pair(method) } else { Lay::alone(method) };
    lay.bore = segment.loom.and_then(|loom| installation.looms.get(loom)).and_then(|loom| loom.bore);
    let mut others = Others::default();
    let (mut squares, mut resting) = (Area::default(), Area::default());
    let neighbours = installation
        .runs
        .iter()
        .enumerate()
        .filter(|(other, _)| *other != index && Some(*other) != run.twin && beside(*other));
    for (other, neighbour) in neighbours {
        let Some(conductor) = conductor(neighbour) else { continue };
        let current = loads.get(other).copied().unwrap_or_default();
        let watts: LinearPowerDensity = current * current * conductor.resistance_at(neighbour.insulation);
        others.heat += watts;
        let square = conductor.outer_diameter * conductor.outer_diameter;
        squares += square;
        if current.value <= 0.0 {
            resting += square;
        }
        if conductor.outer_diameter > others.largest {
            others.largest = conductor.outer_diameter;
        }
        others.loaded += u16::from(current.value > 0.0);
    }
    (others.diameter, others.resting) = (squares.sqrt(), resting.sqrt());
    lay.others = others;
    lay
}

/// Whether any stretch of any run lies in a loom with conductors of other circuits.
pub(super) fn has_looms(installation: &Installation) -> bool {
    installation.runs.iter().any(|run| run.segments.iter().any(|segment| segment.loom.is_some()))
}

/// The diameter of the circle around a loom's conductors where this run passes, and the bore of its conduit,
/// where that is too small for them.
pub(super) fn too_tight(lay: &Lay, conductor: &Conductor) -> Option<(Length, Length)> {
    let (bore, contents) = (lay.bore?, lay.contents(conductor));
    (bore < contents * (1.0 - 1e-9)).then_some((contents, bore))
}
