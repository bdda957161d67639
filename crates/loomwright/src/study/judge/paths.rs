//! Ways through the installation: which runs lie between a source and a load, and which fuse a run hides
//! behind.

use std::collections::VecDeque;

use crate::data::tables::constants;
use crate::installation::{Case, ConverterKind, DeviceRef, FuseChoice, Installation, Leg, NodeId, Run};
use crate::network::islands;
use crate::protection;
use crate::quantity::{ElectricCurrent, ElectricPotential, Ratio};

/// What leads from one node to the next, by index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Step {
    /// A run.
    Run(usize),
    /// A link.
    Link(usize),
}

/// The ways through an installation with every link closed, prepared once for many questions.
#[derive(Clone, Debug)]
pub(crate) struct Ways {
    /// By node: neighbour, and what leads there.
    neighbours: Vec<Vec<(usize, Step)>>,
    island: Vec<usize>,
}

impl Ways {
    pub(crate) fn of(installation: &Installation) -> Self {
        let nodes = installation.nodes.len();
        let runs = installation.runs.iter().enumerate().map(|(index, run)| ([run.from.0, run.to.0], Step::Run(index)));
        let links = installation.links.iter().enumerate();
        let links = links.map(|(index, link)| (link.nodes.map(|node| node.0), Step::Link(index)));
        let edges: Vec<([usize; 2], Step)> = runs.chain(links).collect();
        let mut neighbours = vec![Vec::new(); nodes];
        for ([one, other], step) in &edges {
            for (here, there) in [(*one, *other), (*other, *one)] {
                if let Some(list) = neighbours.get_mut(here) {
                    list.push((there, *step));
                }
            }
        }
        Self { neighbours, island: islands(nodes, edges.into_iter().map(|(nodes, _)| nodes)) }
    }

    /// Whether two nodes are one, or joined through runs and links.
    pub(crate) fn reaches(&self, one: NodeId, other: NodeId) -> bool {
        self.island.get(one.0).is_some() && self.island.get(one.0) == self.island.get(other.0)
    }

    /// The runs on the shortest way between two nodes; empty when there is none.
    pub(crate) fn between(&self, from: NodeId, to: NodeId) -> Vec<usize> {
        if self.reaches(from, to) { self.from(from).to(to) } else { Vec::new() }
    }

    /// The nodes of the shortest way between two, both included, each with what leads there from the one before; `None`
    /// when there is no way.
    pub(crate) fn stops(&self, from: NodeId, to: NodeId) -> Option<Vec<(NodeId, Option<Step>)>> {
        self.reaches(from, to).then(|| self.from(from).stops(to))
    }

    /// The shortest ways from a node to every other.
    fn from(&self, start: NodeId) -> Shortest {
        let mut before: Vec<Option<(usize, Option<Step>)>> = vec![None; self.neighbours.len()];
        if let Some(slot) = before.get_mut(start.0) {
            *slot = Some((start.0, None));
        }
        let mut queue = VecDeque::from([start.0]);
        while let Some(here) = queue.pop_front() {
            for (there, step) in self.neighbours.get(here).into_iter().flatten() {
                if let Some(slot @ None) = before.get_mut(*there) {
                    *slot = Some((here, Some(*step)));
                    queue.push_back(*there);
                }
            }
        }
        Shortest(before)
    }

    /// Positive and negative terminal of everything that holds a voltage: each battery, each bank of batteries
    /// in series, alternators, buck converters; with the converter, where it is one.
    fn sources(&self, installation: &Installation) -> Vec<(Option<usize>, [NodeId; 2])> {
        let batteries = &installation.batteries;
        let next = |end: NodeId| batteries.iter().map(|one| one.nodes).find(|one| self.reaches(end, one[0]));
        let bank = |first: [NodeId; 2]| {
            let mut end = first[1];
            // No bank is longer than all batteries; a ring of them would be a short circuit, which reading refuses.
            for _ in batteries {
                let Some(following) = next(end) else { break };
                end = following[1];
            }
            (end != first[1]).then_some([first[0], end])
        };
        let single = batteries.iter().map(|battery| battery.nodes);
        let banks = batteries.iter().filter_map(|battery| bank(battery.nodes));
        let alternators = installation.alternators.iter().map(|alternator| alternator.nodes);
        let bucks = installation.converters.iter().enumerate();
        let bucks = bucks
            .filter(|(_, converter)| converter.kind == ConverterKind::Buck)
            .filter_map(|(index, converter)| Some((Some(index), converter.output?)));
        single.chain(banks).chain(alternators).map(|nodes| (None, nodes)).chain(bucks).collect()
    }

