//! Terminals in order of work, with their torques: far from the batteries first, the batteries last.

use super::ends::{end, terminals};
use super::{Cell, Labels, Sheet, SheetName, columns};
use crate::fitting::{Form, Joint, screw_torque, torque};
use crate::installation::{Installation, NodeId, Terminal};
use crate::practice::Practice;
use crate::quantity::{Area, ElectricCurrent, ToText};
use crate::study::judge::Judgement;

/// When a terminal's turn comes.
fn turn(plan: &Installation, node: NodeId) -> (u8, &'static str) {
    let at = |nodes: &[NodeId; 2], which: usize| nodes.get(which) == Some(&node);
    let battery = |which| plan.batteries.iter().any(|one| at(&one.nodes, which));
    if plan.chassis == Some(node) {
        (0, "chassis")
    } else if plan.is_bar(node) {
        (1, "busbars")
    } else if plan.loads.iter().filter_map(|one| one.nodes).any(|nodes| nodes.contains(&node)) {
        (2, "loads")
    } else if plan.converters.iter().any(|one| one.input.into_iter().chain(one.output).flatten().any(|at| at == node)) {
        (3, "converters")
    } else if plan.alternators.iter().any(|one| one.nodes.contains(&node)) {
        (5, "alternators")
    } else if battery(0) {
        (6, "batteries, positive")
    } else if battery(1) {
        (7, "batteries, negative last")
    } else {
        (4, "in line")
    }
}

/// One end of a run in a terminal.
pub(in crate::study) struct Joined {
    /// The run, and its start (0) or end (1).
    pub(in crate::study) end: (usize, usize),
    area: Area,
    /// Its number, size and what it is made with.
    pub(in crate::study) text: String,
    current: ElectricCurrent,
}

/// One kind of terminal of a node, with all that it holds.
pub(in crate::study) struct Tightened {
    pub(in crate::study) node: NodeId,
    pub(in crate::study) terminal: Terminal,
    /// When its turn comes.
    pub(in crate::study) group: &'static str,
    /// Its form in words.
    pub(in crate::study) form: String,
    /// The thickest first.
    pub(in crate::study) ends: Vec<Joined>,
    /// From what to what torque, in N m.
    pub(in crate::study) torque: [Option<f64>; 2],
    /// Who says so.
    pub(in crate::study) by: String,
}

