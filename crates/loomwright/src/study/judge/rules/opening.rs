//! What if this opens: every fuse, isolator, relay and battery protection in turn.

use std::collections::BTreeMap;

use super::{n, plain};
use crate::data::tables::constants;
use crate::finding::{Finding, Signal};
use crate::installation::{
    Case, Chemistry, Converter, ConverterKind, DeviceRef, FuseChoice, Installation, LinkKind, NodeId,
};
use crate::network::{Outcome, Part, islands, operating_point};
use crate::study::judge::{CaseResult, Judgement};

/// Something that opens.
struct Opening<'a> {
    part: Part,
    name: String,
    /// The nodes beside it, to tell a load's own fuse.
    beside: [NodeId; 2],
    battery: Option<&'a str>,
}

/// What is left after something has opened in a case.
struct Left<'a> {
    installation: &'a Installation,
    case: &'a CaseResult,
    island: Vec<usize>,
    opened: Part,
}

impl Left<'_> {
    fn joined(&self, one: NodeId, other: NodeId) -> bool {
        self.island.get(one.0).is_some() && self.island.get(one.0) == self.island.get(other.0)
    }

    /// Whether a source, or a battery if only that counts, is joined to both terminals. The negative may be that of
    /// another: banks in series.
    fn gives(&self, nodes: [NodeId; 2], battery: bool) -> bool {
        let sources = self.case.lowered.sources.iter().filter(|part| **part != self.opened);
        let terminals = sources.filter_map(|part| match part {
            Part::Device(DeviceRef::Battery(index)) => self.installation.batteries.get(*index).map(|one| one.nodes),
            Part::Device(DeviceRef::Alternator(index)) if !battery => {
                self.installation.alternators.get(*index).map(|one| one.nodes)
            }
            Part::Output(index) if !battery => self.installation.converters.get(*index)?.output,
            _ => None,
        });
        let outputs = self.case.lowered.converters.iter().filter(|_| !battery);
        let outputs = outputs.filter_map(|index| self.installation.converters.get(*index)?.output);
        let terminals: Vec<[NodeId; 2]> = terminals.chain(outputs).collect();
        let positive = terminals.iter().any(|source| self.joined(source[0], nodes[0]));
        positive && terminals.iter().any(|source| self.joined(source[1], nodes[1]))
    }

    /// Whether anything but a source draws from the net of a node.
    fn draws(&self, node: NodeId) -> bool {
        let network = &self.case.lowered.network;
        let demands = self.case.lowered.demands.iter().zip(&network.demands);
        let loads = demands.filter(|(part, _)| !matches!(part, Part::Output(_))).map(|(_, demand)| demand.nodes[0]);
        let inputs = network.converters.iter().map(|converter| converter.input[0]);
        loads.chain(inputs).any(|drawing| self.joined(NodeId(drawing), node))
    }
}

/// Everything that may open, in the order of the plan.
fn openings(judgement: &Judgement) -> Vec<Opening<'_>> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for (index, (run, model)) in installation.runs.iter().zip(&judgement.models).enumerate() {
        if model.fuse.is_some() {
            let name = format!("the fuse of {}", run.name);
            found.push(Opening { part: Part::Run(index), name, beside: [run.from, run.to], battery: None });
        }
    }
    for (index, link) in installation.links.iter().enumerate() {
        if matches!(link.kind, LinkKind::Isolator | LinkKind::Relay) {
            let name = format!("{} {}", link.kind, link.name);
            found.push(Opening { part: Part::Link(index), name, beside: link.nodes, battery: None });
        }
    }
    for (index, battery) in installation.batteries.iter().enumerate() {
        if battery.chemistry == Chemistry::LithiumIronPhosphate {
            let name = format!("the protection of {}", battery.name);
            let part = Part::Device(DeviceRef::Battery(index));
            found.push(Opening { part, name, beside: battery.nodes, battery: Some(&battery.name) });
        }
    }
    found
}

/// What opening things does to one subject.
struct Harm {
    signal: Signal,
    what: String,
    case: String,
    openings: Vec<String>,
}

