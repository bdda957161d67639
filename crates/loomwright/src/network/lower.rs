//! One operating case of an installation as nodes, branches, sources and demands.

use super::islands::islands;
use super::{Branch, Converter, Demand, DemandKind, Network, Relay, Source};
use crate::data::tables::constants;
use crate::installation::{Case, ConverterKind, DeviceRef, Engine, Installation, LinkKind, LoadKind, NodeId};
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power};
use crate::source::Behind;
use uom::si::electrical_resistance::milliohm;

/// What a branch, source or demand stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A run, by index.
    Run(usize),
    /// A link, by index.
    Link(usize),
    /// A device, at its input where it has two sides.
    Device(DeviceRef),
    /// The output of a converter.
    Output(usize),
    /// The solar array of a controller.
    Array(usize),
}

/// A case as a network, with what each part stands for.
#[derive(Clone, Debug)]
pub struct Lowered {
    /// The network.
    pub network: Network,
    /// What each branch stands for.
    pub branches: Vec<Part>,
    /// What each source stands for.
    pub sources: Vec<Part>,
    /// What each demand stands for.
    pub demands: Vec<Part>,
    /// The installation's converter that each converter stands for.
    pub converters: Vec<usize>,
    /// The installation's link that each relay stands for.
    pub relays: Vec<usize>,
}

/// Output resistance of a regulated source: alternator, buck converter, array. Small, but not zero.
const REGULATED: f64 = 1.0;

fn pair(nodes: [NodeId; 2]) -> [usize; 2] {
    nodes.map(|node| node.0)
}

/// Nodes reached from each other through runs and closed links.
///
/// ```
/// use loomwright::installation::{BatteryState, Case, Engine};
/// use loomwright::{network::joined, text::read_plan};
/// let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let islands = joined(&plan, &Case::new("rest", Engine::Off, BatteryState::Full));
/// let [feed, back] = [&plan.runs[0], &plan.runs[1]];
/// assert_eq!(islands[feed.from.0], islands[feed.to.0]);
/// assert_ne!(islands[feed.from.0], islands[back.from.0]); // or plus and minus were joined
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn joined(installation: &Installation, case: &Case) -> Vec<usize> {
    let runs = installation.runs.iter().map(|run| [run.from, run.to]);
    let closed = |closed_when: &[bool; 3]| closed_when.get(case.situation()).copied().unwrap_or(true);
    let links = installation.links.iter().filter(|link| closed(&link.closed_when)).map(|link| link.nodes);
    islands(installation.nodes.len(), runs.chain(links).map(pair))
}

/// Whether a load runs in a case.
///
/// ```
/// use loomwright::installation::{BatteryState, Case, Engine};
/// use loomwright::{network::runs_in, text::read_plan};
/// let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let case = Case::new("evening", Engine::Off, BatteryState::Full);
/// assert!(runs_in(&plan, &case, 0)); // the lamp is not tied to anything
/// assert!(!runs_in(&plan, &Case { loads: Some(Vec::new()), ..case }, 0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn runs_in(installation: &Installation, case: &Case, index: usize) -> bool {
    let Some(load) = installation.loads.get(index) else { return false };
    match &case.loads {
        _ if case.everything || case.starting == Some(index) => true,
        Some(listed) => listed.contains(&index),
        None => load.runs_when.get(case.situation()).copied().unwrap_or(true),
    }
}

/// The power that a load draws at its nominal voltage.
fn nominal_power(kind: LoadKind, nominal: ElectricPotential) -> Power {
    match kind {
        LoadKind::Power(power) => power,
        LoadKind::Current(current) => current * nominal,
        LoadKind::Resistance(resistance) => nominal * nominal / resistance,
    }
}

