//! All that a solution works on, and what of it the topology alone decides.

use super::elements::{Network, Source};
use super::factor::Factor;
use super::islands::islands;
use super::order::{Order, small, wide};
use super::solver::{DemandState, Power, SourceState};

/// All that a solution works on; what the topology alone decides is kept for the next network of the same one.
pub(super) struct Parts {
    /// Numbers of branches, sources, converters and demands, and the nodes of all of them.
    topology: ([usize; 5], Vec<[u32; 2]>),
    pub(super) order: Order,
    pub(super) factor: Factor,
    /// Matrix and right side without what depends on the voltages.
    pub(super) base: Factor,
    pub(super) powers: Vec<Power>,
    pub(super) blocked: Vec<bool>,
    /// Relays that have opened: they stay open, and chatter if they see the voltage at which they close again.
    pub(super) let_go: Vec<bool>,
    /// Sources that were let hold again as another turned, and what they were.
    pub(super) roused: Vec<(usize, SourceState)>,
    /// Of the sources, then of the converters' outputs.
    pub(super) sources: Vec<SourceState>,
    /// Of the demands that are no constant powers.
    pub(super) others: Vec<DemandState>,
    /// Parts that hang together when everything conducts.
    pub(super) joined: Vec<usize>,
    /// And when something does not.
    pub(super) apart: Vec<usize>,
    /// Whether a source reaches the node.
    pub(super) fed: Vec<bool>,
    /// Positions that give an island without a zero its own.
    pub(super) ties: Vec<usize>,
    /// Whether the two above are those of everything conducting.
    pub(super) whole: bool,
    /// By position.
    pub(super) voltages: Vec<f64>,
    pub(super) next: Vec<f64>,
    /// What every constant power is multiplied by.
    pub(super) share: f64,
    /// While the margin is sought: converters take what they took, and nothing locks out.
    pub(super) frozen: bool,
    /// What has been worked on these so far; see [`Order::work`].
    pub(super) work: usize,
}

/// Numbers of nodes, branches, sources, converters and demands.
fn counts(network: &Network) -> [usize; 5] {
    let Network { nodes, branches, sources, demands, converters, relays: _ } = network;
    [*nodes, branches.len(), sources.len(), converters.len(), demands.len()]
}

/// The nodes of everything, in the order in which elements are numbered, as long as `visit` goes on.
fn visit_edges(network: &Network, mut visit: impl FnMut([usize; 2]) -> bool) -> bool {
    // Loop by loop: a chain of iterators is several times slower.
    network.branches.iter().all(|one| visit(one.nodes))
        && all_sources(network).all(|one| visit(one.nodes))
        && network.demands.iter().all(|one| visit(one.nodes))
        && network.converters.iter().all(|one| visit(one.input))
}

impl Parts {
    /// All that does not depend on values: order of elimination, zeros, room.
    pub(super) fn of(network: &Network) -> Self {
        let nodes = network.nodes;
        let counts = counts(network);
        let joining = network.branches.len() + network.sources.len() + network.converters.len();
        let mut edges: Vec<[u32; 2]> = Vec::with_capacity(joining + network.demands.len() + network.converters.len());
        visit_edges(network, |nodes| {
            edges.push(nodes.map(small));
            true
        });
        let joined = islands(nodes, edges.iter().take(joining).map(|nodes| nodes.map(wide)));
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
            let_go: Vec::new(),
            roused: Vec::new(),
            sources: vec![SourceState::Holds; network.sources.len() + network.converters.len()],
            others: vec![DemandState::Draws; network.demands.len()],
            joined,
            apart: Vec::new(),
            fed: Vec::new(),
            ties: Vec::new(),
            whole: false,
            voltages: vec![0.0; order.unknowns + 1],
            next: vec![0.0; order.unknowns + 1],
            share: 1.0,
            frozen: false,
            work: 0,
            order,
            topology: (counts, edges),
        }
    }

    /// Whether a network has the topology of these.
    pub(super) fn fit(&self, network: &Network) -> bool {
        let mut kept = self.topology.1.iter();
        self.topology.0 == counts(network)
            && visit_edges(network, |nodes| kept.next().is_some_and(|kept| kept.map(wide) == nodes))
    }
}

/// The sources, then the converters' outputs.
pub(super) fn all_sources(network: &Network) -> impl Iterator<Item = &Source> {
    network.sources.iter().chain(network.converters.iter().map(|one| &one.output))
}