/// By rule and subject.
#[derive(Default)]
struct Told {
    found: BTreeMap<(&'static str, String), Harm>,
}

impl Told {
    fn tell(
        &mut self,
        rule: &'static str,
        subject: &str,
        signal: Signal,
        what: String,
        case: &Case,
        opening: &Opening<'_>,
    ) {
        let harm = self.found.entry((rule, subject.to_owned())).or_insert_with(|| Harm {
            signal,
            what,
            case: case.name.clone(),
            openings: Vec::new(),
        });
        if !harm.openings.contains(&opening.name) {
            harm.openings.push(opening.name.clone());
        }
    }
}

/// Solutions with something open, at most: of every case, where batteries are left to carry what others did.
pub(super) fn solutions(plan: &Installation) -> usize {
    if !shared(plan) {
        return 0;
    }
    let fuses = plan.runs.iter().filter(|run| run.fuse != FuseChoice::None).count();
    let cases = plan.cases.iter().filter(|case| !case.lock_out && case.starting.is_none()).count();
    (fuses + plan.links.len() + plan.batteries.len()).saturating_mul(cases)
}

/// Whether batteries may be left to carry more than they are allowed.
fn shared(plan: &Installation) -> bool {
    plan.batteries.len() >= 2 && plan.batteries.iter().any(|battery| battery.current_limit.is_some())
}

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let openings = openings(judgement);
    let mut told = Told::default();
    for case in judgement.cases.iter().filter(|case| case.point.is_some()) {
        let Some(of) = installation.cases.get(case.case).filter(|of| of.is_usual()) else {
            continue;
        };
        // A relay that its voltage has opened joins nothing; a diode that blocks will pass when it has to.
        let is_open = |branch: usize| {
            let relays = case.lowered.network.relays.iter();
            let open = case.point.as_ref().is_some_and(|point| point.open_branches.contains(&branch));
            open && relays.into_iter().any(|relay| relay.branch == branch)
        };
        let edges = |opened: Option<Part>| {
            let branches = case.lowered.branches.iter().zip(&case.lowered.network.branches).enumerate();
            let left = branches.filter(|(index, (part, _))| Some(**part) != opened && !is_open(*index));
            islands(installation.nodes.len(), left.map(|(_, (_, branch))| branch.nodes))
        };
        let before = Left { installation, case, island: edges(None), opened: Part::Run(usize::MAX) };
        for opening in &openings {
            let left = Left { installation, case, island: edges(Some(opening.part)), opened: opening.part };
            without_battery(&before, &left, of, opening, &mut told);
            dropped(&before, &left, of, opening, &mut told);
            remaining(judgement, &left, of, opening, &mut told);
        }
    }
    let found = told.found.into_iter().map(|((rule, subject), harm)| {
        let message = format!("when {} opens {}", listed(&harm.openings), harm.what);
        let mut finding = plain(rule, &subject, harm.signal, message, citation(rule));
        finding.case = Some(harm.case);
        finding
    });
    found.collect()
}

fn citation(rule: &str) -> &'static str {
    match rule {
        "load-dump" => "ISO 16750-2:2012, 4.6.4 (from memory)",
        "battery-current" => "the battery's own limit",
        _ => "the plan: keep_powered",
    }
}

/// The first few names, and how many more.
fn listed(names: &[String]) -> String {
    const SHOWN: usize = 3;
    let shown: Vec<&str> = names.iter().take(SHOWN).map(String::as_str).collect();
    let more = names.len().saturating_sub(SHOWN);
    if more > 0 { format!("{} or {more} more", shown.join(", ")) } else { shown.join(" or ") }
}

