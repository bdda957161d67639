//! Rules on how negatives, cases and the chassis are joined: what is meant to be apart stays apart, what is meant to be one
//! has one bond, and no current shares two ways back. Return through a hull is `return-path`, with the devices.

mod conductors;
mod isolation;
mod mains;

use super::{n, plain};
use crate::data::Confidence;
use crate::finding::{Finding, Signal};
use crate::installation::{Bonding, Converter, Installation, NodeId, Place};
use crate::network::islands;
use crate::study::judge::Judgement;
use crate::study::judge::bonds::bonds;

const CITATION: &str = "one negative reference: common practice, no source";

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let nets = Nets::of(&judgement.installation);
    let mut found = nets.isolation();
    found.extend(nets.single_point(judgement));
    found.extend(nets.mixed_returns());
    found.extend(conductors::findings(judgement));
    found.extend(mains::findings(&judgement.installation));
    found
}

/// A run or link by its name and ends; the ways of circuits through the chassis are links.
struct Edge<'a> {
    name: &'a str,
    nodes: [NodeId; 2],
    /// The index of the run; `None` for a link.
    run: Option<usize>,
}

impl Edge<'_> {
    /// Where it leads from a node; `None` where it does not touch it.
    fn from(&self, node: NodeId) -> Option<NodeId> {
        let [one, other] = self.nodes;
        if one == node { Some(other) } else { (other == node).then_some(one) }
    }
}

/// What hangs together, as conductors join it.
struct Nets<'a> {
    plan: &'a Installation,
    edges: Vec<Edge<'a>>,
}

/// The common negative of a converter that is not isolated and has both sides.
fn common(converter: &Converter) -> Option<NodeId> {
    let (input, output) = (converter.input?, converter.output?);
    (input[1] == output[1]).then_some(input[1])
}

impl<'a> Nets<'a> {
    fn of(plan: &'a Installation) -> Self {
        let runs = plan.runs.iter().enumerate();
        let runs = runs.map(|(index, run)| Edge { name: &run.name, nodes: [run.from, run.to], run: Some(index) });
        let links = plan.links.iter().map(|link| Edge { name: &link.name, nodes: link.nodes, run: None });
        Self { plan, edges: runs.chain(links).collect() }
    }

    /// The net of every node with these nodes taken out.
    fn without(&self, out: &[NodeId]) -> Vec<usize> {
        let stays = |edge: &&Edge<'_>| !edge.nodes.iter().any(|node| out.contains(node));
        islands(self.plan.nodes.len(), self.edges.iter().filter(stays).map(|edge| edge.nodes.map(|node| node.0)))
    }

    fn name(&self, node: NodeId) -> &str {
        self.plan.nodes.get(node.0).map_or("", |node| node.name.as_str())
    }

    /// Batteries and alternators by name and negative.
    fn sources(&self) -> impl Iterator<Item = (&str, NodeId)> {
        let batteries = self.plan.batteries.iter().map(|one| (one.name.as_str(), one.nodes));
        let alternators = self.plan.alternators.iter().map(|one| (one.name.as_str(), one.nodes));
        // What is the positive of another besides is the middle of a bank.
        let middle = |node: NodeId| self.plan.batteries.iter().any(|one| one.nodes[0] == node);
        batteries.chain(alternators).map(|(name, nodes)| (name, nodes[1])).filter(move |(_, node)| !middle(*node))
    }

    /// The first source whose negative lies in a net.
    fn source_in(&self, net: &[usize], of: NodeId) -> Option<&str> {
        self.sources().find(|(_, node)| net.get(node.0) == net.get(of.0)).map(|(name, _)| name)
    }

    /// Devices whose housing is their negative, on the chassis.
    fn grounded(&self, chassis: NodeId) -> Vec<&str> {
        let plan = self.plan;
        let loads = plan.loads.iter().filter_map(|one| Some((one.name.as_str(), one.nodes?)));
        let ports = plan
            .converters
            .iter()
            .flat_map(|one| [one.input, one.output].into_iter().flatten().map(|nodes| (one.name.as_str(), nodes)));
        let on = |nodes: [NodeId; 2]| nodes[1] == chassis;
        let sources = self.sources().filter(|(_, node)| *node == chassis).map(|(name, _)| name);
        let devices = loads.chain(ports).filter(|(_, nodes)| on(*nodes)).map(|(name, _)| name);
        let mut found: Vec<&str> = sources.chain(devices).collect();
        found.dedup();
        found
    }

