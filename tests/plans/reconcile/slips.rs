//! Readings that are wrong or cannot be used.

use super::{HEAD, Sheet, battery, case, load, on, piece, run};
use crate::support::judged;
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{Day, Measured, Slip, Verdict};
use loomwright_tests::by_hand::close;

/// A lamp and a pump of 10 A each behind bars.
fn bars() -> Judgement {
    let mut text = [HEAD, &battery("house"), &load("lamp", 10.0), &load("pump", 10.0)].concat();
    text += "[busbars.plus]\n[busbars.minus]\n";
    text += &run("lead", ["house.+", "plus"], 1.0, "16 mm2", "40 A blade-c");
    text += &run("rest", ["minus", "house.-"], 1.0, "16 mm2", "none");
    for (name, metres) in [("lamp", 2.0), ("pump", 6.0)] {
        let (plus, minus) = (format!("{name}.+"), format!("{name}.-"));
        text += &run(&format!("{name} feed"), ["plus", &plus], metres, "6 mm2", "15 A blade-c");
        text += &run(&format!("{name} return"), [&minus, "minus"], metres, "6 mm2", "none");
    }
    judged(&(text + &case("on", &["lamp", "pump"])))
}

/// Fifteen readings that agree: drops add up from the battery to each load, currents at each bar.
fn agreeing(of: &Judgement) -> Sheet<'_> {
    on(of)
        .volts("on", ["house.+", "house.-"], 12.6, 5e-3)
        .volts("on", ["house.+", "plus"], 0.070, 0.5e-3)
        .volts("on", ["minus", "house.-"], 0.045, 0.5e-3)
        .volts("on", ["plus", "lamp.+"], 0.160, 0.5e-3)
        .volts("on", ["lamp.-", "minus"], 0.092, 0.5e-3)
        .volts("on", ["plus", "pump.+"], 0.300, 0.5e-3)
        .volts("on", ["pump.-", "minus"], 0.238, 0.5e-3)
        .volts("on", ["lamp.+", "lamp.-"], 12.6 - 0.070 - 0.045 - 0.160 - 0.092, 5e-3)
        .volts("on", ["pump.+", "pump.-"], 12.6 - 0.070 - 0.045 - 0.300 - 0.238, 5e-3)
        .amperes("on", "lead", 20.0, 0.4)
        .amperes("on", "rest", 20.0, 0.4)
        .amperes("on", "lamp feed", 10.0, 0.2)
        .amperes("on", "pump feed", 10.0, 0.2)
        .amperes("on", "pump return", 10.0, 0.2)
        .amperes("on", "lamp return", 10.0, 0.2)
}

fn numbers(measured: Measured) -> (f64, f64) {
    match measured {
        Measured::Voltage { value, within, .. } => (value.value, within.value),
        Measured::Current { value, within, .. } => (value.value, within.value),
        other => panic!("{other:?}"),
    }
}

/// Every line that was left out, with its slip.
fn slips(day: &Day) -> Vec<(usize, Slip)> {
    day.readings.iter().filter_map(|one| Some((one.reading.line, one.slip?))).collect()
}

#[test]
fn readings_that_agree_stay_in() {
    let of = bars();
    let day = agreeing(&of).day();
    assert_eq!((slips(&day), day.clamp_zero), (Vec::new(), None));
    assert!(day.segments.iter().all(|piece| piece.verdict == Verdict::AsPlanned), "{:?}", day.segments);
}

/// A line spoilt, the slip that it is, and what would have been right; every other line stays in, and no piece is blamed.
#[test]
fn slips_are_named_with_what_would_fit() {
    let of = bars();
    let lamp = 12.6 - 0.070 - 0.045 - 0.160 - 0.092;
    for (line, read, slip, truth) in [
        (4, -0.160, Slip::Sign, 0.160),            // the probes the wrong way round
        (8, -lamp, Slip::Sign, lamp),              // across a load
        (12, -10.0, Slip::Sign, 10.0),             // the clamp
        (8, 10.0 * lamp, Slip::Decimal(-1), lamp), // 123 V
        (8, 0.1 * lamp, Slip::Decimal(1), lamp),   // 1.2 V
        (5, 0.92, Slip::Decimal(-1), 0.092),       // a drop
        (5, 0.0092, Slip::Decimal(1), 0.092),      // a drop
        (6, 300.0, Slip::Decimal(-3), 0.300),      // millivolts written as volts
        (13, 100.0, Slip::Decimal(-1), 10.0),      // a current
        (4, 0.300, Slip::Point(6), 0.160),         // the pump's feed read where the lamp's was meant
        (1, 12.2, Slip::Contradiction, 12.6),      // 0.4 V below what both loads and their drops add up to
    ] {
        let day = agreeing(&of).spoilt(line, read).day();
        assert_eq!(slips(&day), [(line, slip)], "line {line}: {read} for {truth}");
        let spoilt = day.readings.iter().find(|one| one.reading.line == line).expect("it is listed");
        let (expected, within) = numbers(spoilt.explained);
        assert!((expected - truth).abs() <= within, "line {line}: {expected} ± {within} for {truth}");
        assert!(within < (read - truth).abs(), "line {line}: {expected} ± {within} excludes what was read");
        let blamed = day.segments.iter().find(|piece| piece.verdict > Verdict::NotTold);
        assert!(blamed.is_none(), "line {line}: {blamed:?}");
    }
}

