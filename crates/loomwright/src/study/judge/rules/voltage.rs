//! Rules on voltage: drop from source to load, the lowest voltage of loads, lock-out of converters.

use super::watch::{Watch, watch};
use super::{Measure, n, plain};
use crate::finding::{Finding, Signal};
use crate::installation::{DeviceRef, Installation, NodeId};
use crate::network::Part;
use crate::study::judge::operate::CaseResult;
use crate::study::judge::paths::Ways;
use crate::study::judge::{CheckRecord, Judgement};

/// One consumer under one rule, in the case where it has least.
struct Reading<'a> {
    watch: Watch<'a>,
    measured: f64,
    margin: f64,
}

/// Every consumer under every rule, in its worst case, in the order of the plan.
fn readings<'a>(installation: &'a Installation, ways: &Ways, cases: &'a [CaseResult]) -> Vec<Reading<'a>> {
    let mut found: Vec<Reading<'a>> = Vec::new();
    for watch in watch(installation, ways, cases) {
        let Some(case) = cases.get(watch.case) else { continue };
        let (measured, margin) = watch.read(&|nodes| case.between(nodes).value);
        // What belongs together follows each other.
        let same = |last: &&mut Reading<'_>| last.watch.rule == watch.rule && last.watch.subject == watch.subject;
        match found.iter_mut().rev().take(2).find(same) {
            Some(last) if margin < last.margin => *last = Reading { watch, measured, margin },
            Some(_) => {}
            None => found.push(Reading { watch, measured, margin }),
        }
    }
    found
}

impl Reading<'_> {
    fn measure(&self, judgement: &Judgement) -> Measure<'_> {
        let watch = &self.watch;
        let case = judgement.cases.get(watch.case).and_then(|case| judgement.installation.cases.get(case.case));
        Measure {
            rule: watch.rule,
            subject: &watch.subject,
            measured: self.measured,
            limit: watch.limit,
            unit: "V",
            margin: self.margin,
            failing: Signal::Warning,
            citation: &watch.citation,
            confidence: watch.confidence,
            case: case.map(|case| case.name.clone()),
        }
    }
}

/// What is measured of every consumer, passing or not.
pub(super) fn checks(judgement: &Judgement) -> Vec<CheckRecord> {
    let readings = readings(&judgement.installation, &judgement.ways, &judgement.cases);
    readings.iter().map(|reading| reading.measure(judgement).check()).collect()
}

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for reading in readings(installation, &judgement.ways, &judgement.cases) {
        let watch = &reading.watch;
        let (measured, limit) = (reading.measured, watch.limit);
        found.extend(reading.measure(judgement).finding(|_| match watch.rule {
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
    let drops = all.into_iter().filter(|reading| reading.watch.rule == "voltage-drop" && reading.measured > 0.0);
    let mut drops: Vec<Reading<'_>> = drops.collect();
    drops.sort_by(|one, other| one.margin.total_cmp(&other.margin));
    let of = |reading: Reading<'_>| {
        let case = judgement.cases.get(reading.watch.case)?;
        Some((reading.watch.subject.into_owned(), reading.watch.nodes, case))
    };
    drops.into_iter().filter_map(of).collect()
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
    let failing = readings(installation, ways, cases).into_iter().filter(|reading| reading.margin < 1.0);
    let mut short: Vec<Short<'_>> = failing
        .filter_map(|reading| {
            Some(Short {
                ways: both_ways(ways, reading.watch.source, reading.watch.nodes),
                case: cases.get(reading.watch.case)?,
                missing: (reading.measured - reading.watch.limit).abs(),
            })
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
