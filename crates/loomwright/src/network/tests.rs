use super::*;
use crate::converter::LockOut;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, FromText, Power, Ratio};
use approx::assert_relative_eq;
use proptest::prelude::*;
use uom::si::{electric_current::ampere, electric_potential::volt, power::watt};

fn ohm(value: f64) -> ElectricalResistance {
    ElectricalResistance::new::<uom::si::electrical_resistance::ohm>(value)
}

fn volts(value: f64) -> ElectricPotential {
    ElectricPotential::new::<volt>(value)
}

fn feeder(ohms: f64, watts: f64) -> Network {
    Network {
        nodes: 3,
        branches: vec![Branch::new([1, 2], ohm(ohms - 1e-4))],
        sources: vec![Source::new([1, 0], volts(12.0), ohm(1e-4))],
        demands: vec![Demand::power([2, 0], Power::new::<watt>(watts))],
        ..Network::default()
    }
}

#[test]
fn constant_power_feeder_ends_at_a_quarter_of_the_square() {
    // Closed form: P_max = V²/(4R) = 144/(4·0.1) = 360 W; below it V = V0/2·(1 + √(1 − P/P_max)).
    for share in [0.1, 0.5, 0.9, 0.99] {
        let Ok(Outcome::Point(point)) = solve(&feeder(0.1, 360.0 * share)) else {
            panic!("{share} of the limit settles")
        };
        let expected = 6.0 * (1.0 + (1.0_f64 - share).sqrt());
        assert_relative_eq!(point.between([2, 0]).value, expected, max_relative = 1e-9);
        assert_relative_eq!(point.stability_margin.unwrap().value, 1.0 / share, max_relative = 1e-3);
        assert!(point.imbalance().value < 1e-9, "{}", point.imbalance().value);
    }
    for share in [1.001, 1.1, 3.0] {
        let Ok(Outcome::None(none)) = solve(&feeder(0.1, 360.0 * share)) else { panic!("{share} settles") };
        assert_relative_eq!(none.load_factor.value, 1.0 / share, max_relative = 1e-3);
    }
}

#[test]
fn loops_and_islands() {
    // Two equal batteries feed a ring of three equal branches; a fourth node hangs on nothing.
    let branch = |one, other| Branch::new([one, other], ohm(1.0));
    let source = |node| Source::new([node, 0], volts(12.0), ohm(1.0));
    let network = Network {
        nodes: 5,
        branches: vec![branch(1, 2), branch(2, 3), branch(3, 1)],
        sources: vec![source(1), source(2)],
        demands: vec![
            Demand::current([3, 0], ElectricCurrent::from_text("2 A").unwrap()),
            Demand::power([4, 0], Power::from_text("5 W").unwrap()),
        ],
        ..Network::default()
    };
    let Ok(Outcome::Point(point)) = solve(&network) else { panic!("settles") };
    // By symmetry each battery gives 1 A, so nodes 1 and 2 stand at 11 V, and node 3 one volt lower.
    assert_relative_eq!(point.between([1, 0]).value, 11.0, max_relative = 1e-12);
    assert_relative_eq!(point.between([3, 0]).value, 10.0, max_relative = 1e-12);
    assert_eq!(point.unsupplied, vec![4]);
    assert_eq!(point.demand_currents[1].value, 0.0);
}

proptest! {
    /// Currents add up at every node, whatever the tree and wherever loops close.
    #[test]
    fn currents_add_up(parents in proptest::collection::vec(any::<prop::sample::Index>(), 2..60), extra in any::<bool>()) {
        let mut network = Network { nodes: parents.len() + 2, ..Network::default() };
        network.sources.push(Source::new([1, 0], volts(24.0), ohm(0.01)));
        for (index, parent) in parents.iter().enumerate() {
            let node = index + 2;
            network.branches.push(Branch::new([parent.index(node - 1) + 1, node], ohm(0.002 + 0.001 * index as f64)));
            network.demands.push(Demand::current([node, 0], ElectricCurrent::new::<ampere>(0.1 * index as f64)));
        }
        if extra {
            network.branches.push(Branch::new([2, parents.len() + 1], ohm(0.01)));
        }
        if network.branches.iter().all(|branch| branch.nodes[0] != branch.nodes[1])
            && let Outcome::Point(point) = solve(&network).unwrap()
        {
            prop_assert!(point.residual.value < 1e-8, "{}", point.residual.value);
        }
    }
}

