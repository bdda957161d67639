//! Every check as a row: what findings say stands in it, the rest agrees with the report, and two rows by hand.

use crate::support::{SHIPPED, judged, text_of};
use loomwright::study::judge::{CheckRecord, Judgement};

fn row<'a>(checks: &'a [CheckRecord], rule: &str, subject: &str) -> &'a CheckRecord {
    let mut of = checks.iter().filter(|check| check.rule == rule && check.subject == subject);
    of.next().unwrap_or_else(|| panic!("no row {rule} of {subject}"))
}

#[test]
fn every_finding_with_a_margin_is_a_row() {
    for file in SHIPPED {
        let record = judged(&text_of(file)).record();
        let mut seen = 0;
        for finding in &record.findings {
            let Some(margin) = finding.margin else { continue };
            let same = |check: &&CheckRecord| {
                check.rule == finding.rule && check.subject == finding.subject && check.margin == margin
            };
            let check = record.checks.iter().find(same);
            let check = check.unwrap_or_else(|| panic!("{file}: {} of {} is no row", finding.rule, finding.subject));
            assert_eq!((check.signal, &check.case), (Some(finding.signal), &finding.case), "{file}: {check:?}");
            assert_eq!((check.measured, check.limit, check.unit), (finding.measured, finding.limit, finding.unit));
            seen += 1;
        }
        assert!(seen > 0 && record.checks.len() > seen, "{file}");
    }
}

#[test]
fn the_worst_come_first_and_no_failure_is_without_a_signal() {
    for file in SHIPPED {
        let checks = judged(&text_of(file)).record().checks;
        for pair in checks.windows(2) {
            let key = |check: &CheckRecord| (check.rule, check.subject.clone());
            assert!(pair[0].margin < pair[1].margin || key(&pair[0]) <= key(&pair[1]), "{file}: {pair:?}");
            assert!(pair[0].margin <= pair[1].margin, "{file}: {pair:?}");
        }
        for check in &checks {
            assert!(check.margin.is_finite());
            assert!(check.margin >= 1.0 - 1e-9 || check.signal.is_some(), "{file}: {check:?}");
        }
    }
}

/// Rows that are no findings come from the same numbers as the report's runs.
#[test]
fn rows_agree_with_the_runs_of_the_report() {
    for file in SHIPPED {
        let record = judged(&text_of(file)).record();
        for run in &record.runs {
            let Some(ampacity) = run.ampacity_a.filter(|_| run.current_a > 0.0) else { continue };
            let check = row(&record.checks, "ampacity", &run.name);
            assert_eq!(check.measured, Some(run.current_a), "{file}: {}", run.name);
            assert_eq!(check.limit, Some(run.duty_ampacity_a.unwrap_or(ampacity)), "{file}: {}", run.name);
            let device = run.protective_device.as_ref();
            if let Some(carries) = device.and_then(|device| device.carries_a) {
                assert_eq!(row(&record.checks, "fuse-carries-load", &run.name).limit, Some(carries), "{file}");
            }
            if let Some((breaks, fault)) = device.and_then(|device| device.breaks_a).zip(run.fault_highest_a) {
                let check = row(&record.checks, "fuse-interrupts-fault", &run.name);
                assert_eq!((check.measured, check.limit), (Some(fault), Some(breaks)), "{file}");
            }
            let warm = record.checks.iter().find(|one| one.rule == "conductor-temperature" && one.subject == run.name);
            if let Some((check, hottest)) = warm.zip(run.conductor_temperature_c) {
                let measured = check.measured.expect("it has a number");
                assert!(measured <= hottest + 1e-6, "{file}: {} {measured} {hottest}", run.name);
            }
            if let Some(time) = run.time_margin {
                let check = row(&record.checks, "fuse-protects-conductor", &run.name);
                // Of two failures the first that needs no curve is told.
                assert!(
                    check.margin < 1.0 || check.margin <= time + 1e-9,
                    "{file}: {} {} {time}",
                    run.name,
                    check.margin
                );
            }
        }
    }
}

/// One battery, one load of a constant current of 10 A at the end of 2 m of 6 mm², in conduit at 30 °C.
fn by_hand() -> Judgement {
    judged(
        r#"format = 1
[plan]
name = "One feeder (invented)"
place = "cabin"
system_voltage = "12 V"
[zones.here]
kind = "hut"
hottest = "30 °C"
[batteries.house]
chemistry = "lithium-iron-phosphate"
capacity = "200 Ah"
resistance = "10 mohm"
[loads.far]
current = "10 A"
[circuits.feeder]
from = "house.+"
return = "house.-"
to = "far"
route = ["2 m in here"]
conductor = "6 mm2"
insulation = "70 °C"
fuse = "15 A blade-c"
"#,
    )
}

/// The method B current of 6 mm² at 70 °C in 30 °C air is 41 A for class 2; class 5 has 3.30 instead of 3.08 Ω/km and so
/// bears 41·√(3.08/3.30) A.
#[test]
fn ampacity_and_drop_by_hand() {
    let record = by_hand().record();
    let bears = 41.0 * (3.08_f64 / 3.30).sqrt();
    let ampacity = row(&record.checks, "ampacity", "feeder +");
    assert!((ampacity.limit.expect("it is known") - bears).abs() < 1e-3 * bears, "{ampacity:?}");
    assert!((ampacity.margin - bears / 10.0).abs() < 1e-3 * bears, "{ampacity:?}");
    assert_eq!((ampacity.measured, ampacity.unit, ampacity.signal), (Some(10.0), "A", None));
    // Heat goes with I²·r(t): 40 K at the ampacity; t − 30 = 40 · (10/Iz)² · r(t)/r(70).
    let mut hot = 30.0;
    for _ in 0..40 {
        hot = 30.0 + 40.0 * (10.0 / bears).powi(2) * (234.5 + hot) / (234.5 + 70.0);
    }
    let warm = row(&record.checks, "conductor-temperature", "feeder +");
    assert!((warm.measured.expect("it is known") - hot).abs() < 0.01, "{warm:?} {hot}");
    assert!((warm.margin - 40.0 / (hot - 30.0)).abs() < 0.02, "{warm:?}");
    // Both legs 2·1.1 + 0.6 m, two joints of 0.1 mΩ each leg, the fuse 102 mV at 15 A (its typical drop in the data).
    let metal = 2.0 * 2.8 * 3.30e-3 * (234.5 + hot) / 254.5;
    let drop = 10.0 * (metal + 4.0 * 0.1e-3 + 0.102 / 15.0);
    let lost = row(&record.checks, "voltage-drop", "far");
    assert!((lost.measured.expect("it is known") - drop).abs() < 1e-4, "{lost:?} {drop}");
    assert!((lost.margin - lost.limit.expect("it is known") / drop).abs() < 1e-2, "{lost:?}");
}

/// Numbers of the report stand in nine digits, so that a report differs only where a plan does.
#[test]
fn numbers_are_told_in_nine_digits() {
    for file in SHIPPED {
        for check in judged(&text_of(file)).record().checks {
            for number in [Some(check.margin), check.measured, check.limit].into_iter().flatten() {
                let rounded: f64 = format!("{number:.8e}").parse().unwrap();
                assert!(number == rounded, "{file}: {number} in {check:?}");
            }
        }
    }
}
