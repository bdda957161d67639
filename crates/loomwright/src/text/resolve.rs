//! Names to nodes.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry as Slot;
use std::ops::Range;

use super::PlanError;
use super::entry::{Entry, File, Value};
use crate::installation::{Loom, Node, NodeId, Terminal, TerminalKind, Zone};
use crate::names::did_you_mean;
use crate::quantity::{Area, CrossSection};

/// The electrical nodes by every name they answer to, and the mistakes found on the way.
pub(super) struct Names<'a> {
    text: &'a str,
    pub(super) nodes: Vec<Node>,
    by_name: BTreeMap<String, NodeId>,
    pub(super) chassis: Option<NodeId>,
    pub(super) zones: Vec<Zone>,
    pub(super) looms: Vec<Loom>,
    /// Kinds of terminals by name; `None` where one could not be read.
    pub(super) terminals: BTreeMap<String, Option<Terminal>>,
    /// Those kinds in the order of the plan.
    pub(super) terminal_kinds: Vec<TerminalKind>,
    /// Names of parts that are marked as removed.
    pub(super) removed: Vec<String>,
    pub(super) errors: &'a mut Vec<PlanError>,
}

/// A cross-section as an area: gauges by the AWG law, which is never smaller than SAE.
pub(super) fn area_of(size: CrossSection) -> Area {
    match size {
        CrossSection::Area(area) => area,
        CrossSection::Awg(gauge) | CrossSection::Sae(gauge) => gauge.awg_area(),
    }
}

impl<'a> Names<'a> {
    pub(super) fn new(file: &File<'a>, errors: &'a mut Vec<PlanError>) -> Self {
        Self {
            text: file.text,
            nodes: Vec::new(),
            by_name: BTreeMap::new(),
            chassis: None,
            zones: Vec::new(),
            looms: Vec::new(),
            terminals: BTreeMap::new(),
            terminal_kinds: Vec::new(),
            removed: Vec::new(),
            errors,
        }
    }

    pub(super) fn error(&mut self, span: Range<usize>, key: impl Into<String>, message: impl Into<String>) {
        PlanError::add(self.errors, self.text, span, key, message);
    }

    /// Says that a key's value is refused.
    pub(super) fn refuse(&mut self, entry: &Entry, key: &str, message: impl Into<String>) {
        self.error(entry.place(key), entry.key(key), message);
    }

    /// A new node; names that are taken are told.
    pub(super) fn add(&mut self, entry: &Entry, name: String, terminal: Terminal) -> NodeId {
        let zone = self.zone_of(entry);
        let node = NodeId(self.nodes.len());
        self.nodes.push(Node {
            name: name.clone(),
            terminal,
            second_terminal: None,
            zone,
            rating: None,
            ignition_protected: entry.flag("ignition_protected"),
        });
        self.alias(entry, name, node);
        node
    }

    /// Terminals of an entry that could not be read: its mistake has been told, what hangs on it need not be.
    pub(super) fn stand_in(&mut self, entry: &Entry) {
        let sides: &[&str] = match entry.section {
            "converters" => &["in+", "in-", "out+", "out-", "-"],
            "links" => &["in", "out"],
            _ => &["+", "-"],
        };
        for side in sides {
            let name = format!("{}.{side}", entry.name);
            if !self.by_name.contains_key(&name) {
                let node = NodeId(self.nodes.len());
                self.nodes.push(bare(name.clone()));
                self.by_name.insert(name, node);
            }
        }
    }

    /// Another name of a node.
    pub(super) fn alias(&mut self, entry: &Entry, name: String, node: NodeId) {
        match self.by_name.entry(name) {
            Slot::Vacant(slot) => {
                slot.insert(node);
            }
            Slot::Occupied(taken) => {
                let message = format!("the name {:?} is taken by another device", taken.key());
                self.error(entry.span.clone(), entry.key(""), message);
            }
        }
    }

    /// The chassis, made when it is first spoken of.
    pub(super) fn the_chassis(&mut self) -> NodeId {
        *self.chassis.get_or_insert_with(|| {
            let node = NodeId(self.nodes.len());
            self.nodes.push(bare("chassis".into()));
            node
        })
    }

    /// The node that a key names.
    pub(super) fn node(&mut self, entry: &Entry, key: &str) -> Option<NodeId> {
        let at = entry.text(key)?;
        if at.value == "chassis" {
            return Some(self.the_chassis());
        }
        if let Some(node) = self.by_name.get(at.value) {
            return Some(*node);
        }
        let given = at.value.to_owned();
        if self.is_removed(entry, key, &given) {
            return None;
        }
        let near = self.nearest_node(&given);
        self.refuse(entry, key, format!("{given:?} is no node of this plan{near}"));
        None
    }

