//! Operating cases: those that every plan is judged over, and its own.

use super::devices::Devices;
use crate::installation::{BatteryState, Case, ConverterKind, Engine};
use crate::text::entry::{Entry, File};
use crate::text::resolve::{Names, unknown};

pub(super) fn cases(file: &File<'_>, devices: &Devices, names: &mut Names<'_>) -> Vec<Case> {
    let mut cases = usual(devices);
    for (count, entry) in file.of("cases").enumerate() {
        if count >= MOST_OWN {
            names.error(entry.span.clone(), entry.key(""), format!("at most {MOST_OWN} cases of its own are judged"));
            break;
        }
        if cases.iter().any(|case| case.name == entry.name) {
            names.error(entry.span.clone(), entry.key(""), format!("every plan has a case {:?} already", entry.name));
            continue;
        }
        let known: Vec<String> = devices.loads.iter().map(|load| load.name.clone()).collect();
        let find = |name: &str| devices.loads.iter().position(|load| load.name == name);
        let loads = entry.texts("loads").map(|texts| {
            let mut found = Vec::new();
            for text in texts {
                match find(&text.value) {
                    Some(load) => found.push(load),
                    None => names.error(text.span.clone(), entry.key("loads"), unknown("load", &text.value, &known)),
                }
            }
            found
        });
        let starting = entry.text("starting").and_then(|at| {
            let found = find(at.value);
            if found.is_none() {
                names.refuse(entry, "starting", unknown("load", at.value, &known));
            }
            found
        });
        cases.push(own(entry, loads, starting));
    }
    cases
}

fn own(entry: &Entry, loads: Option<Vec<usize>>, starting: Option<usize>) -> Case {
    Case {
        name: entry.name.clone(),
        engine: entry.choice("engine").unwrap_or(Engine::Off),
        shore: entry.flag("shore"),
        sun: entry.flag("sun"),
        batteries: entry.choice("batteries").unwrap_or(BatteryState::Resting),
        loads,
        starting,
        everything: false,
        lock_out: false,
    }
}

/// Most starts judged, so that a hostile plan cannot ask for hundreds of cases.
const MOST_STARTS: usize = 24;
/// Most cases of a plan's own.
const MOST_OWN: usize = 24;

/// The cases of every plan, as far as it has what they need.
fn usual(devices: &Devices) -> Vec<Case> {
    let case = |name: &str, engine: Engine, batteries: BatteryState| Case {
        name: name.to_owned(),
        engine,
        shore: false,
        sun: false,
        batteries,
        loads: None,
        starting: None,
        everything: false,
        lock_out: false,
    };
    let has = |kind: ConverterKind| devices.converters.iter().any(|converter| converter.kind == kind);
    let mut cases = vec![case("parked-night", Engine::Off, BatteryState::Resting)];
    if !devices.alternators.is_empty() {
        cases.push(case("driving-hot-idle", Engine::Idle, BatteryState::Resting));
        cases.push(case("driving-cruise", Engine::Cruise, BatteryState::Resting));
    }
    if has(ConverterKind::ShoreCharger) {
        cases.push(Case { shore: true, ..case("charging-shore", Engine::Off, BatteryState::Low) });
    }
    if has(ConverterKind::SolarController) {
        cases.push(Case { sun: true, ..case("charging-sun", Engine::Off, BatteryState::Low) });
    }
    cases.push(Case { everything: true, ..case("full-load-low-battery", Engine::Off, BatteryState::Low) });
    if devices.converters.iter().any(|converter| converter.lock_out.is_some() && converter.input.is_some()) {
        // Driving where there is an engine: chargers draw only then.
        let engine = if devices.alternators.is_empty() { Engine::Off } else { Engine::Cruise };
        let low = case("converters-at-lock-out", engine, BatteryState::Low);
        cases.push(Case { everything: true, lock_out: true, ..low });
    }
    // Every start, on nearly empty batteries.
    let starts: Vec<usize> =
        devices.loads.iter().enumerate().filter(|(_, load)| load.inrush.is_some()).map(|(index, _)| index).collect();
    for index in starts.iter().copied().take(MOST_STARTS) {
        let name = devices.loads.get(index).map_or("", |load| load.name.as_str());
        let name = if starts.len() == 1 { "motor-start".to_owned() } else { format!("motor-start {name}") };
        cases.push(Case { starting: Some(index), ..case(&name, Engine::Off, BatteryState::Low) });
    }
    cases
}
