//! The radial network of 10 000 nodes beside ngspice and a sparse Newton iteration with scipy, in one run.
//!
//! Needs ngspice and the Python environment that `tests/run` makes.

use std::hint::black_box;
use std::process::Command;
use std::time::Instant;

use loomwright::network::{Workbench, operating_point, solve};

#[path = "networks.rs"]
mod networks;

/// Least of some runs, in s: what else the machine does only adds.
fn least<T>(runs: usize, mut run: impl FnMut() -> T) -> f64 {
    let time = |_| {
        let begun = Instant::now();
        black_box(run());
        begun.elapsed().as_secs_f64()
    };
    (0..runs).map(time).fold(f64::INFINITY, f64::min)
}

fn main() {
    let tests = concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/live/network_peers.py");
    let python = concat!(env!("CARGO_MANIFEST_DIR"), "/../target/venv/bin/python");
    let network = networks::radial(10_000);
    let point = least(50, || operating_point(&network));
    let mut bench = Workbench::default();
    let again = least(50, || bench.operating_point(&network));
    let margin = least(20, || solve(&network));
    let output = Command::new(python).arg(tests).output().expect("python runs: tests/run makes its environment");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8_lossy(&output.stdout);
    let seconds = |key: &str| -> f64 {
        let value = text.split(&format!("\"{key}\": ")).nth(1).and_then(|rest| rest.split([',', '}']).next());
        value.and_then(|value| value.trim().parse().ok()).expect("the script prints it")
    };
    println!("radial network, 10 000 nodes, every node a constant power");
    println!("operating point            {:9.3} ms", 1e3 * point);
    println!("the same again             {:9.3} ms", 1e3 * again);
    println!("with stability margin      {:9.3} ms", 1e3 * margin);
    for (name, key) in [
        ("ngspice, .op analysis", "ngspice_analysis_s"),
        ("ngspice, whole process", "ngspice_process_s"),
        ("scipy, sparse Newton", "scipy_newton_s"),
    ] {
        println!("{name:26} {:9.3} ms, {:.0} times", 1e3 * seconds(key), seconds(key) / point);
    }
}
