//! Faults from a positive to a case or to the chassis: what they drive through the conductors that bond cases and
//! batteries to it, and how much of it the fuse before lets through.
//!
//! A fuse lets through most where it opens slowest, so the least fault counts as much as the highest: the least from one
//! cold battery at low charge, hot conductors and the bond's own resistance; the highest from everything at once.

use super::Judgement;
use super::bench::{BOLTED_OHM, Bench, ohms, pair};
use super::faults::{alone, strongest};
use super::overcurrent::band_of;
use super::paths::{Protection, groups};
use crate::conductor::Conductor;
use crate::data::tables::constants;
use crate::fitting::contact_resistance;
use crate::heat::{OverloadLimits, withstand};
use crate::installation::{CaseBond, FuseChoice, Installation, Leg, NodeId, Run};
use crate::protection::Band;
use crate::quantity::{
    ElectricCurrent, ElectricalResistance, JouleIntegral, Ratio, ThermodynamicTemperature, Time, celsius,
};
use uom::si::ratio::ratio;

/// Below this current, in A, a fault has no way back.
const NO_WAY_BACK_A: f64 = 1e-3;

/// A fault through a bond, and the fuses that end it.
#[derive(Clone, Debug)]
pub(super) struct BondFault {
    /// The runs that the fuses sit in, together; `None` where a battery feeds it past no fuse.
    pub(super) feeding: Option<Vec<usize>>,
    /// The least current through the fuses.
    pub(super) lowest: ElectricCurrent,
    /// The highest, with its reserve.
    highest: ElectricCurrent,
    /// The share of it that flows through the bond.
    share: Ratio,
}

/// What the fuses let through at a current, against what the bond bears.
#[derive(Clone, Copy, Debug)]
pub(super) struct LetThrough {
    /// The current in the fuses.
    pub(super) current: ElectricCurrent,
    /// The time they take; `None` where they may never open.
    pub(super) takes: Option<Time>,
    /// I²t in the bond by then.
    pub(super) passed: JouleIntegral,
    /// k²S² of the bond.
    pub(super) borne: JouleIntegral,
    /// Whether no time limits are at hand for so much current, so that it is a bound only.
    pub(super) beyond: bool,
}

impl LetThrough {
    /// What is borne over what passes: 1 or more passes.
    pub(super) fn margin(&self) -> f64 {
        if self.takes.is_none() { 0.0 } else { (self.borne / self.passed).get::<ratio>() }
    }
}

/// A bond as it stands against heat.
#[derive(Clone, Copy)]
pub(super) struct Bond<'a> {
    /// Its conductor.
    pub(super) conductor: &'a Conductor,
    /// Its insulation class.
    pub(super) insulation: ThermodynamicTemperature,
    /// How hot it is before the fault.
    pub(super) start: ThermodynamicTemperature,
}

impl BondFault {
    /// The fuses' band; `None` where time limits of one are not at hand.
    pub(super) fn band(&self, plan: &Installation) -> Option<Band> {
        band_of(plan, self.feeding.as_deref()?)
    }

    /// The worst current from the least fault to the highest: what fails for certain before what cannot be judged. I²t is
    /// straight between the turns of a band on logarithmic paper, so ends and turns are all there is to look at.
    pub(super) fn worst(&self, band: &Band, bond: Bond<'_>) -> Option<LetThrough> {
        let known = band.known_up_to();
        let at = |current: ElectricCurrent| {
            let takes = band.slowest(current);
            let limits = OverloadLimits::of(bond.insulation, bond.insulation);
            let end = takes.map_or(limits.continuous, |takes| limits.at(takes));
            // What is as hot as it may get already bears nothing.
            let borne = withstand(bond.conductor, bond.start, end).map(|found| found.least()).unwrap_or_default();
            let through = current * self.share;
            let passed = through * through * takes.unwrap_or_default();
            let beyond = known.is_some_and(|known| current > known * (1.0 + 1e-9));
            LetThrough { current, takes, passed, borne, beyond }
        };
        let inside = |turn: &ElectricCurrent| *turn > self.lowest && *turn < self.highest;
        let looked_at = [self.lowest].into_iter().chain(band.turns().filter(inside)).chain([self.highest]);
        let certain = |one: &LetThrough| one.margin() < 1.0 && !one.beyond;
        let rank = |one: &LetThrough, other: &LetThrough| {
            certain(other).cmp(&certain(one)).then(one.margin().total_cmp(&other.margin()))
        };
        looked_at.map(at).min_by(rank)
    }
}

/// Resistance of a case's bond with a lug at each end.
fn resistance(bond: &CaseBond, temperature: ThermodynamicTemperature) -> ElectricalResistance {
    bond.conductor.resistance_at(temperature) * bond.length + contact_resistance("lug-on-stud") * 2.0
}

/// The runs whose fuses feed a positive terminal, together: `None` where a battery reaches it past no fuse; none where only
/// self-limiting sources do.
fn feeding(plan: &Installation, protections: &[Protection], terminal: NodeId) -> Option<Vec<usize>> {
    let mut found: Vec<usize> = Vec::new();
    for (index, run) in plan.runs.iter().enumerate() {
        if run.leg != Leg::Positive || (run.from != terminal && run.to != terminal) {
            continue;
        }
        match (run.fuse, protections.get(index)) {
            // Wherever in the run it sits, what comes along the run passes it.
            (FuseChoice::Fixed(_), _) => found.push(index),
            (_, Some(Protection::Fuses(fuses))) => found.extend(fuses),
            (_, Some(Protection::None)) => return None,
            _ => {}
        }
    }
    found.sort_unstable();
    found.dedup();
    Some(found)
}

