//! Rules on devices: converters, batteries, links, and what no source reaches.

use super::{Measure, n, plain};
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::installation::{Battery, Converter, DeviceRef, Installation, LinkKind, NodeId, Place};
use crate::network::{Part, joined};
use crate::study::judge::paths::{are_joined, driving};
use crate::study::judge::{CaseResult, Judgement};

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    found.extend(too_much_voltage(judgement));
    found.extend(too_little_voltage(judgement));
    found.extend(unconnected(installation));
    found.extend(ratings(judgement));
    found.extend(unsupplied(judgement));
    found.extend(chassis(installation));
    found.extend(bars(judgement));
    found
}

/// Links against their rated current, over all cases.
fn ratings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for link in &installation.links {
        let Some(rating) = link.rating else { continue };
        let touching = || {
            installation
                .runs
                .iter()
                .enumerate()
                .filter(|(_, run)| link.nodes.contains(&run.to) || link.nodes.contains(&run.from))
        };
        let worst = judgement
            .cases
            .iter()
            .filter_map(|case| {
                // What flows through a link is what flows in the runs on one of its sides.
                let side = |node| -> f64 {
                    let runs = touching().filter(|(_, run)| run.to == node || run.from == node);
                    runs.map(|(index, run)| {
                        let current = case.run_currents.get(index).copied().unwrap_or_default().value;
                        if run.to == node { current } else { -current }
                    })
                    .sum::<f64>()
                    .abs()
                };
                case.point.as_ref()?;
                Some((case.case, side(link.nodes[0]).max(side(link.nodes[1]))))
            })
            .max_by(|one, other| one.1.total_cmp(&other.1));
        let Some((case, current)) = worst else { continue };
        let limit = rating.value;
        let measure = Measure {
            rule: "device-rating",
            subject: &link.name,
            measured: current,
            limit,
            unit: "A",
            margin: if current > 0.0 { limit / current } else { f64::INFINITY },
            failing: if link.kind == LinkKind::Shunt { Signal::Warning } else { Signal::Danger },
            citation: "the device's rated current",
            confidence: Confidence::Published,
            case: installation.cases.get(case).map(|case| case.name.clone()),
        };
        found.extend(measure.finding(|_| format!("{} carries {} A, rated {} A", link.kind, n(current), n(limit))));
    }
    found
}

/// Busbars against their rated current: what flows in on one side flows out on the other.
fn bars(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for (index, bar) in installation.nodes.iter().enumerate() {
        let Some(rating) = bar.rating else { continue };
        let node = NodeId(index);
        let through = |case: &CaseResult| {
            let runs = installation.runs.iter().zip(&case.run_currents);
            let touching = runs.filter(|(run, _)| run.from == node || run.to == node);
            0.5 * touching.map(|(_, current)| current.value.abs()).sum::<f64>()
        };
        let settled = judgement.cases.iter().filter(|case| case.point.is_some());
        let worst = settled.map(|case| (case.case, through(case))).max_by(|one, other| one.1.total_cmp(&other.1));
        let Some((case, current)) = worst else { continue };
        let measure = Measure {
            rule: "device-rating",
            subject: &bar.name,
            measured: current,
            limit: rating.value,
            unit: "A",
            margin: if current > 0.0 { rating.value / current } else { f64::INFINITY },
            failing: Signal::Danger,
            citation: "the bar's rated current",
            confidence: Confidence::Published,
            case: installation.cases.get(case).map(|case| case.name.clone()),
        };
        found.extend(measure.finding(|_| format!("carries up to {} A, rated {} A", n(current), n(rating.value))));
    }
    found
}

/// Devices on a system of higher voltage than theirs.
fn too_much_voltage(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    let mut judge = |subject: &str, highest: f64, limit: f64, what: &str| {
        let measure = Measure {
            rule: "voltage-suits-device",
            subject,
            measured: highest,
            limit,
            unit: "V",
            margin: if highest <= limit * (1.0 + 1e-9) { f64::INFINITY } else { limit / highest },
            failing: Signal::Danger,
            citation: "1.3 times nominal, common practice, no source; a battery's own highest charge voltage",
            confidence: Confidence::CommonPractice,
            case: None,
        };
        found.extend(measure.finding(|_| format!("its net reaches {} V, {what} {} V", n(highest), n(limit))));
    };
    for load in &installation.loads {
        if let Some(nodes) = load.nodes {
            let highest = judgement.ways.highest_voltage(installation, nodes[0]).value;
            judge(&load.name, highest, load.nominal.value * constants::HIGHEST_LOAD, "it bears up to");
        }
    }
    let Some(case) = installation.cases.iter().find(|case| driving(case)) else { return found };
    let island = joined(installation, case);
    for alternator in &installation.alternators {
        let coupled = |battery: &&Battery| are_joined(&island, alternator.nodes[0], battery.nodes[0]);
        for battery in installation.batteries.iter().filter(coupled) {
            judge(&battery.name, alternator.voltage.value, battery.charge_voltage.value, "charging allows");
        }
    }
    found
}

