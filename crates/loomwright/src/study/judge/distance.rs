//! How much conductor lies between a source and the protective device, unprotected.
//!
//! From a battery's pole everything up to the first devices is bare: what leads on to such devices only is a tail, which
//! practice permits to a length; what leads to a load, a charger or another battery is no tail.

use std::collections::VecDeque;

use super::paths::{consumers, groups};
use crate::installation::{FuseChoice, Installation, Leg, NodeId, Run};
use crate::quantity::Length;

/// The unprotected conductor up to the device of a run, or up to the far end of a tail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unprotected {
    /// Its length along the conductors from the farthest battery that is bare there, or from the run's own start.
    pub length: Length,
    /// Whether a battery is at its other end, and not what an earlier device protects.
    pub battery: bool,
    /// Whether all of it lies in conduit.
    pub sheathed: bool,
    /// Whether the run has no device of its own: all of it is unprotected.
    pub tail: bool,
}

/// What is reached from a pole without passing a device.
struct Reached {
    /// By node: length of the way, and whether all of it lies in conduit.
    ways: Vec<Option<(Length, bool)>>,
    /// By node: the node before it, and the run in between; `None` for a link.
    before: Vec<Option<(usize, Option<usize>)>>,
}

/// A bare run leads from node to node both ways.
fn ends(run: &Run) -> [[NodeId; 2]; 2] {
    [[run.from, run.to], [run.to, run.from]]
}

/// Whether a run lies in conduit, up to a length from its start.
fn in_conduit(plan: &Installation, run: &Run, up_to: Length) -> bool {
    let mut passed = Length::default();
    run.segments.iter().all(|segment| {
        let before = passed < up_to;
        passed += segment.length;
        !before || plan.method(run, segment).is_conduit()
    })
}

fn is_bare(run: &Run) -> bool {
    run.leg == Leg::Positive && run.fuse == FuseChoice::None
}

/// Bare conductor from a battery's pole to every node that it reaches without passing a device.
fn from_pole(plan: &Installation, pole: NodeId) -> Reached {
    let nodes = plan.nodes.len();
    let mut reached = Reached { ways: vec![None; nodes], before: vec![None; nodes] };
    if let Some(slot) = reached.ways.get_mut(pole.0) {
        *slot = Some((Length::default(), true));
    }
    // Lengths only ever shrink, so the queue empties.
    let mut queue = VecDeque::from([pole]);
    while let Some(here) = queue.pop_front() {
        let Some((length, sheathed)) = reached.ways.get(here.0).copied().flatten() else { continue };
        let mut step = |there: NodeId, run: Option<usize>, more: Length, conduit: bool| {
            let Some(slot) = reached.ways.get_mut(there.0) else { return };
            if slot.is_none_or(|(known, _)| length + more < known) {
                *slot = Some((length + more, sheathed && conduit));
                if let Some(slot) = reached.before.get_mut(there.0) {
                    *slot = Some((here.0, run));
                }
                queue.push_back(there);
            }
        };
        for (index, run) in plan.runs.iter().enumerate().filter(|(_, run)| is_bare(run)) {
            for [from, to] in ends(run) {
                if from == here {
                    // A cranking feed is exempt as far as it goes: what is tapped from its end starts there.
                    let length = if run.cranking { Length::default() } else { run.route() };
                    step(to, Some(index), length, in_conduit(plan, run, length));
                }
            }
        }
        for link in &plan.links {
            for [from, to] in [link.nodes, [link.nodes[1], link.nodes[0]]] {
                if from == here {
                    step(to, None, Length::default(), true);
                }
            }
        }
    }
    reached
}

/// What is unprotected of each positive run; `None` where nothing is, or where it is no tail and so has no place for a
/// device at all.
pub(super) fn unprotected(plan: &Installation) -> Vec<Option<Unprotected>> {
    let mut found: Vec<Option<Unprotected>> = vec![None; plan.runs.len()];
    let group = groups(plan);
    let of = |node: NodeId| group.get(node.0).copied();
    let ways: Vec<_> =
        plan.batteries.iter().map(|battery| (battery.nodes[0], from_pole(plan, battery.nodes[0]))).collect();
    // What leads from a battery to something that draws or drives current, bare all the way, is no tail.
    let outputs = plan.converters.iter().filter_map(|one| one.output).map(|nodes| nodes[0]);
    let alternators = plan.alternators.iter().map(|one| one.nodes[0]);
    let batteries = plan.batteries.iter().map(|one| one.nodes[0]);
    let drawing = consumers(plan).into_iter().map(|(_, nodes)| nodes[0]);
    let devices: Vec<NodeId> = drawing.chain(outputs).chain(alternators).chain(batteries).collect();
    let mut feeding = vec![false; plan.runs.len()];
    for (pole, reached) in &ways {
        for device in devices.iter().filter(|device| of(**device) == of(*pole)) {
            let mut here = device.0;
            // No way is longer than there are nodes.
            for _ in 0..plan.nodes.len() {
                let Some((back, run)) = reached.before.get(here).copied().flatten() else { break };
                if let Some(slot) = run.and_then(|run| feeding.get_mut(run)) {
                    *slot = true;
                }
                here = back;
            }
        }
    }
    for (index, (run, slot)) in
        plan.runs.iter().zip(&mut found).enumerate().filter(|(_, (run, _))| run.leg == Leg::Positive)
    {
        let own = matches!(run.fuse, FuseChoice::Fixed(_));
        // The farthest battery decides: from each of them a fault is fed.
        let longest = |node: NodeId| {
            let from = ways.iter().filter_map(|(_, reached)| reached.ways.get(node.0).copied().flatten());
            from.reduce(|most, next| if next.0 > most.0 { next } else { most })
        };
        if own {
            let bare = longest(run.from);
            let (before, sheathed) = bare.unwrap_or((Length::default(), true));
            // A fuse at the start of its run: what leads there is told where it lies.
            let at_start = run.fuse_distance <= Length::default();
            let length = if at_start { Length::default() } else { before + run.fuse_distance };
            let sheathed = sheathed && in_conduit(plan, run, run.fuse_distance);
            *slot = (length > Length::default()).then_some(Unprotected {
                length,
                battery: bare.is_some(),
                sheathed,
                tail: false,
            });
        } else if is_bare(run) && !run.cranking && !feeding.get(index).copied().unwrap_or(true) {
            let reached = [run.from, run.to].into_iter().filter_map(longest);
            let farther = reached.reduce(|most, next| if next.0 > most.0 { next } else { most });
            *slot = farther.map(|(length, sheathed)| Unprotected { length, battery: true, sheathed, tail: true });
        }
    }
    found
}