fn amperes(value: f64) -> ElectricCurrent {
    ElectricCurrent::new::<ampere>(value)
}

fn settled(network: &Network) -> OperatingPoint {
    match solve(network) {
        Ok(Outcome::Point(point)) => *point,
        other => panic!("{other:?}"),
    }
}

/// Stops at 10.5 V, starts again at `restarts`.
fn locking(restarts: f64) -> Network {
    let mut network = feeder(0.05, 500.0);
    network.demands[0].lock_out = Some(LockOut::new(volts(10.5), volts(restarts)).unwrap());
    network
}

#[test]
fn a_consumer_that_pulls_itself_down_locks_out() {
    // V = 6·(1 + √(1 − 4·0.05·500/144)) = 9.32 V, below 10.5 V; without load 12 V.
    let stays_off = settled(&locking(12.5));
    assert_eq!(stays_off.demand_states, vec![DemandState::LockedOut]);
    assert!(stays_off.chatters.is_empty() && stays_off.demand_currents[0].value == 0.0);
    assert_eq!(settled(&locking(11.5)).chatters, vec![0]);
    // Collapse ends the same way: 1 kW over 50 mΩ has no operating point, but a voltage at which it stops.
    let mut collapsing = locking(11.5);
    collapsing.demands[0].kind = DemandKind::Power(Power::new::<watt>(1000.0), None);
    assert_eq!(settled(&collapsing).demand_states, vec![DemandState::LockedOut]);
}

#[test]
fn a_limit_of_current_holds_a_demand_down() {
    let mut network = feeder(0.05, 1000.0);
    network.demands[0].kind = DemandKind::Power(Power::new::<watt>(1000.0), Some(amperes(60.0)));
    let point = settled(&network);
    assert_eq!(point.demand_states, vec![DemandState::Limited]);
    assert_relative_eq!(point.between([2, 0]).value, 12.0 - 60.0 * 0.05, max_relative = 1e-12);
    assert!(point.stability_margin.is_none(), "a constant current does not collapse");
}

#[test]
fn an_alternator_at_its_limit_lets_the_battery_step_in() {
    let alternator =
        Source { limit: Some(amperes(40.0)), one_way: true, ..Source::new([1, 0], volts(14.2), ohm(1e-3)) };
    let battery = Source { one_way: true, ..Source::new([1, 0], volts(12.6), ohm(0.01)) };
    let with = |drawn: f64| Network {
        nodes: 2,
        sources: vec![battery, alternator],
        demands: vec![Demand::power([1, 0], Power::new::<watt>(drawn))],
        ..Network::default()
    };
    let light = settled(&with(400.0));
    assert_eq!(light.source_states, vec![SourceState::Idle, SourceState::Holds]);
    let heavy = settled(&with(900.0));
    assert_eq!(heavy.source_states, vec![SourceState::Holds, SourceState::Limited]);
    // 12.6 V − 10 mΩ·(I − 40 A), with I = 900 W over that voltage.
    let across = heavy.between([1, 0]).value;
    assert_relative_eq!(across, 12.6 - 0.01 * (900.0 / across - 40.0), max_relative = 1e-9);
}

