//! The operating point: Newton's rule from the unloaded side, and the discrete states around it.
//!
//! Bare numbers inside: volts, amperes, siemens, watts.
//!
//! A constant power P at a voltage u draws P/u, which along its tangent is a conductance −P/u² and a current 2P/u. From
//! voltages above the operating point the tangents draw too little, so every step ends above it again: the iteration
//! comes down to the highest operating point there is, and never meets one of low voltage. On the way the matrix has
//! positive pivots only; a pivot that is not positive says that no operating point lies below.

use super::elements::{DemandKind, Network, NetworkError, Source};
use super::factor::Factor;
use super::islands::islands;
use super::order::Order;
use crate::converter::LockOut;

/// How a source stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SourceState {
    /// It holds its voltage.
    Holds,
    /// It gives all the current it has.
    Limited,
    /// It would have to take current, and does not.
    Idle,
    /// A converter's output that its input limit holds down.
    InputLimited,
    /// A converter that its input voltage has stopped.
    LockedOut,
}

/// How a demand stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DemandState {
    /// It draws what it wants.
    Draws,
    /// Its limit of current holds it down.
    Limited,
    /// Its voltage has stopped it.
    LockedOut,
    /// No source reaches it.
    Unsupplied,
}

/// A constant power, where it stands in the matrix.
#[derive(Clone, Copy)]
pub(super) struct Power {
    /// Positions of its nodes.
    pub(super) at: [usize; 2],
    element: usize,
    /// W.
    pub(super) watts: f64,
    /// A; infinite without a limit.
    pub(super) limit: f64,
    pub(super) state: DemandState,
    /// The demand, or past the last demand the converter.
    pub(super) index: usize,
}

impl Power {
    /// What it draws, in A, at the voltages by position.
    pub(super) fn current(&self, voltages: &[f64], share: f64) -> f64 {
        match self.state {
            DemandState::Draws => self.watts * share / self.voltage(voltages),
            DemandState::Limited => self.limit,
            DemandState::LockedOut | DemandState::Unsupplied => 0.0,
        }
    }

    pub(super) fn voltage(&self, voltages: &[f64]) -> f64 {
        across(voltages, self.at)
    }
}

/// Voltage between two positions.
pub(super) fn across(voltages: &[f64], at: [usize; 2]) -> f64 {
    let [one, other] = at.map(|at| voltages.get(at).copied().unwrap_or(0.0));
    one - other
}

/// A network being solved.
pub(super) struct Solver<'a> {
    pub(super) network: &'a Network,
    pub(super) order: Order,
    pub(super) factor: Factor,
    /// Matrix and right side without what depends on the voltages.
    base: Factor,
    pub(super) powers: Vec<Power>,
    pub(super) blocked: Vec<bool>,
    /// Of the sources, then of the converters' outputs.
    pub(super) sources: Vec<SourceState>,
    /// Of the demands that are no constant powers.
    pub(super) others: Vec<DemandState>,
    /// Parts that hang together when everything conducts.
    pub(super) joined: Vec<usize>,
    /// Whether a source reaches the node.
    pub(super) fed: Vec<bool>,
    /// By position.
    pub(super) voltages: Vec<f64>,
    pub(super) next: Vec<f64>,
    /// What every constant power is multiplied by.
    pub(super) share: f64,
    /// While the margin is sought: converters take what they took, and nothing locks out.
    pub(super) frozen: bool,
}

/// Why there is no point.
#[derive(Clone, Copy, Debug)]
pub(super) enum Nowhere {
    /// The demands cannot be carried.
    Collapse,
    /// The states found no rest between these nodes.
    Restless([usize; 2]),
}

/// Steps of Newton's rule; next to collapse each only halves what is left.
const MOST_STEPS: usize = 80;
/// Share of the voltage that an accepted point may be off, as its last steps tell.
const CLOSE: f64 = 1e-12;
/// Share of the voltage below which a step is rounding.
const ROUNDING: f64 = 1e-11;
/// Changes of state; each may bring about others.
const MOST_CHANGES: usize = 200;
/// Times that idle or limited sources are let in again after a collapse.
const MOST_WOKEN: usize = 4;
/// Changes made together up to that many; then one at a time, in case they undo each other.
const TOGETHER: usize = 20;

