//! The order in which nodes are eliminated, and where each matrix element then stands.
//!
//! Leaves go first, one after the other, each with a single neighbour left: on a radial network that is all, and it is
//! the sweep from the last lamp to the battery. What stays is the net of loops; there nodes of fewest neighbours go
//! first, which keeps what loops fill in small. Either way every node ends in front of all its neighbours.

/// Where everything stands; made once for all values that a network's elements may take.
pub(super) struct Order {
    /// Position of each node; grounded nodes share the last one, which is no unknown.
    pub(super) position: Vec<u32>,
    /// The one later neighbour of each leaf, by position.
    pub(super) parent: Vec<u32>,
    /// Start of each further position's elements in `rows`; one more than there are positions.
    pub(super) starts: Vec<u32>,
    /// Positions of later neighbours.
    pub(super) rows: Vec<u32>,
    /// Where elimination adds to: for each column, for each pair of its rows, the element of the pair.
    pub(super) updates: Vec<u32>,
    /// Positions of each edge's nodes.
    pub(super) ends: Vec<[u32; 2]>,
    /// Element of each edge; edges to a grounded node share the last one, which nothing reads.
    pub(super) element: Vec<u32>,
    /// Number of unknowns.
    pub(super) unknowns: usize,
}

const NONE: u32 = u32::MAX;

/// A number of a node, position or element at half its size: what the kernels run over has to fit the caches.
#[inline]
pub(super) fn small(number: usize) -> u32 {
    // `Network::check` has seen to it that they fit.
    u32::try_from(number).unwrap_or(u32::MAX)
}

/// Such a number at full size.
#[inline]
#[expect(clippy::as_conversions, reason = "32 bits always fit")]
pub(super) fn wide(number: u32) -> usize {
    number as usize
}

/// What is left of a node's edges while leaves are taken off: a leaf is found by its degree, its neighbour and edge by
/// the exclusive-or of what is left of them.
#[derive(Clone, Copy, Default)]
struct Left {
    degree: u32,
    others: u32,
    lines: u32,
}

impl Order {
    /// The order for a network of edges, with the grounded nodes known.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: nodes are checked at the border, positions made here")]
    pub(super) fn new(nodes: usize, edges: &[[u32; 2]], grounded: &[bool]) -> Self {
        let mut left = vec![Left::default(); nodes];
        for (index, [one, other]) in edges.iter().enumerate() {
            if grounded[wide(*one)] || grounded[wide(*other)] || one == other {
                continue;
            }
            for (here, there) in [(*one, *other), (*other, *one)] {
                let left = &mut left[wide(here)];
                left.degree += 1;
                left.others ^= there;
                left.lines ^= small(index);
            }
        }
        let unknowns = grounded.iter().filter(|grounded| !**grounded).count();
        let mut position = vec![NONE; nodes];
        let (mut parent, mut element) = (Vec::with_capacity(unknowns), vec![NONE; edges.len()]);
        for start in (0..nodes).rev() {
            let mut node = start;
            while left[node].degree == 1 && position[node] == NONE {
                let Left { others: there, lines: line, .. } = left[node];
                position[node] = small(parent.len());
                element[wide(line)] = small(parent.len());
                parent.push(there);
                left[node].degree = 0;
                let next = &mut left[wide(there)];
                next.degree -= 1;
                next.others ^= small(node);
                next.lines ^= line;
                node = wide(there);
            }
        }
        let core = Core::of(edges, grounded, &position);
        let mut next = small(parent.len());
        for node in &core.order {
            position[*node] = next;
            next += 1;
        }
        // What is left alone after its leaves are gone.
        for node in 0..nodes {
            if grounded[node] {
                position[node] = small(unknowns);
            } else if position[node] == NONE {
                position[node] = next;
                next += 1;
            }
        }
        // Of each leaf its neighbour's node until here, from here on its position.
        parent.iter_mut().for_each(|node| *node = position[wide(*node)]);
        let first = parent.len();
        let (mut starts, mut rows) = (Vec::with_capacity(unknowns - first + 1), Vec::new());
        starts.push(0);
        for neighbours in &core.neighbours {
            let from = rows.len();
            rows.extend(neighbours.iter().map(|node| position[*node]));
            rows[from..].sort_unstable();
            starts.push(small(rows.len()));
        }
        starts.resize(unknowns - first + 1, small(rows.len()));
        let place = |column: u32, row: u32| {
            let range = wide(starts[wide(column) - first])..wide(starts[wide(column) - first + 1]);
            rows[range.clone()].binary_search(&row).map_or(NONE, |at| small(first + range.start + at))
        };
        let mut updates = Vec::new();
        for column in starts.windows(2) {
            let column = &rows[wide(column[0])..wide(column[1])];
            for (at, one) in column.iter().enumerate() {
                updates.extend(column[at + 1..].iter().map(|other| place(*one, *other)));
            }
        }
        let spare = small(first + rows.len());
        let ends: Vec<[u32; 2]> = edges.iter().map(|nodes| nodes.map(|node| position[wide(node)])).collect();
        for ([one, other], element) in ends.iter().zip(&mut element) {
            if *element == NONE {
                let (low, high) = (*one.min(other), *one.max(other));
                *element = if wide(high) == unknowns || low == high { spare } else { place(low, high) };
            }
        }
        Self { position, parent, starts, rows, updates, ends, element, unknowns }
    }

