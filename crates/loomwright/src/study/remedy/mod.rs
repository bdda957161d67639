//! What would remove a finding: edits of the plan, each confirmed by judging the edited plan.
//!
//! A remedy is kept when its finding is gone and no finding of equal or worse signal has come. They are
//! tried in the order of PRACTICE: a setting, shorter, a larger size, another device.

mod candidates;
mod effects;

use crate::conductor::Conductor;
use crate::data::tables::constants;
use crate::finding::{Finding, Signal};
use crate::installation::{Change, ConductorChoice, Installation};
use crate::quantity::{ToText, significant};
use crate::study::judge::{Judgement, judge_fixed};

/// Most remedies of one finding.
const MOST: usize = 3;
/// The same where a conductor does not go into its terminal: there are as many ways out, and what is at hand decides.
const MOST_AT_TERMINALS: usize = 6;
/// Findings that are given remedies, worst first: a plan with more has other worries, and time is bounded.
const MOST_FINDINGS: usize = 40;

/// Judgements of edited plans times runs, for a whole plan: some hundreds for one of sixty runs, some dozens for the largest.
const MOST_WORK: usize = 30_000;

/// Steps of elimination of all of them, by what the judgement itself took: cases, batteries and loops count as well as
/// runs. Only large plans are anywhere near it.
const MOST_STEPS: usize = 1_000_000_000;

/// An edit, or two that go together, with what it says.
#[derive(Clone, Debug)]
pub struct Remedy {
    /// The edits.
    pub changes: Vec<Change>,
    /// What to do, in words.
    pub words: String,
    /// What else that changes, in words.
    pub effects: Vec<String>,
}

impl Remedy {
    /// What to do, and in brackets what else that changes.
    pub fn sentence(&self) -> String {
        if self.effects.is_empty() {
            self.words.clone()
        } else {
            format!("{} ({})", self.words, self.effects.join("; "))
        }
    }
}

/// Gives every finding of warning or danger its remedies.
///
/// ```
/// use loomwright::study::{judge::judge, remedy::propose};
/// let text = include_str!("../../../examples/lamp.toml").replace("\"10 W\"", "\"60 W\"");
/// let text = text.replace("to = \"lamp\"", "to = \"lamp\"\nconductor = \"0.75 mm2\""); // 5 A · 8 m · 26 mΩ/m = 1 V
/// let mut judgement = judge(&loomwright::text::read_plan(&text).map_err(|errors| format!("{errors:?}"))?)?;
/// propose(&mut judgement);
/// let drop = judgement.findings.iter().find(|finding| finding.rule == "voltage-drop").ok_or("it drops too much")?;
/// assert!(!drop.remedies.is_empty());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn propose(judgement: &mut Judgement) {
    let mut left = most_edits(judgement.installation.runs.len(), judgement.steps);
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
            sought(judgement, finding, &mut left).into_iter().map(|remedy| remedy.sentence()).collect()
        })
        .collect();
    for (finding, remedies) in judgement.findings.iter_mut().zip(remedies) {
        finding.remedies = remedies;
    }
}

/// How many edited plans are judged for one of so many runs that took so many steps.
fn most_edits(runs: usize, steps: usize) -> usize {
    (MOST_WORK / runs.max(1)).min(MOST_STEPS / steps.max(1))
}

/// The confirmed remedies of one finding.
///
/// ```
/// use loomwright::study::{judge::judge, remedy::{found, removes}};
/// let text = include_str!("../../../examples/lamp.toml").replace("\"10 W\"", "\"60 W\"");
/// let text = text.replace("to = \"lamp\"", "to = \"lamp\"\nconductor = \"0.75 mm2\""); // 5 A · 8 m · 26 mΩ/m = 1 V
/// let judgement = judge(&loomwright::text::read_plan(&text).map_err(|errors| format!("{errors:?}"))?)?;
/// let drop = judgement.findings.iter().find(|finding| finding.rule == "voltage-drop").ok_or("it drops too much")?;
/// let remedies = found(&judgement, drop);
/// assert!(!remedies.is_empty() && remedies.iter().all(|remedy| removes(&judgement, drop, &remedy.changes)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn found(judgement: &Judgement, finding: &Finding) -> Vec<Remedy> {
    let mut left = most_edits(judgement.installation.runs.len(), judgement.steps);
    sought(judgement, finding, &mut left)
}