/// Converters whose input or output hangs on nothing.
fn unconnected(installation: &Installation) -> Vec<Finding> {
    let touched = |node| {
        let runs = installation.runs.iter().any(|run| run.from == node || run.to == node);
        runs || installation.links.iter().any(|link| link.nodes.contains(&node)) || Some(node) == installation.chassis
    };
    let mut found = Vec::new();
    for (index, converter) in installation.converters.iter().enumerate() {
        for (side, port) in [("input", converter.input), ("output", converter.output)] {
            if port.is_some_and(|port| !touched(port[0]) || !touched(port[1])) {
                let message = format!("its {side} hangs on nothing");
                found.push(plain("supplied", &converter.name, Signal::Warning, message, "the plan"));
            }
        }
        if converter.array.is_some() && installation.array_terminals(index).is_none() {
            let message = "cannot be judged: its array is known only when a circuit ends at its input".to_owned();
            found.push(plain("supplied", &converter.name, Signal::Caution, message, "the plan"));
        }
    }
    found
}

/// Loads that draw nothing in any case, although they should.
fn unsupplied(judgement: &Judgement) -> Vec<Finding> {
    let loads = judgement.installation.loads.iter().enumerate().filter(|(_, load)| load.nodes.is_some());
    let settled = judgement.cases.iter().any(|case| case.point.is_some());
    loads
        .filter(|(index, _)| {
            let part = Part::Device(DeviceRef::Load(*index));
            let draws = |case: &CaseResult| case.demands.iter().any(|(found, one)| *found == part && one.value > 0.0);
            settled && !judgement.cases.iter().any(draws)
        })
        .map(|(_, load)| {
            let message = "no source reaches it in any case".to_owned();
            plain("supplied", &load.name, Signal::Warning, message, "the plan")
        })
        .collect()
}

/// Current in the hull of a boat.
fn chassis(installation: &Installation) -> Vec<Finding> {
    let forbidden = installation.place == Place::Boat || installation.practice.forbids_chassis_return().is_some();
    let Some(chassis) = installation.chassis.filter(|_| forbidden) else { return Vec::new() };
    let message = "returns through the hull or chassis, which a boat must not: it corrodes underwater metal";
    let paths = installation.links.iter().filter(|link| link.kind == LinkKind::Joint && link.nodes.contains(&chassis));
    let by_path = paths.map(|link| link.name.trim_end_matches(" chassis path"));
    let loads = installation.loads.iter().filter(|load| load.nodes.is_some_and(|nodes| nodes[1] == chassis));
    let grounded = |one: &&Converter| one.input.into_iter().chain(one.output).any(|port| port[1] == chassis);
    let converters = installation.converters.iter().filter(grounded).map(|converter| converter.name.as_str());
    let mut found: Vec<Finding> = Vec::new();
    for subject in by_path.chain(loads.map(|load| load.name.as_str())).chain(converters) {
        if !found.iter().any(|finding| finding.subject == subject) {
            let citation = "common practice, no source";
            found.push(plain("return-path", subject, Signal::Warning, message.to_owned(), citation));
        }
    }
    found
}

/// Loads on a system of lower voltage than theirs.
fn too_little_voltage(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for load in &installation.loads {
        let Some(nodes) = load.nodes else { continue };
        let highest = judgement.ways.highest_voltage(installation, nodes[0]).value;
        let limit = load.nominal.value * constants::LEAST_NET;
        let measure = Measure {
            rule: "voltage-suits-device",
            subject: &load.name,
            measured: highest,
            limit,
            unit: "V",
            margin: if highest >= limit { f64::INFINITY } else { highest / limit },
            failing: Signal::Warning,
            citation: "0.85 times nominal, common practice, no source",
            confidence: Confidence::CommonPractice,
            case: None,
        };
        found.extend(measure.finding(|_| {
            format!("its net never reaches more than {} V, it is made for {} V", n(highest), n(load.nominal.value))
        }));
    }
    found
}
