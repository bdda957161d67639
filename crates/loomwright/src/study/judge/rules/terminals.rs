//! Rules on terminals: what goes in, on what, how many together, and what a reducing pin does.

use super::{Measure, n, plain};
use crate::conductor::Conductor;
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::fitting::{Form, Lug, Tight};
use crate::installation::{Node, NodeId};
use crate::quantity::{Area, ElectricCurrent, ToText, in_mm2};
use crate::study::judge::Judgement;
use crate::study::judge::model::terminal_limit;

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let mut found = Vec::new();
    for index in 0..judgement.installation.runs.len() {
        for end in [0, 1] {
            found.extend(accepts(judgement, index, end));
            found.extend(pin(judgement, index, end));
        }
    }
    for node in 0..judgement.installation.nodes.len() {
        found.extend(together(judgement, NodeId(node)));
        found.extend(lugs(judgement, NodeId(node)));
        found.extend(stud(judgement, NodeId(node)));
    }
    found
}

/// The node at an end of a run.
fn node(judgement: &Judgement, run: usize, end: usize) -> Option<(NodeId, &Node)> {
    let run = judgement.installation.runs.get(run)?;
    let id = if end == 0 { run.from } else { run.to };
    Some((id, judgement.installation.nodes.get(id.0)?))
}

/// Whether a conductor, with its pin where it has one, goes into the terminal at an end.
fn accepts(judgement: &Judgement, index: usize, end: usize) -> Option<Finding> {
    let (run, model) = (judgement.installation.runs.get(index)?, judgement.models.get(index)?);
    let pin = run.pin(end, &model.conductor);
    let (_, node) = node(judgement, index, end)?;
    let (terminal, node) = (node.terminal_for(&model.conductor, pin), &node.name);
    let tight = terminal.refuses(&model.conductor, pin)?;
    let citation = judgement.installation.terminal_citation(&terminal);
    let area = pin.map_or(model.conductor.area, |pin| pin.to);
    let what = pin.map_or_else(|| model.conductor.label(), |pin| pin.words());
    let sized = |limit: Area, margin: f64, message: String| {
        Measure {
            rule: "terminal-accepts-conductor",
            subject: &run.name,
            measured: in_mm2(area),
            limit: in_mm2(limit),
            unit: "mm²",
            margin,
            failing: Signal::Warning,
            citation: &citation,
            confidence: Confidence::Published,
            case: None,
        }
        .finding(|_| message)
    };
    match tight {
        Tight::Large(largest) => {
            let message = format!(
                "{what} does not enter {node}, which accepts {} mm²; never cut strands away",
                n(in_mm2(largest))
            );
            sized(largest, (largest / area).value, message)
        }
        Tight::Small(smallest) => {
            let message = format!("{what} is not held by {node}, which grips from {} mm² up", n(in_mm2(smallest)));
            sized(smallest, (area / smallest).value, message)
        }
        Tight::NoLug(_) => None,
    }
}

/// Conductors that no usual lug joins to the stud of a node. Only a caution: the list is from memory, and makers make
/// others.
fn lugs(judgement: &Judgement, id: NodeId) -> Option<Finding> {
    let node = judgement.installation.nodes.get(id.0)?;
    let lacks = |(run, _): &(usize, Area)| {
        let model = judgement.models.get(*run)?;
        let of = judgement.installation.runs.get(*run)?;
        let pin = of.pin(if of.from == id { 0 } else { 1 }, &model.conductor);
        let refused = node.terminal_for(&model.conductor, pin).refuses(&model.conductor, pin);
        matches!(refused, Some(Tight::NoLug(_))).then(|| (of.name.as_str(), model.conductor))
    };
    let lacking: Vec<(&str, Conductor)> = ends(judgement, id).iter().filter_map(lacks).collect();
    let (_, first) = lacking.first()?;
    let usual: Vec<&str> = Lug::threads(first.area).map(|thread| thread.name()).collect();
    let usual = if usual.is_empty() { "none is known".to_owned() } else { usual.join(", ") };
    let names = lacking.iter().map(|(name, size)| format!("{name} ({})", size.label())).collect::<Vec<_>>().join(", ");
    let message = format!(
        "no usual lug goes over the {} stud for {names}; those for {} are made for {usual}: find the lug before you build",
        node.terminal.thread.map_or("", |thread| thread.name()),
        first.label()
    );
    Some(plain("lug-fits-stud", &node.name, Signal::Caution, message, "lugs as usually made (from memory)"))
}

