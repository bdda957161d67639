//! What a network is made of, and what keeps one from being computed.

use thiserror::Error;

use crate::converter::{LockOut, Losses};
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power};
use crate::source::SensingRelay;

/// A resistance between two nodes.
#[derive(Clone, Copy, Debug)]
pub struct Branch {
    /// Its two nodes.
    pub nodes: [usize; 2],
    /// Its resistance, above zero.
    pub resistance: ElectricalResistance,
    /// Constant drop in the direction of the nodes (diodes).
    pub drop: ElectricPotential,
    /// Whether it conducts from the first to the second node only.
    pub one_way: bool,
}

impl Branch {
    /// A plain resistance.
    pub fn new(nodes: [usize; 2], resistance: ElectricalResistance) -> Self {
        Self { nodes, resistance, drop: ElectricPotential::default(), one_way: false }
    }
}

/// A source: a voltage behind a resistance, up to a limit of current.
#[derive(Clone, Copy, Debug)]
pub struct Source {
    /// Positive and negative node.
    pub nodes: [usize; 2],
    /// Voltage without load.
    pub emf: ElectricPotential,
    /// Internal resistance, above zero.
    pub resistance: ElectricalResistance,
    /// The most that it gives; beyond, it gives just that at whatever voltage the network leaves it.
    pub limit: Option<ElectricCurrent>,
    /// Whether it gives but never takes (alternators, chargers, solar controllers).
    pub one_way: bool,
}

impl Source {
    /// A battery-like source: no limit, gives and takes.
    pub fn new(nodes: [usize; 2], emf: ElectricPotential, resistance: ElectricalResistance) -> Self {
        Self { nodes, emf, resistance, limit: None, one_way: false }
    }
}

/// What a demand draws.
#[derive(Clone, Copy, Debug)]
pub enum DemandKind {
    /// Constant current; negative for a source of current.
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
    /// When it stops by itself.
    pub lock_out: Option<LockOut>,
}

impl Demand {
    /// A constant current.
    pub fn current(nodes: [usize; 2], current: ElectricCurrent) -> Self {
        Self { nodes, kind: DemandKind::Current(current), lock_out: None }
    }

    /// A constant power.
    pub fn power(nodes: [usize; 2], power: Power) -> Self {
        Self { nodes, kind: DemandKind::Power(power, None), lock_out: None }
    }

    pub(super) fn is_power(&self) -> bool {
        matches!(self.kind, DemandKind::Power(..))
    }
}

/// A converter between two parts of a network: it regulates its output and takes at its input what that needs.
#[derive(Clone, Copy, Debug)]
pub struct Converter {
    /// Positive and negative node of its input.
    pub input: [usize; 2],
    /// Its output: regulated voltage, output resistance, limit of current. It never takes current back.
    pub output: Source,
    /// What it takes for what it gives.
    pub losses: Losses,
    /// Limit of its input current; beyond, its output falls short.
    pub input_limit: Option<ElectricCurrent>,
    /// When it stops by itself.
    pub lock_out: Option<LockOut>,
}

/// A relay that senses a voltage and opens or closes a branch by it.
#[derive(Clone, Copy, Debug)]
pub struct Relay {
    /// The branch that it closes.
    pub branch: usize,
    /// The nodes between which it senses.
    pub senses: [usize; 2],
    /// Where it closes and opens.
    pub at: SensingRelay,
    /// Whether it was closed before: between its two voltages it stays as it was.
    pub closed: bool,
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
    /// Converters.
    pub converters: Vec<Converter>,
    /// Relays that sense a voltage.
    pub relays: Vec<Relay>,
}

/// What keeps a network from being computed at all.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum NetworkError {
    /// A node that does not exist.
    #[error("node {0} does not exist")]
    NoSuchNode(usize),
    /// No resistance at all where one has to be.
    #[error(
        "a connection without resistance between nodes {0} and {1}: a short circuit or one node too many; give its resistance, above 0 Ω"
    )]
    ZeroResistance(usize, usize),
    /// A relay of a branch that does not exist, or one that closes no higher than it opens.
    #[error("relay {0} has no branch, or does not open below the voltage at which it closes")]
    Relay(usize),
    /// A value out of range.
    #[error(
        "between nodes {0} and {1} a resistance is not above zero, or a voltage, current or power is negative or no finite number"
    )]
    Value(usize, usize),
    /// Sources without resistance on the same nodes.
    #[error(
        "sources {sources:?} between nodes {nodes:?} have no internal resistance: in parallel nothing says what each gives; give their resistances"
    )]
    StiffSources {
        /// The two sources.
        sources: [usize; 2],
        /// Their nodes.
        nodes: [usize; 2],
    },
    /// A converter whose output is joined to its own input.
    #[error("converter {converter} feeds itself: nodes {input} and {output} of its input and output are joined")]
    FeedsItself {
        /// The converter.
        converter: usize,
        /// Positive node of its input.
        input: usize,
        /// Positive node of its output.
        output: usize,
    },
    /// Converters that feed each other in a circle.
    #[error("converters {converters:?} feed each other in a circle, through nodes {nodes:?}")]
    ConverterLoop {
        /// The converters, each feeding the next.
        converters: Vec<usize>,
        /// Positive nodes of their outputs.
        nodes: Vec<usize>,
    },
    /// More nodes or elements than can be numbered.
    #[error("{0} nodes and elements are too many: at most 4 billion can be numbered")]
    TooLarge(usize),
    /// Diodes, limits and lock-outs that find no state together.
    #[error("diodes, limits and lock-outs find no lasting state: the last to change hangs between nodes {0} and {1}")]
    Restless(usize, usize),
}

