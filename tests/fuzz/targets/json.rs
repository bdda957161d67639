//! JSON. Nothing of ours reads it, so what is held here is what is written: for any plan that is accepted, the JSON of check,
//! schedule, comparison, forecast, tolerance and inspection parses, has no number that is none, and is the same when it is
//! made again.
#![no_main]

use std::fmt::Debug;
use std::sync::LazyLock;

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use loomwright::installation::Installation;
use loomwright::study::compare::compare;
use loomwright::study::forecast::{self, forecast};
use loomwright::study::inspect::inspect;
use loomwright::study::judge::{Judgement, judge};
use loomwright::study::schedule::schedule;
use loomwright::study::tolerance::{self, tolerance};
use loomwright::text::read_plan;
use loomwright_fuzz::{all_finite, change_pieces, plan_lines, van};

static LINES: LazyLock<Vec<String>> = LazyLock::new(plan_lines);
static VAN: LazyLock<Judgement> = LazyLock::new(van);

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    change_pieces(data, size, max_size, seed, '\n', &LINES)
});

/// A record as JSON, whose numbers are those of `whole`.
fn written(record: serde_json::Result<String>, whole: &impl Debug, into: &mut Vec<String>) {
    all_finite(whole);
    let json = record.expect("it is written");
    let read: serde_json::Value = serde_json::from_str(&json).expect("it is JSON");
    assert!(read.is_object() && !json.contains("NaN,"));
    into.push(json);
}

fn everything(plan: &Installation) -> Vec<String> {
    let mut out = Vec::new();
    let Ok(judgement) = judge(plan) else { return out };
    let record = judgement.record();
    written(serde_json::to_string(&record), &record, &mut out);
    let sheets = schedule(&judgement);
    written(serde_json::to_string(&sheets.record()), &sheets, &mut out);
    let compared = compare(&VAN, &judgement);
    written(serde_json::to_string(&compared), &compared, &mut out);
    let looked = inspect(&judgement, &[]);
    written(serde_json::to_string(&looked.record()), &looked, &mut out);
    let options = tolerance::Options { samples: 3, threads: 1, ..Default::default() };
    if let Ok(found) = tolerance(&judgement, &options) {
        let record = found.record();
        written(serde_json::to_string(&record), &record, &mut out);
    }
    let options = forecast::Options { steps_per_day: 24, samples: 2, threads: 1, ..Default::default() };
    if let Ok(found) = forecast(&judgement, &options) {
        let record = found.record(&options);
        written(serde_json::to_string(&record), &record, &mut out);
    }
    out
}

fuzz_target!(|data: &[u8]| {
    let Ok(text) = std::str::from_utf8(data) else { return };
    if let Ok(plan) = read_plan(text) {
        assert_eq!(everything(&plan), everything(&plan));
    }
});