    /// How often negatives and chassis are joined, against how they are meant to be.
    fn single_point(&self, judgement: &Judgement) -> Vec<Finding> {
        let plan = self.plan;
        let (stated, bonding) = (plan.stated_bonding.is_some(), plan.bonding());
        let Some(chassis) = plan.chassis else {
            let message = "bonding = \"chassis\", and nothing is joined to the chassis: join the negative to it once, \
                           beside the battery";
            let wanted = stated && bonding == Bonding::Chassis;
            return wanted
                .then(|| counted("chassis", Signal::Warning, 0.0, 1.0, message.to_owned()))
                .into_iter()
                .collect();
        };
        let mut found = Vec::new();
        match bonding {
            Bonding::Floating => {
                let joined = self.edges.iter().filter(|edge| edge.from(chassis).is_some()).map(|edge| edge.name);
                let mut places: Vec<&str> = joined.chain(self.grounded(chassis)).collect();
                places.dedup();
                if !places.is_empty() {
                    let message = format!(
                        "bonding = \"floating\", and the negative is joined to the chassis by {}: part them, or say how \
                         they are meant to be joined",
                        places.join(", ")
                    );
                    found.push(counted("chassis", Signal::Warning, count(&places), 0.0, message));
                }
            }
            Bonding::Split => found.extend(self.nothing_apart(chassis)),
            Bonding::Chassis => found.extend(self.unreferenced(chassis, stated)),
        }
        let body_returns = plan.place == Place::Vehicle && bonding == Bonding::Chassis;
        found.extend(self.loops(judgement, chassis, body_returns));
        found
    }

    /// A split plan in which every source is joined to the chassis.
    fn nothing_apart(&self, chassis: NodeId) -> Option<Finding> {
        // What only a converter joins is told there.
        let commons: Vec<NodeId> =
            self.plan.converters.iter().filter_map(common).filter(|node| *node != chassis).collect();
        let net = self.without(&commons);
        let own =
            |edge: &&Edge<'_>| edge.run.is_none_or(|run| self.plan.runs.get(run).is_some_and(|run| run.twin.is_none()));
        let all = self.sources().all(|(_, node)| net.get(node.0) == net.get(chassis.0));
        let joined = self.edges.iter().filter(own).filter(|edge| edge.from(chassis).is_some()).map(|edge| edge.name);
        let places: Vec<&str> = joined.chain(self.grounded(chassis)).collect();
        all.then(|| {
            let message = format!(
                "bonding = \"split\", and the negative of every battery is joined to the chassis, by {}: that of the body \
                 stays apart from the chassis",
                places.join(", ")
            );
            plain("single-point-bond", "chassis", Signal::Warning, message, CITATION)
        })
    }

    /// Sources of a bonded plan that are joined to the chassis nowhere.
    fn unreferenced(&self, chassis: NodeId, stated: bool) -> Vec<Finding> {
        let net = self.without(&[]);
        let behind: Vec<_> = self.plan.converters.iter().filter(|one| one.isolated).collect();
        // Behind an isolated converter it has been told.
        let told = |node: NodeId| {
            let ports = behind.iter().flat_map(|one| [one.input, one.output]).flatten();
            ports.into_iter().any(|port| net.get(port[1].0) == net.get(node.0))
        };
        let lost = self.sources().filter(|(_, node)| net.get(node.0) != net.get(chassis.0) && !told(*node));
        let signal = if stated { Signal::Warning } else { Signal::Caution };
        lost.map(|(name, _)| {
            let message = "its negative is joined to the chassis nowhere, as others are: join it once, or say bonding = \
                           \"split\" if it is meant to float";
            counted(name, signal, 0.0, 1.0, message.to_owned())
        })
        .collect()
    }

    /// Nets of negatives that several runs join to the chassis. In a vehicle whose body is the return many joints are
    /// usual; what the battery's own bond then carries is said.
    fn loops(&self, judgement: &Judgement, chassis: NodeId, body_returns: bool) -> Vec<Finding> {
        let net = self.without(&[chassis]);
        let mut joined: Vec<(NodeId, Vec<usize>)> = Vec::new();
        for run in bonds(self.plan, chassis) {
            let Some(far) = self.plan.runs.get(run).map(|run| if run.from == chassis { run.to } else { run.from })
            else {
                continue;
            };
            match joined.iter_mut().find(|(known, _)| net.get(known.0) == net.get(far.0)) {
                Some((_, runs)) => runs.push(run),
                None => joined.push((far, vec![run])),
            }
        }
        let called = |runs: &[usize]| {
            let name = |run: &usize| self.plan.runs.get(*run).map(|run| run.name.as_str());
            runs.iter().filter_map(name).collect::<Vec<_>>()
        };
        let several = joined.iter().filter(|(_, runs)| runs.len() > 1 && !body_returns).map(|(far, runs)| {
            let message = format!(
                "the negative at {} is joined to the chassis in {} places, by {}: current shares the conductors and the \
                 metal between them; keep one, beside the battery",
                self.name(*far),
                runs.len(),
                called(runs).join(", ")
            );
            counted("chassis", Signal::Warning, count(runs), 1.0, message)
        });
        // What is asked of the bonds together, in the case that asks most.
        let carried = |runs: &[usize]| {
            let through = judgement.cases.iter().map(|case| {
                let currents = runs.iter().filter_map(|run| case.run_currents.get(*run));
                currents.map(|current| current.value.abs()).sum::<f64>()
            });
            through.fold(0.0, f64::max)
        };
        let bond = joined.iter().filter(|(far, _)| body_returns && self.source_in(&net, *far).is_some());
        let bond = bond.map(|(_, runs)| (called(runs), carried(runs))).filter(|(_, current)| *current >= 0.1);
        let body = bond.map(|(names, current)| {
            let message = format!(
                "the body is a return conductor: all that it carries back to this battery passes {}, up to {} A",
                names.join(", "),
                n(current)
            );
            let subject = names.first().copied().unwrap_or_default();
            plain("single-point-bond", subject, Signal::Notice, message, CITATION)
        });
        several.chain(body).collect()
    }

