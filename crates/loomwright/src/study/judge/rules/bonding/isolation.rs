//! What converters join, against what is meant to be apart.

use super::{CITATION, Edge, Nets, common};
use crate::finding::{Finding, Signal};
use crate::installation::{Bonding, Converter, NodeId};
use crate::study::judge::rules::plain;

impl Nets<'_> {
    /// Converters that join what is meant to be apart, and isolated ones that leave what is meant to be one without its
    /// reference.
    pub(super) fn isolation(&self) -> Vec<Finding> {
        match self.plan.bonding() {
            Bonding::Split | Bonding::Floating => self.ties(),
            Bonding::Chassis => self.left_floating(),
        }
    }

    fn ties(&self) -> Vec<Finding> {
        let plan = self.plan;
        // All at once, or two that join the same nets would each hide behind the other.
        let commons: Vec<NodeId> = plan.converters.iter().filter_map(common).collect();
        let out: Vec<NodeId> = commons.iter().copied().chain(plan.chassis).collect();
        let (apart, with_chassis) = (self.without(&out), self.without(&commons));
        let mut found = Vec::new();
        for converter in &plan.converters {
            let Some(shared) = common(converter) else { continue };
            let grounded = plan.chassis == Some(shared);
            // On the chassis itself only its own circuits tell what it joins.
            let own = |edge: &&Edge<'_>| !grounded || edge.run.is_some_and(|run| self.is_return_of(run, converter));
            let ends: Vec<NodeId> = self.edges.iter().filter(own).filter_map(|edge| edge.from(shared)).collect();
            let on_chassis = |node: NodeId| {
                let chassis = plan.chassis.map(|chassis| with_chassis.get(chassis.0));
                plan.chassis == Some(node) || chassis.is_some_and(|chassis| with_chassis.get(node.0) == chassis)
            };
            let floats = |node: &&NodeId| {
                plan.chassis != Some(**node)
                    && (grounded || !on_chassis(**node))
                    && self.source_in(&apart, **node).is_some()
            };
            let Some(floating) = ends.iter().find(floats).copied() else { continue };
            let other = if grounded || ends.iter().any(|node| on_chassis(*node)) {
                "the chassis".to_owned()
            } else if plan.bonding() == Bonding::Split {
                let another = |node: &&NodeId| floats(node) && apart.get(node.0) != apart.get(floating.0);
                match ends.iter().find(another).and_then(|node| self.source_in(&apart, *node)) {
                    Some(name) => format!("that of {name}"),
                    None => continue,
                }
            } else {
                continue;
            };
            let why = if converter.isolated {
                "is isolated, yet grounded = true puts both its negatives on the chassis"
            } else {
                "is not isolated"
            };
            let source = self.source_in(&apart, floating).unwrap_or_default();
            let message = format!(
                "{why}: it joins the negative of {source} ({}) with {other}, which are meant to be apart ({}): take an \
                 isolated one with its negatives apart, or say how they are meant to be joined",
                self.name(floating),
                plan.bonding()
            );
            found.push(plain("isolation-suits-bonding", &converter.name, Signal::Warning, message, CITATION));
        }
        found
    }

    /// Whether a run is the return of a circuit that ends at a converter.
    fn is_return_of(&self, run: usize, converter: &Converter) -> bool {
        let twin = self.plan.runs.get(run).and_then(|run| self.plan.runs.get(run.twin?));
        let ports = [converter.input, converter.output];
        twin.is_some_and(|twin| ports.into_iter().flatten().any(|port| port[0] == twin.to))
    }

    fn left_floating(&self) -> Vec<Finding> {
        let Some(chassis) = self.plan.chassis else { return Vec::new() };
        let net = self.without(&[]);
        let mut found: Vec<Finding> = Vec::new();
        for converter in self.plan.converters.iter().filter(|one| one.isolated) {
            // An array needs no reference.
            let input = converter.input.filter(|_| converter.array.is_none());
            let ports = [(input, "input"), (converter.output, "output")];
            let floats = |node: NodeId| net.get(node.0) != net.get(chassis.0);
            let lost = ports.into_iter().find_map(|(port, side)| Some((port.filter(|port| floats(port[1]))?[1], side)));
            let Some((node, side)) = lost else { continue };
            // One net behind several isolated converters is told once.
            let behind =
                |told: &Finding| told.unit.is_empty() && told.message.contains(&format!("({})", self.name(node)));
            if found.iter().any(behind) {
                continue;
            }
            let message = format!(
                "is isolated, and the negative of its {side} ({}) is joined to the chassis nowhere: a fault there finds no way \
                 back and opens no fuse; join it once, or say bonding = \"split\" if it is meant to float",
                self.name(node)
            );
            found.push(plain("isolation-suits-bonding", &converter.name, Signal::Caution, message, CITATION));
        }
        found
    }
}
