//! All that a solution works on, and what of it the topology alone decides.

use super::elements::{Network, Source};
use super::factor::Factor;
use super::islands::islands;
use super::order::Order;
use super::solver::{DemandState, Power, SourceState};

/// All that a solution works on; what the topology alone decides is kept for the next network of the same one.
pub(super) struct Parts {
    /// Numbers of branches, sources, converters and demands, and the nodes of all of them.
    pub(super) topology: ([usize; 5], Vec<[usize; 2]>),
    pub(super) order: Order,
    pub(super) factor: Factor,
    /// Matrix and right side without what depends on the voltages.
    pub(super) base: Factor,
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

/// Numbers of nodes, branches, sources, converters and demands.
pub(super) fn counts(network: &Network) -> [usize; 5] {
    let Network { nodes, branches, sources, demands, converters } = network;
    [*nodes, branches.len(), sources.len(), converters.len(), demands.len()]
}

/// The nodes of everything, in the order in which elements are numbered.
pub(super) fn edges(network: &Network) -> impl Iterator<Item = [usize; 2]> {
    let joining = network.branches.iter().map(|one| one.nodes).chain(all_sources(network).map(|one| one.nodes));
    let demands = network.demands.iter().map(|one| one.nodes);
    joining.chain(demands).chain(network.converters.iter().map(|one| one.input))
}

impl Parts {
    /// All that does not depend on values: order of elimination, zeros, room.
    pub(super) fn of(network: &Network) -> Self {
        let nodes = network.nodes;
        let edges: Vec<[usize; 2]> = edges(network).collect();
        let joining = network.branches.len() + network.sources.len() + network.converters.len();
        let joined = islands(nodes, edges.iter().take(joining).copied());
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
        let order = Order::new(nodes, &edges, &grounded);
        Self {
            factor: Factor::new(&order),
            base: Factor::new(&order),
            powers: Vec::with_capacity(network.demands.len() + network.converters.len()),
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
            topology: (counts(network), edges),
        }
    }
}

/// The sources, then the converters' outputs.
pub(super) fn all_sources(network: &Network) -> impl Iterator<Item = &Source> {
    network.sources.iter().chain(network.converters.iter().map(|one| &one.output))
}
