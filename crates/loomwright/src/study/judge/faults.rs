//! Prospective fault currents through every fuse: the highest, which it has to break, and the lowest, on which it still
//! has to open.
//!
//! Highest: every source at its highest charge voltage behind its ohmic resistance, alternators and converters with the
//! most they push into a fault, cold conductors, nothing lost in joints, fuses and returns, and a reserve on top; the
//! worse of a fault right behind the fuse and one right before it. Lowest: one cold battery at low charge, hot conductors
//! with all their joints, at the far end of what the fuse protects. No battery electronics is credited with clearing
//! either.

use super::bench::{Bench, OPEN_OHM, ohms, pair};
use super::model::RunModel;
use super::paths::{Protection, Ways};
use super::work::Work;
use super::{JudgeError, Judgement};
use crate::data::tables::constants;
use crate::installation::{BatteryState, Case, Engine, FuseChoice, Installation, Leg, LinkKind, NodeId, Run};
use crate::network::{Branch, Demand, Network, Source};
use crate::quantity::{ElectricCurrent, ElectricalResistance, ThermodynamicTemperature, celsius};

/// What a fault drives through the fuse of a run.
#[derive(Clone, Debug, Default)]
pub struct Fault {
    /// The highest, with its reserve.
    pub highest: ElectricCurrent,
    /// What a fault behind the fuse drives through it, with its reserve.
    pub forward: ElectricCurrent,
    /// What a fault before the fuse drives through it the other way, with the same reserve.
    pub backward: ElectricCurrent,
    /// The lowest; `None` where no battery reaches what the fuse protects.
    pub lowest: Option<Lowest>,
}

/// The lowest fault.
#[derive(Clone, Debug)]
pub struct Lowest {
    /// The current through the fuse.
    pub current: ElectricCurrent,
    /// The run at whose far end it lies.
    pub run: usize,
    /// The battery that feeds it.
    pub battery: usize,
}

/// What a fault at a node draws: between it and the negative of a source that reaches it.
#[derive(Clone, Copy, Debug)]
pub struct FaultLevel {
    /// The node.
    pub node: usize,
    /// The highest, with its reserve.
    pub highest: ElectricCurrent,
    /// The lowest, fed by one battery; `None` where none reaches it.
    pub lowest: Option<ElectricCurrent>,
}

/// A return in which nothing is lost.
const RETURN_OHM: f64 = 1e-6;

/// Runs, then links with every one closed.
fn branches(installation: &Installation, resistance: impl Fn(usize) -> ElectricalResistance) -> Vec<Branch> {
    let runs = installation.runs.iter().enumerate();
    let runs = runs.map(|(index, run)| Branch::new(pair([run.from, run.to]), resistance(index)));
    let links = installation.links.iter().map(|link| Branch {
        nodes: pair(link.nodes),
        resistance: link.resistance,
        drop: link.drop,
        one_way: link.kind == LinkKind::Diode,
    });
    runs.chain(links).collect()
}

/// Whether something lets current through one way only, so that every fault is solved by itself.
fn blocks(installation: &Installation) -> bool {
    installation.links.iter().any(|link| link.kind == LinkKind::Diode)
}

/// Solutions that the fault levels of all nodes take, where each is one.
pub(super) fn solutions_of_levels(installation: &Installation) -> usize {
    let each = installation.nodes.len().saturating_mul(installation.batteries.len() + 1);
    if blocks(installation) { each } else { 0 }
}

/// The coldest air along a run.
pub(super) fn coldest(installation: &Installation, run: usize) -> ThermodynamicTemperature {
    let segments = installation.runs.get(run).map_or(&[][..], |run| &run.segments);
    let zones = segments.iter().filter_map(|segment| installation.zones.get(segment.zone)).map(|zone| zone.coldest);
    let found = zones.reduce(|least, next| if next < least { next } else { least });
    found.unwrap_or_else(|| celsius(constants::COLDEST_C))
}