impl Network {
    /// Ranges, nodes, short circuits and converters in a circle.
    pub(super) fn check(&self) -> Result<(), NetworkError> {
        let elements = self.branches.len() + self.sources.len() + self.demands.len() + 2 * self.converters.len();
        let all = self.nodes.saturating_add(elements);
        // Off-diagonal elements grow with both; half of the range leaves room for what loops fill in.
        if u32::try_from(all).is_ok_and(|all| all < u32::MAX / 2) { Ok(()) } else { Err(NetworkError::TooLarge(all)) }?;
        let node = |node: usize| if node < self.nodes { Ok(()) } else { Err(NetworkError::NoSuchNode(node)) };
        let fits = |nodes: [usize; 2], fits: bool| {
            nodes.into_iter().try_for_each(node)?;
            if fits { Ok(()) } else { Err(NetworkError::Value(nodes[0], nodes[1])) }
        };
        let limit = |limit: Option<ElectricCurrent>| limit.is_none_or(|limit| limit.value >= 0.0);
        for Branch { nodes, resistance, drop, .. } in &self.branches {
            fits(*nodes, resistance.value >= 0.0 && resistance.value.is_finite() && drop.value.is_finite())?;
            if resistance.value == 0.0 {
                return Err(NetworkError::ZeroResistance(nodes[0], nodes[1]));
            }
        }
        for (index, source) in self.sources.iter().enumerate() {
            let value = source.resistance.value;
            fits(
                source.nodes,
                value >= 0.0 && value.is_finite() && source.emf.value.is_finite() && limit(source.limit),
            )?;
            if value == 0.0 {
                let stiff = |other: &Source| other.nodes == source.nodes && other.resistance.value == 0.0;
                if let Some((other, _)) =
                    self.sources.iter().enumerate().skip(index + 1).find(|(_, other)| stiff(other))
                {
                    return Err(NetworkError::StiffSources { sources: [index, other], nodes: source.nodes });
                }
                return Err(NetworkError::ZeroResistance(source.nodes[0], source.nodes[1]));
            }
        }
        for demand in &self.demands {
            let good = match demand.kind {
                DemandKind::Current(current) => current.value.is_finite(),
                DemandKind::Power(power, most) => power.value.is_finite() && power.value >= 0.0 && limit(most),
                DemandKind::Resistance(resistance) => resistance.value.is_finite() && resistance.value > 0.0,
            };
            fits(demand.nodes, good)?;
        }
        for Converter { input, output, input_limit, .. } in &self.converters {
            let good = output.emf.value > 0.0 && output.emf.value.is_finite() && limit(output.limit);
            fits(*input, limit(*input_limit))?;
            fits(output.nodes, good && output.resistance.value > 0.0 && output.resistance.value.is_finite())?;
        }
        for (index, relay) in self.relays.iter().enumerate() {
            relay.senses.into_iter().try_for_each(node)?;
            let [opens, closes] = [relay.at.opens.value, relay.at.closes.value];
            if relay.branch >= self.branches.len() || !(opens < closes && opens.is_finite() && closes.is_finite()) {
                return Err(NetworkError::Relay(index));
            }
        }
        self.check_converters()
    }

    /// That no converter feeds itself, and none feed each other in a circle.
    fn check_converters(&self) -> Result<(), NetworkError> {
        if self.converters.is_empty() {
            return Ok(());
        }
        let island = super::islands(self.nodes, self.branches.iter().map(|branch| branch.nodes));
        let side = |node: usize| island.get(node).copied().unwrap_or(node);
        let mut sides = Vec::with_capacity(self.converters.len());
        for (index, Converter { input, output, .. }) in self.converters.iter().enumerate() {
            if side(input[0]) == side(output.nodes[0]) {
                return Err(NetworkError::FeedsItself { converter: index, input: input[0], output: output.nodes[0] });
            }
            sides.push([side(input[0]), side(output.nodes[0])]);
        }
        // Whatever is left when no converter is left whose output feeds no other: circles, and what feeds them.
        let mut left: Vec<usize> = (0..sides.len()).collect();
        loop {
            let feeds = |one: &usize| {
                let output = sides.get(*one).map(|[_, output]| *output);
                left.iter().any(|other| sides.get(*other).map(|[input, _]| *input) == output)
            };
            let kept: Vec<usize> = left.iter().copied().filter(feeds).collect();
            if kept.len() == left.len() {
                break;
            }
            left = kept;
        }
        // Follow one circle, so that what merely feeds it is not named.
        let Some(mut at) = left.first().copied() else { return Ok(()) };
        let mut trail = Vec::new();
        while !trail.contains(&at) {
            trail.push(at);
            let output = sides.get(at).map(|[_, output]| *output);
            let next = left.iter().copied().find(|other| sides.get(*other).map(|[input, _]| *input) == output);
            at = next.unwrap_or(at);
        }
        let converters: Vec<usize> = trail.iter().copied().skip_while(|one| *one != at).collect();
        let nodes = converters.iter().filter_map(|one| self.converters.get(*one)).map(|one| one.output.nodes[0]);
        Err(NetworkError::ConverterLoop { nodes: nodes.collect(), converters })
    }
}
