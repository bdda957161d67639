//! Inspections of the example plans, and the order in which a plan is made live.

use std::collections::{BTreeMap, BTreeSet};

use crate::stays::shore;
use crate::support::{judged, text_of, two_bars};
use jiff::civil::{Date, date};
use loomwright::installation::LinkKind;
use loomwright::quantity::ElectricalResistance;
use loomwright::quantity::uom::si::electrical_resistance::milliohm;
use loomwright::study::inspect::{
    Energise, Inspected, Inspection, Item, Step, Wiring, before_energising, inspect, steps_record, steps_sheet,
};
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{Seen, Segment, Verdict};
use loomwright::study::schedule::{Cell, SheetName, schedule};

const PLANS: [&str; 4] = ["veterinary-van", "river-launch", "mountain-hut", "failing"];

fn example(name: &str) -> Judgement {
    judged(&text_of(&format!("examples/plans/{name}.toml")))
}

fn terminals(inspection: &Inspection) -> impl Iterator<Item = &Item> {
    inspection.items.iter().filter(|item| item.what == Inspected::Terminal)
}

fn seen(segment: Segment, date: Option<Date>, excess: f64, within: f64, verdict: Verdict) -> Seen {
    let of = ElectricalResistance::new::<milliohm>;
    Seen { segment, date, excess: of(excess), within: of(within), verdict }
}

fn item_of(inspection: &Inspection, segment: Segment) -> &Item {
    inspection.items.iter().find(|item| item.segments.contains(&segment)).expect("every segment is inspected")
}

/// Both ends of every run stand in one terminal each; terminals, torques and their order are those of the schedule; and every
/// fuse, conductor, battery, converter and device in line is there once.
#[test]
fn every_part_is_there_once() {
    for name in PLANS {
        let judgement = example(name);
        let plan = &judgement.installation;
        let inspection = inspect(&judgement, &[]);
        let mut joints: BTreeMap<Segment, usize> = BTreeMap::new();
        for segment in terminals(&inspection).flat_map(|item| &item.segments) {
            *joints.entry(*segment).or_default() += 1;
        }
        assert_eq!(joints.len(), 2 * plan.runs.len(), "{name}");
        assert!(joints.values().all(|count| *count == 1), "{name}");

        let sheet = schedule(&judgement).sheet(SheetName::Terminals);
        let printed: Vec<(&Cell, &Cell)> = sheet.rows.iter().map(|row| (&row[1], &row[5])).collect();
        let ours: Vec<(Cell, Cell)> = terminals(&inspection)
            .map(|item| (item.name.as_str().into(), item.torque[0].map(|torque| torque.value).into()))
            .collect();
        assert_eq!(ours.iter().map(|(name, torque)| (name, torque)).collect::<Vec<_>>(), printed, "{name}");

        let count = |what| inspection.items.iter().filter(|item| item.what == what).count();
        assert_eq!(count(Inspected::Cable), plan.runs.len());
        assert_eq!(count(Inspected::Fuse), (0..plan.runs.len()).filter(|run| plan.device(*run).is_some()).count());
        assert_eq!(count(Inspected::Battery), plan.batteries.len());
        assert_eq!(count(Inspected::Converter), plan.converters.len());
        assert_eq!(count(Inspected::Link), plan.links.len());
        for item in &inspection.items {
            assert!([1, 2, 3, 6, 12, 24].contains(&item.due.months) && !item.due.now, "{item:?}");
            assert!(!item.look.is_empty() && item.due.last.is_none() && item.due.next.is_none());
            if let Some(expected) = &item.expected {
                assert!(expected.drop.value > 0.0 && expected.current.value > 0.0, "{item:?}");
                // A case that somebody can bring about, to measure in.
                let case = plan.cases.iter().find(|case| case.name == expected.case).unwrap();
                assert!(!case.lock_out && case.starting.is_none(), "{item:?}");
            }
        }
    }
}

