//! What to switch on, and what a reading is good for, in words.

use super::Why;
use crate::data::tables::constants;
use crate::installation::{BatteryState, Case, ConverterKind, DeviceRef, Engine, Installation};
use crate::network::{inverter_output, runs_in};
use crate::quantity::{ToText, significant};

/// What to switch on and off for a case, a sentence each; only of what the plan has.
pub(super) fn switch_on(plan: &Installation, case: &Case) -> Vec<String> {
    let has = |kind: ConverterKind| plan.converters.iter().any(|converter| converter.kind == kind);
    let mut told = Vec::new();
    if !plan.alternators.is_empty() || case.engine != Engine::Off {
        let speed = case.alternator_speed.map(|speed| format!(", alternators at {}", speed.to_text()));
        let engine = match case.engine {
            Engine::Off => "Engine off",
            Engine::Idle => "Engine warm and idling",
            Engine::Cruise => "Engine warm and at cruising speed",
        };
        told.push(format!("{engine}{}.", speed.unwrap_or_default()));
    }
    if has(ConverterKind::ShoreCharger) {
        told.push(format!("Shore power {}.", if case.shore { "connected" } else { "disconnected" }));
    }
    if has(ConverterKind::SolarController) {
        let sun = if case.sun { "Full sun on the arrays." } else { "No sun on the arrays: at night, or cover them." };
        told.push(sun.to_owned());
    }
    let charge = match (case.charge, case.batteries) {
        (Some(charge), _) => format!("at {} charge", charge.to_text()),
        (None, BatteryState::Low) => "nearly empty".to_owned(),
        (None, BatteryState::Resting) => "half full, rested for some hours".to_owned(),
        (None, BatteryState::Full) => "full".to_owned(),
    };
    let warm = case.battery_temperature.map(|at| format!(", at {}", at.to_text())).unwrap_or_default();
    told.push(format!("Batteries {charge}{warm}."));
    told.extend(loads(plan, case));
    told.push(format!("Then wait {} minutes.", significant(constants::WALK_WAIT_MIN, 3)));
    told
}

fn loads(plan: &Installation, case: &Case) -> Vec<String> {
    let names = |on: bool| -> Vec<&str> {
        let wanted = plan.loads.iter().enumerate().filter(|(index, _)| runs_in(plan, case, *index) == on);
        wanted.map(|(_, load)| load.name.as_str()).collect()
    };
    let (on, off) = (names(true), names(false));
    let mut told = Vec::new();
    match (on.is_empty(), off.is_empty()) {
        (true, true) => {}
        (true, false) => told.push("Every load off.".to_owned()),
        (false, true) => told.push(format!("Every load on: {}.", on.join(", "))),
        (false, false) => {
            told.push(format!("On: {}.", on.join(", ")));
            told.push(format!("Off: {}.", off.join(", ")));
        }
    }
    for (index, converter) in plan.converters.iter().enumerate() {
        if converter.kind == ConverterKind::Inverter {
            let given = inverter_output(plan, case, index);
            let loaded = if given.value > 0.0 {
                format!("{} giving {} in all.", converter.name, given.to_text())
            } else {
                format!("{} without load.", converter.name)
            };
            told.push(loaded);
        }
    }
    told
}

impl Why {
    /// What a reading is good for, in a few words with the names of the plan.
    pub fn text(self, plan: &Installation) -> String {
        let run = |index: usize| plan.runs.get(index).map_or("", |run| run.name.as_str());
        let converter = |index: usize| plan.converters.get(index).map_or("", |one| one.name.as_str());
        match self {
            Self::Device(device) => {
                let name = match device {
                    DeviceRef::Battery(index) => plan.batteries.get(index).map(|one| one.name.as_str()),
                    DeviceRef::Alternator(index) => plan.alternators.get(index).map(|one| one.name.as_str()),
                    DeviceRef::Converter(index) => Some(converter(index)),
                    DeviceRef::Load(index) => plan.loads.get(index).map(|one| one.name.as_str()),
                };
                format!("voltage at {}", name.unwrap_or_default())
            }
            Self::Current(index) => format!("current of {}", run(index)),
            Self::Fuse(index) => format!("drop across the fuse of {}", run(index)),
            Self::Drop(index) => format!("drop along {}", run(index)),
            Self::Link(index) => {
                format!("drop across {}", plan.links.get(index).map_or("", |link| link.name.as_str()))
            }
            Self::Power(index) => format!("power that {} gives", converter(index)),
        }
    }
}