    /// What one elimination with all around it costs, in steps of its innermost loop: an edge, which is also assembled and
    /// reported, takes as long as some of those.
    pub(super) fn work(&self) -> usize {
        const OF_AN_EDGE: usize = 8;
        OF_AN_EDGE * self.ends.len() + self.updates.len()
    }

    /// Number of off-diagonal elements, with the one that nothing reads.
    pub(super) fn elements(&self) -> usize {
        self.parent.len() + self.rows.len() + 1
    }
}

/// The nodes between which loops close, in order of elimination.
struct Core {
    order: Vec<usize>,
    /// Of each, the neighbours it has when it goes.
    neighbours: Vec<Vec<usize>>,
}

impl Core {
    #[allow(clippy::indexing_slicing, reason = "hot kernel: as above")]
    fn of(edges: &[[u32; 2]], grounded: &[bool], position: &[u32]) -> Self {
        // Numbered by themselves: loops are few, whatever hangs on them.
        let mut number = std::collections::BTreeMap::new();
        let mut names = Vec::new();
        let mut around: Vec<Vec<usize>> = Vec::new();
        let inside = |node: usize| !grounded[node] && position[node] == NONE;
        let closing = edges.iter().map(|nodes| nodes.map(wide));
        for nodes in closing.filter(|[one, other]| one != other && inside(*one) && inside(*other)) {
            let [one, other] = nodes.map(|node| {
                *number.entry(node).or_insert_with(|| {
                    names.push(node);
                    around.push(Vec::new());
                    names.len() - 1
                })
            });
            join(&mut around, one, other);
        }
        let mut buckets: Vec<Vec<usize>> = Vec::new();
        let put = |buckets: &mut Vec<Vec<usize>>, degree: usize, node: usize| {
            if buckets.len() <= degree {
                buckets.resize(degree + 1, Vec::new());
            }
            buckets[degree].push(node);
        };
        for node in (0..names.len()).rev() {
            put(&mut buckets, around[node].len(), node);
        }
        let mut gone = vec![false; names.len()];
        let (mut order, mut neighbours) = (Vec::with_capacity(names.len()), Vec::with_capacity(names.len()));
        let mut degree = 0;
        while order.len() < names.len() && degree < buckets.len() {
            let Some(node) = buckets[degree].pop() else {
                degree += 1;
                continue;
            };
            // Entries that a later one has overtaken are skipped.
            if gone[node] || around[node].len() != degree {
                continue;
            }
            gone[node] = true;
            let ring = std::mem::take(&mut around[node]);
            for (at, one) in ring.iter().enumerate() {
                around[*one].retain(|other| *other != node);
                for other in &ring[at + 1..] {
                    join(&mut around, *one, *other);
                }
            }
            for one in &ring {
                put(&mut buckets, around[*one].len(), *one);
                degree = degree.min(around[*one].len());
            }
            order.push(names[node]);
            neighbours.push(ring.iter().map(|one| names[*one]).collect());
        }
        Self { order, neighbours }
    }
}

/// Makes two nodes neighbours; the shorter list tells whether they are already.
#[allow(clippy::indexing_slicing, reason = "hot kernel: as above")]
fn join(around: &mut [Vec<usize>], one: usize, other: usize) {
    let (short, long) = if around[one].len() < around[other].len() { (one, other) } else { (other, one) };
    if !around[short].contains(&long) {
        around[short].push(long);
        around[long].push(short);
    }
}
