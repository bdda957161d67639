//! Solar arrays by their plates: too much voltage, too little, and what strings drive into each other. Small plans, by hand.

use crate::support::{finding, judged, two_bars};
use loomwright::finding::{Finding, Signal};
use loomwright::study::judge::Judgement;
use loomwright::study::schedule::{SheetName, schedule};

#[track_caller]
fn close(found: Option<&Finding>, signal: Signal, measured: f64, limit: f64) {
    let found = found.expect("it is told");
    assert_eq!(found.signal, signal, "{found:?}");
    let near = |ours: Option<f64>, by_hand: f64| ours.is_some_and(|ours| (ours - by_hand).abs() < 1e-6);
    assert!(near(found.measured, measured) && near(found.limit, limit), "{found:?}, {measured} {limit}");
}

/// A controller in a van with one array on its roof: modules of 24.3 V open, 20.1 V loaded, 9.1 A short, −0.28 %/K.
fn solar(controller: &str, array: &str) -> Judgement {
    solar_with(controller, array, "")
}

fn solar_with(controller: &str, array: &str, more: &str) -> Judgement {
    let more = format!(
        "[zones.roof]\nkind = \"roof-void\"\nhottest = \"60 °C\"\n[busbars.array-plus]\nzone = \"roof\"\n[busbars.array-minus]\nzone = \"roof\"\n\
         [converters.sun]\nkind = \"solar-controller\"\noutput_current = \"20 A\"\n{controller}\n\
         [circuits.sun]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"sun.out\"\nroute = [\"1 m in here\"]\nfuse = \"30 A class-t\"\n\
         [circuits.array]\nfrom = \"array-plus\"\nreturn = \"array-minus\"\nto = \"sun\"\nroute = [\"3 m in roof\"]\nfuse = \"none\"\n\
         [arrays.panels]\ncontroller = \"sun\"\npower = \"175 W\"\nopen_voltage = \"24.3 V\"\noperating_voltage = \"20.1 V\"\nshort_circuit = \"9.1 A\"\n\
         voltage_per_kelvin = \"-0.28 %\"\n{array}\n{more}\n"
    );
    judged(&two_bars("12 V", "150 A class-t", &more))
}

/// Two in series at −20 °C: 48.6 · (1 + 0.0028 · 45) = 54.7236 V.
#[test]
fn arrays_unloaded_in_the_cold() {
    let of = |limit: &str| {
        let judgement = solar(limit, "series = 2");
        finding(&judgement, "array-open-circuit-voltage", "sun").cloned()
    };
    let open = 48.6 * (1.0 + 0.0028 * 45.0);
    let high = of("array_limit = \"50 V\"").expect("it is above");
    assert_eq!(high.signal, Signal::Danger);
    assert!(high.measured.is_some_and(|ours| (ours - open).abs() < 1e-9) && high.limit == Some(50.0));
    let near = of("array_limit = \"60 V\"").expect("60 / 54.72 is below 1.1");
    assert_eq!(near.signal, Signal::Caution);
    assert!(near.margin.is_some_and(|margin| (margin - 60.0 / open).abs() < 1e-9));
    assert!(of("array_limit = \"75 V\"").is_none());
    let unknown = of("").expect("nobody knows");
    assert!(unknown.signal == Signal::Caution && unknown.message.contains("array_limit"), "{}", unknown.message);
    // Three in series are above 60 V, by their plate.
    let three = solar("array_limit = \"100 V\"", "series = 3");
    let touch = finding(&three, "array-voltage", "sun").expect("82 V");
    assert!(touch.message.contains("82.1 V") && touch.citation.contains("plate"), "{touch:?}");
}