/// Faults in the cases of converters whose bond is stated, by converter: from each terminal that a battery reaches.
pub(super) fn case_faults(judgement: &Judgement) -> Vec<(usize, BondFault)> {
    let plan = &judgement.installation;
    let Some(chassis) = plan.chassis else { return Vec::new() };
    let mut places: Vec<(usize, &CaseBond, NodeId)> = Vec::new();
    for (index, converter) in plan.converters.iter().enumerate() {
        let Some(bond) = &converter.case_bond else { continue };
        let ports = [converter.input, converter.output].into_iter().flatten();
        places.extend(ports.map(|port| (index, bond, port[0])));
    }
    if places.is_empty() {
        return Vec::new();
    }
    let nodes: Vec<[usize; 2]> = places.iter().map(|(_, _, positive)| pair([*positive, chassis])).collect();
    let mut lowest: Vec<Option<ElectricCurrent>> = vec![None; places.len()];
    for (battery, pole) in plan.batteries.iter().map(|one| one.nodes[0]).enumerate() {
        let mut bench = Bench::new(alone(plan, &judgement.ways, &judgement.models, battery), &nodes);
        for (place, ((_, bond, positive), slot)) in places.iter().zip(&mut lowest).enumerate() {
            if !judgement.ways.reaches(pole, *positive) {
                continue;
            }
            let branch = [bench.branch(place)];
            let [current] = bench.through(place, resistance(bond, bond.insulation), branch);
            if current.value > NO_WAY_BACK_A && slot.is_none_or(|lowest| current < lowest) {
                *slot = Some(current);
            }
        }
    }
    let mut bench = Bench::new(strongest(plan, &judgement.models), &nodes);
    let mut found = Vec::new();
    for (place, ((converter, bond, positive), lowest)) in places.iter().zip(lowest).enumerate() {
        let Some(lowest) = lowest else { continue };
        let branch = [bench.branch(place)];
        let [highest] = bench.through(place, resistance(bond, celsius(constants::COLDEST_C)), branch);
        let highest = (highest * constants::FAULT_RESERVE).max(lowest);
        let feeding = feeding(plan, &judgement.protections, *positive);
        if feeding.as_ref().is_none_or(|feeding| !feeding.is_empty()) {
            found.push((*converter, BondFault { feeding, lowest, highest, share: Ratio::new::<ratio>(1.0) }));
        }
    }
    found
}

/// Faults to the chassis behind the first fuses of batteries whose negative is joined to it by a run, by that run.
pub(super) fn battery_faults(judgement: &Judgement) -> Vec<(usize, BondFault)> {
    let plan = &judgement.installation;
    let Some(chassis) = plan.chassis else { return Vec::new() };
    let bonds: Vec<usize> = bonds(plan, chassis).collect();
    let group = groups(plan);
    let of = |node: NodeId| group.get(node.0);
    let mut found = Vec::new();
    for (battery, nodes) in plan.batteries.iter().map(|one| one.nodes).enumerate() {
        if nodes[1] == chassis || bonds.is_empty() || !judgement.ways.reaches(nodes[1], chassis) {
            continue;
        }
        let first = plan.runs.iter().enumerate().filter(|(_, run)| {
            run.leg == Leg::Positive && matches!(run.fuse, FuseChoice::Fixed(_)) && of(run.from) == of(nodes[0])
        });
        let first: Vec<(usize, NodeId)> = first.map(|(index, run)| (index, run.to)).collect();
        let places: Vec<[usize; 2]> = first.iter().map(|(_, behind)| pair([*behind, chassis])).collect();
        let mut bench = Bench::new(alone(plan, &judgement.ways, &judgement.models, battery), &places);
        for (place, (fuse, _)) in first.iter().enumerate() {
            for bond in &bonds {
                let through = bench.through(place, ohms(BOLTED_OHM), [*fuse, *bond]);
                let [lowest, shared] = through.map(|current| current.abs());
                if lowest.value <= NO_WAY_BACK_A || shared.value <= NO_WAY_BACK_A {
                    continue;
                }
                let forward = judgement.faults.get(*fuse).and_then(|fault| Some(fault.as_ref()?.forward));
                let highest = forward.unwrap_or(lowest).max(lowest);
                found.push((*bond, BondFault { feeding: Some(vec![*fuse]), lowest, highest, share: shared / lowest }));
            }
        }
    }
    found
}

/// Solutions for faults to cases and to the chassis, at most.
pub(super) fn solutions(plan: &Installation) -> usize {
    let Some(chassis) = plan.chassis else { return 0 };
    let ports = 2 * plan.converters.iter().filter(|one| one.case_bond.is_some()).count();
    let cases = ports.saturating_mul(plan.batteries.len() + 1);
    let group = groups(plan);
    let of = |node: NodeId| group.get(node.0);
    let bonds = bonds(plan, chassis).count();
    let first = plan.batteries.iter().filter(|battery| battery.nodes[1] != chassis).map(|battery| {
        let fused = |run: &&Run| run.fuse != FuseChoice::None && of(run.from) == of(battery.nodes[0]);
        plan.runs.iter().filter(fused).count()
    });
    cases.saturating_add(first.sum::<usize>().saturating_mul(bonds))
}

/// Runs that join a net of negatives to the chassis: not the return of a device that is grounded besides.
pub(super) fn bonds(plan: &Installation, chassis: NodeId) -> impl Iterator<Item = usize> {
    let runs = plan.runs.iter().enumerate();
    runs.filter(move |(_, run)| run.twin.is_none() && run.leg == Leg::Negative && [run.from, run.to].contains(&chassis))
        .map(|(index, _)| index)
}
