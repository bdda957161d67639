//! The operating point of a network with demands of constant current, power and resistance.

use thiserror::Error;

use super::eliminate::{Factor, Floating};
use super::islands::islands;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;

/// A resistance between two nodes, with a constant drop from the first to the second (diodes).
#[derive(Clone, Copy, Debug)]
pub struct Branch {
    /// Its two nodes.
    pub nodes: [usize; 2],
    /// Its resistance, above zero.
    pub resistance: ElectricalResistance,
    /// Constant drop in the direction of the nodes.
    pub drop: ElectricPotential,
}

/// A source with internal resistance.
#[derive(Clone, Copy, Debug)]
pub struct Source {
    /// Positive and negative node.
    pub nodes: [usize; 2],
    /// Voltage without load.
    pub emf: ElectricPotential,
    /// Internal resistance, above zero.
    pub resistance: ElectricalResistance,
}

/// What a demand draws.
#[derive(Clone, Copy, Debug)]
pub enum DemandKind {
    /// Constant current; negative for a current-limited source.
    Current(ElectricCurrent),
    /// Constant power, with a limit on the current it takes.
    Power(Power, Option<ElectricCurrent>),
    /// Constant resistance.
    Resistance(ElectricalResistance),
}

/// A demand between two nodes.
#[derive(Clone, Copy, Debug)]
pub struct Demand {
    /// Positive and negative node.
    pub nodes: [usize; 2],
    /// What it draws.
    pub kind: DemandKind,
}

impl Demand {
    /// A constant current.
    pub fn current(nodes: [usize; 2], current: ElectricCurrent) -> Self {
        Self { nodes, kind: DemandKind::Current(current) }
    }

    /// A constant power.
    pub fn power(nodes: [usize; 2], power: Power) -> Self {
        Self { nodes, kind: DemandKind::Power(power, None) }
    }
}

/// Nodes are 0 to `nodes − 1`.
#[derive(Clone, Debug, Default)]
pub struct Network {
    /// Number of nodes.
    pub nodes: usize,
    /// Resistances.
    pub branches: Vec<Branch>,
    /// Sources.
    pub sources: Vec<Source>,
    /// Demands.
    pub demands: Vec<Demand>,
}

/// Where the network settles.
#[derive(Clone, Debug)]
pub struct OperatingPoint {
    voltages: Vec<f64>,
    /// Current of each branch, positive from its first to its second node.
    pub branch_currents: Vec<ElectricCurrent>,
    /// Current that each source delivers.
    pub source_currents: Vec<ElectricCurrent>,
    /// Current that each demand draws.
    pub demand_currents: Vec<ElectricCurrent>,
    /// Nodes that no source reaches; demands there draw nothing.
    pub unsupplied: Vec<usize>,
    /// Largest current that does not add up at any node.
    pub residual: ElectricCurrent,
}

impl OperatingPoint {
    /// Voltage of the first node over the second.
    pub fn between(&self, nodes: [usize; 2]) -> ElectricPotential {
        let [one, other] = nodes.map(|node| self.voltages.get(node).copied().unwrap_or(0.0));
        ElectricPotential::new::<volt>(one - other)
    }
}

/// No operating point exists: the demand cannot be carried.
#[derive(Clone, Debug)]
pub struct NoOperatingPoint {
    /// The demand whose voltage collapsed first.
    pub demand: usize,
}

/// How a solution ended.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// It settles.
    Point(OperatingPoint),
    /// It does not: an answer, not a failure.
    None(NoOperatingPoint),
}

/// What keeps a network from being computed at all.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum NetworkError {
    /// A node that does not exist.
    #[error("node {0} does not exist")]
    NoSuchNode(usize),
    /// A resistance that is not above zero, or a value that is no finite number.
    #[error("the resistance or voltage between nodes {0} and {1} is not above zero and finite")]
    Value(usize, usize),
}

/// Rounds of the constant-power iteration; it closes in from the high side, slowly only next to collapse.
const MOST_ROUNDS: usize = 2000;
/// Volts by which two rounds may differ.
const SETTLED: f64 = 1e-10;

