//! The kernel of a step against closed forms, by hand, and over random banks.

use proptest::prelude::*;

use super::band::{days, latent_means};
use super::bank::{Bank, Weathered};
use super::node::{Ask, Settled, Source, settle};
use crate::data::tables::constants;
use crate::installation::{Battery, NodeId};
use crate::quantity::{ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Ratio, celsius};
use crate::source::{Chemistry, Storage};
use uom::si::electric_charge::ampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;

/// Nothing but the bank's own voltage and resistance limits it.
const OPEN: Weathered = Weathered { floor: 0.0, accepts: f64::INFINITY, colder: 1.0, fading: 1.0 };

fn source(set: f64, most: f64, power: f64) -> Source {
    Source { set, most, power }
}

fn step(
    bank: &Bank,
    charge: f64,
    hours: f64,
    weathered: &Weathered,
    sources: &[Source],
    ask: &Ask,
) -> (Settled, Vec<f64>) {
    let mut given = vec![0.0; sources.len()];
    let settled = settle(bank, charge, hours, weathered, sources, ask, &mut given);
    (settled, given)
}

/// A row of an analytic charge: empty voltage, V/Ah, Ω, A, V, tail current in A; then Ah and h at constant current, Ah and h at
/// constant voltage.
type Analytic = ([f64; 6], [f64; 4]);

/// charge_cccv_analytic.csv (numpy 2.4.6, scipy 1.17.1; computed), without its names.
fn analytic() -> Vec<Analytic> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/reference/charge_cccv_analytic.csv");
    let text = std::fs::read_to_string(path).unwrap();
    let lines = text.lines().filter(|line| line.starts_with("CC"));
    let numbers = lines.map(|line| line.split(',').skip(1).map(|cell| cell.parse().unwrap()).collect::<Vec<f64>>());
    let rows: Vec<Analytic> =
        numbers.map(|row| (row[..6].try_into().unwrap(), row[6..10].try_into().unwrap())).collect();
    assert_eq!(rows.len(), 5);
    rows
}

/// Charges a row's bank in steps of so many hours: Ah and h at constant current, then to the tail current.
fn charged(row: &[f64; 6], hours: f64) -> [f64; 4] {
    let [empty, slope, ohms, most, set, tail] = *row;
    let bank = Bank::linear(400.0, empty, slope, ohms);
    let sources = [source(set, most, f64::INFINITY)];
    let (mut charge, mut time) = (0.0, 0.0);
    let mut ends: Option<[f64; 2]> = None;
    let mut before: Option<[f64; 3]> = None;
    loop {
        let (settled, given) = step(&bank, charge, hours, &OPEN, &sources, &Ask::default());
        assert!((given[0] - settled.current).abs() < 1e-12 * most);
        assert!((settled.charge - charge - settled.current * hours).abs() < 1e-12 * 400.0);
        if ends.is_none() && settled.current < most * (1.0 - 1e-12) {
            // Within the step in which it begins to fall: what has entered beyond the constant current of whole steps is
            // told by the voltage, which the line reaches at this charge.
            let reached = ((set - ohms * most - empty) / slope).max(0.0);
            ends = Some([reached, time + (reached - charge) / most]);
        }
        // The mean current of a step is that of its middle.
        let now = [time + 0.5 * hours, settled.current, charge + 0.5 * settled.current * hours];
        if settled.current < tail {
            let [then, over, held] = before.unwrap_or(now);
            // The current falls as an exponential: straight in its logarithm between two middles.
            let part = if before.is_some() { (over / tail).ln() / (over / now[1]).ln() } else { 1.0 };
            let [reached, ended] = ends.unwrap_or_default();
            return [reached, ended, held + part * (now[2] - held) - reached, then + part * (now[0] - then) - ended];
        }
        before = Some(now);
        charge = settled.charge;
        time += hours;
        assert!(time < 100.0, "it never ends: {row:?}");
    }
}

