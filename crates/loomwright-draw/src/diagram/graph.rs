//! A judged plan as two graphs: what the positive side joins, and what is left of the negative side.

use loomwright::installation::{Installation, Leg, LinkKind, NodeId};

/// What is drawn, by its index in the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Part {
    /// A run.
    Run(usize),
    /// A link.
    Link(usize),
    /// A converter.
    Converter(usize),
    /// A battery.
    Battery(usize),
    /// An alternator.
    Alternator(usize),
    /// A load.
    Load(usize),
    /// A solar array whose modules are stated.
    Array(usize),
    /// A solar array that only its controller tells of.
    Panels(usize),
    /// The negative of a battery.
    Pole(usize),
    /// The negative of an alternator.
    AlternatorPole(usize),
    /// The negative of a converter's output.
    OutputPole(usize),
    /// A node by its own name.
    Node(usize),
    /// What an inverter feeds.
    Mains(usize),
    /// The circuits that return to a node.
    Returns(usize),
    /// The sign of the chassis.
    Chassis,
}

impl Part {
    /// Whether current comes from it.
    pub(super) fn is_source(self, plan: &Installation) -> bool {
        match self {
            Self::Battery(_)
            | Self::Alternator(_)
            | Self::Array(_)
            | Self::Panels(_)
            | Self::Pole(_)
            | Self::AlternatorPole(_)
            | Self::OutputPole(_) => true,
            Self::Converter(index) => plan.converters.get(index).is_some_and(|one| one.input.is_none()),
            _ => false,
        }
    }

    /// Whether it has to stand below its bar.
    pub(super) fn is_sink(self, plan: &Installation) -> bool {
        match self {
            Self::Load(_) | Self::Returns(_) | Self::Chassis => true,
            Self::Converter(index) => plan.converters.get(index).is_some_and(|one| one.output.is_none()),
            _ => false,
        }
    }
}

/// What joins two vertices.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    /// What it is.
    pub(super) part: Part,
    /// From where to where.
    pub(super) ends: [usize; 2],
}

/// Vertices with what hangs on them, and edges.
///
/// A vertex is a node of the plan; behind those, one for the mains side of every converter.
#[derive(Clone, Debug, Default)]
pub(super) struct Graph {
    /// Edges in the order of the plan.
    pub(super) edges: Vec<Edge>,
    /// By vertex, the edges at it.
    pub(super) at: Vec<Vec<usize>>,
    /// By vertex, what hangs on it.
    pub(super) hangs: Vec<Vec<Part>>,
    /// By vertex, whether it is drawn here.
    pub(super) here: Vec<bool>,
    /// By vertex, whether it shows its name even where only one way leads through it.
    pub(super) named: Vec<bool>,
}

impl Graph {
    fn new(vertices: usize) -> Self {
        Self {
            edges: Vec::new(),
            at: vec![Vec::new(); vertices],
            hangs: vec![Vec::new(); vertices],
            here: vec![false; vertices],
            named: vec![false; vertices],
        }
    }

    fn show(&mut self, vertex: usize) {
        if let Some(here) = self.here.get_mut(vertex) {
            *here = true;
        }
    }

    fn name(&mut self, vertex: usize) {
        self.show(vertex);
        if let Some(named) = self.named.get_mut(vertex) {
            *named = true;
        }
    }

    fn hang(&mut self, vertex: usize, part: Part) {
        self.show(vertex);
        if let Some(hangs) = self.hangs.get_mut(vertex) {
            hangs.push(part);
        }
    }

    fn join(&mut self, part: Part, ends: [usize; 2]) {
        let edge = self.edges.len();
        self.edges.push(Edge { part, ends });
        for end in ends {
            self.show(end);
            // An edge that ends where it starts stands there once.
            if let Some(at) = self.at.get_mut(end).filter(|at| at.last() != Some(&edge)) {
                at.push(edge);
            }
        }
    }
}

