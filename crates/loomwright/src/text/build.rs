//! Entries to the typed installation: every name resolved, every default remembered.

use super::PlanError;
use super::entry::{Entry, File};
use super::resolve::Names;
use crate::data::Source;
use crate::data::tables::{constants, sources};
use crate::heat::Installation as Method;
use crate::installation::{Installation, Loom, Place, PlanAssumption, Terminal, Zone, ZoneKind};
use crate::names::UnknownName;
use crate::practice::{Limited, Override, Practice};
use crate::quantity::{ElectricPotential, ThermodynamicTemperature, celsius, in_celsius};

mod batteries;
mod bonding;
mod cases;
mod converters;
mod devices;
mod diary;
mod existing;
mod fuses;
mod runs;
mod terminals;

use bonding::Cable;

/// What the plan and its defaults say for everything below.
pub(super) struct Ground {
    pub(super) place: Place,
    pub(super) practice: Practice,
    pub(super) system_voltage: ElectricPotential,
    pub(super) terminal: Terminal,
    /// What conductors are that have no entry of their own.
    pub(super) cable: Cable,
    pub(super) assumptions: Vec<PlanAssumption>,
}

impl Ground {
    pub(super) fn assume(&mut self, subject: impl Into<String>, text: impl Into<String>, source: &'static Source) {
        self.assumptions.push(PlanAssumption { subject: subject.into(), text: text.into(), source });
    }

    pub(super) fn assume_custom(&mut self, subject: impl Into<String>, text: impl Into<String>) {
        self.assume(subject, text, &sources::COMMON_PRACTICE_DEFAULT);
    }
}

/// Builds the installation from what is new or kept, and remembers what is removed.
pub(super) fn build(file: &File<'_>, errors: &mut Vec<PlanError>) -> Option<Installation> {
    let (standing, removed): (Vec<Entry>, Vec<Entry>) =
        file.entries.iter().cloned().partition(|entry| !existing::is_removed(entry));
    build_standing(&File { text: file.text, entries: standing }, &removed, errors)
}

/// Builds the installation; mistakes are added to `errors`, and `None` is returned when nothing can be built.
fn build_standing(file: &File<'_>, removed: &[Entry], errors: &mut Vec<PlanError>) -> Option<Installation> {
    // What is missing has been told; the rest of the file is still read, so that every mistake is shown.
    let nothing = Entry { section: "plan", name: String::new(), span: 0..0, values: Vec::new() };
    let plan = file.of("plan").next().unwrap_or(&nothing);
    let defaults = file.of("defaults").next();
    let mut names = Names::new(file, errors);
    names.removed = removed.iter().map(|entry| entry.name.clone()).collect();
    let system_voltage = plan.voltage("system_voltage");
    if let Some(voltage) = system_voltage
        && !(5.0..=60.0).contains(&voltage.value)
    {
        names.refuse(plan, "system_voltage", "the system voltage is 5 V to 60 V DC, for example \"12 V\"");
    }
    let mut ground = Ground {
        place: plan.choice("place").unwrap_or(Place::Vehicle),
        practice: plan.choice("practice").unwrap_or(Practice::General),
        system_voltage: system_voltage
            .unwrap_or_else(|| ElectricPotential::new::<uom::si::electric_potential::volt>(12.0)),
        terminal: Terminal {
            temperature: defaults.and_then(|defaults| defaults.temperature("terminal_temperature")),
            ..Terminal::default()
        },
        cable: Cable::of(defaults),
        assumptions: Vec::new(),
    };
    if plan.get("practice").is_none() {
        ground.assume_custom("plan", "no particular law (practice general)");
    }
    let limits = limits(file, &mut names);
    zones(file, &mut names, &mut ground);
    looms(file, &mut names);
    terminals::terminals(file, &mut names);
    let arrays = diary::arrays(file, &mut names, &mut ground);
    let devices = devices::devices(file, &arrays, &mut names, &mut ground);
    let fuses = fuses::fuses(file, &mut names);
    let wiring = runs::runs(file, defaults, &devices, &fuses, &mut names, &mut ground);
    let cases = cases::cases(file, &devices, &mut names);
    let places = diary::places(file, &mut names, &mut ground);
    let stays = diary::stays(file, &places, &devices.loads, &mut names, &mut ground);
    let existing = existing::existing(file, removed, defaults, &mut names);
    let devices::Devices { batteries, alternators, converters, loads, mut links } = devices;
    links.extend(wiring.chassis_paths);
    let stated_bonding = bonding::bonding(plan, names.chassis.is_some(), &mut ground);
    Some(Installation {
        name: plan.text("name").map(|name| name.value.to_owned()).unwrap_or_default(),
        place: ground.place,
        practice: ground.practice,
        limits,
        system_voltage: ground.system_voltage,
        zones: std::mem::take(&mut names.zones),
        fuses: fuses.into_iter().flatten().collect(),
        terminals: std::mem::take(&mut names.terminal_kinds),
        looms: std::mem::take(&mut names.looms),
        nodes: std::mem::take(&mut names.nodes),
        chassis: names.chassis,
        stated_bonding,
        batteries,
        alternators,
        converters,
        arrays,
        loads,
        links,
        runs: wiring.runs,
        cases,
        places,
        stays,
        existing,
        assumptions: ground.assumptions,
    })
}