#[test]
fn what_cannot_be_computed_is_named() {
    let error = |change: &dyn Fn(&mut Network)| {
        let mut network = feeder(0.05, 100.0);
        change(&mut network);
        solve(&network).unwrap_err()
    };
    assert_eq!(error(&|one| one.demands[0].nodes = [7, 0]), NetworkError::NoSuchNode(7));
    assert_eq!(error(&|one| one.branches[0].resistance = ohm(0.0)), NetworkError::ZeroResistance(1, 2));
    assert_eq!(error(&|one| one.branches[0].resistance = ohm(f64::NAN)), NetworkError::Value(1, 2));
    assert_eq!(
        error(&|one| one.demands[0].kind = DemandKind::Power(Power::new::<watt>(-1.0), None)),
        NetworkError::Value(2, 0)
    );
    let stiff = Source::new([1, 0], volts(12.0), ohm(0.0));
    assert_eq!(
        error(&|one| one.sources = vec![stiff, stiff]),
        NetworkError::StiffSources { sources: [0, 1], nodes: [1, 0] }
    );
    for [emf, limit] in [[f64::NAN, 40.0], [12.0, f64::NAN], [12.0, -1.0]] {
        let source = Source { limit: Some(amperes(limit)), ..Source::new([1, 0], volts(emf), ohm(0.1)) };
        assert_eq!(error(&|one| one.sources = vec![source]), NetworkError::Value(1, 0), "{emf} V, {limit} A");
    }
    // Beside one with a resistance it is the only stiff one.
    let soft = Source::new([1, 0], volts(11.0), ohm(0.1));
    assert_eq!(error(&|one| one.sources = vec![stiff, soft]), NetworkError::ZeroResistance(1, 0));
    let losses = crate::converter::Losses::flat(Ratio::from(0.9), Power::default());
    let converter = |input, output| Converter {
        input,
        output: Source::new(output, volts(5.0), ohm(1e-3)),
        losses,
        input_limit: None,
        lock_out: None,
    };
    let own = converter([1, 0], [2, 0]);
    assert_eq!(
        error(&|one| one.converters = vec![own]),
        NetworkError::FeedsItself { converter: 0, input: 1, output: 2 }
    );
    let circle = error(&|one| {
        one.nodes = 5;
        one.converters = vec![converter([1, 0], [3, 0]), converter([3, 0], [4, 0]), converter([4, 0], [3, 0])];
    });
    assert_eq!(circle, NetworkError::ConverterLoop { converters: vec![1, 2], nodes: vec![4, 3] });
}

/// The rate that `shares` tells is what a small change of resistance brings.
#[test]
fn shares_are_the_slope_of_the_voltage() {
    let network = |milliohm: f64| Network {
        nodes: 4,
        branches: vec![Branch::new([1, 2], ohm(0.01 + 1e-3 * milliohm)), Branch::new([2, 3], ohm(0.02))],
        sources: vec![Source::new([1, 0], volts(12.6), ohm(0.005))],
        demands: vec![
            Demand::power([2, 0], Power::new::<watt>(150.0)),
            Demand::power([3, 0], Power::new::<watt>(200.0)),
        ],
        ..Network::default()
    };
    let share = shares(&network(0.0), [3, 0]).unwrap().unwrap()[0].value;
    let current = settled(&network(0.0)).branch_currents[0].value;
    let step = 1e-3;
    let slope = (settled(&network(step)).between([3, 0]).value - settled(&network(-step)).between([3, 0]).value)
        / (2e-3 * step);
    assert_relative_eq!(-slope, current * share, max_relative = 1e-6);
}

/// Kept memory changes nothing: other values, other states, another topology in between.
#[test]
fn a_workbench_answers_as_a_fresh_start_does() {
    let mut bench = Workbench::default();
    let digits = |outcome: Result<Outcome, NetworkError>| format!("{outcome:?}");
    let mut limited = feeder(0.05, 1000.0);
    limited.demands[0].kind = DemandKind::Power(Power::new::<watt>(1000.0), Some(amperes(60.0)));
    for network in [feeder(0.1, 300.0), limited, feeder(0.1, 400.0), locking(11.5), feeder(0.2, 30.0)] {
        assert_eq!(digits(bench.solve(&network)), digits(solve(&network)));
        assert_eq!(digits(bench.operating_point(&network)), digits(operating_point(&network)));
    }
    let mut other = feeder(0.1, 100.0);
    other.demands[0].nodes = [1, 0];
    assert_eq!(digits(bench.solve(&other)), digits(solve(&other)));
    assert!(bench.solve(&Network { demands: vec![Demand::power([9, 0], Power::default())], ..other }).is_err());
    assert_eq!(digits(bench.solve(&feeder(0.1, 100.0))), digits(solve(&feeder(0.1, 100.0))));
}

