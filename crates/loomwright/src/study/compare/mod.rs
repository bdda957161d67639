//! An old plan against a new one: what changes for every run and device, and what it takes.
//!
//! ```
//! use loomwright::study::{compare::compare, judge::judge};
//! use loomwright::text::read_plan;
//! let read = |text: &str| read_plan(text).map_err(|errors| format!("{errors:?}"));
//! let text = include_str!("../../../examples/lamp.toml");
//! let old = judge(&read(text)?)?;
//! let new = judge(&read(&text.replace("\"4 m in room\"", "\"8 m in room\""))?)?;
//! let comparison = compare(&old, &new);
//! let changed = comparison.runs.iter().filter(|run| run.change == "changed").count();
//! assert_eq!(changed, 2); // both legs of the lamp
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod material;

use serde::Serialize;

use crate::finding::{Finding, Signal, Verdict};
use crate::quantity::round_significant;
use crate::study::judge::{AlternatorRecord, DeviceRecord, Judgement, PlanRecord, RunRecord};
pub use material::{MaterialChange, Materials};

/// A plan in a comparison.
#[derive(Clone, Debug, Serialize)]
pub struct PlanSide {
    /// Its name.
    pub name: String,
    /// Whether it holds.
    pub verdict: Verdict,
    /// How many findings of danger, warning, caution and notice it has.
    pub findings: [usize; 4],
}

/// A run as one of the plans has it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RunSide {
    /// Size of the conductor.
    pub size: String,
    /// Length to cut.
    pub cut_m: f64,
    /// Rating and family of its fuse.
    pub fuse: Option<String>,
    /// The current that it is judged at.
    pub current_a: f64,
    /// What it bears.
    pub ampacity_a: Option<f64>,
    /// That over its current.
    pub ampacity_margin: Option<f64>,
    /// Hottest conductor.
    pub temperature_c: Option<f64>,
    /// Largest drop, with joints and fuse.
    pub drop_v: f64,
    /// Largest heat.
    pub loss_w: f64,
}

/// A run in both plans, or in one of them.
#[derive(Clone, Debug, Serialize)]
pub struct RunChange {
    /// Its name.
    pub name: String,
    /// `added`, `removed`, `changed` (conductor, length or fuse), `loaded` (the same parts, other currents) or `same`.
    pub change: &'static str,
    /// In the old plan.
    pub old: Option<RunSide>,
    /// In the new plan.
    pub new: Option<RunSide>,
}

/// A device in both plans, or in one of them.
#[derive(Clone, Debug, Serialize)]
pub struct DeviceChange {
    /// What it is.
    pub device: &'static str,
    /// Its name.
    pub name: String,
    /// `added`, `removed` or `stays`.
    pub change: &'static str,
    /// In the old plan.
    pub old: Option<DeviceRecord>,
    /// In the new plan.
    pub new: Option<DeviceRecord>,
}

/// What an alternator has left in a case that both plans have; negative where more is asked than there is.
#[derive(Clone, Debug, Serialize)]
pub struct Headroom {
    /// The alternator.
    pub alternator: String,
    /// The case.
    pub case: String,
    /// In the old plan.
    pub old_a: Option<f64>,
    /// In the new plan.
    pub new_a: Option<f64>,
}

/// A finding that only one of the plans has, or that the new plan has more severely.
#[derive(Clone, Debug, Serialize)]
pub struct FindingChange {
    /// `gone`, `new` or `worse`.
    pub change: &'static str,
    /// Its rule.
    pub rule: &'static str,
    /// What it is about.
    pub subject: String,
    /// Its signal word.
    pub signal: Signal,
    /// What it says.
    pub message: String,
}

/// An old plan against a new one.
#[derive(Clone, Debug, Serialize)]
pub struct Comparison {
    /// Version of this form.
    pub format: u32,
    /// Version of the engine.
    pub engine_version: &'static str,
    /// The old plan.
    pub old: PlanSide,
    /// The new plan.
    pub new: PlanSide,
    /// Findings that come and go, worst first.
    pub findings: Vec<FindingChange>,
    /// Runs of the new plan in its order, then those that are gone.
    pub runs: Vec<RunChange>,
    /// Devices of the new plan in its order, then those that are gone.
    pub devices: Vec<DeviceChange>,
    /// What alternators have left.
    pub headroom: Vec<Headroom>,
    /// What the change takes and sets free.
    pub materials: Materials,
}

/// Compares two judged plans; runs, devices and cases belong together by their names.
///
/// ```
/// use loomwright::study::{compare::compare, judge::judge};
/// let text = include_str!("../../../examples/lamp.toml");
/// let judgement = judge(&loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?)?;
/// let comparison = compare(&judgement, &judgement);
/// assert!(comparison.findings.is_empty()); // nothing comes, nothing goes
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn compare(old: &Judgement, new: &Judgement) -> Comparison {
    let (before, after) = (old.record(), new.record());
    Comparison {
        format: 1,
        engine_version: env!("CARGO_PKG_VERSION"),
        old: side(&before),
        new: side(&after),
        findings: findings(&before, &after),
        runs: runs(&before, &after),
        devices: devices(&before, &after),
        headroom: headroom(&before, &after),
        materials: material::materials(old, new),
    }
}

