//! A fuse against a conductor and against the next fuse, once their curves exist. Bar: a verdict within 1 µs.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::conductor::{Kind, Material, find};
use loomwright::heat::{DamageCurve, DamageFloor, Installation, Lay, OverloadLimits};
use loomwright::protection::{Band, Fuse, discrimination, least_ratio};
use loomwright::quantity::{CrossSection, ElectricCurrent, FromText, celsius};

fn verdicts(criterion: &mut Criterion) {
    let size = CrossSection::from_text("16 mm2").expect("a size");
    let conductor = find(Kind::Iec5, Material::Copper, size).expect("a conductor");
    let (lay, air) = (Lay::pair(Installation::Enclosed), celsius(40.0));
    let limits = OverloadLimits::of(celsius(90.0), celsius(75.0));
    let floor = DamageFloor::new(&conductor, &lay, air, celsius(60.0), limits).expect("in range");
    let curve = DamageCurve::new(&conductor, &lay, air, celsius(60.0), limits).expect("in range");
    let fuse = |text: &str| -> Fuse { text.parse().expect("a fuse") };
    let [band, before] = ["60 A blade-e", "200 A strip-sf51"].map(|text| Band::of(&fuse(text)).expect("its times"));
    let fault = ElectricCurrent::from_text("3 kA").expect("a current");
    criterion.bench_function("verdict by the floor", |bench| {
        bench.iter(|| least_ratio(black_box(&band), fault, |current| floor.time(current).ok().flatten()));
    });
    criterion.bench_function("verdict by the damage curve", |bench| {
        bench.iter(|| least_ratio(black_box(&band), fault, |current| curve.time(current).ok().flatten()));
    });
    criterion.bench_function("discrimination", |bench| {
        bench.iter(|| discrimination(black_box(&before), &band, fault));
    });
    criterion.bench_function("a floor", |bench| {
        bench.iter(|| DamageFloor::new(black_box(&conductor), &lay, air, celsius(60.0), limits));
    });
    let sixty = fuse("60 A blade-e");
    criterion.bench_function("a band", |bench| bench.iter(|| Band::of(black_box(&sixty))));
}

criterion_group!(benches, verdicts);
criterion_main!(benches);
