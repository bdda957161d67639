//! The plan as it is measured: every case in which something was read as a network whose runs are cut where probes were held.
//! Numbers in this kernel are SI units: V, A, Ω, K; temperatures in °C.

use std::collections::{BTreeMap, BTreeSet};

use super::reading::{Inside, Measured, Point, Reading};
use super::segment::Segment;
use crate::data::tables::constants;
use crate::installation::{ConverterKind, DeviceRef, Installation, LinkKind, Regulation};
use crate::network::{Branch, Demand, DemandKind, Network, Part, Source, SourceState};
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, in_celsius};
use crate::study::judge::{CaseResult, Judgement, RunModel};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Pieces of a way between two places that can be probed.
#[derive(Clone, Debug)]
pub(super) struct Bridge {
    pub(super) nodes: [usize; 2],
    pub(super) segments: Vec<Segment>,
}

/// What all cases share: where probes were held, and what lies between.
#[derive(Debug)]
pub(super) struct Frame {
    pub(super) nodes: usize,
    pub(super) bridges: Vec<Bridge>,
    inside: BTreeMap<(usize, Inside), usize>,
    /// The bridge of each run's conductor.
    pub(super) cables: Vec<usize>,
    /// The bridges of each run in order, and the one of each link.
    runs: Vec<Vec<usize>>,
    links: Vec<usize>,
}

impl Frame {
    pub(super) fn new(judgement: &Judgement, readings: &[&Reading]) -> Self {
        let plan = &judgement.installation;
        let probed: BTreeSet<(usize, Inside)> = readings.iter().flat_map(|reading| inside(&reading.measured)).collect();
        let mut frame = Self {
            nodes: plan.nodes.len(),
            bridges: Vec::new(),
            inside: BTreeMap::new(),
            cables: Vec::new(),
            runs: Vec::new(),
            links: Vec::new(),
        };
        for (index, run) in plan.runs.iter().enumerate() {
            let fused = judgement.models.get(index).is_some_and(|model| model.fuse.is_some());
            let fuse = fused.then_some((Segment::Fuse(index), Some(Inside::Fuse)));
            let order = [(Segment::Joint(index, 0), Some(Inside::Start))].into_iter().chain(fuse);
            let order = order.chain([(Segment::Cable(index), Some(Inside::End)), (Segment::Joint(index, 1), None)]);
            let (mut here, mut segments, mut bridges) = (run.from.0, Vec::new(), Vec::new());
            for (segment, then) in order {
                segments.push(segment);
                let there = match then {
                    None => run.to.0,
                    Some(place) if probed.contains(&(index, place)) => {
                        frame.nodes += 1;
                        frame.inside.insert((index, place), frame.nodes - 1);
                        frame.nodes - 1
                    }
                    Some(_) => continue,
                };
                if segments.contains(&Segment::Cable(index)) {
                    frame.cables.push(frame.bridges.len());
                }
                bridges.push(frame.bridges.len());
                frame.bridges.push(Bridge { nodes: [here, there], segments: std::mem::take(&mut segments) });
                here = there;
            }
            frame.runs.push(bridges);
        }
        for (index, link) in plan.links.iter().enumerate() {
            frame.links.push(frame.bridges.len());
            let nodes = link.nodes.map(|node| node.0);
            frame.bridges.push(Bridge { nodes, segments: vec![Segment::Link(index)] });
        }
        frame
    }

    /// The node of a point; none for a place inside a run where no probe can be.
    pub(super) fn node(&self, point: Point) -> Option<usize> {
        match point {
            Point::Node(node) => Some(node.0),
            Point::Run(run, place) => self.inside.get(&(run, place)).copied(),
        }
    }

    /// The bridges that a part of the plan consists of.
    fn of(&self, part: Part) -> &[usize] {
        match part {
            Part::Run(run) => self.runs.get(run).map_or(&[], Vec::as_slice),
            Part::Link(link) => self.links.get(link).map_or(&[], std::slice::from_ref),
            Part::Device(_) | Part::Output(_) | Part::Array(_) => &[],
        }
    }
}