fn side(record: &PlanRecord) -> PlanSide {
    let count = |signal| record.findings.iter().filter(|finding| finding.signal == signal).count();
    let findings = [Signal::Danger, Signal::Warning, Signal::Caution, Signal::Notice].map(count);
    PlanSide { name: record.name.clone(), verdict: record.verdict, findings }
}

fn findings(before: &PlanRecord, after: &PlanRecord) -> Vec<FindingChange> {
    let same = |one: &Finding, other: &Finding| one.rule == other.rule && one.subject == other.subject;
    let of = |change: &'static str, one: &Finding| FindingChange {
        change,
        rule: one.rule,
        subject: one.subject.clone(),
        signal: one.signal,
        message: one.message.clone(),
    };
    let mut found = Vec::new();
    for now in &after.findings {
        match before.findings.iter().find(|then| same(then, now)) {
            None => found.push(of("new", now)),
            Some(then) if now.signal > then.signal => found.push(of("worse", now)),
            Some(_) => {}
        }
    }
    let gone = before.findings.iter().filter(|then| !after.findings.iter().any(|now| same(then, now)));
    found.extend(gone.map(|then| of("gone", then)));
    found
}

fn run_side(run: &RunRecord) -> RunSide {
    let ampacity = run.duty_ampacity_a.or(run.ampacity_a);
    RunSide {
        size: run.size.clone(),
        cut_m: run.cut_m,
        fuse: run.fuse_family.zip(run.fuse_rating_a).map(|(family, rating)| format!("{rating} A {family}")),
        current_a: run.current_a,
        ampacity_a: ampacity,
        ampacity_margin: ampacity
            .filter(|_| run.current_a > 0.0)
            .map(|most| round_significant(most / run.current_a, 9)),
        temperature_c: run.conductor_temperature_c,
        drop_v: run.drop_v,
        loss_w: run.loss_w,
    }
}

fn runs(before: &PlanRecord, after: &PlanRecord) -> Vec<RunChange> {
    let change = |old: &RunSide, new: &RunSide| {
        let parts = |side: &RunSide| (side.size.clone(), side.fuse.clone());
        if parts(old) != parts(new) || (old.cut_m - new.cut_m).abs() > 1e-6 {
            "changed"
        } else if old == new {
            "same"
        } else {
            "loaded"
        }
    };
    let mut found: Vec<RunChange> = after
        .runs
        .iter()
        .map(|run| {
            let old = before.runs.iter().find(|old| old.name == run.name).map(run_side);
            let new = run_side(run);
            let change = old.as_ref().map_or("added", |old| change(old, &new));
            RunChange { name: run.name.clone(), change, old, new: Some(new) }
        })
        .collect();
    let gone = before.runs.iter().filter(|old| !after.runs.iter().any(|run| run.name == old.name));
    found.extend(gone.map(|old| RunChange {
        name: old.name.clone(),
        change: "removed",
        old: Some(run_side(old)),
        new: None,
    }));
    found
}

fn devices(before: &PlanRecord, after: &PlanRecord) -> Vec<DeviceChange> {
    let same = |one: &DeviceRecord, other: &DeviceRecord| one.device == other.device && one.name == other.name;
    let mut found: Vec<DeviceChange> = after
        .devices
        .iter()
        .map(|new| {
            let old = before.devices.iter().find(|old| same(old, new)).cloned();
            let change = if old.is_some() { "stays" } else { "added" };
            DeviceChange { device: new.device, name: new.name.clone(), change, old, new: Some(new.clone()) }
        })
        .collect();
    let gone = before.devices.iter().filter(|old| !after.devices.iter().any(|new| same(old, new)));
    found.extend(gone.map(|old| DeviceChange {
        device: old.device,
        name: old.name.clone(),
        change: "removed",
        old: Some(old.clone()),
        new: None,
    }));
    found
}

fn headroom(before: &PlanRecord, after: &PlanRecord) -> Vec<Headroom> {
    let left = |record: &PlanRecord, alternator: &str, case: &str| {
        let case = record.cases.iter().find(|one| one.name == case)?;
        let of = |one: &&AlternatorRecord| one.name == alternator;
        case.alternators.iter().find(of).map(|one| round_significant(one.available_a - one.asked_a, 9))
    };
    let mut asked: Vec<(String, String)> = Vec::new();
    for record in [after, before] {
        for case in &record.cases {
            for alternator in &case.alternators {
                let pair = (alternator.name.clone(), case.name.clone());
                if !asked.contains(&pair) {
                    asked.push(pair);
                }
            }
        }
    }
    let of = |(alternator, case): (String, String)| Headroom {
        old_a: left(before, &alternator, &case),
        new_a: left(after, &alternator, &case),
        alternator,
        case,
    };
    asked.into_iter().map(of).collect()
}
