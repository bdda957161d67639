//! The walk through the example plans, and the readings files that are written for it: read back empty, and filled in.

use std::collections::BTreeSet;

use crate::support::{judged, text_of, two_bars};
use loomwright::installation::{DeviceRef, Installation, Leg};
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{Measured, Point, Round, Why, walk};
use loomwright::text::{TemplateForm, read_plan, read_readings, readings_template};

const PLANS: [&str; 5] = ["veterinary-van", "river-launch", "mountain-hut", "mountain-hut-before", "failing"];

fn example(name: &str) -> (Installation, Judgement) {
    let text = text_of(&format!("examples/plans/{name}.toml"));
    (read_plan(&text).unwrap(), judged(&text))
}

fn rows(rounds: &[Round]) -> usize {
    rounds.iter().map(|round| round.stops.len()).sum()
}

/// The template with what is expected put in as what was measured.
fn filled(template: &str, form: TemplateForm) -> String {
    match form {
        TemplateForm::Csv => {
            let body: String =
                template.lines().filter(|line| !line.starts_with('#')).map(|line| format!("{line}\n")).collect();
            let mut reader = csv::Reader::from_reader(body.as_bytes());
            let head = reader.headers().unwrap().clone();
            let place = |name: &str| head.iter().position(|column| column == name).unwrap();
            let mut writer = csv::Writer::from_writer(Vec::new());
            writer.write_record(&head).unwrap();
            for record in reader.records() {
                let mut cells: Vec<String> = record.unwrap().iter().map(str::to_owned).collect();
                assert!(cells[place("value")].is_empty());
                cells[place("value")] = cells[place("expected")].clone();
                writer.write_record(cells).unwrap();
            }
            String::from_utf8(writer.into_inner().unwrap()).unwrap()
        }
        TemplateForm::Toml => {
            let kept = template.lines().filter(|line| !line.starts_with("value = "));
            kept.map(|line| format!("{}\n", line.replace("expected = ", "value = "))).collect()
        }
    }
}

fn check(name: &str, plan: &Installation, judgement: &Judgement) {
    let rounds = walk(judgement);
    for form in TemplateForm::ALL.iter().copied() {
        let template = readings_template(judgement, form);
        // Against the plan as read and as chosen.
        for plan in [plan, &judgement.installation] {
            let empty = read_readings(&template, plan);
            assert!(empty.readings.is_empty() && empty.refused.is_empty(), "{name} {form}: {:?}", empty.refused);
            let read = read_readings(&filled(&template, form), plan);
            assert!(read.refused.is_empty(), "{name} {form}: {:?}", read.refused);
            assert_eq!(read.readings.len(), rows(&rounds), "{name} {form}");
        }
        let read = read_readings(&filled(&template, form), plan);
        let stops = rounds.iter().flat_map(|round| round.stops.iter().map(move |stop| (round.case, stop)));
        for (reading, (case, stop)) in read.readings.iter().zip(stops) {
            assert_eq!(reading.case, case, "{name}: {stop:?}");
            let near = |one: f64, other: f64| (one - other).abs() <= 5.1e-4 * other.abs() + 1e-12;
            match (reading.measured, stop.measured) {
                (
                    Measured::Voltage { between, value, .. },
                    Measured::Voltage { between: wanted, value: expected, .. },
                ) => {
                    assert!(between == wanted && near(value.value, expected.value), "{name}: {reading:?} {stop:?}");
                    assert!(value.value >= 0.0);
                }
                (Measured::Current { run, value, .. }, Measured::Current { run: wanted, value: expected, .. }) => {
                    assert!(run == wanted && near(value.value, expected.value), "{name}: {reading:?} {stop:?}");
                }
                (Measured::Power { converter, .. }, Measured::Power { converter: wanted, .. }) => {
                    assert_eq!(converter, wanted);
                }
                other => panic!("{name}: {other:?}"),
            }
        }
    }
}

#[test]
fn templates_read_back_empty_and_filled_in() {
    for name in PLANS {
        let (plan, judgement) = example(name);
        check(name, &plan, &judgement);
        assert_eq!(readings_template(&judgement, TemplateForm::Csv), readings_template(&judgement, TemplateForm::Csv));
    }
}

