//! Rules on where things stand: sparks where gas may gather, air for charging batteries, and what goes around a shunt.

use super::{n, plain};
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::installation::{Battery, Chemistry, FuseChoice, Installation, LinkKind, NodeId};
use crate::network::islands;
use crate::study::judge::Judgement;

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = sparks(installation);
    found.extend(installation.batteries.iter().filter_map(|battery| ventilation(installation, battery)));
    found.extend(around_shunts(installation));
    found
}

/// Devices that may spark or get hot in air that may burn.
fn sparks(installation: &Installation) -> Vec<Finding> {
    let battery = |node: NodeId| installation.batteries.iter().any(|battery| battery.nodes.contains(&node));
    let device = |node: NodeId| {
        let links = installation.links.iter().flat_map(|link| link.nodes);
        let loads = installation.loads.iter().filter_map(|load| load.nodes).flatten();
        let alternators = installation.alternators.iter().flat_map(|one| one.nodes);
        let ports = installation.converters.iter().flat_map(|one| [one.input, one.output]).flatten().flatten();
        links.chain(loads).chain(alternators).chain(ports).any(|other| other == node)
    };
    let fuse = |node: NodeId| installation.runs.iter().any(|run| run.from == node && run.fuse != FuseChoice::None);
    let mut found: Vec<Finding> = Vec::new();
    for (index, node) in installation.nodes.iter().enumerate() {
        let at = NodeId(index);
        // Where nobody says in which zone it stands, it stands where its runs end.
        let ends = installation.runs.iter().filter(|_| node.zone.is_none()).flat_map(|run| {
            let [first, last] = [run.segments.first(), run.segments.last()];
            [(run.from, first), (run.to, last)]
        });
        let ends = ends.filter(|(end, _)| *end == at).filter_map(|(_, segment)| Some(segment?.zone));
        let zones = node.zone.into_iter().chain(ends).filter_map(|zone| installation.zones.get(zone));
        let Some((zone, gas)) = zones.filter_map(|zone| Some((zone, zone.explosive?))).next() else { continue };
        // A battery's own terminals make no spark; a fuse on them does when it opens.
        let what = if fuse(at) {
            "a fuse"
        } else if device(at) && !battery(at) {
            "it"
        } else {
            continue;
        };
        // Terminals are called by device and sign.
        let name = node.name.rsplit_once('.').map_or(node.name.as_str(), |(name, _)| name);
        if node.ignition_protected || found.iter().any(|told| told.subject == name) {
            continue;
        }
        let message = format!(
            "{what} stands in {}, where {gas} may gather, and is not known to be ignition-protected: move it out, or fit one that is and state ignition_protected = true",
            zone.name
        );
        let citation = "33 CFR 183.410 (from memory); ISO 8846 (from memory)";
        let mut finding = plain("ignition-protected", name, Signal::Danger, message, citation);
        finding.confidence = Confidence::Memory;
        found.push(finding);
    }
    found
}

/// Air that a charging lead-acid battery needs, by IEC 62485-2: Q = 0.05·cells·I_gas·capacity, openings of 28 cm² per m³/h.
fn ventilation(installation: &Installation, battery: &Battery) -> Option<Finding> {
    let per_ah = match battery.chemistry {
        Chemistry::Flooded => constants::GAS_FLOODED_A,
        Chemistry::Agm | Chemistry::Gel => constants::GAS_SEALED_A,
        Chemistry::LithiumIronPhosphate => return None,
    };
    let cells = (battery.nominal.value / 2.0).round();
    let hours = battery.capacity.value / 3600.0;
    let air = constants::GAS_AIR_M3 * cells * per_ah * hours;
    let openings = constants::GAS_OPENING_CM2 * air;
    let node = installation.nodes.get(battery.nodes[0].0).and_then(|node| installation.zones.get(node.zone?));
    let place = node.map_or_else(String::new, |zone| format!(" in {}", zone.name));
    let message = format!(
        "charging gives off gas{place}: at least {} m³/h of fresh air, or openings of {} cm² each, low and high",
        n(air),
        n(openings)
    );
    let mut finding = plain(
        "battery-ventilation",
        &battery.name,
        Signal::Notice,
        message,
        "IEC 62485-2, boost charging (from memory)",
    );
    finding.confidence = Confidence::Memory;
    Some(finding)
}

/// What draws from a battery without passing the shunt at its pole is not counted.
fn around_shunts(installation: &Installation) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, shunt) in installation.links.iter().enumerate().filter(|(_, link)| link.kind == LinkKind::Shunt) {
        let runs = installation.runs.iter().map(|run| [run.from.0, run.to.0]);
        let links = installation.links.iter().enumerate().filter(|(other, _)| *other != index);
        let edges: Vec<[usize; 2]> = runs.chain(links.map(|(_, link)| link.nodes.map(|node| node.0))).collect();
        // It counts for the battery whose pole is nearest to one of its sides.
        let poles = installation.batteries.iter().flat_map(|battery| battery.nodes.map(|pole| (battery, pole)));
        let steps = poles.flat_map(|(battery, pole)| {
            let from = steps(installation.nodes.len(), &edges, pole);
            shunt.nodes.map(|side| (from.get(side.0).copied().flatten(), battery, pole))
        });
        let nearest = steps.filter_map(|(steps, battery, pole)| Some((steps?, battery, pole)));
        let Some((_, battery, pole)) = nearest.min_by_key(|(steps, _, _)| *steps) else { continue };
        let island = islands(installation.nodes.len(), edges.iter().copied());
        let joined = |one: NodeId| island.get(one.0).is_some() && island.get(one.0) == island.get(pole.0);
        let loads = installation.loads.iter().filter_map(|load| Some((load.name.as_str(), load.nodes?)));
        let ports = installation
            .converters
            .iter()
            .flat_map(|one| [one.input, one.output].into_iter().flatten().map(|nodes| (one.name.as_str(), nodes)));
        let mut around: Vec<&str> = loads
            .chain(ports)
            .filter(|(_, nodes)| nodes.iter().any(|node| joined(*node)))
            .map(|(name, _)| name)
            .collect();
        around.dedup();
        if !around.is_empty() {
            let message = format!(
                "{} is reached without passing it by {}: what is drawn so is not counted; take that to its other side",
                battery.name,
                around.join(", ")
            );
            found.push(plain("shunt-bypassed", &shunt.name, Signal::Warning, message, "common practice, no source"));
        }
    }
    found
}

/// How many runs and links lie between a node and every other; `None` where none lead.
fn steps(nodes: usize, edges: &[[usize; 2]], from: NodeId) -> Vec<Option<usize>> {
    let mut found: Vec<Option<usize>> = vec![None; nodes];
    if let Some(slot) = found.get_mut(from.0) {
        *slot = Some(0);
    }
    // Every round reaches one step farther.
    for step in 0..nodes {
        let mut any = false;
        for [one, other] in edges {
            for (here, there) in [(*one, *other), (*other, *one)] {
                if found.get(here).copied().flatten() == Some(step)
                    && let Some(slot @ None) = found.get_mut(there)
                {
                    *slot = Some(step + 1);
                    any = true;
                }
            }
        }
        if !any {
            break;
        }
    }
    found
}
