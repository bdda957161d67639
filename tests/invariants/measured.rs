//! What must hold of readings explained, whatever was read.

use std::ops::Range;
use std::sync::LazyLock;

use jiff::civil::{Date, date};
use loomwright::installation::NodeId;
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::volt;
use loomwright::quantity::uom::si::power::watt;
use loomwright::quantity::uom::si::ratio::ratio;
use loomwright::quantity::uom::si::temperature_interval::kelvin;
use loomwright::quantity::{
    ElectricCurrent, ElectricPotential, Power, Ratio, TemperatureInterval, ThermodynamicTemperature, celsius,
};
use loomwright::study::judge::{Judgement, judge};
use loomwright::study::reconcile::{
    Found, Inside, Measured, Point, Reading, Reconciliation, Surface, Verdict, reconcile,
};
use loomwright::text::read_plan;
use loomwright_tests::sampling;
use proptest::prelude::*;
use serde_json::Value;

/// Batteries of vehicle and house, an alternator, a charger, an inverter, two loads with a common return.
static PLAN: LazyLock<Judgement> = LazyLock::new(|| {
    let mut text = String::from(
        r#"format = 1
[plan]
name = "Everything small (invented)"
place = "cabin"
system_voltage = "12 V"
[zones.here]
kind = "hut"
[batteries.starter]
chemistry = "agm"
capacity = "80 Ah"
[batteries.house]
chemistry = "agm"
capacity = "100 Ah"
[alternators.engine]
rating = "100 A"
[converters.charger]
kind = "dc-dc-charger"
output_current = "30 A"
[converters.inverter]
kind = "inverter"
output_power = "500 W"
[links.isolator]
kind = "isolator"
[loads.kettle]
power = "450 W"
inverter = "inverter"
nominal_voltage = "12 V"
[loads.lamp]
current = "10 A"
[loads.pump]
power = "120 W"
[busbars.post]
[busbars.plus]
[busbars.frame]
[busbars.minus]
[cases.underway]
engine = "cruise"
loads = ["lamp"]
[cases.boiling]
loads = ["kettle"]
[cases.evening]
loads = ["lamp", "pump"]
"#,
    );
    for (name, [from, to], made, fuse) in [
        ("alternator lead", ["post", "engine.+"], "50 mm2", "150 A class-t"),
        ("alternator back", ["engine.-", "minus"], "50 mm2", "none"),
        ("starter lead", ["starter.+", "post"], "50 mm2", "150 A class-t"),
        ("starter back", ["minus", "starter.-"], "50 mm2", "none"),
        ("charger feed", ["post", "charger.in+"], "16 mm2", "60 A class-t"),
        ("charger back", ["charger.-", "minus"], "16 mm2", "none"),
        ("charger output", ["plus", "charger.out+"], "16 mm2", "60 A class-t"),
        ("house lead", ["house.+", "isolator.in"], "50 mm2", "150 A class-t"),
        ("bar lead", ["isolator.out", "plus"], "50 mm2", "none"),
        ("house back", ["minus", "house.-"], "50 mm2", "none"),
        ("inverter feed", ["plus", "inverter.in+"], "35 mm2", "100 A class-t"),
        ("inverter back", ["inverter.-", "minus"], "35 mm2", "none"),
        ("lamp feed", ["plus", "lamp.+"], "6 mm2", "15 A blade-c"),
        ("lamp back", ["lamp.-", "frame"], "6 mm2", "none"),
        ("pump feed", ["plus", "pump.+"], "6 mm2", "20 A blade-c"),
        ("pump back", ["pump.-", "frame"], "6 mm2", "none"),
        ("strap", ["frame", "minus"], "16 mm2", "none"),
    ] {
        text += &format!(
            "[runs.\"{name}\"]\nfrom = \"{from}\"\nto = \"{to}\"\nroute = [\"1.5 m in here\"]\nconductor = \"{made}\"\nfuse = \"{fuse}\"\n"
        );
    }
    let plan = read_plan(&text).unwrap_or_else(|errors| panic!("{errors:#?}"));
    judge(&plan).unwrap_or_else(|error| panic!("{error}"))
});

