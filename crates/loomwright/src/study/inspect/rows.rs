//! Every part that is looked at, in order of work.

use super::interval::{Risk, due};
use super::{Expected, Inspected, Item};
use crate::conductor::Conductor;
use crate::installation::{
    Battery, Chemistry, Converter, ConverterKind, Installation, Link, LinkKind, NodeId, Part, Run,
};
use crate::protection::Device;
use crate::quantity::{ElectricCurrent, ElectricalResistance, ToText, Torque};
use crate::study::judge::Judgement;
use crate::study::reconcile::{Seen, Segment};
use crate::study::schedule::{Labels, Tightened, joined, supports};
use uom::si::torque::newton_meter;

/// All items: terminals as they are worked on, then what protects, lies, stores, converts and switches.
pub(super) fn items(judgement: &Judgement, seen: &[Seen]) -> Vec<Item> {
    let plan = &judgement.installation;
    let labels = Labels::of(plan);
    let terminals = joined(judgement, &labels);
    let mut found: Vec<Item> = terminals.iter().map(|of| terminal(judgement, of, seen)).collect();
    let runs = || plan.runs.iter().enumerate();
    found.extend(runs().filter_map(|(index, run)| {
        let device = plan.device(index)?;
        Some(fuse(judgement, (index, run), &device, &labels, seen))
    }));
    found.extend(runs().filter_map(|(index, run)| {
        let model = judgement.models.get(index)?;
        Some(cable(judgement, (index, run), &model.conductor, &labels, seen))
    }));
    found.extend(plan.batteries.iter().map(|one| battery(judgement, one, seen)));
    found.extend(plan.converters.iter().map(|one| converter(judgement, one, seen)));
    found.extend(plan.links.iter().enumerate().map(|(index, one)| link(judgement, (index, one), seen)));
    found
}

fn item(judgement: &Judgement, what: Inspected, name: String, risk: Risk, seen: &[Seen]) -> Item {
    let (due, trends) = due(judgement, &risk, seen);
    Item {
        what,
        name,
        group: String::new(),
        segments: risk.segments,
        look: String::new(),
        tighten: String::new(),
        torque: [None; 2],
        expected: None,
        due,
        trends,
    }
}

