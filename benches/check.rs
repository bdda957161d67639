//! Bars of the plan check: reading, judging, and remedies, without the process around them.

use std::hint::black_box;
use std::path::Path;

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::study::{judge::judge, remedy::propose};
use loomwright::text::read_plan;

fn text_of(plan: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/plans").join(plan);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn checks(criterion: &mut Criterion) {
    for plan in ["veterinary-van.toml", "river-launch.toml", "failing.toml"] {
        let text = text_of(plan);
        criterion.bench_function(&format!("check {plan}"), |bench| {
            bench.iter(|| {
                let plan = read_plan(black_box(&text)).expect("the example reads");
                let mut judgement = judge(&plan).expect("the example is judged");
                propose(&mut judgement);
                judgement
            });
        });
    }
}

/// The launch with every size and fuse fixed: its cases, heat, faults, bands and damage curves, and every rule. Bar for the
/// co-ordination alone: 40 ms.
fn coordination(criterion: &mut Criterion) {
    let plan = read_plan(&text_of("river-launch.toml")).expect("the example reads");
    let fixed = judge(&plan).expect("the example is judged").installation;
    criterion.bench_function("judge the fixed launch", |bench| {
        bench.iter(|| judge(black_box(&fixed)).expect("the example is judged"));
    });
}

criterion_group!(plans, checks, coordination);
criterion_main!(plans);
