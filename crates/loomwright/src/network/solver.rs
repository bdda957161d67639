//! The operating point: Newton's rule from the unloaded side, and the discrete states around it.
//!
//! Bare numbers inside: volts, amperes, siemens, watts.
//!
//! A constant power P at a voltage u draws P/u, which along its tangent is a conductance −P/u² and a current 2P/u. From
//! voltages above the operating point the tangents draw too little, so every step ends above it again: the iteration
//! comes down to the highest operating point there is, and never meets one of low voltage. On the way the matrix has
//! positive pivots only; a pivot that is not positive says that no operating point lies below.

use super::elements::{DemandKind, Network, NetworkError};
use super::order::{Order, small, wide};
use super::parts::{Parts, all_sources};
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
    at: [u32; 2],
    element: u32,
    /// The demand, or past the last demand the converter.
    index: u32,
    /// W.
    pub(super) watts: f64,
    /// A; infinite without a limit.
    pub(super) limit: f64,
    pub(super) state: DemandState,
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
        across(voltages, self.at())
    }

    /// Positions of its nodes.
    #[inline]
    pub(super) fn at(&self) -> [usize; 2] {
        self.at.map(wide)
    }

    /// The demand, or past the last demand the converter.
    pub(super) fn index(&self) -> usize {
        wide(self.index)
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
    pub(super) parts: Parts,
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
    /// Ready to be settled, with what was kept of an earlier network if that had the same topology.
    pub(super) fn new(network: &'a Network, kept: Option<Parts>) -> Result<Self, NetworkError> {
        network.check()?;
        let before = kept.as_ref().map_or(0, |kept| kept.work);
        let mut parts = match kept.filter(|kept| kept.fit(network)) {
            Some(kept) => kept,
            None => Parts::of(network),
        };
        parts.work = before.saturating_add(parts.order.work());
        parts.powers.clear();
        parts.blocked.fill(false);
        for relay in network.relays.iter().filter(|relay| !relay.closed) {
            if let Some(blocked) = parts.blocked.get_mut(relay.branch) {
                *blocked = true;
            }
        }
        parts.roused.clear();
        parts.let_go.clear();
        parts.let_go.resize(network.relays.len(), false);
        parts.sources.fill(SourceState::Holds);
        parts.others.fill(DemandState::Draws);
        (parts.share, parts.frozen) = (1.0, false);
        let mut solver = Self { network, parts };
        solver.place_powers();
        solver.assemble();
        Ok(solver)
    }

    fn place_powers(&mut self) {
        let first = self.network.branches.len() + self.network.sources.len() + self.network.converters.len();
        let demands = self.network.demands.iter().enumerate().filter_map(|(index, demand)| match demand.kind {
            DemandKind::Power(power, limit) => Some((index, power.value, limit)),
            DemandKind::Current(_) | DemandKind::Resistance(_) => None,
        });
        let past = self.network.demands.len();
        let inputs = self.network.converters.iter().enumerate();
        let inputs = inputs.map(|(index, one)| (past + index, 0.0, one.input_limit));
        for (index, watts, limit) in demands.chain(inputs) {
            let at = self.parts.order.ends.get(first + index).copied().unwrap_or_default();
            let element = self.parts.order.element.get(first + index).copied().unwrap_or(0);
            let limit = limit.map_or(f64::INFINITY, |limit| limit.value);
            let index = small(index);
            self.parts.powers.push(Power { at, element, index, watts, limit, state: DemandState::Draws });
        }
    }

    pub(super) fn position(&self, node: usize) -> usize {
        self.parts.order.position.get(node).map_or(self.parts.order.unknowns, |position| wide(*position))
    }

    /// Voltage between the nodes of an edge.
    #[inline]
    pub(super) fn over(&self, edge: usize) -> f64 {
        across(&self.parts.voltages, self.parts.order.ends.get(edge).map_or([0, 0], |at| at.map(wide)))
    }

    pub(super) fn between(&self, nodes: [usize; 2]) -> f64 {
        across(&self.parts.voltages, nodes.map(|node| self.position(node)))
    }

    /// Whether a source reaches both nodes of a demand.
    pub(super) fn supplied(&self, nodes: [usize; 2]) -> bool {
        nodes.iter().all(|node| self.parts.fed.get(*node).copied().unwrap_or(false))
    }

    /// Matrix and right side for the states as they are, without what depends on the voltages.
    pub(super) fn assemble(&mut self) {
        let network = self.network;
        let mut base = std::mem::take(&mut self.parts.base);
        for values in [&mut base.diagonal, &mut base.off, &mut base.right] {
            values.fill(0.0);
        }
        self.reach(&mut base);
        let Order { ends, element: elements, .. } = &self.parts.order;
        let element = |index: usize| elements.get(index).map_or(0, |element| wide(*element));
        let ends = |index: usize| ends.get(index).map_or([0, 0], |at| at.map(wide));
        for (index, (branch, blocked)) in network.branches.iter().zip(&self.parts.blocked).enumerate() {
            if !*blocked {
                let conductance = 1.0 / branch.resistance.value;
                let at = ends(index);
                base.conductance(at, element(index), conductance);
                if branch.drop.value != 0.0 {
                    base.current(at, branch.drop.value * conductance);
                }
            }
        }
        let first = network.branches.len();
        for (index, (source, state)) in all_sources(network).zip(&self.parts.sources).enumerate() {
            let at = ends(first + index);
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
        let first = first + self.parts.sources.len();
        for (index, demand) in network.demands.iter().enumerate() {
            let supplied = self.supplied(demand.nodes);
            if let Some(state) = self.parts.others.get_mut(index).filter(|state| **state != DemandState::LockedOut) {
                *state = if supplied { DemandState::Draws } else { DemandState::Unsupplied };
            }
            if self.parts.others.get(index) != Some(&DemandState::Draws) {
                continue;
            }
            let at = ends(first + index);
            match demand.kind {
                DemandKind::Current(current) => base.current(at, -current.value),
                DemandKind::Resistance(resistance) => {
                    base.conductance(at, element(first + index), 1.0 / resistance.value)
                }
                DemandKind::Power(..) => {}
            }
        }
        self.parts.base = base;
    }

    /// One step: the matrix at the voltages as they are, solved into `next`.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: positions and elements are made by `Order`")]
    pub(super) fn step(&mut self, loaded: bool) -> Result<(), Nowhere> {
        self.parts.work = self.parts.work.saturating_add(self.parts.order.work());
        self.parts.factor.diagonal.copy_from_slice(&self.parts.base.diagonal);
        self.parts.factor.off.copy_from_slice(&self.parts.base.off);
        self.parts.factor.right.copy_from_slice(&self.parts.base.right);
        if loaded {
            for power in &self.parts.powers {
                match power.state {
                    DemandState::Draws => {
                        let at = power.at();
                        let voltage = self.parts.voltages[at[0]] - self.parts.voltages[at[1]];
                        if voltage <= 0.0 {
                            return Err(Nowhere::Collapse);
                        }
                        let over = 1.0 / voltage;
                        let current = power.watts * self.parts.share * over;
                        self.parts.factor.conductance(at, wide(power.element), -current * over);
                        self.parts.factor.current(at, -2.0 * current);
                    }
                    DemandState::Limited => self.parts.factor.current(power.at(), -power.limit),
                    DemandState::LockedOut | DemandState::Unsupplied => {}
                }
            }
            self.deliver();
        }
        let solved = self.parts.factor.solve(&self.parts.order, &self.parts.base.diagonal, &mut self.parts.next);
        solved.map_err(|_| Nowhere::Collapse)
    }

    /// Newton's rule down to the operating point, from the voltages as they are or from those without load.
    fn newton(&mut self, warm: bool) -> Result<(), Nowhere> {
        if !warm {
            self.step(false)?;
            std::mem::swap(&mut self.parts.voltages, &mut self.parts.next);
        }
        let coupled = !self.network.converters.is_empty() && !self.parts.frozen;
        let mut last = f64::INFINITY;
        for _ in 0..MOST_STEPS {
            if coupled {
                self.ask();
            }
            self.step(true)?;
            let (mut moved, mut highest) = (0.0_f64, 1.0_f64);
            for (next, here) in self.parts.next.iter().zip(&self.parts.voltages) {
                moved = moved.max((next - here).abs());
                highest = highest.max(next.abs());
            }
            std::mem::swap(&mut self.parts.voltages, &mut self.parts.next);
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
                    if self.turn(one).is_none() && (self.parts.frozen || !self.lock_lowest(false)) {
                        return Ok(());
                    }
                }
                Err(nowhere) => {
                    // Who was roused as another turned may not have been needed.
                    if self.lull() {
                        self.assemble();
                        warm = false;
                        continue;
                    }
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
                    } else if self.parts.frozen || !self.lock_lowest(true) {
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