const CASES: [&str; 3] = ["underway", "boiling", "evening"];
const DAYS: [Option<Date>; 3] = [None, Some(date(2026, 3, 1)), Some(date(2026, 9, 1))];

/// Where a case of the list stands in the plan.
fn in_plan(case: usize) -> usize {
    PLAN.installation.cases.iter().position(|one| one.name == CASES[case]).expect("a case of the plan")
}

fn reading(line: usize, case: usize, measured: Measured, ambient: Option<f64>, day: usize) -> Reading {
    let case = in_plan(case);
    Reading {
        line,
        case,
        measured,
        ambient: ambient.map(celsius),
        date: DAYS[day],
        assumed: false,
        note: String::new(),
    }
}

/// Any terminal or busbar, and any place inside a run that has it.
fn point() -> impl Strategy<Value = Point> {
    let nodes = (0..PLAN.installation.nodes.len()).prop_map(|node| Point::Node(NodeId(node)));
    let inside = (0..PLAN.installation.runs.len(), proptest::sample::select(Inside::ALL));
    let inside = inside.prop_map(|(run, place)| {
        let fused = PLAN.models[run].fuse.is_some();
        Point::Run(run, if place == Inside::Fuse && !fused { Inside::Start } else { place })
    });
    prop_oneof![3 => nodes, 1 => inside]
}

/// Any finite number of either sign from 1e-30 to 1e30, and nothing.
fn any_number() -> impl Strategy<Value = f64> {
    let number =
        (prop_oneof![Just(-1.0), Just(1.0)], -30.0..30.0_f64).prop_map(|(sign, power)| sign * 10.0_f64.powf(power));
    prop_oneof![6 => number, 3 => -20.0..20.0_f64, 1 => Just(0.0)]
}

/// Limits of instruments, most of them of any power of ten of a range.
fn limit(powers: Range<f64>) -> impl Strategy<Value = f64> {
    prop_oneof![2 => powers.prop_map(|power| 10.0_f64.powf(power)), 1 => 1e-3..0.1_f64]
}

fn any_measured(powers: Range<f64>) -> impl Strategy<Value = Measured> {
    let runs = 0..PLAN.installation.runs.len();
    let volts = |(one, other, value, within): (Point, Point, f64, f64)| {
        let [value, within] = [value, within].map(ElectricPotential::new::<volt>);
        Measured::Voltage { between: [one, other], value, within }
    };
    let amperes = |(run, value, within): (usize, f64, f64)| {
        let [value, within] = [value, within].map(ElectricCurrent::new::<ampere>);
        Measured::Current { run, value, within }
    };
    let surface = prop_oneof![
        Just(Surface::Probe),
        Just(Surface::Bare),
        (0.01..1.0_f64).prop_map(|value| Surface::Emissivity(Ratio::new::<ratio>(value))),
    ];
    let degrees = |(at, value, within, surface): (Point, f64, f64, Surface)| {
        let value =
            ThermodynamicTemperature::new::<loomwright::quantity::uom::si::thermodynamic_temperature::kelvin>(value);
        Measured::Temperature { at, value, within: TemperatureInterval::new::<kelvin>(within), surface }
    };
    let watts = |(converter, value, within): (usize, f64, f64)| {
        let [value, within] = [value, within].map(Power::new::<watt>);
        Measured::Power { converter, value, within }
    };
    prop_oneof![
        4 => (point(), point(), any_number(), limit(powers.clone())).prop_map(volts),
        4 => (runs, any_number(), limit(powers.clone())).prop_map(amperes),
        1 => (point(), any_number(), limit(powers.clone()), surface).prop_map(degrees),
        1 => (0..2_usize, any_number(), limit(powers.clone())).prop_map(watts),
    ]
}