/// Every run that carries what can be measured is walked to once, in a case where it carries most of what any case gives.
#[test]
fn every_run_is_measured_once_where_it_carries_most() {
    for name in PLANS {
        let (_, judgement) = example(name);
        let plan = &judgement.installation;
        let rounds = walk(&judgement);
        let usable = |case: usize| {
            let one = &plan.cases[case];
            !one.lock_out && one.starting.is_none() && judgement.cases[case].point.is_some()
        };
        let cases: BTreeSet<usize> = rounds.iter().map(|round| round.case).collect();
        assert!(cases.len() == rounds.len() && cases.iter().all(|case| usable(*case)), "{name}");
        assert!(rounds.len() <= 4, "{name}: {} cases are too many to walk", rounds.len());
        for (index, run) in plan.runs.iter().enumerate() {
            let most = (0..plan.cases.len()).filter(|case| usable(*case));
            let most = most.map(|case| judgement.cases[case].run_currents[index].value.abs()).fold(0.0, f64::max);
            let walked: Vec<usize> = rounds
                .iter()
                .filter(|round| round.stops.iter().any(|stop| stop.why == Why::Drop(index)))
                .map(|round| round.case)
                .collect();
            if most < 0.01 || most < 0.05 * judgement.design[index].current.value {
                assert!(walked.is_empty(), "{name} {}: {most} A", run.name);
                continue;
            }
            // Two runs between one pair of places have one drop.
            let shared = plan
                .runs
                .iter()
                .enumerate()
                .any(|(other, one)| other != index && (one.from, one.to) == (run.from, run.to));
            assert!(walked.len() == 1 || shared, "{name} {}: {walked:?}", run.name);
            for case in walked {
                let here = judgement.cases[case].run_currents[index].value.abs();
                assert!(here >= 0.699 * most, "{name} {}: {here} A of {most} A", run.name);
            }
        }
        let currents = |run: usize| {
            rounds.iter().flat_map(|round| &round.stops).filter(|stop| stop.why == Why::Current(run)).count()
        };
        for (index, run) in plan.runs.iter().enumerate() {
            assert!(currents(index) <= 1);
            if let Some(twin) = run.twin {
                assert!(currents(index) + currents(twin) <= 1, "{name} {}: both legs", run.name);
                assert!(run.leg == Leg::Positive || currents(index) == 0 || currents(twin) == 0);
            }
        }
    }
}

#[test]
fn batteries_come_first_and_nothing_twice() {
    for name in PLANS {
        let (_, judgement) = example(name);
        for round in walk(&judgement) {
            let batteries = judgement.installation.batteries.len();
            for (index, stop) in round.stops.iter().take(batteries).enumerate() {
                assert_eq!(stop.why, Why::Device(DeviceRef::Battery(index)), "{name}");
            }
            for (at, stop) in round.stops.iter().enumerate() {
                let again = round.stops.iter().skip(at + 1).any(|other| other.measured == stop.measured);
                assert!(!again, "{name}: {stop:?} twice");
            }
        }
    }
}

/// Outward: of the runs of one zone none comes before one that is nearer to the battery.
#[test]
fn the_van_is_walked_outward() {
    let (_, judgement) = example("veterinary-van");
    let plan = &judgement.installation;
    let rounds = walk(&judgement);
    let names: Vec<&str> = rounds.iter().map(|round| plan.cases[round.case].name.as_str()).collect();
    assert!(!names.contains(&"converters-at-lock-out"), "{names:?}");
    let all: Vec<String> = rounds.iter().flat_map(|round| round.stops.iter().map(|stop| stop.why.text(plan))).collect();
    let at = |text: &str| all.iter().position(|why| why == text).unwrap_or_else(|| panic!("{text}: {all:#?}"));
    assert!(at("drop along service-lead") < at("drop along isolator-lead"));
    assert!(at("drop along isolator-lead") < at("drop along board-feed"));
    assert!(at("drop along board-feed") < at("drop along sockets +"));
    assert!(at("current of sockets +") < at("drop across the fuse of sockets +"));
    assert!(at("drop along sockets -") < at("voltage at sockets"));
    for needed in
        ["drop across isolator", "drop across shunt", "power that inverter gives", "voltage at roof-controller"]
    {
        at(needed);
    }
    let words: Vec<&str> = rounds.iter().flat_map(|round| &round.switch_on).map(String::as_str).collect();
    assert!(words.iter().any(|told| told.starts_with("Engine")));
    assert!(words.contains(&"Then wait 10 minutes."));
}

