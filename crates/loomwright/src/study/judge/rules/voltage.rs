//! Rules on voltage: drop from source to load, the lowest voltage of loads, lock-out of converters.

use super::{Measure, n, plain};
use crate::data::Confidence;
use crate::finding::{Finding, Signal};
use crate::installation::{Converter, ConverterKind, DeviceRef, Function, Installation, NodeId};
use crate::network::{Part, delivers, runs_in};
use crate::quantity::ElectricPotential;
use crate::study::judge::Judgement;
use crate::study::judge::operate::CaseResult;
use crate::study::judge::paths::{feeding_battery, way};

/// Limits of the drop as a share of nominal voltage, and where they come from.
fn limit_of(function: Function, starting: bool) -> (f64, &'static str, Confidence) {
    match function {
        Function::Navigation => (0.03, "ISO 10133:2012, 4.8: navigation lights 3 %", Confidence::Published),
        Function::Bilge => (0.03, "ISO 10133:2012, 4.8: bilge pumps and blowers 3 %", Confidence::Published),
        Function::Feeder => (0.03, "ISO 10133:2012, 4.8: panel main feed 3 %", Confidence::Published),
        Function::General => (0.10, "ISO 10133:2012, 4.8: other circuits 10 % (from memory)", Confidence::Memory),
        Function::Inverter if starting => {
            (0.05, "5 % at surge, common practice, no source", Confidence::CommonPractice)
        }
        Function::Inverter => (0.03, "3 % at rated power, common practice, no source", Confidence::CommonPractice),
        Function::Solar => (0.02, "2 %, common practice, no source", Confidence::CommonPractice),
        Function::Charging => (0.0, "0.15 V, common practice, no source", Confidence::CommonPractice),
    }
}

/// Volts that may be lost between a charger and its battery.
const CHARGING_DROP_V: f64 = 0.15;
/// A converter works at 5 % above its lock-out voltage or more; common practice, no source.
const ABOVE_LOCK_OUT: f64 = 1.05;

/// The worst case of one consumer.
struct Worst<'a> {
    case: &'a CaseResult,
    measured: f64,
    limit: f64,
    margin: f64,
    citation: &'static str,
    confidence: Confidence,
}

impl<'a> Worst<'a> {
    fn take(worst: &mut Option<Self>, next: Worst<'a>) {
        if worst.as_ref().is_none_or(|worst| next.margin < worst.margin) {
            *worst = Some(next);
        }
    }
}

/// One consumer under one rule, with its worst case.
struct Reading<'a> {
    rule: &'static str,
    subject: String,
    nodes: [NodeId; 2],
    source: [NodeId; 2],
    worst: Worst<'a>,
    unit: &'static str,
}

fn readings<'a>(installation: &'a Installation, cases: &'a [CaseResult]) -> Vec<Reading<'a>> {
    let mut found = Vec::new();
    for (index, load) in installation.loads.iter().enumerate() {
        let Some(nodes) = load.nodes else { continue };
        let Some(source) = feeding_battery(installation, DeviceRef::Load(index), nodes) else { continue };
        let (mut drop, mut lowest) = (None, None);
        for case in cases.iter().filter(|case| case.point.is_some()) {
            let Some(of) = installation.cases.get(case.case).filter(|of| runs_in(installation, of, index)) else {
                continue;
            };
            let here = case.between(nodes).value;
            let starting = of.starting == Some(index);
            let (share, citation, confidence) = limit_of(load.function, starting);
            let limit = share * load.nominal.value;
            let lost = best_source(installation, case, source).value - here;
            if !starting {
                let margin = if lost > 0.0 { limit / lost } else { f64::INFINITY };
                Worst::take(&mut drop, Worst { case, measured: lost, limit, margin, citation, confidence });
            }
            if let Some(least) = load.lowest_voltage {
                let margin = here / least.value;
                let citation = "the plan's lowest voltage of the load";
                Worst::take(
                    &mut lowest,
                    Worst {
                        case,
                        measured: here,
                        limit: least.value,
                        margin,
                        citation,
                        confidence: Confidence::Published,
                    },
                );
            }
        }
        let reading = |rule, worst| Reading { rule, subject: load.name.clone(), nodes, source, worst, unit: "V" };
        found.extend(drop.map(|worst| reading("voltage-drop", worst)));
        found.extend(lowest.map(|worst| reading("lowest-voltage", worst)));
    }
    for (index, converter) in installation.converters.iter().enumerate() {
        found.extend(input(installation, cases, index, converter));
        found.extend(output(installation, cases, index, converter));
    }
    found
}

