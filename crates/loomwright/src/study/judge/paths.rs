//! Ways through the installation: which runs lie between a source and a load, and which fuse a run hides
//! behind.

use std::collections::VecDeque;

use crate::installation::{Case, DeviceRef, FuseChoice, Installation, Leg, NodeId};
use crate::protection::Fuse;
use crate::quantity::ElectricPotential;

/// The runs on the shortest way between two nodes, through runs and links; empty when there is none.
pub(crate) fn way(installation: &Installation, from: NodeId, to: NodeId) -> Vec<usize> {
    let nodes = installation.nodes.len();
    let mut reached: Vec<Option<(usize, Option<usize>)>> = vec![None; nodes];
    let mut queue = VecDeque::from([from.0]);
    if let Some(slot) = reached.get_mut(from.0) {
        *slot = Some((from.0, None));
    }
    let step = |queue: &mut VecDeque<usize>,
                reached: &mut Vec<Option<(usize, Option<usize>)>>,
                here: usize,
                there: usize,
                run: Option<usize>| {
        if let Some(slot) = reached.get_mut(there)
            && slot.is_none()
        {
            *slot = Some((here, run));
            queue.push_back(there);
        }
    };
    while let Some(here) = queue.pop_front() {
        if here == to.0 {
            break;
        }
        for (index, run) in installation.runs.iter().enumerate() {
            if run.from.0 == here {
                step(&mut queue, &mut reached, here, run.to.0, Some(index));
            } else if run.to.0 == here {
                step(&mut queue, &mut reached, here, run.from.0, Some(index));
            }
        }
        for link in &installation.links {
            let [one, other] = link.nodes.map(|node| node.0);
            if one == here {
                step(&mut queue, &mut reached, here, other, None);
            } else if other == here {
                step(&mut queue, &mut reached, here, one, None);
            }
        }
    }
    let mut runs = Vec::new();
    let mut here = to.0;
    while let Some(Some((before, run))) = reached.get(here) {
        if *before == here {
            return runs;
        }
        runs.extend(*run);
        here = *before;
    }
    Vec::new()
}

/// Nodes that a battery reaches without passing a fuse.
pub(super) fn unfused(installation: &Installation) -> Vec<bool> {
    let mut bare = vec![false; installation.nodes.len()];
    for battery in &installation.batteries {
        if let Some(slot) = bare.get_mut(battery.nodes[0].0) {
            *slot = true;
        }
    }
    let mut spread = |one: NodeId, other: NodeId| -> bool {
        let (here, there) = (bare.get(one.0).copied().unwrap_or(false), bare.get(other.0).copied().unwrap_or(false));
        if here == there {
            return false;
        }
        for node in [one, other] {
            if let Some(slot) = bare.get_mut(node.0) {
                *slot = true;
            }
        }
        true
    };
    loop {
        let mut grew = false;
        for run in installation.runs.iter().filter(|run| run.leg == Leg::Positive && run.fuse == FuseChoice::None) {
            grew |= spread(run.from, run.to);
        }
        for link in &installation.links {
            grew |= spread(link.nodes[0], link.nodes[1]);
        }
        if !grew {
            return bare;
        }
    }
}

/// How a run is protected against overcurrent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Protection {
    /// By the fuse of this run.
    Fuse(usize, Fuse),
    /// A battery reaches it without passing a fuse.
    None,
    /// Nothing that could overload it reaches it: self-limiting sources only.
    SelfLimiting,
}

/// What protects each run: the largest fuse through which a battery reaches it.
///
/// A positive run behind no fuse of its own is protected by the fuses that bound its unfused part. A
/// negative run carries what its devices' positive sides let through: one device, its smallest fuse; a
/// shared return, the largest on those ways.
pub(crate) fn protections(installation: &Installation) -> Vec<Protection> {
    let bare = unfused(installation);
    let is_bare = |node: NodeId| bare.get(node.0).copied().unwrap_or(false);
    let groups = groups(installation);
    let group = |node: NodeId| groups.get(node.0).copied().unwrap_or(node.0);
    let fused = || {
        installation.runs.iter().enumerate().filter_map(|(index, run)| match run.fuse {
            FuseChoice::Fixed(fuse) if run.leg == Leg::Positive => Some((index, run, fuse)),
            _ => None,
        })
    };
    let largest = |found: Option<(usize, Fuse)>, next: (usize, Fuse)| match found {
        Some(best) if best.1.rating >= next.1.rating => Some(best),
        _ => Some(next),
    };
    let returns = returns(installation);
    installation
        .runs
        .iter()
        .enumerate()
        .map(|(index, run)| match (run.leg, run.fuse) {
            (Leg::Positive, FuseChoice::Fixed(fuse)) => Protection::Fuse(index, fuse),
            (Leg::Positive, _) if is_bare(run.from) || is_bare(run.to) => Protection::None,
            (Leg::Positive, _) => fused()
                .filter(|(_, feeding, _)| {
                    group(feeding.to) == group(run.from) || group(feeding.from) == group(run.from)
                })
                .map(|(feeding, _, fuse)| (feeding, fuse))
                .fold(None, largest)
                .map_or(Protection::SelfLimiting, |(feeding, fuse)| Protection::Fuse(feeding, fuse)),
            (Leg::Negative, _) => returns
                .get(index)
                .copied()
                .flatten()
                .map_or(Protection::SelfLimiting, |(feeding, fuse)| Protection::Fuse(feeding, fuse)),
        })
        .collect()
}