fn inside(measured: &Measured) -> Vec<(usize, Inside)> {
    let Measured::Voltage { between, .. } = measured else { return Vec::new() };
    let place = |point: &Point| match point {
        Point::Run(run, place) => Some((*run, *place)),
        Point::Node(_) => None,
    };
    between.iter().filter_map(place).collect()
}

/// From what to what the resistance of a segment may lie and still be what was planned.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Planned {
    pub(super) least: f64,
    pub(super) nominal: f64,
    pub(super) most: f64,
}

impl Planned {
    fn times(self, share: f64) -> Self {
        Self { least: share * self.least, nominal: share * self.nominal, most: share * self.most }
    }
}

impl std::ops::AddAssign for Planned {
    fn add_assign(&mut self, other: Self) {
        self.least += other.least;
        self.nominal += other.nominal;
        self.most += other.most;
    }
}

/// Something that the plan knows only roughly: a voltage or a current of one case.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rough {
    pub(super) what: Unknown,
    /// What it stands for.
    pub(super) part: Part,
    /// Standard deviation, in V or A.
    pub(super) deviation: f64,
}

/// Which number of a network is meant.
#[derive(Clone, Copy, Debug)]
pub(super) enum Unknown {
    /// The voltage of a source.
    Emf(usize),
    /// The current of a demand, or of a source that gives what it has.
    Draw(usize),
}

/// A case in which something was read.
#[derive(Debug)]
pub(super) struct Round {
    /// Index of the case.
    pub(super) case: usize,
    /// Air while it was measured, °C, and how far that may be off, K.
    pub(super) air: (f64, f64),
    /// What the plan expects.
    pub(super) network: Network,
    /// The branch of each bridge; none where it is open.
    pub(super) branches: Vec<Option<usize>>,
    /// What was planned for each bridge.
    pub(super) planned: Vec<Planned>,
    pub(super) rough: Vec<Rough>,
}

impl Round {
    /// `None` when the case has no operating point.
    pub(super) fn new(judgement: &Judgement, frame: &Frame, result: &CaseResult, air: Option<f64>) -> Option<Self> {
        let point = result.point.as_ref()?;
        let air = match air {
            Some(air) => (air, constants::READING_AIR_STATED_K),
            None => (constants::READING_AIR_C, constants::READING_AIR_K),
        };
        let mut round = Self {
            case: result.case,
            air,
            network: Network { nodes: frame.nodes, ..Network::default() },
            branches: vec![None; frame.bridges.len()],
            planned: vec![Planned::default(); frame.bridges.len()],
            rough: Vec::new(),
        };
        for (place, (part, branch)) in result.lowered.branches.iter().zip(&result.lowered.network.branches).enumerate()
        {
            if point.open_branches.contains(&place) {
                continue;
            }
            for bridge in frame.of(*part) {
                round.bridge(judgement, frame, result, *bridge, branch);
            }
        }
        round.sources(judgement, result);
        round.demands(judgement, result);
        Some(round)
    }

    fn bridge(&mut self, judgement: &Judgement, frame: &Frame, result: &CaseResult, bridge: usize, like: &Branch) {
        let Some(of) = frame.bridges.get(bridge) else { return };
        let mut planned = Planned::default();
        for segment in &of.segments {
            planned += expected(judgement, result, *segment, self.air);
        }
        if let (Some(slot), Some(branch)) = (self.planned.get_mut(bridge), self.branches.get_mut(bridge)) {
            *slot = planned;
            *branch = Some(self.network.branches.len());
        }
        let resistance = ElectricalResistance::new::<ohm>(planned.nominal);
        let drop =
            if matches!(of.segments.as_slice(), [Segment::Link(_)]) { like.drop } else { ElectricPotential::default() };
        self.network.branches.push(Branch { nodes: of.nodes, resistance, drop, one_way: false });
    }