/// What carries current in a case and is a resistance has a drop to be measured at it: that resistance times a current that flows
/// there. Terminals, and fuses whose holder has a torque, say how they are tightened.
#[test]
fn items_tell_how_to_tighten_and_what_to_measure() {
    for name in PLANS {
        let judgement = example(name);
        let plan = &judgement.installation;
        let inspection = inspect(&judgement, &[]);
        let flows = |run: usize| judgement.cases.iter().any(|case| case.run_currents[run].value.abs() > 0.5);
        for item in &inspection.items {
            match (item.what, item.segments.first()) {
                (Inspected::Terminal, Some(Segment::Joint(run, _))) => {
                    assert!(!item.group.is_empty() && !item.tighten.is_empty(), "{name}: {item:?}");
                    assert!(item.expected.is_some() || !flows(*run), "{name}: {item:?}");
                }
                (Inspected::Fuse, Some(Segment::Fuse(run))) => {
                    let device = plan.device(*run).unwrap();
                    let torque = device.fuse.family.holder().and_then(|holder| holder.torque);
                    assert!(!item.tighten.is_empty() && item.torque == [torque, None], "{name}: {item:?}");
                    assert!(
                        item.look.contains("holder") && (item.expected.is_some() || !flows(*run)),
                        "{name}: {item:?}"
                    );
                    if let Some(expected) = &item.expected {
                        let resistance = device.drop() / device.fuse.rating;
                        assert!(
                            ((expected.drop / (resistance * expected.current)).value - 1.0).abs() < 1e-12,
                            "{item:?}"
                        );
                    }
                }
                (Inspected::Link, Some(Segment::Link(link))) => {
                    let link = &plan.links[*link];
                    let mut runs = plan.runs.iter().enumerate();
                    let carries = runs.any(|(index, run)| link.nodes.contains(&run.from) && flows(index));
                    let measured = link.kind != LinkKind::Diode && carries;
                    assert!(item.expected.is_some() || !measured, "{name}: {item:?}");
                    assert!(item.look.starts_with(&link.kind.to_string()), "{item:?}");
                }
                (what, _) => {
                    let words = match what {
                        Inspected::Cable => "chafes",
                        Inspected::Battery => "terminal covers",
                        _ => "air vents",
                    };
                    assert!(item.look.contains(words), "{name}: {item:?}");
                }
            }
        }
    }
}

/// A battery and a converter in an engine bay shake and swing more than in a cabin.
#[test]
fn devices_come_by_their_place() {
    let months = |zone: &str, what: Inspected| {
        let plan = two_bars("12 V", "150 A class-t", &shore("shore", "house", 10.0, 14.4));
        let plan = plan.replace("kind = \"van-cabin\"", &format!("kind = \"{zone}\""));
        let inspection = inspect(&judged(&plan), &[]);
        inspection.items.iter().find(|item| item.what == what).unwrap().due.months
    };
    for what in [Inspected::Battery, Inspected::Converter] {
        assert!(months("engine-bay", what) < months("van-cabin", what), "{what:?}");
    }
}

/// By hand, for every item: so many halvings as it gives reasons, rounded down; and a boat's shaking parts come sooner than
/// those of a cabin.
#[test]
fn intervals_follow_their_reasons() {
    let longest = |name| inspect(&example(name), &[]).items.iter().map(|item| item.due.months).max().unwrap();
    let shortest = |name| inspect(&example(name), &[]).items.iter().map(|item| item.due.months).min().unwrap();
    assert_eq!((longest("mountain-hut"), longest("veterinary-van"), longest("river-launch")), (24, 6, 6));
    assert!(shortest("veterinary-van") < 6 && shortest("mountain-hut") >= 3);
    for name in PLANS {
        for item in inspect(&example(name), &[]).items {
            let base: f64 = if item.due.reasons[0].contains("cabin") { 24.0 } else { 12.0 };
            let halved = base / 2.0_f64.powi(i32::try_from(item.due.reasons.len()).unwrap() - 1);
            let told = [24, 12, 6, 3, 2, 1].into_iter().find(|months| f64::from(*months) <= halved.max(1.0)).unwrap();
            assert_eq!(item.due.months, told, "{name}: {item:?}");
        }
    }
}

/// The van's engine bay shakes more, and swings from −20 to the 70 °C that it states: 12, 6, 3, 1.5 months.
#[test]
fn an_engine_bay_comes_soonest() {
    let judgement = example("veterinary-van");
    let run = judgement.installation.runs.iter().position(|run| run.name == "alternator-lead").unwrap();
    let item = item_of(&inspect(&judgement, &[]), Segment::Cable(run)).clone();
    assert!(item.due.reasons.iter().any(|reason| reason.starts_with("more vibration: engine-bay")), "{item:?}");
    assert!(item.due.reasons.iter().any(|reason| reason == "engine-bay swings by 90 K"), "{item:?}");
    assert_eq!(item.due.months, 1);
}

/// What is new comes first after a month, what is kept and what was measured does not.
#[test]
fn new_joints_come_first_after_a_month() {
    let judgement = example("mountain-hut");
    let plan = &judgement.installation;
    let inspection = inspect(&judgement, &[]);
    let kept = |item: &Item| {
        item.segments.iter().all(|segment| matches!(segment, Segment::Joint(run, _) if plan.is_kept(&plan.runs[*run])))
    };
    assert!(terminals(&inspection).any(kept) && terminals(&inspection).any(|item| !kept(item)));
    for item in terminals(&inspection) {
        assert_eq!(item.due.first, !kept(item), "{item:?}");
    }
    let new = terminals(&inspection).find(|item| !kept(item)).unwrap();
    let segment = new.segments[0];
    let day = date(2026, 5, 31);
    let good = inspect(&judgement, &[seen(segment, Some(day), 0.0, 0.05, Verdict::AsPlanned)]);
    let item = item_of(&good, segment);
    assert!(!item.due.first && item.due.last == Some(day));
    assert!(item.due.next.unwrap() > date(2026, 11, 1), "{item:?}");
}