    /// The negatives of the sources whose positive reaches a node, each once.
    pub(crate) fn negatives(&self, installation: &Installation, node: NodeId) -> Vec<NodeId> {
        let sources = self.sources(installation);
        let reaching = sources.iter().filter(|(_, source)| self.reaches(source[0], node));
        let mut found: Vec<NodeId> = reaching.map(|(_, source)| source[1]).collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// Whether two batteries are joined pole to opposite pole.
    pub(crate) fn in_series(&self, installation: &Installation, one: usize, other: usize) -> bool {
        let nodes = |index: usize| installation.batteries.get(index).map(|battery| battery.nodes);
        nodes(one).zip(nodes(other)).is_some_and(|(one, other)| {
            one != other && (self.reaches(one[0], other[1]) || self.reaches(one[1], other[0]))
        })
    }

    /// Terminals of the battery, bank, alternator or buck converter that a device hangs on: one that reaches
    /// both its sides, if there is one.
    pub(crate) fn feeding(
        &self,
        installation: &Installation,
        device: DeviceRef,
        nodes: [NodeId; 2],
    ) -> Option<[NodeId; 2]> {
        let sources = self.sources(installation);
        let other =
            |(converter, _): &&(Option<usize>, _)| converter.is_none_or(|it| device != DeviceRef::Converter(it));
        let reaching = |(_, source): &&(Option<usize>, [NodeId; 2])| self.reaches(source[0], nodes[0]);
        let candidates = || sources.iter().filter(other).filter(reaching).map(|(_, source)| *source);
        candidates().find(|source| self.reaches(source[1], nodes[1])).or_else(|| candidates().next())
    }

    /// What each source that limits its own current can give at a node, and its name.
    pub(crate) fn self_limiting<'a>(
        &self,
        installation: &'a Installation,
        node: NodeId,
    ) -> Vec<(ElectricCurrent, &'a str)> {
        let outputs = installation
            .converters
            .iter()
            .filter_map(|converter| Some((converter.output?[0], converter.output_current?, converter.name.as_str())));
        let alternators = installation.alternators.iter().map(|one| (one.nodes[0], one.rating, one.name.as_str()));
        let reaching = outputs.chain(alternators).filter(|(source, _, _)| self.reaches(*source, node));
        reaching.map(|(_, current, name)| (current, name)).collect()
    }

    /// The highest voltage that a fuse at a node sees: of every source that reaches it, while charging; the
    /// system's own where none does.
    pub(crate) fn highest_voltage(&self, installation: &Installation, node: NodeId) -> ElectricPotential {
        let batteries = installation.batteries.iter().map(|battery| (battery.nodes[0], battery.charge_voltage));
        let alternators = installation.alternators.iter().map(|one| (one.nodes[0], one.voltage));
        let outputs = installation.converters.iter().filter_map(|one| Some((one.output?[0], one.output_voltage)));
        let arrays = (0..installation.converters.len()).filter_map(|index| {
            Some((installation.array_terminals(index)?[0], installation.array_open_voltage(index)?))
        });
        let reaching =
            batteries.chain(alternators).chain(outputs).chain(arrays).filter(|(source, _)| self.reaches(*source, node));
        let highest = reaching.map(|(_, voltage)| voltage).reduce(|best, next| if next > best { next } else { best });
        highest.unwrap_or(installation.system_voltage * constants::HIGHEST_OVER_NOMINAL)
    }
}

/// By node: the node before it on the shortest way, and what leads from there; the start leads to itself by nothing.
struct Shortest(Vec<Option<(usize, Option<Step>)>>);

impl Shortest {
    /// The way to a node, its end first; nothing but the end when it is not reached.
    fn stops(&self, end: NodeId) -> Vec<(NodeId, Option<Step>)> {
        let mut stops = Vec::new();
        let mut here = end.0;
        while let Some((before, Some(step))) = self.0.get(here).copied().flatten() {
            stops.push((NodeId(here), Some(step)));
            here = before;
        }
        stops.push((NodeId(here), None));
        stops.reverse();
        stops
    }

