//! Tags of findings: a letter for the signal word and a number, the same in every picture and in the report.

use loomwright::finding::{Finding, Signal};

/// The letter of a signal word.
fn letter(signal: Signal) -> char {
    match signal {
        Signal::Danger => 'D',
        Signal::Warning => 'W',
        Signal::Caution => 'C',
        Signal::Notice => 'N',
    }
}

/// The tag of every finding, in their order: each signal word counts its own from 1.
pub(crate) fn of(findings: &[Finding]) -> Vec<String> {
    let mut counts = [0_usize; 4];
    let mut tag = |finding: &Finding| {
        let place = match finding.signal {
            Signal::Danger => 0,
            Signal::Warning => 1,
            Signal::Caution => 2,
            Signal::Notice => 3,
        };
        let count = counts.get_mut(place).map_or(0, |count| {
            *count += 1;
            *count
        });
        format!("{}{count}", letter(finding.signal))
    };
    findings.iter().map(&mut tag).collect()
}