/// The power that the loads of an inverter ask for in a case.
///
/// ```
/// use loomwright::installation::{BatteryState, Case, Engine};
/// use loomwright::{network::load_power, text::read_plan};
/// let mut plan = read_plan(include_str!("../../examples/cabin.toml")).map_err(|errors| format!("{errors:?}"))?;
/// plan.loads.iter_mut().for_each(|load| load.inverter = Some(0));
/// let asked = load_power(&plan, &Case::new("evening", Engine::Off, BatteryState::Full), 0);
/// assert!((asked.value - 57.0).abs() < 1e-9); // a refrigerator of 45 W and a lamp of 12 W
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn load_power(installation: &Installation, case: &Case, inverter: usize) -> Power {
    let loads = installation.loads.iter().enumerate();
    let running = loads.filter(|(load, at)| at.inverter == Some(inverter) && runs_in(installation, case, *load));
    running.fold(Power::default(), |sum, (_, load)| sum + nominal_power(load.kind, load.nominal))
}

/// What an inverter gives in a case: what its loads ask for; where everything runs, its rated output at least.
///
/// ```
/// use loomwright::installation::{BatteryState, Case, Engine};
/// use loomwright::{network::inverter_output, quantity::{FromText, Power}, text::read_plan};
/// let mut plan = read_plan(include_str!("../../examples/cabin.toml")).map_err(|errors| format!("{errors:?}"))?;
/// plan.loads.iter_mut().for_each(|load| load.inverter = Some(0));
/// plan.converters[0].output_power = Some(Power::from_text("500 W")?);
/// let case = Case::new("evening", Engine::Off, BatteryState::Full);
/// assert!((inverter_output(&plan, &case, 0).value - 57.0).abs() < 1e-9); // 45 W and 12 W
/// assert!((inverter_output(&plan, &Case { everything: true, ..case }, 0).value - 500.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn inverter_output(installation: &Installation, case: &Case, inverter: usize) -> Power {
    let loads = load_power(installation, case, inverter);
    let rated = installation.converters.get(inverter).and_then(|one| one.output_power).unwrap_or_default();
    if case.everything && rated > loads { rated } else { loads }
}

/// The power that a converter takes at its input in a case, but for buck converters: those take what their output
/// asks for.
///
/// ```
/// use loomwright::installation::{BatteryState, Case, Engine};
/// use loomwright::{network::input_power, text::read_plan};
/// let plan = read_plan(include_str!("../../examples/cabin.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let night = Case::new("night", Engine::Off, BatteryState::Low);
/// assert!(input_power(&plan, &night, 0).value == 0.0);
/// let sun = input_power(&plan, &Case { sun: true, ..night }, 0);
/// assert!(sun.value > 0.0 && sun.value <= 225.0 + 1e-9); // 15 A · 14.4 V/0.96
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn input_power(installation: &Installation, case: &Case, index: usize) -> Power {
    let Some(converter) = installation.converters.get(index) else { return Power::default() };
    let output = converter.output_current.unwrap_or_default() * converter.output_voltage;
    match converter.kind {
        ConverterKind::DcDcCharger if case.engine != Engine::Off => converter.losses.input(output),
        ConverterKind::SolarController if case.sun => {
            let array = converter.array.map_or(output, |(current, voltage)| current * voltage);
            let wanted = converter.losses.input(output);
            if wanted < array { wanted } else { array }
        }
        ConverterKind::Inverter => converter.losses.input(inverter_output(installation, case, index)),
        ConverterKind::Buck
        | ConverterKind::DcDcCharger
        | ConverterKind::SolarController
        | ConverterKind::ShoreCharger => Power::default(),
    }
}