/// Solves a network.
///
/// Demands of constant power are met from the high-voltage side, so a low-voltage root is never
/// reported; a demand whose voltage falls below half of its unloaded voltage has none (the root of a
/// constant power over a resistance lies at half the source voltage or above).
///
/// # Errors
/// [`NetworkError`] when a node does not exist or a value is not above zero and finite.
pub fn solve(network: &Network) -> Result<Outcome, NetworkError> {
    let nodes = network.nodes;
    check(network)?;
    let mut conductances: Vec<([usize; 2], f64)> = Vec::with_capacity(network.branches.len() + network.sources.len());
    conductances.extend(network.branches.iter().map(|branch| (branch.nodes, 1.0 / branch.resistance.value)));
    conductances.extend(network.sources.iter().map(|source| (source.nodes, 1.0 / source.resistance.value)));
    let islands = islands(nodes, conductances.iter().map(|(nodes, _)| *nodes));
    let mut grounded = vec![true; nodes];
    let mut fed = vec![false; nodes];
    for source in &network.sources {
        if let Some(flag) = islands.get(source.nodes[0]).and_then(|island| fed.get_mut(*island)) {
            *flag = true;
        }
    }
    let is_fed = |node: usize| islands.get(node).and_then(|island| fed.get(*island)).copied().unwrap_or(false);
    for (node, flag) in grounded.iter_mut().enumerate() {
        *flag = !is_fed(node);
    }
    // The negative of an island's first source is its zero.
    let mut has_zero = vec![false; nodes];
    for source in &network.sources {
        if let Some(island) = islands.get(source.nodes[1])
            && let Some(flag) = has_zero.get_mut(*island)
            && !*flag
        {
            *flag = true;
            if let Some(zero) = grounded.get_mut(source.nodes[1]) {
                *zero = true;
            }
        }
    }
    // Resistive demands within one island are conductances.
    for demand in &network.demands {
        if let DemandKind::Resistance(resistance) = demand.kind {
            conductances.push((demand.nodes, 1.0 / resistance.value));
        }
    }
    let Ok(factor) = Factor::new(nodes, &conductances, &grounded) else {
        return Err(NetworkError::Value(0, 0));
    };
    let mut base = vec![0.0; nodes];
    let inject = |into: &mut Vec<f64>, nodes: [usize; 2], current: f64| {
        for (node, signed) in [(nodes[0], current), (nodes[1], -current)] {
            if let Some(value) = into.get_mut(node) {
                *value += signed;
            }
        }
    };
    for source in &network.sources {
        inject(&mut base, source.nodes, source.emf.value / source.resistance.value);
    }
    for branch in &network.branches {
        inject(&mut base, branch.nodes, branch.drop.value / branch.resistance.value);
    }
    let unloaded = factor.voltages(&base);
    let voltage = |voltages: &[f64], nodes: [usize; 2]| {
        let at = |node: usize| voltages.get(node).copied().unwrap_or(0.0);
        at(nodes[0]) - at(nodes[1])
    };
    let supplied =
        |demand: &Demand| is_fed(demand.nodes[0]) && islands.get(demand.nodes[0]) == islands.get(demand.nodes[1]);
    let mut voltages = unloaded.clone();
    let mut drawn = vec![0.0; network.demands.len()];
    for _ in 0..MOST_ROUNDS {
        let mut injected = base.clone();
        for ((index, demand), drawn) in network.demands.iter().enumerate().zip(&mut drawn) {
            if !supplied(demand) {
                *drawn = 0.0;
                continue;
            }
            let here = voltage(&voltages, demand.nodes);
            *drawn = match demand.kind {
                DemandKind::Current(current) => current.get::<ampere>(),
                DemandKind::Resistance(resistance) => here / resistance.value,
                DemandKind::Power(power, limit) => {
                    let limit = limit.map_or(f64::INFINITY, |limit| limit.get::<ampere>());
                    if here <= 0.5 * voltage(&unloaded, demand.nodes) && limit.is_infinite() {
                        return Ok(Outcome::None(NoOperatingPoint { demand: index }));
                    }
                    if here > 0.0 { (power.value / here).min(limit) } else { limit.min(1e9) }
                }
            };
            if !matches!(demand.kind, DemandKind::Resistance(_)) {
                inject(&mut injected, demand.nodes, -*drawn);
            }
        }
        let next = factor.voltages(&injected);
        let moved = next.iter().zip(&voltages).map(|(next, last)| (next - last).abs()).fold(0.0, f64::max);
        voltages = next;
        if moved <= SETTLED {
            return Ok(Outcome::Point(point(network, voltages, &drawn, is_fed)));
        }
    }
    let weakest = network
        .demands
        .iter()
        .enumerate()
        .filter(|(_, demand)| matches!(demand.kind, DemandKind::Power(..)) && supplied(demand))
        .min_by(|(_, one), (_, other)| {
            let share = |demand: &Demand| voltage(&voltages, demand.nodes) / voltage(&unloaded, demand.nodes);
            share(one).total_cmp(&share(other))
        });
    Ok(Outcome::None(NoOperatingPoint { demand: weakest.map_or(0, |(index, _)| index) }))
}

