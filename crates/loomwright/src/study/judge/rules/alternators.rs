//! Rules on alternators: what they are asked for, their fuse, and what hangs on them.

use super::{Measure, n, plain};
use crate::data::Confidence;
use crate::finding::{Finding, Signal};
use crate::installation::{Case, Chemistry, ConverterKind, DeviceRef, Engine, Installation, Regulation, Run};
use crate::network::{Part, joined};
use crate::study::judge::paths::{are_joined, driving};
use crate::study::judge::{CaseResult, CheckRecord, Judgement};

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    if !installation.alternators.is_empty() {
        found.extend(headroom(judgement));
    }
    for index in 0..installation.alternators.len() {
        found.extend(heating(judgement, index));
        found.extend(alternator_fuse(judgement, index));
    }
    found.extend(signals(installation));
    found.extend(coupled_lithium(installation));
    found
}

/// All alternators by name.
fn together(installation: &Installation) -> String {
    let names: Vec<&str> = installation.alternators.iter().map(|alternator| alternator.name.as_str()).collect();
    names.join(" and ")
}

/// What the alternators must deliver together against what they can, in every driving case. Loads count by
/// the share of time that they run.
fn headroom_measures<'a>(judgement: &'a Judgement, subject: &'a str) -> impl Iterator<Item = (&'a Case, Measure<'a>)> {
    let installation = &judgement.installation;
    judgement.cases.iter().filter_map(move |case| {
        let judged = |of: &&Case| driving(of) && of.is_usual() && case.point.is_some();
        let of = installation.cases.get(case.case).filter(judged)?;
        let available: f64 = case.alternators.iter().map(|(_, available)| available.value).sum();
        let asked: f64 = case.alternators.iter().map(|(asked, _)| asked.value).sum::<f64>() - judgement.resting(case);
        let measure = Measure {
            rule: "alternator-headroom",
            subject,
            measured: asked,
            limit: available,
            unit: "A",
            margin: if asked > 0.0 { available / asked } else { f64::INFINITY },
            failing: if of.engine == Engine::Cruise { Signal::Warning } else { Signal::Caution },
            citation: "common practice, no source: no deficit while cruising",
            confidence: Confidence::CommonPractice,
            case: Some(of.name.clone()),
        };
        Some((of, measure))
    })
}

/// The case with least headroom.
pub(super) fn check(judgement: &Judgement) -> Option<CheckRecord> {
    if judgement.installation.alternators.is_empty() {
        return None;
    }
    let subject = together(&judgement.installation);
    let all = headroom_measures(judgement, &subject).map(|(_, measure)| measure);
    all.min_by(|one, other| one.margin.total_cmp(&other.margin)).map(|least| least.check())
}

fn headroom(judgement: &Judgement) -> Vec<Finding> {
    let subject = together(&judgement.installation);
    let mut found = Vec::new();
    for (of, measure) in headroom_measures(judgement, &subject) {
        let (asked, available, cruising) = (measure.measured, measure.limit, of.engine == Engine::Cruise);
        found.extend(measure.finding(|fails| {
            let (asked_a, available_a) = (n(asked), n(available));
            // What limits them is what they give hot, at idle or cruising.
            let hot = if cruising { "hot, cruising" } else { "hot, at idle" };
            if fails {
                let lack = n(asked - available);
                format!(
                    "{asked_a} A asked of {available_a} A available {hot}: {lack} Ah every hour come out of the battery"
                )
            } else {
                format!("{asked_a} A asked of {available_a} A available {hot}")
            }
        }));
    }
    found
}

impl Judgement {
    /// Current of loads on the alternators' net for the share of time that they rest.
    pub(crate) fn resting(&self, case: &CaseResult) -> f64 {
        let installation = &self.installation;
        let fed = |node| installation.alternators.iter().any(|one| self.ways.reaches(one.nodes[0], node));
        let drawn = case.demands.iter().filter_map(|(part, current)| match part {
            Part::Device(DeviceRef::Load(index)) => Some((installation.loads.get(*index)?, current.value)),
            _ => None,
        });
        drawn
            .filter(|(load, _)| load.nodes.is_some_and(|nodes| fed(nodes[0])))
            .map(|(load, current)| current * (1.0 - load.duty.value))
            .sum()
    }
}

