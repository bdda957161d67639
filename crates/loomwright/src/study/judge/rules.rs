//! The rules that a plan is held against. Each gives findings with their numbers; passes with 10 %
//! margin or more give none.

mod alternators;
mod arrays;
mod batteries;
mod bonding;
mod charging;
mod converters;
mod devices;
mod faults;
mod laying;
mod opening;
mod placing;
mod protection;
mod rows;
mod runs;
mod stability;
mod surroundings;
mod terminals;
mod voltage;
mod watch;

use super::{CheckRecord, Judgement};
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};

pub(super) use converters::air_at;
pub(super) use faults::time;
pub(super) use voltage::{judged_drops, short_of_voltage};
pub(super) use watch::counted_from;
pub(crate) use watch::{Watch, watch};

/// Every finding of every rule, in the order of the plan.
pub(super) fn all(judgement: &Judgement) -> Vec<Finding> {
    let mut found = Vec::new();
    found.extend(runs::findings(judgement));
    found.extend(terminals::findings(judgement));
    found.extend(laying::findings(judgement));
    found.extend(voltage::findings(judgement));
    found.extend(alternators::findings(judgement));
    found.extend(converters::findings(judgement));
    found.extend(charging::findings(judgement));
    found.extend(devices::findings(judgement));
    found.extend(arrays::findings(&judgement.installation));
    found.extend(batteries::findings(judgement));
    found.extend(stability::findings(judgement));
    found.extend(opening::findings(judgement));
    found.extend(surroundings::findings(judgement));
    found.extend(bonding::findings(judgement));
    found.extend(placing::negative_switches(judgement));
    found.extend(placing::unprotected_lengths(judgement));
    found
}

/// Network solutions that the rules ask for by themselves, at most.
pub(super) fn solutions(plan: &crate::installation::Installation) -> usize {
    opening::solutions(plan).saturating_add(super::bonds::solutions(plan))
}

/// What the rules measure of runs, consumers, alternators and the operating point, passing or not; in the order of the
/// plan. A rule that measures in several cases gives its worst.
pub(super) fn measured(judgement: &Judgement) -> Vec<CheckRecord> {
    let mut found = rows::checks(judgement);
    found.extend(voltage::checks(judgement));
    found.extend(alternators::check(judgement));
    found.extend(stability::check(judgement));
    found
}

/// A measured number against a limit.
struct Measure<'a> {
    rule: &'static str,
    subject: &'a str,
    measured: f64,
    limit: f64,
    unit: &'static str,
    /// How far the rule is met: 1 or more passes.
    margin: f64,
    /// The signal when it fails.
    failing: Signal,
    citation: &'a str,
    confidence: Confidence,
    case: Option<String>,
}

impl Measure<'_> {
    fn fails(&self) -> bool {
        self.margin < 1.0 - 1e-9
    }

    /// The signal that its margin asks for; `None` where it passes with 10 % or more.
    fn signal(&self) -> Option<Signal> {
        match self.margin {
            _ if self.fails() => Some(self.failing),
            margin if margin >= constants::THIN_MARGIN => None,
            _ => Some(Signal::Caution),
        }
    }

    /// The same where passing is enough, because the limit has its reserve in it.
    fn enough(self) -> Self {
        Self { margin: if self.fails() { self.margin } else { f64::INFINITY }, ..self }
    }

    /// The measured number as a row of all checks.
    fn check(&self) -> CheckRecord {
        CheckRecord {
            rule: self.rule,
            subject: self.subject.to_owned(),
            case: self.case.clone().filter(|case| !case.is_empty()),
            measured: self.measured.is_finite().then_some(self.measured),
            limit: self.limit.is_finite().then_some(self.limit),
            unit: self.unit,
            margin: self.margin,
            signal: self.signal(),
        }
    }

    /// A finding when the limit is failed or nearly so; `message` says what the numbers mean.
    fn finding(self, message: impl FnOnce(bool) -> String) -> Option<Finding> {
        let fails = self.fails();
        let signal = self.signal()?;
        Some(Finding {
            rule: self.rule,
            subject: self.subject.to_owned(),
            signal,
            case: self.case,
            message: message(fails),
            measured: self.measured.is_finite().then_some(self.measured),
            limit: Some(self.limit),
            unit: self.unit,
            margin: self.margin.is_finite().then_some(self.margin),
            citation: self.citation.to_owned(),
            confidence: self.confidence,
            remedies: Vec::new(),
        })
    }
}

/// A finding without numbers.
fn plain(rule: &'static str, subject: &str, signal: Signal, message: String, citation: &str) -> Finding {
    Finding::plain(rule, subject.to_owned(), signal, message, citation)
}

/// A number for people.
fn n(value: f64) -> String {
    crate::quantity::significant(value, 3)
}
