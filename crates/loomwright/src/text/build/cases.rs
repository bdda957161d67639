//! Operating cases: those that every plan is judged over, and its own.

use super::devices::Devices;
use crate::installation::{BatteryState, Case, ConverterKind, Engine};
use crate::quantity::in_celsius;
use crate::text::entry::{Entry, File};
use crate::text::limits::{MOST_CASES, MOST_STARTS};
use crate::text::resolve::{Names, unknown};
use uom::si::frequency::cycle_per_minute;

pub(super) fn cases(file: &File<'_>, devices: &Devices, names: &mut Names<'_>) -> Vec<Case> {
    let mut cases = usual(devices);
    for (count, entry) in file.of("cases").enumerate() {
        if count >= MOST_CASES {
            names.error(entry.span.clone(), entry.key(""), format!("at most {MOST_CASES} cases of its own are judged"));
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
        cases.push(own(entry, devices, names, loads, starting));
    }
    cases
}

fn own(
    entry: &Entry,
    devices: &Devices,
    names: &mut Names<'_>,
    loads: Option<Vec<usize>>,
    starting: Option<usize>,
) -> Case {
    let engine = entry.choice("engine").unwrap_or(Engine::Off);
    let charge = entry.ratio("state_of_charge");
    if charge.is_some_and(|charge| !(0.0..=1.0).contains(&charge.value)) {
        names.refuse(entry, "state_of_charge", "a state of charge is 0 % to 100 %");
    }
    if charge.is_some() && entry.get("batteries").is_some() {
        names.refuse(entry, "state_of_charge", "state one of batteries and state_of_charge");
    }
    let battery_temperature = entry.temperature("battery_temperature");
    if battery_temperature.is_some_and(|at| !(-40.0..=80.0).contains(&in_celsius(at))) {
        names.refuse(entry, "battery_temperature", "a battery's temperature is -40 °C to 80 °C");
    }
    let alternator_speed = entry.speed("alternator_speed");
    if let Some(speed) = alternator_speed {
        if engine == Engine::Off {
            names.refuse(entry, "alternator_speed", "an alternator turns with engine = \"idle\" or \"cruise\"");
        }
        if !(0.0..=20_000.0).contains(&speed.get::<cycle_per_minute>()) {
            names.refuse(entry, "alternator_speed", "a speed is 0 r/min to 20000 r/min");
        }
        if let Some(unknown) = devices.alternators.iter().find(|alternator| alternator.curve.is_none()) {
            let message = format!(
                "output by speed is not known for {}: it needs idle_output below hot_output, and idle_speed below \
                 rated_speed, both above 1300 r/min",
                unknown.name
            );
            names.refuse(entry, "alternator_speed", message);
        }
    }
    Case {
        shore: entry.flag("shore"),
        sun: entry.flag("sun"),
        charge,
        battery_temperature,
        alternator_speed,
        loads,
        starting,
        ..Case::new(&entry.name, engine, entry.choice("batteries").unwrap_or(BatteryState::Resting))
    }
}

/// The cases of every plan, as far as it has what they need.
fn usual(devices: &Devices) -> Vec<Case> {
    let case = Case::new;
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