    /// The runs on the way to a node, the last first; none when it is not reached.
    fn to(&self, end: NodeId) -> Vec<usize> {
        let run = |(_, step): (NodeId, Option<Step>)| match step {
            Some(Step::Run(run)) => Some(run),
            Some(Step::Link(_)) | None => None,
        };
        self.stops(end).into_iter().rev().filter_map(run).collect()
    }
}

/// How a run is protected against overcurrent.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Protection {
    /// By the fuses of these runs together, the largest first.
    Fuses(Vec<usize>),
    /// A battery reaches it without passing a fuse.
    None,
    /// A battery reaches its far end bare, whatever its own fuse at the near end does.
    WrongEnd,
    /// Nothing that could overload it reaches it: self-limiting sources only.
    SelfLimiting,
}

/// What protects each run.
///
/// A positive run behind no fuse of its own is protected by the fuses that feed its unfused part, all
/// together. A negative run carries what its devices' positive sides let through: what all their ways pass,
/// or the sum of what each passes, whichever is less.
pub(crate) fn protections(installation: &Installation, ways: &Ways) -> Vec<Protection> {
    let groups = groups(installation);
    let group = |node: NodeId| groups.get(node.0).copied().unwrap_or(node.0);
    let bare: Vec<usize> = installation.batteries.iter().map(|battery| group(battery.nodes[0])).collect();
    let is_bare = |node: NodeId| bare.contains(&group(node));
    let returns = returns(installation, ways);
    let limited = |found: Vec<usize>| {
        if found.is_empty() { Protection::SelfLimiting } else { Protection::Fuses(found) }
    };
    let protection = |(index, run): (usize, &Run)| match (run.leg, run.fuse) {
        (Leg::Positive, FuseChoice::Fixed(_)) if is_bare(run.to) => Protection::WrongEnd,
        (Leg::Positive, FuseChoice::Fixed(_)) => Protection::Fuses(vec![index]),
        (Leg::Positive, _) if is_bare(run.from) || is_bare(run.to) => Protection::None,
        (Leg::Positive, _) => {
            // Fuses of other runs that end in this unfused part.
            let feeds = |(_, feeding): &(usize, &Run)| {
                let fused = matches!(feeding.fuse, FuseChoice::Fixed(_)) && feeding.leg == Leg::Positive;
                fused && group(feeding.to) == group(run.from)
            };
            let feeds = installation.runs.iter().enumerate().filter(feeds).map(|(feeding, _)| feeding).collect();
            limited(largest_first(installation, feeds))
        }
        (Leg::Negative, _) => limited(returns.get(index).cloned().unwrap_or_default()),
    };
    installation.runs.iter().enumerate().map(protection).collect()
}

/// Rating of a run's fuse; nothing where it has none.
fn rating(installation: &Installation, run: usize) -> ElectricCurrent {
    installation.device(run).map_or(ElectricCurrent::default(), |device| device.fuse.rating)
}

/// Ratings of the fuses of several runs together.
pub(crate) fn ratings(installation: &Installation, runs: &[usize]) -> ElectricCurrent {
    runs.iter().fold(ElectricCurrent::default(), |sum, run| sum + rating(installation, *run))
}

fn largest_first(installation: &Installation, mut runs: Vec<usize>) -> Vec<usize> {
    runs.sort_by(|one, other| rating(installation, *other).value.total_cmp(&rating(installation, *one).value));
    runs
}

/// `(Iz/In, 1.45 Iz/I2)` of a conductor of ampacity Iz behind the fuses of these runs, all together; the second is `None`
/// where time limits of one are not at hand.
pub(crate) fn overload_margins(
    installation: &Installation,
    runs: &[usize],
    ampacity: ElectricCurrent,
) -> (Ratio, Option<Ratio>) {
    protection::overload_margins(ampacity, ratings(installation, runs), operating(installation, runs))
}

/// Conventional operating currents of the fuses of these runs together.
pub(crate) fn operating(installation: &Installation, runs: &[usize]) -> Option<ElectricCurrent> {
    let devices = runs.iter().filter_map(|run| installation.device(*run));
    devices.map(|device| device.conventional_current()).reduce(|sum, next| Some(sum? + next?)).flatten()
}

/// Nodes joined on the positive side without passing a fuse, by a common number.
pub(super) fn groups(installation: &Installation) -> Vec<usize> {
    let open = installation.runs.iter().filter(|run| run.leg == Leg::Positive && run.fuse == FuseChoice::None);
    let edges = open.map(|run| [run.from, run.to]).chain(installation.links.iter().map(|link| link.nodes));
    islands(installation.nodes.len(), edges.map(|nodes| nodes.map(|node| node.0)))
}

