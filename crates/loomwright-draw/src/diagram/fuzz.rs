//! Plans that chance makes are drawn as whole and clear as any.

use loomwright::installation::{ConverterKind, FuseChoice, Leg, Link, LinkKind, Node, NodeId, Run};
use loomwright::study::judge::Judgement;
use proptest::prelude::*;

use super::tests::{check, failing};

/// A judgement that shows only what is joined to what.
struct Shown(Judgement);

impl std::fmt::Debug for Shown {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let plan = &self.0.installation;
        let runs: Vec<_> = plan.runs.iter().map(|run| (run.from.0, run.to.0, run.leg, &run.name)).collect();
        let links: Vec<_> = plan.links.iter().map(|link| (link.nodes, link.kind)).collect();
        let batteries: Vec<_> = plan.batteries.iter().map(|one| one.nodes).collect();
        let converters: Vec<_> = plan.converters.iter().map(|one| (one.input, one.output)).collect();
        let loads: Vec<_> = plan.loads.iter().map(|one| (one.nodes, one.inverter)).collect();
        write!(out, "{runs:?}\n{links:?}\n{batteries:?}\n{converters:?}\n{loads:?}\n{:?}", plan.chassis)
    }
}

/// Nodes of the positive side.
fn plus() -> impl Strategy<Value = usize> {
    0..9_usize
}

/// Nodes of the negative side.
fn minus() -> impl Strategy<Value = usize> {
    9..14_usize
}

/// Two nodes of one side, and whether it is the negative.
fn pair() -> impl Strategy<Value = (usize, usize, bool)> {
    prop_oneof![3 => (plus(), plus(), Just(false)), 1 => (minus(), minus(), Just(true))]
}

prop_compose! {
    /// A plan of devices at random between random nodes; nothing of it need make sense.
    fn anything()(
        runs in proptest::collection::vec((pair(), any::<bool>(), ".{1,40}"), 0..24),
        links in proptest::collection::vec((pair(), 0..5_usize), 0..5),
        batteries in proptest::collection::vec((plus(), prop_oneof![minus(), plus()]), 0..4),
        alternators in proptest::collection::vec((plus(), minus()), 0..2),
        converters in proptest::collection::vec((plus(), plus(), minus(), 0..5_usize), 0..5),
        loads in proptest::collection::vec((plus(), minus(), any::<bool>(), plus(), minus(), 0..4_usize), 0..9),
        chassis in proptest::option::of(minus()),
        found in proptest::collection::vec((0..34_usize, 0..24_usize), 0..12),
    ) -> Shown {
        let mut judgement = failing().clone();
        let plan = &mut judgement.installation;
        let of = plan.clone();
        let rename = |index: usize| Node { name: format!("node {index}"), ..of.nodes[index].clone() };
        plan.nodes = (0..14).map(rename).collect();
        plan.chassis = chassis.map(NodeId);
        plan.runs = runs.iter().enumerate().map(|(index, ((from, to, minus), fused, name))| Run {
            name: name.clone(),
            circuit: None,
            twin: None,
            from: NodeId(*from),
            to: NodeId(*to),
            leg: if *minus { Leg::Negative } else { Leg::Positive },
            fuse: if *fused { of.runs[index % of.runs.len()].fuse } else { FuseChoice::None },
            ..of.runs[index % of.runs.len()].clone()
        }).collect();
        let kinds = [LinkKind::Isolator, LinkKind::Shunt, LinkKind::Relay, LinkKind::Diode, LinkKind::Joint];
        plan.links = links.iter().enumerate().map(|(index, ((from, to, _), kind))| Link {
            name: format!("link {index}"),
            kind: kinds[*kind],
            nodes: [NodeId(*from), NodeId(*to)],
            ..of.links[0].clone()
        }).collect();
        plan.batteries = batteries.iter().map(|(plus, minus)| {
            let mut one = of.batteries[0].clone();
            one.nodes = [NodeId(*plus), NodeId(*minus)];
            one
        }).collect();
        plan.alternators = alternators.iter().map(|(plus, minus)| {
            let mut one = of.alternators[0].clone();
            one.nodes = [NodeId(*plus), NodeId(*minus)];
            one
        }).collect();
        let kinds = [
            ConverterKind::DcDcCharger, ConverterKind::Inverter, ConverterKind::SolarController, ConverterKind::Buck,
            ConverterKind::ShoreCharger,
        ];
        plan.converters = converters.iter().map(|(input, output, minus, kind)| {
            let mut one = of.converters[0].clone();
            one.kind = kinds[*kind];
            one.input = (one.kind != ConverterKind::ShoreCharger).then_some([NodeId(*input), NodeId(*minus)]);
            one.output = (one.kind != ConverterKind::Inverter).then_some([NodeId(*output), NodeId(*minus)]);
            one
        }).collect();
        plan.arrays.clear();
        let inverter = plan.converters.iter().position(|one| one.kind == ConverterKind::Inverter);
        plan.loads = loads.iter().map(|(plus, minus, mains, ..)| {
            let mut one = of.loads[0].clone();
            one.inverter = inverter.filter(|_| *mains);
            one.nodes = one.inverter.is_none().then_some([NodeId(*plus), NodeId(*minus)]);
            one
        }).collect();
        // Circuits to some of the loads: with a return of their own, or back through the chassis.
        for (index, (plus, minus, _, from, back, wired)) in loads.iter().enumerate() {
            let (first, body) = (plan.runs.len(), of.runs[index % of.runs.len()].clone());
            let chassis = plan.chassis.is_some() && *wired == 1;
            if *wired == 0 || (*wired == 1 && !chassis) {
                continue;
            }
            let circuit = Some(format!("circuit {index}"));
            let twin = (!chassis).then_some(first + 1);
            let (from, to, leg) = (NodeId(*from), NodeId(*plus), Leg::Positive);
            plan.runs.push(Run { circuit: circuit.clone(), twin, from, to, leg, ..body.clone() });
            if !chassis {
                let (from, to, leg) = (NodeId(*back), NodeId(*minus), Leg::Negative);
                let mut segments = body.segments.clone();
                if *wired == 3 {
                    segments.extend(body.segments.iter().copied());
                }
                plan.runs.push(Run { circuit, twin: Some(first), from, to, leg, segments, ..body });
            }
        }
        for (finding, run) in found {
            if let (Some(finding), Some(run)) = (judgement.findings.get_mut(finding), plan.runs.get(run)) {
                finding.subject.clone_from(&run.name);
            }
        }
        Shown(judgement)
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_planned_is_drawn_whole_and_clear(judgement in anything()) {
        if let Err(fault) = check(&judgement.0) {
            prop_assert!(false, "{fault}");
        }
    }
}