fn check(network: &Network) -> Result<(), NetworkError> {
    let good = |value: f64| value.is_finite() && value > 0.0;
    let node = |node: usize| if node < network.nodes { Ok(()) } else { Err(NetworkError::NoSuchNode(node)) };
    let all = network
        .branches
        .iter()
        .map(|branch| (branch.nodes, good(branch.resistance.value) && branch.drop.value.is_finite()))
        .chain(
            network
                .sources
                .iter()
                .map(|source| (source.nodes, good(source.resistance.value) && source.emf.value.is_finite())),
        )
        .chain(network.demands.iter().map(|demand| {
            let fits = match demand.kind {
                DemandKind::Current(current) => current.value.is_finite(),
                DemandKind::Power(power, limit) => {
                    power.value.is_finite() && power.value >= 0.0 && limit.is_none_or(|limit| limit.value >= 0.0)
                }
                DemandKind::Resistance(resistance) => good(resistance.value),
            };
            (demand.nodes, fits)
        }));
    for (nodes, fits) in all {
        nodes.into_iter().try_for_each(node)?;
        if !fits {
            return Err(NetworkError::Value(nodes[0], nodes[1]));
        }
    }
    Ok(())
}

fn point(network: &Network, voltages: Vec<f64>, drawn: &[f64], is_fed: impl Fn(usize) -> bool) -> OperatingPoint {
    let voltage = |nodes: [usize; 2]| {
        let at = |node: usize| voltages.get(node).copied().unwrap_or(0.0);
        at(nodes[0]) - at(nodes[1])
    };
    let mut balance = vec![0.0; network.nodes];
    let mut flow = |nodes: [usize; 2], current: f64| {
        for (node, signed) in [(nodes[0], -current), (nodes[1], current)] {
            if let Some(value) = balance.get_mut(node) {
                *value += signed;
            }
        }
    };
    let amperes = ElectricCurrent::new::<ampere>;
    let mut branch_currents = Vec::with_capacity(network.branches.len());
    for branch in &network.branches {
        let fed = is_fed(branch.nodes[0]);
        let current = if fed { (voltage(branch.nodes) - branch.drop.value) / branch.resistance.value } else { 0.0 };
        flow(branch.nodes, current);
        branch_currents.push(amperes(current));
    }
    let mut source_currents = Vec::with_capacity(network.sources.len());
    for source in &network.sources {
        let current = (source.emf.value - voltage(source.nodes)) / source.resistance.value;
        flow(source.nodes, -current);
        source_currents.push(amperes(current));
    }
    for (demand, drawn) in network.demands.iter().zip(drawn) {
        flow(demand.nodes, *drawn);
    }
    let unsupplied = (0..network.nodes).filter(|node| !is_fed(*node)).collect();
    OperatingPoint {
        branch_currents,
        source_currents,
        demand_currents: drawn.iter().copied().map(amperes).collect(),
        unsupplied,
        residual: amperes(balance.iter().fold(0.0, |most: f64, current| most.max(current.abs()))),
        voltages,
    }
}

