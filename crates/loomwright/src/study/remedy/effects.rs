//! What a remedy changes besides the finding that it mends.

use crate::finding::{Finding, Signal};
use crate::installation::{ConductorChoice, Installation};
use crate::quantity::{Mass, significant};
use crate::study::judge::Judgement;

/// A change of metal below this is not told, in kg.
const LEAST_METAL_KG: f64 = 0.05;
/// Most findings that are named.
const MOST_NAMED: usize = 2;

/// What else is different after a remedy, in words; empty when nothing worth telling is.
pub(super) fn effects(before: &Judgement, after: &Judgement, finding: &Finding) -> Vec<String> {
    let mut told = Vec::new();
    let metal = (metal(&after.installation) - metal(&before.installation)).value;
    if metal.abs() >= LEAST_METAL_KG {
        let way = if metal > 0.0 { "more" } else { "less" };
        told.push(format!("{} kg of metal {way}", significant(metal.abs(), 2)));
    }
    let [was, is] = [before, after].map(heat);
    if (is - was).abs() >= 0.1 * was && (is - was).abs() >= 0.5 {
        let way = if is > was { "more" } else { "less" };
        told.push(format!("{} W of heat in runs {way}", significant((is - was).abs(), 2)));
    }
    let same = |one: &Finding, other: &Finding| one.rule == other.rule && one.subject == other.subject;
    let named = |found: Vec<&Finding>| {
        let rest = found.len().saturating_sub(MOST_NAMED);
        let mut names: Vec<String> =
            found.iter().take(MOST_NAMED).map(|one| format!("{}, {}", one.rule, one.subject)).collect();
        if rest > 0 {
            names.push(format!("{rest} more"));
        }
        names.join("; ")
    };
    let is_there =
        |list: &[Finding], one: &Finding| list.iter().any(|other| same(one, other) && other.signal >= one.signal);
    let mended: Vec<&Finding> = before
        .findings
        .iter()
        .filter(|one| {
            one.signal >= Signal::Warning
                && !same(one, finding)
                && !after.findings.iter().any(|now| same(one, now) && now.signal >= Signal::Warning)
        })
        .collect();
    if !mended.is_empty() {
        told.push(format!("mends {}", named(mended)));
    }
    let brought: Vec<&Finding> =
        after.findings.iter().filter(|one| one.signal == Signal::Caution && !is_there(&before.findings, one)).collect();
    if !brought.is_empty() {
        told.push(format!("caution {}", named(brought)));
    }
    told
}

/// Metal of every conductor that is chosen.
fn metal(plan: &Installation) -> Mass {
    plan.runs.iter().fold(Mass::default(), |sum, run| match run.conductor {
        ConductorChoice::Fixed(conductor) => sum + conductor.mass(run.cut_length()),
        ConductorChoice::Auto(..) => sum,
    })
}

/// The most heat that all runs shed in any case that lasts, in W.
fn heat(judgement: &Judgement) -> f64 {
    judgement.lasting().map(|case| case.run_losses.iter().map(|loss| loss.value).sum()).fold(0.0, f64::max)
}
