//! What to measure: few cases, each with what to switch on, and the places in walking order.

mod route;
mod words;

use crate::data::tables::constants;
use crate::installation::{Case, DeviceRef, Installation, Leg, NodeId};
use crate::network::{Part, inverter_output};
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power};
use crate::study::judge::{CaseResult, Judgement};
use crate::study::reconcile::{Inside, Measured, Point};
use route::Route;
use uom::si::electric_current::ampere;

/// Why a place is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Voltage at a device.
    Device(DeviceRef),
    /// Current of a run, by the run's index.
    Current(usize),
    /// Drop across the joint at the start of a run and its fuse with the holder.
    Fuse(usize),
    /// Drop along a run, joints and fuse included.
    Drop(usize),
    /// Drop across an isolator, shunt, relay or other joint in line, by its index.
    Link(usize),
    /// Power that an inverter gives, by the converter's index.
    Power(usize),
}

/// One place to measure at, with the value that the plan lets expect.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// Where, and the planned value; its error is zero, for nothing was measured yet. Voltages are told so that the planned
    /// value is not negative.
    pub measured: Measured,
    /// What it is good for.
    pub why: Why,
}

/// One operating case, what to switch on for it, and the places in walking order.
#[derive(Clone, Debug, PartialEq)]
pub struct Round {
    /// The operating case, by index.
    pub case: usize,
    /// What to switch on and off, how full the batteries are and how long to wait, a sentence each.
    pub switch_on: Vec<String>,
    /// What to measure, in walking order.
    pub stops: Vec<Stop>,
}

/// What to measure in a plan, in walking order.
///
/// As few cases are chosen as let every run be measured once where it carries most of what any case gives it; cases of
/// starts and lock-outs are moments, and those without an operating point cannot be had. In each case the batteries come
/// first, then zone by zone what lies nearer to them before what lies farther: the current of a run, its fuse, the drop
/// along it, and the voltage of the device that it ends at. A circuit's current is measured once, its drop on both legs.
/// A run that carries less than 5 % of its design current in every case is left out.
///
/// ```
/// use loomwright::study::{judge::judge, reconcile::walk};
/// use loomwright::text::read_plan;
/// let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let rounds = walk(&judge(&plan)?);
/// assert_eq!(rounds.len(), 1);
/// assert!(rounds[0].switch_on.iter().any(|told| told.contains("lamp")));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn walk(judgement: &Judgement) -> Vec<Round> {
    let plan = &judgement.installation;
    let usual = |result: &&CaseResult| plan.cases.get(result.case).is_some_and(Case::is_usual);
    let usable: Vec<&CaseResult> = judgement.lasting().filter(usual).collect();
    let chosen = cover(judgement, &usable);
    let homes = homes(judgement, &chosen);
    let route = Route::of(plan);
    let round = |(at, result): (usize, &&CaseResult)| {
        let runs: Vec<usize> =
            homes.iter().enumerate().filter(|(_, home)| **home == Some(at)).map(|(run, _)| run).collect();
        let links: Vec<usize> = (0..plan.links.len()).filter(|link| home_of_link(*link, &chosen) == Some(at)).collect();
        let mut stops = Stops { judgement, result, found: Vec::new() };
        stops.batteries();
        for item in route.items(plan, &runs, &links) {
            match item {
                route::Item::Runs(runs) => stops.runs(&runs),
                route::Item::Link(link) => stops.link(link),
            }
        }
        let switch_on = plan.cases.get(result.case).map(|case| words::switch_on(plan, case)).unwrap_or_default();
        Round { case: result.case, switch_on, stops: stops.found }
    };
    chosen.iter().enumerate().map(round).collect()
}

fn amount(result: &CaseResult, run: usize) -> ElectricCurrent {
    result.run_currents.get(run).copied().unwrap_or_default().abs()
}

fn least() -> ElectricCurrent {
    ElectricCurrent::new::<ampere>(constants::WALK_LEAST_A)
}

/// Whether a run is well measured in a case, when the most that any case gives it is `most`.
fn covers(judgement: &Judgement, result: &CaseResult, run: usize, most: ElectricCurrent) -> bool {
    let here = amount(result, run);
    let design = judgement.design.get(run).map(|design| design.current).unwrap_or_default();
    here >= most * constants::WALK_MOST_SHARE && here >= design * constants::WALK_LEAST_SHARE && here >= least()
}

