//! Which nodes hang together.

/// The lowest node of the island that each node belongs to, for edges between nodes below `nodes`.
pub(crate) fn islands(nodes: usize, edges: impl IntoIterator<Item = [usize; 2]>) -> Vec<usize> {
    let mut parent: Vec<usize> = (0..nodes).collect();
    for [one, other] in edges {
        let (one, other) = (root(&mut parent, one), root(&mut parent, other));
        let (low, high) = (one.min(other), one.max(other));
        if let Some(slot) = parent.get_mut(high) {
            *slot = low;
        }
    }
    (0..nodes).map(|node| root(&mut parent, node)).collect()
}

/// The root of a node's tree, halving the way there.
fn root(parent: &mut [usize], mut node: usize) -> usize {
    while let Some(up) = parent.get(node).copied() {
        if up == node {
            break;
        }
        let higher = parent.get(up).copied().unwrap_or(up);
        if let Some(slot) = parent.get_mut(node) {
            *slot = higher;
        }
        node = higher;
    }
    node
}
