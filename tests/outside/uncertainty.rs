//! Uncertainty of what is estimated: against scipy, stored and live, and against a published example.

use crate::support::{judged, text_of};
use jiff::civil::date;
use loomwright::quantity::uom::si::{
    electric_current::ampere, electric_potential::volt, electrical_resistance::milliohm,
};
use loomwright::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, celsius};
use loomwright::study::inspect::inspect;
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{
    Inside, Measured, Point, Reading, Reconciliation, Seen, Segment, Verdict, reconcile,
};
use loomwright_tests::apart;
use serde_json::Value;

fn stored(file: &str) -> Value {
    serde_json::from_str(&text_of(&format!("tests/reference/{file}"))).expect("JSON")
}

fn run(judgement: &Judgement, name: &str) -> usize {
    judgement.installation.runs.iter().position(|run| run.name == name).unwrap_or_else(|| panic!("run {name}"))
}

fn point(judgement: &Judgement, name: &str) -> Point {
    match name.strip_suffix("@fuse") {
        Some(of) => Point::Run(run(judgement, of), Inside::Fuse),
        None => {
            let nodes = &judgement.installation.nodes;
            let node = nodes.iter().position(|node| node.name == name).unwrap_or_else(|| panic!("node {name}"));
            Point::Node(loomwright::installation::NodeId(node))
        }
    }
}

fn readings(judgement: &Judgement, fit: &Value) -> Vec<Reading> {
    let case = judgement.installation.cases.iter().position(|case| case.name == "everything").expect("the case");
    let rows = fit["readings"].as_array().expect("readings").iter().enumerate();
    let of = |(line, row): (usize, &Value)| {
        let text = |at: usize| row[at].as_str().expect("a text");
        let [value, within] = [3, 4].map(|at| row[at].as_f64().expect("a number"));
        let measured = if text(0) == "current" {
            let [value, within] = [value, within].map(ElectricCurrent::new::<ampere>);
            Measured::Current { run: run(judgement, text(1)), value, within }
        } else {
            let [value, within] = [value, within].map(ElectricPotential::new::<volt>);
            Measured::Voltage { between: [point(judgement, text(1)), point(judgement, text(2))], value, within }
        };
        let ambient = Some(celsius(22.0));
        Reading { line: line + 1, case, measured, ambient, date: None, assumed: false, note: String::new() }
    };
    rows.map(of).collect()
}

/// The two ends of a result whose segments lie along one run.
fn ends(judgement: &Judgement, segments: &[Segment]) -> [String; 2] {
    let plan = &judgement.installation;
    let run = &plan.runs[segments[0].run().expect("a run")];
    let middle = format!("{}@fuse", run.name);
    let [from, to] = [run.from, run.to].map(|node| plan.nodes[node.0].name.clone());
    let has = |wanted: fn(&Segment) -> bool| segments.iter().any(wanted);
    let first = if has(|segment| matches!(segment, Segment::Joint(_, 0))) { from } else { middle.clone() };
    [first, if has(|segment| matches!(segment, Segment::Cable(_))) { to } else { middle }]
}

/// Resistances within a hundredth of their deviation, deviations within 1 %: the plan's own values differ a little between
/// the two, which weigh next to nothing. Intervals lie between 1.645 and 1.960 deviations.
fn agrees(judgement: &Judgement, found: &Reconciliation, fit: &Value) -> usize {
    let mut compared = 0;
    for row in fit["pieces"].as_array().expect("pieces") {
        let [ohms, deviation] = [2, 3].map(|at| row[at].as_f64().expect("a number"));
        let names = [0, 1].map(|at| row[at].as_str().expect("a node").to_owned());
        let result = found.days[0].segments.iter().find(|result| ends(judgement, &result.segments) == names);
        let Some(result) = result else { continue };
        let off = apart(result.measured.value, ohms);
        assert!(off < 0.01 * deviation, "{names:?}: {} against {ohms} ± {deviation}", result.measured.value);
        let factor = result.within.value / deviation;
        assert!((1.63..1.98).contains(&factor), "{names:?}: {factor} deviations of {deviation}");
        compared += 1;
    }
    compared
}

fn held_against(fits: &Value) {
    let plants = stored("plants.json");
    let mut compared = 0;
    for fit in fits["fits"].as_array().expect("fits") {
        let plan = &plants["plans"][fit["plan"].as_u64().expect("a plan") as usize];
        let judgement = judged(plan.as_str().expect("a plan"));
        let found = reconcile(&judgement, &readings(&judgement, fit)).expect("it can be explained");
        compared += agrees(&judgement, &found, fit);
    }
    assert!(compared >= 60, "{compared}");
}

/// Resistances and deviations of four plants by scipy 1.17.1 (`tests/live/plants_fit.py`).
#[test]
fn a_fit_is_that_of_scipy() {
    held_against(&stored("plants_fit.json"));
}

#[cfg(feature = "live")]
#[test]
fn a_fit_is_that_of_scipy_now() {
    held_against(&serde_json::from_str(&loomwright_tests::live::printed("plants_fit.py", &[])).expect("JSON"));
}

/// JCGM 100:2008 (the GUM), example H.3: eleven corrections of a thermometer, a straight line through them; data from memory,
/// checked by computing the printed results from them. Slope 0.002 18 per degree with a standard uncertainty of 0.000 67 where
/// each correction has 0.0035. Here a joint stands for the thermometer: a thousand days for a degree, a milliohm for a degree
/// of correction. The printed digits are met.
#[test]
fn a_trend_is_the_line_of_the_gum() {
    let temperatures = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
    let corrections = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
    let judgement = judged(include_str!("../../crates/loomwright/examples/lamp.toml"));
    let segment = Segment::Joint(run(&judgement, "feed"), 0);
    let seen: Vec<Seen> = temperatures
        .iter()
        .zip(corrections)
        .map(|(temperature, correction)| {
            let days = ((temperature - 21.0) * 1000.0_f64).round() as i64;
            Seen {
                segment,
                date: Some(date(2026, 1, 1).checked_add(jiff::Span::new().days(days)).expect("a date")),
                excess: ElectricalResistance::new::<milliohm>(correction),
                within: ElectricalResistance::new::<milliohm>(1.96 * 0.0035),
                verdict: Verdict::AsPlanned,
            }
        })
        .collect();
    let inspection = inspect(&judgement, &seen);
    let trend = inspection.items.iter().flat_map(|item| &item.trends).find(|trend| trend.segment == segment);
    let trend = trend.expect("a trend of the joint");
    // Per year of 365.25 days instead of per thousand days.
    let per_degree = |resistance: ElectricalResistance| resistance.get::<milliohm>() / 0.36525;
    assert!(apart(per_degree(trend.per_year), 0.00218) < 0.000_005, "{}", per_degree(trend.per_year));
    assert!(apart(per_degree(trend.within) / 1.96, 0.00067) < 0.000_005, "{}", per_degree(trend.within));
    assert!(trend.grows);
}
