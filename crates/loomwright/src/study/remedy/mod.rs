//! What would remove a finding: edits of the plan, each confirmed by judging the edited plan.
//!
//! A remedy is kept when its finding is gone and no finding of equal or worse signal has come. They are
//! tried in the order of PRACTICE: a setting, shorter, a larger size, another device.

mod candidates;

use crate::conductor::Conductor;
use crate::finding::{Finding, Signal};
use crate::installation::{Change, ConductorChoice, Installation};
use crate::quantity::{ToText, significant};
use crate::study::judge::{Judgement, judge_fixed};

/// Most remedies of one finding.
const MOST: usize = 3;
/// Findings that are given remedies, worst first: a plan with more has other worries, and time is bounded.
const MOST_FINDINGS: usize = 40;

/// Judgements of edited plans times runs, for a whole plan: some hundreds for one of sixty runs, some dozens for the largest.
const MOST_WORK: usize = 30_000;

/// An edit, or two that go together, with what it says.
#[derive(Clone, Debug)]
pub struct Remedy {
    /// The edits.
    pub changes: Vec<Change>,
    /// What to do, in words.
    pub words: String,
}

/// Gives every finding of warning or danger its remedies.
pub fn propose(judgement: &mut Judgement) {
    let mut left = MOST_WORK / judgement.installation.runs.len().max(1);
    let remedies: Vec<Vec<String>> = judgement
        .findings
        .iter()
        .enumerate()
        .map(|(place, finding)| {
            if place >= MOST_FINDINGS {
                return Vec::new();
            }
            if finding.signal < Signal::Warning && finding.rule != "alternator-headroom" {
                return Vec::new();
            }
            sought(judgement, finding, &mut left).into_iter().map(|remedy| remedy.words).collect()
        })
        .collect();
    for (finding, remedies) in judgement.findings.iter_mut().zip(remedies) {
        finding.remedies = remedies;
    }
}

/// The confirmed remedies of one finding.
pub fn found(judgement: &Judgement, finding: &Finding) -> Vec<Remedy> {
    let mut left = MOST_WORK;
    sought(judgement, finding, &mut left)
}

/// As [`found`], with so many edited plans left to judge.
fn sought(judgement: &Judgement, finding: &Finding, left: &mut usize) -> Vec<Remedy> {
    let mut kept = Vec::new();
    for group in candidates::groups(judgement, finding) {
        // Within a group, from the mildest: the first that is confirmed is enough.
        let confirmed = group.into_iter().find(|changes| {
            let Some(fewer) = left.checked_sub(1) else { return false };
            *left = fewer;
            removes(judgement, finding, changes)
        });
        if let Some(changes) = confirmed {
            let words = words(&judgement.installation, &changes);
            if !kept.iter().any(|other: &Remedy| other.words == words) {
                kept.push(Remedy { changes, words });
            }
        }
        if kept.len() == MOST {
            break;
        }
    }
    kept
}

/// Whether the edits remove the finding and bring none of equal or worse signal.
pub fn removes(judgement: &Judgement, finding: &Finding, changes: &[Change]) -> bool {
    let edited = changes.iter().fold(judgement.installation.clone(), |plan, change| plan.with(change));
    let Ok(after) = judge_fixed(edited, Vec::new(), Some(judgement)) else { return false };
    let same = |one: &Finding, other: &Finding| one.rule == other.rule && one.subject == other.subject;
    // A caution is mended when it is gone; a failure also when it passes narrowly.
    let mended = if finding.signal >= Signal::Warning { Signal::Warning } else { finding.signal };
    // What cannot be judged any more is not mended.
    let open = |now: &Finding| now.margin.is_none() && now.signal >= Signal::Caution;
    let gone =
        !after.findings.iter().any(|now| same(now, finding) && (open(now) || (now.signal >= mended && fails(now))));
    // No other failure may come, whatever its signal.
    let failing =
        after.findings.iter().filter(|now| now.signal >= Signal::Warning && fails(now) && !same(now, finding));
    let none_worse = failing
        .into_iter()
        .all(|now| judgement.findings.iter().any(|before| same(before, now) && no_worse(before, now)));
    gone && none_worse
}

/// Whether a failure that was there before has not grown by more than a tenth.
fn no_worse(before: &Finding, now: &Finding) -> bool {
    let margins = before.margin.zip(now.margin);
    before.signal >= now.signal && margins.is_none_or(|(before, now)| now >= 0.9 * before)
}

/// Whether a finding tells of a failure, not of a narrow pass.
fn fails(finding: &Finding) -> bool {
    finding.margin.is_none_or(|margin| margin < 1.0 - 1e-9)
}

fn words(installation: &Installation, changes: &[Change]) -> String {
    let run = |index: usize| {
        let run = installation.runs.get(index);
        run.map_or_else(String::new, |run| run.circuit.clone().unwrap_or_else(|| run.name.clone()))
    };
    let converter = |index: usize| installation.converters.get(index).map_or("", |one| one.name.as_str());
    // Kind and material are named where they change, or where the metal is not copper.
    let conductor = |index: usize, next: &Conductor| {
        let now = match installation.runs.get(index).map(|run| run.conductor) {
            Some(ConductorChoice::Fixed(now)) => (Some(now.kind), Some(now.material)),
            _ => (None, None),
        };
        let kind = now.0.filter(|now| *now != next.kind).map(|_| format!(" {}", next.kind));
        let metal = now.1.is_some_and(|now| now != next.material) || !next.material.is_copper();
        let metal = metal.then(|| format!(" {}", next.material));
        [Some(next.label()), kind, metal].into_iter().flatten().collect::<String>()
    };
    let all: Vec<String> = changes
        .iter()
        .map(|change| match change {
            Change::Conductor(index, size) => format!("{} in {}", run(*index), conductor(*index, size)),
            Change::Fuse(index, fuse) => {
                format!("fuse {} with {} {}", run(*index), fuse.rating.to_text(), fuse.family.name())
            }
            Change::Length(index, length) => {
                format!(
                    "route {} in {} m or less, or move the device nearer",
                    run(*index),
                    significant(length.value, 3)
                )
            }
            Change::OutputCurrent(index, current) => {
                format!("set {} to {} A", converter(*index), significant(current.value, 3))
            }
            Change::OutputVoltage(index, voltage) => {
                format!("set {} to {} V", converter(*index), significant(voltage.value, 4))
            }
            Change::PreCharge(index) => {
                format!("charge the input capacitors of {} through a resistor first", converter(*index))
            }
            Change::RunningSignal(index) => format!("connect an ignition or D+ signal to {}", converter(*index)),
        })
        .collect();
    all.join(", and ")
}