/// The fewest cases, found greedily, that cover every run that any of them covers; in the order of the plan.
fn cover<'a>(judgement: &Judgement, usable: &[&'a CaseResult]) -> Vec<&'a CaseResult> {
    let runs = 0..judgement.installation.runs.len();
    let most = |run: usize| usable.iter().map(|one| amount(one, run)).fold(ElectricCurrent::default(), |a, b| a.max(b));
    let covered = |result: &CaseResult| -> Vec<usize> {
        runs.clone().filter(|run| covers(judgement, result, *run, most(*run))).collect()
    };
    let sets: Vec<(&CaseResult, Vec<usize>)> = usable.iter().map(|result| (*result, covered(result))).collect();
    let mut left: Vec<usize> = runs.clone().filter(|run| sets.iter().any(|(_, set)| set.contains(run))).collect();
    let mut chosen: Vec<(&'a CaseResult, Vec<usize>)> = Vec::new();
    while !left.is_empty() {
        let gain = |set: &[usize]| set.iter().filter(|run| left.contains(run)).count();
        // Of equals the first: the cases that every plan has come before its own.
        let best = sets.iter().rev().max_by_key(|(_, set)| gain(set)).filter(|(_, set)| gain(set) > 0);
        let Some((result, set)) = best else { break };
        left.retain(|run| !set.contains(run));
        chosen.push((result, set.clone()));
    }
    // What was taken early may have become superfluous.
    let mut at = 0;
    while let Some((_, set)) = chosen.get(at) {
        let others = || chosen.iter().enumerate().filter(|(other, _)| *other != at);
        let superfluous = set.iter().all(|run| others().any(|(_, (_, other))| other.contains(run)));
        if superfluous {
            chosen.remove(at);
        } else {
            at += 1;
        }
    }
    chosen.sort_by_key(|(result, _)| result.case);
    chosen.into_iter().map(|(result, _)| result).collect()
}

/// For each run the chosen case in which it is measured, a circuit's legs in one: of those that cover it the one that covers
/// most, so that one round is long and the others are short.
fn homes(judgement: &Judgement, chosen: &[&CaseResult]) -> Vec<Option<usize>> {
    let plan = &judgement.installation;
    let most = |run: usize| chosen.iter().map(|one| amount(one, run)).fold(ElectricCurrent::default(), |a, b| a.max(b));
    let covered: Vec<Vec<bool>> = chosen
        .iter()
        .map(|result| (0..plan.runs.len()).map(|run| covers(judgement, result, run, most(run))).collect())
        .collect();
    let mut order: Vec<(usize, &Vec<bool>)> = covered.iter().enumerate().collect();
    order.sort_by_key(|(_, covers)| std::cmp::Reverse(covers.iter().filter(|covers| **covers).count()));
    let own = |run: usize| {
        let covers = |(_, covers): &&(usize, &Vec<bool>)| covers.get(run).copied().unwrap_or(false);
        order.iter().find(covers).map(|(at, _)| *at)
    };
    let of_leg = |(index, run): (usize, &crate::installation::Run)| {
        let here = own(index)?;
        let twin = run.twin.filter(|_| run.leg == Leg::Negative).and_then(own);
        Some(twin.unwrap_or(here))
    };
    plan.runs.iter().enumerate().map(of_leg).collect()
}

fn link_current(result: &CaseResult, link: usize) -> ElectricCurrent {
    let at = result.lowered.branches.iter().position(|part| *part == Part::Link(link));
    let current = at.zip(result.point.as_ref()).and_then(|(at, point)| point.branch_currents.get(at).copied());
    current.unwrap_or_default().abs()
}

fn home_of_link(link: usize, chosen: &[&CaseResult]) -> Option<usize> {
    let most =
        chosen.iter().map(|one| link_current(one, link)).fold(ElectricCurrent::default(), |most, next| most.max(next));
    let full = |one: &&CaseResult| link_current(one, link) * (1.0 + 1e-9) >= most;
    chosen.iter().position(full).filter(|_| most >= least())
}

/// Positive and negative terminal of everything but batteries, and the part that says whether it runs.
fn ports(plan: &Installation) -> Vec<(DeviceRef, [NodeId; 2], Part)> {
    let alternators = plan.alternators.iter().enumerate().map(|(index, one)| {
        let device = DeviceRef::Alternator(index);
        (device, one.nodes, Part::Device(device))
    });
    let converters = plan.converters.iter().enumerate().flat_map(|(index, one)| {
        let device = DeviceRef::Converter(index);
        let input = one.input.map(|nodes| (device, nodes, Part::Device(device)));
        input.into_iter().chain(one.output.map(|nodes| (device, nodes, Part::Output(index))))
    });
    let loads = plan.loads.iter().enumerate().filter_map(|(index, one)| {
        let device = DeviceRef::Load(index);
        Some((device, one.nodes?, Part::Device(device)))
    });
    alternators.chain(converters).chain(loads).collect()
}