/// As [`found`], with so many edited plans left to judge.
fn sought(judgement: &Judgement, finding: &Finding, left: &mut usize) -> Vec<Remedy> {
    let mut kept = Vec::new();
    for group in candidates::groups(judgement, finding) {
        // Within a group, from the mildest: the first that is confirmed is enough.
        // What does more than a remedy that is kept already is none.
        let more = |changes: &Vec<Change>| {
            kept.iter().any(|other: &Remedy| other.changes.iter().all(|change| changes.contains(change)))
        };
        let confirmed = group.into_iter().filter(|changes| !more(changes)).find_map(|changes| {
            *left = left.checked_sub(1)?;
            let after = mended(judgement, finding, &changes)?;
            Some((changes, after))
        });
        if let Some((changes, after)) = confirmed {
            let words = words(&judgement.installation, &changes);
            if !kept.iter().any(|other: &Remedy| other.words == words) {
                let effects = effects::effects(judgement, &after, finding);
                kept.push(Remedy { changes, words, effects });
            }
        }
        let most = if finding.rule == "terminal-accepts-conductor" { MOST_AT_TERMINALS } else { MOST };
        if kept.len() == most {
            break;
        }
    }
    kept
}

/// Whether the edits remove the finding and bring none of equal or worse signal.
///
/// ```
/// use loomwright::{installation::Change, quantity::{FromText, Length}, study::{judge::judge, remedy::removes}};
/// let text = include_str!("../../../examples/lamp.toml").replace("\"10 W\"", "\"60 W\"");
/// let text = text.replace("to = \"lamp\"", "to = \"lamp\"\nconductor = \"0.75 mm2\""); // 5 A · 8 m · 26 mΩ/m = 1 V
/// let judgement = judge(&loomwright::text::read_plan(&text).map_err(|errors| format!("{errors:?}"))?)?;
/// let drop = judgement.findings.iter().find(|finding| finding.rule == "voltage-drop").ok_or("it drops too much")?;
/// let run = judgement.installation.runs.iter().position(|run| run.circuit.is_some()).ok_or("the lamp's")?;
/// assert!(!removes(&judgement, drop, &[])); // nothing done, nothing gone
/// assert!(!removes(&judgement, drop, &[Change::Length(run, Length::from_text("5 m")?)])); // longer is no remedy
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn removes(judgement: &Judgement, finding: &Finding, changes: &[Change]) -> bool {
    mended(judgement, finding, changes).is_some()
}

/// The judgement of the edited plan, where the finding is gone from it and none of equal or worse signal has come.
fn mended(judgement: &Judgement, finding: &Finding, changes: &[Change]) -> Option<Judgement> {
    let edited = changes.iter().fold(judgement.installation.clone(), |plan, change| plan.with(change));
    let after = judge_fixed(edited, Vec::new(), Some(judgement)).ok()?;
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
    (gone && none_worse).then_some(after)
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
            Change::FloatVoltage(index, voltage) => {
                format!("set the float of {} to {} V", converter(*index), significant(voltage.value, 4))
            }
            Change::Equalise(index, Some(voltage)) => {
                format!("set the equalisation of {} to {} V", converter(*index), significant(voltage.value, 4))
            }
            Change::Equalise(index, None) => format!("switch the equalisation of {} off", converter(*index)),
            Change::Compensation(index, _) => {
                format!("switch the temperature compensation of {} off", converter(*index))
            }
            Change::PreCharge(index) => {
                format!("charge the input capacitors of {} through a resistor first", converter(*index))
            }
            Change::Pin(index, end, to) => format!(
                "a reducing pin to {} at {}",
                to.to_text(),
                installation.runs.get(*index).map_or_else(String::new, |run| {
                    let at = if *end == 0 { run.from } else { run.to };
                    installation.nodes.get(at.0).map_or_else(String::new, |node| node.name.clone())
                })
            ),
            Change::Beside(index, size) => format!("two of {} in parallel for {}", size.label(), run(*index)),
            Change::Bar(index, end, size) => format!(
                "a busbar {} {} and a tail of {} m of {} to it",
                if *end == 0 { "at the start of" } else { "at the end of" },
                run(*index),
                constants::BAR_TAIL_M,
                size.label()
            ),
            Change::RunningSignal(index) => format!("connect an ignition or D+ signal to {}", converter(*index)),
        })
        .collect();
    all.join(", and ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A plan as large as the examples is given all edits that its runs leave; one that took long to judge, what that leaves.
    #[test]
    fn edits_are_counted_by_the_work_of_the_judgement() {
        assert_eq!(most_edits(59, 1_000_000), MOST_WORK / 59);
        assert_eq!(most_edits(900, 1_000), MOST_WORK / 900);
        assert_eq!(most_edits(900, MOST_STEPS / 3), 3);
        assert_eq!(most_edits(900, MOST_STEPS + 1), 0);
        assert_eq!(most_edits(0, 0), MOST_WORK);
    }
}