/// A battery of 12.6 V, 10 mΩ feeds a load over a relay and 20 mΩ: with 20 A flowing it sees 12.4 V, open 12.6 V.
fn behind_a_relay(closes: f64, opens: f64, closed: bool) -> OperatingPoint {
    let at = crate::source::SensingRelay { closes: volts(closes), opens: volts(opens) };
    let network = Network {
        nodes: 3,
        branches: vec![Branch::new([1, 2], ohm(0.02))],
        sources: vec![Source::new([1, 0], volts(12.6), ohm(0.01))],
        demands: vec![Demand::current([2, 0], ElectricCurrent::new::<ampere>(20.0))],
        relays: vec![Relay { branch: 0, senses: [1, 0], at, closed }],
        ..Network::default()
    };
    let Ok(Outcome::Point(point)) = solve(&network) else { panic!("settles") };
    *point
}

#[test]
fn a_relay_stays_between_its_voltages_and_turns_beyond_them() {
    let is_closed = |point: &OperatingPoint| point.open_branches.is_empty();
    // Between opening and closing it stays as it was.
    assert!(is_closed(&behind_a_relay(13.0, 12.0, true)) && !is_closed(&behind_a_relay(13.0, 12.0, false)));
    // Closed it would see 12.4 V, which does not open it.
    let closing = behind_a_relay(12.5, 12.0, false);
    assert!(is_closed(&closing) && closing.chattering_relays.is_empty());
    assert_relative_eq!(closing.between([1, 0]).value, 12.4, epsilon = 1e-9);
    // 12.4 V opens it, 12.6 V would close it again: without end. It is left open.
    let chattering = behind_a_relay(12.55, 12.5, false);
    assert!(!is_closed(&chattering) && chattering.chattering_relays == [0]);
    assert_eq!(chattering.unsupplied, [2]);
    // Opening it falls below what closes it: it stays open for good.
    let open = behind_a_relay(12.8, 12.5, true);
    assert!(!is_closed(&open) && open.chattering_relays.is_empty());
}

#[test]
fn a_relay_without_branch_or_with_crossed_voltages_is_named() {
    let at = |closes, opens| crate::source::SensingRelay { closes: volts(closes), opens: volts(opens) };
    for (branch, at) in [(7, at(13.0, 12.0)), (0, at(12.0, 12.0)), (0, at(f64::NAN, 12.0))] {
        let relays = vec![Relay { branch, senses: [1, 0], at, closed: true }];
        let network = Network { relays, ..feeder(0.1, 10.0) };
        assert_eq!(solve(&network).unwrap_err(), NetworkError::Relay(0));
    }
}

/// A network with its constant powers so many times as large.
fn times(network: &Network, factor: f64) -> Network {
    let mut scaled = network.clone();
    for demand in &mut scaled.demands {
        if let DemandKind::Power(power, limit) = demand.kind {
            demand.kind = DemandKind::Power(power * factor, limit);
        }
    }
    scaled
}

/// How many eliminations a network takes with its margin.
fn eliminations(network: &Network) -> usize {
    let mut bench = Workbench::default();
    assert_eq!(bench.work(), 0);
    bench.solve(network).unwrap();
    3 * bench.work() / bench.solution()
}

#[test]
fn a_margin_takes_few_eliminations() {
    // Halving from a thousand down to 5e-4 would take twenty points of four eliminations each.
    let few = eliminations(&feeder(0.1, 100.0));
    assert!((3..40).contains(&few), "{few}");
}

