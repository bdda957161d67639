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

#[cfg(test)]
mod tests {
    use super::of;
    use loomwright::finding::{Finding, Signal};

    #[test]
    fn every_signal_word_counts_its_own() {
        let plan = loomwright::text::read_plan(include_str!("../../../examples/plans/mountain-hut.toml")).unwrap();
        let mut findings = loomwright::study::judge::judge(&plan).unwrap().findings;
        let signals = [Signal::Danger, Signal::Danger, Signal::Warning, Signal::Caution];
        for (finding, signal) in findings.iter_mut().zip(signals) {
            finding.signal = signal;
        }
        let told: Vec<Finding> = findings.into_iter().take(4).collect();
        assert_eq!(of(&told), ["D1", "D2", "W1", "C1"]);
    }
}