/// The largest input current of a converter: at its lock-out voltage, within its own limit, with an
/// inverter's ripple.
///
/// ```
/// use loomwright::{converter::Losses, installation::ConverterKind, network::lock_out_current, text::read_plan};
/// use loomwright::quantity::{ElectricPotential, FromText, Power, Ratio};
/// let mut plan = read_plan(include_str!("../../examples/cabin.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let inverter = &mut plan.converters[0];
/// inverter.kind = ConverterKind::Inverter;
/// inverter.losses = Losses::flat(Ratio::from_text("90 %")?, Power::from_text("0 W")?);
/// inverter.output_power = Some(Power::from_text("450 W")?);
/// inverter.lock_out = Some(ElectricPotential::from_text("10 V")?);
/// let most = lock_out_current(&plan, 0).ok_or("it has a lock-out")?;
/// assert!((most.value - 55.0).abs() < 1e-9); // 500 W at 10 V, and a tenth for ripple
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lock_out_current(installation: &Installation, index: usize) -> Option<ElectricCurrent> {
    let converter = installation.converters.get(index)?;
    let output: Power = match converter.kind {
        ConverterKind::Inverter => converter.output_power?,
        ConverterKind::DcDcCharger | ConverterKind::Buck => converter.output_current? * converter.output_voltage,
        ConverterKind::SolarController | ConverterKind::ShoreCharger => return None,
    };
    let drawn = converter.losses.input(output) / converter.lock_out?;
    let limited = converter.input_limit.map_or(drawn, |limit| if limit < drawn { limit } else { drawn });
    Some(if converter.kind == ConverterKind::Inverter { limited * constants::RIPPLE } else { limited })
}

/// Whether a charger or controller delivers in a case.
///
/// ```
/// use loomwright::installation::{BatteryState, Case, ConverterKind, Engine};
/// use loomwright::network::delivers;
/// let [parked, driving] = [Engine::Off, Engine::Cruise].map(|engine| Case::new("", engine, BatteryState::Low));
/// assert!(!delivers(ConverterKind::DcDcCharger, &parked) && delivers(ConverterKind::DcDcCharger, &driving));
/// assert!(!delivers(ConverterKind::SolarController, &driving)); // it takes sun, not an engine
/// ```
pub fn delivers(kind: ConverterKind, case: &Case) -> bool {
    match kind {
        ConverterKind::DcDcCharger => case.engine != Engine::Off,
        ConverterKind::SolarController => case.sun,
        ConverterKind::ShoreCharger => case.shore,
        ConverterKind::Inverter | ConverterKind::Buck => false,
    }
}

