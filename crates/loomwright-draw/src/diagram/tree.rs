//! A spanning tree of each part of a graph: what is drawn as a line; the rest becomes pairs of marks.

use std::collections::VecDeque;

use loomwright::installation::Installation;

use super::graph::{Graph, Part};

/// What leaves a vertex, away from the root.
#[derive(Clone, Copy, Debug)]
pub(super) enum Item {
    /// Something that hangs there.
    Hang(Part),
    /// An edge of the tree to the next vertex.
    Edge {
        /// Which.
        edge: usize,
        /// Where it leads.
        to: usize,
    },
    /// The start of an edge that closes a loop: drawn as far as a mark.
    Out {
        /// Which.
        edge: usize,
        /// Number of the mark.
        number: usize,
    },
    /// Its end: a mark alone.
    In {
        /// Which.
        edge: usize,
        /// Number of the mark.
        number: usize,
    },
    /// Where a part that stands elsewhere on the page goes on.
    From {
        /// The vertex that it comes from.
        vertex: usize,
        /// Number of the mark.
        number: usize,
    },
    /// Where a bar goes on elsewhere with what else hangs on it.
    On {
        /// The vertex.
        vertex: usize,
        /// Number of the mark.
        number: usize,
    },
}

/// The tree of every connected part.
#[derive(Clone, Debug, Default)]
pub(super) struct Tree {
    /// One root for each part.
    pub(super) roots: Vec<usize>,
    /// By vertex, what leaves it away from the root.
    pub(super) items: Vec<Vec<Item>>,
    /// By vertex, whether only sources hang on it and beyond.
    pub(super) sources: Vec<bool>,
    /// By vertex, the one before it.
    pub(super) parent: Vec<Option<usize>>,
    /// All vertices, every one after its parent.
    pub(super) order: Vec<usize>,
}

impl Tree {
    /// The tree of a graph; marks are numbered on from `number`.
    pub(super) fn of(graph: &Graph, plan: &Installation, number: &mut usize) -> Self {
        let vertices = graph.here.len();
        let mut tree = Self {
            roots: roots(graph, plan),
            items: graph.hangs.iter().map(|hangs| hangs.iter().copied().map(Item::Hang).collect()).collect(),
            sources: vec![false; vertices],
            parent: vec![None; vertices],
            order: Vec::new(),
        };
        let mut seen = vec![false; vertices];
        let mut told = vec![false; graph.edges.len()];
        let mut queue = VecDeque::new();
        for root in tree.roots.clone() {
            visit(&mut seen, root);
            queue.push_back(root);
            while let Some(vertex) = queue.pop_front() {
                tree.order.push(vertex);
                for edge in graph.at.get(vertex).into_iter().flatten() {
                    let (Some(of), Some(done)) = (graph.edges.get(*edge), told.get_mut(*edge)) else { continue };
                    if std::mem::replace(done, true) {
                        continue;
                    }
                    let other = if of.ends[0] == vertex { of.ends[1] } else { of.ends[0] };
                    if visit(&mut seen, other) {
                        tree.push(vertex, Item::Edge { edge: *edge, to: other });
                        if let Some(parent) = tree.parent.get_mut(other) {
                            *parent = Some(vertex);
                        }
                        queue.push_back(other);
                    } else {
                        *number += 1;
                        tree.push(of.ends[0], Item::Out { edge: *edge, number: *number });
                        tree.push(of.ends[1], Item::In { edge: *edge, number: *number });
                    }
                }
            }
        }
        tree.sources = tree.only_sources(graph, plan);
        tree
    }

    fn push(&mut self, vertex: usize, item: Item) {
        if let Some(items) = self.items.get_mut(vertex) {
            items.push(item);
        }
    }

    /// Whether an item has only sources in it.
    pub(super) fn is_up(&self, item: &Item, plan: &Installation) -> bool {
        match item {
            Item::Hang(part) => part.is_source(plan),
            Item::Edge { to, .. } => self.sources.get(*to).copied().unwrap_or(false),
            _ => false,
        }
    }

