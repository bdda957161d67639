//! Voltages, currents and alternator figures of the two example plans against `tests/live/recompute_plan.py`, which
//! solves them with its own code from the plan's own numbers: stored, and with feature `live` fresh.

use crate::support::{judged, text_of};
use loomwright::installation::{DeviceRef, Installation};
use loomwright::network::Part;
use loomwright::study::judge::{CaseResult, Judgement};
use serde_json::Value;

/// The bar: 0.1 %.
const SHARE: f64 = 1e-3;
/// Below this many amperes or volts a share says nothing: a battery that rests still moves some microamperes.
const NEAR_NOTHING: f64 = 1e-4;

fn judged_example(plan: &str) -> Judgement {
    judged(&text_of(&format!("examples/plans/{plan}")))
}

/// One group of the script's numbers against ours; `ours` gives `None` for a name that does not exist.
fn hold(place: &str, group: &Value, ours: impl Fn(&str) -> Option<f64>, least: usize) {
    let group = group.as_object().unwrap_or_else(|| panic!("{place} is missing: make the stored file again"));
    assert!(group.len() >= least, "{place}: only {} numbers", group.len());
    for (name, theirs) in group {
        let theirs = theirs.as_f64().unwrap_or_else(|| panic!("{place}, {name}: no number"));
        let ours = ours(name).unwrap_or_else(|| panic!("{place}: the plan has no {name}; make the stored file again"));
        let apart = (ours - theirs).abs();
        assert!(apart <= SHARE * theirs.abs() + NEAR_NOTHING, "{place}, {name}: {ours} here, {theirs} there");
    }
}

fn hold_case(plan: &Installation, case: &CaseResult, name: &str, numbers: &Value) {
    let load = |wanted: &str| {
        let nodes = plan.loads.iter().find(|load| load.name == wanted)?.nodes?;
        Some(case.between(nodes).value)
    };
    hold(&format!("{name}: load voltages"), &numbers["load_voltages_v"], load, 9);
    let input = |wanted: &str| {
        let nodes = plan.converters.iter().find(|converter| converter.name == wanted)?.input?;
        Some(case.between(nodes).value)
    };
    hold(&format!("{name}: converter inputs"), &numbers["converter_input_voltages_v"], input, 2);
    let run = |wanted: &str| {
        let index = plan.runs.iter().position(|run| run.name == wanted)?;
        Some(case.run_currents[index].value)
    };
    hold(&format!("{name}: run currents"), &numbers["run_currents_a"], run, 18);
    let asked = |wanted: &str| {
        let index = plan.alternators.iter().position(|alternator| alternator.name == wanted)?;
        Some(case.alternators[index].0.value)
    };
    hold(&format!("{name}: alternators"), &numbers["alternators_asked_a"], asked, 0);
}

/// Every case of the script's result against the same case of ours.
fn hold_plan(plan: &str, result: &str) {
    let result: Value = serde_json::from_str(result).expect("the script prints JSON");
    assert!(result["source"].as_str().is_some_and(|source| source.contains("recompute_plan.py")), "{plan}");
    let judgement = judged_example(plan);
    let installation = &judgement.installation;
    let cases = result["cases"].as_object().expect("the script's cases");
    assert_eq!(cases.len(), 3, "{plan}: full load, cruise and idle");
    for (name, numbers) in cases {
        let index = installation.cases.iter().position(|case| case.name == *name).expect("the same cases");
        let case = judgement.cases.iter().find(|case| case.case == index).expect("every case is solved");
        let point = case.point.as_ref().unwrap_or_else(|| panic!("{plan}, {name}: no operating point"));
        assert!(point.residual.value < 1e-6, "{plan}, {name}: currents do not add up: {}", point.residual.value);
        hold_case(installation, case, &format!("{plan}, {name}"), numbers);
    }
    // What the alternator is asked for is one of the figures that the issue names: it must be among them.
    let cruising = &result["cases"]["driving-cruise"]["alternators_asked_a"];
    assert_eq!(cruising.as_object().map(serde_json::Map::len), Some(installation.alternators.len()), "{plan}");
    assert!(installation.alternators.iter().enumerate().all(|(index, _)| {
        judgement
            .cases
            .iter()
            .flat_map(|case| &case.sources)
            .any(|(part, current)| *part == Part::Device(DeviceRef::Alternator(index)) && current.value > 1.0)
    }));
}

#[test]
fn river_launch_as_recomputed() {
    hold_plan("river-launch.toml", &text_of("tests/reference/plans/river-launch.json"));
}

#[test]
fn veterinary_van_as_recomputed() {
    hold_plan("veterinary-van.toml", &text_of("tests/reference/plans/veterinary-van.json"));
}

/// Runs the script now, on the report of the engine now.
#[cfg(feature = "live")]
fn fresh(plan: &str) -> String {
    use std::io::Write as _;
    use std::path::{Path, PathBuf};
    use std::process::{Command, Stdio};
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    let python =
        std::env::var_os("LOOMWRIGHT_PYTHON").map_or_else(|| tests.join("../target/venv/bin/python"), PathBuf::from);
    let report = serde_json::to_vec(&judged_example(plan).record()).expect("the record is plain data");
    let mut running = Command::new(&python)
        .arg(tests.join("live/recompute_plan.py"))
        .arg(tests.join("../examples/plans").join(plan))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap_or_else(|error| panic!("{}: {error}; set LOOMWRIGHT_PYTHON", python.display()));
    running.stdin.take().expect("piped").write_all(&report).expect("the script reads the report");
    let output = running.wait_with_output().expect("the script ends");
    assert!(output.status.success(), "the script failed on {plan}");
    String::from_utf8(output.stdout).expect("the script prints UTF-8")
}

#[cfg(feature = "live")]
#[test]
fn both_plans_as_recomputed_now() {
    for plan in ["river-launch.toml", "veterinary-van.toml"] {
        hold_plan(plan, &fresh(plan));
    }
}
