//! What a probe would show on a network, and how that answers to every resistance and every rough number of the plan.
//! Numbers in this kernel are SI units: V, A, Ω.

use super::model::{Frame, Round, Unknown};
use crate::network::{Branch, Network, NetworkError, OperatingPoint, Outcome, Response, Workbench};

/// What is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Probe {
    /// Voltage of one node over another.
    Voltage([usize; 2]),
    /// Current in a bridge, from its first node to its second.
    Current(usize),
    /// One of the rough numbers of the round, by its index: what a demand draws.
    Draw(usize),
    /// What a source gives, by its index in the network.
    Given(usize),
}

/// What a probe shows, and its slopes.
#[derive(Clone, Debug)]
pub(super) struct View {
    pub(super) value: f64,
    /// By bridge: per ohm of it.
    pub(super) bridges: Vec<f64>,
    /// By rough number of the round: per volt or ampere of it.
    pub(super) own: Vec<f64>,
}

fn branch<'a>(round: &Round, network: &'a Network, bridge: usize) -> Option<(usize, &'a Branch)> {
    let place = round.branches.get(bridge).copied().flatten()?;
    Some((place, network.branches.get(place)?))
}

/// The nodes between which stands what a probe shows, or what it is made of.
fn pair(round: &Round, network: &Network, probe: Probe) -> [usize; 2] {
    match probe {
        Probe::Voltage(nodes) => nodes,
        Probe::Current(bridge) => branch(round, network, bridge).map_or([0, 0], |(_, branch)| branch.nodes),
        Probe::Given(source) => network.sources.get(source).map_or([0, 0], |source| source.nodes),
        Probe::Draw(_) => [0, 0],
    }
}

/// What each probe shows on the network of a round; `None` when that has no operating point.
pub(super) fn look(
    bench: &mut Workbench,
    frame: &Frame,
    round: &Round,
    network: &Network,
    probes: &[Probe],
) -> Result<Option<Vec<View>>, NetworkError> {
    let pairs: Vec<[usize; 2]> = probes.iter().map(|probe| pair(round, network, *probe)).collect();
    let Some((point, responses)) = bench.responses(network, &pairs)? else { return Ok(None) };
    let seen = probes.iter().zip(&responses).map(|(probe, response)| {
        let voltage = slopes(frame, round, network, &point, response);
        view(round, network, &point, *probe, voltage)
    });
    Ok(Some(seen.collect()))
}

/// The current in every bridge of a round, none where it is open or nothing settles.
pub(super) fn currents(bench: &mut Workbench, round: &Round, network: &Network) -> Result<Vec<f64>, NetworkError> {
    let Outcome::Point(point) = bench.operating_point(network)? else { return Ok(vec![0.0; round.branches.len()]) };
    Ok(round.branches.iter().map(|place| place.map_or(0.0, |place| current(&point, place))).collect())
}

fn current(point: &OperatingPoint, place: usize) -> f64 {
    point.branch_currents.get(place).map_or(0.0, |current| current.value)
}

/// Slopes of the voltage between the nodes of a response.
fn slopes(frame: &Frame, round: &Round, network: &Network, point: &OperatingPoint, response: &Response) -> View {
    let bridges = (0..frame.bridges.len()).map(|bridge| {
        // A branch of so much more resistance lets so much less through, which is as if that were fed in along it.
        branch(round, network, bridge).map_or(0.0, |(place, branch)| {
            response.transfer(branch.nodes).value / branch.resistance.value * current(point, place)
        })
    });
    let own = round.rough.iter().map(|rough| match rough.what {
        Unknown::Emf(source) => network
            .sources
            .get(source)
            .map_or(0.0, |source| response.transfer(source.nodes).value / source.resistance.value),
        Unknown::Draw(demand) => {
            let fed = network.demands.get(demand).filter(|demand| supplied(point, demand.nodes));
            fed.map_or(0.0, |demand| -response.transfer(demand.nodes).value)
        }
    });
    View { value: 0.0, bridges: bridges.collect(), own: own.collect() }
}

fn supplied(point: &OperatingPoint, nodes: [usize; 2]) -> bool {
    !nodes.iter().any(|node| point.unsupplied.contains(node))
}

/// From the slopes of a voltage those of what is looked at.
fn view(round: &Round, network: &Network, point: &OperatingPoint, probe: Probe, mut voltage: View) -> View {
    match probe {
        Probe::Voltage(nodes) => View { value: point.between(nodes).value, ..voltage },
        Probe::Current(bridge) => {
            let Some((place, branch)) = branch(round, network, bridge) else { return none(&voltage) };
            let (over, here) = (1.0 / branch.resistance.value, current(point, place));
            scale(&mut voltage, over);
            if let Some(slope) = voltage.bridges.get_mut(bridge) {
                *slope -= here * over;
            }
            View { value: here, ..voltage }
        }
        Probe::Given(source) => {
            let Some(of) = network.sources.get(source) else { return none(&voltage) };
            let over = 1.0 / of.resistance.value;
            scale(&mut voltage, -over);
            for (rough, slope) in round.rough.iter().zip(&mut voltage.own) {
                if matches!(rough.what, Unknown::Emf(index) if index == source) {
                    *slope += over;
                }
            }
            View { value: (of.emf - point.between(of.nodes)).value * over, ..voltage }
        }
        Probe::Draw(index) => {
            let mut found = none(&voltage);
            if let Some(Unknown::Draw(demand)) = round.rough.get(index).map(|rough| rough.what) {
                found.value = point.demand_currents.get(demand).map_or(0.0, |current| current.value);
                if let Some(slope) = found.own.get_mut(index) {
                    *slope = 1.0;
                }
            }
            found
        }
    }
}

fn scale(view: &mut View, factor: f64) {
    view.bridges.iter_mut().chain(&mut view.own).for_each(|slope| *slope *= factor);
}

fn none(like: &View) -> View {
    View { value: 0.0, bridges: vec![0.0; like.bridges.len()], own: vec![0.0; like.own.len()] }
}
