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

criterion_group!(plans, checks);
criterion_main!(plans);
