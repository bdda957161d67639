//! Remedies verified: each is applied to the plan and the plan judged from nothing, not as the study itself confirms it, which
//! keeps what an edit does not touch.

use crate::draft::draft;
use loomwright::finding::{Finding, Signal};
use loomwright::study::judge::{Judgement, judge};
use loomwright::study::remedy::found;
use loomwright_tests::sampling;
use proptest::prelude::*;
use proptest::sample::Index;

fn fails(finding: &&Finding) -> bool {
    finding.signal >= Signal::Warning && finding.margin.is_none_or(|margin| margin < 1.0 - 1e-9)
}

fn same(one: &Finding, other: &Finding) -> bool {
    one.rule == other.rule && one.subject == other.subject
}

fn failures(judgement: &Judgement) -> impl Iterator<Item = &Finding> {
    judgement.findings.iter().filter(fails)
}

proptest! {
    #![proptest_config(sampling(0x4e_3d))]

    #[test]
    fn every_remedy_does_what_it_says(draft in draft(), which in any::<Index>()) {
        let plan = draft.plan();
        let Ok(before) = judge(&plan) else { return Ok(()) };
        let failing: Vec<&Finding> = failures(&before).collect();
        if failing.is_empty() {
            return Ok(());
        }
        let finding = failing[which.index(failing.len())];
        for remedy in found(&before, finding) {
            let edited = remedy.changes.iter().fold(plan.clone(), |plan, change| plan.with(change));
            let after = judge(&edited).map_err(|error| TestCaseError::fail(error.to_string()))?;
            let still = failures(&after).find(|now| same(now, finding));
            prop_assert!(still.is_none(), "{} leaves {:?}", remedy.words, still);
            // No other failure comes, and none that was there grows by more than a tenth; 1e-6 for where a tenth is told.
            for now in failures(&after) {
                let then = before.findings.iter().find(|then| same(then, now));
                let no_worse = then.is_some_and(|then| {
                    let margins = then.margin.zip(now.margin);
                    now.signal <= then.signal && margins.is_none_or(|(then, now)| now >= 0.9 * then - 1e-6)
                });
                prop_assert!(no_worse, "{} brings {:?}, which was {:?}", remedy.words, now, then);
            }
        }
    }
}
