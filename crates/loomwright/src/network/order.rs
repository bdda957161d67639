//! The order in which nodes are eliminated, and where each matrix element then stands.
//!
//! Leaves go first, one after the other, each with a single neighbour left: on a radial network that is all, and it is
//! the sweep from the last lamp to the battery. What stays is the net of loops; there nodes of fewest neighbours go
//! first, which keeps what loops fill in small. Either way every node ends in front of all its neighbours.

/// Where everything stands; made once for all values that a network's elements may take.
pub(super) struct Order {
    /// Position of each node; grounded nodes share the last one, which is no unknown.
    pub(super) position: Vec<usize>,
    /// The one later neighbour of each leaf, by position.
    pub(super) parent: Vec<u32>,
    /// Start of each further position's elements in `rows`; one more than there are positions.
    pub(super) starts: Vec<usize>,
    /// Positions of later neighbours.
    pub(super) rows: Vec<usize>,
    /// Where elimination adds to: for each column, for each pair of its rows, the element of the pair.
    pub(super) updates: Vec<usize>,
    /// Element of each edge; edges to a grounded node share the last one, which nothing reads.
    pub(super) element: Vec<usize>,
    /// Number of unknowns.
    pub(super) unknowns: usize,
}

const NONE: usize = usize::MAX;

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

impl Order {
    /// The order for a network of edges, with the grounded nodes known.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: nodes are checked at the border, positions made here")]
    pub(super) fn new(nodes: usize, edges: &[[usize; 2]], grounded: &[bool]) -> Self {
        // A leaf is found by its degree, its neighbour and edge by the exclusive-or of what is left of them.
        let mut degree = vec![0_usize; nodes];
        let mut others = vec![0_usize; nodes];
        let mut lines = vec![0_usize; nodes];
        for (index, [one, other]) in edges.iter().enumerate() {
            if grounded[*one] || grounded[*other] || one == other {
                continue;
            }
            for (here, there) in [(*one, *other), (*other, *one)] {
                degree[here] += 1;
                others[here] ^= there;
                lines[here] ^= index;
            }
        }
        let unknowns = grounded.iter().filter(|grounded| !**grounded).count();
        let mut position = vec![NONE; nodes];
        let (mut leaves, mut element) = (Vec::with_capacity(unknowns), vec![NONE; edges.len()]);
        for start in (0..nodes).rev() {
            let mut node = start;
            while degree[node] == 1 && position[node] == NONE {
                let (there, line) = (others[node], lines[node]);
                position[node] = leaves.len();
                element[line] = leaves.len();
                leaves.push(there);
                degree[node] = 0;
                degree[there] -= 1;
                others[there] ^= node;
                lines[there] ^= line;
                node = there;
            }
        }
        let core = Core::of(edges, grounded, &position);
        let mut next = leaves.len();
        for node in &core.order {
            position[*node] = next;
            next += 1;
        }
        // What is left alone after its leaves are gone.
        for node in 0..nodes {
            if grounded[node] {
                position[node] = unknowns;
            } else if position[node] == NONE {
                position[node] = next;
                next += 1;
            }
        }
        let parent: Vec<u32> = leaves.iter().map(|node| small(position[*node])).collect();
        let first = parent.len();
        let (mut starts, mut rows) = (Vec::with_capacity(unknowns - first + 1), Vec::new());
        starts.push(0);
        for neighbours in &core.neighbours {
            let from = rows.len();
            rows.extend(neighbours.iter().map(|node| position[*node]));
            rows[from..].sort_unstable();
            starts.push(rows.len());
        }
        starts.resize(unknowns - first + 1, rows.len());
        let place = |column: usize, row: usize| {
            let range = starts[column - first]..starts[column - first + 1];
            rows[range.clone()].binary_search(&row).map_or(NONE, |at| range.start + at)
        };
        let mut updates = Vec::new();
        for column in starts.windows(2) {
            let column = &rows[column[0]..column[1]];
            for (at, one) in column.iter().enumerate() {
                updates.extend(column[at + 1..].iter().map(|other| first + place(*one, *other)));
            }
        }
        let spare = first + rows.len();
        for ([one, other], element) in edges.iter().zip(&mut element) {
            if *element == NONE {
                let (low, high) = (position[*one].min(position[*other]), position[*one].max(position[*other]));
                *element = if high == unknowns || low == high { spare } else { first + place(low, high) };
            }
        }
        Self { position, parent, starts, rows, updates, element, unknowns }
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
    fn of(edges: &[[usize; 2]], grounded: &[bool], position: &[usize]) -> Self {
        // Numbered by themselves: loops are few, whatever hangs on them.
        let mut number = vec![NONE; position.len()];
        let mut names = Vec::new();
        let mut around: Vec<Vec<usize>> = Vec::new();
        let inside = |node: usize| !grounded[node] && position[node] == NONE;
        for [one, other] in edges.iter().filter(|[one, other]| one != other && inside(*one) && inside(*other)) {
            let [one, other] = [*one, *other].map(|node| {
                if number[node] == NONE {
                    number[node] = names.len();
                    names.push(node);
                    around.push(Vec::new());
                }
                number[node]
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
