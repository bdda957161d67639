//! Variants of the launch: bar 5 s for 10 000 of them on two threads.

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::study::judge::judge;
use loomwright::study::tolerance::{Options, tolerance};
use loomwright::text::read_plan;

fn variants(criterion: &mut Criterion) {
    let plan = read_plan(include_str!("../examples/plans/river-launch.toml")).expect("the example is readable");
    let judgement = judge(&plan).expect("the example can be judged");
    let mut group = criterion.benchmark_group("tolerance");
    group.sample_size(10);
    for threads in [1, 2] {
        let options = Options { samples: 10_000, threads, ..Options::default() };
        group.bench_function(format!("10 000 variants of the launch, {threads} threads"), |bench| {
            bench.iter(|| tolerance(&judgement, &options).expect("it can be computed"));
        });
    }
    group.finish();
}

criterion_group!(benches, variants);
criterion_main!(benches);