/// On a roof in still air of 40 °C and full sun cells are at 40 + 1000·e^−2.81 = 100.2 °C and a module works at
/// 20.1 − 24.3 · 0.0028 · 75.2 = 14.98 V: not enough for 14.4 V and 1 V more. A rack cools better: 40 + 1000/25 = 80 °C,
/// 20.1 − 24.3 · 0.0028 · 55 = 16.36 V.
#[test]
fn arrays_loaded_in_the_heat() {
    let of = |controller: &str, array: &str| {
        let judgement = solar(&format!("array_limit = \"100 V\"\n{controller}"), array);
        finding(&judgement, "array-start-up-voltage", "sun").cloned()
    };
    let cell = 40.0 + 1000.0 * (-2.81_f64).exp();
    let works = 20.1 - 24.3 * 0.0028 * (cell - 25.0);
    close(of("", "").as_ref(), Signal::Warning, works, 15.4);
    let rack = of("", "mount = \"rack\"").expect("16.36 V, which is 1.06 of 15.4 V");
    assert_eq!(rack.signal, Signal::Caution);
    assert!(of("", "series = 2").is_none());
}

/// 40.2 V on 14.4 V without tracking: above 1.6 · 14.4 = 23.04 V; one module is at 20.1 V.
#[test]
fn a_controller_that_does_not_track() {
    let of = |array: &str| {
        let judgement = solar("array_limit = \"100 V\"\ntracks = false", array);
        finding(&judgement, "array-suits-controller", "sun").cloned()
    };
    close(of("series = 2").as_ref(), Signal::Caution, 40.2, 23.04);
    assert!(of("").is_none());
    assert!(finding(&solar("", "series = 2"), "array-suits-controller", "sun").is_none());
}

/// Three strings: two drive 18.2 A back into the third.
#[test]
fn string_fuses() {
    let of = |array: &str| {
        let judgement = solar("array_limit = \"100 V\"", &format!("series = 2\n{array}"));
        let all: Vec<Finding> = judgement
            .findings
            .iter()
            .filter(|found| found.rule == "string-fuses" && found.subject == "panels")
            .cloned()
            .collect();
        all
    };
    let one = |array: &str| {
        let found = of(array);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].message.contains("gPV"), "{}", found[0].message);
        found[0].clone()
    };
    let near = |found: Finding, measured: f64, limit: f64| close(Some(&found), Signal::Warning, measured, limit);
    near(one("strings = 3\nlargest_fuse = \"15 A\""), 18.2, 15.0);
    near(one("strings = 3"), 18.2, 1.4 * 9.1);
    assert!(of("strings = 3\nlargest_fuse = \"20 A\"").is_empty(), "a module bears it");
    assert!(of("strings = 2").is_empty());
    // 1.4 · 9.1 A = 12.74 A at least.
    assert!(of("strings = 3\nlargest_fuse = \"15 A\"\nstring_fuse = \"15 A\"").is_empty());
    near(one("strings = 3\nlargest_fuse = \"15 A\"\nstring_fuse = \"10 A\""), 10.0, 1.4 * 9.1);
    near(one("strings = 3\nlargest_fuse = \"15 A\"\nstring_fuse = \"20 A\""), 20.0, 15.0);
    let unknown = one("strings = 3\nstring_fuse = \"15 A\"");
    assert_eq!(unknown.signal, Signal::Caution);
    // Strings of two arrays on one controller are in parallel, too: 2 · 9.1 + 9 − 9.1 A into one of the first.
    let second = "[arrays.mast]\ncontroller = \"sun\"\npower = \"170 W\"\nopen_voltage = \"24 V\"\noperating_voltage = \"20 V\"\nshort_circuit = \"9 A\"\nseries = 2\nlargest_fuse = \"20 A\"\n";
    let both = solar_with("array_limit = \"100 V\"", "series = 2\nstrings = 2\nlargest_fuse = \"15 A\"", second);
    close(finding(&both, "string-fuses", "panels"), Signal::Warning, 18.1, 15.0);
    assert!(finding(&both, "string-fuses", "mast").is_none(), "18.2 A of 20 A");
}

/// What is to be read off the plates, with the limits that it has.
#[test]
fn the_settings_sheet() {
    let sun = solar("array_limit = \"100 V\"", "series = 2");
    let sheet = schedule(&sun).sheet(SheetName::Settings);
    let rows = format!("{:?}", sheet.rows);
    assert!(rows.contains("54.7 V unloaded at -20 °C") && rows.contains("30 V loaded at 100 °C"), "{rows}");
}