    fn source(&mut self, part: Part, source: &Source, state: SourceState, given: ElectricCurrent, deviation: f64) {
        match state {
            SourceState::Holds => {
                self.rough.push(Rough { what: Unknown::Emf(self.network.sources.len()), part, deviation });
                self.network.sources.push(Source { limit: None, one_way: false, ..*source });
            }
            SourceState::Limited | SourceState::InputLimited => {
                self.draw(part, source.nodes, -given, constants::READING_LOAD_SHARE);
            }
            SourceState::Idle | SourceState::LockedOut => {}
        }
    }

    fn draw(&mut self, part: Part, nodes: [usize; 2], current: ElectricCurrent, share: f64) {
        let deviation = share * current.value.abs() + constants::READING_LOAD_FLOOR_A;
        self.rough.push(Rough { what: Unknown::Draw(self.network.demands.len()), part, deviation });
        self.network.demands.push(Demand::current(nodes, current));
    }

    fn sources(&mut self, judgement: &Judgement, result: &CaseResult) {
        let Some(point) = result.point.as_ref() else { return };
        let of = &result.lowered;
        let sources =
            of.sources.iter().zip(&of.network.sources).zip(point.source_states.iter().zip(&point.source_currents));
        for ((part, source), (state, given)) in sources {
            self.source(*part, source, *state, *given, deviation(&judgement.installation, *part, source.emf.value));
        }
        let converters = of.converters.iter().zip(&of.network.converters).zip(&point.converters);
        for ((index, converter), does) in converters {
            let deviation = constants::READING_REGULATED * converter.output.emf.value;
            self.source(Part::Output(*index), &converter.output, does.state, does.output_current, deviation);
            let part = Part::Device(DeviceRef::Converter(*index));
            self.draw(part, converter.input, does.input_current, constants::READING_LOAD_SHARE);
        }
    }

    fn demands(&mut self, judgement: &Judgement, result: &CaseResult) {
        let Some(point) = result.point.as_ref() else { return };
        let of = &result.lowered;
        for ((part, demand), current) in of.demands.iter().zip(&of.network.demands).zip(&point.demand_currents) {
            let solar = match part {
                Part::Device(DeviceRef::Converter(index)) | Part::Output(index) => {
                    let converter = judgement.installation.converters.get(*index);
                    converter.is_some_and(|one| one.kind == ConverterKind::SolarController)
                }
                _ => false,
            };
            // The sun gives what it likes.
            let share = if solar { constants::READING_SUN_SHARE } else { constants::READING_LOAD_SHARE };
            self.draw(*part, demand.nodes, *current, share);
        }
    }

    /// The network with resistances above the plan's, bridge by bridge, and with its rough numbers off by so much.
    pub(super) fn shifted(&self, excess: &dyn Fn(usize) -> f64, off: &[f64]) -> Network {
        let mut network = self.network.clone();
        for (bridge, (place, planned)) in self.branches.iter().zip(&self.planned).enumerate() {
            if let Some(branch) = place.and_then(|place| network.branches.get_mut(place)) {
                // A segment keeps a trace of what was planned, whatever a reading asks for.
                let value = (planned.nominal + excess(bridge)).max(LEAST_SHARE * planned.nominal);
                branch.resistance = ElectricalResistance::new::<ohm>(value);
            }
        }
        for (rough, off) in self.rough.iter().zip(off) {
            match rough.what {
                Unknown::Emf(source) => {
                    if let Some(source) = network.sources.get_mut(source) {
                        source.emf += ElectricPotential::new::<volt>(*off);
                    }
                }
                Unknown::Draw(demand) => {
                    if let Some(Demand { kind: DemandKind::Current(current), .. }) = network.demands.get_mut(demand) {
                        *current += ElectricCurrent::new::<ampere>(*off);
                    }
                }
            }
        }
        network
    }
}

/// The least that is left of a planned resistance while fitting.
pub(super) const LEAST_SHARE: f64 = 0.02;

/// Standard deviation of a source's voltage.
fn deviation(plan: &Installation, part: Part, emf: f64) -> f64 {
    let share = match part {
        Part::Device(DeviceRef::Alternator(index)) => {
            let variable = plan.alternators.get(index).is_some_and(|one| one.regulation == Regulation::Variable);
            if variable { constants::READING_VARIABLE } else { constants::READING_REGULATED }
        }
        Part::Array(_) => constants::READING_SUN_SHARE,
        Part::Output(_) => constants::READING_REGULATED,
        _ => constants::READING_REST,
    };
    share * emf.abs()
}