fn worst(hours: f64) -> f64 {
    let mut worst: f64 = 0.0;
    for (row, expected) in &analytic() {
        for (ours, theirs) in charged(row, hours).into_iter().zip(expected) {
            // Of the whole charge or time, so that a part of nothing does not divide.
            let deviation = if *theirs == 0.0 { ours } else { ours / theirs - 1.0 };
            worst = worst.max(deviation.abs());
        }
    }
    worst
}

/// Steps of 10 s follow the analytic charge of a linear battery within 0.01 %: the middle of a step is right to the square of
/// its length. Steps of 15 min stay within 0.2 %.
#[test]
fn charges_as_the_closed_form() {
    assert!(worst(10.0 / 3600.0) < 1e-4);
    assert!(worst(0.25) < 2e-3);
}

/// In steps of 1 s or less nothing moves, and a constant power is that of the closed form, `V = (E + √(E² − 4PR))/2`; row
/// DC12 of the shared examples is 12 V, 50 mΩ, 300 W: 10.5826 V.
#[test]
fn constant_power_by_the_quadratic() {
    let bank = Bank::linear(1000.0, 12.0, 0.0, 0.05);
    for (power, printed) in [(300.0, Some(10.5826)), (50.0, None), (719.9, None)] {
        let (settled, _) = step(&bank, 500.0, 1e-7, &OPEN, &[], &Ask { power, ..Ask::default() });
        let volts = 0.5 * (12.0 + (144.0_f64 - 4.0 * power * 0.05).sqrt());
        assert!((settled.volts - volts).abs() < 1e-9, "{settled:?} {volts}");
        assert!(printed.is_none_or(|printed| (settled.volts - printed).abs() < 6e-5));
        assert!((settled.volts * settled.current + power).abs() < 1e-9 && settled.served == 1.0);
    }
    // More than E²/4R = 720 W there is not: it gives that, at half its voltage.
    let (settled, _) = step(&bank, 500.0, 1e-7, &OPEN, &[], &Ask { power: 1440.0, ..Ask::default() });
    assert!((settled.volts - 6.0).abs() < 1e-6 && (settled.served - 0.5).abs() < 1e-6, "{settled:?}");
}

/// The higher set voltage gives all that it can before the lower gives anything, and holds the bus alone above the lower one.
#[test]
fn the_higher_voltage_delivers_last() {
    let bank = Bank::linear(1e6, 12.8, 0.0, 0.02);
    let both = [source(13.8, 20.0, f64::INFINITY), source(14.4, 30.0, f64::INFINITY)];
    // Empty enough: 50 A lift it to 13.8 V exactly; with less both give all.
    let low = Bank::linear(1e6, 12.7, 0.0, 0.02);
    let (settled, given) = step(&low, 0.0, 0.01, &OPEN, &both, &Ask::default());
    assert!((settled.volts - 13.7).abs() < 1e-9 && given == [20.0, 30.0], "{settled:?} {given:?}");
    // At 13.0 V 30 A lift it to 13.6 V, and the lower gives 10 A more to hold 13.8 V.
    let middle = Bank::linear(1e6, 13.0, 0.0, 0.02);
    let (settled, given) = step(&middle, 0.0, 0.01, &OPEN, &both, &Ask::default());
    assert!((settled.volts - 13.8).abs() < 1e-9 && (given[0] - 10.0).abs() < 1e-6 && given[1] == 30.0, "{given:?}");
    // At 13.5 V 30 A alone lift it above 13.8 V; at 14.0 V the higher holds 14.4 V with 20 A.
    let high = Bank::linear(1e6, 13.5, 0.0, 0.02);
    let (settled, given) = step(&high, 0.0, 0.01, &OPEN, &both, &Ask::default());
    assert!((settled.volts - 14.1).abs() < 1e-9 && given == [0.0, 30.0], "{settled:?} {given:?}");
    let full = Bank::linear(1e6, 14.0, 0.0, 0.02);
    let (settled, given) = step(&full, 0.0, 0.01, &OPEN, &both, &Ask { current: 3.0, ..Ask::default() });
    assert!((settled.volts - 14.4).abs() < 1e-9 && given[0] == 0.0 && (given[1] - 23.0).abs() < 1e-6, "{given:?}");
    // Of two at one voltage each gives its share: 12.8 V takes 50 A at 13.8 V of the 80 A there are.
    let pair = [source(13.8, 20.0, f64::INFINITY), source(13.8, 60.0, f64::INFINITY)];
    let (settled, given) = step(&bank, 0.0, 0.01, &OPEN, &pair, &Ask::default());
    assert!((given[0] - 12.5).abs() < 1e-6 && (given[1] - 37.5).abs() < 1e-6 && settled.volts == 13.8, "{given:?}");
}

