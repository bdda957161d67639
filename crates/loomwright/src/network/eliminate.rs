//! Symmetric elimination of a nodal conductance matrix, nodes of fewest neighbours first.
//!
//! Radial networks have no fill at all, so the cost grows with the number of nodes; every loop adds a
//! little. Bare numbers: siemens, amperes, volts.

use std::collections::BTreeMap;

/// One eliminated node: its number, its pivot, and (neighbour, multiplier).
type Step = (usize, f64, Vec<(usize, f64)>);

/// A factorised conductance matrix; the reference node of each island is held at 0 V.
pub(super) struct Factor {
    /// In order of elimination.
    steps: Vec<Step>,
    nodes: usize,
}

/// Nodes that nothing holds: no source, no reference.
pub(super) struct Floating(pub(super) usize);

impl Factor {
    /// Factorises the matrix of `branches` (two nodes and a conductance) with the `grounded` nodes at 0 V.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: every index comes from `0..nodes`, checked at the border")]
    pub(super) fn new(nodes: usize, branches: &[([usize; 2], f64)], grounded: &[bool]) -> Result<Self, Floating> {
        let mut diagonal = vec![0.0; nodes];
        let mut rows: Vec<BTreeMap<usize, f64>> = vec![BTreeMap::new(); nodes];
        for ([one, other], conductance) in branches {
            for (here, there) in [(*one, *other), (*other, *one)] {
                diagonal[here] += conductance;
                if !grounded[here] && !grounded[there] {
                    *rows[here].entry(there).or_insert(0.0) += conductance;
                }
            }
        }
        // Buckets by number of neighbours; stale entries are skipped.
        let mut buckets: Vec<Vec<usize>> = Vec::new();
        let put = |buckets: &mut Vec<Vec<usize>>, degree: usize, node: usize| {
            if buckets.len() <= degree {
                buckets.resize(degree + 1, Vec::new());
            }
            buckets[degree].push(node);
        };
        let mut left = 0;
        let mut done = grounded.to_vec();
        for node in (0..nodes).rev().filter(|node| !grounded[*node]) {
            put(&mut buckets, rows[node].len(), node);
            left += 1;
        }
        let mut steps = Vec::with_capacity(left);
        let mut degree = 0;
        while left > 0 {
            let Some(node) = buckets.get_mut(degree).and_then(Vec::pop) else {
                degree += 1;
                if degree > nodes {
                    break;
                }
                continue;
            };
            if done[node] || rows[node].len() != degree {
                continue;
            }
            done[node] = true;
            left -= 1;
            let row = std::mem::take(&mut rows[node]);
            let pivot = diagonal[node];
            if pivot.is_nan() || pivot <= 1e-12 {
                return Err(Floating(node));
            }
            let neighbours: Vec<(usize, f64)> = row.into_iter().map(|(there, value)| (there, value / pivot)).collect();
            for (index, (one, share)) in neighbours.iter().enumerate() {
                rows[*one].remove(&node);
                diagonal[*one] -= share * share * pivot;
                for (other, other_share) in &neighbours[index + 1..] {
                    let fill = share * other_share * pivot;
                    *rows[*one].entry(*other).or_insert(0.0) += fill;
                    *rows[*other].entry(*one).or_insert(0.0) += fill;
                }
                put(&mut buckets, rows[*one].len(), *one);
                degree = degree.min(rows[*one].len());
            }
            steps.push((node, pivot, neighbours));
        }
        Ok(Self { steps, nodes })
    }

    /// Node voltages for currents injected into each node.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: indices come from the factorisation")]
    pub(super) fn voltages(&self, injected: &[f64]) -> Vec<f64> {
        let mut right = injected.to_vec();
        for (node, _, neighbours) in &self.steps {
            let current = right[*node];
            for (there, share) in neighbours {
                right[*there] += share * current;
            }
        }
        let mut voltages = vec![0.0; self.nodes];
        for (node, pivot, neighbours) in self.steps.iter().rev() {
            let from_neighbours: f64 = neighbours.iter().map(|(there, share)| share * voltages[*there]).sum();
            voltages[*node] = right[*node] / pivot + from_neighbours;
        }
        voltages
    }
}
