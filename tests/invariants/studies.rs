//! What must hold of the other studies of a plan: schedule, comparison, inspection and tolerance.

use crate::draft::{draft, open_draft};
use loomwright::installation::Place;
use loomwright::quantity::uom::si::length::meter;
use loomwright::quantity::uom::si::temperature_interval::kelvin;
use loomwright::quantity::{Ratio, TemperatureInterval};
use loomwright::study::compare::{Comparison, compare};
use loomwright::study::inspect::inspect;
use loomwright::study::judge::judge;
use loomwright::study::schedule::{Cell, SheetName, schedule};
use loomwright::study::tolerance::{Options, Spreads, tolerance};
use loomwright_tests::sampling;
use proptest::prelude::*;

fn number(cell: &Cell) -> f64 {
    match cell {
        Cell::Number(number) => *number,
        other => panic!("{other:?} is no number"),
    }
}

/// What changes between two plans, from the side of the second: by kind and name.
fn changes(found: &Comparison) -> Vec<(String, String, String)> {
    let findings = found.findings.iter().map(|one| (one.rule.to_owned(), one.subject.clone(), one.change.to_owned()));
    let runs = found.runs.iter().map(|one| ("run".to_owned(), one.name.clone(), one.change.to_owned()));
    let devices = found.devices.iter().map(|one| (one.device.to_owned(), one.name.clone(), one.change.to_owned()));
    let mut all: Vec<_> = findings.chain(runs).chain(devices).collect();
    all.sort();
    all
}

/// The same seen from the first.
fn mirrored(all: Vec<(String, String, String)>) -> Vec<(String, String, String)> {
    let mut all: Vec<_> = all
        .into_iter()
        .map(|(of, name, change)| {
            let back = match change.as_str() {
                "new" => "gone",
                "gone" => "new",
                "added" => "removed",
                "removed" => "added",
                same => same,
            };
            (of, name, back.to_owned())
        })
        .collect();
    all.sort();
    all
}

proptest! {
    #![proptest_config(sampling(0x5c_4e))]

    /// Every conductor stands on the schedule once, every fuse once, and what is bought is what is cut. 1e-6 m: metres are
    /// told to nine digits.
    #[test]
    fn a_schedule_has_everything_once(draft in open_draft()) {
        let Some(judgement) = draft.judged() else { return Ok(()) };
        let plan = &judgement.installation;
        let sheets = schedule(&judgement);
        let column = |name: SheetName, key: &str| -> Vec<Cell> {
            let sheet = sheets.sheet(name);
            let place = sheet.columns.iter().position(|column| column.key == key).expect("a column");
            sheet.rows.iter().map(|row| row[place].clone()).collect()
        };
        let names: Vec<Cell> = plan.runs.iter().map(|run| run.name.as_str().into()).collect();
        prop_assert_eq!(column(SheetName::Cables, "run"), names);
        let cut: f64 = plan.runs.iter().map(|run| run.cut_length().get::<meter>()).sum();
        let told: f64 = column(SheetName::Cables, "cut_m").iter().map(number).sum();
        prop_assert!((cut - told).abs() < 1e-6, "{cut} m to cut, {told} m told");
        let fuses = (0..plan.runs.len()).filter(|run| plan.device(*run).is_some()).count();
        prop_assert_eq!(sheets.sheet(SheetName::Fuses).rows.len(), fuses);
        let parts = column(SheetName::Materials, "part").into_iter().zip(column(SheetName::Materials, "quantity"));
        let (mut metres, mut pieces) = (0.0, 0.0);
        for (part, quantity) in parts {
            match part {
                Cell::Text(part) if part == "cable" => metres += number(&quantity),
                Cell::Text(part) if part == "fuse" => pieces += number(&quantity),
                _ => {}
            }
        }
        prop_assert!((cut - metres).abs() < 1e-6, "{cut} m to cut, {metres} m of material");
        prop_assert_eq!(pieces, fuses as f64);
        // Both ends of every conductor carry a label.
        prop_assert_eq!(sheets.sheet(SheetName::Labels).rows.len(), 2 * plan.runs.len());
    }
}