/// Everything that pushes current into a fault at once.
pub(super) fn strongest(installation: &Installation, models: &[RunModel]) -> Network {
    let resistance = |index: usize| match (installation.runs.get(index), models.get(index)) {
        (Some(run), Some(model)) if run.leg == Leg::Positive => model.cold(coldest(installation, index)),
        _ => ohms(RETURN_OHM),
    };
    let batteries = installation.batteries.iter();
    let limited = installation.alternators.iter().map(|one| (one.nodes, one.rating * constants::ALTERNATOR_FAULT));
    let outputs = installation.converters.iter().filter_map(|one| Some((one.output?, one.output_current?)));
    let pushed = limited.chain(outputs.map(|(nodes, current)| (nodes, current * constants::CONVERTER_FAULT)));
    Network {
        nodes: installation.nodes.len(),
        branches: branches(installation, resistance),
        sources: batteries.map(|one| Source::new(pair(one.nodes), one.charge_voltage, one.ohmic)).collect(),
        demands: pushed.map(|(nodes, current)| Demand::current(pair(nodes), -current)).collect(),
        ..Network::default()
    }
}

/// Cold batteries nearly empty, conductors hot.
fn weakest(installation: &Installation, models: &[RunModel]) -> Network {
    let sources = installation.batteries.iter().map(|battery| {
        let zone = installation.nodes.get(battery.nodes[0].0).and_then(|node| installation.zones.get(node.zone?));
        let cold = zone.map_or_else(|| celsius(constants::COLDEST_C), |zone| zone.coldest);
        // Colder than any battery's data go, it counts as the coldest they tell.
        let cold = if cold < celsius(-40.0) { celsius(-40.0) } else { cold };
        let case = Case { battery_temperature: Some(cold), ..Case::new("", Engine::Off, BatteryState::Low) };
        let behind = case.battery(battery);
        Source::new(pair(battery.nodes), behind.emf, behind.resistance)
    });
    Network {
        nodes: installation.nodes.len(),
        branches: branches(installation, |index| models.get(index).map_or(ohms(RETURN_OHM), RunModel::hot)),
        sources: sources.collect(),
        ..Network::default()
    }
}

/// The same with one battery alone, and those in series with it, without which it would drive nothing.
pub(super) fn alone(installation: &Installation, ways: &Ways, models: &[RunModel], battery: usize) -> Network {
    let mut alone = weakest(installation, models);
    for (index, source) in alone.sources.iter_mut().enumerate() {
        if index != battery && !ways.in_series(installation, battery, index) {
            source.resistance = ohms(OPEN_OHM);
        }
    }
    alone
}