/// Which nodes belong to the negative side: joined to the negative of a device or to the chassis, and to no positive.
fn negative(plan: &Installation) -> Vec<bool> {
    let mut group: Vec<usize> = (0..plan.nodes.len()).collect();
    let runs = plan.runs.iter().map(|run| [run.from.0, run.to.0]);
    for [one, other] in runs.chain(plan.links.iter().map(|link| link.nodes.map(|node| node.0))) {
        let (one, other) = (first(&mut group, one), first(&mut group, other));
        if let Some(slot) = group.get_mut(one.max(other)) {
            *slot = one.min(other);
        }
    }
    let batteries = plan.batteries.iter().map(|one| one.nodes);
    let alternators = plan.alternators.iter().map(|one| one.nodes);
    let outputs = plan.converters.iter().filter_map(|one| one.output);
    let inputs = plan.converters.iter().filter_map(|one| one.input);
    let sources: Vec<[NodeId; 2]> = batteries.chain(alternators).chain(outputs).collect();
    let sinks: Vec<[NodeId; 2]> = inputs.chain(plan.loads.iter().filter_map(|one| one.nodes)).collect();
    let mut sides = vec![false; group.len()];
    let mut mark = |node: usize, side: bool| {
        let root = first(&mut group, node);
        if let Some(slot) = sides.get_mut(root) {
            *slot = side;
        }
    };
    for [_, minus] in sources.iter().chain(&sinks) {
        mark(minus.0, true);
    }
    if let Some(chassis) = plan.chassis {
        mark(chassis.0, true);
    }
    for run in plan.runs.iter().filter(|run| run.leg == Leg::Negative) {
        mark(run.from.0, true);
    }
    for run in plan.runs.iter().filter(|run| run.leg == Leg::Positive) {
        mark(run.from.0, false);
    }
    for [plus, _] in sources.iter().chain(&sinks) {
        mark(plus.0, false);
    }
    let roots: Vec<usize> = (0..group.len()).map(|node| first(&mut group, node)).collect();
    roots.into_iter().map(|root| sides.get(root).copied().unwrap_or(false)).collect()
}

/// The first node of a group; the way to it is shortened for the next who asks.
fn first(group: &mut [usize], node: usize) -> usize {
    let mut at = node;
    while let Some(next) = group.get(at).copied().filter(|next| *next != at) {
        let after = group.get(next).copied().unwrap_or(next);
        if let Some(slot) = group.get_mut(at) {
            *slot = after;
        }
        at = after;
    }
    at
}

/// Which nodes are busbars: no terminal of a device, and not the chassis. As the plan says it of one node, at once for all.
fn bars(plan: &Installation) -> Vec<bool> {
    let mut bars = vec![true; plan.nodes.len()];
    let batteries = plan.batteries.iter().flat_map(|one| one.nodes);
    let alternators = plan.alternators.iter().flat_map(|one| one.nodes);
    let ports = plan.converters.iter().flat_map(|one| one.input.into_iter().chain(one.output).flatten());
    let loads = plan.loads.iter().filter_map(|one| one.nodes).flatten();
    let links = plan.links.iter().flat_map(|one| one.nodes);
    for node in batteries.chain(alternators).chain(ports).chain(loads).chain(links).chain(plan.chassis) {
        if let Some(bar) = bars.get_mut(node.0) {
            *bar = false;
        }
    }
    bars
}

/// What a link is that only stands for the way of a circuit back through the chassis: that circuit's run.
pub(super) fn chassis_path(plan: &Installation, link: usize) -> Option<usize> {
    let link = plan.links.get(link).filter(|link| link.kind == LinkKind::Joint)?;
    let circuit = link.name.strip_suffix(" chassis path")?;
    (plan.chassis == Some(link.nodes[1])).then_some(())?;
    plan.runs.iter().position(|run| run.twin.is_none() && run.circuit.as_deref() == Some(circuit))
}

/// The other leg of a positive run, where it goes back on the negative side.
pub(super) fn return_of(plan: &Installation, run: usize) -> Option<usize> {
    let of = plan.runs.get(run).filter(|run| run.leg == Leg::Positive)?;
    of.twin.filter(|twin| plan.runs.get(*twin).is_some_and(|twin| twin.leg == Leg::Negative))
}

