//! A year of an off-grid site hour by hour: bar 20 ms, and 20 times as fast as the same model written with pandas and pvlib in
//! the same run; a thousand sampled years: bar 20 s on two threads.

use std::process::Command;
use std::time::Instant;

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::study::forecast::{Options, forecast};
use loomwright::study::judge::Judgement;

#[path = "site.rs"]
mod site;

use site::site;

fn years(criterion: &mut Criterion) {
    let judgement = site();
    let hourly = Options { steps_per_day: 24, ..Options::default() };
    let mut group = criterion.benchmark_group("forecast");
    group.bench_function("a year, hour by hour", |bench| {
        bench.iter(|| forecast(&judgement, &hourly).expect("it can be forecast"));
    });
    group.bench_function("a year, every 15 min", |bench| {
        bench.iter(|| forecast(&judgement, &Options::default()).expect("it can be forecast"));
    });
    group.sample_size(10);
    for threads in [1, 2] {
        let sampled = Options { samples: 1000, threads, ..hourly.clone() };
        group.bench_function(format!("1 000 sampled years, {threads} threads"), |bench| {
            bench.iter(|| forecast(&judgement, &sampled).expect("it can be forecast"));
        });
    }
    group.finish();
    peer(&judgement, &hourly);
}

/// The same model written with pandas and pvlib, in the same run.
fn peer(judgement: &Judgement, options: &Options<'_>) {
    let ours = (0..20)
        .map(|_| {
            let begun = Instant::now();
            let _ = forecast(judgement, options);
            begun.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min);
    let python = std::env::var("LOOMWRIGHT_PYTHON").unwrap_or_else(|_| "../target/venv/bin/python".to_owned());
    let Ok(run) = Command::new(&python).arg("pvlib_year.py").output() else {
        println!("no {python}: the peer was not run");
        return;
    };
    let told = String::from_utf8_lossy(&run.stdout).into_owned();
    let seconds = told.split("\"seconds\": ").nth(1).and_then(|rest| rest.split(',').next());
    match seconds.and_then(|seconds| seconds.parse::<f64>().ok()) {
        Some(theirs) => {
            println!("pandas and pvlib {:.1} ms, ours {:.2} ms: {:.0} times", 1e3 * theirs, 1e3 * ours, theirs / ours);
        }
        None => println!("the peer failed: {}", String::from_utf8_lossy(&run.stderr)),
    }
}

criterion_group!(benches, years);
criterion_main!(benches);
