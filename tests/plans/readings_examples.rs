//! The example readings: the hidden fault is found, the slips are named, and what is well is told to be.

use crate::support::{judged, text_of};
use loomwright::study::commission::{NO_INSPECTION, commission};
use loomwright::study::inspect::inspect;
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{
    Inside, Measured, Point, Reading, Reconciliation, Segment, Slip, Verdict, reconcile,
};
use loomwright::text::read_readings;

fn example(plan: &str, readings: &str) -> (Judgement, Vec<Reading>, Reconciliation) {
    let judgement = judged(&text_of(&format!("examples/plans/{plan}.toml")));
    let read = read_readings(&text_of(&format!("examples/readings/{readings}")), &judgement.installation);
    assert!(read.refused.is_empty(), "{:?}", read.refused);
    let found = reconcile(&judgement, &read.readings).unwrap();
    (judgement, read.readings, found)
}

#[test]
fn the_bad_joint_of_the_van_is_to_be_remade_and_nothing_else_is() {
    let (judgement, _, found) = example("veterinary-van", "veterinary-van.csv");
    assert_eq!(found.days.len(), 2);
    let feed = judgement.installation.runs.iter().position(|run| run.name == "charger-feed").unwrap();
    let [before, last] = found.days.as_slice() else { panic!("two days") };
    assert!(before.segments.iter().all(|one| one.verdict < Verdict::Watch), "{:#?}", before.segments);
    let remade: Vec<_> = last.segments.iter().filter(|one| one.verdict == Verdict::Remake).collect();
    let [bad] = remade.as_slice() else { panic!("{remade:#?}") };
    assert_eq!(bad.segments, [Segment::Fuse(feed)]);
    assert!((bad.excess().value - 2.5e-3).abs() < 0.2e-3, "{:?}", bad.excess());
    let growth = bad.growth.unwrap();
    assert!((growth.by.value - 2.5e-3).abs() < growth.within.value, "{growth:?}");
    assert_eq!(found.verdict(), Verdict::Remake);
    let inspection = inspect(&judgement, &found.seen());
    let now: Vec<_> = inspection.items.iter().filter(|item| item.due.now).collect();
    let [now] = now.as_slice() else { panic!("{now:#?}") };
    assert!(now.name.ends_with("of charger-feed") && now.trends.iter().any(|trend| trend.grows), "{now:?}");
}

/// Without the reading between joint and holder, nobody knows which of the two it is: both are opened.
#[test]
fn what_is_only_told_together_is_opened_together() {
    let (judgement, mut readings, _) = example("veterinary-van", "veterinary-van.csv");
    let feed = judgement.installation.runs.iter().position(|run| run.name == "charger-feed").unwrap();
    readings.retain(|one| match one.measured {
        Measured::Voltage { between, .. } => !between.contains(&Point::Run(feed, Inside::Start)),
        _ => true,
    });
    let found = reconcile(&judgement, &readings).unwrap();
    assert_eq!(found.verdict(), Verdict::Remake);
    let inspection = inspect(&judgement, &found.seen());
    let now: Vec<&str> = inspection.items.iter().filter(|item| item.due.now).map(|item| item.name.as_str()).collect();
    assert!(now.len() == 2 && now[0] == "starter-post" && now[1].ends_with("of charger-feed"), "{now:?}");
    assert!(inspection.items.iter().filter(|item| item.due.now).all(|item| item.trends.is_empty()));
}

#[test]
fn the_two_slips_of_the_van_are_named_and_no_other_reading_is_left_out() {
    let (judgement, _, found) = example("veterinary-van", "veterinary-van.csv");
    let left: Vec<_> =
        found.days.iter().flat_map(|day| &day.readings).filter_map(|one| Some((one.reading.line, one.slip?))).collect();
    assert_eq!(left.iter().map(|(_, slip)| *slip).collect::<Vec<_>>(), [Slip::Sign, Slip::Decimal(1)], "{left:?}");
    let record = found.record(&judgement);
    let words: Vec<&str> =
        record.days.iter().flat_map(|day| &day.readings).filter_map(|one| one.left_out.as_deref()).collect();
    assert!(words[0].starts_with("clamp the wrong way round: -40"), "{words:?}");
    assert!(words[1].starts_with("decimal point or prefix: 8."), "{words:?}");
}

#[test]
fn the_launch_is_well() {
    let (judgement, readings, found) = example("river-launch", "river-launch.toml");
    assert_eq!(found.verdict(), Verdict::AsPlanned);
    assert!(!found.doubtful());
    assert!(found.unused(&judgement, &readings).is_empty());
    let [day] = found.days.as_slice() else { panic!("one day") };
    assert_eq!(day.warm.len(), 1);
    assert!(!day.untold.is_empty(), "half of it was left for another day");
}

/// Every number of the record is rounded, and every reading stands in it once.
#[test]
fn records_hold_every_reading_once() {
    for (plan, file) in [("veterinary-van", "veterinary-van.csv"), ("river-launch", "river-launch.toml")] {
        let (judgement, readings, found) = example(plan, file);
        let record = found.record(&judgement);
        let mut lines: Vec<usize> = record
            .days
            .iter()
            .flat_map(|day| day.readings.iter().map(|one| one.line).chain(day.temperatures.iter().map(|one| one.line)))
            .collect();
        lines.sort_unstable();
        let powers = |one: &&Reading| !matches!(one.measured, Measured::Power { .. });
        assert_eq!(lines, readings.iter().filter(powers).map(|one| one.line).collect::<Vec<_>>());
        let whole = commission(&judgement, &found).record();
        assert_eq!(whole["notice"], NO_INSPECTION);
        for key in ["plan", "readings", "verdicts", "settings", "terminals", "before_energising", "inspection"] {
            assert!(!whole[key].is_null(), "{key}");
        }
        assert!(["date", "name", "licence", "place"].iter().all(|line| whole["signature"][*line] == ""));
    }
}

/// What was bad stays bad until somebody measured it again.
#[test]
fn a_bad_joint_is_not_forgotten_because_another_was_measured_since() {
    let (judgement, readings, _) = example("veterinary-van", "veterinary-van.csv");
    let mut readings = readings;
    let (early, late) = (readings[0].date, readings.last().unwrap().date);
    for reading in &mut readings {
        reading.date = if reading.date == early { late } else { early };
    }
    let charger = judgement.installation.runs.iter().position(|run| run.name == "charger-feed").unwrap();
    let again = reconcile(&judgement, &readings).unwrap();
    assert_ne!(again.verdict(), Verdict::Remake, "measured again, and well since");
    let of_feed = |one: &Reading| match one.measured {
        Measured::Current { run, .. } => run == charger,
        Measured::Voltage { between, .. } => between.iter().any(|point| {
            let name = point.name(&judgement.installation);
            name.starts_with("charger-feed") || name.starts_with("charger.")
        }),
        _ => false,
    };
    readings.retain(|one| one.date != late || !of_feed(one));
    assert_eq!(reconcile(&judgement, &readings).unwrap().verdict(), Verdict::Remake);
}