/// The zones in which a node stands: its own, else those in which its runs end.
fn zones(plan: &Installation, nodes: &[NodeId]) -> Vec<usize> {
    let of = |node: &NodeId| -> Vec<usize> {
        if let Some(zone) = plan.nodes.get(node.0).and_then(|node| node.zone) {
            return vec![zone];
        }
        let ends = plan.runs.iter().filter_map(|run| match (run.from == *node, run.to == *node) {
            (true, _) => run.segments.first(),
            (_, true) => run.segments.last(),
            _ => None,
        });
        ends.map(|segment| segment.zone).collect()
    };
    let mut found: Vec<usize> = nodes.iter().filter(|node| plan.chassis != Some(**node)).flat_map(of).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// Every terminal by its name, once.
pub(super) fn terminal_names(judgement: &Judgement, labels: &Labels) -> Vec<String> {
    let plan = &judgement.installation;
    let name = |of: &Tightened| plan.nodes.get(of.node.0).map(|node| node.name.clone());
    let mut names: Vec<String> = joined(judgement, labels).iter().filter_map(name).collect();
    names.dedup();
    names
}

/// Design current over what a run may carry; over what it may for a part of the time, where it pauses.
pub(super) fn load(judgement: &Judgement, run: usize) -> Option<f64> {
    let (model, design) = (judgement.models.get(run)?, judgement.design.get(run)?);
    let permitted = design.duty.as_ref().map_or(model.ampacity, |duty| model.duty_ampacity(duty))?;
    // Where the air is so hot that nothing is permitted any current is beyond all of it; no current is not.
    Some((design.current / permitted).value).filter(|share| !share.is_nan())
}

/// The most current that a case drives through any of some runs, and the case: what can be measured. Neither a start, which
/// is over too soon, nor converters at their lock-out, where nobody can hold them.
fn largest(judgement: &Judgement, runs: &[usize]) -> Option<(ElectricCurrent, String)> {
    let plan = &judgement.installation;
    let mut most: Option<(ElectricCurrent, String)> = None;
    for result in &judgement.cases {
        let lasting = plan.cases.get(result.case).filter(|case| case.is_usual());
        let Some(case) = lasting else { continue };
        for run in runs {
            let current = result.run_currents.get(*run).copied().unwrap_or_default().abs();
            if current.value > 0.0 && most.as_ref().is_none_or(|(most, _)| current > *most * (1.0 + 1e-9)) {
                most = Some((current, case.name.clone()));
            }
        }
    }
    most
}

fn expected(judgement: &Judgement, runs: &[usize], resistance: ElectricalResistance) -> Option<Expected> {
    let (current, case) = largest(judgement, runs)?;
    Some(Expected { drop: resistance * current, current, case })
}

fn terminal(judgement: &Judgement, of: &Tightened, seen: &[Seen]) -> Item {
    let plan = &judgement.installation;
    let runs: Vec<usize> = of.ends.iter().map(|end| end.end.0).collect();
    let risk = Risk {
        zones: zones(plan, &[of.node]),
        load: runs.iter().filter_map(|run| load(judgement, *run)).reduce(f64::max),
        lugs: of.ends.len(),
        segments: of.ends.iter().map(|end| Segment::Joint(end.end.0, end.end.1)).collect(),
        new: runs.iter().any(|run| plan.runs.get(*run).is_some_and(|run| !plan.is_kept(run))),
    };
    let name = plan.nodes.get(of.node.0).map_or_else(String::new, |node| node.name.clone());
    let joined: Vec<&str> = of.ends.iter().map(|end| end.text.as_str()).collect();
    let form = if of.form.is_empty() { "terminal" } else { of.form.as_str() };
    Item {
        group: of.group.to_owned(),
        look: format!(
            "{form} with {}: line across screw and part unbroken, nothing discoloured, corroded or loose to the hand",
            joined.join("; ")
        ),
        tighten: of.by.clone(),
        torque: of.torque.map(|torque| torque.map(Torque::new::<newton_meter>)),
        expected: expected(judgement, &runs, of.terminal.joint()),
        ..item(judgement, Inspected::Terminal, name, risk, seen)
    }
}

fn fuse(
    judgement: &Judgement,
    (index, run): (usize, &Run),
    device: &Device<'_>,
    labels: &Labels,
    seen: &[Seen],
) -> Item {
    let plan = &judgement.installation;
    let rating = device.fuse.rating;
    let current = judgement.design.get(index).map(|design| design.current).unwrap_or_default();
    let holder = device.fuse.family.holder();
    let risk = Risk {
        zones: zones(plan, &[run.from]),
        load: Some((current / rating).value),
        lugs: 0,
        segments: vec![Segment::Fuse(index)],
        new: !plan.is_kept(run),
    };
    let torque = holder.and_then(|holder| holder.torque);
    Item {
        look: format!(
            "{}: rating as planned, holder not browned, softened or corroded, contacts tight, spare aboard; a breaker trips by its \
             button and closes again",
            device.called()
        ),
        tighten: torque.map_or_else(|| "its holder's manual".to_owned(), |_| "usual for its holder".to_owned()),
        torque: [torque, None],
        expected: expected(judgement, &[index], device.drop() / rating),
        ..item(judgement, Inspected::Fuse, format!("{} of {}", labels.fuse(index), run.name), risk, seen)
    }
}

fn cable(
    judgement: &Judgement,
    (index, run): (usize, &Run),
    conductor: &Conductor,
    labels: &Labels,
    seen: &[Seen],
) -> Item {
    let plan = &judgement.installation;
    let risk = Risk {
        zones: run.segments.iter().map(|segment| segment.zone).collect(),
        load: load(judgement, index),
        lugs: 0,
        segments: vec![Segment::Cable(index)],
        new: false,
    };
    let gland = run.laying.gland.map_or_else(String::new, |gland| format!(" gland {} tight,", gland.name));
    let count = supports(plan, run);
    let held = match count {
        0 => String::new(),
        1 => " its support holds,".to_owned(),
        _ => format!(" all {count} supports hold,"),
    };
    Item {
        look: format!(
            "{}:{gland}{held} nothing chafes at bends, edges and bulkheads; insulation neither hard, cracked nor discoloured, most of \
             all beside its lugs",
            conductor.label()
        ),
        ..item(judgement, Inspected::Cable, format!("{} {}", labels.run(index), run.name), risk, seen)
    }
}

fn battery(judgement: &Judgement, battery: &Battery, seen: &[Seen]) -> Item {
    let own = match battery.chemistry {
        Chemistry::Flooded => "electrolyte above the plates in every cell, case and vents clean, no acid around it",
        Chemistry::Agm | Chemistry::Gel => "case not swollen, valves and vent free, nothing weeps at the posts",
        Chemistry::LithiumIronPhosphate => {
            "case not swollen, its electronics report no fault, cells apart by no more than usual"
        }
    };
    let plan = &judgement.installation;
    let risk = Risk { zones: zones(plan, &battery.nodes), ..Risk::default() };
    Item {
        look: format!("terminal covers on, fixed so that it cannot move; {own}"),
        ..item(judgement, Inspected::Battery, battery.name.clone(), risk, seen)
    }
}

fn converter(judgement: &Judgement, converter: &Converter, seen: &[Seen]) -> Item {
    let ports: Vec<NodeId> = converter.input.into_iter().chain(converter.output).flatten().collect();
    let mains = match converter.kind {
        ConverterKind::Inverter | ConverterKind::ShoreCharger => {
            "; press the test button of its residual-current device, where it has one"
        }
        ConverterKind::DcDcCharger | ConverterKind::SolarController | ConverterKind::Buck => "",
    };
    let plan = &judgement.installation;
    let risk = Risk { zones: zones(plan, &ports), ..Risk::default() };
    Item {
        look: format!("air vents free and clean, fan turns, fixed to its wall, case bond tight, no fault shown{mains}"),
        ..item(judgement, Inspected::Converter, converter.name.clone(), risk, seen)
    }
}

fn link(judgement: &Judgement, (index, link): (usize, &Link), seen: &[Seen]) -> Item {
    let plan = &judgement.installation;
    let runs: Vec<usize> = plan
        .runs
        .iter()
        .enumerate()
        .filter(|(_, run)| link.nodes.contains(&run.from) || link.nodes.contains(&run.to))
        .map(|(index, _)| index)
        .collect();
    let currents = runs.iter().filter_map(|run| judgement.design.get(*run)).map(|design| design.current);
    let most = currents.fold(ElectricCurrent::default(), ElectricCurrent::max);
    let risk = Risk {
        zones: zones(plan, &link.nodes),
        load: link.rating.filter(|rating| rating.value > 0.0).map(|rating| (most / rating).value),
        lugs: 0,
        segments: vec![Segment::Link(index)],
        new: !plan.keeps(Part::Link, &link.name),
    };
    let rated = link.rating.map_or_else(String::new, |rating| format!(" ({})", rating.to_text()));
    let look = match link.kind {
        LinkKind::Isolator => {
            "turn it off without load and on again: it clicks home without play, really parts the circuit, and is not warm in use"
        }
        LinkKind::Relay => "closes and opens as it should, coil leads tight, case not browned",
        LinkKind::Shunt => "sense leads tight and fused, nothing bridges it, reads nothing without load",
        LinkKind::Diode => "cooling fins free and clean, fixed to its wall, case not browned",
        LinkKind::Joint => "nothing discoloured, corroded or loose to the hand",
    };
    // A diode's drop is no resistance.
    let measured = (link.kind != LinkKind::Diode).then_some(link.resistance);
    Item {
        look: format!("{}{rated}: {look}", link.kind),
        expected: measured.and_then(|resistance| expected(judgement, &runs, resistance)),
        ..item(judgement, Inspected::Link, link.name.clone(), risk, seen)
    }
}