/// A joint to be watched gets half its interval, one to be remade comes now, and what a later reading says counts; a
/// reading that tells nothing takes nothing back.
#[test]
fn verdicts_shorten_intervals() {
    let judgement = example("mountain-hut");
    let segment = Segment::Joint(0, 0);
    let months = |seen: &[Seen]| item_of(&inspect(&judgement, seen), segment).due.clone();
    let of = |year, verdict| seen(segment, Some(date(year, 3, 1)), 0.4, 0.5, verdict);
    let usual = months(&[]);
    let watched = months(&[of(2026, Verdict::Watch)]);
    assert_eq!(watched.months * 2, usual.months);
    assert_eq!(watched.last, Some(date(2026, 3, 1)));
    assert_eq!(months(&[of(2026, Verdict::Watch), of(2027, Verdict::NotTold)]).months, watched.months);
    assert_eq!(months(&[of(2027, Verdict::AsPlanned), of(2026, Verdict::Watch)]).months, usual.months);
    let remade = months(&[of(2027, Verdict::Remake), of(2026, Verdict::Watch)]);
    assert!(remade.now && remade.first && remade.next == Some(date(2027, 3, 1)), "{remade:?}");
    assert!(!months(&[of(2026, Verdict::Remake), of(2027, Verdict::AsPlanned)]).now);
    // Other joints know nothing of it.
    let inspection = inspect(&judgement, &[of(2026, Verdict::Remake)]);
    assert_eq!(inspection.items.iter().filter(|item| item.due.now).count(), 1);
    let sheet = inspection.sheet();
    let due = sheet.columns.iter().position(|column| column.key == "due").unwrap();
    assert!(sheet.rows.iter().any(|row| row[due] == Cell::Text("now: remake".to_owned())));
}

/// Weighted least squares by the sums of a textbook, S·Sxy − Sx·Sy over S·Sxx − Sx², with standard deviations of
/// within/1.96; growth is told only where it is more than its uncertainty.
#[test]
fn a_trend_is_the_weighted_line() {
    let judgement = example("veterinary-van");
    let segment = Segment::Joint(2, 1);
    let readings = [
        (date(2024, 4, 1), 0.02, 0.04),
        (date(2025, 4, 10), 0.11, 0.02),
        (date(2026, 3, 20), 0.13, 0.03),
        (date(2027, 4, 2), 0.26, 0.05),
    ];
    let given: Vec<Seen> = readings
        .iter()
        .rev()
        .map(|(day, excess, within)| seen(segment, Some(*day), *excess, *within, Verdict::Watch))
        .collect();
    let (mut s, mut sx, mut sy, mut sxx, mut sxy) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (day, excess, within) in readings {
        let x = f64::from((day - date(2000, 1, 1)).get_days()) / 365.25;
        let weight = (1.96_f64 / within).powi(2);
        s += weight;
        sx += weight * x;
        sy += weight * excess;
        sxx += weight * x * x;
        sxy += weight * x * excess;
    }
    let determinant = s * sxx - sx * sx;
    let (slope, deviation) = ((s * sxy - sx * sy) / determinant, (s / determinant).sqrt());
    let inspection = inspect(&judgement, &given);
    let trend = &item_of(&inspection, segment).trends[0];
    assert!((trend.per_year.get::<milliohm>() - slope).abs() < 1e-9, "{trend:?} {slope}");
    assert!((trend.within.get::<milliohm>() - 1.96 * deviation).abs() < 1e-9, "{trend:?} {deviation}");
    assert!(trend.grows && trend.readings == 4 && trend.days == [readings[0].0, readings[3].0]);
    // It reaches its limit where the line does.
    let (limit, at_last) = (trend.limit.unwrap().get::<milliohm>(), trend.at_last.get::<milliohm>());
    let years = (limit - at_last) / slope;
    println!("limit {limit} mΩ, {years} years, {:?}", trend.reaches);
    match trend.reaches {
        Some(day) => assert!((f64::from((day - readings[3].0).get_days()) / 365.25 - years.max(0.0)).abs() < 0.01),
        None => assert!(years > 99.9),
    }
    let record = inspection.record();
    assert_eq!(record["trends"].as_array().unwrap().len(), 1);
    assert_eq!(record["format"], 1);
    assert!(record["rule"].as_str().unwrap().contains("common practice, no source"));

    // The same slope from readings ten times as coarse is no growth; one day is no trend.
    let coarse: Vec<Seen> = given.iter().map(|one| Seen { within: one.within * 10.0, ..one.clone() }).collect();
    let trend = item_of(&inspect(&judgement, &coarse), segment).trends[0].clone();
    assert!(!trend.grows && trend.reaches.is_none());
    assert!(item_of(&inspect(&judgement, &given[..1]), segment).trends.is_empty());
    let undated = [seen(segment, None, 0.1, 0.1, Verdict::Watch), seen(segment, None, 0.2, 0.1, Verdict::Watch)];
    assert!(item_of(&inspect(&judgement, &undated), segment).trends.is_empty());
}

