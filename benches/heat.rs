//! Heat: bars: steady temperature ≤ 0.7 µs, ampacity in free air ≤ 1 µs, a damage curve of 40 points ≤ 1 ms.

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::conductor::{Kind, Material, find};
use loomwright::heat::{DamageCurve, Duty, HeatPath, Installation, Lay, OverloadLimits, Transient};
use loomwright::quantity::{CrossSection, ElectricCurrent, FromText, celsius};
use std::hint::black_box;

fn heat(bench: &mut Criterion) {
    let size_16 = CrossSection::from_text("16 mm2").expect("a size");
    let conductor = find(Kind::Iec5, Material::Copper, size_16).expect("a conductor");
    let current = ElectricCurrent::from_text("80 A").expect("a current");
    for lay in
        [Lay::alone(Installation::FreeAir), Lay::pair(Installation::Surface), Lay::pair(Installation::ConduitPlastic)]
    {
        let path = HeatPath::new(&conductor, &lay, celsius(40.0)).expect("a path");
        let name = lay.installation.name();
        bench.bench_function(&format!("ampacity, {name}"), |run| run.iter(|| path.ampacity(black_box(celsius(70.0)))));
        bench.bench_function(&format!("temperature, {name}"), |run| run.iter(|| path.temperature(black_box(current))));
    }
    let limits = OverloadLimits::of(celsius(70.0), celsius(70.0));
    for lay in [Lay::alone(Installation::FreeAir), Lay::pair(Installation::ConduitPlastic)] {
        bench.bench_function(&format!("damage curve, {}", lay.installation.name()), |run| {
            run.iter(|| DamageCurve::new(black_box(&conductor), &lay, celsius(40.0), celsius(70.0), limits));
        });
    }
    let transient = Transient::new(&conductor, &Lay::alone(Installation::FreeAir), celsius(40.0)).expect("a path");
    let duty: Duty = "30 s in 10 min".parse().expect("a duty");
    bench.bench_function("permitted current of a duty cycle", |run| {
        run.iter(|| transient.permitted_current(black_box(&duty), celsius(70.0)));
    });
    bench.bench_function("time to a limit", |run| {
        let three = ElectricCurrent::from_text("300 A").expect("a current");
        run.iter(|| transient.time_to(celsius(120.0), black_box(three), celsius(70.0)));
    });
}

criterion_group!(benches, heat);
criterion_main!(benches);