fn readings_within(powers: Range<f64>) -> impl Strategy<Value = Vec<Reading>> {
    let one = (0..CASES.len(), any_measured(powers), proptest::option::of(-60.0..120.0_f64), 0..DAYS.len());
    proptest::collection::vec(one, 0..24).prop_map(|all| {
        let all = all.into_iter().enumerate();
        all.map(|(place, (case, measured, ambient, day))| reading(place + 1, case, measured, ambient, day)).collect()
    })
}

/// What the plan expects along runs and in them, drops off by up to 40 % and currents by up to 5 %, one of them a slip.
fn sensible_readings() -> impl Strategy<Value = Vec<Reading>> {
    let runs = PLAN.installation.runs.len();
    let one = (0..CASES.len(), 0..runs, any::<bool>(), 0.7..1.4_f64, 0..DAYS.len());
    let slip =
        proptest::option::of((any::<proptest::sample::Index>(), proptest::sample::select(vec![-1.0, 10.0, 0.1])));
    (proptest::collection::vec(one, 4..24), slip).prop_map(|(all, slip)| {
        let spoilt = slip.map(|(at, factor)| (at.index(all.len()), factor));
        let all = all.into_iter().enumerate();
        all.map(|(place, (case, run, across, share, day))| {
            let slip = spoilt.filter(|(at, _)| *at == place).map_or(1.0, |(_, factor)| factor);
            let index = in_plan(case);
            let result = PLAN.cases.iter().find(|one| one.case == index).expect("it is solved");
            let measured = if across {
                let ends = [PLAN.installation.runs[run].from, PLAN.installation.runs[run].to];
                let value = result.between(ends) * share * slip;
                let within = value.abs() * 0.01 + ElectricPotential::new::<volt>(0.5e-3);
                Measured::Voltage { between: ends.map(Point::Node), value, within }
            } else {
                let value = result.run_currents[run] * share.clamp(0.95, 1.05) * slip;
                let within = value.abs() * 0.03 + ElectricCurrent::new::<ampere>(0.2);
                Measured::Current { run, value, within }
            };
            reading(place + 1, case, measured, Some(20.0), day)
        })
        .collect()
    })
}

/// What a plant with a resistance added to one run shows along every run in every case, without noise.
fn along_every_run(bad: usize, added_ohm: f64) -> Vec<Reading> {
    let mut all = Vec::new();
    for case in 0..CASES.len() {
        let index = in_plan(case);
        let result = PLAN.cases.iter().find(|one| one.case == index).expect("it is solved");
        for (run, of) in PLAN.installation.runs.iter().enumerate() {
            let flows = result.run_currents[run];
            let more = if run == bad { flows.value * added_ohm } else { 0.0 };
            let value = result.between([of.from, of.to]) + ElectricPotential::new::<volt>(more);
            let within = value.abs() * 0.005 + ElectricPotential::new::<volt>(0.2e-3);
            let between = [of.from, of.to].map(Point::Node);
            all.push((case, Measured::Voltage { between, value, within }));
            let within = flows.abs() * 0.01 + ElectricCurrent::new::<ampere>(0.05);
            all.push((case, Measured::Current { run, value: flows, within }));
        }
    }
    let numbered = all.into_iter().enumerate();
    numbered.map(|(place, (case, measured))| reading(place + 1, case, measured, None, 0)).collect()
}

