//! Diagrams: of the river launch (59 runs; bar 50 ms) and of a plan of 1000 runs (bar 2 s), as text.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::installation::{Leg, Load, Node, NodeId, Run};
use loomwright::study::judge::{Judgement, judge};
use loomwright_draw::diagram;

/// The same plan with boards of loads added to its last run, beyond what a file may hold.
fn grown(judgement: &Judgement, runs: usize) -> Judgement {
    let mut grown = judgement.clone();
    let plan = &mut grown.installation;
    let feed = plan.runs.iter().find(|run| run.name == "board-feed").cloned().expect("the launch has a board");
    let lamp = plan.loads.iter().find(|load| load.nodes.is_some()).cloned().expect("the launch has loads");
    let mut at = feed.to;
    for index in plan.runs.len()..runs {
        let (node, name) = (NodeId(plan.nodes.len()), format!("more-{index}"));
        plan.nodes.push(Node { name: name.clone(), ..plan.nodes[at.0].clone() });
        plan.runs.push(Run { name, from: at, to: node, leg: Leg::Positive, ..feed.clone() });
        if index % 12 == 0 {
            at = node;
        } else {
            let nodes = lamp.nodes.map(|[_, minus]| [node, minus]);
            plan.loads.push(Load { name: format!("lamp-{index}"), nodes, ..lamp.clone() });
        }
    }
    grown
}

fn bench(criterion: &mut Criterion) {
    let text = include_str!("../examples/plans/river-launch.toml");
    let plan = loomwright::text::read_plan(text).expect("the plan is sound");
    let judgement = judge(&plan).expect("it can be judged");
    criterion.bench_function("diagram/launch", |bencher| {
        bencher.iter(|| diagram(black_box(&judgement)).svg());
    });
    let large = grown(&judgement, 1000);
    criterion.bench_function("diagram/1000 runs", |bencher| {
        bencher.iter(|| diagram(black_box(&large)).svg());
    });
}

criterion_group!(benches, bench);
criterion_main!(benches);