/// At its floor it gives what is left over the step and no more; with 6 A of sun for 12 A asked, half is served.
#[test]
fn a_floor_is_not_passed() {
    let bank = Bank::linear(100.0, 12.0, 0.0, 1e-9);
    let weathered = Weathered { floor: 50.0, ..OPEN };
    let (settled, _) = step(&bank, 50.0, 0.25, &weathered, &[], &Ask { current: 12.0, ..Ask::default() });
    assert_eq!((settled.served, settled.charge), (0.0, 50.0));
    // 0.3 Ah are left above the floor: 1.2 A of 12 A for a quarter of an hour.
    let (settled, _) = step(&bank, 50.3, 0.25, &weathered, &[], &Ask { current: 12.0, ..Ask::default() });
    assert!((settled.served - 0.1).abs() < 1e-9 && (settled.charge - 50.0).abs() < 1e-9, "{settled:?}");
    let sun = [source(14.4, 6.0, f64::INFINITY)];
    let (settled, given) = step(&bank, 50.0, 0.25, &weathered, &sun, &Ask { current: 12.0, ..Ask::default() });
    assert!((settled.served - 0.5).abs() < 1e-9 && given == [6.0] && (settled.charge - 50.0).abs() < 1e-9);
}

/// A source of 130 W lifts a 13 V battery with 0.1 Ω to `(E + √(E² + 4PR))/2`, and never gives more than its power, also where its
/// current limit counts at the voltage at rest but not at that under charge.
#[test]
fn a_power_is_not_exceeded() {
    let bank = Bank::linear(1e6, 13.0, 0.0, 0.1);
    let (settled, given) = step(&bank, 0.0, 1e-3, &OPEN, &[source(16.0, 100.0, 130.0)], &Ask::default());
    let volts = 0.5 * (13.0 + (169.0_f64 + 4.0 * 130.0 * 0.1).sqrt());
    assert!((settled.volts - volts).abs() < 1e-9 && (given[0] * settled.volts - 130.0).abs() < 1e-9);
    // 10 A at 13 V are 130 W, which is below its 132 W; at 14 V they would be 140 W.
    let (settled, given) = step(&bank, 0.0, 1e-3, &OPEN, &[source(16.0, 10.0, 132.0)], &Ask::default());
    assert!(given[0] * settled.volts <= 132.0 * (1.0 + 1e-9), "{} W", given[0] * settled.volts);
    // 10 A by its current; under load the bank falls to 11 V, where 120 W would be 10.9 A.
    let ask = Ask { current: 30.0, ..Ask::default() };
    let (_, given) = step(&bank, 5e5, 1e-3, &OPEN, &[source(16.0, 10.0, 129.0)], &ask);
    assert!(given[0] <= 10.0 * (1.0 + 1e-9), "{} A", given[0]);
}