impl<'a> Solver<'a> {
    /// All that does not depend on values: order of elimination, zeros, states to begin with.
    pub(super) fn new(network: &'a Network) -> Result<Self, NetworkError> {
        network.check()?;
        let nodes = network.nodes;
        let count =
            network.branches.len() + network.sources.len() + network.demands.len() + 2 * network.converters.len();
        let mut edges: Vec<[usize; 2]> = Vec::with_capacity(count);
        edges.extend(network.branches.iter().map(|one| one.nodes));
        edges.extend(all_sources(network).map(|one| one.nodes));
        let joined = islands(nodes, edges.iter().copied());
        // The negative of an island's first source is its zero; an island without source is at zero altogether.
        let mut zeros: Vec<Option<usize>> = vec![None; nodes];
        for source in all_sources(network) {
            let island = joined.get(source.nodes[1]).copied().unwrap_or(0);
            if let Some(zero) = zeros.get_mut(island) {
                zero.get_or_insert(source.nodes[1]);
            }
        }
        let is_zero =
            |(node, island): (usize, &usize)| zeros.get(*island).copied().flatten().is_none_or(|zero| zero == node);
        let grounded: Vec<bool> = joined.iter().enumerate().map(is_zero).collect();
        edges.extend(network.demands.iter().map(|one| one.nodes));
        edges.extend(network.converters.iter().map(|one| one.input));
        let order = Order::new(nodes, &edges, &grounded);
        let mut solver = Self {
            network,
            factor: Factor::new(&order),
            base: Factor::new(&order),
            powers: Vec::with_capacity(network.demands.len()),
            blocked: vec![false; network.branches.len()],
            sources: vec![SourceState::Holds; network.sources.len() + network.converters.len()],
            others: vec![DemandState::Draws; network.demands.len()],
            joined,
            fed: Vec::new(),
            voltages: vec![0.0; order.unknowns + 1],
            next: vec![0.0; order.unknowns + 1],
            share: 1.0,
            frozen: false,
            order,
        };
        solver.place_powers();
        solver.assemble();
        Ok(solver)
    }

    fn place_powers(&mut self) {
        let first = self.network.branches.len() + self.network.sources.len() + self.network.converters.len();
        let demands = self.network.demands.iter().enumerate().filter_map(|(index, demand)| match demand.kind {
            DemandKind::Power(power, limit) => Some((index, demand.nodes, power.value, limit)),
            DemandKind::Current(_) | DemandKind::Resistance(_) => None,
        });
        let past = self.network.demands.len();
        let inputs = self.network.converters.iter().enumerate();
        let inputs = inputs.map(|(index, one)| (past + index, one.input, 0.0, one.input_limit));
        for (index, nodes, watts, limit) in demands.chain(inputs) {
            let at = nodes.map(|node| self.position(node));
            let element = self.order.element.get(first + index).copied().unwrap_or(0);
            let limit = limit.map_or(f64::INFINITY, |limit| limit.value);
            self.powers.push(Power { at, element, watts, limit, state: DemandState::Draws, index });
        }
    }

    pub(super) fn position(&self, node: usize) -> usize {
        self.order.position.get(node).copied().unwrap_or(self.order.unknowns)
    }

    pub(super) fn between(&self, nodes: [usize; 2]) -> f64 {
        across(&self.voltages, nodes.map(|node| self.position(node)))
    }

    /// Whether a source reaches both nodes of a demand.
    pub(super) fn supplied(&self, nodes: [usize; 2]) -> bool {
        nodes.iter().all(|node| self.fed.get(*node).copied().unwrap_or(false))
    }

    /// Matrix and right side for the states as they are, without what depends on the voltages.
    pub(super) fn assemble(&mut self) {
        let network = self.network;
        let mut base = std::mem::take(&mut self.base);
        for values in [&mut base.diagonal, &mut base.off, &mut base.right] {
            values.fill(0.0);
        }
        self.reach(&mut base);
        let elements = &self.order.element;
        let element = |index: usize| elements.get(index).copied().unwrap_or(0);
        for (index, (branch, blocked)) in network.branches.iter().zip(&self.blocked).enumerate() {
            if !*blocked {
                let conductance = 1.0 / branch.resistance.value;
                let at = branch.nodes.map(|node| self.position(node));
                base.conductance(at, element(index), conductance);
                if branch.drop.value != 0.0 {
                    base.current(at, branch.drop.value * conductance);
                }
            }
        }
        let first = network.branches.len();
        for (index, (source, state)) in all_sources(network).zip(&self.sources).enumerate() {
            let at = source.nodes.map(|node| self.position(node));
            match state {
                SourceState::Holds => {
                    let conductance = 1.0 / source.resistance.value;
                    base.conductance(at, element(first + index), conductance);
                    base.current(at, source.emf.value * conductance);
                }
                SourceState::Limited => base.current(at, source.limit.map_or(0.0, |limit| limit.value)),
                SourceState::Idle | SourceState::InputLimited | SourceState::LockedOut => {}
            }
        }
        let first = first + self.sources.len();
        for (index, demand) in network.demands.iter().enumerate() {
            let supplied = self.supplied(demand.nodes);
            if let Some(state) = self.others.get_mut(index).filter(|state| **state != DemandState::LockedOut) {
                *state = if supplied { DemandState::Draws } else { DemandState::Unsupplied };
            }
            if self.others.get(index) != Some(&DemandState::Draws) {
                continue;
            }
            let at = demand.nodes.map(|node| self.position(node));
            match demand.kind {
                DemandKind::Current(current) => base.current(at, -current.value),
                DemandKind::Resistance(resistance) => {
                    base.conductance(at, element(first + index), 1.0 / resistance.value)
                }
                DemandKind::Power(..) => {}
            }
        }
        self.base = base;
    }