/// Two voltages of one battery, 12.6 V and 12.8 V within 5 mV each: the drops and the loads say that it was the first.
#[test]
fn of_two_that_contradict_the_others_decide() {
    let of = bars();
    let day = agreeing(&of).volts("on", ["house.+", "house.-"], 12.8, 5e-3).day();
    assert_eq!(slips(&day), [(16, Slip::Contradiction)]);
    let (expected, within) = numbers(day.readings[15].explained);
    assert!((expected - 12.6).abs() <= within && within < 0.02, "{expected} ± {within}");
}

/// 3 A too much in six currents: 23 A in the lead are not 13 A and 13 A, and both of each way say so. All stay in, and the
/// resistances are those of the true currents.
#[test]
fn a_clamp_that_was_not_zeroed_is_told_with_how_much() {
    let of = bars();
    for off in [3.0, -3.0] {
        let mut sheet = agreeing(&of);
        for line in 10..=15 {
            let (read, _) = numbers(sheet.readings[line - 1].measured);
            sheet = sheet.spoilt(line, read + off);
        }
        let day = sheet.day();
        let [zero, within] = day.clamp_zero.expect("it is told").map(|current| current.value);
        assert!((zero - off).abs() <= within && within < 1.0, "{zero} ± {within}");
        assert_eq!(slips(&day), [], "no single reading is blamed");
        let feed = piece(&of, &day, "pump feed");
        assert!((feed.measured.value - 0.3 / 10.0).abs() <= feed.within.value, "{:?}", feed.measured);
        assert!(day.segments.iter().all(|piece| piece.verdict == Verdict::AsPlanned));
    }
}
/// A case without an operating point (4 kW where 6 m of 3.3 mΩ/m behind 5 mΩ let at most 12.6²/(4·25 mΩ) = 1.6 kW pass), a
/// case of a start, and points that nothing joins are refused by their line; what is left is used.
#[test]
fn what_cannot_be_used_is_refused_and_the_rest_is() {
    let mut text = [HEAD, &battery("house"), &battery("other"), &load("lamp", 5.0)].concat();
    text += "[loads.furnace]\npower = \"4 kW\"\n[loads.pump]\ncurrent = \"5 A\"\ninrush = \"15 A\"\n";
    for name in ["lamp", "furnace", "pump"] {
        let (plus, minus) = (format!("{name}.+"), format!("{name}.-"));
        text += &run(&format!("{name} feed"), ["house.+", &plus], 3.0, "6 mm2", "30 A blade-c");
        text += &run(&format!("{name} back"), [&minus, "house.-"], 3.0, "6 mm2", "none");
    }
    text += &(case("on", &["lamp"]) + &case("melting", &["furnace"]));
    text += &case("start", &["lamp"]).replace("loads", "starting = \"pump\"\nloads");
    let of = judged(&text);
    let found = on(&of)
        .volts("melting", ["furnace.+", "furnace.-"], 9.0, 0.05)
        .volts("start", ["pump.+", "pump.-"], 11.0, 0.05)
        .volts("on", ["house.+", "other.+"], 1.0, 0.01)
        .volts("on", ["house.+", "lamp.+"], 0.08, 1e-3)
        .amperes("on", "lamp feed", 5.0, 0.05)
        .read();
    let refused: Vec<usize> = found.refused.iter().map(|one| one.line).collect();
    let mut sorted = refused.clone();
    sorted.sort_unstable();
    assert_eq!(sorted, [1, 2, 3]);
    let reason = |line: usize| &found.refused.iter().find(|one| one.line == line).expect("it is refused").reason;
    assert!(reason(1).contains("melting") && reason(1).contains("no operating point"), "{}", reason(1));
    assert!(reason(2).contains("start") && reason(2).contains("moments"), "{}", reason(2));
    assert!(reason(3).contains("nothing joins"), "{}", reason(3));
    let feed = piece(&of, &found.days[0], "lamp feed");
    close(feed.measured.value, 0.08 / 5.0, 1e-6);
    assert!(found.doubtful());
}
