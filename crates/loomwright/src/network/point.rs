//! Where a network settles, that it settles nowhere, and what each ampere and kilogram is worth there.

use super::elements::{DemandKind, Network, NetworkError, Relay};
use super::margin::{Margin, WITHIN};
use super::order::wide;
use super::parts::{Parts, all_sources};
use super::solver::{DemandState, Nowhere, Solver, SourceState, lock_out_of, nodes_of};
use crate::quantity::{ElectricCurrent, ElectricPotential, Power, Ratio};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::power::watt;
use uom::si::ratio::ratio;

/// Where the network settles.
#[derive(Clone, Debug)]
pub struct OperatingPoint {
    voltages: Vec<f64>,
    /// Current of each branch, positive from its first to its second node.
    pub branch_currents: Vec<ElectricCurrent>,
    /// Current that each source delivers.
    pub source_currents: Vec<ElectricCurrent>,
    /// How each source stands.
    pub source_states: Vec<SourceState>,
    /// Current that each demand draws.
    pub demand_currents: Vec<ElectricCurrent>,
    /// How each demand stands.
    pub demand_states: Vec<DemandState>,
    /// What each converter does.
    pub converters: Vec<ConverterPoint>,
    /// Branches that do not conduct: one-way elements that block, open relays.
    pub open_branches: Vec<usize>,
    /// Relays that have opened and then see the voltage at which they close: they open and close without end.
    pub chattering_relays: Vec<usize>,
    /// Nodes that no source reaches; demands there draw nothing.
    pub unsupplied: Vec<usize>,
    /// Demands that have locked out and, with the load gone, see the voltage at which they start again: they will
    /// start and stop without end. Converters count on from the last demand.
    pub chatters: Vec<usize>,
    /// The largest common factor on every constant power with which an operating point is left, found to 0.1 %; `None`
    /// when no constant power is drawn, or a thousand times as much would still be carried.
    pub stability_margin: Option<Ratio>,
    /// Power that the sources give, at their terminals.
    pub given: Power,
    /// Power lost in the branches and in the converters.
    pub lost: Power,
    /// Power that the demands draw.
    pub drawn: Power,
    /// Largest current that does not add up at any node.
    pub residual: ElectricCurrent,
}

/// What a converter does at an operating point.
#[derive(Clone, Copy, Debug)]
pub struct ConverterPoint {
    /// Current that it takes.
    pub input_current: ElectricCurrent,
    /// Current that it gives.
    pub output_current: ElectricCurrent,
    /// How its output stands.
    pub state: SourceState,
}

impl OperatingPoint {
    /// Voltage of the first node over the second.
    pub fn between(&self, nodes: [usize; 2]) -> ElectricPotential {
        let [one, other] = nodes.map(|node| self.voltages.get(node).copied().unwrap_or(0.0));
        ElectricPotential::new::<volt>(one - other)
    }

    /// What does not add up between the power given, lost and drawn, over the power given.
    pub fn imbalance(&self) -> Ratio {
        let open = (self.given - self.lost - self.drawn).value.abs();
        let through = self.given.value.abs().max(self.drawn.value.abs());
        Ratio::new::<ratio>(if through > 0.0 { open / through } else { 0.0 })
    }
}

/// No operating point exists: the demand cannot be carried.
#[derive(Clone, Debug)]
pub struct NoOperatingPoint {
    /// The demand whose voltage collapses first; past the last demand, the converter.
    pub demand: usize,
    /// The largest common factor below 1 on every constant power that still has an operating point, found to 0.1 %.
    pub load_factor: Ratio,
    /// How each source stands there.
    pub source_states: Vec<SourceState>,
    /// How each demand stands there.
    pub demand_states: Vec<DemandState>,
}

/// How a solution ended.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// It settles.
    Point(Box<OperatingPoint>),
    /// It does not: an answer, not a failure.
    None(NoOperatingPoint),
}

