//! What a judgement says about one rule and one subject.
//!
//! An error says that something could not be computed; a finding says that it was computed and what it
//! means. The two are never mixed.

use serde::Serialize;

use crate::data::Confidence;

/// How urgent a finding is, in the signal words of ISO 3864 and ANSI Z535; ordered from mild to severe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Signal {
    /// Information.
    Notice,
    /// Passes with less than 10 % margin, or rests on a value that should be measured or read again.
    Caution,
    /// A limit is failed.
    Warning,
    /// Fire, explosion or shock is possible.
    Danger,
}

impl Signal {
    /// The signal word as printed.
    pub fn word(self) -> &'static str {
        match self {
            Self::Notice => "notice",
            Self::Caution => "caution",
            Self::Warning => "warning",
            Self::Danger => "danger",
        }
    }
}

/// Whether everything judged holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// No finding of warning or danger.
    Holds,
    /// At least one warning or danger.
    DoesNotHold,
}

/// One judgement with its numbers.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// The rule in plain trade words, kebab case.
    pub rule: &'static str,
    /// What was judged.
    pub subject: String,
    /// How urgent it is.
    pub signal: Signal,
    /// The operating case in which it is worst.
    pub case: Option<String>,
    /// What it says, one or two sentences.
    pub message: String,
    /// The number found, in `unit`.
    pub measured: Option<f64>,
    /// The number it is held against, in `unit`.
    pub limit: Option<f64>,
    /// Unit of both numbers.
    pub unit: &'static str,
    /// How far the rule is met: 1 or more passes.
    pub margin: Option<f64>,
    /// Where the rule comes from.
    pub citation: String,
    /// How far its number can be trusted.
    pub confidence: Confidence,
    /// What would remove the finding, cheapest first.
    pub remedies: Vec<String>,
}

impl Finding {
    /// What findings of one signal are ordered by, the least first: the margin to nine decimals, as it is told, so that what is
    /// equal but for the rounding of sums stays in the order of the plan. Without a margin last.
    pub(crate) fn rank(&self) -> f64 {
        self.margin.map_or(f64::INFINITY, |margin| (margin * 1e9).round() / 1e9)
    }

    /// A finding without numbers, which rests on a custom of the trade.
    pub(crate) fn plain(rule: &'static str, subject: String, signal: Signal, message: String, citation: &str) -> Self {
        Self {
            rule,
            subject,
            signal,
            case: None,
            message,
            measured: None,
            limit: None,
            unit: "",
            margin: None,
            citation: citation.to_owned(),
            confidence: Confidence::CommonPractice,
            remedies: Vec::new(),
        }
    }
}

/// The verdict over some findings.
///
/// ```
/// use loomwright::{data::Confidence, finding::{Finding, Signal, Verdict, verdict}};
/// let finding = |signal| Finding {
///     rule: "ampacity", subject: "lamp".to_owned(), signal, case: None, message: String::new(), measured: None,
///     limit: None, unit: "A", margin: None, citation: String::new(), confidence: Confidence::Published, remedies: Vec::new(),
/// };
/// assert_eq!(verdict(&[finding(Signal::Notice), finding(Signal::Caution)]), Verdict::Holds);
/// assert_eq!(verdict(&[finding(Signal::Caution), finding(Signal::Warning)]), Verdict::DoesNotHold);
/// ```
pub fn verdict(findings: &[Finding]) -> Verdict {
    if findings.iter().any(|finding| finding.signal >= Signal::Warning) { Verdict::DoesNotHold } else { Verdict::Holds }
}