/// A converter's input: its lock-out voltage, or the drop of an inverter or array.
fn input<'a>(
    installation: &'a Installation,
    cases: &'a [CaseResult],
    index: usize,
    converter: &Converter,
) -> Vec<Reading<'a>> {
    let Some(nodes) = converter.input else { return Vec::new() };
    let function = match converter.kind {
        ConverterKind::Inverter => Some(Function::Inverter),
        ConverterKind::SolarController => Some(Function::Solar),
        _ => None,
    };
    let (mut above, mut drop) = (None, None);
    let mut source = feeding_battery(installation, DeviceRef::Converter(index), nodes);
    for case in cases.iter().filter(|case| case.point.is_some()) {
        let draws = case.demands.iter().any(|(part, _)| *part == Part::Device(DeviceRef::Converter(index)));
        if !draws {
            continue;
        }
        let here = case.between(nodes).value;
        if let Some(lock_out) = converter.lock_out {
            let limit = lock_out.value * ABOVE_LOCK_OUT;
            let citation = "5 % above lock-out, common practice, no source";
            Worst::take(
                &mut above,
                Worst {
                    case,
                    measured: here,
                    limit,
                    margin: here / limit,
                    citation,
                    confidence: Confidence::CommonPractice,
                },
            );
        }
        if let Some(function) = function {
            let (share, citation, confidence) = limit_of(function, false);
            let (feeding, nominal) = match converter.array {
                Some((_, voltage)) => (installation.array_terminals(index), voltage),
                None => (source, installation.system_voltage),
            };
            let Some(feeding) = feeding else { continue };
            source = Some(feeding);
            let lost = best_source(installation, case, feeding).value - here;
            let limit = share * nominal.value;
            let margin = if lost > 0.0 { limit / lost } else { f64::INFINITY };
            Worst::take(&mut drop, Worst { case, measured: lost, limit, margin, citation, confidence });
        }
    }
    let reading =
        |rule, worst| Some(Reading { rule, subject: converter.name.clone(), nodes, source: source?, worst, unit: "V" });
    let above = above.and_then(|worst| reading("converter-input-voltage", worst));
    above.into_iter().chain(drop.and_then(|worst| reading("voltage-drop", worst))).collect()
}

/// A charger's output: what is lost on the way to the battery it charges.
fn output<'a>(
    installation: &'a Installation,
    cases: &'a [CaseResult],
    index: usize,
    converter: &Converter,
) -> Option<Reading<'a>> {
    let nodes = converter.output?;
    let battery = installation
        .batteries
        .iter()
        .map(|battery| battery.nodes)
        .find(|battery| !way(installation, battery[0], nodes[0]).is_empty())?;
    let mut worst = None;
    for case in cases.iter().filter(|case| case.point.is_some()) {
        if !installation.cases.get(case.case).is_some_and(|of| delivers(converter.kind, of)) {
            continue;
        }
        let measured = case.between(nodes).value - case.between(battery).value;
        let margin = if measured > 0.0 { CHARGING_DROP_V / measured } else { f64::INFINITY };
        let (_, citation, confidence) = limit_of(Function::Charging, false);
        Worst::take(&mut worst, Worst { case, measured, limit: CHARGING_DROP_V, margin, citation, confidence });
    }
    let _ = index;
    Some(Reading {
        rule: "voltage-drop",
        subject: format!("{}.out", converter.name),
        nodes,
        source: battery,
        worst: worst?,
        unit: "V",
    })
}

