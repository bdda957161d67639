//! Circuits and runs to single conductors.

use super::devices::Devices;
use super::fuses::fuse_of;
use super::{Ground, above_zero};
use crate::conductor::{Conductor, Kind, Material, find, series};
use crate::data::tables::sources;
use crate::fitting::{Form, Gland};
use crate::heat::Installation as Method;
use crate::installation::{ConductorChoice, Cut, FuseChoice, Laying, Leg, Link, LinkKind, NodeId, Run, Segment};
use crate::network::islands;
use crate::protection::Sheet;
use crate::quantity::{ElectricPotential, Length, ToText, in_celsius};
use crate::text::entry::{Entry, File, Value};
use crate::text::resolve::{Names, area_of, unknown};

/// All conductors, and the chassis paths of circuits that return through it.
pub(super) struct Wiring {
    pub(super) runs: Vec<Run>,
    pub(super) chassis_paths: Vec<Link>,
}

pub(super) fn runs(
    file: &File<'_>,
    defaults: Option<&Entry>,
    devices: &Devices,
    sheets: &[Option<Sheet>],
    names: &mut Names<'_>,
    ground: &mut Ground,
) -> Wiring {
    let mut wiring = Wiring { runs: Vec::new(), chassis_paths: Vec::new() };
    if defaults.is_none_or(|defaults| defaults.get("install").is_none()) {
        ground.assume(
            "runs",
            "enclosed with both legs loaded, where a run does not say otherwise",
            &sources::IEC_60364_5_52_ABC,
        );
    }
    for entry in file.of("runs") {
        let (from, to) = (names.node(entry, "from"), names.node(entry, "to"));
        let Some(body) = body(entry, defaults, names) else { continue };
        let (Some(from), Some(to)) = (from, to) else { continue };
        if from == to {
            names.refuse(entry, "to", "a run ends at another node than it starts from");
            continue;
        }
        pins_fit(entry, [from, to], names);
        let (fuse, sheet) = fuse_of(entry, sheets, file, names, FuseChoice::None);
        let name = entry.name.clone();
        wiring.runs.push(Run { name, from, to, fuse, sheet, cranking: entry.flag("cranking"), ..body });
    }
    for entry in file.of("circuits") {
        let fuse = fuse_of(entry, sheets, file, names, FuseChoice::Auto);
        circuit(entry, file, (defaults, fuse), devices, names, ground, &mut wiring);
    }
    unique(&wiring, file, names);
    if names.errors.is_empty() {
        connections(&wiring, devices, file, names);
    }
    polarity(&mut wiring, devices, names.chassis, names.nodes.len());
    wiring
}

fn circuit(
    entry: &Entry,
    file: &File<'_>,
    (defaults, (fuse, sheet)): (Option<&Entry>, (FuseChoice, Option<usize>)),
    devices: &Devices,
    names: &mut Names<'_>,
    ground: &mut Ground,
    wiring: &mut Wiring,
) {
    let (from, back) = (names.node(entry, "from"), names.node(entry, "return"));
    let target = target(entry, file, devices, names);
    let Some(body) = body(entry, defaults, names) else { return };
    let (Some(from), Some(back), Some([positive, negative])) = (from, back, target) else { return };
    if from == back {
        names.refuse(
            entry,
            "return",
            "the circuit starts and returns at the same place: its device would get no voltage",
        );
        return;
    }
    pins_fit(entry, [from, positive], names);
    let through_chassis = names.chassis == Some(back);
    let index = wiring.runs.len();
    wiring.runs.push(Run {
        name: format!("{} +", entry.name),
        circuit: Some(entry.name.clone()),
        twin: (!through_chassis).then_some(index + 1),
        from,
        to: positive,
        fuse,
        sheet,
        ..body.clone()
    });
    if through_chassis && negative == back {
        if entry.get("return_resistance").is_some() {
            names.refuse(
                entry,
                "return_resistance",
                "the device is grounded: it stands on the chassis, and no path is counted",
            );
        }
    } else if through_chassis {
        let resistance = entry.resistance("return_resistance").unwrap_or_else(|| {
            let value = crate::fitting::contact_resistance("chassis-path");
            let text = format!("chassis return path {}; measure it", value.to_text());
            ground.assume(format!("circuit {}", entry.name), text, &sources::CONTACT_COMMON_PRACTICE);
            value
        });
        if !(resistance.value > 0.0 && resistance.value <= 10.0) {
            names.refuse(entry, "return_resistance", "the chassis path has above 0 mohm to 10 ohm");
        }
        wiring.chassis_paths.push(Link {
            name: format!("{} chassis path", entry.name),
            kind: LinkKind::Joint,
            nodes: [negative, back],
            resistance,
            drop: ElectricPotential::default(),
            rating: None,
            closed_when: [true; 3],
            senses: None,
        });
    } else {
        if entry.get("return_resistance").is_some() {
            names.refuse(entry, "return_resistance", "return_resistance goes with return = \"chassis\"");
        }
        wiring.runs.push(Run {
            name: format!("{} -", entry.name),
            circuit: Some(entry.name.clone()),
            twin: Some(index),
            from: back,
            to: negative,
            leg: Leg::Negative,
            fuse: FuseChoice::None,
            fuse_distance: Length::default(),
            ..body
        });
    }
}