proptest! {
    /// Below the margin there is an operating point, and above it none: by solving at both, 1 % away (it is sought to 0.05 %).
    /// Sources reach their limits and idle ones step in on the way there. Where an idle battery would step in only after the
    /// voltage has collapsed to it, there may be points above, which nobody should count on.
    #[test]
    fn the_margin_is_where_points_end(
        batteries in proptest::collection::vec((11.5_f64..13.5, 0.002_f64..0.1), 1..3),
        alternator in proptest::option::of((12.0_f64..14.5, 5.0_f64..150.0)),
        runs in proptest::collection::vec((any::<prop::sample::Index>(), 0.001_f64..0.05, 0.0_f64..300.0, 0.0_f64..5.0), 1..6),
    ) {
        let mut network = Network { nodes: runs.len() + 2, ..Network::default() };
        let idles = batteries.iter().any(|(emf, _)| *emf < 12.5);
        for (emf, resistance) in batteries {
            network.sources.push(Source { one_way: emf < 12.5, ..Source::new([1, 0], volts(emf), ohm(resistance)) });
        }
        if let Some((emf, limit)) = alternator {
            let limit = Some(amperes(limit));
            network.sources.push(Source { limit, one_way: true, ..Source::new([2, 0], volts(emf), ohm(1e-3)) });
        }
        for (index, (parent, resistance, watts, current)) in runs.into_iter().enumerate() {
            let node = index + 2;
            network.branches.push(Branch::new([parent.index(node - 1) + 1, node], ohm(resistance)));
            network.demands.push(Demand::power([node, 0], Power::new::<watt>(watts)));
            network.demands.push(Demand::current([node, 0], amperes(current)));
        }
        let exists = |factor: f64| matches!(solve(&times(&network, factor)), Ok(Outcome::Point(_)));
        match solve(&network) {
            Ok(Outcome::Point(point)) => match point.stability_margin {
                Some(margin) => {
                    let margin = margin.value;
                    prop_assert!(margin >= 1.0 && exists(0.99 * margin), "no point below {margin}");
                    prop_assert!(idles || !exists(1.01 * margin), "a point above {margin}");
                }
                None => prop_assert!(exists(900.0)),
            },
            Ok(Outcome::None(none)) => {
                let factor = none.load_factor.value;
                prop_assert!(factor < 1.0 && exists(0.99 * factor), "no point below {factor}");
                prop_assert!(idles || !exists(1.01 * factor), "a point above {factor}");
            }
            Err(error) => prop_assert!(false, "{error}"),
        }
    }
}

/// A converter to 5 V, 90 % efficient, over 0.1 Ω from 12 V, into a resistance.
fn converting(load: f64, input_limit: Option<f64>, stops: Option<f64>) -> OperatingPoint {
    let converter = Converter {
        input: [1, 0],
        output: Source::new([2, 0], volts(5.0), ohm(1e-4)),
        losses: crate::converter::Losses::flat(Ratio::from(0.9), Power::default()),
        input_limit: input_limit.map(amperes),
        lock_out: stops.map(|stops| LockOut::new(volts(stops), volts(stops + 0.5)).unwrap()),
    };
    let network = Network {
        nodes: 3,
        sources: vec![Source::new([1, 0], volts(12.0), ohm(0.1))],
        demands: vec![Demand { kind: DemandKind::Resistance(ohm(load)), ..Demand::current([2, 0], amperes(0.0)) }],
        converters: vec![converter],
        ..Network::default()
    };
    settled(&network)
}

#[test]
fn a_converter_regulates_falls_short_and_locks_out() {
    // 25 W/0.9 = 27.8 W at 12 V behind 0.1 Ω: V = 6·(1 + √(1 − 27.8/360)) = 11.76 V.
    let point = converting(1.0, None, Some(9.0));
    assert_relative_eq!(point.between([2, 0]).value, 5.0, max_relative = 1e-3);
    assert_relative_eq!(point.between([1, 0]).value, 11.764, max_relative = 1e-3);
    // Held to 1 A its input takes 11.9 W, and 10.71 W stand over 1 Ω: 3.27 V.
    let short = converting(1.0, Some(1.0), None);
    assert_relative_eq!(short.between([1, 0]).value, 11.9, max_relative = 1e-6);
    assert_relative_eq!(short.between([2, 0]).value, (11.9_f64 * 0.9).sqrt(), max_relative = 1e-3);
    // 278 W would take its input to 8.9 V, and 556 W are more than there is: either way it stops, and feeds nothing.
    for load in [0.1, 0.05] {
        let locked = converting(load, None, Some(9.0));
        assert_relative_eq!(locked.between([1, 0]).value, 12.0, max_relative = 1e-9);
        assert_eq!(locked.unsupplied, [2], "{locked:?}");
    }
}