/// Solves a network: the operating point of highest voltage, with its discrete states and its stability margin.
///
/// Constant powers are met from the high-voltage side, so a low-voltage root is never reported. Diodes, limits of
/// sources and demands, and lock-outs are found as states; where the largest demand cannot be carried, consumers that
/// lock out do so first, the one that stands lowest against its lock-out voltage before the others.
///
/// ```
/// use loomwright::network::{Branch, Demand, Network, Outcome, Source, solve};
/// use loomwright::quantity::{ElectricPotential, ElectricalResistance, FromText, Power};
/// let ohms = |text: &str| ElectricalResistance::from_text(text);
/// let network = Network {
///     nodes: 3,
///     sources: vec![Source::new([1, 0], ElectricPotential::from_text("12 V")?, ohms("40 mohm")?)],
///     branches: vec![Branch::new([1, 2], ohms("60 mohm")?)],
///     demands: vec![Demand::power([2, 0], Power::from_text("400 W")?)],
///     ..Network::default()
/// };
/// // 12 V behind 100 mΩ give E²/(4·R) = 360 W at most: nine tenths of what is asked.
/// let Outcome::None(none) = solve(&network)? else { panic!("no more than 360 W can be had") };
/// assert!((none.load_factor.value - 0.9).abs() < 0.002);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`NetworkError`] when the network cannot be computed at all; it names the nodes.
pub fn solve(network: &Network) -> Result<Outcome, NetworkError> {
    Workbench::default().solve(network)
}

/// As [`solve`], without the stability margin: for many solutions of which only the voltages matter.
///
/// ```
/// use loomwright::network::{Demand, Network, Outcome, Source, operating_point};
/// use loomwright::quantity::{ElectricPotential, ElectricalResistance, FromText, Power};
/// let [volts, ohms] = [ElectricPotential::from_text("12 V")?.value, ElectricalResistance::from_text("50 mohm")?.value];
/// let battery = Source::new([1, 0], ElectricPotential::from_text("12 V")?, ElectricalResistance::from_text("50 mohm")?);
/// let demands = vec![Demand::power([1, 0], Power::from_text("400 W")?)];
/// let network = Network { nodes: 2, sources: vec![battery], demands, ..Network::default() };
/// let Outcome::Point(point) = operating_point(&network)? else { panic!("it settles") };
/// let upper = 0.5 * (volts + (volts * volts - 4.0 * 400.0 * ohms).sqrt()); // of two roots
/// assert!((point.between([1, 0]).value - upper).abs() < 1e-9 && point.imbalance().value < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`solve`].
pub fn operating_point(network: &Network) -> Result<Outcome, NetworkError> {
    Workbench::default().operating_point(network)
}

/// Solves one network after the other: as long as they differ in values only, not in what is joined to what, the order
/// of elimination and all memory are kept. The answers are those of [`solve`] and [`operating_point`], to the last digit.
///
/// ```
/// use loomwright::network::{Demand, Network, Outcome, Source, Workbench};
/// use loomwright::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, FromText};
/// let battery = Source::new([1, 0], ElectricPotential::from_text("12 V")?, ElectricalResistance::from_text("10 mohm")?);
/// let mut network = Network { nodes: 2, sources: vec![battery], ..Network::default() };
/// let mut bench = Workbench::default();
/// for (amperes, volts) in [("10 A", 11.9), ("40 A", 11.6)] {
///     network.demands = vec![Demand::current([1, 0], ElectricCurrent::from_text(amperes)?)];
///     let Outcome::Point(point) = bench.solve(&network)? else { panic!("it settles") };
///     assert!((point.between([1, 0]).value - volts).abs() < 1e-9);
///     let Outcome::Point(again) = bench.operating_point(&network)? else { panic!("it settles") }; // without the margin
///     assert_eq!(again.between([1, 0]), point.between([1, 0]));
/// }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Default)]
pub struct Workbench {
    kept: Option<Parts>,
}

impl std::fmt::Debug for Workbench {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.debug_struct("Workbench").field("kept", &self.kept.is_some()).finish()
    }
}

impl Workbench {
    /// As [`solve`].
    ///
    /// # Errors
    /// As [`solve`].
    pub fn solve(&mut self, network: &Network) -> Result<Outcome, NetworkError> {
        self.settle(network, true)
    }

    /// As [`operating_point`].
    ///
    /// # Errors
    /// As [`solve`].
    pub fn operating_point(&mut self, network: &Network) -> Result<Outcome, NetworkError> {
        self.settle(network, false)
    }

    /// What has been worked on it so far: steps of elimination, which are the same on every machine.
    pub(crate) fn work(&self) -> usize {
        self.kept.as_ref().map_or(0, |kept| kept.work)
    }

    /// Steps of one solution of what was solved last, where nothing turns: three eliminations.
    pub(crate) fn solution(&self) -> usize {
        self.kept.as_ref().map_or(0, |kept| kept.order.work().saturating_mul(3))
    }

    pub(super) fn take(&mut self) -> Option<Parts> {
        self.kept.take()
    }