/// The two terminals that a circuit ends at.
fn target(entry: &Entry, file: &File<'_>, devices: &Devices, names: &mut Names<'_>) -> Option<[NodeId; 2]> {
    let at = entry.text("to")?;
    let (name, side) = at.value.rsplit_once('.').map_or((at.value, "in"), |(name, side)| (name, side));
    let load = devices.loads.iter().find(|load| load.name == at.value).and_then(|load| load.nodes);
    let battery = devices.batteries.iter().find(|battery| battery.name == at.value).map(|battery| battery.nodes);
    let alternator = devices.alternators.iter().find(|one| one.name == at.value).map(|one| one.nodes);
    let converter = devices.converters.iter().find(|converter| converter.name == name);
    let port = converter.and_then(|converter| match side {
        "in" => converter.input,
        "out" => converter.output,
        _ => None,
    });
    let found = load.or(battery).or(alternator).or(port);
    if found.is_none() {
        let given = at.value.to_owned();
        let mut known: Vec<String> =
            devices.loads.iter().filter(|load| load.nodes.is_some()).map(|load| load.name.clone()).collect();
        for converter in &devices.converters {
            known.extend(converter.input.map(|_| converter.name.clone()));
            known.extend(converter.output.map(|_| format!("{}.out", converter.name)));
        }
        // A device that could not be read has been told already.
        let told = ["loads", "converters"]
            .iter()
            .any(|section| file.entries.iter().any(|other| other.section == *section && other.name == name));
        if names.is_removed(entry, "to", &given) {
            return None;
        }
        if !told || known.contains(&given) || converter.is_some() {
            names.refuse(entry, "to", unknown("device", &given, &known));
        }
    }
    found
}

/// What circuits and runs share.
fn body(entry: &Entry, defaults: Option<&Entry>, names: &mut Names<'_>) -> Option<Run> {
    let pick = |key: &str| entry.get(key).map(|_| entry).or(defaults);
    let (kind, material) = kind_and_material(entry, defaults);
    let insulation =
        pick("insulation").and_then(|entry| entry.temperature("insulation")).unwrap_or_else(|| kind.usual_insulation());
    if !(40.0..=250.0).contains(&in_celsius(insulation)) {
        names.refuse(entry, "insulation", "an insulation class is 40 °C to 250 °C");
    }
    let conductor = match entry.get("conductor").map(|value| &value.value) {
        Some(Value::Size(size)) => match find(kind, material, *size) {
            Ok(conductor) => ConductorChoice::Fixed(conductor),
            Err(error) => {
                names.refuse(entry, "conductor", error.to_string());
                return None;
            }
        },
        _ if series(kind, material).next().is_none() => {
            names.refuse(entry, "material", crate::conductor::material_not_in_kind(kind, material).to_string());
            return None;
        }
        _ => ConductorChoice::Auto(kind, material),
    };
    let Value::Route(stretches) = &entry.get("route")?.value else { return None };
    let mut segments = Vec::new();
    for stretch in stretches {
        let zone = names.zone(&stretch.zone.value, stretch.zone.span.clone(), entry.key("route"))?;
        let loom = match &stretch.loom {
            Some(loom) => Some(names.loom(&loom.value, loom.span.clone(), entry.key("route"))?),
            None => None,
        };
        segments.push(Segment { zone, length: stretch.length, method: stretch.method, loom });
    }
    Some(Run {
        name: String::new(),
        circuit: None,
        twin: None,
        from: NodeId(0),
        to: NodeId(0),
        leg: Leg::Positive,
        cut: Cut::default(),
        conductor,
        insulation,
        method: pick("install").and_then(|entry| entry.choice("install")).unwrap_or(Method::Enclosed),
        fuse: FuseChoice::None,
        sheet: None,
        fuse_distance: fuse_distance(entry, names, &segments),
        segments,
        cranking: false,
        pins: ["pin_from", "pin_to"].map(|key| entry.size(key).map(area_of)),
        laying: laying(entry, names),
    })
}

