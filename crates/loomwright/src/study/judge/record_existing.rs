//! Parts of an earlier system in the report: what may stay, what must change, and why.

use serde::Serialize;

use super::Judgement;
use crate::finding::{Finding, Signal};
use crate::installation::{Existing, Part, State};

/// An existing part in the report.
#[derive(Clone, Debug, Serialize)]
pub struct ExistingRecord {
    /// The section of the plan that it stands in.
    pub part: &'static str,
    /// Its name.
    pub name: String,
    /// `may-stay`, `must-change` or `removed`.
    pub verdict: &'static str,
    /// The findings because of which it must change: rule and message.
    pub why: Vec<String>,
}

impl Judgement {
    pub(super) fn existing_records(&self) -> Vec<ExistingRecord> {
        self.installation.existing.iter().map(|part| self.existing_record(part)).collect()
    }

    fn existing_record(&self, part: &Existing) -> ExistingRecord {
        let against = |finding: &&Finding| finding.signal >= Signal::Warning && concerns(part, &finding.subject);
        let why: Vec<String> = match part.state {
            State::Removed => Vec::new(),
            State::Kept => {
                self.findings.iter().filter(against).map(|one| format!("{}: {}", one.rule, one.message)).collect()
            }
        };
        let verdict = match part.state {
            State::Removed => "removed",
            State::Kept if why.is_empty() => "may-stay",
            State::Kept => "must-change",
        };
        ExistingRecord { part: part.part.name(), name: part.name.clone(), verdict, why }
    }
}

/// Whether a finding's subject is this part: a leg of the circuit, a terminal of the device, or the part itself.
fn concerns(part: &Existing, subject: &str) -> bool {
    let Some(rest) = subject.strip_prefix(part.name.as_str()) else { return false };
    match part.part {
        Part::Circuit => matches!(rest, "" | " +" | " -"),
        Part::Run | Part::Busbar => rest.is_empty(),
        _ => rest.is_empty() || rest.starts_with('.'),
    }
}