    fn only_sources(&self, graph: &Graph, plan: &Installation) -> Vec<bool> {
        let mut counts = vec![[0_usize; 2]; graph.here.len()];
        for vertex in self.order.iter().rev() {
            let hangs = graph.hangs.get(*vertex).into_iter().flatten();
            let mut sum = counts.get(*vertex).copied().unwrap_or_default();
            for hang in hangs {
                sum[0] += usize::from(hang.is_source(plan));
                sum[1] += usize::from(hang.is_sink(plan));
            }
            for at in [Some(*vertex), self.parent.get(*vertex).copied().flatten()].into_iter().flatten() {
                if let Some(slot) = counts.get_mut(at) {
                    let before = if at == *vertex { [0, 0] } else { *slot };
                    *slot = [before[0] + sum[0], before[1] + sum[1]];
                }
            }
        }
        counts.into_iter().map(|[sources, sinks]| sources > 0 && sinks == 0).collect()
    }
}

/// Marks a vertex as seen; whether it was not before.
fn visit(seen: &mut [bool], vertex: usize) -> bool {
    seen.get_mut(vertex).is_some_and(|seen| !std::mem::replace(seen, true))
}

/// How much a vertex is the place to start from: the first alternator, else the largest battery, else another source, else
/// a bar.
fn rank(graph: &Graph, plan: &Installation, vertex: usize) -> (u8, f64) {
    let energy = |index: &usize| plan.batteries.get(*index).map_or(0.0, |one| one.capacity.value * one.nominal.value);
    let hangs = graph.hangs.get(vertex).into_iter().flatten();
    let best = hangs.map(|hang| match hang {
        Part::Alternator(_) => (4, 0.0),
        Part::Battery(index) | Part::Pole(index) => (3, energy(index)),
        part if part.is_source(plan) => (2, 0.0),
        _ => (0, 0.0),
    });
    let bar = u8::from(graph.named.get(vertex).copied().unwrap_or(false));
    best.fold(
        (bar, 0.0),
        |best, next| if next.0 > best.0 || (next.0 == best.0 && next.1 > best.1) { next } else { best },
    )
}

/// A root for every connected part: the first bar from its best source on; the parts with the best sources first.
fn roots(graph: &Graph, plan: &Installation) -> Vec<usize> {
    let mut seen = vec![false; graph.here.len()];
    let mut found: Vec<((u8, f64), usize)> = Vec::new();
    let mut queue = VecDeque::new();
    for start in 0..graph.here.len() {
        if !graph.here.get(start).copied().unwrap_or(false) || !visit(&mut seen, start) {
            continue;
        }
        let mut best = (rank(graph, plan, start), start);
        queue.push_back(start);
        while let Some(vertex) = queue.pop_front() {
            let rank = rank(graph, plan, vertex);
            if rank.0 > best.0.0 || (rank.0 == best.0.0 && rank.1 > best.0.1) {
                best = (rank, vertex);
            }
            for edge in graph.at.get(vertex).into_iter().flatten().filter_map(|edge| graph.edges.get(*edge)) {
                let fresh: Vec<usize> = edge.ends.into_iter().filter(|end| visit(&mut seen, *end)).collect();
                queue.extend(fresh);
            }
        }
        found.push((best.0, first_bar(graph, best.1)));
    }
    // Sorting keeps the plan's order among equals.
    found.sort_by_key(|found| std::cmp::Reverse(found.0.0));
    found.into_iter().map(|(_, root)| root).collect()
}

/// The first bar on the only way from a vertex; the vertex itself where there is none.
fn first_bar(graph: &Graph, start: usize) -> usize {
    let count = |list: &[Vec<usize>], vertex: usize| list.get(vertex).map_or(0, Vec::len);
    let hangs = |vertex: usize| graph.hangs.get(vertex).map_or(0, Vec::len);
    let (mut at, mut came, mut steps) = (start, None, 0);
    loop {
        let edges = count(&graph.at, at);
        if edges + hangs(at) > 2 || graph.named.get(at).copied().unwrap_or(false) {
            return at;
        }
        let next = graph.at.get(at).into_iter().flatten().find(|edge| Some(**edge) != came).copied();
        let Some((edge, of)) = next.and_then(|edge| Some((edge, graph.edges.get(edge)?))) else { return start };
        if steps > graph.edges.len() || (steps > 0 && hangs(at) > 0) {
            return start;
        }
        at = if of.ends[0] == at { of.ends[1] } else { of.ends[0] };
        came = Some(edge);
        steps += 1;
    }
}