/// The network of a case, for given resistances of the runs; alternators give what is asked of them, or with `held`
/// no more than they have.
///
/// ```
/// use loomwright::installation::{BatteryState, Case, Engine};
/// use loomwright::{network::lower, quantity::{ElectricalResistance, FromText}, text::read_plan};
/// let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let resistances = vec![ElectricalResistance::from_text("5 mohm")?; plan.runs.len()];
/// let lowered = lower(&plan, &Case::new("rest", Engine::Off, BatteryState::Full), &resistances, false);
/// // Four conductors, one battery, one lamp.
/// assert_eq!([lowered.branches.len(), lowered.sources.len(), lowered.demands.len()], [4, 1, 1]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lower(installation: &Installation, case: &Case, resistances: &[ElectricalResistance], held: bool) -> Lowered {
    let mut lowered = Lowered {
        network: Network { nodes: installation.nodes.len(), ..Network::default() },
        branches: Vec::new(),
        sources: Vec::new(),
        demands: Vec::new(),
        converters: Vec::new(),
        relays: Vec::new(),
    };
    for (index, (run, resistance)) in installation.runs.iter().zip(resistances).enumerate() {
        let nodes = pair([run.from, run.to]);
        lowered.branch(Part::Run(index), Branch::new(nodes, *resistance));
    }
    for (index, link) in installation.links.iter().enumerate() {
        let closed = link.closed_when.get(case.situation()).copied().unwrap_or(true);
        if closed {
            let one_way = link.kind == LinkKind::Diode;
            let branch = Branch { nodes: pair(link.nodes), resistance: link.resistance, drop: link.drop, one_way };
            if let Some((at, negative)) = link.senses.zip(sensing_negative(installation, case, index)) {
                // What the last drive has left closed stays so until its voltage falls.
                let (branch, senses) = (lowered.branches.len(), pair([link.nodes[0], negative]));
                let closed = case.engine == Engine::Off && !case.shore && !case.sun;
                lowered.network.relays.push(Relay { branch, senses, at, closed });
                lowered.relays.push(index);
            }
            lowered.branch(Part::Link(index), branch);
        }
    }
    lower_sources(installation, case, held, &mut lowered);
    for (index, load) in installation.loads.iter().enumerate() {
        let Some(nodes) = load.nodes.filter(|_| runs_in(installation, case, index)) else { continue };
        let kind = match (load.kind, load.inrush) {
            // A motor at rest is a resistance: what it draws falls with what it gets.
            (_, Some(inrush)) if case.starting == Some(index) => DemandKind::Resistance(load.nominal / inrush),
            (LoadKind::Current(current), _) => DemandKind::Current(current),
            (LoadKind::Power(power), _) => DemandKind::Power(power, None),
            (LoadKind::Resistance(resistance), _) => DemandKind::Resistance(resistance),
        };
        lowered.demand(Part::Device(DeviceRef::Load(index)), Demand { nodes: pair(nodes), kind, lock_out: None });
    }
    for (index, converter) in installation.converters.iter().enumerate() {
        let power = input_power(installation, case, index);
        let drawing = power.value > 0.0 || (case.lock_out && lock_out_current(installation, index).is_some());
        if let Some(nodes) = converter.input.filter(|_| drawing) {
            let kind = match lock_out_current(installation, index) {
                Some(current) if case.lock_out => DemandKind::Current(current),
                _ => DemandKind::Power(power, converter.input_limit),
            };
            let demand = Demand { nodes: pair(nodes), kind, lock_out: None };
            lowered.demand(Part::Device(DeviceRef::Converter(index)), demand);
        }
        let current = converter.output_current.unwrap_or_default();
        if let Some(nodes) = converter.output.filter(|_| delivers(converter.kind, case)) {
            lowered.demand(Part::Output(index), Demand::current(pair(nodes), -current));
        }
    }
    lowered
}

/// The negative against which a relay senses the voltage of its first terminal: that of a battery or alternator there.
fn sensing_negative(installation: &Installation, case: &Case, relay: usize) -> Option<NodeId> {
    let sensed = installation.links.get(relay)?.nodes[0];
    let runs = installation.runs.iter().map(|run| pair([run.from, run.to]));
    let closed = |closed_when: &[bool; 3]| closed_when.get(case.situation()).copied().unwrap_or(true);
    let links =
        installation.links.iter().enumerate().filter(|(index, link)| *index != relay && closed(&link.closed_when));
    let island = islands(installation.nodes.len(), runs.chain(links.map(|(_, link)| pair(link.nodes))));
    let batteries = installation.batteries.iter().map(|battery| battery.nodes);
    let mut poles = batteries.chain(installation.alternators.iter().map(|alternator| alternator.nodes));
    let here = |node: NodeId| island.get(node.0).is_some() && island.get(node.0) == island.get(sensed.0);
    poles.find(|nodes| here(nodes[0])).map(|nodes| nodes[1])
}