/// What is expected across a fuse: its current through its joint, 0.1 mΩ on a stud, and the drop of fuse with holder.
#[test]
fn a_fuse_is_expected_to_drop_what_it_does() {
    let (_, judgement) = example("veterinary-van");
    let plan = &judgement.installation;
    let lead = plan.runs.iter().position(|run| run.name == "service-lead").unwrap();
    let rounds = walk(&judgement);
    let round = rounds.iter().find(|round| round.stops.iter().any(|stop| stop.why == Why::Fuse(lead))).unwrap();
    let stop = round.stops.iter().find(|stop| stop.why == Why::Fuse(lead)).unwrap();
    let Measured::Voltage { between, value, .. } = stop.measured else { panic!() };
    assert!(between.contains(&Point::Node(plan.runs[lead].from)));
    let current = judgement.cases[round.case].run_currents[lead].value.abs();
    let device = plan.device(lead).unwrap();
    let expected = current * (1e-4 + device.drop().value / device.fuse.rating.value);
    assert!((value.value - expected).abs() < 1e-9, "{} V instead of {expected} V", value.value);
}

/// Names that a spreadsheet would compute, and such with commas and quotes.
#[test]
fn names_are_written_safely() {
    let more = r##"
[loads."=1+1, \"lamp\""]
current = "5 A"
[loads."-x"]
current = "4 A"
[loads."#3; '@"]
current = "3 A"
[circuits."=SUM(A1), \"c\""]
from = "plus"
return = "minus"
to = "=1, \"lamp\""
route = ["1 m in here"]
[circuits."-c"]
from = "plus"
return = "minus"
to = "-x"
route = ["1 m in here"]
[circuits."#d;"]
from = "plus"
return = "minus"
to = "#3; '@"
route = ["1 m in here"]
[cases."@one, two"]
loads = ["-x"]
"##
    .replace("=1+1,", "=1,");
    let text = two_bars("12 V", "100 A class-t", &more);
    let (plan, judgement) = (read_plan(&text).unwrap_or_else(|errors| panic!("{errors:#?}")), judged(&text));
    check("odd names", &plan, &judgement);
    let template = readings_template(&judgement, TemplateForm::Csv);
    let body: String = template.lines().filter(|line| !line.starts_with('#')).map(|line| format!("{line}\n")).collect();
    for record in csv::Reader::from_reader(body.as_bytes()).records() {
        let record = record.unwrap();
        assert!(!record.iter().any(|cell| cell.starts_with(['=', '+', '-', '@'])), "{record:?}");
    }
    assert!(template.contains("'-c +"), "{template}");
}

#[test]
fn the_template_says_what_to_switch_on_and_what_to_beware_of() {
    let (_, judgement) = example("river-launch");
    for form in TemplateForm::ALL.iter().copied() {
        let template = readings_template(&judgement, form);
        for part in [
            "# ! Work on live parts",
            "one hand",
            "# ! A battery short circuit",
            "# Case ",
            "Batteries",
            "decimal point",
            "2026-11-27",
            "multimeter",
            "Then wait 10 minutes.",
        ] {
            assert!(template.contains(part), "{form}: {part}");
        }
    }
}

/// What is to be switched on is what the case runs: the one lamp of a plan of one lamp.
#[test]
fn a_round_says_what_to_switch_on() {
    let rounds = walk(&judged(&text_of("crates/loomwright/examples/lamp.toml")));
    assert!(rounds[0].switch_on.iter().any(|told| told == "Every load on: lamp."), "{:?}", rounds[0].switch_on);
}