/// Nodes joined without passing a fuse, by a common number.
fn groups(installation: &Installation) -> Vec<usize> {
    let mut group: Vec<usize> = (0..installation.nodes.len()).collect();
    loop {
        let mut changed = false;
        let open = installation.runs.iter().filter(|run| run.leg == Leg::Positive && run.fuse == FuseChoice::None);
        let edges = open.map(|run| [run.from, run.to]).chain(installation.links.iter().map(|link| link.nodes));
        for [one, other] in edges {
            let (Some(here), Some(there)) = (group.get(one.0).copied(), group.get(other.0).copied()) else { continue };
            let low = here.min(there);
            for node in [one, other] {
                if let Some(slot) = group.get_mut(node.0)
                    && *slot != low
                {
                    *slot = low;
                    changed = true;
                }
            }
        }
        if !changed {
            return group;
        }
    }
}

/// A fuse and the run it sits in.
type Limiting = Option<(usize, Fuse)>;

/// The fuse that limits each negative run.
fn returns(installation: &Installation) -> Vec<Limiting> {
    // For each negative run: (devices, smallest fuse of the last device, largest fuse over all).
    let mut found: Vec<(usize, Limiting, Limiting)> = vec![(0, None, None); installation.runs.len()];
    for (device, nodes) in consumers(installation) {
        let Some(source) = feeding_battery(installation, device, nodes) else { continue };
        let fuses: Vec<(usize, Fuse)> = way(installation, source[0], nodes[0])
            .into_iter()
            .filter_map(|run| match installation.runs.get(run)?.fuse {
                FuseChoice::Fixed(fuse) => Some((run, fuse)),
                FuseChoice::Auto | FuseChoice::None => None,
            })
            .collect();
        let smallest = fuses.iter().copied().min_by(|one, other| one.1.rating.value.total_cmp(&other.1.rating.value));
        let biggest = fuses.iter().copied().max_by(|one, other| one.1.rating.value.total_cmp(&other.1.rating.value));
        for run in way(installation, source[1], nodes[1]) {
            let Some(slot) = found.get_mut(run) else { continue };
            slot.0 += 1;
            slot.1 = smallest;
            slot.2 = match (slot.2, biggest) {
                (Some(best), Some(next)) if best.1.rating >= next.1.rating => Some(best),
                (best, next) => next.or(best),
            };
        }
    }
    found.into_iter().map(|(devices, single, shared)| if devices > 1 { shared } else { single }).collect()
}

/// Everything that draws current from a pair of nodes.
pub(crate) fn consumers(installation: &Installation) -> Vec<(DeviceRef, [NodeId; 2])> {
    let loads =
        installation.loads.iter().enumerate().filter_map(|(index, load)| Some((DeviceRef::Load(index), load.nodes?)));
    let converters = installation.converters.iter().enumerate().filter_map(|(index, converter)| {
        // A solar controller is fed by its array, not by a battery; its output faces one.
        let port = if converter.array.is_some() { converter.output } else { converter.input.or(converter.output) };
        Some((DeviceRef::Converter(index), port?))
    });
    loads.chain(converters).collect()
}

/// Terminals of the battery, alternator or buck converter that a device hangs on.
pub(crate) fn feeding_battery(
    installation: &Installation,
    device: DeviceRef,
    nodes: [NodeId; 2],
) -> Option<[NodeId; 2]> {
    let batteries = installation.batteries.iter().map(|battery| battery.nodes);
    let alternators = installation.alternators.iter().map(|alternator| alternator.nodes);
    let bucks = installation.converters.iter().enumerate().filter(|(index, converter)| {
        converter.kind == crate::installation::ConverterKind::Buck && device != DeviceRef::Converter(*index)
    });
    let bucks = bucks.filter_map(|(_, converter)| converter.output);
    batteries
        .chain(alternators)
        .chain(bucks)
        .find(|source| source[0] == nodes[0] || !way(installation, source[0], nodes[0]).is_empty())
}

/// Whether an alternator's node and a battery's are joined through runs and links in a case.
pub(super) fn are_joined(island: &[usize], one: NodeId, other: NodeId) -> bool {
    island.get(one.0).is_some() && island.get(one.0) == island.get(other.0)
}

/// Whether a case has the engine running.
pub(super) fn driving(case: &Case) -> bool {
    case.engine != crate::installation::Engine::Off
}

/// The highest voltage that a fuse of the system sees.
pub(crate) fn highest_voltage(installation: &Installation) -> ElectricPotential {
    let charge = installation.batteries.iter().map(|battery| battery.charge_voltage);
    let regulated = installation.alternators.iter().map(|alternator| alternator.voltage);
    let nominal = installation.system_voltage * (58.4 / 48.0);
    charge.chain(regulated).fold(nominal, |highest, next| if next > highest { next } else { highest })
}
