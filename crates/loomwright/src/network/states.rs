//! Discrete states: diodes that block, relays that sense a voltage, sources and demands at their limits, converters that lock out.

use super::elements::Network;
use super::factor::Factor;
use super::islands::islands;
use super::order::wide;
use super::parts::{Parts, all_sources};
use super::solver::{DemandState, Solver, SourceState, lock_out_of, nodes_of};
use crate::quantity::{ElectricPotential, Power};
use uom::si::electric_potential::volt;
use uom::si::power::watt;

/// A and V below which a current or voltage the wrong way is rounding.
const NOTHING: f64 = 1e-9;
/// Share by which a limit is passed before it is rounding no more.
const SLIGHT: f64 = 1e-9;

impl Solver<'_> {
    /// Finds what the sources reach through all that conducts, and ties parts that hang on no zero to one.
    pub(super) fn reach(&mut self, base: &mut Factor) {
        let gives = |state: &SourceState| !matches!(state, SourceState::Idle | SourceState::LockedOut);
        let whole = self.parts.blocked.iter().all(|blocked| !blocked) && self.parts.sources.iter().all(gives);
        if !(whole && self.parts.whole) {
            self.find_fed(whole, gives);
        }
        for at in &self.parts.ties {
            if let Some(diagonal) = base.diagonal.get_mut(*at) {
                *diagonal += 1.0;
            }
        }
        let Parts { powers, fed, joined, apart, .. } = &mut self.parts;
        let joined = if whole { joined } else { apart };
        for power in powers {
            let [one, other] = nodes_of(self.network, power.index());
            let together = joined.get(one).is_some() && joined.get(one) == joined.get(other);
            let reachable = together && fed.get(one).copied().unwrap_or(false);
            match power.state {
                DemandState::Unsupplied if reachable => power.state = DemandState::Draws,
                DemandState::Draws | DemandState::Limited if !reachable => power.state = DemandState::Unsupplied,
                _ => {}
            }
        }
    }

    /// Which nodes the sources that give reach, and where islands need a zero of their own.
    fn find_fed(&mut self, whole: bool, gives: impl Fn(&SourceState) -> bool) {
        let network = self.network;
        let giving = all_sources(network).zip(&self.parts.sources).filter(|(_, state)| gives(state));
        let sources: Vec<[usize; 2]> = giving.map(|(one, _)| one.nodes).collect();
        if !whole {
            let conducts = network.branches.iter().zip(&self.parts.blocked).filter(|(_, blocked)| !**blocked);
            let edges = conducts.map(|(one, _)| one.nodes).chain(sources.iter().copied());
            self.parts.apart = islands(network.nodes, edges);
        }
        let Parts { joined, apart, order, .. } = &self.parts;
        let joined = if whole { joined } else { apart };
        let mut reached = vec![false; network.nodes];
        let mut zero = vec![false; network.nodes];
        for nodes in &sources {
            if let Some(flag) = joined.get(nodes[1]).and_then(|island| reached.get_mut(*island)) {
                *flag = true;
            }
        }
        for (island, position) in joined.iter().zip(&order.position) {
            if let Some(flag) = zero.get_mut(*island).filter(|_| wide(*position) == order.unknowns) {
                *flag = true;
            }
        }
        let fed = joined.iter().map(|island| reached.get(*island).copied().unwrap_or(false)).collect();
        // A part's own source gives it its zero; without one any node does, and everything there is at zero.
        let mut ties = Vec::new();
        for node in sources.iter().map(|nodes| nodes[1]).chain(0..network.nodes) {
            let island = joined.get(node).copied().unwrap_or(0);
            if let Some(flag) = zero.get_mut(island).filter(|flag| !**flag) {
                *flag = true;
                ties.push(self.position(node));
            }
        }
        (self.parts.fed, self.parts.ties, self.parts.whole) = (fed, ties, whole);
    }

    /// Where the powers of the converters' inputs start.
    fn first_input(&self) -> usize {
        self.parts.powers.len() - self.network.converters.len()
    }

    /// What the converters take at their inputs for what they give at the voltages as they are.
    pub(super) fn ask(&mut self) {
        let (first, first_output) = (self.first_input(), self.network.sources.len());
        for (index, converter) in self.network.converters.iter().enumerate() {
            let output = &converter.output;
            let across = self.between(output.nodes);
            let state = self.parts.sources.get(first_output + index).copied().unwrap_or(SourceState::Idle);
            let most = output.limit.map_or(f64::INFINITY, |limit| limit.value);
            let amperes = match state {
                // Held to its limit already, lest its input collapse before its output is found to be limited.
                SourceState::Holds => ((output.emf.value - across) / output.resistance.value).clamp(0.0, most),
                SourceState::Limited => most,
                SourceState::Idle | SourceState::InputLimited | SourceState::LockedOut => 0.0,
            };
            let given = amperes * (across + amperes * output.resistance.value).max(0.0);
            if let Some(power) = self.parts.powers.get_mut(first + index) {
                power.watts = converter.losses.input(Power::new::<watt>(given)).value;
            }
        }
    }

    /// Current of a converter whose input limit holds its output down, in A.
    pub(super) fn short_output(&self, index: usize) -> f64 {
        let Some(converter) = self.network.converters.get(index) else { return 0.0 };
        let taken = self.between(converter.input).max(0.0) * converter.input_limit.map_or(0.0, |limit| limit.value);
        let given = converter.losses.output(Power::new::<watt>(taken)).value;
        let across = self.between(converter.output.nodes).max(0.0);
        // From given = current · (across + current · resistance).
        let root = (across * across + 4.0 * converter.output.resistance.value * given).sqrt();
        if across + root > 0.0 { 2.0 * given / (across + root) } else { 0.0 }
    }

    /// Adds what converters give whose input limit holds them down: a constant power, by its slope as Newton's rule asks.
    pub(super) fn deliver(&mut self) {
        let first = self.network.sources.len();
        for (index, converter) in self.network.converters.iter().enumerate() {
            if self.parts.sources.get(first + index) == Some(&SourceState::InputLimited) {
                let current = self.short_output(index);
                let across = self.between(converter.output.nodes).max(0.0);
                // Of current · (across + current · resistance) by the voltage across.
                let slope = current / (across + 2.0 * current * converter.output.resistance.value);
                let slope = if slope.is_finite() { slope } else { 0.0 };
                let at = converter.output.nodes.map(|node| self.position(node));
                let edge = self.network.branches.len() + first + index;
                let element = self.parts.order.element.get(edge).map_or(0, |element| wide(*element));
                self.parts.factor.conductance(at, element, slope);
                self.parts.factor.current(at, current + slope * across);
            }
        }
    }

    /// Turns what stands in the wrong state at these voltages: all of it, or only the first; the nodes of the last.
    pub(super) fn turn(&mut self, one: bool) -> Option<[usize; 2]> {
        let mut turned = None;
        self.parts.roused.clear();
        for (index, branch) in self.network.branches.iter().enumerate().filter(|(_, branch)| branch.one_way) {
            let over = self.over(index) - branch.drop.value;
            let Some(blocked) = self.parts.blocked.get_mut(index) else { continue };
            let now = if *blocked { over <= NOTHING } else { over / branch.resistance.value < -NOTHING };
            if now != *blocked {
                *blocked = now;
                turned = Some(branch.nodes);
                if one {
                    return turned;
                }
            }
        }
        if let Some(nodes) = self.turn_relays(one) {
            turned = Some(nodes);
            if one {
                return turned;
            }
        }
        let network: &Network = self.network;
        // What is woken on the way has not been solved for yet, so its turn is the next.
        let before = self.parts.sources.clone();
        for ((index, source), state) in all_sources(network).enumerate().zip(before) {
            if self.parts.sources.get(index) != Some(&state) {
                continue;
            }
            let across = self.between(source.nodes);
            let held = (source.emf.value - across) / source.resistance.value;
            let limit = source.limit.map_or(f64::INFINITY, |limit| limit.value);
            let converter = index.checked_sub(network.sources.len());
            let one_way = source.one_way || converter.is_some();
            let now = match state {
                SourceState::Holds if held > limit * (1.0 + SLIGHT) => SourceState::Limited,
                SourceState::Holds if one_way && held < -NOTHING => SourceState::Idle,
                SourceState::Limited if held < limit * (1.0 - SLIGHT) => SourceState::Holds,
                SourceState::Idle if across < source.emf.value - NOTHING => SourceState::Holds,
                SourceState::InputLimited if held < 0.0 => SourceState::Holds,
                SourceState::InputLimited
                    if converter.is_some_and(|index| self.short_output(index) > limit * (1.0 + SLIGHT)) =>
                {
                    SourceState::Limited
                }
                state => state,
            };
            if now != state {
                self.set_source(index, now);
                turned = Some(source.nodes);
                if one {
                    return turned;
                }
                // Where one gives all it has another has to step in; where one takes no more another has enough.
                match now {
                    SourceState::Limited => self.rouse(SourceState::Idle),
                    SourceState::Idle => self.rouse(SourceState::Limited),
                    _ => {}
                }
            }
        }
        let (first, first_output) = (self.first_input(), network.sources.len());
        for index in 0..self.parts.powers.len() {
            let Some(power) = self.parts.powers.get(index).copied().filter(|power| power.limit.is_finite()) else {
                continue;
            };
            let wanted = power.watts * self.parts.share / power.voltage(&self.parts.voltages);
            let now = match power.state {
                DemandState::Draws if wanted > power.limit * (1.0 + SLIGHT) => DemandState::Limited,
                // A converter's input is released with its output, above.
                DemandState::Limited if wanted < power.limit * (1.0 - SLIGHT) && index < first => DemandState::Draws,
                state => state,
            };
            if now != power.state {
                if let Some(power) = self.parts.powers.get_mut(index) {
                    power.state = now;
                }
                if let Some(converter) = index.checked_sub(first)
                    && let Some(state) = self.parts.sources.get_mut(first_output + converter)
                {
                    *state = SourceState::InputLimited;
                }
                turned = Some(nodes_of(network, power.index()));
                if one {
                    return turned;
                }
            }
        }
        turned
    }

    /// Opens and closes relays by the voltages they sense. One that has opened stays so: whatever it then sees, it has
    /// seen what made it open.
    fn turn_relays(&mut self, one: bool) -> Option<[usize; 2]> {
        let mut turned = None;
        // While the margin is sought they stay as they are.
        for (index, relay) in self.network.relays.iter().enumerate().filter(|_| !self.parts.frozen) {
            let sensed = ElectricPotential::new::<volt>(self.between(relay.senses));
            let (Some(blocked), Some(let_go)) =
                (self.parts.blocked.get_mut(relay.branch), self.parts.let_go.get_mut(index))
            else {
                continue;
            };
            let closed = relay.at.closed_at(sensed, !*blocked) && !*let_go;
            if closed == *blocked {
                *blocked = !closed;
                *let_go |= !closed;
                turned = Some(relay.senses);
                if one {
                    break;
                }
            }
        }
        turned
    }

    /// Lets sources in a state hold their voltage again; whether there were any. Converters are left as they are.
    pub(super) fn wake(&mut self, from: SourceState) -> bool {
        let mut any = false;
        for state in self.parts.sources.iter_mut().take(self.network.sources.len()).filter(|state| **state == from) {
            *state = SourceState::Holds;
            any = true;
        }
        any
    }

    /// As [`wake`](Self::wake), and remembers whom.
    fn rouse(&mut self, from: SourceState) {
        let own = self.parts.sources.iter().take(self.network.sources.len()).enumerate();
        self.parts.roused.extend(own.filter(|(_, state)| **state == from).map(|(index, state)| (index, *state)));
        self.wake(from);
    }

    /// Undoes what [`rouse`](Self::rouse) did before the last attempt; whether there was anything.
    pub(super) fn lull(&mut self) -> bool {
        let mut any = false;
        for (index, was) in self.parts.roused.drain(..) {
            if let Some(state) = self.parts.sources.get_mut(index).filter(|state| **state == SourceState::Holds) {
                *state = was;
                any = true;
            }
        }
        any
    }

    /// Sets a source's state, and with a converter's output that of its input.
    fn set_source(&mut self, index: usize, now: SourceState) {
        let first = self.first_input();
        let Some(state) = self.parts.sources.get_mut(index) else { return };
        let was = std::mem::replace(state, now);
        if let Some(converter) = index.checked_sub(self.network.sources.len())
            && let Some(power) = self.parts.powers.get_mut(first + converter)
        {
            if now == SourceState::LockedOut {
                power.state = DemandState::LockedOut;
            } else if was == SourceState::InputLimited {
                power.state = DemandState::Draws;
            }
        }
    }

    /// Holds every constant power that has a limit down to it; whether there was one.
    pub(super) fn hold_back(&mut self) -> bool {
        let (first, first_output) = (self.first_input(), self.network.sources.len());
        let mut any = false;
        for (index, power) in self.parts.powers.iter_mut().enumerate() {
            if power.state == DemandState::Draws && power.limit.is_finite() {
                power.state = DemandState::Limited;
                any = true;
                if let Some(converter) = index.checked_sub(first)
                    && let Some(state) = self.parts.sources.get_mut(first_output + converter)
                {
                    *state = SourceState::InputLimited;
                }
            }
        }
        any
    }

    /// Locks out the consumer that stands lowest against the voltage at which it stops; after a collapse the lowest
    /// of all, however it stands. Whether there was one.
    pub(super) fn lock_lowest(&mut self, collapsed: bool) -> bool {
        let powers =
            self.parts.powers.iter().filter(|power| matches!(power.state, DemandState::Draws | DemandState::Limited));
        let powers = powers.filter_map(|power| {
            Some((power.index(), power.voltage(&self.parts.voltages), lock_out_of(self.network, power.index())?))
        });
        let others = self.network.demands.iter().zip(&self.parts.others).enumerate();
        let others = others.filter(|(_, (demand, state))| **state == DemandState::Draws && !demand.is_power());
        let others =
            others.filter_map(|(index, (demand, _))| Some((index, self.between(demand.nodes), demand.lock_out?)));
        let share = |voltage: f64, stops: f64| if stops > 0.0 { voltage / stops } else { f64::INFINITY };
        let lowest = powers
            .chain(others)
            .map(|(index, voltage, lock_out)| (index, share(voltage, lock_out.stop().value)))
            .min_by(|one, other| one.1.total_cmp(&other.1));
        let Some((index, share)) = lowest.filter(|(_, share)| collapsed || *share < 1.0 - SLIGHT) else { return false };
        if collapsed && share == f64::INFINITY {
            return false;
        }
        if let Some(converter) = index.checked_sub(self.network.demands.len()) {
            self.set_source(self.network.sources.len() + converter, SourceState::LockedOut);
        } else if let Some(power) = self.parts.powers.iter_mut().find(|power| power.index() == index) {
            power.state = DemandState::LockedOut;
        } else if let Some(state) = self.parts.others.get_mut(index) {
            *state = DemandState::LockedOut;
        }
        true
    }
}