/// A bank that takes nothing, in frost, gives nothing either while a source feeds the loads: the bus stands where 728 W are 289 W and
/// 33 A, at 13.3 V. Where it takes 6.1 A more of 1964 W, beside 1424 W and 31.8 A, it stands at 14.25 V, although at its rest voltage
/// that source alone would not do: a lower source is there for that.
#[test]
fn a_bus_stands_where_loads_take_what_there_is() {
    let bank = Bank::linear(1000.0, 12.43, 0.0, 0.001);
    let cold = Weathered { accepts: 0.0, ..OPEN };
    let ask = Ask { power: 289.0, current: 33.0, ..Ask::default() };
    let (settled, given) = step(&bank, 500.0, 0.25, &cold, &[source(13.7, 140.0, 728.0)], &ask);
    assert!((settled.volts - 439.0 / 33.0).abs() < 1e-9 && settled.current.abs() < 1e-9, "{settled:?}");
    assert!((given[0] * settled.volts - 728.0).abs() < 1e-9 && (settled.charge - 500.0).abs() < 1e-9);
    let slow = Weathered { accepts: 6.1, ..OPEN };
    let ask = Ask { power: 1424.0, current: 31.8, ..Ask::default() };
    let sources =
        [source(13.0, 80.6, f64::INFINITY), source(13.82, 136.8, f64::INFINITY), source(14.91, 144.8, 1964.0)];
    let (settled, given) = step(&bank, 500.0, 0.25, &slow, &sources, &ask);
    assert!((settled.volts - 540.0 / 37.9).abs() < 1e-6 && (settled.current - 6.1).abs() < 1e-6, "{settled:?}");
    assert!(given[..2] == [0.0, 0.0]);
}

/// Current that comes through a coupling, and that a full bank does not take, lifts the voltage; what it does not store turns to
/// heat, and no charge appears from it.
#[test]
fn what_nothing_takes_turns_to_heat() {
    let bank = Bank::linear(100.0, 12.0, 0.01, 0.01);
    let (settled, _) = step(&bank, 100.0, 0.25, &OPEN, &[], &Ask { out: -5.0, ..Ask::default() });
    assert!(settled.charge <= 100.0 && (settled.current - 5.0).abs() < 1e-9 && settled.volts > 13.0, "{settled:?}");
    let cold = Weathered { accepts: 0.0, ..OPEN };
    let (settled, _) = step(&bank, 50.0, 0.25, &cold, &[source(14.4, 20.0, f64::INFINITY)], &Ask::default());
    assert_eq!((settled.charge, settled.current, settled.volts), (50.0, 0.0, 14.4));
}

fn battery(chemistry: Chemistry, capacity: f64, milliohm: f64, limit: Option<f64>, storage: Storage) -> Battery {
    let volts = ElectricPotential::new::<volt>;
    let resistance = ElectricalResistance::new::<ohm>(1e-3 * milliohm);
    Battery {
        name: chemistry.name().to_owned(),
        nodes: [NodeId(0), NodeId(1)],
        chemistry,
        capacity: ElectricCharge::new::<ampere_hour>(capacity),
        nominal: volts(12.0),
        resistance,
        ohmic: resistance,
        at_rest: [11.9, 12.5, 12.8].map(volts),
        charge_voltage: volts(14.4),
        current_limit: limit.map(ElectricCurrent::new::<ampere>),
        storage,
        charge_limit: None,
        stops_in_frost: None,
        installed: None,
    }
}

/// A bank of any chemistry, and the temperature that it has.
#[derive(Clone)]
struct Any {
    bank: Bank,
    weathered: Weathered,
    charge: f64,
    hours: f64,
}

impl std::fmt::Debug for Any {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { bank, weathered, charge, hours } = self;
        write!(to, "{:?} {weathered:?}, at {charge} Ah for {hours} h, open {:?}", bank.storage, bank.open(*charge))?;
        write!(to, ", {} Ω", bank.resistance(*charge))
    }
}

