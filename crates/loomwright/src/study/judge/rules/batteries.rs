//! Rules on batteries that are joined: in parallel, in series, through relays that sense a voltage.

use super::{Measure, n, plain};
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::installation::{Battery, Chemistry, DeviceRef, Installation, NodeId, Regulation};
use crate::network::{Part, joined};
use crate::study::judge::paths::{are_joined, driving};
use crate::study::judge::{CaseResult, Judgement};

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = unlike_batteries(installation);
    for index in 0..installation.batteries.len() {
        found.extend(sharing(judgement, index));
        found.extend(over_its_limit(judgement, index));
    }
    found.extend(tapped(judgement));
    found.extend(relays(judgement));
    found.extend(restless_relays(judgement));
    found.extend(idle_relays(judgement));
    found.extend(aged_bank(judgement));
    found
}

/// Batteries of unlike kind or voltage joined pole to pole: one drives current through the other.
fn unlike_batteries(installation: &Installation) -> Vec<Finding> {
    let mut found: Vec<Finding> = Vec::new();
    for case in installation.cases.iter().filter(|case| case.is_usual()) {
        let island = joined(installation, case);
        let batteries = &installation.batteries;
        for (index, one) in batteries.iter().enumerate() {
            let parallel = |other: &&Battery| are_joined(&island, one.nodes[0], other.nodes[0]);
            for other in batteries.iter().skip(index + 1).filter(parallel) {
                if found.iter().any(|told| told.subject == one.name) {
                    continue;
                }
                let lithium = |battery: &Battery| battery.chemistry == Chemistry::LithiumIronPhosphate;
                let (signal, what) = if (one.nominal - other.nominal).value.abs() > 0.5 {
                    (Signal::Danger, "of another nominal voltage")
                } else if lithium(one) != lithium(other) {
                    (Signal::Warning, "of lithium and lead: their resting voltages differ")
                } else if one.chemistry != other.chemistry {
                    (Signal::Caution, "of another kind of lead-acid: their charge voltages differ")
                } else if years_apart(one, other) > 1 {
                    (Signal::Caution, "more than a year older or newer: the weaker one sets what both give")
                } else {
                    continue;
                };
                let message = format!("joined to {}, {what}; one drives current through the other", other.name);
                let mut finding =
                    plain("batteries-in-parallel", &one.name, signal, message, "common practice, no source");
                finding.case = Some(case.name.clone());
                found.push(finding);
            }
        }
    }
    found
}

/// Years between two batteries, where both are known.
fn years_apart(one: &Battery, other: &Battery) -> u16 {
    one.installed.zip(other.installed).map_or(0, |(one, other)| one.abs_diff(other))
}

/// What a battery gives in a case, with what its group in parallel gives together and that group's capacity in As.
fn shared(judgement: &Judgement, case: &CaseResult, index: usize) -> Option<(f64, f64, f64)> {
    let installation = &judgement.installation;
    let island = joined(installation, installation.cases.get(case.case)?);
    let one = installation.batteries.get(index)?;
    let (mut own, mut together, mut capacity, mut count) = (None, 0.0, 0.0, 0);
    for (part, current) in &case.sources {
        let Part::Device(DeviceRef::Battery(other)) = part else { continue };
        let Some(battery) = installation.batteries.get(*other) else { continue };
        if are_joined(&island, one.nodes[0], battery.nodes[0]) && are_joined(&island, one.nodes[1], battery.nodes[1]) {
            together += current.value;
            capacity += battery.capacity.value;
            count += 1;
            if *other == index {
                own = Some(current.value);
            }
        }
    }
    (count > 1).then_some((own?, together, capacity))
}

