//! Networks for the benches; `network_peers.py` builds the radial one in the same way.

use loomwright::network::{Branch, Converter, Demand, DemandKind, Network, Source};
use loomwright::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, FromText, Power};

fn ohm(value: f64) -> ElectricalResistance {
    ElectricalResistance::from_text("1 ohm").expect("a resistance") * value
}

fn volts(value: f64) -> ElectricPotential {
    ElectricPotential::from_text("1 V").expect("a voltage") * value
}

fn amperes(value: f64) -> ElectricCurrent {
    ElectricCurrent::from_text("1 A").expect("a current") * value
}

fn watts(value: f64) -> Power {
    Power::from_text("1 W").expect("a power") * value
}

/// A tree below node 1, 24 V: even nodes hang on the node of half their number, odd ones on the one before; every
/// node draws constant power, 2.4 kW together.
#[allow(dead_code, reason = "each bench takes what it needs")]
pub fn radial(nodes: usize) -> Network {
    let mut network = Network { nodes: nodes + 1, ..Network::default() };
    network.sources.push(Source::new([1, 0], volts(25.6), ohm(1e-3)));
    let (ohm, watt) = (ohm(1.0), watts(1.0));
    for node in 2..=nodes {
        let parent = if node % 2 == 0 { node / 2 } else { node - 1 };
        // Thick at the root, thin at the leaves.
        network.branches.push(Branch::new([parent, node], ohm * (2e-3 * node as f64 / 16.0)));
        network
            .demands
            .push(Demand::power([node, 0], watt * (2400.0 * (1.0 + (node % 7) as f64) / (4.0 * nodes as f64))));
    }
    network
}

/// Sixty nodes, two wires: two batteries, an alternator at its limit, a ring of bars, a charger, a buck converter,
/// sixteen circuits with returns of their own over a shared negative.
#[allow(dead_code, reason = "each bench takes what it needs")]
pub fn sixty() -> Network {
    let mut network = Network { nodes: 60, ..Network::default() };
    // 0 battery −, 1 +; 2 −, 3 + of the second; 4 −, 5 + of the alternator; 6 to 9 positive bars in a ring, 10 to 13
    // negative ones; 14 to 17 the low-voltage bar; circuits on top.
    let mut branch =
        |one, other, milliohms: f64| network.branches.push(Branch::new([one, other], ohm(milliohms * 1e-3)));
    for (one, other, milliohms) in [
        (1, 6, 0.6),
        (3, 6, 0.7),
        (0, 10, 0.5),
        (2, 10, 0.6),
        (5, 18, 0.8),
        (4, 10, 0.9),
        (18, 19, 0.5),
        (6, 7, 0.9),
        (7, 8, 1.1),
        (8, 9, 1.0),
        (9, 6, 1.3),
        (10, 11, 0.9),
        (11, 12, 1.1),
        (12, 13, 1.0),
        (13, 10, 1.3),
        (14, 16, 2.0),
        (15, 17, 2.0),
        (20, 6, 1.2),
        (21, 10, 1.2),
        (22, 8, 1.5),
        (23, 12, 1.5),
        (24, 18, 2.5),
        (25, 10, 2.5),
    ] {
        branch(one, other, milliohms);
    }
    for circuit in 0..17 {
        let (plus, minus) = (26 + 2 * circuit, 27 + 2 * circuit);
        let (from, back) = if circuit < 13 { (6 + circuit % 4, 10 + circuit % 4) } else { (16, 17) };
        let milliohms = 8.0 + 3.0 * circuit as f64;
        branch(from, plus, milliohms);
        branch(back, minus, milliohms);
        let light = if circuit < 13 { 1.0 } else { 0.1 };
        network.demands.push(match circuit % 3 {
            0 => Demand::power([plus, minus], watts(light * (30.0 + 5.0 * circuit as f64))),
            1 => Demand::current([plus, minus], amperes(light * (2.0 + 0.5 * circuit as f64))),
            _ => Demand { nodes: [plus, minus], kind: DemandKind::Resistance(ohm(4.0)), lock_out: None },
        });
    }
    network.sources.push(Source::new([1, 0], volts(13.1), ohm(4e-3)));
    network.sources.push(Source::new([3, 2], volts(13.0), ohm(5e-3)));
    let alternator =
        Source { limit: Some(amperes(70.0)), one_way: true, ..Source::new([5, 4], volts(14.2), ohm(1e-3)) };
    network.sources.push(alternator);
    let losses = loomwright::converter::Losses::flat(0.92.into(), watts(3.0));
    let output = |nodes, voltage, most| Source {
        limit: Some(amperes(most)),
        one_way: true,
        ..Source::new(nodes, volts(voltage), ohm(1e-3))
    };
    for (input, output) in [([24, 25], output([20, 21], 14.4, 40.0)), ([22, 23], output([14, 15], 5.2, 30.0))] {
        network.converters.push(Converter { input, output, losses, input_limit: None, lock_out: None });
    }
    network.demands.push(Demand::current([19, 10], amperes(12.0)));
    network
}
