//! Temperatures carried over to full load, and hot joints.

use super::{HEAD, Sheet, battery, case, load, on, piece, run, run_of};
use crate::support::judged;
use loomwright::heat::{HeatPath, Installation, Lay, joint_heat};
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::ratio::ratio;
use loomwright::quantity::{ElectricCurrent, ElectricalResistance, Ratio, in_celsius};
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{Surface, Verdict, Warm};
use loomwright_tests::by_hand::close;

/// A feed that carries 40 A with all loads, 24 A with the lamp, 10 A with the pump alone.
fn warm_feed() -> Judgement {
    let mut text = [HEAD, &battery("house"), "[busbars.plus]\n[busbars.minus]\n"].concat();
    text += &run("lead", ["house.+", "plus"], 1.0, "10 mm2", "60 A class-t");
    text += &run("rest", ["minus", "house.-"], 1.0, "10 mm2", "none");
    for (name, amperes) in [("lamp", 24.0), ("pump", 10.0), ("fan", 6.0)] {
        let (plus, minus) = (format!("{name}.+"), format!("{name}.-"));
        text += &load(name, amperes);
        text += &run(&format!("{name} feed"), ["plus", &plus], 1.0, "6 mm2", "30 A blade-c");
        text += &run(&format!("{name} return"), [&minus, "minus"], 1.0, "6 mm2", "none");
    }
    text += &(case("all", &["lamp", "pump", "fan"]) + &case("lamp", &["lamp"]) + &case("pump", &["pump"]));
    judged(&text)
}

const TAPE: f64 = 0.95;

fn emissivity(value: f64) -> Surface {
    Surface::Emissivity(Ratio::new::<ratio>(value))
}

fn warm(sheet: &Sheet<'_>) -> Warm {
    let mut day = sheet.day();
    assert_eq!(day.warm.len(), 1);
    day.warm.remove(0)
}

/// What the lead is hotter than the air where it begins, by the plan's models of the cable and of the joint.
fn planned_rise(of: &Judgement, amperes: f64) -> f64 {
    let lead = run_of(of, "lead");
    let hottest = of.installation.zones[0].hottest;
    let lay = Lay::alone(Installation::FreeAir);
    let path = HeatPath::new(&of.models[lead].conductor, &lay, hottest).expect("a cable in free air");
    let current = ElectricCurrent::new::<ampere>(amperes);
    let joint = on(of).volts("all", ["house.+", "lead@start"], 1e-3, 1e-4).amperes("all", "lead", 40.0, 0.4).day();
    let joint: ElectricalResistance = piece(of, &joint, "joint on house.+ of lead").planned[1];
    let joint = joint_heat(joint, current, &[&path]).expect("it can be followed").rise.value;
    in_celsius(path.temperature(current).expect("it can be followed")) - in_celsius(hottest) + joint
}

/// Air, the rise of the conductor and the rise of the joint; 24 A are 60 % of 40 A, and a rise of 12 K grows to
/// 12·(40/24)² K = 33.3 K.
#[test]
fn a_rise_is_carried_over_to_full_load() {
    let of = warm_feed();
    let found = warm(&on(&of).degrees("lamp", "lead@start", 32.0, emissivity(TAPE)));
    // 1e-6 for the solved operating point.
    close(found.current.value, 24.0, 1e-6);
    close(found.full.value, 40.0, 1e-6);
    let expected = in_celsius(found.expected.expect("all is known"));
    let rise = planned_rise(&of, 24.0);
    assert!(rise > 1.0);
    // 1e-4 K: the same models, asked twice.
    assert!((expected - (20.0 + rise)).abs() < 1e-4, "{expected}, by hand {}", 20.0 + rise);
    close(found.at_full_load.expect("60 % is enough").value, 12.0 * (40.0_f64 / 24.0).powi(2), 1e-6);
}

/// At 10 A of 40 A a small rise says nothing of full load.
#[test]
fn below_two_fifths_of_full_load_nothing_is_carried_over() {
    let of = warm_feed();
    let found = warm(&on(&of).degrees("pump", "lead@start", 22.0, emissivity(TAPE)));
    assert_eq!((found.verdict, found.at_full_load), (Verdict::NotTold, None), "{}", found.reason);
    // 40 % of 40 A.
    assert!(found.reason.contains("16 A"), "{}", found.reason);
}

#[test]
fn bare_metal_is_not_usable() {
    let of = warm_feed();
    for surface in [Surface::Bare, emissivity(0.1), emissivity(0.3)] {
        let found = warm(&on(&of).degrees("all", "lead@start", 90.0, surface));
        assert_eq!((found.verdict, found.at_full_load), (Verdict::NotTold, None), "{}", found.reason);
        assert!(found.reason.contains("not usable") && found.reason.contains("0.05 to 0.3"), "{}", found.reason);
    }
    for surface in [Surface::Probe, emissivity(0.35), emissivity(TAPE)] {
        let found = warm(&on(&of).degrees("all", "lead@start", 140.0, surface));
        assert_eq!(found.verdict, Verdict::Remake, "{}", found.reason);
    }
}

#[test]
fn without_the_air_nothing_is_told() {
    let of = warm_feed();
    let sheet = Sheet { ambient: None, ..on(&of) };
    let found = warm(&sheet.degrees("all", "lead@start", 90.0, Surface::Probe));
    assert_eq!((found.verdict, found.expected, found.at_full_load), (Verdict::NotTold, None, None));
    assert!(found.reason.contains("ambient"), "{}", found.reason);
}

/// At full load: what is planned; 15 K more; 50 K more, of which 45 K are beyond doubt of 1 K of the instrument and 2 K of
/// the air. The same 20 K more at 24 A would be 55.6 K more at 40 A, less 3 K·(40/24)² of doubt: 47.2 K.
#[test]
fn a_joint_hotter_than_its_plan() {
    let of = warm_feed();
    let rise = planned_rise(&of, 40.0);
    let at = |case: &str, over: f64| warm(&on(&of).degrees(case, "lead@start", over, emissivity(TAPE)));
    for (more, verdict) in
        [(0.0, Verdict::AsPlanned), (9.0, Verdict::AsPlanned), (15.0, Verdict::Watch), (50.0, Verdict::Remake)]
    {
        let found = at("all", 20.0 + rise + more);
        assert_eq!(found.verdict, verdict, "{more} K: {}", found.reason);
    }
    assert_eq!(at("lamp", 20.0 + planned_rise(&of, 24.0) + 20.0).verdict, Verdict::Remake);
}

/// Where a clamp was read, its current counts and not the plan's: 20 A flow where 24 A were planned, half of full load, and
/// 10 K grow to 40 K.
#[test]
fn the_current_that_was_read_counts() {
    let of = warm_feed();
    let sheet = on(&of).amperes("lamp", "lead", 20.0, 0.05).degrees("lamp", "lead@start", 30.0, Surface::Probe);
    let found = warm(&sheet);
    // 0.1 %: 4.9 A of the plan's doubt against 0.03 A of the clamp's; twice that for a square.
    close(found.current.value, 20.0, 1e-3);
    close(found.at_full_load.expect("half is enough").value, 10.0 * 4.0, 2e-3);
}
