//! Ten thousand random and mutated plans: reading never panics, and what is read is judged and recorded without a panic
//! and with finite numbers only.
//!
//! All ten thousand are read. Judging the large plans takes a tenth of a second and more without optimisation, so of
//! those that come from them only every [`JUDGED`]th is judged; of the small ones every one.

use std::panic::{AssertUnwindSafe, catch_unwind};

use crate::mutants::{Random, Vocabulary, mutate};
use crate::support::text_of;
use loomwright::installation::NodeId;
use loomwright::study::forecast::{Options, forecast};
use loomwright::study::judge::{Judgement, judge};
use loomwright::study::schedule::schedule;
use loomwright::text::read_plan;
use serde_json::Value;

const PLANS: u64 = 10_000;
/// One of so many readable mutants of a large plan is judged.
const JUDGED: usize = 4;

std::thread_local! {
    /// Where the last panic happened.
    static PANIC: std::cell::RefCell<String> = const { std::cell::RefCell::new(String::new()) };
}

/// JSON writes a number that is not finite as null; these keys may be null for a better reason.
const MAY_BE_NULL: [&str; 14] = [
    "circuit",
    "fuse_family",
    "fuse_rating_a",
    "ampacity_a",
    "conductor_temperature_c",
    "lowest_voltage_v",
    "lowest_case",
    "highest_voltage_v",
    "current_a",
    "case",
    "measured",
    "limit",
    "margin",
    // Of a check that passes.
    "signal",
];

fn no_strange_null(value: &Value, key: &str) {
    match value {
        Value::Null => assert!(MAY_BE_NULL.contains(&key) || key == "residual_a", "{key} is null"),
        Value::Array(all) => all.iter().for_each(|one| no_strange_null(one, key)),
        Value::Object(all) => all.iter().for_each(|(key, one)| no_strange_null(one, key)),
        Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

fn all_finite(judgement: &Judgement) {
    let finite = |what: &str, value: f64| assert!(value.is_finite(), "{what}: {value}");
    for case in &judgement.cases {
        case.run_currents.iter().for_each(|current| finite("current", current.value));
        case.run_losses.iter().for_each(|loss| finite("loss", loss.value));
        case.runs.iter().for_each(|run| finite("resistance", run.resistance.value));
        if let Some(point) = &case.point {
            let nodes = 0..judgement.installation.nodes.len();
            nodes.for_each(|node| finite("voltage", case.between([NodeId(node), NodeId(0)]).value));
            finite("residual", point.residual.value);
        }
        case.alternators.iter().for_each(|(asked, available)| finite("alternator", asked.value + available.value));
    }
    for model in &judgement.models {
        model.ampacity.iter().for_each(|ampacity| finite("ampacity", ampacity.value));
    }
    judgement.design.iter().for_each(|design| finite("design current", design.current.value));
    for finding in &judgement.findings {
        let numbers = [finding.measured, finding.limit, finding.margin];
        numbers.iter().flatten().for_each(|number| finite(finding.rule, *number));
    }
    no_strange_null(&serde_json::to_value(judgement.record()).expect("the record is plain data"), "");
    no_strange_null(&schedule(judgement).record(), "");
    let options = Options { steps_per_day: 24, samples: 3, series: true, ..Options::default() };
    let Ok(found) = forecast(judgement, &options) else { return };
    let banks = found.stays.iter().flat_map(|stay| &stay.banks);
    for (bank, step) in banks.flat_map(|bank| bank.steps.iter().map(move |step| (bank, step))) {
        // The books close: within rounding of what is stored.
        let stored = (bank.capacity * step.voltage).value;
        assert!(step.imbalance.value.abs() <= 1e-9 * stored.max(3600.0), "{}: {:?}", bank.name, step.imbalance);
    }
    no_strange_null(&serde_json::to_value(found.record(&options)).expect("the record is plain data"), "");
}

#[test]
fn ten_thousand_plans() {
    let example = |file: &str| text_of(&format!("examples/plans/{file}"));
    let large = ["veterinary-van.toml", "river-launch.toml", "mountain-hut.toml", "failing.toml"].map(example);
    let small = text_of("crates/loomwright/examples/lamp.toml");
    let vocabulary = Vocabulary::new();
    assert!(vocabulary.sections.len() >= 12, "the annotated plan has changed its form");
    let (mut readable, mut judged) = ([0_usize; 2], 0);
    // Different panics are told apart by their place, each with its first plan.
    let mut panics: Vec<(String, usize, String)> = Vec::new();
    let loud = std::panic::take_hook();
    std::panic::set_hook(Box::new(|info| PANIC.set(info.to_string())));
    for seed in 0..PLANS {
        let mut random = Random(seed);
        let is_large = random.one_in(4);
        let text = if !is_large && random.one_in(2) {
            vocabulary.plan(&mut random)
        } else {
            let base = if is_large { random.pick(&large).as_str() } else { small.as_str() };
            let mut lines: Vec<String> = base.lines().map(str::to_owned).collect();
            for _ in 0..1 + random.below(2) {
                mutate(&mut random, &mut lines);
            }
            lines.join("\n")
        };
        let asked = catch_unwind(AssertUnwindSafe(|| match read_plan(&text) {
            Ok(plan) => {
                let count = &mut readable[usize::from(is_large)];
                *count += 1;
                if !is_large || *count % JUDGED == 0 {
                    judged += 1;
                    // That a plan cannot be judged is an answer; it has words.
                    judge(&plan).map_or_else(
                        |error| assert!(!error.to_string().is_empty()),
                        |judgement| all_finite(&judgement),
                    );
                }
            }
            Err(errors) => {
                assert!(!errors.is_empty(), "refused without a reason");
                assert!(errors.iter().all(|error| error.line >= 1 && error.column >= 1 && !error.message.is_empty()));
            }
        }));
        if asked.is_err() {
            let place = PANIC.take();
            let known = panics.iter_mut().find(|(what, ..)| *what == place);
            match known {
                Some((_, count, _)) => *count += 1,
                None => panics.push((place, 1, text)),
            }
        }
    }
    std::panic::set_hook(loud);
    let told = panics.iter().map(|(place, count, text)| format!("{count} times {place}\nfirst with\n{text}\n"));
    assert!(panics.is_empty(), "{}", told.collect::<String>());
    println!("{readable:?} small and large readable, {judged} judged");
    // The mutations must leave enough alive for the test to mean something.
    assert!(readable[0] > 1500 && readable[1] > 400 && judged > 1500, "{readable:?} readable, {judged} judged");
}