fn any_bank() -> impl Strategy<Value = Any> {
    let chemistry =
        prop::sample::select(vec![Chemistry::Flooded, Chemistry::Agm, Chemistry::Gel, Chemistry::LithiumIronPhosphate]);
    let shares = (0.0_f64..0.5, 0.8_f64..=1.0, 0.7_f64..=1.0, 1.0_f64..1.4);
    let limit = prop::option::of(1.0_f64..300.0);
    let steps = prop::sample::select(vec![24.0, 96.0, 288.0, 1440.0]);
    (chemistry, 10.0_f64..600.0, 0.5_f64..20.0, shares, limit, -30.0_f64..45.0, 0.0_f64..=1.0, steps).prop_map(
        |(chemistry, capacity, milliohm, (floor, ceiling, back, peukert), limit, degrees, at, steps)| {
            let storage = Storage {
                floor: Ratio::from(floor),
                ceiling: Ratio::from(ceiling),
                charge_efficiency: Ratio::from(back),
                peukert: Ratio::from(peukert),
                ..Storage::typical(chemistry, ElectricCharge::new::<ampere_hour>(capacity))
            };
            let one = battery(chemistry, capacity, milliohm, limit, storage);
            let bank = Bank::new(&[vec![&one]]).unwrap().unwrap();
            let hours = 24.0 / steps;
            let weathered = bank.at(celsius(degrees), hours);
            // Between the floor, or a little below it after a colder day, and the ceiling.
            let low = 0.9 * weathered.floor;
            let charge = low + at * (bank.ceiling - low);
            Any { bank, weathered, charge, hours }
        },
    )
}

fn any_sources() -> impl Strategy<Value = Vec<Source>> {
    let one = (13.0_f64..15.0, 0.1_f64..150.0, prop::option::of(1.0_f64..2000.0));
    prop::collection::vec(one, 0..4).prop_map(|all| {
        let mut all: Vec<Source> =
            all.into_iter().map(|(set, most, power)| source(set, most, power.unwrap_or(f64::INFINITY))).collect();
        all.sort_by(|one, other| one.set.total_cmp(&other.set));
        all
    })
}

fn any_ask() -> impl Strategy<Value = Ask> {
    (0.0_f64..1500.0, 0.0_f64..60.0).prop_map(|(power, current)| Ask { power, current, ..Ask::default() })
}

/// What passes on to other banks: power of chargers, current of couplings; often neither.
fn any_passing() -> impl Strategy<Value = [f64; 2]> {
    prop_oneof![Just([0.0; 2]), (0.0_f64..400.0, -30.0_f64..30.0).prop_map(|(onward, out)| [onward, out])]
}

/// The books of a step in W: what came in, what went, what the bank took.
fn books(settled: &Settled, given: &[f64], ask: &Ask) -> [f64; 3] {
    let came = given.iter().sum::<f64>() * settled.volts;
    let used = settled.served * (ask.power + settled.volts * ask.current);
    [came, used + ask.onward + ask.out * settled.volts, settled.volts * settled.current]
}

/// Days that are drawn are as bright in the mean as their month, and loads take what they are planned with: over 4000 samples of 60
/// days of two months, a grey one and a bright one, within 1.5 %. Brightness lies within nothing and the brightest day.
#[test]
fn samples_keep_the_mean() {
    let means = [0.35, 0.8];
    let latent = latent_means(&|day| Some(means[day / 30]), 60);
    let mut sums = [[0.0; 2]; 2];
    for index in 0..4000 {
        for (day, drawn) in days(&latent, 7, index).iter().enumerate() {
            let bright = drawn.bright.unwrap();
            assert!((0.0..=constants::BRIGHTEST_DAY).contains(&bright) && drawn.load >= 0.0);
            sums[day / 30][0] += bright / (4000.0 * 30.0);
            sums[day / 30][1] += drawn.load / (4000.0 * 30.0);
        }
    }
    for ([bright, load], mean) in sums.into_iter().zip(means) {
        assert!((bright / mean - 1.0).abs() < 0.015 && (load - 1.0).abs() < 0.015, "{bright} of {mean}, {load}");
    }
}