proptest! {
    #![proptest_config(sampling(0xc0_4a))]

    /// A plan beside itself changes nothing; two plans compared the other way round change the other way round. (What became
    /// worse has no mirror: what became better is not told.)
    #[test]
    fn comparisons_mirror(one in draft(), other in draft()) {
        let (Some(one), Some(other)) = (one.judged(), other.judged()) else { return Ok(()) };
        let none = compare(&one, &one);
        prop_assert!(none.findings.is_empty() && none.materials.add.is_empty() && none.materials.freed.is_empty());
        prop_assert!(none.runs.iter().all(|run| run.change == "same") && none.devices.iter().all(|one| one.change == "stays"));
        prop_assert!(none.headroom.iter().all(|one| one.old_a == one.new_a));
        let (there, back) = (compare(&one, &other), compare(&other, &one));
        let plain = |found: &Comparison| changes(found).into_iter().filter(|(.., change)| change != "worse").collect::<Vec<_>>();
        prop_assert_eq!(plain(&there), mirrored(plain(&back)));
        for run in &there.runs {
            let twin = back.runs.iter().find(|twin| twin.name == run.name).expect("it is in both");
            prop_assert!(run.old == twin.new && run.new == twin.old, "{run:?} {twin:?}");
        }
    }

    /// In harsher surroundings no part is looked at later: on the move, in air that swings wider, under more load.
    #[test]
    fn harsher_is_inspected_no_later(draft in draft(), kelvins in 0.0..40.0_f64, moves in any::<bool>()) {
        let plan = draft.plan();
        let mut harsher = plan.clone();
        if moves {
            harsher.place = Place::Vehicle;
        }
        for zone in &mut harsher.zones {
            // Hotter air takes from what conductors bear, too.
            zone.hottest += TemperatureInterval::new::<kelvin>(kelvins);
        }
        // From a boat to a vehicle is no step for the worse; from a cabin it is.
        let (Ok(mild), Ok(harsh)) = (judge(&plan), judge(&harsher)) else { return Ok(()) };
        // What collapses carries nothing and counts as unloaded; the check tells of it.
        if harsh.cases.iter().any(|case| case.point.is_none()) {
            return Ok(());
        }
        let (mild, harsh) = (inspect(&mild, &[]), inspect(&harsh, &[]));
        prop_assert_eq!(mild.items.len(), harsh.items.len());
        for item in &mild.items {
            let same = harsh.items.iter().find(|one| one.what == item.what && one.name == item.name);
            let later = same.map_or(0, |one| one.due.months);
            prop_assert!(same.is_some() && later <= item.due.months, "{}: {} then {later} months", item.name, item.due.months);
        }
    }

    /// Whatever spreads, no variant is worse than the worst corner, nor is the judged plan. (Corners of wider spreads may be
    /// better: ends are found one by one, and a resistance also bears on what a battery takes.)
    #[test]
    fn nothing_is_worse_than_the_worst_corner(draft in draft(), wide in 1.0..2.0_f64) {
        let Some(judgement) = draft.judged() else { return Ok(()) };
        let usual = Spreads::default();
        let around = |ends: [Ratio; 2]| ends.map(|end| Ratio::from(end.value.powf(wide)));
        let spreads = Spreads {
            conductor: around(usual.conductor),
            joint: around(usual.joint),
            ambient: usual.ambient.map(|end| end * wide),
            source: around(usual.source),
            loss: around(usual.loss),
        };
        let options = Options { samples: 40, spreads, ..Options::default() };
        let found = tolerance(&judgement, &options).map_err(|error| TestCaseError::fail(error.to_string()))?;
        for limit in &found.limits {
            prop_assert!(limit.worst_corner <= limit.margin, "{limit:?}");
            prop_assert!(limit.worst_corner <= limit.fifth_percentile, "{limit:?}");
        }
    }
}
