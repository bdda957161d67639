//! Schedules of the example plans against the plans themselves: counted, summed and weighed a second time here.

use std::collections::BTreeSet;

use crate::support::{judged, text_of, two_bars};
use loomwright::installation::ConductorChoice;
use loomwright::study::judge::Judgement;
use loomwright::study::schedule::{Cell, Schedule, Sheet, SheetName, schedule};

fn example(name: &str) -> (Judgement, Schedule) {
    let judgement = judged(&text_of(&format!("examples/plans/{name}.toml")));
    let schedule = schedule(&judgement);
    (judgement, schedule)
}

fn column(sheet: &Sheet, key: &str) -> usize {
    sheet.columns.iter().position(|column| column.key == key).unwrap_or_else(|| panic!("{} has no {key}", sheet.name))
}

fn text<'a>(sheet: &'a Sheet, row: &'a [Cell], key: &str) -> &'a str {
    match &row[column(sheet, key)] {
        Cell::Text(text) => text,
        Cell::Empty => "",
        Cell::Number(number) => panic!("{key} is a number: {number}"),
    }
}

fn number(sheet: &Sheet, row: &[Cell], key: &str) -> f64 {
    match row[column(sheet, key)] {
        Cell::Number(number) => number,
        ref other => panic!("{key}: {other:?}"),
    }
}

const PLANS: [&str; 4] = ["veterinary-van", "river-launch", "mountain-hut", "failing"];

/// Every run once, with the length and metal that a second sum gives: copper of 8.89 kg/dm³ as in the table of materials.
#[test]
fn every_conductor_is_there_once() {
    for name in PLANS {
        let (judgement, schedule) = example(name);
        let cables = schedule.sheet(SheetName::Cables);
        assert_eq!(cables.rows.len(), judgement.installation.runs.len(), "{name}");
        let labels: BTreeSet<&str> = cables.rows.iter().map(|row| text(&cables, row, "label")).collect();
        assert_eq!(labels.len(), cables.rows.len(), "{name}: a number twice");
        for (row, run) in cables.rows.iter().zip(&judgement.installation.runs) {
            assert_eq!(text(&cables, row, "run"), run.name);
            // Route + 10 % + 0.3 m per end (PRACTICE).
            let route: f64 = run.segments.iter().map(|segment| segment.length.value).sum();
            assert!((number(&cables, row, "cut_m") - (1.1 * route + 0.6)).abs() < 1e-8, "{name} {}", run.name);
            let ConductorChoice::Fixed(conductor) = run.conductor else { panic!("{} is open", run.name) };
            let density = conductor.material.data().density.value;
            let mass = (1.1 * route + 0.6) * number(&cables, row, "csa_mm2") * 1e-6 * density;
            assert!((number(&cables, row, "mass_kg") - mass).abs() < 1e-8 * mass.max(1.0), "{name} {}", run.name);
        }
    }
}

/// What is bought is what is cut, rounded up to whole metres; lugs and ferrules are as many as the ends that have them.
#[test]
fn materials_add_up() {
    let mut clips = 0.0;
    for name in PLANS {
        let (_, schedule) = example(name);
        let (cables, materials) = (schedule.sheet(SheetName::Cables), schedule.sheet(SheetName::Materials));
        let sum = |part: &str, use_: &[&str], key: &str| -> f64 {
            let rows = materials.rows.iter();
            let wanted = rows
                .filter(|row| text(&materials, row, "part") == part && use_.contains(&text(&materials, row, "use")));
            wanted.map(|row| number(&materials, row, key)).sum()
        };
        let cut: f64 = cables.rows.iter().map(|row| number(&cables, row, "cut_m")).sum();
        assert!((sum("cable", &["buy", "kept"], "quantity") - cut).abs() < 1e-6, "{name}");
        let ends = |word: &str| {
            let rows = cables.rows.iter();
            let both = rows.flat_map(|row| ["end_from", "end_to"].map(|key| text(&cables, row, key).to_owned()));
            both.filter(|end| end.starts_with(word)).count()
        };
        for part in ["lug", "ferrule"] {
            let wanted = ends(&format!("{part} "));
            assert_eq!(sum(part, &["buy", "kept"], "quantity").round() as usize, wanted, "{name} {part}");
        }
        for row in materials.rows.iter().filter(|row| text(&materials, row, "use") == "buy") {
            let (needed, sold) = (number(&materials, row, "quantity"), number(&materials, row, "to_buy"));
            assert!(sold >= needed - 1e-9 && sold < needed + 10.0, "{name} {row:?}");
        }
        assert!(materials.notes[0].contains("kg"), "{name}");
        clips += sum("clip", &["buy", "kept"], "quantity");
    }
    assert!(clips > 0.0, "supports are asked for, and nothing holds");
}