/// Every number of what was found with the size that it is held against, by what it is of.
fn numbers(found: &Reconciliation) -> Vec<(String, f64, f64)> {
    let mut all = Vec::new();
    for day in &found.days {
        for one in &day.segments {
            let name = format!("{:?} {}", day.date, one.name(&PLAN));
            let (measured, within) = (one.measured.value, one.within.value);
            all.push((name.clone(), measured, measured.abs().max(within)));
            all.push((name.clone(), within, within));
            all.extend(one.planned.map(|planned| (name.clone(), planned.value, planned.value)));
            let watts = one.warmth.map_or(0.0, |warmth| warmth.one_sided.watts.value);
            all.push((name, watts, watts));
        }
        for one in &day.readings {
            let pair = |of: Measured| match of {
                Measured::Voltage { value, within, .. } => (value.value, within.value),
                Measured::Current { value, within, .. } => (value.value, within.value),
                other => panic!("{other:?}"),
            };
            // What the network says is nothing stays next to nothing beside what an instrument can show.
            let (_, limit) = pair(one.reading.measured);
            for (what, of) in [("planned", one.planned), ("explained", one.explained)] {
                let (value, within) = pair(of);
                let name = format!("{what} {}", one.reading.line);
                all.push((name.clone(), value, value.abs().max(limit)));
                all.push((name, within, within.max(limit)));
            }
        }
        for one in &day.devices {
            let name = format!("{:?} {}", day.date, one.device);
            let (measured, within) = match one.found {
                Found::Efficiency { measured, within, .. } => (measured.value, within.value),
                Found::Output { measured, within, .. } => (measured.value, within.value),
                Found::Resistance { measured, within, .. } => (measured.value, within.value),
                Found::ChargeVoltage { measured, within, .. } => (measured.value, within.value),
            };
            all.push((name.clone(), measured, measured.abs().max(within)));
            all.push((name, within, within));
        }
        for (place, zero) in day.clamp_zero.into_iter().flatten().enumerate() {
            all.push((format!("zero {place}"), zero.value, zero.value.abs()));
        }
    }
    all.sort_by(|one, other| one.0.cmp(&other.0));
    all
}

fn verdicts(found: &Reconciliation) -> Vec<(String, Verdict)> {
    let mut all = Vec::new();
    for day in &found.days {
        all.extend(day.segments.iter().map(|one| (format!("{:?} {}", day.date, one.name(&PLAN)), one.verdict)));
        all.extend(
            day.devices.iter().map(|one| (format!("{:?} {} {:?}", day.date, one.device, one.cases), one.verdict)),
        );
        all.extend(day.warm.iter().map(|one| (format!("{} {}", one.line, one.at), one.verdict)));
    }
    all.sort();
    all
}

fn slips(found: &Reconciliation) -> Vec<(usize, String)> {
    let readings = found.days.iter().flat_map(|day| &day.readings);
    let mut all: Vec<_> = readings.map(|one| (one.reading.line, format!("{:?}", one.slip))).collect();
    all.sort();
    all
}

/// Keys whose value may be missing; nothing else is `null` in a record, unless it is no number.
const MAY_LACK: [&str; 6] = ["date", "left_out", "expected_c", "rise_at_full_load_k", "clamp_zero_a", "clamp_zero"];

fn missing(value: &Value, at: &str, found: &mut Vec<String>) {
    match value {
        Value::Null if !MAY_LACK.iter().any(|key| at.ends_with(&format!("/{key}"))) => found.push(at.to_owned()),
        Value::Array(all) => {
            all.iter().enumerate().for_each(|(place, one)| missing(one, &format!("{at}/{place}"), found))
        }
        Value::Object(all) => all.iter().for_each(|(key, one)| missing(one, &format!("{at}/{key}"), found)),
        _ => {}
    }
}

