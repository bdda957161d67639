//! Verdicts over time and over currents: growth, and that worse is never judged better.

use super::{FEED, FUSE, lamp, on, piece};
use jiff::civil::date;
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{Reconciliation, Verdict};
use loomwright_tests::by_hand::close;

/// The fuse and its joint in March and in September: drops of 40 mV and later, at 20 A.
fn grown(later: f64, within: f64) -> (Judgement, Reconciliation) {
    let of = lamp(20.0);
    let sheet = on(&of).dated(date(2026, 3, 1)).volts("on", FUSE, 0.04, within).amperes("on", "feed", 20.0, 0.1);
    let sheet = sheet.dated(date(2026, 9, 1)).volts("on", FUSE, later, within).amperes("on", "feed", 20.0, 0.1);
    let found = sheet.read();
    (of, found)
}

/// 50 mV − 40 mV at 20 A are 0.5 mΩ more, by the root of the squares of both intervals; each is planned to have twice that.
#[test]
fn what_has_grown_by_a_fifth_is_watched() {
    let name = "joint on house.+ and fuse of feed";
    let (of, found) = grown(0.05, 0.5e-3);
    let [before, after] = [0, 1].map(|day| piece(&of, &found.days[day], name));
    assert_eq!((before.verdict, before.growth), (Verdict::AsPlanned, None));
    assert!(after.measured + after.within < after.planned[2], "by itself it would do");
    let growth = after.growth.expect("it was measured before");
    assert_eq!(growth.since, Some(date(2026, 3, 1)));
    // 1e-6 for the start of 1 Ω.
    close(growth.by.value, 0.01 / 20.0, 1e-6);
    close(growth.within.value, before.within.value.hypot(after.within.value), 1e-12);
    // Two rectangles, of the drop and of the current: between 1.645 and 1.96 deviations of each, with 1 % as above.
    let deviation = |volts: f64| volts / 20.0 * f64::hypot(0.5e-3 / volts, 0.1 / 20.0) / 3.0_f64.sqrt();
    let factor = growth.within.value / f64::hypot(deviation(0.04), deviation(0.05));
    assert!((1.645 * 0.99..=1.96 * 1.01).contains(&factor), "{factor}");
    assert_eq!(after.verdict, Verdict::Watch, "{}", after.reason);
    assert!(after.reason.contains("0.5 mΩ more since 2026-03-01"), "{}", after.reason);
    assert_eq!(found.verdict(), Verdict::Watch);
}

/// 15 % more is no growth to act on, and 25 % more is none where the meter is off by as much.
#[test]
fn small_and_doubtful_growth_is_told_and_not_acted_on() {
    for (later, within) in [(0.046, 0.5e-3), (0.05, 15e-3)] {
        let (of, found) = grown(later, within);
        let after = piece(&of, &found.days[1], "joint on house.+ and fuse of feed");
        let growth = after.growth.expect("it was measured before");
        close(growth.by.value, (later - 0.04) / 20.0, 1e-5);
        assert_eq!(after.verdict, Verdict::AsPlanned, "{}", after.reason);
    }
}
/// At one current, a larger drop is never judged better.
#[test]
fn more_drop_is_never_better() {
    for (amperes, within) in [(2.0, 1e-3), (5.0, 1e-3), (5.0, 0.03), (12.0, 5e-3), (20.0, 1e-3)] {
        let of = lamp(amperes);
        let mut last = Verdict::AsPlanned;
        // From 8 mΩ, which the metal of 3 m has at least, to 0.4 Ω.
        for step in 0..80 {
            let drop = amperes * 8e-3 * 1.05_f64.powi(step);
            let sheet = on(&of).volts("on", FEED, drop, within).amperes("on", "feed", amperes, 0.02 * amperes);
            let verdict = piece(&of, &sheet.day(), "feed").verdict;
            assert!(verdict >= last, "{drop} V at {amperes} A ± {within} V: {verdict} after {last}");
            last = verdict;
        }
        assert_eq!(last, Verdict::Remake);
    }
}

/// The same resistance of a fuse and its joint in runs that are judged at more and more current is never judged better.
#[test]
fn more_current_is_never_better() {
    for milliohms in [5.0, 8.0, 10.0, 15.0, 30.0] {
        let mut last = Verdict::AsPlanned;
        for amperes in [1.0, 2.0, 3.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0] {
            let of = lamp(amperes);
            let drop = milliohms * 1e-3 * amperes;
            let sheet = on(&of).volts("on", FUSE, drop, 0.01 * drop).amperes("on", "feed", amperes, 0.01 * amperes);
            let found = sheet.day();
            let verdict = piece(&of, &found, "joint on house.+ and fuse of feed").verdict;
            assert!(verdict >= last, "{milliohms} mΩ at {amperes} A: {verdict} after {last}");
            last = verdict;
        }
    }
}