/// The negatives between which and a run's far end a fault may lie: of its own circuit, of what it feeds, of the
/// circuits that start there; else those of the sources.
fn far_negatives(installation: &Installation, ways: &Ways, run: usize) -> Vec<NodeId> {
    let Some(here) = installation.runs.get(run) else { return Vec::new() };
    if let Some(twin) = here.twin.and_then(|twin| installation.runs.get(twin)) {
        return vec![twin.to];
    }
    let loads = installation.loads.iter().filter_map(|load| load.nodes);
    let ports = installation.converters.iter().flat_map(|one| [one.input, one.output].into_iter().flatten());
    let devices = loads.chain(ports).filter(|nodes| nodes[0] == here.to).map(|nodes| nodes[1]);
    let starting = installation.runs.iter().filter(|other| other.from == here.to && other.leg == Leg::Positive);
    let returning = starting.filter_map(|other| installation.runs.get(other.twin?)).map(|back| back.from);
    let mut found: Vec<NodeId> = devices.chain(returning).collect();
    if found.is_empty() {
        found.extend(ways.negatives(installation, here.to));
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// The faults of every run that has a fuse, or is to have one.
///
/// The highest are taken over from an earlier judgement of a plan that differs in fuses only.
pub(super) fn faults(
    installation: &Installation,
    ways: &Ways,
    protections: &[Protection],
    models: &[RunModel],
    earlier: Option<&Judgement>,
    work: &mut Work,
) -> Result<Vec<Option<Fault>>, JudgeError> {
    let kept = earlier.filter(|earlier| same_copper(earlier, installation, models));
    let mut found = match kept {
        Some(earlier) => earlier.faults.clone(),
        None => highest_faults(installation, ways, models, work)?,
    };
    for (slot, run) in found.iter_mut().zip(&installation.runs) {
        // What several fuses feed together is worked out anew.
        slot.take_if(|_| run.fuse == FuseChoice::None);
        slot.iter_mut().for_each(|fault| fault.lowest = None);
    }
    lowest_faults(installation, ways, protections, models, &mut found, work)?;
    Ok(found)
}

/// Whether nothing differs from an earlier judgement that a highest fault depends on.
fn same_copper(earlier: &Judgement, installation: &Installation, models: &[RunModel]) -> bool {
    let was = &earlier.installation;
    let fused = |run: &Run| run.fuse != FuseChoice::None;
    let runs = was.runs.iter().zip(&installation.runs);
    let converters = was.converters.iter().zip(&installation.converters);
    let conductors = earlier.models.iter().zip(models);
    runs.into_iter().all(|(was, now)| was.route() == now.route() && fused(was) == fused(now))
        && conductors.into_iter().all(|(was, now)| was.conductor == now.conductor)
        && converters.into_iter().all(|(was, now)| was.output_current == now.output_current)
}

/// The highest faults.
pub(super) fn highest_faults(
    installation: &Installation,
    ways: &Ways,
    models: &[RunModel],
    work: &mut Work,
) -> Result<Vec<Option<Fault>>, JudgeError> {
    let runs = installation.runs.iter().enumerate();
    let fused: Vec<usize> = runs.filter(|(_, run)| run.fuse != FuseChoice::None).map(|(index, _)| index).collect();
    let mut found: Vec<Option<Fault>> = vec![None; installation.runs.len()];
    // Where faults are asked for: the fuse's own node against every negative that a source has there.
    let mut places: Vec<(usize, [usize; 2])> = Vec::new();
    for run in &fused {
        let Some(from) = installation.runs.get(*run).map(|run| run.from) else { continue };
        places.extend(ways.negatives(installation, from).into_iter().map(|negative| (*run, pair([from, negative]))));
    }
    let nodes: Vec<[usize; 2]> = places.iter().map(|(_, nodes)| *nodes).collect();
    let mut bench = Bench::new(strongest(installation, models), &nodes);
    for (place, (run, _)) in places.iter().enumerate() {
        // A fault at the fuse is at the same place before and behind it: what comes along the run passes the fuse when it
        // lies before, all the rest when it lies behind.
        let [all, along] = bench.at(place, *run);
        let before = -along;
        let behind = all - before;
        if let Some(slot) = found.get_mut(*run) {
            let larger = |one: ElectricCurrent, other: ElectricCurrent| if one > other { one } else { other };
            let [forward, backward] = [behind, before].map(|current| current * constants::FAULT_RESERVE);
            let kept = slot.take().unwrap_or_default();
            *slot = Some(Fault {
                highest: larger(larger(forward, backward), kept.highest),
                forward: larger(forward, kept.forward),
                backward: larger(backward, kept.backward),
                lowest: None,
            });
        }
    }
    bench.count(installation, work)?;
    Ok(found)
}

fn lowest_faults(
    installation: &Installation,
    ways: &Ways,
    protections: &[Protection],
    models: &[RunModel],
    found: &mut [Option<Fault>],
    work: &mut Work,
) -> Result<(), JudgeError> {
    let mut far: Vec<(&[usize], usize, [usize; 2])> = Vec::new();
    for (index, (run, protection)) in installation.runs.iter().zip(protections).enumerate() {
        if let (Protection::Fuses(feeding), Leg::Positive) = (protection, run.leg) {
            let negatives = far_negatives(installation, ways, index);
            far.extend(negatives.into_iter().map(|negative| (feeding.as_slice(), index, pair([run.to, negative]))));
        }
    }
    let nodes: Vec<[usize; 2]> = far.iter().map(|(_, _, nodes)| *nodes).collect();
    if blocks(installation) {
        work.afford(installation, far.len().saturating_mul(installation.batteries.len()))?;
    }
    for battery in 0..installation.batteries.len() {
        let mut bench = Bench::new(alone(installation, ways, models, battery), &nodes);
        for (place, (feeding, run, _)) in far.iter().enumerate() {
            let reached = installation.batteries.get(battery).zip(installation.runs.get(*run));
            if !reached.is_some_and(|(battery, run)| ways.reaches(battery.nodes[0], run.to)) {
                continue;
            }
            // Several fuses that feed it together: what flows into the fault, told at the run itself.
            let (through, told) = match feeding {
                [one] => (bench.at(place, *one)[1].abs(), *one),
                _ => (bench.at(place, *run)[0].abs(), *run),
            };
            let feeds = feeding.iter().filter_map(|run| found.get(*run)?.as_ref());
            let highest = feeds.fold(ElectricCurrent::default(), |sum, fault| sum + fault.highest);
            let Some(slot) = found.get_mut(told) else { continue };
            let fault = slot.get_or_insert_with(|| Fault { highest, ..Fault::default() });
            // A fault that this battery feeds past the fuse says nothing about it.
            if through.value > 1e-3 && fault.lowest.as_ref().is_none_or(|lowest| through < lowest.current) {
                fault.lowest = Some(Lowest { current: through, run: *run, battery });
            }
        }
        bench.count(installation, work)?;
    }
    Ok(())
}

impl Judgement {
    /// The fault level of every node that a source's positive reaches.
    pub fn fault_levels(&self) -> Vec<FaultLevel> {
        let (plan, ways) = (&self.installation, &self.ways);
        let negative: Vec<NodeId> = plan.batteries.iter().map(|battery| battery.nodes[1]).collect();
        let mut places: Vec<[usize; 2]> = Vec::new();
        for node in (0..plan.nodes.len()).map(NodeId) {
            // A negative of a bank in series is a positive too: what reaches a negative pole itself is no place.
            if !negative.iter().any(|pole| ways.reaches(*pole, node)) {
                places.extend(ways.negatives(plan, node).into_iter().map(|back| pair([node, back])));
            }
        }
        let larger = |one: ElectricCurrent, other: ElectricCurrent| if one > other { one } else { other };
        let mut found: Vec<FaultLevel> = Vec::new();
        let mut bench = Bench::new(strongest(plan, &self.models), &places);
        for (place, [node, _]) in places.iter().enumerate() {
            let highest = bench.at(place, 0)[0].abs() * constants::FAULT_RESERVE;
            match found.last_mut().filter(|last| last.node == *node) {
                Some(last) => last.highest = larger(last.highest, highest),
                None => found.push(FaultLevel { node: *node, highest, lowest: None }),
            }
        }
        for battery in 0..plan.batteries.len() {
            let mut bench = Bench::new(alone(plan, ways, &self.models, battery), &places);
            let pole = plan.batteries.get(battery).map(|battery| battery.nodes[0]);
            for (place, [node, _]) in places.iter().enumerate() {
                if !pole.is_some_and(|pole| ways.reaches(pole, NodeId(*node))) {
                    continue;
                }
                let current = bench.at(place, 0)[0].abs();
                let level = found.iter_mut().find(|level| level.node == *node);
                if let Some(level) = level.filter(|level| level.lowest.is_none_or(|lowest| current < lowest)) {
                    level.lowest = Some(current);
                }
            }
        }
        found
    }
}