/// Every terminal that holds a conductor, in order of work.
pub(in crate::study) fn joined(judgement: &Judgement, labels: &Labels) -> Vec<Tightened> {
    let plan = &judgement.installation;
    let mut nodes: Vec<(u8, &'static str, NodeId)> = (0..plan.nodes.len())
        .map(NodeId)
        .filter(|node| plan.runs.iter().any(|run| run.from == *node || run.to == *node))
        .map(|node| (turn(plan, node).0, turn(plan, node).1, node))
        .collect();
    nodes.sort_by_key(|(turn, _, node)| (*turn, *node));
    let kinds = nodes.iter().flat_map(|(_, group, node)| {
        terminals(plan, *node).into_iter().filter_map(|of| tightened(judgement, labels, group, (*node, of)))
    });
    kinds.collect()
}

fn tightened(
    judgement: &Judgement,
    labels: &Labels,
    group: &'static str,
    (node, of): (NodeId, Terminal),
) -> Option<Tightened> {
    let plan = &judgement.installation;
    let mut ends: Vec<Joined> = Vec::new();
    for (index, model) in judgement.models.iter().enumerate() {
        for which in [0, 1] {
            let here = end(judgement, index, which).filter(|end| end.node == node && end.terminal == of);
            let Some(end) = here else { continue };
            let current = judgement.design.get(index).map(|design| design.current).unwrap_or_default();
            let text = format!("{} {} ({})", labels.run(index), model.conductor.label(), end.termination.words());
            ends.push(Joined { end: (index, which), area: model.conductor.area, text, current });
        }
    }
    // The thickest lug lies on the conducting face, the others on it.
    ends.sort_by(|one, other| other.area.value.total_cmp(&one.area.value));
    let (torque, by) = tightening(plan, node, &of, ends.first()?.area);
    let form = match (of.form, of.thread) {
        (Some(Form::Stud), Some(thread)) => format!("stud {}", thread.name()),
        (Some(form), _) => {
            of.largest.map_or_else(|| form.to_string(), |most| format!("{form} up to {}", most.to_text()))
        }
        (None, _) => String::new(),
    };
    Some(Tightened { node, terminal: of, group, form, ends, torque, by })
}

pub(super) fn sheet(judgement: &Judgement, labels: &Labels) -> Sheet {
    let plan = &judgement.installation;
    let rows: Vec<Vec<Cell>> =
        joined(judgement, labels).iter().enumerate().map(|(index, one)| row(plan, index + 1, one)).collect();
    let unstated = rows.iter().filter(|row| row.get(3) == Some(&Cell::Empty)).count();
    let mut notes = vec![
        "a drop that is much above the expected one, at the current named, is a joint to open and remake".to_owned(),
        "mark every tightened screw with a line across screw and part: a broken line is a loose joint".to_owned(),
    ];
    if unstated > 0 {
        notes.push(format!(
            "{unstated} of {} terminals are not described in the plan: their maker's manual says form, stripping and torque; \
             add terminal = to the device",
            rows.len()
        ));
    }
    Sheet {
        name: SheetName::Terminals,
        columns: columns![
            "step": "step", "terminal": "terminal", "group": "group", "form": "form", "holds": "holds",
            "torque_nm": "torque" / "N m", "torque_most_nm": "up to" / "N m", "torque_by": "torque by", "expected_mv": "expected" / "mV", "at_a": "at" / "A",
            "measured_mv": "measured" / "mV", "witness_mark": "marked",
        ],
        rows,
        notes,
    }
}

fn row(plan: &Installation, step: usize, of: &Tightened) -> Vec<Cell> {
    let most = of.ends.iter().map(|end| end.current).fold(ElectricCurrent::default(), ElectricCurrent::max);
    let joined: Vec<&str> = of.ends.iter().map(|end| end.text.as_str()).collect();
    let number: f64 = step.to_string().parse().unwrap_or_default();
    let [torque, torque_most] = of.torque;
    vec![
        number.into(),
        plan.nodes.get(of.node.0).map_or("", |node| node.name.as_str()).into(),
        of.group.into(),
        of.form.as_str().into(),
        joined.join("; ").into(),
        torque.into(),
        torque_most.into(),
        of.by.as_str().into(),
        ((of.terminal.joint() * most).value * 1e3).into(),
        most.value.into(),
        Cell::Empty,
        Cell::Empty,
    ]
}

/// From what to what torque a terminal is tightened, in N m, and who says so.
fn tightening(plan: &Installation, node: NodeId, of: &Terminal, csa: Area) -> ([Option<f64>; 2], String) {
    if let Some(stated) = of.torque {
        return ([Some(stated.value), None], plan.terminal_citation(of));
    }
    let battery = plan.batteries.iter().any(|one| one.nodes.contains(&node));
    let joint = if battery { Joint::Battery } else { Joint::Stud };
    let found = match (of.form, of.thread) {
        (Some(Form::Spring), _) => return ([None; 2], "none: a spring".into()),
        (Some(Form::Screw), _) if plan.practice == Practice::NaRecreationalVehicle => screw_torque(csa),
        (Some(Form::Stud), Some(thread)) => torque(joint, thread),
        _ => None,
    };
    let Some(range) = found else { return ([None; 2], "its maker's manual".into()) };
    let wide = range.most.value > range.least.value * (1.0 + 1e-9);
    let values = [Some(range.least.value), wide.then_some(range.most.value)];
    let by = if range.unsettled() {
        "makers differ: its own manual decides"
    } else if battery {
        "usual for batteries; its own manual comes first"
    } else {
        "usual for such joints; the part's manual comes first"
    };
    (values, by.into())
}