/// Continuous charging above half of the hot output heats an alternator that nothing watches.
fn heating(judgement: &Judgement, index: usize) -> Option<Finding> {
    let installation = &judgement.installation;
    let alternator = installation.alternators.get(index)?;
    let (case, drawn) = judgement
        .cases
        .iter()
        .filter(|case| installation.cases.get(case.case).is_some_and(|of| of.engine == Engine::Cruise))
        .map(|case| {
            let chargers = case.demands.iter().filter(|(part, _)| {
                matches!(part, Part::Device(DeviceRef::Converter(converter)) if installation
                    .converters
                    .get(*converter)
                    .is_some_and(|one| one.kind == ConverterKind::DcDcCharger))
            });
            (case.case, chargers.map(|(_, current)| current.value).sum::<f64>())
        })
        .max_by(|one, other| one.1.total_cmp(&other.1))?;
    let half = 0.5 * alternator.hot_output.value;
    if drawn <= half {
        return None;
    }
    let mut finding = plain(
        "alternator-heating",
        &alternator.name,
        Signal::Caution,
        format!(
            "chargers draw {} A for hours, more than half of its hot output of {} A: watch its temperature",
            n(drawn),
            n(2.0 * half)
        ),
        "common practice, no source",
    );
    finding.case = installation.cases.get(case).map(|case| case.name.clone());
    Some(finding)
}

/// Under variable regulation voltage does not tell that the engine runs.
fn signals(installation: &Installation) -> Vec<Finding> {
    let variable = installation.alternators.iter().any(|alternator| alternator.regulation == Regulation::Variable);
    let blind = installation
        .converters
        .iter()
        .filter(|converter| variable && converter.kind == ConverterKind::DcDcCharger && !converter.running_signal);
    blind
        .map(|converter| {
            let message = "with variable regulation (11.6 to 15.4 V is possible) voltage alone cannot tell that the engine runs: connect \
                           an ignition or D+ signal";
            plain("engine-running-signal", &converter.name, Signal::Warning, message.to_owned(), "common practice, no source")
        })
        .collect()
}

/// Lithium joined to an alternator without anything that limits the current.
fn coupled_lithium(installation: &Installation) -> Vec<Finding> {
    let mut found = Vec::new();
    let Some(case) = installation.cases.iter().find(|case| driving(case)) else { return found };
    let island = joined(installation, case);
    for battery in installation.batteries.iter().filter(|battery| battery.chemistry == Chemistry::LithiumIronPhosphate)
    {
        let direct = installation
            .alternators
            .iter()
            .any(|alternator| are_joined(&island, alternator.nodes[0], battery.nodes[0]));
        if direct {
            let message =
                "coupled to an alternator without a current limit: it takes all the alternator can give, for hours"
                    .to_owned();
            found.push(plain(
                "charge-current-limited",
                &battery.name,
                Signal::Warning,
                message,
                "common practice, no source",
            ));
        }
    }
    found
}

/// The fuse of an alternator's lead: one that opens under load leaves the alternator without a battery.
fn alternator_fuse(judgement: &Judgement, index: usize) -> Vec<Finding> {
    let installation = &judgement.installation;
    let Some(alternator) = installation.alternators.get(index) else { return Vec::new() };
    let touches = |run: &Run| run.to == alternator.nodes[0] || run.from == alternator.nodes[0];
    let leads = installation.runs.iter().zip(&judgement.models).filter(|(run, _)| touches(run));
    let least = installation.alternator_fuse();
    let citation = format!("{} times the rating, {}", least.value.value, least.citation);
    let mut found = Vec::new();
    for (run, fuse) in leads.filter_map(|(run, model)| Some((run, model.fuse?))) {
        let limit = (alternator.rating * least.value).value;
        let rating = fuse.rating.value;
        let measure = Measure {
            rule: "alternator-fuse",
            subject: &run.name,
            measured: rating,
            limit,
            unit: "A",
            margin: if rating >= limit * (1.0 - 1e-9) { f64::INFINITY } else { rating / limit },
            failing: Signal::Warning,
            citation: &citation,
            confidence: Confidence::CommonPractice,
            case: None,
        };
        found.extend(measure.finding(|_| {
            let (fuse, alternator) = (n(rating), n(alternator.rating.value));
            format!("{fuse} A for an alternator of {alternator} A may open under load and leave it without a battery")
        }));
    }
    found
}
