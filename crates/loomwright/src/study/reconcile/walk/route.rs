//! The order in which somebody walks through a plan: zone by zone, from the batteries outward.

use std::collections::VecDeque;

use crate::installation::{Installation, NodeId};

/// What is measured at one halt.
pub(super) enum Item {
    /// A run, or the legs of a circuit.
    Runs(Vec<usize>),
    /// A link.
    Link(usize),
}

/// How many runs and links lie between each node and the nearest battery.
pub(super) struct Route(Vec<usize>);

impl Route {
    pub(super) fn of(plan: &Installation) -> Self {
        let edges = plan.runs.iter().map(|run| [run.from, run.to]).chain(plan.links.iter().map(|link| link.nodes));
        let mut neighbours = vec![Vec::new(); plan.nodes.len()];
        for [one, other] in edges {
            for (here, there) in [(one, other), (other, one)] {
                if let Some(list) = neighbours.get_mut(here.0) {
                    list.push(there);
                }
            }
        }
        // What no battery reaches, such as an array, comes last.
        let mut far = vec![usize::MAX; plan.nodes.len()];
        let mut queue: VecDeque<NodeId> = plan.batteries.iter().flat_map(|battery| battery.nodes).collect();
        for node in &queue {
            if let Some(slot) = far.get_mut(node.0) {
                *slot = 0;
            }
        }
        while let Some(here) = queue.pop_front() {
            let next = far.get(here.0).map_or(usize::MAX, |far| far.saturating_add(1));
            for there in neighbours.get(here.0).into_iter().flatten() {
                if let Some(slot) = far.get_mut(there.0)
                    && *slot == usize::MAX
                {
                    *slot = next;
                    queue.push_back(*there);
                }
            }
        }
        Self(far)
    }

    fn far(&self, node: NodeId) -> usize {
        self.0.get(node.0).copied().unwrap_or(usize::MAX)
    }

    /// The end of a run that is nearer to a battery.
    fn near(&self, ends: [NodeId; 2]) -> (usize, bool) {
        let [start, end] = ends.map(|node| self.far(node));
        (start.min(end), end < start)
    }

    /// These runs and links in walking order.
    pub(super) fn items(&self, plan: &Installation, runs: &[usize], links: &[usize]) -> Vec<Item> {
        let mut found: Vec<(Option<usize>, usize, Item)> = Vec::new();
        for index in runs {
            let Some(run) = plan.runs.get(*index) else { continue };
            // The second leg goes with the first.
            if run.twin.is_some_and(|twin| twin < *index && runs.contains(&twin)) {
                continue;
            }
            let (far, from_end) = self.near([run.from, run.to]);
            let stretch = if from_end { run.segments.last() } else { run.segments.first() };
            let twin = run.twin.filter(|twin| runs.contains(twin));
            let legs = [Some(*index), twin].into_iter().flatten().collect();
            found.push((stretch.map(|stretch| stretch.zone), far, Item::Runs(legs)));
        }
        for index in links {
            let Some(link) = plan.links.get(*index) else { continue };
            let (far, _) = self.near(link.nodes);
            found.push((zone_at(plan, link.nodes), far, Item::Link(*index)));
        }
        // Stable: what is equally far stays in the order of the plan.
        found.sort_by_key(|(_, far, _)| *far);
        let mut zones: Vec<Option<usize>> = Vec::new();
        for (zone, _, _) in &found {
            if !zones.contains(zone) {
                zones.push(*zone);
            }
        }
        found.sort_by_key(|(zone, _, _)| zones.iter().position(|known| known == zone));
        found.into_iter().map(|(_, _, item)| item).collect()
    }
}

/// The zone of a part between two nodes: as stated, else that in which a run at it ends.
fn zone_at(plan: &Installation, nodes: [NodeId; 2]) -> Option<usize> {
    let stated = nodes.iter().find_map(|node| plan.nodes.get(node.0)?.zone);
    let beside = || {
        plan.runs.iter().find_map(|run| {
            if nodes.contains(&run.to) {
                run.segments.last().map(|stretch| stretch.zone)
            } else if nodes.contains(&run.from) {
                run.segments.first().map(|stretch| stretch.zone)
            } else {
                None
            }
        })
    };
    stated.or_else(beside)
}
