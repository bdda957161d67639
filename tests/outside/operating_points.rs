//! Operating points against ngspice, node by node within 1e-6 V, and loadabilities against a continuation with scipy
//! within 0.1 %: stored, and with feature `live` fresh. Options of ngspice: `tests/live/operating_points.py`.

use loomwright::converter::Losses;
use loomwright::network::{Branch, Converter, Demand, DemandKind, Network, OperatingPoint, Outcome, Source, solve};
use loomwright::quantity::uom::si::{
    electric_current::ampere, electric_potential::volt, electrical_resistance::ohm, power::watt,
};
use loomwright::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio};
use loomwright_tests::apart;
use serde_json::Value;

fn list(value: &Value, key: &str) -> Vec<Value> {
    value[key].as_array().cloned().unwrap_or_default()
}

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("{key} in {value}"))
}

fn nodes(value: &Value, key: &str) -> [usize; 2] {
    let both = value[key].as_array().expect("two nodes");
    [0, 1].map(|at| both[at].as_u64().expect("a node") as usize)
}

fn most(value: &Value, key: &str) -> Option<ElectricCurrent> {
    value[key].as_f64().map(ElectricCurrent::new::<ampere>)
}

fn source(value: &Value, nodes: [usize; 2], emf: &str) -> Source {
    Source {
        nodes,
        emf: ElectricPotential::new::<volt>(number(value, emf)),
        resistance: ElectricalResistance::new::<ohm>(number(value, "ohms")),
        limit: most(value, "limit"),
        one_way: value["one_way"].as_bool().unwrap_or(false),
    }
}

fn network(data: &Value) -> Network {
    let branches = list(data, "branches").into_iter().map(|one| Branch {
        nodes: nodes(&one, "nodes"),
        resistance: ElectricalResistance::new::<ohm>(number(&one, "ohms")),
        drop: ElectricPotential::new::<volt>(one["drop"].as_f64().unwrap_or(0.0)),
        one_way: one["one_way"].as_bool().unwrap_or(false),
    });
    let demands = list(data, "demands").into_iter().map(|one| Demand {
        nodes: nodes(&one, "nodes"),
        kind: match (one["watts"].as_f64(), one["amperes"].as_f64()) {
            (Some(watts), _) => DemandKind::Power(Power::new::<watt>(watts), most(&one, "limit")),
            (None, Some(amperes)) => DemandKind::Current(ElectricCurrent::new::<ampere>(amperes)),
            (None, None) => DemandKind::Resistance(ElectricalResistance::new::<ohm>(number(&one, "ohms"))),
        },
        lock_out: None,
    });
    let converters = list(data, "converters").into_iter().map(|one| Converter {
        input: nodes(&one, "input"),
        output: Source { one_way: true, ..source(&one, nodes(&one, "output"), "volts") },
        losses: Losses::flat(Ratio::from(number(&one, "efficiency")), Power::new::<watt>(number(&one, "no_load"))),
        input_limit: most(&one, "input_limit"),
        lock_out: None,
    });
    Network {
        nodes: data["nodes"].as_u64().expect("a number of nodes") as usize,
        branches: branches.collect(),
        sources: list(data, "sources").iter().map(|one| source(one, nodes(one, "nodes"), "emf")).collect(),
        demands: demands.collect(),
        converters: converters.collect(),
        relays: Vec::new(),
    }
}

fn settled(name: &str, network: &Network) -> OperatingPoint {
    match solve(network) {
        Ok(Outcome::Point(point)) => *point,
        other => panic!("{name}: {other:?}"),
    }
}

/// Largest difference of a node in V; the residual and the balance of power are held besides.
fn differs(name: &str, network: &Network, volts: &[Value]) -> f64 {
    let point = settled(name, network);
    assert!(point.residual.value < 1e-8, "{name}: {} A do not add up", point.residual.value);
    assert!(point.imbalance().value < 1e-9, "{name}: power does not add up by {}", point.imbalance().value);
    let difference =
        |(node, volts): (usize, &Value)| apart(point.between([node, 0]).value, volts.as_f64().expect("a voltage"));
    assert_eq!(volts.len(), network.nodes, "{name}");
    volts.iter().enumerate().map(difference).fold(0.0, f64::max)
}

fn hold(stored: &Value) {
    let all = stored["networks"].as_object().expect("networks");
    let (mut worst, mut loads) = (0.0_f64, 0);
    for (name, one) in all {
        let network = network(&one["network"]);
        let difference = differs(name, &network, &list(one, "volts"));
        assert!(difference < 1e-6, "{name}: {difference} V apart");
        worst = worst.max(difference);
        if let Some(loadability) = one["loadability"].as_f64() {
            let ours = settled(name, &network).stability_margin.expect("constant powers have a margin").value;
            assert!(apart(ours, loadability) < 1e-3 * loadability, "{name}: {ours}, continuation {loadability}");
            loads += 1;
        }
    }
    println!("{} networks, at most {worst:e} V apart; {loads} loadabilities within 0.1 %", all.len());
    assert!(all.len() >= 25 && loads >= 10);
}

fn parse(text: &str) -> Value {
    serde_json::from_str(text).expect("the file is JSON")
}

#[test]
fn nodes_stand_at_the_voltages_of_ngspice() {
    hold(&parse(include_str!("../reference/operating_points.json")));
}

/// The factor up to which the near-collapse networks hold: above it there is no point, and the verdict says which
/// share of the demand is left.
#[test]
fn beyond_the_loadability_there_is_no_point() {
    let stored = parse(include_str!("../reference/operating_points.json"));
    for (name, one) in stored["networks"].as_object().expect("networks") {
        let Some(loadability) = one["loadability"].as_f64() else { continue };
        for (factor, exists) in [(0.998 * loadability, true), (1.002 * loadability, false), (3.0 * loadability, false)]
        {
            let mut network = network(&one["network"]);
            for demand in &mut network.demands {
                if let DemandKind::Power(power, _) = &mut demand.kind {
                    *power *= factor;
                }
            }
            match solve(&network).expect("it can be computed") {
                Outcome::Point(point) => {
                    assert!(exists, "{name} settles at {factor} times its demand");
                    // High roots only: no demand below the half of what it has without load.
                    for demand in &network.demands {
                        assert!(point.between(demand.nodes).value > 4.0, "{name}");
                    }
                }
                Outcome::None(none) => {
                    assert!(!exists, "{name} does not settle at {factor} times its demand");
                    let left = none.load_factor.value * factor;
                    assert!(
                        apart(left, loadability) < 1e-3 * loadability,
                        "{name}: {left}, continuation {loadability}"
                    );
                }
            }
        }
    }
}

#[cfg(feature = "live")]
mod live {
    use super::{differs, hold, list, network, parse};
    use loomwright_tests::live::printed;

    #[test]
    fn nodes_stand_at_the_voltages_of_ngspice_now() {
        hold(&parse(&printed("operating_points.py", &[])));
    }

    /// 10 000 nodes, too many to store.
    #[test]
    fn ten_thousand_nodes() {
        let found = parse(&printed("operating_points.py", &["10000"]));
        for (name, one) in found["networks"].as_object().expect("networks") {
            let difference = differs(name, &network(&one["network"]), &list(one, "volts"));
            println!("{name}: {difference:e} V apart");
            assert!(difference < 1e-6, "{name}: {difference} V apart");
        }
    }
}