/// One of several batteries in parallel that carries more than its share: its way to the bars is shorter.
fn sharing(judgement: &Judgement, index: usize) -> Option<Finding> {
    let installation = &judgement.installation;
    let battery = installation.batteries.get(index)?;
    let settled = judgement.cases.iter().filter(|case| case.point.is_some());
    let worst = settled
        .filter_map(|case| {
            let (own, together, capacity) = shared(judgement, case, index)?;
            let fair = together * battery.capacity.value / capacity;
            // Hardly anything flows: what the batteries exchange among themselves is no sharing of a load.
            let loaded = together.abs() > 0.05 * capacity / 3600.0;
            (loaded && own * fair > 0.0).then_some((case.case, own.abs(), fair.abs()))
        })
        .max_by(|one, other| (one.1 / one.2).total_cmp(&(other.1 / other.2)))?;
    let (case, own, fair) = worst;
    let limit = constants::SHARING * fair;
    let measure = Measure {
        rule: "battery-sharing",
        subject: &battery.name,
        measured: own,
        limit,
        unit: "A",
        margin: if own <= limit { f64::INFINITY } else { limit / own },
        failing: Signal::Caution,
        citation: "1.25 times its share by capacity, common practice, no source",
        confidence: Confidence::CommonPractice,
        case: installation.cases.get(case).map(|case| case.name.clone()),
    };
    measure.finding(|_| {
        format!(
            "carries {} A, its share by capacity is {} A: it ages before the others; make the ways to all of them equal, or \
             take off diagonally",
            n(own),
            n(fair)
        )
    })
}

/// A battery against the current that its protection or maker permits.
fn over_its_limit(judgement: &Judgement, index: usize) -> Option<Finding> {
    let installation = &judgement.installation;
    let battery = installation.batteries.get(index)?;
    let limit = battery.current_limit?.value;
    let part = Part::Device(DeviceRef::Battery(index));
    let flows = judgement.cases.iter().filter(|case| case.point.is_some()).filter_map(|case| {
        let (_, current) = case.sources.iter().find(|(found, _)| *found == part)?;
        Some((case.case, current.value.abs()))
    });
    let (case, current) = flows.max_by(|one, other| one.1.total_cmp(&other.1))?;
    let measure = Measure {
        rule: "battery-current",
        subject: &battery.name,
        measured: current,
        limit,
        unit: "A",
        margin: if current > 0.0 { limit / current } else { f64::INFINITY },
        failing: Signal::Warning,
        citation: "the battery's own limit",
        confidence: Confidence::Published,
        case: installation.cases.get(case).map(|case| case.name.clone()),
    };
    measure.finding(|_| format!("carries {} A, its limit is {} A: its protection may open", n(current), n(limit)))
}

/// Something that draws from the middle of a bank in series: one battery empties before the other.
fn tapped(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let ways = &judgement.ways;
    let mut found = Vec::new();
    for lower in &installation.batteries {
        let above = |upper: &&Battery| ways.reaches(upper.nodes[1], lower.nodes[0]) && upper.name != lower.name;
        let Some(upper) = installation.batteries.iter().find(above) else { continue };
        let here = |node: NodeId| ways.reaches(node, lower.nodes[0]);
        let loads = installation.loads.iter().filter_map(|load| Some((load.name.as_str(), load.nodes?)));
        let inputs = installation.converters.iter().filter_map(|one| Some((one.name.as_str(), one.input?)));
        let outputs = installation.converters.iter().filter_map(|one| Some((one.name.as_str(), one.output?)));
        for (name, nodes) in loads.chain(inputs).chain(outputs).filter(|(_, nodes)| here(nodes[0]) || here(nodes[1])) {
            let side = if here(nodes[0]) { &lower.name } else { &upper.name };
            let message = format!(
                "hangs on {side} alone, in the middle of the bank of {} and {}: one empties first and the other is then \
                 overcharged; take it from the whole bank through a converter",
                lower.name, upper.name
            );
            found.push(plain("series-bank-tapped", name, Signal::Warning, message, "common practice, no source"));
        }
    }
    found
}

/// Relays that stay open in every case with the engine running: what they sense never reaches their voltage.
fn idle_relays(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for (index, link) in installation.links.iter().enumerate() {
        let driving = judgement.cases.iter().filter_map(|case| {
            installation.cases.get(case.case).filter(|of| driving(of) && of.is_usual())?;
            let at = case.lowered.relays.iter().position(|relay| *relay == index)?;
            let (relay, point) = (case.lowered.network.relays.get(at)?, case.point.as_ref()?);
            let open = point.open_branches.contains(&relay.branch) && !point.chattering_relays.contains(&at);
            Some((open, point.between(relay.senses).value))
        });
        let seen: Vec<(bool, f64)> = driving.collect();
        let highest = seen.iter().map(|(_, seen)| *seen).fold(f64::NEG_INFINITY, f64::max);
        if let Some(relay) = link.senses.filter(|_| !seen.is_empty() && seen.iter().all(|(open, _)| *open)) {
            let message = format!(
                "stays open with the engine running: {}.in sees {} V at most, it closes at {} V; put {}.in on the \
                 alternator's side, or use a DC-DC charger",
                link.name,
                n(highest),
                n(relay.closes.value),
                link.name
            );
            let citation = "operating points of the driving cases";
            found.push(plain("relay-closes", &link.name, Signal::Warning, message, citation));
        }
    }
    found
}

