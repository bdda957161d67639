//! Rules on voltage: drop from source to load, the lowest voltage of loads, lock-out of converters.

use super::{Measure, n, plain};
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::installation::{Bound, Converter, ConverterKind, DeviceRef, Function, Installation, NodeId};
use crate::network::{Part, delivers, joined, runs_in};
use crate::quantity::ElectricPotential;
use crate::study::judge::Judgement;
use crate::study::judge::operate::CaseResult;
use crate::study::judge::paths::Ways;

/// The worst case of one consumer.
struct Worst<'a> {
    case: &'a CaseResult,
    measured: f64,
    limit: f64,
    margin: f64,
    citation: String,
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

fn readings<'a>(installation: &'a Installation, ways: &Ways, cases: &'a [CaseResult]) -> Vec<Reading<'a>> {
    let mut found = Vec::new();
    for (index, load) in installation.loads.iter().enumerate() {
        let Some(nodes) = load.nodes else { continue };
        let Some(source) = ways.feeding(installation, DeviceRef::Load(index), nodes) else { continue };
        let (mut drop, mut lowest) = (None, None);
        for case in settled(installation, cases) {
            let Some(of) = installation.cases.get(case.case).filter(|of| runs_in(installation, of, index)) else {
                continue;
            };
            let here = case.between(nodes).value;
            let Bound { value: share, citation, confidence } = installation.drop_limit(load.function);
            let limit = share.value * load.nominal.value;
            let lost = source_voltage(installation, case, nodes).value - here;
            if of.starting.is_none() {
                let margin = if lost > 0.0 { limit / lost } else { f64::INFINITY };
                Worst::take(&mut drop, Worst { case, measured: lost, limit, margin, citation, confidence });
            }
            if let Some(least) = load.lowest_voltage {
                let margin = here / least.value;
                let citation = "the load's lowest voltage, stated or assumed".to_owned();
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
        found.extend(input(installation, ways, cases, index, converter));
        found.extend(output(installation, ways, cases, converter));
    }
    found
}

/// A converter's input: its lock-out voltage, or the drop of an inverter or array.
fn input<'a>(
    installation: &'a Installation,
    ways: &Ways,
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
    let mut source = ways.feeding(installation, DeviceRef::Converter(index), nodes);
    for case in settled(installation, cases) {
        let draws = case.demands.iter().any(|(part, _)| *part == Part::Device(DeviceRef::Converter(index)));
        if !draws {
            continue;
        }
        let here = case.between(nodes).value;
        if let Some(lock_out) = converter.lock_out {
            let limit = lock_out.value * constants::ABOVE_LOCK_OUT;
            let citation = "5 % above lock-out, common practice, no source".to_owned();
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
            let Bound { value: share, citation, confidence } = installation.drop_limit(function);
            let (feeding, nominal) = match converter.array {
                Some((_, voltage)) => (installation.array_terminals(index), voltage),
                None => (source, installation.system_voltage),
            };
            let Some(feeding) = feeding else { continue };
            source = Some(feeding);
            let from = match converter.array {
                Some(_) => case.between(feeding),
                None => source_voltage(installation, case, nodes),
            };
            let lost = from.value - here;
            let limit = share.value * nominal.value;
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
    ways: &Ways,
    cases: &'a [CaseResult],
    converter: &Converter,
) -> Option<Reading<'a>> {
    let nodes = converter.output?;
    let battery = installation
        .batteries
        .iter()
        .map(|battery| battery.nodes)
        .find(|battery| ways.reaches(battery[0], nodes[0]))?;
    let mut worst = None;
    for case in settled(installation, cases) {
        if !installation.cases.get(case.case).is_some_and(|of| delivers(converter.kind, of)) {
            continue;
        }
        let measured = case.between(nodes).value - case.between(battery).value;
        let margin = if measured > 0.0 { constants::CHARGING_DROP_V / measured } else { f64::INFINITY };
        let citation = "charging output 0.15 V, common practice, no source".to_owned();
        let confidence = Confidence::CommonPractice;
        Worst::take(
            &mut worst,
            Worst { case, measured, limit: constants::CHARGING_DROP_V, margin, citation, confidence },
        );
    }
    Some(Reading {
        rule: "voltage-drop",
        subject: format!("{}.out", converter.name),
        nodes,
        source: battery,
        worst: worst?,
        unit: "V",
    })
}

/// The voltage that drops count from: between the highest positive terminal of the sources that reach a
/// consumer in this case and the lowest negative terminal of the same sources, or of their series bank. So
/// parallel sources, series banks and the order of the plan make no difference.
fn source_voltage(installation: &Installation, case: &CaseResult, nodes: [NodeId; 2]) -> ElectricPotential {
    let Some(of) = installation.cases.get(case.case) else { return case.between(nodes) };
    let island = joined(installation, of);
    let together = |one: NodeId, other: NodeId| island.get(one.0).is_some() && island.get(one.0) == island.get(other.0);
    let mut spread = ElectricPotential::default();
    let driving = case.sources.iter().filter_map(|(part, _)| match part {
        Part::Device(DeviceRef::Battery(index)) => installation.batteries.get(*index).map(|one| one.nodes),
        Part::Device(DeviceRef::Alternator(index)) => installation.alternators.get(*index).map(|one| one.nodes),
        Part::Output(index) => installation.converters.get(*index).and_then(|one| one.output),
        _ => None,
    });
    let sources: Vec<[NodeId; 2]> = driving.collect();
    let (feeding, others): (Vec<[NodeId; 2]>, Vec<[NodeId; 2]>) =
        sources.into_iter().partition(|source| together(source[0], nodes[0]));
    let returning = |sources: &[[NodeId; 2]]| -> Vec<NodeId> {
        sources.iter().map(|source| source[1]).filter(|node| together(*node, nodes[1])).collect()
    };
    let mut negatives = returning(&feeding);
    if negatives.is_empty() {
        // A series bank: its negative end belongs to another battery than its positive end.
        negatives = returning(&others);
    }
    for positive in feeding.iter().map(|source| source[0]) {
        for negative in &negatives {
            let between = case.between([positive, *negative]);
            if between > spread {
                spread = between;
            }
        }
    }
    if spread.value > 0.0 { spread } else { case.between(nodes) }
}

/// Cases that have an operating point and are about voltages.
fn settled<'a>(installation: &'a Installation, cases: &'a [CaseResult]) -> impl Iterator<Item = &'a CaseResult> {
    let about = |case: &&CaseResult| installation.cases.get(case.case).is_some_and(|of| !of.lock_out);
    cases.iter().filter(|case| case.point.is_some()).filter(about)
}

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for reading in readings(installation, &judgement.ways, &judgement.cases) {
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
            citation: &worst.citation,
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
        let what =
            case.collapsed.map_or_else(|| "the demand".to_owned(), |collapse| part_name(installation, collapse.part));
        let share = case.collapsed.map_or(0.0, |collapse| collapse.load_factor.value);
        let message = format!(
            "no operating point: the cable cannot carry the power of {what}; its voltage collapses. {} % of all constant \
             power would still be carried",
            n(100.0 * share)
        );
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

/// Every consumer whose drop is judged, with its terminals and its worst case; the one with least margin first.
pub(in crate::study::judge) fn judged_drops(judgement: &Judgement) -> Vec<(String, [NodeId; 2], &CaseResult)> {
    let all = readings(&judgement.installation, &judgement.ways, &judgement.cases);
    let drops = all.into_iter().filter(|reading| reading.rule == "voltage-drop" && reading.worst.measured > 0.0);
    let mut drops: Vec<Reading<'_>> = drops.collect();
    drops.sort_by(|one, other| one.worst.margin.total_cmp(&other.worst.margin));
    drops.into_iter().map(|reading| (reading.subject, reading.nodes, reading.worst.case)).collect()
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
    ways: &Ways,
    cases: &'a [CaseResult],
) -> Vec<Short<'a>> {
    let failing = readings(installation, ways, cases).into_iter().filter(|reading| reading.worst.margin < 1.0);
    let mut short: Vec<Short<'_>> = failing
        .map(|reading| Short {
            ways: both_ways(ways, reading.source, reading.nodes),
            case: reading.worst.case,
            missing: (reading.worst.measured - reading.worst.limit).abs(),
        })
        .collect();
    for case in cases.iter().filter(|case| case.point.is_none()) {
        let Some(Part::Device(device)) = case.collapsed.map(|collapse| collapse.part) else { continue };
        let nodes = match device {
            DeviceRef::Load(load) => installation.loads.get(load).and_then(|load| load.nodes),
            DeviceRef::Converter(converter) => installation.converters.get(converter).and_then(|one| one.input),
            DeviceRef::Battery(_) | DeviceRef::Alternator(_) => None,
        };
        if let Some(nodes) = nodes
            && let Some(source) = ways.feeding(installation, device, nodes)
        {
            short.push(Short { ways: both_ways(ways, source, nodes), case, missing: 0.0 });
        }
    }
    short
}

fn both_ways(ways: &Ways, source: [NodeId; 2], nodes: [NodeId; 2]) -> Vec<usize> {
    let mut runs = ways.between(source[0], nodes[0]);
    runs.extend(ways.between(source[1], nodes[1]));
    runs
}