    /// Whether a name is that of a part that is marked as removed, or of a terminal of one; if so, it is told.
    pub(super) fn is_removed(&mut self, entry: &Entry, key: &str, given: &str) -> bool {
        let device = given.rsplit_once('.').map_or(given, |(device, _)| device);
        let removed = self.removed.iter().any(|name| name == device);
        if removed {
            let message = format!("{device:?} is marked existing = \"removed\": what is joined to it goes too");
            self.refuse(entry, key, message);
        }
        removed
    }

    fn nearest_node(&self, given: &str) -> String {
        // A device named without its terminal is the commonest slip.
        let own: Vec<&str> =
            self.by_name.keys().filter(|name| name.starts_with(&format!("{given}."))).map(String::as_str).collect();
        if !own.is_empty() {
            format!("; its terminals are {}", own.join(", "))
        } else if let Some(name) = nearest(self.by_name.keys(), given, 2) {
            did_you_mean(Some(name))
        } else {
            "; a node is a busbar, a terminal such as \"service.+\", or \"chassis\"".to_owned()
        }
    }

    /// The zone that an entry's own `zone` names.
    pub(super) fn zone_of(&mut self, entry: &Entry) -> Option<usize> {
        let at = entry.text("zone")?;
        let (name, span) = (at.value.to_owned(), at.span);
        self.zone(&name, span, entry.key("zone"))
    }

    /// A zone by name.
    pub(super) fn zone(&mut self, name: &str, span: Range<usize>, key: String) -> Option<usize> {
        let found = self.zones.iter().position(|zone| zone.name == name);
        if found.is_none() {
            let known: Vec<String> = self.zones.iter().map(|zone| zone.name.clone()).collect();
            let message = unknown("zone", name, &known);
            self.error(span, key, message);
        }
        found
    }

    /// A loom by name.
    pub(super) fn loom(&mut self, name: &str, span: Range<usize>, key: String) -> Option<usize> {
        let found = self.looms.iter().position(|loom| loom.name == name);
        if found.is_none() {
            let known: Vec<String> = self.looms.iter().map(|loom| loom.name.clone()).collect();
            let message = unknown("loom", name, &known);
            self.error(span, key, message);
        }
        found
    }

    /// The terminals of an entry.
    pub(super) fn terminal(&mut self, entry: &Entry, default: Terminal) -> Terminal {
        let stated = self.terminal_at(entry, "terminal", default).unwrap_or(default);
        Terminal { temperature: entry.temperature("terminal_temperature").or(default.temperature), ..stated }
    }

    /// The second kind of terminals of a busbar, which get as hot as the first.
    pub(super) fn second_terminal(&mut self, entry: &Entry, first: Terminal) -> Option<Terminal> {
        let second = self.terminal_at(entry, "second_terminal", first)?;
        Some(Terminal { temperature: first.temperature, ..second })
    }

    fn terminal_at(&mut self, entry: &Entry, key: &str, default: Terminal) -> Option<Terminal> {
        let stated = match entry.get(key).map(|at| &at.value) {
            Some(Value::Size(size)) => Terminal::screw(area_of(*size)),
            Some(Value::Thread(thread)) => Terminal::stud(*thread),
            Some(Value::TerminalNamed(name)) => match self.terminals.get(name) {
                Some(kind) => kind.unwrap_or(default),
                None => {
                    let known: Vec<String> = self.terminals.keys().cloned().collect();
                    let forms =
                        "a terminal is a size such as \"16 mm2\", a thread such as \"M8\", or one of [terminals]";
                    let message = format!("{}; {forms}", unknown("terminal", name, &known));
                    self.refuse(entry, key, message);
                    default
                }
            },
            _ => return None,
        };
        Some(stated)
    }
}

/// The name nearest to `given` of those that a plan gave: as many slips as a third of it, or a few where it is short.
fn nearest<'a>(names: impl Iterator<Item = &'a String>, given: &str, few: usize) -> Option<&'a str> {
    let lower = given.to_lowercase();
    names
        .map(|name| (strsim::damerau_levenshtein(&name.to_lowercase(), &lower), name))
        .filter(|(distance, name)| *distance <= (name.len() / 3).max(few))
        .min()
        .map(|(_, name)| name.as_str())
}

/// "`x` is no zone of this plan", with the nearest and all known names.
pub(super) fn unknown(what: &str, given: &str, known: &[String]) -> String {
    if known.is_empty() {
        return format!("{given:?} is no {what} of this plan, which has none");
    }
    let hint = did_you_mean(nearest(known.iter(), given, 1));
    let mut shown = known.iter().take(20).cloned().collect::<Vec<_>>().join(", ");
    if known.len() > 20 {
        shown.push_str(", …");
    }
    format!("{given:?} is no {what} of this plan{hint}; known: {shown}")
}

/// A node of which nothing else is known.
fn bare(name: String) -> Node {
    Node {
        name,
        terminal: Terminal::default(),
        second_terminal: None,
        zone: None,
        rating: None,
        ignition_protected: false,
    }
}
