//! Readings explained: the river launch (59 runs) with 200 readings in three cases. Bar: 20 ms.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::millivolt;
use loomwright::quantity::{ElectricCurrent, ElectricPotential, celsius};
use loomwright::study::judge::{Judgement, judge};
use loomwright::study::reconcile::{Measured, Reading, reconcile, walk};

/// What a usual meter and clamp would read if everything were as planned, some places twice.
fn readings(judgement: &Judgement, count: usize) -> Vec<Reading> {
    let stops: Vec<(usize, Measured)> = walk(judgement)
        .into_iter()
        .flat_map(|round| round.stops.into_iter().map(move |stop| (round.case, stop.measured)))
        .collect();
    let read = |(line, (case, stop)): (usize, &(usize, Measured))| {
        let measured = match *stop {
            Measured::Voltage { between, value, .. } => {
                let within = value * 0.005 + ElectricPotential::new::<millivolt>(0.2);
                Measured::Voltage { between, value, within }
            }
            Measured::Current { run, value, .. } => {
                let within = value.abs() * 0.02 + ElectricCurrent::new::<ampere>(0.03);
                Measured::Current { run, value, within }
            }
            other => other,
        };
        let ambient = Some(celsius(25.0));
        Reading { line: line + 1, case: *case, measured, ambient, date: None, assumed: false, note: String::new() }
    };
    stops.iter().cycle().take(count).enumerate().map(read).collect()
}

fn bench(criterion: &mut Criterion) {
    let text = include_str!("../examples/plans/river-launch.toml");
    let plan = loomwright::text::read_plan(text).expect("the plan is sound");
    let judgement = judge(&plan).expect("it can be judged");
    let readings = readings(&judgement, 200);
    criterion.bench_function("reconcile/launch with 200 readings", |bencher| {
        bencher.iter(|| reconcile(black_box(&judgement), black_box(&readings)));
    });
}

criterion_group!(benches, bench);
criterion_main!(benches);
