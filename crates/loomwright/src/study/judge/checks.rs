//! Every check of a judged plan as one row with its margin, those that pass too.

use serde::Serialize;

use super::{Judgement, rules};
use crate::finding::{Finding, Signal};
use crate::study::cable::round9;

/// One number against its limit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CheckRecord {
    /// The rule in plain trade words, kebab case; `conductor-temperature` is no rule of its own, but how warm the run gets
    /// where `ampacity` asks how much it bears.
    pub rule: &'static str,
    /// What is judged.
    pub subject: String,
    /// The case, or the device, that makes it worst.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub case: Option<String>,
    /// The number found, in `unit`.
    pub measured: Option<f64>,
    /// The number it is held against, in `unit`.
    pub limit: Option<f64>,
    /// Unit of both numbers.
    pub unit: &'static str,
    /// How far it is met: 1 or more passes; always finite.
    pub margin: f64,
    /// The signal of its finding; null where it passes with 10 % or more, or where passing is enough.
    pub signal: Option<Signal>,
}

impl CheckRecord {
    /// `None` for a finding without a margin.
    fn of(finding: &Finding) -> Option<Self> {
        Some(Self {
            rule: finding.rule,
            subject: finding.subject.clone(),
            case: finding.case.clone(),
            measured: finding.measured,
            limit: finding.limit,
            unit: finding.unit,
            margin: finding.margin?,
            signal: Some(finding.signal),
        })
    }

    fn rounded(self) -> Self {
        let [measured, limit] = [self.measured, self.limit].map(|number| number.map(round9));
        Self { measured, limit, margin: round9(self.margin), ..self }
    }
}

impl Judgement {
    /// Every check with its margin, worst first. What a finding tells of a rule and a subject stands for what was measured
    /// of them; a rule that fails in several cases has a row for each.
    pub fn checks(&self) -> Vec<CheckRecord> {
        let mut found: Vec<CheckRecord> = self.findings.iter().filter_map(CheckRecord::of).collect();
        for mut check in rules::measured(self) {
            let of = || self.findings.iter().filter(|one| one.rule == check.rule && one.subject == check.subject);
            if of().all(|finding| finding.margin.is_none()) {
                // What cannot be judged of it is told without a number, and is a signal all the same.
                let told = of().map(|finding| finding.signal).max();
                check.signal = check.signal.max(told);
                found.push(check);
            }
        }
        found.retain(|check| check.margin.is_finite());
        let mut found: Vec<CheckRecord> = found.into_iter().map(CheckRecord::rounded).collect();
        found.sort_by(|one, other| {
            let names = || one.rule.cmp(other.rule).then_with(|| one.subject.cmp(&other.subject));
            one.margin.total_cmp(&other.margin).then_with(names)
        });
        found
    }
}
