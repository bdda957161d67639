//! The conductors that bond cases and batteries: by practice, and by what the fuse before a fault lets through.

use super::super::{Measure, n, plain};
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::installation::{ConductorChoice, ConverterKind, Installation, NodeId};
use crate::quantity::{Area, ThermodynamicTemperature, ToText, celsius, in_mm2};
use crate::study::judge::Judgement;
use crate::study::judge::bonds::{Bond, BondFault, LetThrough, battery_faults, bonds, case_faults};

const ADIABATIC: &str = "IEC 60364-5-54, 543.1.2: k²S² against the I²t that the fuse lets through";

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let plan = &judgement.installation;
    let mut found = Vec::new();
    found.extend(unstated(plan));
    found.extend(cases(plan));
    found.extend(batteries(judgement));
    for (converter, fault) in case_faults(judgement) {
        let Some(one) = plan.converters.get(converter) else { continue };
        let Some(bond) = &one.case_bond else { continue };
        let port = one.input.or(one.output).map(|port| port[0]);
        let start = port.map_or_else(|| celsius(constants::AMBIENT_C), |port| hottest(plan, port));
        let heat = Bond { conductor: &bond.conductor, insulation: bond.insulation, start };
        found.extend(withstands(plan, &one.name, "a fault to its case", heat, &fault));
    }
    for (run, fault) in battery_faults(judgement) {
        let (Some(of), Some(model)) = (plan.runs.get(run), judgement.models.get(run)) else { continue };
        // As hot as its load has made it.
        let design = judgement.design.get(run).map(|design| design.current).unwrap_or_default();
        let start = model.at(design).hottest.filter(|hottest| *hottest < of.insulation).unwrap_or(of.insulation);
        let heat = Bond { conductor: &model.conductor, insulation: of.insulation, start };
        found.extend(withstands(plan, &of.name, "a fault to the chassis", heat, &fault));
    }
    // The worst of each: what several batteries or terminals feed is told once.
    let mut kept: Vec<Finding> = Vec::new();
    for one in found {
        let worse = |other: &Finding| {
            let margin = |finding: &Finding| finding.margin.unwrap_or(0.0);
            other.signal.cmp(&one.signal).then(margin(&one).total_cmp(&margin(other))).is_ge()
        };
        match kept.iter_mut().find(|other| other.rule == one.rule && other.subject == one.subject) {
            Some(other) if worse(other) => {}
            Some(other) => *other = one,
            None => kept.push(one),
        }
    }
    kept
}

/// The hottest air where a node stands.
fn hottest(plan: &Installation, node: NodeId) -> ThermodynamicTemperature {
    let zone = plan.nodes.get(node.0).and_then(|node| plan.zones.get(node.zone?));
    zone.map_or_else(|| celsius(constants::AMBIENT_C), |zone| zone.hottest)
}

/// Converters with a mains side, whose cases have to be bonded, and of whose bond nothing is known: in one caution.
fn unstated(plan: &Installation) -> Option<Finding> {
    let mains = |kind| matches!(kind, ConverterKind::Inverter | ConverterKind::ShoreCharger);
    let unknown = plan.converters.iter().filter(|one| mains(one.kind) && one.case_bond.is_none());
    let names: Vec<&str> = unknown.map(|one| one.name.as_str()).collect();
    let message = format!(
        "cannot be judged: case_bond is not stated of {}: a case with mains in it is bonded, and the bond bears a fault of the \
         direct-current side until its fuse opens",
        names.join(", ")
    );
    (!names.is_empty()).then(|| plain("bonding-conductor", "cases", Signal::Caution, message, ADIABATIC))
}

/// Bonds of cases against the least that practice permits.
fn cases(plan: &Installation) -> Vec<Finding> {
    let Some(least) = plan.practice.smallest_case_bond() else { return Vec::new() };
    let stated = plan.converters.iter().filter_map(|one| Some((one, one.case_bond.as_ref()?)));
    let each = stated.filter_map(|(one, bond)| {
        let what = format!("the bond of its case, {},", bond.conductor.label());
        let limit = (least.value, least.source.to_string(), least.source.confidence);
        by_practice(&one.name, &what, bond.conductor.area, limit, least.note)
    });
    each.collect()
}

