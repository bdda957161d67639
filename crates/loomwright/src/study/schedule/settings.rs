//! What to set in the devices.

use super::{Cell, Sheet, SheetName, columns};
use crate::installation::{Converter, ConverterKind, Installation};
use crate::quantity::{ToText, significant};
use crate::study::judge::Judgement;

pub(super) fn sheet(judgement: &Judgement) -> Sheet {
    let plan = &judgement.installation;
    let rows = plan.converters.iter().flat_map(|converter| rows(judgement, plan, converter)).collect();
    Sheet {
        name: SheetName::Settings,
        columns: columns![
            "device": "device", "setting": "setting", "value": "value", "kind": "kind", "why": "why", "set": "set",
        ],
        rows,
        notes: vec!["set each before it charges for the first time, and read the setting back".into()],
    }
}

fn rows(judgement: &Judgement, plan: &Installation, converter: &Converter) -> Vec<Vec<Cell>> {
    let mut found = Vec::new();
    let mut add = |setting: &str, value: String, why: String| {
        found.push(vec![
            converter.name.as_str().into(),
            setting.into(),
            value.into(),
            converter.kind.name().into(),
            why.into(),
            Cell::Empty,
        ]);
    };
    let charged = converter
        .output
        .and_then(|output| plan.batteries.iter().find(|battery| judgement.ways.reaches(battery.nodes[0], output[0])));
    if converter.kind != ConverterKind::Inverter {
        let why = charged.map_or_else(String::new, |battery| {
            format!(
                "{} ({}) is charged to {} at most",
                battery.name,
                battery.chemistry,
                battery.charge_voltage.to_text()
            )
        });
        add("output voltage", converter.output_voltage.to_text(), why);
    }
    if let Some(current) = converter.output_current {
        let limit = charged.and_then(|battery| Some((&battery.name, battery.current_limit?)));
        let why = limit.map_or_else(String::new, |(name, most)| format!("{name} takes {} at most", most.to_text()));
        add("output current", current.to_text(), why);
    }
    if let Some(limit) = converter.input_limit {
        add("input current limit", limit.to_text(), "what its feeder and source carry".into());
    }
    if let Some(lock_out) = converter.lock_out {
        add("stops below", lock_out.to_text(), "input voltage".into());
    }
    if let Some(restart) = converter.restart {
        add("starts again at", restart.to_text(), "input voltage".into());
    }
    if converter.running_signal {
        add("engine signal", "connected".into(), "ignition or D+".into());
    }
    if converter.pre_charge {
        add("pre-charge", "through a resistor before the switch".into(), "input capacitors".into());
    }
    if let Some((current, voltage)) = converter.array {
        let array = format!("{} A short circuit, {} V", significant(current.value, 3), significant(voltage.value, 3));
        add("array", array, "to compare with the panels' plates".into());
    }
    found
}