/// Nothing that a reading may hold makes the inspection fail or print what is no number.
#[test]
fn hostile_readings_are_borne() {
    let judgement = example("veterinary-van");
    let given: Vec<Seen> = [f64::NAN, f64::INFINITY, -1e300, 1e300, 0.0]
        .into_iter()
        .flat_map(|value| {
            let days = [Some(Date::MIN), Some(Date::MAX), Some(date(2026, 1, 1)), None];
            days.map(|day| seen(Segment::Joint(0, 0), day, value, value, Verdict::Watch))
        })
        .chain([seen(Segment::Joint(9999, 7), Some(Date::MAX), 1.0, 1.0, Verdict::Remake)])
        .collect();
    let absurd: Vec<Seen> = [2025, 2026]
        .map(|year| seen(Segment::Joint(0, 0), Some(date(year, 1, 1)), 1e300, 1e300, Verdict::Watch))
        .to_vec();
    for given in [given, absurd] {
        let text = inspect(&judgement, &given).record().to_string();
        assert!(!text.contains("NaN") && !text.contains(" inf"), "{text}");
    }
}

fn order(steps: &[Step]) -> Vec<Energise> {
    steps.iter().map(|step| step.step).collect()
}

fn place(steps: &[Step], wanted: Energise) -> Option<usize> {
    steps.iter().position(|step| step.step == wanted)
}

/// Nothing is live before everything is checked; the battery comes before the array, its fuse is the last one in.
#[test]
fn steps_stand_in_order() {
    for name in PLANS {
        let judgement = example(name);
        let steps = before_energising(&judgement, Wiring::New);
        assert!(order(&steps).is_sorted(), "{name}: {:?}", order(&steps));
        assert_eq!(order(&steps).iter().collect::<BTreeSet<_>>().len(), steps.len(), "{name}");
        let fuse = place(&steps, Energise::BatteryFuse).unwrap();
        for earlier in
            [Energise::Open, Energise::Polarity, Energise::Torque, Energise::Continuity, Energise::Insulation]
        {
            assert!(place(&steps, earlier).unwrap() < fuse, "{name}: {earlier}");
        }
        assert!(steps[fuse].does.contains("last"));
        if let Some(array) = place(&steps, Energise::Array) {
            assert!(place(&steps, Energise::BatterySide).unwrap() < fuse && fuse < array, "{name}");
        }
        for step in &steps {
            assert!(!step.parts.is_empty() && !step.does.is_empty() && !step.why.is_empty(), "{name}: {step:?}");
        }
        assert_eq!(steps_sheet(&steps).rows.len(), steps.len());
        assert_eq!(steps_record(&steps).as_array().unwrap().len(), steps.len());
    }
}

/// A plan that keeps parts has no insulation test; one without arrays or mains has no step for them; names are the plan's.
#[test]
fn steps_are_those_of_the_plan() {
    let upgraded = example("mountain-hut");
    assert_eq!(Wiring::of(&upgraded.installation), Wiring::Existing);
    let steps = before_energising(&upgraded, Wiring::of(&upgraded.installation));
    assert_eq!(place(&steps, Energise::Insulation), None);
    assert!(steps_sheet(&steps).notes.iter().any(|note| note.contains("kills electronics")));
    let array = &steps[place(&steps, Energise::Array).unwrap()];
    assert_eq!(array.parts, ["controller"]);
    assert_eq!(steps[place(&steps, Energise::PreCharge).unwrap()].parts, ["inverter"]);
    assert_eq!(steps[place(&steps, Energise::Mains).unwrap()].parts, ["inverter"]);

    let lamp = judged(&text_of("crates/loomwright/examples/lamp.toml"));
    assert_eq!(Wiring::of(&lamp.installation), Wiring::New);
    let steps = before_energising(&lamp, Wiring::New);
    for absent in [Energise::Array, Energise::BatterySide, Energise::PreCharge, Energise::Mains] {
        assert_eq!(place(&steps, absent), None, "{absent}");
    }
    assert!(place(&steps, Energise::Insulation).is_some());
}
