//! The list of loads.

use super::{Cell, Labels, Sheet, SheetName, columns};
use crate::installation::{Load, LoadKind};
use crate::study::judge::Judgement;
use uom::si::electric_current::ampere;
use uom::si::power::watt;
use uom::si::ratio::percent;

pub(super) fn sheet(judgement: &Judgement, labels: &Labels) -> Sheet {
    let rows = judgement.installation.loads.iter().map(|load| row(judgement, labels, load)).collect();
    Sheet {
        name: SheetName::Loads,
        columns: columns![
            "load": "load", "function": "function", "power_w": "draws" / "W", "current_a": "or" / "A", "duty_percent": "duty" / "%",
            "inrush_a": "inrush" / "A", "lowest_voltage_v": "works from" / "V", "when": "runs", "fed_by": "fed by",
            "label": "cable", "fuse": "fuse",
        ],
        rows,
        notes: Vec::new(),
    }
}

fn row(judgement: &Judgement, labels: &Labels, load: &Load) -> Vec<Cell> {
    let plan = &judgement.installation;
    let (power, current) = match load.kind {
        LoadKind::Power(power) => (Some(power.get::<watt>()), (power / load.nominal).get::<ampere>()),
        LoadKind::Current(current) => (Some((current * load.nominal).get::<watt>()), current.get::<ampere>()),
        LoadKind::Resistance(resistance) => {
            let current = load.nominal / resistance;
            (Some((current * load.nominal).get::<watt>()), current.get::<ampere>())
        }
    };
    let run = load.nodes.and_then(|nodes| plan.runs.iter().position(|run| run.to == nodes[0]));
    let fed_by =
        match (load.inverter.and_then(|index| plan.converters.get(index)), run.and_then(|run| plan.runs.get(run))) {
            (Some(inverter), _) => inverter.name.clone(),
            (None, Some(run)) => plan.nodes.get(run.from.0).map_or_else(String::new, |node| node.name.clone()),
            (None, None) => String::new(),
        };
    let when: Vec<&str> = ["parked", "driving", "shore"]
        .into_iter()
        .zip(load.runs_when)
        .filter(|(_, runs)| *runs)
        .map(|(when, _)| when)
        .collect();
    let fuse = run.and_then(|run| plan.device(run)).map(|device| device.called());
    vec![
        load.name.as_str().into(),
        load.function.name().into(),
        power.into(),
        if load.inverter.is_some() { Cell::Empty } else { current.into() },
        load.duty.get::<percent>().into(),
        load.inrush.map(|inrush| inrush.get::<ampere>()).into(),
        load.lowest_voltage.map(|voltage| voltage.value).into(),
        if when.len() == 3 { "always".to_owned() } else { when.join(", ") }.into(),
        fed_by.into(),
        run.map(|run| labels.run(run)).into(),
        fuse.into(),
    ]
}