    /// One step: the matrix at the voltages as they are, solved into `next`.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: positions and elements are made by `Order`")]
    pub(super) fn step(&mut self, loaded: bool) -> Result<(), Nowhere> {
        self.factor.diagonal.copy_from_slice(&self.base.diagonal);
        self.factor.off.copy_from_slice(&self.base.off);
        self.factor.right.copy_from_slice(&self.base.right);
        if loaded {
            for power in &self.powers {
                match power.state {
                    DemandState::Draws => {
                        let voltage = self.voltages[power.at[0]] - self.voltages[power.at[1]];
                        if voltage <= 0.0 {
                            return Err(Nowhere::Collapse);
                        }
                        let current = power.watts * self.share / voltage;
                        self.factor.conductance(power.at, power.element, -current / voltage);
                        self.factor.current(power.at, -2.0 * current);
                    }
                    DemandState::Limited => self.factor.current(power.at, -power.limit),
                    DemandState::LockedOut | DemandState::Unsupplied => {}
                }
            }
            self.deliver();
        }
        let solved = self.factor.solve(&self.order, &self.base.diagonal, &mut self.next);
        solved.map_err(|_| Nowhere::Collapse)
    }

    /// Newton's rule down to the operating point, from the voltages as they are or from those without load.
    fn newton(&mut self, warm: bool) -> Result<(), Nowhere> {
        if !warm {
            self.step(false)?;
            std::mem::swap(&mut self.voltages, &mut self.next);
        }
        let coupled = !self.network.converters.is_empty() && !self.frozen;
        let mut last = f64::INFINITY;
        for _ in 0..MOST_STEPS {
            if coupled {
                self.ask();
            }
            self.step(true)?;
            let (mut moved, mut highest) = (0.0_f64, 1.0_f64);
            for (next, here) in self.next.iter().zip(&self.voltages) {
                moved = moved.max((next - here).abs());
                highest = highest.max(next.abs());
            }
            std::mem::swap(&mut self.voltages, &mut self.next);
            // Steps shrink as squares do, but where a converter's output sets what its input takes.
            let ratio = if last.is_finite() { moved / last } else { 1.0 };
            let shrinks = if coupled { ratio } else { ratio * ratio };
            if moved <= ROUNDING * highest || (ratio < 0.5 && moved * shrinks <= CLOSE * highest) {
                return Ok(());
            }
            last = moved;
        }
        Err(Nowhere::Collapse)
    }

    /// The operating point with the states that go with it.
    pub(super) fn settle(&mut self, mut warm: bool) -> Result<(), Nowhere> {
        let (mut held_back, mut woken) = (false, 0);
        for change in 0..MOST_CHANGES {
            match self.newton(warm) {
                Ok(()) => {
                    let one = change >= TOGETHER;
                    if self.turn(one).is_none() && (self.frozen || !self.lock_lowest(false)) {
                        return Ok(());
                    }
                }
                Err(nowhere) => {
                    // What is idle may have to step in; what its limit holds down may have been asked for too much.
                    let [one, other] = if woken % 2 == 0 {
                        [SourceState::Idle, SourceState::Limited]
                    } else {
                        [SourceState::Limited, SourceState::Idle]
                    };
                    if woken < MOST_WOKEN && (self.wake(one) || self.wake(other)) {
                        woken += 1;
                    } else if !held_back && self.hold_back() {
                        held_back = true;
                    } else if self.frozen || !self.lock_lowest(true) {
                        return Err(nowhere);
                    }
                }
            }
            self.assemble();
            warm = false;
        }
        Err(Nowhere::Restless(self.turn(true).unwrap_or([0, 0])))
    }
}

/// The nodes of a demand or, past the last demand, of a converter's input.
pub(super) fn nodes_of(network: &Network, index: usize) -> [usize; 2] {
    let input = |converter: usize| network.converters.get(converter).map_or([0, 0], |one| one.input);
    network.demands.get(index).map_or_else(|| input(index - network.demands.len()), |demand| demand.nodes)
}

/// When a demand or, past the last demand, a converter locks out.
pub(super) fn lock_out_of(network: &Network, index: usize) -> Option<LockOut> {
    match network.demands.get(index) {
        Some(demand) => demand.lock_out,
        None => network.converters.get(index - network.demands.len()).and_then(|one| one.lock_out),
    }
}

/// The sources, then the converters' outputs.
pub(super) fn all_sources(network: &Network) -> impl Iterator<Item = &Source> {
    network.sources.iter().chain(network.converters.iter().map(|one| &one.output))
}