proptest! {
    #![proptest_config(sampling(0x3ead))]

    /// The same readings in any order tell the same, to the last digit: they are explained in the order of their lines.
    #[test]
    fn order_does_not_matter(
        (readings, shuffled) in sensible_readings().prop_flat_map(|all| (Just(all.clone()), Just(all).prop_shuffle()))
    ) {
        let [one, other] = [&readings, &shuffled].map(|all| reconcile(&PLAN, all).expect("it can be explained"));
        prop_assert_eq!(slips(&one), slips(&other));
        prop_assert_eq!(verdicts(&one), verdicts(&other));
        prop_assert_eq!(one.verdict(), other.verdict());
        let (one, other) = (numbers(&one), numbers(&other));
        prop_assert_eq!(one.len(), other.len());
        for (ours, theirs) in one.iter().zip(&other) {
            prop_assert_eq!(ours, theirs);
        }
    }

    /// Whatever was read, something is said, in numbers.
    #[test]
    fn whatever_was_read_gives_numbers(readings in readings_within(-30.0..30.0)) {
        let found = reconcile(&PLAN, &readings).expect("it can be explained");
        let record = found.record(&PLAN);
        for one in record.days.iter().flat_map(|day| &day.temperatures) {
            prop_assert!(one.expected_c.is_none_or(f64::is_finite) && one.rise_at_full_load_k.is_none_or(f64::is_finite));
        }
        for zero in record.days.iter().filter_map(|day| day.clamp_zero_a) {
            prop_assert!(zero.iter().all(|one| one.is_finite()));
        }
        let mut lacking = Vec::new();
        missing(&serde_json::to_value(&record).expect("it is plain data"), "", &mut lacking);
        prop_assert!(lacking.is_empty(), "{:?}", lacking);
        let _ = found.unused(&PLAN, &readings);
    }

    /// Every voltage and current is told of or refused, never both and never neither; of instruments as fine as 1 µV and 1 µA.
    #[test]
    fn no_reading_is_lost(readings in readings_within(-6.0..30.0)) {
        let found = reconcile(&PLAN, &readings).expect("it can be explained");
        let told: Vec<usize> = found.days.iter().flat_map(|day| &day.readings).map(|one| one.reading.line).collect();
        for reading in &readings {
            if matches!(reading.measured, Measured::Voltage { .. } | Measured::Current { .. }) {
                let refused = found.refused.iter().any(|one| one.line == reading.line);
                prop_assert!(told.contains(&reading.line) != refused, "{:?}", reading);
            }
        }
    }

    /// Readings without noise give back the plan: nothing is to be remade, and every piece that is told lies within its interval
    /// of what was planned. With a resistance added at one run, its piece never has less than with a smaller one, nor a
    /// milder verdict. 1e-6 Ω: resistances are sought from 1 Ω on.
    #[test]
    fn an_added_resistance_is_found(run in 0..PLAN.installation.runs.len(), milliohms in 0.0..30.0_f64, more in 1.0..4.0_f64) {
        let [plain, bad, worse] = [0.0, milliohms, milliohms * more].map(|added| {
            reconcile(&PLAN, &along_every_run(run, added * 1e-3)).expect("it can be explained")
        });
        prop_assert!(slips(&plain).iter().all(|(_, slip)| slip == "None"), "{:?}", slips(&plain));
        for one in &plain.days[0].segments {
            let (planned, within) = (one.planned.map(|planned| planned.value), one.within.value + 1e-6);
            prop_assert!(one.verdict != Verdict::Remake, "{}: {:?}", one.name(&PLAN), one.reason);
            let (least, most) = (planned[0] - within, planned[2] + within);
            prop_assert!((least..=most).contains(&one.measured.value), "{}: {one:?}", one.name(&PLAN));
        }
        let of = |found: &Reconciliation| {
            let mut pieces = found.days[0].segments.iter();
            let piece = pieces.find(|piece| piece.segments.iter().any(|one| one.run() == Some(run)));
            piece.map(|piece| (piece.measured.value, piece.verdict, piece.name(&PLAN)))
        };
        let [plain, bad, worse] = [&plain, &bad, &worse].map(of);
        for (less, more) in [(&plain, &bad), (&bad, &worse)] {
            if let (Some(less), Some(more)) = (less, more)
                && less.2 == more.2
            {
                prop_assert!(more.0 >= less.0 - 1e-6, "{less:?} then {more:?}");
                prop_assert!(more.1 >= less.1 || more.1 == Verdict::NotTold || less.1 == Verdict::NotTold, "{less:?} then {more:?}");
            }
        }
    }

    /// The same twice gives the same bytes.
    #[test]
    fn the_same_twice_gives_the_same_bytes(readings in prop_oneof![sensible_readings().boxed(), readings_within(-30.0..30.0).boxed()]) {
        let text = || {
            let found = reconcile(&PLAN, &readings).map_err(|error| error.to_string())?;
            serde_json::to_string(&found.record(&PLAN)).map_err(|error| error.to_string())
        };
        prop_assert_eq!(text(), text());
    }
}