/// Alternators and solar controllers that are left without a battery.
fn without_battery(before: &Left<'_>, left: &Left<'_>, of: &Case, opening: &Opening<'_>, told: &mut Told) {
    let installation = left.installation;
    let loses = |nodes: [NodeId; 2]| before.gives(nodes, true) && !left.gives(nodes, true);
    for part in &left.case.lowered.sources {
        let Part::Device(DeviceRef::Alternator(index)) = part else { continue };
        let Some(alternator) = installation.alternators.get(*index).filter(|one| loses(one.nodes)) else { continue };
        // The standard knows nets of 12 and 24 V; above, nothing is known but that it is several times the voltage.
        let surge = |levels: [f64; 2]| match alternator.voltage.value {
            volts if volts <= 18.0 => format!("{} V", n(levels[0])),
            volts if volts <= 36.0 => format!("{} V", n(levels[1])),
            _ => "several times its voltage".to_owned(),
        };
        if !alternator.suppressed {
            let peak = surge([constants::LOAD_DUMP_12V, constants::LOAD_DUMP_24V]);
            let what = format!(
                "while driving, it is left without a battery: its net may reach {peak} for a moment and destroy electronics; \
                 state suppressed = true if its own diodes clip that"
            );
            told.tell("load-dump", &alternator.name, Signal::Danger, what, of, opening);
        } else if left.draws(alternator.nodes[0]) {
            let peak = surge([constants::SUPPRESSED_12V, constants::SUPPRESSED_24V]);
            let what = format!("while driving, it is left without a battery: what stays on its net sees up to {peak}");
            told.tell("load-dump", &alternator.name, Signal::Caution, what, of, opening);
        }
    }
    let alone = |one: &&Converter| one.kind == ConverterKind::SolarController && of.sun && !one.holds_alone;
    for (index, converter) in installation.converters.iter().enumerate().filter(|(_, one)| alone(one)) {
        if !converter.output.is_some_and(|output| loses(output) && left.draws(output[0])) {
            continue;
        }
        let open = installation.array_open_voltage(index).map_or(0.0, |voltage| voltage.value);
        let what = format!(
            "in the sun, it is left without a battery but with loads: they may see up to the {} V of its array; state \
             holds_alone = true if it holds its output without a battery",
            n(open)
        );
        told.tell("load-dump", &converter.name, Signal::Danger, what, of, opening);
    }
}

/// Loads that must stay supplied and are not; a load's own fuse does not count.
fn dropped(before: &Left<'_>, left: &Left<'_>, of: &Case, opening: &Opening<'_>, told: &mut Told) {
    for load in left.installation.loads.iter().filter(|load| load.keep_powered) {
        let Some(nodes) = load.nodes.filter(|nodes| !opening.beside.contains(&nodes[0])) else { continue };
        if before.gives(nodes, false) && !left.gives(nodes, false) {
            let what = "it is without supply, and the plan says that it must not be".to_owned();
            told.tell("kept-powered", &load.name, Signal::Warning, what, of, opening);
        }
    }
}

/// Batteries that are left to carry what another one carried.
fn remaining(judgement: &Judgement, left: &Left<'_>, of: &Case, opening: &Opening<'_>, told: &mut Told) {
    let batteries = &left.installation.batteries;
    if !shared(left.installation) {
        return;
    }
    let lowered = &left.case.lowered;
    let mut network = lowered.network.clone();
    let mut kept = lowered.branches.iter().map(|part| *part != opening.part);
    network.branches.retain(|_| kept.next().unwrap_or(true));
    let mut kept = lowered.sources.iter().map(|part| *part != opening.part);
    network.sources.retain(|_| kept.next().unwrap_or(true));
    let Ok(Outcome::Point(point)) = operating_point(&network) else { return };
    let parts = lowered.sources.iter().filter(|part| **part != opening.part);
    for (part, current) in parts.zip(&point.source_currents) {
        let Part::Device(DeviceRef::Battery(index)) = part else { continue };
        let Some(battery) = batteries.get(*index) else { continue };
        let Some(limit) = battery.current_limit.filter(|limit| current.abs() > *limit) else { continue };
        let own =
            judgement.cases.get(left.case.case).and_then(|case| case.sources.iter().find(|(found, _)| found == part));
        // What is over its limit already is told as that.
        if opening.battery != Some(&battery.name) && own.is_some_and(|(_, own)| own.abs() <= limit) {
            let what =
                format!("it carries {} A, its limit is {} A: it opens too", n(current.value.abs()), n(limit.value));
            told.tell("battery-current", &battery.name, Signal::Warning, what, of, opening);
        }
    }
}
