//! Names of the plan to points, runs and inverters, and points to names.

use std::cell::Cell;
use std::collections::BTreeMap;

use super::quoted;
use crate::installation::{ConverterKind, FuseChoice, Installation, Leg, NodeId};
use crate::study::reconcile::{Inside, Point};
use crate::text::resolve::unknown;

/// How many unknown names are looked up for the nearest one: a hostile file must not buy much work.
const MOST_HINTS: usize = 100;

/// What a readings file may speak of.
pub(super) struct Places<'a> {
    pub(super) plan: &'a Installation,
    nodes: BTreeMap<String, NodeId>,
    /// Devices and links with one pair of terminals, and the sides of those with two.
    pairs: BTreeMap<String, [NodeId; 2]>,
    hints: Cell<usize>,
}

impl<'a> Places<'a> {
    pub(super) fn of(plan: &'a Installation) -> Self {
        let mut nodes = BTreeMap::new();
        for (index, node) in plan.nodes.iter().enumerate() {
            nodes.entry(node.name.trim().to_owned()).or_insert(NodeId(index));
        }
        let mut pairs = BTreeMap::new();
        // Terminals that are one with another, such as the negatives of both sides of a charger, have more names.
        let mut add = |name: String, sides: [&str; 2], pair: [NodeId; 2]| {
            for (side, node) in sides.into_iter().zip(pair) {
                nodes.entry(format!("{}{side}", name.trim())).or_insert(node);
            }
            pairs.entry(name.trim().to_owned()).or_insert(pair);
        };
        for one in &plan.batteries {
            add(one.name.clone(), [".+", ".-"], one.nodes);
        }
        for one in &plan.alternators {
            add(one.name.clone(), [".+", ".-"], one.nodes);
        }
        for one in &plan.loads {
            if let Some(pair) = one.nodes {
                add(one.name.clone(), [".+", ".-"], pair);
            }
        }
        for one in &plan.converters {
            for (side, pair) in [("in", one.input), ("out", one.output)] {
                if let Some(pair) = pair {
                    add(format!("{}.{side}", one.name), ["+", "-"], pair);
                    if one.input.is_none() || one.output.is_none() {
                        add(one.name.clone(), [".+", ".-"], pair);
                    }
                }
            }
        }
        for one in &plan.links {
            add(one.name.clone(), [".in", ".out"], one.nodes);
        }
        Self { plan, nodes, pairs, hints: Cell::new(0) }
    }

    /// "`x` is no … of this plan", with the nearest and all known names, as long as not too many were asked for.
    fn unknown<'n>(&self, what: &str, given: &str, known: impl Iterator<Item = &'n str>) -> String {
        self.hints.set(self.hints.get() + 1);
        if self.hints.get() > MOST_HINTS {
            return format!("{} is no {what} of this plan", quoted(given));
        }
        let given: String = given.chars().take(60).collect();
        unknown(what, &given, &known.map(str::to_owned).collect::<Vec<_>>())
    }

    /// A terminal, busbar, or place inside a run.
    pub(super) fn point(&self, given: &str) -> Result<Point, String> {
        if let Some(node) = self.nodes.get(given) {
            return Ok(Point::Node(*node));
        }
        if let Some((run, inside)) = given.rsplit_once('@') {
            let inside: Inside = inside.parse().map_err(|_| {
                let form = "write for example \"RUN@start\", \"RUN@fuse\" or \"RUN@end\"";
                format!("{} is no place inside a run; {form}", quoted(given))
            })?;
            let index = self.run_named(run.trim()).or_else(|| {
                // Of a circuit only the positive leg has a fuse.
                self.circuit(run.trim()).filter(|_| inside == Inside::Fuse)
            });
            let index = index.ok_or_else(|| self.no_run(run.trim()))?;
            let fused = self.plan.runs.get(index).is_some_and(|run| run.fuse != FuseChoice::None);
            if inside == Inside::Fuse && !fused {
                let message = "has no fuse or breaker; its places are \"RUN@start\" and \"RUN@end\"";
                return Err(format!("{} {message}", quoted(run)));
            }
            return Ok(Point::Run(index, inside));
        }
        let own: Vec<&str> =
            self.nodes.keys().filter(|name| name.starts_with(&format!("{given}."))).map(String::as_str).collect();
        if !own.is_empty() && !given.is_empty() {
            return Err(format!("{} is a device; its terminals are {}", quoted(given), own.join(", ")));
        }
        let known = self.nodes.keys().map(String::as_str);
        let form = "a place inside a run is \"RUN@start\", \"RUN@fuse\" or \"RUN@end\"";
        Err(format!("{}; {form}", self.unknown("terminal or busbar", given, known)))
    }

    /// The terminals of a device that is named alone.
    pub(super) fn pair(&self, given: &str) -> Option<[NodeId; 2]> {
        self.pairs.get(given).copied()
    }

    fn run_named(&self, given: &str) -> Option<usize> {
        self.plan.runs.iter().position(|run| run.name.trim() == given)
    }

    /// The positive leg of a circuit.
    fn circuit(&self, given: &str) -> Option<usize> {
        let leg = |run: &crate::installation::Run| run.circuit.as_deref().map(str::trim) == Some(given);
        self.plan.runs.iter().position(|run| leg(run) && run.leg == Leg::Positive)
    }

    fn no_run(&self, given: &str) -> String {
        self.unknown("run", given, self.plan.runs.iter().map(|run| run.name.as_str()))
    }

    /// A run, or the positive leg of a circuit.
    pub(super) fn run(&self, given: &str) -> Result<usize, String> {
        self.run_named(given).or_else(|| self.circuit(given)).ok_or_else(|| self.no_run(given))
    }

    /// An inverter.
    pub(super) fn inverter(&self, given: &str) -> Result<usize, String> {
        let inverters =
            || self.plan.converters.iter().enumerate().filter(|(_, one)| one.kind == ConverterKind::Inverter);
        let found = inverters().find(|(_, one)| one.name.trim() == given).map(|(index, _)| index);
        found.ok_or_else(|| self.unknown("inverter", given, inverters().map(|(_, one)| one.name.as_str())))
    }

    /// An operating case.
    pub(super) fn case(&self, given: &str) -> Result<usize, String> {
        let found = self.plan.cases.iter().position(|case| case.name.trim() == given);
        found.ok_or_else(|| self.unknown("case", given, self.plan.cases.iter().map(|case| case.name.as_str())))
    }

    /// The names of all cases.
    pub(super) fn cases(&self) -> String {
        self.plan.cases.iter().map(|case| case.name.as_str()).collect::<Vec<_>>().join(", ")
    }
}

/// A point as a readings file names it.
pub(super) fn written(plan: &Installation, point: Point) -> String {
    match point {
        Point::Node(node) => plan.nodes.get(node.0).map_or_else(String::new, |node| node.name.clone()),
        Point::Run(run, inside) => {
            format!("{}@{inside}", plan.runs.get(run).map_or("", |run| run.name.as_str()))
        }
    }
}