proptest! {
    // Two thousand at least, for a step is cheap; `with_cases` would ignore `PROPTEST_CASES`.
    #![proptest_config(ProptestConfig { cases: ProptestConfig::default().cases.max(2000), ..ProptestConfig::default() })]

    /// What came in is used or enters the bank; charge stays within 0 and capacity, and is not taken from below the floor; a
    /// power and a current are not exceeded; heat is lost and never won.
    #[test]
    fn the_books_close(any in any_bank(), sources in any_sources(), ask in any_ask(), passing in any_passing()) {
        let Any { bank, weathered, charge, hours } = any;
        let [onward, out] = passing;
        let ask = Ask { onward, out, ..ask };
        let (settled, given) = step(&bank, charge, hours, &weathered, &sources, &ask);
        let [came, went, entered] = books(&settled, &given, &ask);
        let largest = came.abs().max(ask.power + onward + settled.volts.abs() * (ask.current + out.abs())).max(entered.abs());
        prop_assert!((came - went - entered).abs() <= 1e-9 * largest.max(1.0), "{settled:?} {given:?} {ask:?}");
        prop_assert!(settled.volts.is_finite() && settled.current.is_finite() && settled.charge.is_finite());
        prop_assert!((0.0..=1.0).contains(&settled.served));
        prop_assert!((0.0..=bank.capacity).contains(&settled.charge));
        // What must be served, may take more than there is; loads may not.
        if out <= 0.0 && onward == 0.0 {
            let least = charge.min(weathered.floor) - 1e-9 * bank.capacity;
            prop_assert!(settled.charge >= least, "{} below {least}: {settled:?}", settled.charge);
        }
        for (source, amperes) in sources.iter().zip(&given) {
            prop_assert!(*amperes >= 0.0 && *amperes <= source.most * (1.0 + 1e-9), "{source:?} {amperes}");
            prop_assert!(amperes * settled.volts <= source.power * (1.0 + 1e-9), "{source:?} {amperes} {settled:?}");
        }
        // More than there is cannot be forced out of a bank.
        let forced = settled.served <= 0.0 && (onward > 0.0 || out > 0.0);
        let stored = bank.stored(settled.charge) - bank.stored(charge);
        let lost = entered * hours - stored;
        prop_assert!(forced || lost >= -1e-9 - 1e-6 * (entered.abs() * hours).max(stored.abs()), "lost {lost} {settled:?}");
    }

    /// A bank twice as large is two in parallel, in everything that it has.
    #[test]
    fn a_bank_scaled_is_banks_in_parallel(any in any_bank(), milliohm in 0.5_f64..20.0, limit in prop::option::of(1.0_f64..300.0)) {
        let storage = any.bank.storage;
        let capacity = storage.capacity.get::<ampere_hour>();
        let one = battery(storage.chemistry, capacity, milliohm, limit, storage);
        let mut scaled = Bank::new(&[vec![&one]]).unwrap().unwrap().scaled(2.0);
        let two = Bank::new(&[vec![&one], vec![&one]]).unwrap().unwrap();
        scaled.name.clone_from(&two.name);
        prop_assert_eq!(format!("{scaled:?}"), format!("{two:?}"));
    }

    /// More load never leaves more charge, and more sun never leaves less, to 1e-5 of what moved, which is what the kernel leaves
    /// undecided of its mean voltage. Asked for more than it can give at all, a bank gives its greatest power, with less current
    /// than a little before that: three tenths of what moved are left for this. In steps of 15 min and less.
    #[test]
    fn more_is_more(any in any_bank(), sources in any_sources(), ask in any_ask(), more in 1.0_f64..3.0) {
        let Any { bank, weathered, charge, hours } = any;
        let hours = hours.min(0.25);
        let (plain, _) = step(&bank, charge, hours, &weathered, &sources, &ask);
        let loaded = Ask { power: ask.power * more, current: ask.current * more, ..ask };
        let (loaded, _) = step(&bank, charge, hours, &weathered, &sources, &loaded);
        let slack = |other: &Settled| {
            let moved = (other.charge - charge).abs().max((plain.charge - charge).abs());
            1e-9 * bank.capacity + if plain.served < 1.0 || other.served < 1.0 { 0.3 * moved } else { 1e-5 * moved }
        };
        prop_assert!(loaded.charge <= plain.charge + slack(&loaded), "{loaded:?} {plain:?}");
        let sunny: Vec<Source> =
            sources.iter().map(|one| source(one.set, one.most * more, one.power * more)).collect();
        let (sunny, _) = step(&bank, charge, hours, &weathered, &sunny, &ask);
        prop_assert!(sunny.charge >= plain.charge - slack(&sunny), "{sunny:?} {plain:?}");
    }
}