/// What was planned for a segment in a case, in air of a temperature that may be off.
fn expected(judgement: &Judgement, result: &CaseResult, segment: Segment, (air, off): (f64, f64)) -> Planned {
    let spread = |nominal: f64| Planned {
        least: constants::SPREAD_JOINT_LOW * nominal,
        nominal,
        most: constants::SPREAD_JOINT_HIGH * nominal,
    };
    let model = |run: usize| judgement.models.get(run);
    match segment {
        Segment::Joint(run, end) => spread(model(run).map_or(0.0, |model| model.joint(end).value)),
        Segment::Fuse(run) => {
            let mut planned = spread(model(run).map_or(0.0, |model| {
                let [joints, fixed] = model.joints();
                (fixed - joints).value
            }));
            planned += conductor(judgement, result, run, (air, off)).times(before_fuse(judgement, run));
            planned
        }
        Segment::Link(index) => {
            let Some(link) = judgement.installation.links.get(index) else { return Planned::default() };
            let nominal = link.resistance.value;
            // A shunt is made to measure by.
            let shunt = |share: f64| nominal * (1.0 + share);
            if link.kind == LinkKind::Shunt {
                Planned { least: shunt(-constants::SHUNT_SPREAD), nominal, most: shunt(constants::SHUNT_SPREAD) }
            } else {
                let joint = spread(nominal);
                // What a diode drops depends on its kind and warmth: none of it is a resistance that is missing or too much.
                let off = link.drop.value.abs() / through(result, Part::Link(index)).max(1.0);
                Planned { least: joint.least - off, nominal, most: joint.most + 0.5 * off }
            }
        }
        Segment::Cable(run) => conductor(judgement, result, run, (air, off)).times(1.0 - before_fuse(judgement, run)),
    }
}

/// Current through a part in a case.
fn through(result: &CaseResult, part: Part) -> f64 {
    let place = result.lowered.branches.iter().position(|other| *other == part);
    let current = place.zip(result.point.as_ref()).and_then(|(place, point)| point.branch_currents.get(place));
    current.map_or(0.0, |current| current.value.abs())
}

/// The share of a run's conductor that lies before its fuse: a voltmeter on the outgoing side of the fuse sees it with that.
fn before_fuse(judgement: &Judgement, run: usize) -> f64 {
    let fused = judgement.models.get(run).is_some_and(|model| model.fuse.is_some());
    let run = judgement.installation.runs.get(run).filter(|_| fused);
    run.map_or(0.0, |run| (run.fuse_distance / run.cut_length()).value.clamp(0.0, 1.0))
}

/// What was planned for a run's whole conductor.
fn conductor(judgement: &Judgement, result: &CaseResult, run: usize, (air, off): (f64, f64)) -> Planned {
    let (Some(model), Some(current)) = (judgement.models.get(run), result.run_currents.get(run)) else {
        return Planned::default();
    };
    let at = |hotter: f64| metal(model, *current, Some(air + hotter));
    // The air of a zone lies anywhere between that beside the instrument and the zone's hottest.
    let most = at(off).max(metal(model, *current, None));
    Planned { least: constants::SPREAD_CONDUCTOR_LOW * at(-off), nominal: at(0.0), most }
}

/// Resistance of a run's conductor at a current, in such air; without one, each stretch in the hottest of its zone.
fn metal(model: &RunModel, current: ElectricCurrent, air: Option<f64>) -> f64 {
    let stretches = model.stretches_at(current).map(|(length, hottest, reached)| {
        // The rise over the air is that of the judged one; its own change with the air is of second order.
        let hottest = in_celsius(hottest);
        let here = air.unwrap_or(hottest) + in_celsius(reached) - hottest;
        let here = crate::quantity::ThermodynamicTemperature::new::<degree_celsius>(here);
        (model.conductor.resistance_at(here) * length).value
    });
    stretches.sum()
}
