//! Pictures and the report as text: the report of the river launch (59 runs), a map of sizes, and every voltage path of the
//! launch.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length};
use loomwright::study::cable::{CableQuery, Load, size_map};
use loomwright::study::dossier::Dossier;
use loomwright::study::forecast::Options;
use loomwright::study::judge::judge;
use loomwright_draw::{report, sizes, voltage};

fn bench(criterion: &mut Criterion) {
    let text = include_str!("../examples/plans/river-launch.toml");
    let plan = loomwright::text::read_plan(text).expect("the plan is sound");
    let judgement = judge(&plan).expect("it can be judged");
    let options = Options { series: true, ..Options::default() };
    let dossier = Dossier::new(judgement.clone(), None, &options).expect("its stays can be told");
    criterion.bench_function("pictures/report of the launch", |bencher| {
        bencher.iter(|| report(black_box(&dossier)));
    });
    let query = CableQuery::new(
        Load::Current(ElectricCurrent::from_text("40 A").expect("a current")),
        Length::from_text("5.5 m").expect("a length"),
        ElectricPotential::from_text("12 V").expect("a voltage"),
    );
    criterion.bench_function("pictures/map of sizes", |bencher| {
        bencher.iter(|| size_map(black_box(&query)).expect("it can be sized"));
    });
    let map = size_map(&query).expect("it can be sized");
    criterion.bench_function("pictures/map of sizes drawn", |bencher| {
        bencher.iter(|| sizes(black_box(&map)).svg());
    });
    criterion.bench_function("pictures/voltage paths of the launch", |bencher| {
        bencher.iter(|| judgement.voltage_paths().iter().map(|path| voltage(path).svg().len()).sum::<usize>());
    });
}

criterion_group!(benches, bench);
criterion_main!(benches);