    pub(super) fn keep(&mut self, parts: Parts) {
        self.kept = Some(parts);
    }

    fn settle(&mut self, network: &Network, margin: bool) -> Result<Outcome, NetworkError> {
        let mut solver = Solver::new(network, self.kept.take())?;
        let outcome = outcome(&mut solver, margin);
        self.kept = Some(solver.parts);
        outcome
    }
}

fn outcome(solver: &mut Solver<'_>, margin: bool) -> Result<Outcome, NetworkError> {
    let Err(nowhere) = solver.settle(false) else { return Ok(told(solver, margin)) };
    // Come up from nothing: the factor at which it ends, or a way around after all.
    let factor = match solver.margin(0.0) {
        Margin::Factor(factor) if factor < 1.0 => factor,
        _ => 1.0,
    };
    // Started at once, sources may push each other aside into states that feed nothing, though there is a way up.
    if factor >= 1.0 - 2.0 * WITHIN {
        let kept = solver.keep();
        solver.parts.share = 1.0;
        if solver.settle(true).is_ok() {
            return Ok(told(solver, margin));
        }
        solver.go_back(&kept);
    }
    // What finds no rest at any part of the load is not asked for too much.
    if let Nowhere::Restless([one, other]) = nowhere
        && !(factor > 0.0 && factor < 1.0)
    {
        return Err(NetworkError::Restless(one, other));
    }
    let (source_states, demand_states) = states(solver);
    let load_factor = Ratio::new::<ratio>(factor);
    Ok(Outcome::None(NoOperatingPoint { demand: weakest(solver), load_factor, source_states, demand_states }))
}

/// The point that a solver has settled at, with the margin where that is asked for.
fn told(solver: &mut Solver<'_>, margin: bool) -> Outcome {
    let mut point = point(solver);
    if margin && let Margin::Factor(factor) = solver.margin(1.0) {
        point.stability_margin = Some(Ratio::new::<ratio>(factor));
    }
    Outcome::Point(Box::new(point))
}

/// The constant power whose voltage has fallen furthest from what it is without load.
fn weakest(solver: &mut Solver<'_>) -> usize {
    let here: Vec<f64> = solver.parts.powers.iter().map(|power| power.voltage(&solver.parts.voltages)).collect();
    solver.parts.share = 0.0;
    let unloaded = solver.settle(false).is_ok();
    let share = |here: f64, power: &super::solver::Power| {
        let from = if unloaded { power.voltage(&solver.parts.voltages) } else { 1.0 };
        if from > 0.0 { here / from } else { f64::INFINITY }
    };
    let supplied = solver.parts.powers.iter().zip(here).filter(|(power, _)| power.state != DemandState::Unsupplied);
    let lowest = supplied.map(|(power, here)| (power.index(), share(here, power)));
    lowest.min_by(|one, other| one.1.total_cmp(&other.1)).map_or(0, |(index, _)| index)
}

fn states(solver: &Solver<'_>) -> (Vec<SourceState>, Vec<DemandState>) {
    let mut demands = solver.parts.others.clone();
    for power in &solver.parts.powers {
        if let Some(state) = demands.get_mut(power.index()) {
            *state = power.state;
        }
    }
    (solver.parts.sources.iter().copied().take(solver.network.sources.len()).collect(), demands)
}

