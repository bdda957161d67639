//! What the plan checks share: the example plans as text and as judgements.
#![allow(dead_code, reason = "each test binary uses its own part")]

use std::path::Path;

use loomwright::finding::{Finding, Signal};
use loomwright::study::judge::{CaseResult, Judgement, judge};
use loomwright::text::read_plan;

/// A file of the repository as text.
pub fn text_of(file: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(file);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// A plan as judged; panics with every mistake when it cannot be read.
pub fn judged(text: &str) -> Judgement {
    let plan = read_plan(text).unwrap_or_else(|errors| panic!("{errors:#?}"));
    judge(&plan).unwrap_or_else(|error| panic!("{error}"))
}

/// The result of a case by its name.
pub fn case<'a>(judgement: &'a Judgement, name: &str) -> &'a CaseResult {
    let index = judgement.installation.cases.iter().position(|case| case.name == name);
    let index = index.unwrap_or_else(|| panic!("the plan has no case {name}"));
    judgement.cases.iter().find(|case| case.case == index).expect("every case is solved")
}

/// The warnings and dangers.
pub fn failures(judgement: &Judgement) -> impl Iterator<Item = &Finding> {
    judgement.findings.iter().filter(|finding| finding.signal >= Signal::Warning)
}

/// The finding of a rule on a subject, whatever its signal.
pub fn finding<'a>(judgement: &'a Judgement, rule: &str, subject: &str) -> Option<&'a Finding> {
    judgement.findings.iter().find(|finding| finding.rule == rule && finding.subject == subject)
}

/// A battery with a fused positive and a negative bar, and what `more` says.
pub fn two_bars(system_voltage: &str, fuse: &str, more: &str) -> String {
    format!(
        r#"format = 1
[plan]
name = "Two bars (invented)"
place = "vehicle"
system_voltage = "{system_voltage}"
[defaults]
insulation = "90 °C"
[zones.here]
kind = "van-cabin"
[batteries.house]
chemistry = "agm"
capacity = "100 Ah"
[busbars.plus]
[busbars.minus]
[runs.lead]
from = "house.+"
to = "plus"
route = ["0.5 m in here"]
conductor = "95 mm2"
fuse = "{fuse}"
[runs.back]
from = "house.-"
to = "minus"
route = ["0.5 m in here"]
conductor = "95 mm2"
{more}"#
    )
}