impl From<Floating> for NetworkError {
    fn from(floating: Floating) -> Self {
        Self::NoSuchNode(floating.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::FromText;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn feeder(ohms: f64, watts: f64) -> Network {
        Network {
            nodes: 3,
            branches: vec![Branch {
                nodes: [1, 2],
                resistance: ElectricalResistance::new::<uom::si::electrical_resistance::ohm>(ohms),
                drop: ElectricPotential::default(),
            }],
            sources: vec![Source {
                nodes: [1, 0],
                emf: ElectricPotential::from_text("12 V").unwrap(),
                resistance: ElectricalResistance::from_text("0.001 uohm").unwrap(),
            }],
            demands: vec![Demand::power([2, 0], Power::new::<uom::si::power::watt>(watts))],
        }
    }

    #[test]
    fn constant_power_feeder_ends_at_a_quarter_of_the_square() {
        // Closed form: P_max = V²/(4R) = 144/(4·0.1) = 360 W; below it V = V0/2·(1 + √(1 − P/P_max)).
        for share in [0.1, 0.5, 0.9, 0.99] {
            let Ok(Outcome::Point(point)) = solve(&feeder(0.1, 360.0 * share)) else {
                panic!("{share} of the limit settles")
            };
            let expected = 6.0 * (1.0 + (1.0_f64 - share).sqrt());
            assert_relative_eq!(point.between([2, 0]).value, expected, max_relative = 1e-7);
        }
        for share in [1.001, 1.1, 3.0] {
            assert!(matches!(solve(&feeder(0.1, 360.0 * share)), Ok(Outcome::None(_))), "{share}");
        }
    }

    #[test]
    fn loops_and_islands() {
        // Two equal batteries feed a ring of three equal branches; a fourth node hangs on nothing.
        let ohm = |value: f64| ElectricalResistance::new::<uom::si::electrical_resistance::ohm>(value);
        let branch =
            |one, other| Branch { nodes: [one, other], resistance: ohm(1.0), drop: ElectricPotential::default() };
        let emf = ElectricPotential::from_text("12 V").unwrap();
        let source = |node| Source { nodes: [node, 0], emf, resistance: ohm(1.0) };
        let network = Network {
            nodes: 5,
            branches: vec![branch(1, 2), branch(2, 3), branch(3, 1)],
            sources: vec![source(1), source(2)],
            demands: vec![
                Demand::current([3, 0], ElectricCurrent::from_text("2 A").unwrap()),
                Demand::power([4, 0], Power::from_text("5 W").unwrap()),
            ],
        };
        let Ok(Outcome::Point(point)) = solve(&network) else { panic!("settles") };
        // By symmetry each battery gives 1 A, so nodes 1 and 2 stand at 11 V, and node 3 one volt lower.
        assert_relative_eq!(point.between([1, 0]).value, 11.0, max_relative = 1e-12);
        assert_relative_eq!(point.between([3, 0]).value, 10.0, max_relative = 1e-12);
        assert_eq!(point.unsupplied, vec![4]);
        assert_eq!(point.demand_currents[1].value, 0.0);
    }

    proptest! {
        /// Currents add up at every node, whatever the tree and wherever loops close.
        #[test]
        fn currents_add_up(parents in proptest::collection::vec(any::<prop::sample::Index>(), 2..60), extra in any::<bool>()) {
            let ohm = |value: f64| ElectricalResistance::new::<uom::si::electrical_resistance::ohm>(value);
            let mut network = Network { nodes: parents.len() + 2, ..Network::default() };
            network.sources.push(Source { nodes: [1, 0], emf: ElectricPotential::from_text("24 V").unwrap(), resistance: ohm(0.01) });
            for (index, parent) in parents.iter().enumerate() {
                let node = index + 2;
                network.branches.push(Branch { nodes: [parent.index(node - 1) + 1, node], resistance: ohm(0.002 + 0.001 * index as f64), drop: ElectricPotential::default() });
                network.demands.push(Demand::current([node, 0], ElectricCurrent::new::<ampere>(0.1 * index as f64)));
            }
            if extra {
                network.branches.push(Branch { nodes: [2, parents.len() + 1], resistance: ohm(0.01), drop: ElectricPotential::default() });
            }
            if network.branches.iter().all(|branch| branch.nodes[0] != branch.nodes[1])
                && let Outcome::Point(point) = solve(&network).unwrap()
            {
                prop_assert!(point.residual.value < 1e-8, "{}", point.residual.value);
            }
        }
    }
}
