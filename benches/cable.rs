//! One-off sizing. Bar: ≤ 10 µs, towards 5.

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::conductor::Kind;
use loomwright::heat::Installation;
use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length};
use loomwright::study::cable::{CableQuery, Load, size};
use std::hint::black_box;

fn query(current: &str, length: &str) -> CableQuery {
    CableQuery::new(
        Load::Current(ElectricCurrent::from_text(current).expect("a current")),
        Length::from_text(length).expect("a length"),
        ElectricPotential::from_text("12 V").expect("a voltage"),
    )
}

fn cable(bench: &mut Criterion) {
    let enclosed = query("40 A", "5.5 m");
    bench.bench_function("one sizing, enclosed", |run| run.iter(|| size(black_box(&enclosed))));
    let free_air = CableQuery { installation: Some(Installation::FreeAir), ..enclosed };
    bench.bench_function("one sizing, free air", |run| run.iter(|| size(black_box(&free_air))));
    let gauge = CableQuery { kind: Some(Kind::Awg), ..free_air };
    bench.bench_function("one sizing, free air, gauge", |run| run.iter(|| size(black_box(&gauge))));
    bench.bench_function("one sizing with findings and record", |run| {
        run.iter(|| size(black_box(&enclosed)).map(|sized| sized.record(false)));
    });
}

criterion_group!(benches, cable);
criterion_main!(benches);