/// Everything there is to say about a settled solver.
pub(super) fn point(solver: &Solver<'_>) -> OperatingPoint {
    let network = solver.network;
    let amperes = ElectricCurrent::new::<ampere>;
    // By position: grounded nodes share the last, which is not asked.
    let mut balance = vec![0.0; solver.parts.order.unknowns + 1];
    let mut flow = |edge: usize, current: f64| {
        let at = solver.parts.order.ends.get(edge).map_or([0, 0], |at| at.map(wide));
        for (position, signed) in at.into_iter().zip([-current, current]) {
            if let Some(value) = balance.get_mut(position) {
                *value += signed;
            }
        }
    };
    let (mut given, mut lost, mut drawn) = (0.0, 0.0, 0.0);
    let mut branch_currents = Vec::with_capacity(network.branches.len());
    for (edge, (branch, blocked)) in network.branches.iter().zip(&solver.parts.blocked).enumerate() {
        let across = solver.over(edge);
        let conducts = !*blocked && solver.supplied(branch.nodes);
        let current = if conducts { (across - branch.drop.value) / branch.resistance.value } else { 0.0 };
        flow(edge, current);
        lost += across * current;
        branch_currents.push(amperes(current));
    }
    let first = network.branches.len();
    let mut outputs = Vec::with_capacity(solver.parts.sources.len());
    for (index, (source, state)) in all_sources(network).zip(&solver.parts.sources).enumerate() {
        let across = solver.over(first + index);
        let current = match state {
            SourceState::Holds => (source.emf.value - across) / source.resistance.value,
            SourceState::Limited => source.limit.map_or(0.0, |limit| limit.value),
            SourceState::InputLimited => solver.short_output(index - network.sources.len()),
            SourceState::Idle | SourceState::LockedOut => 0.0,
        };
        flow(first + index, -current);
        outputs.push(current);
        if index < network.sources.len() {
            given += across * current;
        } else {
            lost -= across * current;
        }
    }
    let first = first + outputs.len();
    let mut demand_currents = vec![0.0; network.demands.len()];
    let mut inputs = vec![0.0; network.converters.len()];
    for power in &solver.parts.powers {
        let current = power.current(&solver.parts.voltages, solver.parts.share);
        let converter = power.index().checked_sub(network.demands.len());
        if let Some(input) = converter.and_then(|index| inputs.get_mut(index)) {
            *input = current;
            flow(first + power.index(), current);
            lost += power.voltage(&solver.parts.voltages) * current;
        } else if let Some(slot) = demand_currents.get_mut(power.index()) {
            *slot = current;
        }
    }
    let demands = network.demands.iter().zip(&solver.parts.others).zip(&mut demand_currents);
    for (edge, ((demand, state), current)) in (first..).zip(demands) {
        let across = solver.over(edge);
        match demand.kind {
            DemandKind::Current(constant) if *state == DemandState::Draws => *current = constant.value,
            DemandKind::Resistance(resistance) if *state == DemandState::Draws => *current = across / resistance.value,
            DemandKind::Current(_) | DemandKind::Resistance(_) | DemandKind::Power(..) => {}
        }
        flow(edge, *current);
        drawn += across * *current;
    }
    balance.pop();
    let (source_states, demand_states) = states(solver);
    let converters = inputs.iter().zip(solver.parts.sources.iter().zip(&outputs).skip(network.sources.len()));
    let converters = converters.map(|(input, (state, output))| ConverterPoint {
        input_current: amperes(*input),
        output_current: amperes(*output),
        state: *state,
    });
    let positions = &solver.parts.order.position;
    OperatingPoint {
        branch_currents,
        source_currents: outputs.iter().copied().take(network.sources.len()).map(amperes).collect(),
        source_states,
        demand_currents: demand_currents.into_iter().map(amperes).collect(),
        demand_states,
        converters: converters.collect(),
        unsupplied: solver.parts.fed.iter().enumerate().filter(|(_, fed)| !**fed).map(|(node, _)| node).collect(),
        chatters: chatters(solver),
        open_branches: solver.parts.blocked.iter().enumerate().filter(|(_, open)| **open).map(|(at, _)| at).collect(),
        chattering_relays: chattering_relays(solver),
        stability_margin: None,
        given: Power::new::<watt>(given),
        lost: Power::new::<watt>(lost),
        drawn: Power::new::<watt>(drawn),
        residual: amperes(balance.iter().fold(0.0, |most: f64, current| most.max(current.abs()))),
        voltages: positions.iter().map(|at| solver.parts.voltages.get(wide(*at)).copied().unwrap_or(0.0)).collect(),
    }
}

/// What has locked out and sees the voltage at which it starts again.
fn chatters(solver: &Solver<'_>) -> Vec<usize> {
    let network = solver.network;
    let outputs = solver.parts.sources.iter().skip(network.sources.len());
    let locked = states(solver).1.into_iter().map(|state| state == DemandState::LockedOut);
    let locked = locked.chain(outputs.map(|state| *state == SourceState::LockedOut)).enumerate();
    let starts_again = |index: &usize| {
        let voltage = solver.between(nodes_of(network, *index));
        lock_out_of(network, *index).is_some_and(|lock| voltage >= lock.restart().value)
    };
    locked.filter(|(_, locked)| *locked).map(|(index, _)| index).filter(starts_again).collect()
}

fn chattering_relays(solver: &Solver<'_>) -> Vec<usize> {
    let relays = solver.network.relays.iter().zip(&solver.parts.let_go).enumerate();
    let closes_again = |relay: &Relay| solver.between(relay.senses) >= relay.at.closes.value;
    relays.filter(|(_, (relay, let_go))| **let_go && closes_again(relay)).map(|(index, _)| index).collect()
}