/// A fuse for every run that has one, a label for both of its ends, and a load list that is complete.
#[test]
fn fuses_labels_and_loads_are_complete() {
    for name in PLANS {
        let (judgement, schedule) = example(name);
        let plan = &judgement.installation;
        let fuses = (0..plan.runs.len()).filter(|run| plan.device(*run).is_some()).count();
        assert_eq!(schedule.sheet(SheetName::Fuses).rows.len(), fuses, "{name}");
        assert_eq!(schedule.sheet(SheetName::Labels).rows.len(), 2 * plan.runs.len(), "{name}");
        assert_eq!(schedule.sheet(SheetName::Loads).rows.len(), plan.loads.len(), "{name}");
        let settings = schedule.sheet(SheetName::Settings);
        for converter in &plan.converters {
            assert!(
                settings.rows.iter().any(|row| text(&settings, row, "device") == converter.name),
                "{name} {}",
                converter.name
            );
        }
    }
}

/// Work ends at the batteries, their negative last; every terminal with a conductor has its turn, and each conductor end
/// stands in exactly one of them.
#[test]
fn batteries_come_last() {
    for name in PLANS {
        let (judgement, schedule) = example(name);
        let terminals = schedule.sheet(SheetName::Terminals);
        let groups: Vec<&str> = terminals.rows.iter().map(|row| text(&terminals, row, "group")).collect();
        let of = |group: &str| groups.iter().position(|known| known.starts_with(group));
        let battery = of("batteries").unwrap_or_else(|| panic!("{name} has no batteries: {groups:?}"));
        assert!(groups[battery..].iter().all(|group| group.starts_with("batteries")), "{name}: {groups:?}");
        assert!(groups[battery..].is_sorted_by_key(|group| group.contains("negative")), "{name}: {groups:?}");
        let held: usize = terminals.rows.iter().map(|row| text(&terminals, row, "holds").split("; ").count()).sum();
        assert_eq!(held, 2 * judgement.installation.runs.len(), "{name}");
        for (step, row) in terminals.rows.iter().enumerate() {
            assert_eq!(number(&terminals, row, "step"), (step + 1) as f64);
        }
    }
}

/// Torques by hand: M8 on a bar 6 N m, M10 on a battery 10.4 to 16 over its makers, the maker's own figure first with its
/// source, none on a spring.
#[test]
fn torques_of_the_van_and_the_launch() {
    let at = |name: &str, terminal: &str| {
        let (_, schedule) = example(name);
        let sheet = schedule.sheet(SheetName::Terminals);
        let row = sheet.rows.iter().find(|row| text(&sheet, row, "terminal") == terminal).unwrap().clone();
        let value = |key: &str| match row[column(&sheet, key)] {
            Cell::Number(number) => Some(number),
            _ => None,
        };
        ([value("torque_nm"), value("torque_most_nm")], text(&sheet, &row, "torque_by").to_owned())
    };
    assert_eq!(at("veterinary-van", "service.+").0, [Some(10.4), Some(16.0)]);
    assert_eq!(at("veterinary-van", "isolator.in").0, [Some(10.0), None]);
    let (torque, by) = at("veterinary-van", "charger.in+");
    assert_eq!(
        (torque, by.as_str()),
        ([Some(4.5), None], "the plan's terminal charger-clamp (charger manual, page 9 (invented))")
    );
    assert_eq!(at("river-launch", "winch.+").0, [Some(6.0), None]);
    let (torque, by) = at("river-launch", "buck.in+");
    assert_eq!((torque, by.as_str()), ([None, None], "none: a spring"));
}