/// The positive side and the negative side of a plan.
pub(super) fn sides(plan: &Installation) -> [Graph; 2] {
    let nodes = plan.nodes.len();
    let (negative, bars) = (negative(plan), bars(plan));
    let minus = |node: NodeId| negative.get(node.0).copied().unwrap_or(false);
    let mut above = Graph::new(nodes + plan.converters.len());
    let mut below = Graph::new(nodes);
    for (index, run) in plan.runs.iter().enumerate() {
        let ends = [run.from.0, run.to.0];
        if !minus(run.from) {
            above.join(Part::Run(index), ends);
        } else if run.twin.is_none_or(|twin| return_of(plan, twin).is_none()) {
            below.join(Part::Run(index), ends);
        } else {
            below.show(run.from.0);
        }
    }
    for (index, link) in plan.links.iter().enumerate() {
        if chassis_path(plan, index).is_none() {
            let side = if minus(link.nodes[0]) { &mut below } else { &mut above };
            side.join(Part::Link(index), link.nodes.map(|node| node.0));
        }
    }
    for (index, battery) in plan.batteries.iter().enumerate() {
        let [plus, back] = battery.nodes;
        // Between two others of a series bank it is in line.
        if minus(back) {
            above.hang(plus.0, Part::Battery(index));
            below.hang(back.0, Part::Pole(index));
        } else {
            above.join(Part::Battery(index), [back.0, plus.0]);
        }
    }
    for (index, alternator) in plan.alternators.iter().enumerate() {
        let [plus, back] = alternator.nodes;
        above.hang(plus.0, Part::Alternator(index));
        if minus(back) {
            below.hang(back.0, Part::AlternatorPole(index));
        }
    }
    converters(plan, &mut above);
    for (index, load) in plan.loads.iter().enumerate() {
        if let Some(vertex) = load.nodes.map(|[plus, _]| plus.0).or(load.inverter.map(|inverter| nodes + inverter)) {
            above.hang(vertex, Part::Load(index));
        }
    }
    for (node, bar) in bars.iter().enumerate() {
        if *bar {
            let side = if minus(NodeId(node)) { &mut below } else { &mut above };
            side.name(node);
        }
    }
    // What brings current from a converter stands above, where anything but its circuit is joined to it.
    for (index, converter) in plan.converters.iter().enumerate() {
        let joined = |node: &NodeId| below.at.get(node.0).is_some_and(|edges| !edges.is_empty());
        if let Some(back) = converter.output.map(|[_, back]| back).filter(|back| minus(*back) && joined(back)) {
            below.hang(back.0, Part::OutputPole(index));
        }
    }
    returns(plan, &mut below);
    [above, below]
}

fn converters(plan: &Installation, above: &mut Graph) {
    let nodes = plan.nodes.len();
    let mut feeds = vec![false; plan.converters.len()];
    for inverter in plan.loads.iter().filter(|load| load.nodes.is_none()).filter_map(|load| load.inverter) {
        if let Some(feeds) = feeds.get_mut(inverter) {
            *feeds = true;
        }
    }
    for (index, converter) in plan.converters.iter().enumerate() {
        let mains = feeds.get(index).copied().unwrap_or(false).then_some(nodes + index);
        let output = converter.output.map(|[plus, _]| plus.0).or(mains);
        match (converter.input.map(|[plus, _]| plus.0), output) {
            (Some(input), Some(output)) => above.join(Part::Converter(index), [input, output]),
            (Some(at), None) | (None, Some(at)) => above.hang(at, Part::Converter(index)),
            (None, None) => {}
        }
        if converter.array.is_some() {
            let at = plan.array_terminals(index).map(|[plus, _]| plus).or(converter.input.map(|[plus, _]| plus));
            let Some(at) = at else { continue };
            let stated: Vec<usize> = plan
                .arrays
                .iter()
                .enumerate()
                .filter(|(_, array)| array.controller == index)
                .map(|(array, _)| array)
                .collect();
            for array in &stated {
                above.hang(at.0, Part::Array(*array));
            }
            if stated.is_empty() {
                above.hang(at.0, Part::Panels(index));
            }
        }
    }
}

/// The circuits that return to each node, and what else the negative side shows.
fn returns(plan: &Installation, below: &mut Graph) {
    let mut to = vec![false; below.here.len()];
    let backs = plan.runs.iter().enumerate().filter_map(|(index, run)| match return_of(plan, index) {
        Some(twin) => plan.runs.get(twin).map(|twin| twin.from.0),
        None => (run.circuit.is_some() && run.twin.is_none()).then_some(plan.chassis?.0),
    });
    for back in backs {
        if let Some(to) = to.get_mut(back) {
            *to = true;
        }
    }
    for (node, to) in to.into_iter().enumerate() {
        if to {
            below.hang(node, Part::Returns(node));
        }
    }
    if let Some(chassis) = plan.chassis {
        below.hang(chassis.0, Part::Chassis);
        below.name(chassis.0);
    }
    // On this side nothing but its name tells what a terminal belongs to.
    let mut links = vec![false; below.here.len()];
    for link in plan.links.iter().flat_map(|link| link.nodes) {
        if let Some(slot) = links.get_mut(link.0) {
            *slot = true;
        }
    }
    for (node, link) in links.into_iter().enumerate() {
        let hung =
            below.hangs.get(node).is_some_and(|hangs| hangs.iter().any(|hang| !matches!(hang, Part::Returns(_))));
        if !link && !hung && below.here.get(node).copied().unwrap_or(false) {
            below.name(node);
        }
    }
}