fn kind_and_material(entry: &Entry, defaults: Option<&Entry>) -> (Kind, Material) {
    let pick = |key: &str| entry.get(key).map(|_| entry).or(defaults);
    let kind = pick("kind").and_then(|entry| entry.choice("kind")).unwrap_or(Kind::Iec5);
    (kind, pick("material").and_then(|entry| entry.choice("material")).unwrap_or(Material::Copper))
}

/// The conductor that an entry states; `None` where it leaves it open.
pub(super) fn stated_conductor(entry: &Entry, defaults: Option<&Entry>) -> Option<Conductor> {
    let (kind, material) = kind_and_material(entry, defaults);
    let Value::Size(size) = entry.get("conductor")?.value else { return None };
    find(kind, material, size).ok()
}

/// A reducing pin goes into a clamp: a stud wants a lug.
fn pins_fit(entry: &Entry, ends: [NodeId; 2], names: &mut Names<'_>) {
    for (key, node) in ["pin_from", "pin_to"].into_iter().zip(ends) {
        let stud = names.nodes.get(node.0).is_some_and(|node| node.terminal.form == Some(Form::Stud));
        if stud && entry.get(key).is_some() {
            names.refuse(entry, key, "a reducing pin goes into a screw or spring terminal; a stud takes a lug");
        }
    }
}

/// What a run passes on its way.
fn laying(entry: &Entry, names: &mut Names<'_>) -> Laying {
    let [bend_radius, support_spacing] = ["bend_radius", "support_spacing"].map(|key| entry.length(key));
    for (key, value, most) in [("bend_radius", bend_radius, 2.0), ("support_spacing", support_spacing, 5.0)] {
        above_zero(names, entry, key, value.map_or(1.0, |value| value.value), most, "m");
    }
    Laying { bend_radius, support_spacing, gland: entry.text("gland").and_then(|gland| Gland::named(gland.value)) }
}

/// How far from its start the fuse of a run sits: not beyond its end.
fn fuse_distance(entry: &Entry, names: &mut Names<'_>, segments: &[Segment]) -> Length {
    let Some(distance) = entry.length("fuse_distance") else { return Length::default() };
    let route = segments.iter().fold(Length::default(), |sum, segment| sum + segment.length);
    if !(distance.value >= 0.0 && distance < route) {
        names.refuse(
            entry,
            "fuse_distance",
            "the fuse sits at 0 m or more from the start, and before the end, of the run",
        );
    }
    distance
}

/// Names of runs are how findings and remedies speak of them.
fn unique(wiring: &Wiring, file: &File<'_>, names: &mut Names<'_>) {
    let legs: std::collections::BTreeSet<&str> =
        wiring.runs.iter().filter(|run| run.circuit.is_some()).map(|run| run.name.as_str()).collect();
    for entry in file.of("runs").filter(|entry| legs.contains(entry.name.as_str())) {
        names.error(entry.span.clone(), entry.key(""), format!("{:?} is the name of a circuit's leg", entry.name));
    }
}

/// Terminals that drive or take current: positive and negative.
fn poles(devices: &Devices) -> impl Iterator<Item = [NodeId; 2]> {
    let batteries = devices.batteries.iter().map(|battery| battery.nodes);
    let alternators = devices.alternators.iter().map(|alternator| alternator.nodes);
    let outputs = devices.converters.iter().filter_map(|converter| converter.output);
    batteries.chain(alternators).chain(outputs)
}