/// What a reducing pin carries, drops and sheds: its own limit governs.
fn pin(judgement: &Judgement, index: usize, end: usize) -> Option<Finding> {
    let (run, model) = (judgement.installation.runs.get(index)?, judgement.models.get(index)?);
    let (id, node) = node(judgement, index, end)?;
    let node = &node.name;
    let stated = (*run.pins.get(end)?)?;
    let Some(pin) = run.pin(end, &model.conductor) else {
        let message = format!(
            "the reducing pin of {} at {node} is not smaller than {}: none is needed",
            stated.to_text(),
            model.conductor.label()
        );
        return Some(plain("reducing-pin", &run.name, Signal::Notice, message, "the plan's pin"));
    };
    let current = judgement.design.get(index)?.current;
    let temperature = terminal_limit(&judgement.installation, id);
    let drop = pin.resistance(temperature) * current;
    let does = format!(
        "{} at {node} adds {} mV and {} W at {} A",
        pin.words(),
        n(drop.value * 1e3),
        n(pin.heat(current, temperature).value),
        n(current.value)
    );
    let Some(limit) = pin.limit() else {
        let message = format!("{does}; what so small a pin carries is not known");
        return Some(plain("reducing-pin", &run.name, Signal::Warning, message, "IEC 60947-7-1"));
    };
    let limited = format!("{does}; it carries {} A, the test current of terminals of its size", n(limit.value));
    let narrow = Measure {
        rule: "reducing-pin",
        subject: &run.name,
        measured: current.value,
        limit: limit.value,
        unit: "A",
        margin: if current.value > 0.0 { (limit / current).value } else { f64::INFINITY },
        failing: Signal::Warning,
        citation: "IEC 60947-7-1, test currents",
        confidence: Confidence::Published,
        case: None,
    }
    .finding(|_| limited.clone());
    Some(
        narrow.unwrap_or_else(|| {
            plain("reducing-pin", &run.name, Signal::Notice, limited, "IEC 60947-7-1, test currents")
        }),
    )
}

/// The ends of runs at a node: index of the run, and its conductor.
fn ends(judgement: &Judgement, node: NodeId) -> Vec<(usize, Area)> {
    let runs = judgement.installation.runs.iter().zip(&judgement.models).enumerate();
    let here = runs.filter(|(_, (run, _))| run.from == node || run.to == node);
    here.map(|(index, (_, model))| (index, model.conductor.area)).collect()
}

/// More conductors in one terminal, or lugs on one stud, than it takes.
fn together(judgement: &Judgement, id: NodeId) -> Option<Finding> {
    let plan = &judgement.installation;
    let node = plan.nodes.get(id.0)?;
    let form = node.terminal.form?;
    if plan.chassis == Some(id) || plan.is_bar(id) {
        // A bar has many terminals, and a place for each conductor as far as is known.
        return None;
    }
    let ends = ends(judgement, id);
    let usual = if form == Form::Stud { constants::LUGS_PER_STUD } else { 1.0 };
    // The negatives of a converter that is not isolated are one node and two terminals.
    let both =
        plan.converters.iter().any(|one| one.input.zip(one.output).is_some_and(|(i, o)| i[1] == id && o[1] == id));
    let takes = node.terminal.takes.map_or(usual, f64::from) * if both { 2.0 } else { 1.0 };
    let count = f64::from(u32::try_from(ends.len()).unwrap_or(u32::MAX));
    if count <= takes {
        return None;
    }
    let names: Vec<&str> = ends.iter().filter_map(|(run, _)| Some(plan.runs.get(*run)?.name.as_str())).collect();
    let names = names.join(", ");
    let all = ends.iter().fold(Area::default(), |sum, (_, area)| sum + *area);
    let (citation, confidence) = if node.terminal.takes.is_some() {
        (plan.terminal_citation(&node.terminal), Confidence::Published)
    } else if form == Form::Stud {
        ("common practice: four lugs on one stud".to_owned(), Confidence::CommonPractice)
    } else {
        ("common practice: one conductor in one clamp".to_owned(), Confidence::CommonPractice)
    };
    let twin = form != Form::Stud && ends.len() == 2 && node.terminal.largest.is_some_and(|largest| all <= largest);
    let help = match form {
        Form::Stud => "join the others at a busbar".to_owned(),
        _ if twin => format!("a twin ferrule makes one of them: {} mm² together enter", n(in_mm2(all))),
        _ => "join them at a busbar and take one tail from it".to_owned(),
    };
    Measure {
        rule: "conductors-per-terminal",
        subject: &node.name,
        measured: count,
        limit: takes,
        unit: "",
        margin: takes / count,
        failing: if twin { Signal::Caution } else { Signal::Warning },
        citation: &citation,
        confidence,
        case: None,
    }
    .finding(|_| format!("{} conductors meet in one terminal that takes {}: {names}; {help}", n(count), n(takes)))
}

/// More through one lug than is usual for its stud. Only a caution: the table is one maker's, for brass.
fn stud(judgement: &Judgement, id: NodeId) -> Option<Finding> {
    let node = judgement.installation.nodes.get(id.0)?;
    let of_run = |(run, _): (usize, Area)| {
        let terminal = node.terminal_for(&judgement.models.get(run)?.conductor, None);
        let thread = terminal.thread.filter(|_| terminal.form == Some(Form::Stud))?;
        let (limit, source) = thread.clamps()?;
        let current = judgement.design.get(run)?.current;
        Some((thread, limit, source, current))
    };
    let over = |one: &(_, ElectricCurrent, _, ElectricCurrent)| (one.3 / one.1).value;
    let each = ends(judgement, id).into_iter().filter_map(of_run);
    let (thread, limit, source, most) = each.max_by(|one, other| over(one).total_cmp(&over(other)))?;
    Measure {
        rule: "stud-carries-current",
        subject: &node.name,
        measured: most.value,
        limit: limit.value,
        unit: "A",
        margin: if most > limit { (limit / most).value } else { f64::INFINITY },
        failing: Signal::Caution,
        citation: &source.to_string(),
        confidence: source.confidence,
        case: None,
    }
    .finding(|_| {
        format!(
            "one lug carries {} A; on {} a maker of terminal boards permits {} A: ask the maker of this part, keep the faces \
             clean and flat, and measure the joint's drop and temperature under load",
            n(most.value),
            thread.name(),
            n(limit.value)
        )
    })
}
