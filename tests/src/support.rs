//! What the plan checks share: the example plans as text and as judgements.

use std::path::Path;

use loomwright::finding::{Finding, Signal};
use loomwright::study::judge::{CaseResult, Judgement, RunRecord, judge};
use loomwright::text::read_plan;

/// The plans of `examples/plans`.
pub const SHIPPED: [&str; 5] = [
    "examples/plans/failing.toml",
    "examples/plans/mountain-hut-before.toml",
    "examples/plans/mountain-hut.toml",
    "examples/plans/river-launch.toml",
    "examples/plans/veterinary-van.toml",
];

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

/// What the report says of a run.
pub fn run(judgement: &Judgement, name: &str) -> RunRecord {
    judgement.record().runs.into_iter().find(|run| run.name == name).unwrap_or_else(|| panic!("no run {name}"))
}

/// The warnings and dangers.
pub fn failures(judgement: &Judgement) -> impl Iterator<Item = &Finding> {
    judgement.findings.iter().filter(|finding| finding.signal >= Signal::Warning)
}

/// The finding of a rule on a subject, whatever its signal.
pub fn finding<'a>(judgement: &'a Judgement, rule: &str, subject: &str) -> Option<&'a Finding> {
    judgement.findings.iter().find(|finding| finding.rule == rule && finding.subject == subject)
}

/// A load between two bars on a circuit of 4 m.
pub fn lamp(load: &str, circuit: &str) -> String {
    format!(
        "[loads.lamp]\n{load}\n[circuits.lamp]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"lamp\"\nroute = [\"4 m in here\"]\n{circuit}\n"
    )
}

/// A converter from two bars down to 12 V.
pub fn buck(output_current: &str) -> String {
    format!(
        "[converters.buck]\nkind = \"buck\"\noutput_current = \"{output_current}\"\noutput_voltage = \"12 V\"\n[circuits.buck]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"buck\"\nroute = [\"1 m in here\"]\n"
    )
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