/// Finds which runs are negative: those joined to the negative of a source, and to no positive one.
fn polarity(wiring: &mut Wiring, devices: &Devices, chassis: Option<NodeId>, nodes: usize) {
    let island = islands(nodes, edges(wiring, devices));
    let of = |node: NodeId| island.get(node.0).copied().unwrap_or(node.0);
    let positive: Vec<usize> = poles(devices).map(|nodes| of(nodes[0])).collect();
    let consumers = devices.loads.iter().filter_map(|load| load.nodes);
    let inputs = devices.converters.iter().filter_map(|converter| converter.input);
    let negative: Vec<usize> =
        poles(devices).chain(consumers).chain(inputs).map(|nodes| of(nodes[1])).chain(chassis.map(of)).collect();
    for run in &mut wiring.runs {
        let here = of(run.from);
        run.leg = if negative.contains(&here) && !positive.contains(&here) { Leg::Negative } else { Leg::Positive };
    }
}

fn edges(wiring: &Wiring, devices: &Devices) -> Vec<[usize; 2]> {
    let runs = wiring.runs.iter().map(|run| [run.from.0, run.to.0]);
    let links = devices.links.iter().chain(&wiring.chassis_paths).map(|link| link.nodes.map(|node| node.0));
    runs.chain(links).collect()
}

/// Refuses what no current should ever flow through: a run that closes a source on itself, and devices the
/// wrong way round.
fn connections(wiring: &Wiring, devices: &Devices, file: &File<'_>, names: &mut Names<'_>) {
    let nodes = names.nodes.len();
    let entry_of = |run: &Run| {
        let (section, name) = run.circuit.as_ref().map_or(("runs", &run.name), |circuit| ("circuits", circuit));
        file.entries.iter().find(move |entry| entry.section == section && entry.name == *name)
    };
    // Runs are laid one after the other: the one that first joins both poles of a source is named.
    let mut laid: Vec<[usize; 2]> = devices.links.iter().map(|link| link.nodes.map(|node| node.0)).collect();
    let mut told = Vec::new();
    for run in &wiring.runs {
        laid.push([run.from.0, run.to.0]);
        let island = islands(nodes, laid.iter().copied());
        let closed = devices
            .batteries
            .iter()
            .filter(|battery| battery.nodes[0] != battery.nodes[1])
            .find(|battery| island.get(battery.nodes[0].0) == island.get(battery.nodes[1].0));
        if let Some(battery) = closed
            && let Some(entry) = entry_of(run)
        {
            names.refuse(entry, "to", format!("this joins {0}.+ with {0}.- : a short circuit", battery.name));
            told.push(run.name.clone());
            break;
        }
    }
    if !told.is_empty() {
        return;
    }
    let island = islands(nodes, edges(wiring, devices));
    let of = |node: NodeId| island.get(node.0).copied();
    let positive: Vec<_> = poles(devices).map(|nodes| of(nodes[0])).collect();
    let negative: Vec<_> = poles(devices).map(|nodes| of(nodes[1])).collect();
    let only = |here: &[Option<usize>], there: &[Option<usize>], node: NodeId| {
        here.contains(&of(node)) && !there.contains(&of(node))
    };
    let loads = devices.loads.iter().filter_map(|load| Some((&load.name, load.nodes?)));
    let inputs = devices.converters.iter().filter_map(|converter| Some((&converter.name, converter.input?)));
    let reversed: Vec<&String> = loads
        .chain(inputs)
        .filter(|(_, nodes)| only(&negative, &positive, nodes[0]) && only(&positive, &negative, nodes[1]))
        .map(|(name, _)| name)
        .collect();
    for name in reversed {
        let by =
            file.entries.iter().find(|entry| matches!(entry.section, "loads" | "converters") && entry.name == *name);
        if let Some(entry) = by {
            names.error(
                entry.span.clone(),
                entry.key(""),
                format!("{name} is connected the wrong way round: its + to a negative, its - to a positive"),
            );
        }
    }
    let itself =
        devices.converters.iter().filter_map(|converter| Some((converter, converter.input?, converter.output?)));
    let feeding_itself: Vec<&String> = itself
        .filter(|(_, input, output)| of(input[0]).is_some() && of(input[0]) == of(output[0]))
        .map(|(converter, _, _)| &converter.name)
        .collect();
    for name in feeding_itself {
        if let Some(entry) = file.of("converters").find(|entry| entry.name == *name) {
            names.error(
                entry.span.clone(),
                entry.key(""),
                format!("{name} feeds itself: its input and output hang on the same net"),
            );
        }
    }
}
