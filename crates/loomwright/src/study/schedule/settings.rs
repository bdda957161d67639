//! What to set in the devices.

use super::{Cell, Sheet, SheetName, columns};
use crate::installation::{Converter, ConverterKind, Installation};
use crate::quantity::{ElectricCurrent, ElectricPotential, ToText, in_celsius, significant};
use crate::study::judge::Judgement;
use crate::study::judge::charge::{Charged, is_charger, most_current, reached, suffers_in_frost, usual_current};

/// Setting, value, why.
type Setting = (&'static str, String, String);

pub(super) fn sheet(judgement: &Judgement) -> Sheet {
    let plan = &judgement.installation;
    let rows = plan.converters.iter().enumerate().flat_map(|(index, converter)| rows(judgement, index, converter));
    Sheet {
        name: SheetName::Settings,
        columns: columns![
            "device": "device", "setting": "setting", "value": "value", "kind": "kind", "why": "why", "set": "set",
        ],
        rows: rows.collect(),
        notes: vec!["set each before it charges for the first time, and read the setting back".into()],
    }
}

fn rows(judgement: &Judgement, index: usize, converter: &Converter) -> Vec<Vec<Cell>> {
    let plan = &judgement.installation;
    let outputs = converter.output.filter(|_| is_charger(converter));
    let charged = outputs.map_or_else(Vec::new, |output| reached(plan, &judgement.ways, output));
    let mut settings = charging(converter, &charged);
    settings.extend(device(converter));
    settings.extend(array(plan, index, converter));
    let row = |(setting, value, why): Setting| {
        let cells = [converter.name.clone(), setting.to_owned(), value, converter.kind.name().to_owned(), why];
        cells.into_iter().map(Cell::from).chain([Cell::Empty]).collect()
    };
    settings.into_iter().map(row).collect()
}

/// Volts as they are set.
fn volts(voltage: ElectricPotential) -> String {
    format!("{} V", significant(voltage.value, 4))
}

fn span([low, high]: [ElectricPotential; 2]) -> String {
    format!("{} to {}", volts(low), volts(high))
}

/// A line for each of what is charged.
fn each(charged: &[Charged<'_>], says: impl Fn(&Charged<'_>) -> Option<String>) -> String {
    charged.iter().filter_map(says).collect::<Vec<_>>().join("; ")
}

fn charging(converter: &Converter, charged: &[Charged<'_>]) -> Vec<Setting> {
    let mut found = Vec::new();
    if converter.kind != ConverterKind::Inverter {
        let name = if is_charger(converter) { "absorption" } else { "output voltage" };
        let why = each(charged, |one| {
            let wants = one.absorption().map_or_else(String::new, |window| format!("wants {}, ", span(window)));
            let most = volts(one.charge_voltage);
            Some(format!("{} ({}) {wants}bears {most} at most", one.called(), one.first.chemistry))
        });
        found.push((name, converter.output_voltage.to_text(), why));
    }
    // Where several are charged, the one that bears least decides.
    let least = |one: &&Charged<'_>, other: &&Charged<'_>| {
        (one.charge_voltage / one.blocks).value.total_cmp(&(other.charge_voltage / other.blocks).value)
    };
    if let Some((one, window)) = charged.iter().min_by(least).and_then(|one| Some((one, one.window?))) {
        let wants = each(charged, |one| Some(format!("{} wants {}", one.called(), span(one.window?.float))));
        found.push(("float", converter.float_voltage.map_or_else(|| span(window.float), volts), wants));
        let never = each(charged, |one| {
            one.window?.equalise.is_none().then(|| format!("{} must never be equalised", one.called()))
        });
        found.push(match (converter.equalise_voltage, window.equalise) {
            (Some(stated), Some(most)) if never.is_empty() => {
                ("equalisation", volts(stated.min(most)), "for 2 h at most, watched".to_owned())
            }
            _ => ("equalisation", "off".to_owned(), never),
        });
        let none = window.per_kelvin.value == 0.0;
        let stated = converter.voltage_per_kelvin.filter(|_| !none).unwrap_or(window.per_kelvin);
        let (value, why) = if none {
            ("none".to_owned(), format!("{} is charged with the same in heat and cold", one.called()))
        } else {
            (
                format!("{} V/K", significant(stated.value, 3)),
                each(charged, |one| {
                    let wants = significant(one.window?.per_kelvin.value, 3);
                    Some(format!("{} wants {wants} V/K from 25 °C", one.called()))
                }),
            )
        };
        found.push(("temperature compensation", value, why));
    }
    if let Some(set) = converter.output_current {
        let limits: Vec<_> = charged
            .iter()
            .map(|one| one.batteries.iter().filter_map(|one| most_current(one)).reduce(ElectricCurrent::min))
            .collect();
        let together = limits.into_iter().reduce(|sum, one| Some(sum? + one?)).flatten();
        let why = each(charged, |one| {
            let stated = most_current(one.first).map(|most| format!("takes {} at most", most.to_text()));
            let usual = || format!("usually takes {}", usual_current(one.first).to_text());
            Some(format!("{} {}", one.called(), stated.unwrap_or_else(usual)))
        });
        found.push(("output current", together.map_or(set, |most| most.min(set)).to_text(), why));
    }
    let suffering = || charged.iter().flat_map(|one| &one.batteries).filter(|one| suffers_in_frost(one.chemistry));
    if suffering().next().is_some() {
        let stops = suffering().all(|one| one.stops_in_frost == Some(true));
        let why =
            if stops { "the battery stops it itself; set it here too" } else { "frost ruins lithium while it charges" };
        found.push(("no charge below", "0 °C".to_owned(), why.to_owned()));
    }
    found
}

fn device(converter: &Converter) -> Vec<Setting> {
    let mut found = Vec::new();
    if let Some(limit) = converter.input_limit {
        found.push(("input current limit", limit.to_text(), "what its feeder and source carry".to_owned()));
    }
    if let Some(lock_out) = converter.lock_out {
        found.push(("stops below", lock_out.to_text(), "input voltage".to_owned()));
    }
    if let Some(restart) = converter.restart {
        found.push(("starts again at", restart.to_text(), "input voltage".to_owned()));
    }
    if converter.running_signal {
        found.push(("engine signal", "connected".to_owned(), "ignition or D+".to_owned()));
    }
    if converter.pre_charge {
        found.push(("pre-charge", "through a resistor before the switch".to_owned(), "input capacitors".to_owned()));
    }
    found
}

fn array(plan: &Installation, index: usize, converter: &Converter) -> Vec<Setting> {
    let Some((current, voltage)) = converter.array else { return Vec::new() };
    let mut found = Vec::new();
    let value = format!("{} A short circuit, {} V", significant(current.value, 3), significant(voltage.value, 3));
    found.push(("array", value, "to compare with the panels' plates".to_owned()));
    if let Some(open) = plan.array_open_voltage(index) {
        let open = significant(open.value, 3);
        let value = if plan.arrays.iter().any(|array| array.controller == index) {
            format!("{open} V unloaded at {} °C", significant(in_celsius(plan.array_coldest(index)), 3))
        } else {
            format!("about {open} V unloaded")
        };
        let why = converter.array_limit.map(|limit| format!("its input bears {}", limit.to_text()));
        found.push(("array, cold", value, why.unwrap_or_else(|| "what its input bears: read its plate".to_owned())));
    }
    if let Some((operating, cell)) = plan.array_when_hot(index) {
        let hot = significant(in_celsius(cell), 3);
        let why = format!("charges to {}", converter.output_voltage.to_text());
        found.push(("array, hot", format!("{} V loaded at {hot} °C", significant(operating.value, 3)), why));
    }
    found
}
