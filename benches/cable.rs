//! One-off sizing and its parts. Bars: one sizing ≤ 20 µs, ampacity in free air ≤ 1 µs.

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::conductor::{Kind, Material, find};
use loomwright::heat::{HeatPath, Installation};
use loomwright::quantity::{CrossSection, ElectricCurrent, ElectricPotential, FromText, Length, celsius};
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

    let size_16 = CrossSection::from_text("16 mm2").expect("a size");
    let conductor = find(Kind::Iec5, Material::Copper, size_16).expect("a conductor");
    let path = HeatPath::new(&conductor, Installation::FreeAir, celsius(40.0), 1).expect("a path");
    bench.bench_function("ampacity, free air", |run| run.iter(|| path.ampacity(black_box(celsius(70.0)))));
    let current = ElectricCurrent::from_text("80 A").expect("a current");
    bench.bench_function("temperature, free air", |run| run.iter(|| path.temperature(black_box(current))));
}

criterion_group!(benches, cable);
criterion_main!(benches);