/// Resistance from the node at the start of a run to the outgoing side of its fuse.
fn to_fuse(judgement: &Judgement, result: &CaseResult, index: usize) -> Option<ElectricalResistance> {
    let plan = &judgement.installation;
    let (run, model, state) = (plan.runs.get(index)?, judgement.models.get(index)?, result.runs.get(index)?);
    plan.device(index)?;
    let [joints, fixed] = model.joints();
    let way = model.conductor.resistance_at(state.ends[0]) * run.fuse_distance;
    Some(model.joint(0) + way + (fixed - joints))
}

/// The stops of one round, each once.
struct Stops<'a> {
    judgement: &'a Judgement,
    result: &'a CaseResult,
    found: Vec<Stop>,
}

impl Stops<'_> {
    fn plan(&self) -> &Installation {
        &self.judgement.installation
    }

    fn add(&mut self, measured: Measured, why: Why) {
        if !self.found.iter().any(|stop| stop.measured == measured) {
            self.found.push(Stop { measured, why });
        }
    }

    fn voltage(&mut self, between: [Point; 2], value: ElectricPotential, why: Why) {
        let [one, other] = between;
        let negative = value.value < 0.0;
        let (between, value) = if negative { ([other, one], -value) } else { (between, value) };
        self.add(Measured::Voltage { between, value, within: ElectricPotential::default() }, why);
    }

    fn nodes(&mut self, nodes: [NodeId; 2], why: Why) {
        self.voltage(nodes.map(Point::Node), self.result.between(nodes), why);
    }

    fn batteries(&mut self) {
        let batteries: Vec<[NodeId; 2]> = self.plan().batteries.iter().map(|one| one.nodes).collect();
        for (index, nodes) in batteries.into_iter().enumerate() {
            self.nodes(nodes, Why::Device(DeviceRef::Battery(index)));
        }
    }

    /// One run, or both legs of a circuit.
    fn runs(&mut self, runs: &[usize]) {
        let current = |run: usize| self.result.run_currents.get(run).copied().unwrap_or_default();
        if let Some(run) = runs.first().copied() {
            let within = ElectricCurrent::default();
            self.add(Measured::Current { run, value: current(run), within }, Why::Current(run));
        }
        for run in runs.iter().copied() {
            let Some(ends) = self.plan().runs.get(run).map(|run| [run.from, run.to]) else { continue };
            if let Some(resistance) = to_fuse(self.judgement, self.result, run) {
                let between = [Point::Node(ends[0]), Point::Run(run, Inside::Fuse)];
                self.voltage(between, current(run) * resistance, Why::Fuse(run));
            }
            self.nodes(ends, Why::Drop(run));
        }
        for run in runs.iter().copied() {
            self.devices(run);
        }
    }

    /// Whatever runs at either end of a run.
    fn devices(&mut self, run: usize) {
        let Some(ends) = self.plan().runs.get(run).map(|run| [run.from, run.to]) else { return };
        for (device, nodes, part) in ports(self.plan()) {
            let given = self.result.sources.iter().chain(&self.result.demands);
            let runs = given.filter(|(other, _)| *other == part).any(|(_, current)| current.abs() >= least());
            if !runs || !ends.contains(&nodes[0]) || self.plan().chassis == Some(nodes[0]) {
                continue;
            }
            self.nodes(nodes, Why::Device(device));
            let DeviceRef::Converter(converter) = device else { continue };
            let Some(case) = self.plan().cases.get(self.result.case) else { continue };
            let is_inverter = self.plan().converters.get(converter).is_some_and(|one| one.output.is_none());
            let value = inverter_output(self.plan(), case, converter);
            if is_inverter && value > Power::default() {
                self.add(Measured::Power { converter, value, within: Power::default() }, Why::Power(converter));
            }
        }
    }

    fn link(&mut self, link: usize) {
        if let Some(nodes) = self.plan().links.get(link).map(|link| link.nodes) {
            self.nodes(nodes, Why::Link(link));
        }
    }
}
