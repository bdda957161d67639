//! Circuits and runs to single conductors.

use super::Ground;
use super::devices::Devices;
use crate::conductor::{Kind, Material, find, series};
use crate::data::tables::sources;
use crate::heat::Installation as Method;
use crate::installation::{ConductorChoice, Cut, FuseChoice, Leg, Link, LinkKind, NodeId, Run, Segment};
use crate::quantity::{ElectricPotential, ElectricalResistance, in_celsius};
use crate::text::entry::{Entry, File, Value};
use crate::text::resolve::{Names, unknown};
use uom::si::electrical_resistance::milliohm;

/// All conductors, and the chassis paths of circuits that return through it.
pub(super) struct Wiring {
    pub(super) runs: Vec<Run>,
    pub(super) chassis_paths: Vec<Link>,
}

pub(super) fn runs(
    file: &File<'_>,
    defaults: Option<&Entry>,
    devices: &Devices,
    names: &mut Names<'_>,
    ground: &mut Ground,
) -> Wiring {
    let mut wiring = Wiring { runs: Vec::new(), chassis_paths: Vec::new() };
    if defaults.is_none_or(|defaults| defaults.get("install").is_none()) {
        ground.assume(
            "runs",
            "enclosed with both legs loaded, where a run does not say otherwise",
            &sources::IEC_60364_5_52_B,
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
        let fuse = entry.fuse("fuse").unwrap_or(FuseChoice::None);
        wiring.runs.push(Run { name: entry.name.clone(), from, to, fuse, cranking: entry.flag("cranking"), ..body });
    }
    for entry in file.of("circuits") {
        circuit(entry, file, defaults, devices, names, ground, &mut wiring);
    }
    polarity(&mut wiring, devices, names.chassis);
    wiring
}

fn circuit(
    entry: &Entry,
    file: &File<'_>,
    defaults: Option<&Entry>,
    devices: &Devices,
    names: &mut Names<'_>,
    ground: &mut Ground,
    wiring: &mut Wiring,
) {
    let (from, back) = (names.node(entry, "from"), names.node(entry, "return"));
    let target = target(entry, file, devices, names);
    let Some(body) = body(entry, defaults, names) else { return };
    let (Some(from), Some(back), Some([positive, negative])) = (from, back, target) else { return };
    let fuse = entry.fuse("fuse").unwrap_or(FuseChoice::Auto);
    let through_chassis = names.chassis == Some(back);
    let index = wiring.runs.len();
    wiring.runs.push(Run {
        name: format!("{} +", entry.name),
        circuit: Some(entry.name.clone()),
        twin: (!through_chassis).then_some(index + 1),
        from,
        to: positive,
        fuse,
        ..body.clone()
    });
    if through_chassis {
        let resistance = entry.resistance("return_resistance").unwrap_or_else(|| {
            let value = ElectricalResistance::new::<milliohm>(3.0);
            ground.assume(
                format!("circuit {}", entry.name),
                "chassis return path 3 mΩ; measure it",
                &sources::CONTACT_COMMON_PRACTICE,
            );
            value
        });
        if !(0.0..=10.0).contains(&resistance.value) {
            names.refuse(entry, "return_resistance", "the chassis path has 0 mohm to 10 ohm");
        }
        if negative != back {
            wiring.chassis_paths.push(Link {
                name: format!("{} chassis path", entry.name),
                kind: LinkKind::Joint,
                nodes: [negative, back],
                resistance,
                drop: ElectricPotential::default(),
                rating: None,
                closed_when: [true; 3],
            });
        }
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
        if !told || known.contains(&given) || converter.is_some() {
            names.refuse(entry, "to", unknown("device", &given, &known));
        }
    }
    found
}

/// What circuits and runs share.
fn body(entry: &Entry, defaults: Option<&Entry>, names: &mut Names<'_>) -> Option<Run> {
    let pick = |key: &str| entry.get(key).map(|_| entry).or(defaults);
    let kind: Kind = pick("kind").and_then(|entry| entry.choice("kind")).unwrap_or(Kind::Iec5);
    let material: Material = pick("material").and_then(|entry| entry.choice("material")).unwrap_or(Material::Copper);
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
    for (length, zone) in stretches {
        let zone = names.zone(&zone.value, zone.span.clone(), entry.key("route"))?;
        segments.push(Segment { zone, length: *length });
    }
    Some(Run {
        name: String::new(),
        circuit: None,
        twin: None,
        from: NodeId(0),
        to: NodeId(0),
        leg: Leg::Positive,
        segments,
        cut: Cut::default(),
        conductor,
        insulation,
        method: pick("install").and_then(|entry| entry.choice("install")).unwrap_or(Method::Enclosed),
        fuse: FuseChoice::None,
        cranking: false,
    })
}

/// Finds which runs are negative: those that reach a negative terminal without passing a device.
fn polarity(wiring: &mut Wiring, devices: &Devices, chassis: Option<NodeId>) {
    let mut negative: std::collections::BTreeSet<NodeId> = chassis.into_iter().collect();
    negative.extend(devices.batteries.iter().map(|battery| battery.nodes[1]));
    negative.extend(devices.alternators.iter().map(|alternator| alternator.nodes[1]));
    negative.extend(devices.loads.iter().filter_map(|load| load.nodes.map(|nodes| nodes[1])));
    let ports = devices.converters.iter().flat_map(|converter| converter.input.into_iter().chain(converter.output));
    negative.extend(ports.map(|port| port[1]));
    let positive: std::collections::BTreeSet<NodeId> = devices
        .batteries
        .iter()
        .map(|battery| battery.nodes[0])
        .chain(devices.alternators.iter().map(|alternator| alternator.nodes[0]))
        .collect();
    loop {
        let before = negative.len();
        for run in &wiring.runs {
            if negative.contains(&run.from) && !positive.contains(&run.to) {
                negative.insert(run.to);
            }
            if negative.contains(&run.to) && !positive.contains(&run.from) {
                negative.insert(run.from);
            }
        }
        for link in &devices.links {
            let [one, other] = link.nodes;
            if negative.contains(&one) || negative.contains(&other) {
                negative.extend([one, other]);
            }
        }
        if negative.len() == before {
            break;
        }
    }
    for run in &mut wiring.runs {
        run.leg =
            if negative.contains(&run.from) && negative.contains(&run.to) { Leg::Negative } else { Leg::Positive };
    }
}
