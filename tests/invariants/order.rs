//! What must not matter in a plan file: the order of its tables and keys, and the units it is written in.

use crate::draft::{Table, Units, draft, open_draft, read, written};
use loomwright::installation::Installation;
use loomwright::study::judge::judge;
use loomwright_tests::sampling;
use proptest::prelude::*;
use serde_json::Value;

/// What is said of a plan, in an order of its own: lists by the words in them, then by their numbers.
fn said(plan: &Installation) -> Option<Value> {
    let mut value = serde_json::to_value(judge(plan).ok()?.record()).expect("it is plain data");
    together(&mut value);
    // The order of gains is that of the plan where they are equal, as those of two legs are.
    value["fatten_first"].take();
    ordered(&mut value);
    Some(value)
}

/// A finding that tells of several runs at once stands at the first of the plan: here it has the names of all of them instead.
fn together(value: &mut Value) {
    let mut named: Vec<(Value, String)> = Vec::new();
    for finding in value["findings"].as_array_mut().expect("a list") {
        let message = finding["message"].as_str().expect("words").to_owned();
        let told = ["; likewise: ", "; narrow too: "].iter().find_map(|words| message.split_once(words));
        let Some((_, others)) = told else { continue };
        let subject = finding["subject"].as_str().expect("a name");
        let mut names: Vec<String> = [subject].into_iter().chain(others.split(", ")).map(str::to_owned).collect();
        names.sort();
        named.extend(names.iter().map(|name| (finding["rule"].clone(), name.clone())));
        *finding = serde_json::json!({ "rule": finding["rule"], "signal": finding["signal"], "subjects": names });
    }
    let checks = value["checks"].as_array_mut().expect("a list");
    checks
        .retain(|check| !named.iter().any(|(rule, name)| check["rule"] == *rule && check["subject"] == name.as_str()));
}

/// Words without numbers, which may differ in their last digit.
fn words(value: &Value) -> String {
    match value {
        Value::Number(_) => "0".to_owned(),
        Value::Array(all) => all.iter().map(words).collect::<Vec<_>>().join(","),
        Value::Object(all) => {
            all.iter().map(|(key, one)| format!("{key}:{}", words(one))).collect::<Vec<_>>().join(",")
        }
        other => other.to_string(),
    }
}

fn ordered(value: &mut Value) {
    match value {
        Value::Array(all) => {
            all.iter_mut().for_each(ordered);
            all.sort_by_cached_key(|one| (words(one), one.to_string()));
        }
        Value::Object(all) => {
            // Where several cases or runs are the worst by the same number, the first of the plan or of the rounding is named.
            ["case", "lowest_case", "current_set_by", "message"].iter().for_each(|key| drop(all.remove(*key)));
            all.values_mut().for_each(ordered);
        }
        _ => {}
    }
}

/// Where two records differ, by more than `share` of a number or a billionth of its unit.
fn difference(one: &Value, other: &Value, share: f64, at: &str) -> Option<String> {
    let told = || Some(format!("{at}: {one} and {other}"));
    match (one, other) {
        (Value::Number(one), Value::Number(other)) => {
            let [one, other] = [one, other].map(|number| number.as_f64().expect("a float"));
            if (one - other).abs() <= share * one.abs().max(other.abs()) + 1e-9 { None } else { told() }
        }
        (Value::Array(one), Value::Array(other)) if one.len() == other.len() => one
            .iter()
            .zip(other)
            .enumerate()
            .find_map(|(place, (one, other))| difference(one, other, share, &format!("{at}/{place}"))),
        (Value::Object(one), Value::Object(other)) if one.len() == other.len() => {
            one.iter().find_map(|(key, value)| {
                other.get(key).map_or_else(told, |there| difference(value, there, share, &format!("{at}/{key}")))
            })
        }
        (one, other) if one == other => None,
        _ => told(),
    }
}

/// Tables and the keys within them in another order.
fn shuffled(tables: Vec<Table>) -> impl Strategy<Value = Vec<Table>> {
    let keys = tables.into_iter().map(|table| {
        let head = table.head;
        Just(table.keys).prop_shuffle().prop_map(move |keys| Table { head: head.clone(), keys })
    });
    keys.collect::<Vec<_>>().prop_shuffle()
}

proptest! {
    #![proptest_config(sampling(0x0d_e5))]

    /// The same tables and keys in any order: the same sizes and fuses are chosen, the same is found, with the same numbers.
    /// 1e-6 of each: temperatures settle to 1e-4 K from wherever sums of another order start.
    #[test]
    fn order_of_the_plan_does_not_matter(
        (plain, mixed) in open_draft().prop_flat_map(|draft| (Just(draft.text()), shuffled(draft.tables())))
    ) {
        let [plain, mixed] = [plain, written(&mixed)].map(|text| said(&read(&text)));
        match (plain, mixed) {
            (Some(plain), Some(mixed)) => {
                let difference = difference(&plain, &mixed, 1e-6, "");
                prop_assert!(difference.is_none(), "{}", difference.unwrap_or_default());
            }
            (plain, mixed) => prop_assert_eq!(plain.is_none(), mixed.is_none()),
        }
    }
}

proptest! {
    #![proptest_config(sampling(0x0d_f7))]

    /// The same plan in feet, °F, kW, mAh, mV and mA: 1e-6, as above; a foot is 0.3048 m up to the last digit.
    #[test]
    fn units_of_the_plan_do_not_matter(draft in draft()) {
        let [plain, other] = [Units::Metric, Units::Customary].map(|units| {
            let mut draft = draft.clone();
            draft.units = units;
            said(&draft.plan())
        });
        match (plain, other) {
            (Some(plain), Some(other)) => {
                let difference = difference(&plain, &other, 1e-6, "");
                prop_assert!(difference.is_none(), "{}", difference.unwrap_or_default());
            }
            (plain, other) => prop_assert_eq!(plain.is_none(), other.is_none()),
        }
    }
}