/// Batteries of unlike kind, size or age in series: the weakest is emptied and overcharged by the others.
fn aged_bank(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for lower in &installation.batteries {
        let above =
            |upper: &&Battery| judgement.ways.reaches(upper.nodes[1], lower.nodes[0]) && upper.name != lower.name;
        let Some(upper) = installation.batteries.iter().find(above) else { continue };
        let unequal = (upper.capacity / lower.capacity).value;
        let (signal, what) = if upper.chemistry != lower.chemistry {
            (Signal::Warning, "of another chemistry")
        } else if !(0.95..=1.05).contains(&unequal) {
            (Signal::Warning, "of another capacity")
        } else if years_apart(upper, lower) > 1 {
            (Signal::Caution, "more than a year older or newer")
        } else {
            continue;
        };
        let message = format!(
            "in series with {}, {what}: the weaker one empties first and is then reversed or overcharged",
            lower.name
        );
        found.push(plain("batteries-in-series", &upper.name, signal, message, "common practice, no source"));
    }
    found
}

/// Relays that the current they let through pulls open, and whose voltage then recovers.
fn restless_relays(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found: Vec<Finding> = Vec::new();
    for case in &judgement.cases {
        let Some(point) = &case.point else { continue };
        for relay in &point.chattering_relays {
            let link = case.lowered.relays.get(*relay).and_then(|link| installation.links.get(*link));
            let Some((link, senses)) = link.and_then(|link| Some((link, link.senses?))) else { continue };
            if found.iter().any(|told| told.subject == link.name) {
                continue;
            }
            let seen = case.lowered.network.relays.get(*relay).map_or(0.0, |relay| point.between(relay.senses).value);
            let message = format!(
                "closed it pulls its voltage below {} V and opens, then sees {} V and closes again at {} V, without end: \
                 contacts burn; use thicker leads, a lower opening voltage, or a DC-DC charger",
                n(senses.opens.value),
                n(seen),
                n(senses.closes.value)
            );
            let citation = "operating points with the relay closed and open";
            let mut finding = plain("relay-chatter", &link.name, Signal::Warning, message, citation);
            finding.case = installation.cases.get(case.case).map(|of| of.name.clone());
            found.push(finding);
        }
    }
    found
}

/// Relays that sense a voltage: one that the batteries at rest hold closed never releases, and one beside a variable
/// regulation opens while driving.
fn relays(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for link in &installation.links {
        let Some(relay) = link.senses else { continue };
        let beside = |battery: &&Battery| link.nodes.iter().any(|node| judgement.ways.reaches(*node, battery.nodes[0]));
        let rests = installation.batteries.iter().filter(beside).map(|battery| (battery.at_rest[1].value, battery));
        if let Some((rest, battery)) = rests.max_by(|one, other| one.0.total_cmp(&other.0)) {
            let measure = Measure {
                rule: "relay-releases",
                subject: &link.name,
                measured: rest,
                limit: relay.opens.value,
                unit: "V",
                margin: if relay.releases(battery.at_rest[1]) { f64::INFINITY } else { relay.opens.value / rest },
                failing: Signal::Warning,
                citation: "resting voltage of the battery; release voltage of the relay",
                confidence: battery.chemistry.source().confidence,
                case: None,
            };
            found.extend(measure.finding(|_| {
                format!(
                    "opens at {} V, {} ({}) rests at {} V: it stays closed with the engine off and the batteries drain \
                     each other; switch it by the ignition, or use a DC-DC charger",
                    n(relay.opens.value),
                    battery.name,
                    battery.chemistry,
                    n(rest)
                )
            }));
        }
        if installation.alternators.iter().any(|alternator| alternator.regulation == Regulation::Variable) {
            let message = format!(
                "closes at {} V and opens at {} V, variable regulation goes down to 11.6 V: voltage alone cannot tell \
                 that the engine runs",
                n(relay.closes.value),
                n(relay.opens.value)
            );
            found.push(plain(
                "engine-running-signal",
                &link.name,
                Signal::Warning,
                message,
                "common practice, no source",
            ));
        }
    }
    found
}