/// Limits that the plan sets itself, by their names.
fn limits(file: &File<'_>, names: &mut Names<'_>) -> Vec<Override> {
    let mut found = Vec::new();
    for entry in file.of("limits") {
        let limit: Limited = match entry.name.parse() {
            Ok(limit) => limit,
            Err(error) => {
                names.error(entry.span.clone(), entry.key(""), UnknownName::to_string(&error));
                continue;
            }
        };
        let (Some(value), Some(reason)) = (entry.text("value"), entry.text("reason")) else { continue };
        if reason.value.trim().is_empty() {
            names.refuse(entry, "reason", "a reason is needed: whoever reads the report asks for it");
        }
        match limit.value(value.value) {
            Ok(value) => found.push(Override { limit, value, reason: reason.value.to_owned() }),
            Err(message) => names.refuse(entry, "value", message),
        }
    }
    found
}

fn zones(file: &File<'_>, names: &mut Names<'_>, ground: &mut Ground) {
    for entry in file.of("zones") {
        let Some(kind) = entry.choice::<ZoneKind>("kind") else {
            // Told already; it stands in for itself, so that nothing that lies in it is told again.
            let air = celsius(constants::AMBIENT_C);
            let name = entry.name.clone();
            names.zones.push(Zone { name, kind: ZoneKind::VanCabin, hottest: air, coldest: air, explosive: None });
            continue;
        };
        let (usual, source) = kind.usual_hottest(ground.practice);
        let hottest = entry.temperature("hottest").unwrap_or_else(|| {
            let text = format!("hottest air {:.0} °C ({kind})", in_celsius(usual));
            ground.assume(format!("zone {}", entry.name), text, source);
            usual
        });
        let coldest = entry.temperature("coldest").unwrap_or_else(|| celsius(constants::COLDEST_C));
        within(names, entry, "hottest", hottest, coldest);
        let explosive = entry.choice("explosive");
        names.zones.push(Zone { name: entry.name.clone(), kind, hottest, coldest, explosive });
    }
}

fn looms(file: &File<'_>, names: &mut Names<'_>) {
    for entry in file.of("looms") {
        // What cannot be read has been told, and stands in for itself.
        let method = entry.choice("install").unwrap_or(Method::Bundle);
        let bore = entry.length("bore");
        if bore.is_some() && !method.is_conduit() {
            names.refuse(entry, "bore", "a bore goes with conduit-plastic, conduit-metal or conduit-split");
        }
        if bore.is_some_and(|bore| !(3e-3..=0.5).contains(&bore.value)) {
            names.refuse(entry, "bore", "the bore of a conduit is 3 mm to 500 mm, for example \"25 mm\"");
        }
        if method == Method::FreeAir {
            names.refuse(entry, "install", "free-air is alone; touching conductors are a bundle");
        }
        names.looms.push(Loom { name: entry.name.clone(), method, bore });
    }
}

fn within(
    names: &mut Names<'_>,
    entry: &Entry,
    key: &str,
    hottest: ThermodynamicTemperature,
    coldest: ThermodynamicTemperature,
) {
    if !(-40.0..=150.0).contains(&in_celsius(hottest)) {
        names.refuse(entry, key, "the hottest air is −40 °C to 150 °C");
    } else if coldest > hottest || in_celsius(coldest) < -60.0 {
        names.refuse(entry, "coldest", "the coldest air is −60 °C to the hottest");
    }
}

/// The least share of the most that a value may be.
const NEXT_TO_NOTHING: f64 = 1e-9;

/// Refuses a value that is not above zero or beyond `most`.
pub(super) fn above_zero(names: &mut Names<'_>, entry: &Entry, key: &str, value: f64, most: f64, unit: &str) {
    if entry.get(key).is_none() {
        return;
    }
    // What is next to nothing is a slip, and no number that can be divided by.
    if value > 0.0 && value < most * NEXT_TO_NOTHING {
        names.refuse(
            entry,
            key,
            format!("{key} is next to nothing; it is at most {most} {unit}, and a billionth of that or more"),
        );
    } else if !(value > 0.0 && value <= most) {
        names.refuse(entry, key, format!("{key} is above 0 {unit} and at most {most} {unit}"));
    }
}