/// The runs whose fuses limit each negative run; none where nothing does.
fn returns(installation: &Installation, ways: &Ways) -> Vec<Vec<usize>> {
    let mut shared: Vec<Option<Shared>> = vec![None; installation.runs.len()];
    let consumers = consumers(installation);
    let mut passed = vec![false; installation.runs.len()];
    // From every source that reaches both sides, so that no battery's own return is forgotten.
    for (converter, source) in ways.sources(installation) {
        let (out, back) = (ways.from(source[0]), ways.from(source[1]));
        for (device, nodes) in &consumers {
            let own = converter.is_some_and(|it| *device == DeviceRef::Converter(it));
            if own || !ways.reaches(source[0], nodes[0]) || !ways.reaches(source[1], nodes[1]) {
                continue;
            }
            let mut fuses = out.to(nodes[0]);
            fuses.retain(|run| installation.device(*run).is_some());
            let smallest = smallest(installation, &fuses);
            mark(&mut passed, &fuses, true);
            for run in back.to(nodes[1]) {
                match shared.get_mut(run) {
                    Some(Some(shared)) => shared.meets(&passed, smallest),
                    Some(slot) => *slot = Some(Shared { common: fuses.clone(), smallest: smallest.map(|it| vec![it]) }),
                    None => {}
                }
            }
            mark(&mut passed, &fuses, false);
        }
    }
    shared.into_iter().map(|ways| ways.map_or_else(Vec::new, |ways| ways.limiting(installation))).collect()
}

fn mark(passed: &mut [bool], runs: &[usize], with: bool) {
    for run in runs {
        if let Some(slot) = passed.get_mut(*run) {
            *slot = with;
        }
    }
}

fn smallest(installation: &Installation, fuses: &[usize]) -> Option<usize> {
    let by_rating =
        |one: &usize, other: &usize| rating(installation, *one).value.total_cmp(&rating(installation, *other).value);
    fuses.iter().copied().min_by(by_rating)
}

/// What the ways have in common that return through one run: only this is kept, for there may be ten thousand ways.
#[derive(Clone)]
struct Shared {
    /// The fuses that all of them pass.
    common: Vec<usize>,
    /// The smallest fuse of each, once; `None` when one of them has none, so that nothing can be summed.
    smallest: Option<Vec<usize>>,
}

impl Shared {
    /// One more way returns here: the fuses that it has passed, by run, and the smallest of them.
    fn meets(&mut self, passed: &[bool], smallest: Option<usize>) {
        self.common.retain(|fuse| passed.get(*fuse).copied().unwrap_or(false));
        match (&mut self.smallest, smallest) {
            (Some(found), Some(fuse)) if !found.contains(&fuse) => found.push(fuse),
            (_, Some(_)) => {}
            (found, None) => *found = None,
        }
    }

    /// What limits the return: a fuse that all ways pass, or the sum of what each passes.
    fn limiting(self, installation: &Installation) -> Vec<usize> {
        let sum = largest_first(installation, self.smallest.unwrap_or_default());
        match smallest(installation, &self.common) {
            Some(common) if sum.is_empty() || ratings(installation, &sum) >= rating(installation, common) => {
                vec![common]
            }
            _ => sum,
        }
    }
}

/// Everything that draws current from a pair of nodes.
pub(crate) fn consumers(installation: &Installation) -> Vec<(DeviceRef, [NodeId; 2])> {
    let loads =
        installation.loads.iter().enumerate().filter_map(|(index, load)| Some((DeviceRef::Load(index), load.nodes?)));
    let converters = installation.converters.iter().enumerate().filter_map(|(index, converter)| {
        // A solar controller is fed by its array, not by a battery; its output faces one.
        let port = if converter.array.is_some() { converter.output } else { converter.input.or(converter.output) };
        Some((DeviceRef::Converter(index), port?))
    });
    loads.chain(converters).collect()
}

/// Whether an alternator's node and a battery's are joined through runs and links in a case.
pub(super) fn are_joined(island: &[usize], one: NodeId, other: NodeId) -> bool {
    island.get(one.0).is_some() && island.get(one.0) == island.get(other.0)
}

/// Whether a case has the engine running.
pub(super) fn driving(case: &Case) -> bool {
    case.engine != crate::installation::Engine::Off
}
