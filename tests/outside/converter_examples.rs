//! Worked examples of converters as others published them, and a converter's constant power at the end of a feeder.

use loomwright::converter::{Behaviour, Binding, Comparison, Conditions, Enclosure, Limits, LockOut, Losses, Usage};
use loomwright::quantity::uom::si::electrical_resistance::ohm;
use loomwright::quantity::uom::si::time::hour;
use loomwright::quantity::{Area, ElectricalResistance, FromText, Ratio, Time, celsius};
use loomwright_tests::{Row, apart, read, volts, watts, within};

fn example(id: &str) -> Row {
    let rows = read("worked_examples_converters.csv");
    rows.into_iter().find(|row| row.text("id") == id).unwrap_or_else(|| panic!("{id} is gone"))
}

/// Input current for 1 kW out at 12 V and an efficiency.
fn input_current(efficiency: f64) -> f64 {
    let at = Conditions {
        input_voltage: volts(12.0),
        output_voltage: volts(230.0),
        wanted: watts(1000.0),
        ambient: celsius(25.0),
        running: true,
    };
    let done = Limits::default().operate(&Losses::flat(Ratio::from(efficiency), watts(0.0)), &at).expect("a state");
    assert_eq!(done.binding, Binding::Demand);
    done.input_current.value
}

#[test]
fn input_currents_of_inverters() {
    assert!(example("CV01").text("expected").starts_with("92.6 A"));
    assert!(within(input_current(0.90), 92.6, 0.002));
    assert!(example("CV03").text("expected").starts_with("91 A"));
    assert!(within(input_current(1.0 / 1.1), 91.0, 0.01));
}

/// Loss, input and efficiency of a library unit at half its output.
#[test]
fn a_quadratic_loss_by_hand() {
    assert!(example("CV04").text("expected").starts_with("loss 26.9225 W; DC input 526.9225 W; efficiency 0.94891"));
    let loss = |p: f64| 19.31 - 3.56 * p + 37.57 * p * p;
    let sheet = [0.1, 0.4, 1.0].map(|p| (Ratio::from(p), Ratio::from(p / (p + loss(p) / 1000.0))));
    let losses = Losses::fit(&sheet, watts(1000.0), watts(0.0)).expect("fits").losses;
    let half = watts(500.0);
    assert!(within(losses.loss(half).value, 26.9225, 1e-6));
    assert!(within(losses.input(half).value, 526.9225, 1e-6));
    assert!(within(losses.efficiency(half).value, 0.94891, 1e-5));
}

/// Ten watts of idling for a day at 12 V.
#[test]
fn idling_costs_a_fifth_of_a_battery() {
    assert!(example("EB19").text("expected").starts_with("20 Ah"));
    let idle = Losses::flat(Ratio::from(0.9), watts(10.0));
    let usage = Usage { output: watts(0.0), daily: Time::new::<hour>(24.0), system: volts(12.0) };
    let locker = Enclosure { surface: Area::from_text("1 m2").expect("an area"), ambient: celsius(30.0) };
    let none = Losses::flat(Ratio::from(0.9), watts(0.0));
    let found = Comparison::new(&idle, &none, &usage, &locker).expect("a use");
    assert!(within(found.saved_charge().value / 3600.0, 20.0, 1e-3));
}

/// The upper root of a constant-power load, or that there is none, as another program computed them.
#[test]
fn constant_power_at_the_end_of_a_feeder() {
    let mut without = 0;
    for row in read("dc_constant_power.csv") {
        let open = volts(row.number("Vs_V"));
        let resistance = ElectricalResistance::new::<ohm>(row.number("R_loop_ohm"));
        let power = watts(row.number("P_load_W"));
        // Locked out below half of the open voltage, only the feeder itself limits.
        let lock_out = LockOut::new(open * 0.4, open * 0.9).expect("a lock-out");
        let found = lock_out.on_feeder(open, resistance, power).expect("a feeder");
        let most = found.largest_resistance.expect("some resistance does").value;
        assert!(within(most, row.number("Vs_V").powi(2) / (4.0 * row.number("P_load_W")), 1e-12));
        if row.text("status") == "no_solution" {
            assert_eq!((found.voltage, found.behaviour), (None, Behaviour::Chatters), "{row:?}");
            without += 1;
            continue;
        }
        let voltage = found.voltage.unwrap_or_else(|| panic!("{row:?}: none found"));
        assert!(within(voltage.value, row.number("V_load_high_V"), 1e-8), "{row:?}: {}", voltage.value);
        assert!(within((power / voltage).value, row.number("I_A"), 1e-8));
        // Where that voltage is itself the lock-out, this resistance is the largest.
        let at = LockOut::new(volts(row.number("V_load_high_V")), open).expect("a lock-out");
        let largest = at.on_feeder(open, resistance, power).expect("a feeder").largest_resistance.expect("one does");
        assert!(apart(largest.value, resistance.value) < 1e-8, "{row:?}: {} Ω", largest.value);
    }
    assert_eq!(without, 1);
}