fn lower_sources(installation: &Installation, case: &Case, held: bool, lowered: &mut Lowered) {
    let island = joined(installation, case);
    let island_of = |node: NodeId| island.get(node.0).copied();
    let regulated = ElectricalResistance::new::<milliohm>(REGULATED);
    let mut charged = Vec::new();
    if case.engine != Engine::Off {
        for (index, alternator) in installation.alternators.iter().enumerate() {
            let source = Source {
                limit: held.then(|| case.available(alternator)),
                one_way: true,
                ..Source::new(pair(alternator.nodes), alternator.voltage, regulated)
            };
            lowered.source(Part::Device(DeviceRef::Alternator(index)), source);
            charged.extend(island_of(alternator.nodes[0]));
        }
    }
    for (index, battery) in installation.batteries.iter().enumerate() {
        let Behind { emf, resistance } = case.battery(battery);
        // A full lead-acid battery beside a regulating alternator takes next to nothing, and gives once that gives all
        // it has; lithium takes what it is given, and is judged for that.
        let full_beside_alternator =
            battery.chemistry.is_lead() && island_of(battery.nodes[0]).is_some_and(|island| charged.contains(&island));
        let source = Source { one_way: full_beside_alternator, ..Source::new(pair(battery.nodes), emf, resistance) };
        lowered.source(Part::Device(DeviceRef::Battery(index)), source);
    }
    for (index, converter) in installation.converters.iter().enumerate() {
        if let (ConverterKind::Buck, Some(output)) = (converter.kind, converter.output) {
            let source = Source::new(pair(output), converter.output_voltage, regulated);
            match converter.input.filter(|_| !case.lock_out) {
                Some(input) => {
                    let (input, losses) = (pair(input), converter.losses);
                    let limit = converter.input_limit;
                    let regulating = Converter { input, output: source, losses, input_limit: limit, lock_out: None };
                    lowered.network.converters.push(regulating);
                    lowered.converters.push(index);
                }
                // At its lock-out it draws what it draws there, whatever its output asks for.
                None => lowered.source(Part::Output(index), Source { one_way: true, ..source }),
            }
        }
        // The array stands behind its own circuit: its source sits where that circuit starts.
        if let (Some((_, voltage)), Some(start), true) =
            (converter.array, installation.array_terminals(index), case.sun)
        {
            let source = Source::new(pair(start), voltage, regulated);
            lowered.source(Part::Array(index), source);
        }
    }
}

impl Lowered {
    /// Counts every demand of constant power as a current at 0.85 of its nominal voltage; a buck converter draws for
    /// the loads behind it.
    pub fn rate(&mut self, installation: &Installation, case: &Case) {
        let island = joined(installation, case);
        let behind = |node: NodeId, load: &crate::installation::Load| {
            load.nodes
                .is_some_and(|nodes| island.get(nodes[0].0).is_some() && island.get(nodes[0].0) == island.get(node.0))
        };
        let converters = std::mem::take(&mut self.network.converters);
        for (converter, index) in converters.into_iter().zip(std::mem::take(&mut self.converters)) {
            let Some(output) = installation.converters.get(index).and_then(|one| one.output) else { continue };
            let loads = installation.loads.iter().enumerate();
            let running = loads.filter(|(load, at)| behind(output[0], at) && runs_in(installation, case, *load));
            let asked = running.fold(Power::default(), |sum, (_, load)| sum + nominal_power(load.kind, load.nominal));
            self.source(Part::Output(index), Source { one_way: true, ..converter.output });
            let kind = DemandKind::Power(converter.losses.input(asked), converter.input_limit);
            let demand = Demand { nodes: converter.input, kind, lock_out: None };
            self.demand(Part::Device(DeviceRef::Converter(index)), demand);
        }
        for (part, demand) in self.demands.iter().zip(&mut self.network.demands) {
            if let DemandKind::Power(power, limit) = demand.kind {
                let nominal = match part {
                    Part::Device(DeviceRef::Load(index)) => installation.loads.get(*index).map(|load| load.nominal),
                    Part::Device(DeviceRef::Converter(index)) => {
                        installation.converters.get(*index).and_then(|one| one.array).map(|(_, voltage)| voltage)
                    }
                    _ => None,
                };
                let current = power / (nominal.unwrap_or(installation.system_voltage) * 0.85);
                let current = limit.map_or(current, |limit| if limit < current { limit } else { current });
                demand.kind = DemandKind::Current(current);
            }
        }
    }

    fn branch(&mut self, part: Part, branch: Branch) {
        self.branches.push(part);
        self.network.branches.push(branch);
    }

    fn source(&mut self, part: Part, source: Source) {
        self.sources.push(part);
        self.network.sources.push(source);
    }

    fn demand(&mut self, part: Part, demand: Demand) {
        self.demands.push(part);
        self.network.demands.push(demand);
    }
}
