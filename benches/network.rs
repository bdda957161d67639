//! Operating points: a plan-sized network with two-wire circuits, loops and converters, and radial ones of any size.
//!
//! Growth: from 1 000 to 1 000 000 nodes the time may grow by N^1.15, that is 2 800 times.

use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::network::{Workbench, operating_point, solve};

#[path = "networks.rs"]
mod networks;

fn points(criterion: &mut Criterion) {
    let van = networks::sixty();
    criterion.bench_function("60 nodes, operating point", |bench| bench.iter(|| operating_point(black_box(&van))));
    criterion.bench_function("60 nodes, with stability margin", |bench| bench.iter(|| solve(black_box(&van))));
    for nodes in [1_000, 10_000, 100_000, 1_000_000] {
        let radial = networks::radial(nodes);
        let mut group = criterion.benchmark_group("radial");
        group.sample_size(10).measurement_time(Duration::from_secs(2));
        group.bench_function(format!("{nodes} nodes"), |bench| bench.iter(|| operating_point(black_box(&radial))));
        if nodes == 10_000 {
            let mut workbench = Workbench::default();
            group.bench_function(format!("{nodes} nodes, on a workbench"), |bench| {
                bench.iter(|| workbench.operating_point(black_box(&radial)));
            });
            group.bench_function(format!("{nodes} nodes, with stability margin"), |bench| {
                bench.iter(|| solve(black_box(&radial)));
            });
        }
    }
}

criterion_group!(benches, points);
criterion_main!(benches);