    /// Devices whose current finds two ways back, and converters that are the only joint between two of them.
    fn mixed_returns(&self) -> Vec<Finding> {
        let Some(chassis) = self.plan.chassis else { return Vec::new() };
        let mut found = self.grounded_with_return(chassis);
        let loads = self.plan.loads.iter().filter_map(|one| Some((one.name.as_str(), one.nodes?[1], false)));
        let ports = self.plan.converters.iter().flat_map(|one| {
            let both = common(one).is_some();
            [one.input, one.output].into_iter().flatten().map(move |port| (one.name.as_str(), port[1], both))
        });
        for (name, node, both) in loads.chain(ports).filter(|(_, node, _)| *node != chassis) {
            let by = |edge: &&Edge<'_>| edge.from(node) == Some(chassis);
            let Some(to_chassis) = self.edges.iter().find(by) else { continue };
            let net = self.without(&[node]);
            let on_chassis = |far: NodeId| net.get(far.0) == net.get(chassis.0);
            let ways = self.edges.iter().filter_map(|edge| Some((edge, edge.from(node)?)));
            // In a converter two sides meet: only where it is the one joint of both is that a mistake, and where they are
            // meant to be apart it is told as that.
            let wrong = |far: NodeId| {
                far != chassis && (!both || (self.plan.bonding() == Bonding::Chassis && !on_chassis(far)))
            };
            let Some((conductor, far)) = ways.into_iter().find(|(_, far)| wrong(*far)) else { continue };
            if found.iter().any(|one: &Finding| one.subject == name) {
                continue;
            }
            let (conductor, chassis_way) = (conductor.name, to_chassis.name);
            let message = if both {
                format!(
                    "{chassis_way} and {conductor} meet in it and nowhere else: whatever goes between the chassis and {} \
                     passes through the device; join them outside it",
                    self.name(far)
                )
            } else {
                format!(
                    "its current returns by {conductor} and by {chassis_way}, shared as their resistances have it: keep one"
                )
            };
            found.push(plain("mixed-returns", name, Signal::Warning, message, CITATION));
        }
        found
    }

    /// Circuits with a return of their own whose device is grounded besides.
    fn grounded_with_return(&self, chassis: NodeId) -> Vec<Finding> {
        let plan = self.plan;
        let mut found = Vec::new();
        let devices = plan.loads.iter().filter_map(|one| Some((one.name.as_str(), one.nodes?[0])));
        let ports = plan
            .converters
            .iter()
            .flat_map(|one| [one.input, one.output].into_iter().flatten().map(|port| (one.name.as_str(), port[0])));
        let devices: Vec<(&str, NodeId)> = devices.chain(ports).collect();
        for (index, run) in plan.runs.iter().enumerate().filter(|(_, run)| run.to == chassis && run.from != chassis) {
            let Some(fed) = run.twin.and_then(|twin| plan.runs.get(twin)).map(|twin| twin.to) else { continue };
            let Some((device, _)) = devices.iter().find(|(_, positive)| *positive == fed) else { continue };
            let others = self.edges.iter().filter(|edge| edge.run != Some(index));
            let net = islands(plan.nodes.len(), others.map(|edge| edge.nodes.map(|node| node.0)));
            let shared = net.get(run.from.0) == net.get(chassis.0);
            let used = self.grounded(chassis).iter().any(|name| name != device)
                || self.edges.iter().any(|edge| edge.run != Some(index) && edge.from(chassis).is_some());
            let message = if shared {
                format!(
                    "it is grounded and has a return of its own: its current shares {} with the chassis, and so does that of \
                     others; take one of them away",
                    run.name
                )
            } else if used {
                format!(
                    "it is grounded, and its return {} is the only joint between {} and the chassis: all that the chassis \
                     carries passes it; join the two with a bond of their own",
                    run.name,
                    self.name(run.from)
                )
            } else {
                continue;
            };
            found.push(plain("mixed-returns", device, Signal::Warning, message, CITATION));
        }
        found
    }
}

fn count<T>(places: &[T]) -> f64 {
    places.iter().fold(0.0, |count, _| count + 1.0)
}

/// Connections between negative and chassis against how many there should be.
fn counted(subject: &str, signal: Signal, measured: f64, limit: f64, message: String) -> Finding {
    Finding {
        measured: Some(measured),
        limit: Some(limit),
        unit: "connections",
        confidence: Confidence::CommonPractice,
        ..plain("single-point-bond", subject, signal, message, CITATION)
    }
}