/// The highest voltage at the terminals of any source of the same net: drops count from there.
fn best_source(installation: &Installation, case: &CaseResult, source: [NodeId; 2]) -> ElectricPotential {
    let here = case.between(source);
    let others = installation
        .alternators
        .iter()
        .map(|alternator| alternator.nodes)
        .filter(|nodes| case.supplies(nodes[0]) && !way(installation, nodes[0], source[0]).is_empty());
    others.map(|nodes| case.between(nodes)).fold(here, |best, next| if next > best { next } else { best })
}

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for reading in readings(installation, &judgement.cases) {
        let worst = &reading.worst;
        let case = installation.cases.get(worst.case.case).map(|case| case.name.clone());
        let (measured, limit) = (worst.measured, worst.limit);
        let measure = Measure {
            rule: reading.rule,
            subject: &reading.subject,
            measured,
            limit,
            unit: reading.unit,
            margin: worst.margin,
            failing: Signal::Warning,
            citation: worst.citation,
            confidence: worst.confidence,
            case,
        };
        found.extend(measure.finding(|_| match reading.rule {
            "voltage-drop" => format!("{} V lost from source to load, {} V permitted", n(measured), n(limit)),
            "lowest-voltage" => format!("{} V at the load, which needs {} V", n(measured), n(limit)),
            _ => format!("{} V at the input, which needs {} V to stay clear of lock-out", n(measured), n(limit)),
        }));
    }
    for case in judgement.cases.iter().filter(|case| case.point.is_none()) {
        let name = installation.cases.get(case.case).map_or("", |case| case.name.as_str());
        let what = case.collapsed.map_or_else(|| "the demand".to_owned(), |part| part_name(installation, part));
        let message = format!("no operating point: the cable cannot carry the power of {what}; its voltage collapses");
        let mut finding =
            plain("operating-point", &what, Signal::Danger, message, "constant power over a resistance: P ≤ V²/(4R)");
        finding.case = Some(name.to_owned());
        found.push(finding);
    }
    found
}

/// A part's name.
fn part_name(installation: &Installation, part: Part) -> String {
    let name = match part {
        Part::Run(run) => installation.runs.get(run).map(|run| &run.name),
        Part::Link(link) => installation.links.get(link).map(|link| &link.name),
        Part::Output(converter) | Part::Array(converter) => installation.converters.get(converter).map(|one| &one.name),
        Part::Device(DeviceRef::Battery(index)) => installation.batteries.get(index).map(|one| &one.name),
        Part::Device(DeviceRef::Alternator(index)) => installation.alternators.get(index).map(|one| &one.name),
        Part::Device(DeviceRef::Converter(index)) => installation.converters.get(index).map(|one| &one.name),
        Part::Device(DeviceRef::Load(index)) => installation.loads.get(index).map(|one| &one.name),
    };
    name.cloned().unwrap_or_default()
}

/// A consumer that gets too little voltage.
pub(in crate::study::judge) struct Short<'a> {
    /// The runs between its source and it, both sides.
    pub(in crate::study::judge) ways: Vec<usize>,
    /// Its worst case.
    pub(in crate::study::judge) case: &'a CaseResult,
    /// Volts that are missing; 0 when the voltage collapses altogether.
    pub(in crate::study::judge) missing: f64,
}

/// Every consumer that gets too little voltage.
pub(in crate::study::judge) fn short_of_voltage<'a>(
    installation: &'a Installation,
    cases: &'a [CaseResult],
) -> Vec<Short<'a>> {
    let failing = readings(installation, cases).into_iter().filter(|reading| reading.worst.margin < 1.0);
    let mut short: Vec<Short<'_>> = failing
        .map(|reading| Short {
            ways: both_ways(installation, reading.source, reading.nodes),
            case: reading.worst.case,
            missing: (reading.worst.measured - reading.worst.limit).abs(),
        })
        .collect();
    for case in cases.iter().filter(|case| case.point.is_none()) {
        let Some(Part::Device(device)) = case.collapsed else { continue };
        let nodes = match device {
            DeviceRef::Load(load) => installation.loads.get(load).and_then(|load| load.nodes),
            DeviceRef::Converter(converter) => installation.converters.get(converter).and_then(|one| one.input),
            DeviceRef::Battery(_) | DeviceRef::Alternator(_) => None,
        };
        if let Some(nodes) = nodes
            && let Some(source) = feeding_battery(installation, device, nodes)
        {
            short.push(Short { ways: both_ways(installation, source, nodes), case, missing: 0.0 });
        }
    }
    short
}

fn both_ways(installation: &Installation, source: [NodeId; 2], nodes: [NodeId; 2]) -> Vec<usize> {
    let mut runs = way(installation, source[0], nodes[0]);
    runs.extend(way(installation, source[1], nodes[1]));
    runs
}