/// Bonds of batteries against the least that practice permits, and against the battery's other lead.
fn batteries(judgement: &Judgement) -> Vec<Finding> {
    let plan = &judgement.installation;
    let Some((least, chassis)) = plan.practice.smallest_battery_bond().zip(plan.chassis) else { return Vec::new() };
    let area = |run: usize| judgement.models.get(run).map(|model| model.conductor.area);
    let mut found = Vec::new();
    for run in bonds(plan, chassis) {
        let (Some(of), Some(own)) = (plan.runs.get(run), area(run)) else { continue };
        let reached = plan.batteries.iter().filter(|battery| judgement.ways.reaches(battery.nodes[1], chassis));
        let leads = reached.flat_map(|battery| {
            let touches = move |run: &&crate::installation::Run| [run.from, run.to].contains(&battery.nodes[0]);
            let positive = plan.runs.iter().filter(touches);
            positive
                .filter_map(|run| if let ConductorChoice::Fixed(one) = run.conductor { Some(one.area) } else { None })
        });
        let limit = leads.fold(least.value, Area::max);
        let what = format!("{}, its bond with the chassis,", of.name);
        let limit = (limit, least.source.to_string(), least.source.confidence);
        found.extend(by_practice(&of.name, &what, own, limit, least.note));
    }
    found
}

fn by_practice(
    subject: &str,
    what: &str,
    area: Area,
    (limit, citation, confidence): (Area, String, Confidence),
    note: &str,
) -> Option<Finding> {
    let (measured, limit) = (in_mm2(area), in_mm2(limit));
    Measure {
        rule: "bonding-conductor",
        subject,
        measured,
        limit,
        unit: "mm²",
        // The printed size is enough; tables round a gauge's area to three digits.
        margin: if measured >= limit * (1.0 - 1e-3) { f64::INFINITY } else { measured / limit },
        failing: Signal::Warning,
        citation: &citation,
        confidence,
        case: None,
    }
    .finding(|_| format!("{what} is below {} mm²: {note}", n(limit)))
}

/// k²S² of a bond against what the fuses before the fault let through, from the least fault to the highest.
fn withstands(plan: &Installation, subject: &str, what: &str, bond: Bond<'_>, fault: &BondFault) -> Option<Finding> {
    let size = bond.conductor.label();
    let rule = "bonding-withstands-fault";
    let Some(feeding) = &fault.feeding else {
        let message = format!(
            "{what} passes no fuse on its way from the battery: {} A or more flow through {size} until something burns; fuse \
             the feed at the battery",
            n(fault.lowest.value)
        );
        return Some(plain(rule, subject, Signal::Danger, message, ADIABATIC));
    };
    let called: Vec<String> = feeding
        .iter()
        .filter_map(|run| Some(format!("{} of {}", plan.device(*run)?.called(), plan.runs.get(*run)?.name)))
        .collect();
    let called = called.join(" and ");
    let Some(band) = fault.band(plan) else {
        let message =
            format!("cannot be judged: no time limits of {called} are at hand, by which {what} through {size} ends");
        return Some(plain(rule, subject, Signal::Caution, message, ADIABATIC));
    };
    let worst = fault.worst(&band, bond)?;
    let margin = worst.margin();
    let LetThrough { current, takes, passed, borne, beyond } = worst;
    let confidence = if band.from_memory() { Confidence::Memory } else { Confidence::Published };
    let kilo = |value: f64| n(value / 1e3);
    Measure {
        rule,
        subject,
        measured: if takes.is_some() { passed.value } else { f64::INFINITY },
        limit: borne.value,
        unit: "A²s",
        margin,
        failing: if beyond { Signal::Caution } else { Signal::Danger },
        citation: ADIABATIC,
        confidence,
        case: None,
    }
    .finding(|fails| {
        let Some(takes) = takes else {
            return format!("{what} drives {} A through {size}, at which {called} may never open: shorten or enlarge the bond, or take a smaller fuse", n(current.value));
        };
        let least = in_mm2(bond.conductor.area) / margin.sqrt();
        let so = format!(
            "{what} drives {} A through {size} for up to {} until {called} opens: {} kA²s, and it bears {} kA²s (k²S²)",
            n(current.value),
            takes.to_text(),
            kilo(passed.value),
            kilo(borne.value)
        );
        match (fails, beyond) {
            (true, true) => format!(
                "cannot be judged: no time limits of {called} are at hand for the {} A of {what}; {size} bears {} kA²s (k²S²): \
                 give its sheet in [fuses] with slowest",
                n(current.value),
                kilo(borne.value)
            ),
            (true, false) => format!("{so}; take {} mm² or more, or a smaller fuse", n(least)),
            (false, _) => so,
        }
    })
}