/// A circuit more, at the end of the plan, moves no number; a run more moves no circuit's.
#[test]
fn numbers_are_stable() {
    let text_of_van = text_of("examples/plans/veterinary-van.toml");
    let labels = |text_of_plan: &str| -> Vec<(String, String)> {
        let sheet = schedule(&judged(text_of_plan)).sheet(SheetName::Cables);
        let pair = |row: &Vec<Cell>| (text(&sheet, row, "run").to_owned(), text(&sheet, row, "label").to_owned());
        sheet.rows.iter().map(pair).collect()
    };
    let more = "[loads.extra-lamp]\npower = \"5 W\"\n\
                [circuits.extra-lamp]\nfrom = \"board\"\nreturn = \"negative-bar\"\nto = \"extra-lamp\"\nroute = [\"1 m in cabin\"]\n\
                [busbars.spare]\n[runs.spare]\nfrom = \"main-bar\"\nto = \"spare\"\nroute = [\"0.5 m in locker\"]\nconductor = \"16 mm2\"\nfuse = \"40 A blade-e\"\n";
    let before = labels(&text_of_van);
    let after = labels(&format!("{text_of_van}\n{more}"));
    assert_eq!(after.len(), before.len() + 3);
    for pair in &before {
        assert!(after.contains(pair), "{pair:?} has moved");
    }
    assert!(before.contains(&("charger-output -".into(), "C02-".into())), "{before:?}");
}

/// A name with a dash in it makes no leg negative.
#[test]
fn legs_are_told_by_their_ends() {
    let more = "[loads.lamp]\ncurrent = \"1 A\"\n\
                [circuits.\"lamp -port\"]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"lamp\"\nroute = [\"1 m in here\"]\nconductor = \"1.5 mm2\"\nfuse = \"5 A blade-c\"\n";
    let cables = schedule(&judged(&two_bars("12 V", "200 A class-t", more))).sheet(SheetName::Cables);
    let labels: Vec<&str> = cables.rows.iter().map(|row| text(&cables, row, "label")).collect();
    assert_eq!(labels, ["R01", "R02", "C01+", "C01-"]);
}

/// Every row is as long as its sheet, and no key stands twice.
#[test]
fn rows_and_keys() {
    for name in PLANS {
        for sheet in example(name).1.sheets {
            assert!(sheet.rows.iter().all(|row| row.len() == sheet.columns.len()), "{name} {}", sheet.name);
            let keys: BTreeSet<&str> = sheet.columns.iter().map(|column| column.key).collect();
            assert_eq!(keys.len(), sheet.columns.len(), "{}", sheet.name);
        }
    }
}

/// JSON says what the sheets say, by the keys of their columns, and numbers are numbers.
#[test]
fn json_is_the_sheets() {
    let (_, schedule) = example("river-launch");
    let record = schedule.record();
    assert_eq!(record["format"], 1);
    assert_eq!(record["verdict"], "holds");
    for sheet in &schedule.sheets {
        let rows = record["sheets"][sheet.name.name()].as_array().unwrap();
        assert_eq!(rows.len(), sheet.rows.len());
        for (object, row) in rows.iter().zip(&sheet.rows) {
            for (column, cell) in sheet.columns.iter().zip(row) {
                match cell {
                    Cell::Empty => assert!(object.get(column.key).is_none()),
                    Cell::Text(text) => assert_eq!(object[column.key].as_str(), Some(text.as_str())),
                    Cell::Number(number) => assert_eq!(object[column.key].as_f64(), Some(*number)),
                }
            }
        }
    }
}
