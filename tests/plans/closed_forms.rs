//! Closed forms through the whole chain, from the text of a plan to its findings: the largest power that a feeder
//! carries, and the run length at which each limit of the drop is met.

use crate::support::{case, failures, finding, judged};
use loomwright::study::judge::Judgement;
use loomwright_tests::by_hand::{Enclosed, cut};

/// A size in conduit.
struct Size {
    name: &'static str,
    row: Enclosed,
}

const SIZES: [Size; 3] = [
    Size { name: "2.5 mm2", row: Enclosed { table_a: 24.0, class_2: 7.41, class_5: 7.98 } },
    Size { name: "6 mm2", row: Enclosed { table_a: 41.0, class_2: 3.08, class_5: 3.30 } },
    Size { name: "16 mm2", row: Enclosed { table_a: 76.0, class_2: 1.15, class_5: 1.21 } },
];

/// One battery and one load at the end of one circuit.
fn plan(practice: &str, place: &str, size: &str, route_m: f64, load: &str) -> Judgement {
    judged(&format!(
        r#"format = 1
[plan]
name = "One feeder (invented)"
place = "{place}"
system_voltage = "12 V"
practice = "{practice}"
[zones.here]
kind = "boat"
hottest = "30 °C"
[batteries.house]
chemistry = "lithium-iron-phosphate"
capacity = "200 Ah"
resistance = "10 mohm"
[loads.far]
{load}
[circuits.feeder]
from = "house.+"
return = "house.-"
to = "far"
route = ["{route_m:.6} m in here"]
conductor = "{size}"
insulation = "90 °C"
fuse = "40 A blade-c"
"#
    ))
}

/// Voltage at the load in a case; `None` without an operating point.
fn load_voltage(judgement: &Judgement, name: &str) -> Option<f64> {
    let result = case(judgement, name);
    result.point.as_ref()?;
    Some(result.between(judgement.installation.loads[0].nodes?).value)
}

/// A battery of V volts behind R ohms gives at most V²/(4R); below that the load sits at V/2·(1 + √(1 − P/Pmax)).
#[test]
fn constant_power_ends_at_a_quarter_of_the_square() {
    let size = &SIZES[2];
    // Long, so that the cable stays cool and its resistance hardly depends on the current.
    for route in [150.0, 250.0, 500.0] {
        // Two legs at the temperature of the current at the limit, V/(2R); four lugs, the fuse, the battery:
        // lithium iron phosphate at 10 % charge has 1.1 times its resistance, straight down to 1.0 at 80 %.
        let total = |current: f64, charge: f64| {
            let battery = 10e-3 * (1.1 - 0.1 * (charge - 0.1) / 0.7);
            2.0 * cut(route) * size.row.ohm_per_metre(current, 30.0) + 4e-4 + 0.1 / 40.0 + battery
        };
        let at_limit =
            |volts: f64, charge: f64| (0..30).fold(0.0, |current: f64, _| volts / (2.0 * total(current, charge)));
        // Four cells: 3.2 V each nearly empty, 3.3 V at rest.
        let (low, resting) = (4.0 * 3.2, 4.0 * 3.3);
        let charge = |volts: f64| if volts == low { 0.1 } else { 0.5 };
        let most = |volts: f64| volts * volts / (4.0 * total(at_limit(volts, charge(volts)), charge(volts)));
        let ask = |watts: f64| plan("general", "cabin", size.name, route, &format!("power = \"{watts:.6} W\""));
        for share in [0.25_f64, 0.5, 0.75, 0.9, 0.99] {
            let judgement = ask(share * most(low));
            let volts = load_voltage(&judgement, "full-load-low-battery");
            let volts = volts.unwrap_or_else(|| panic!("{route} m: {share} of the limit settles"));
            // A little below the limit the cable is a little cooler than at it.
            let expected = (0..30).fold(low, |volts: f64, _| {
                let power = share * most(low);
                0.5 * low * (1.0 + (1.0 - 4.0 * power * total(power / volts, 0.1) / (low * low)).max(0.0).sqrt())
            });
            assert!(
                (volts - expected).abs() < 0.01 * expected,
                "{route} m, {share}: {volts} V, closed form {expected} V"
            );
            assert!(finding(&judgement, "operating-point", "far").is_none());
        }
        // One per cent above: nothing on the low battery, while the resting one still carries it.
        let judgement = ask(1.01 * most(low));
        assert_eq!(load_voltage(&judgement, "full-load-low-battery"), None, "{route} m");
        assert!(load_voltage(&judgement, "parked-night").is_some(), "{route} m");
        let told = finding(&judgement, "operating-point", "far").expect("a collapse is found");
        assert_eq!(told.case.as_deref(), Some("full-load-low-battery"));
        assert!(!judgement.holds());
        // One per cent below and above the limit of the resting battery.
        assert!(load_voltage(&ask(0.99 * most(resting)), "parked-night").is_some(), "{route} m");
        assert_eq!(load_voltage(&ask(1.01 * most(resting)), "parked-night"), None, "{route} m");
    }
}

/// Limits of the drop by function, of 12 V: ISO 10133 for small craft, and the same customs under 33 CFR 183, which
/// itself limits no drop. Half a per cent of route inside passes, half a per cent outside is a warning.
#[test]
fn drop_limits_by_run_length() {
    let functions = [("navigation", 0.03), ("bilge", 0.03), ("feeder", 0.03), ("general", 0.10)];
    for practice in ["iso-small-craft", "us-small-craft"] {
        for (function, share) in functions {
            for size in &SIZES {
                let current = 5.0;
                let limit = share * 12.0;
                // limit = I·(2·r·cut + four lugs + fuse), solved for the length.
                let joints = 4e-4 + 0.1 / 40.0;
                let longest = (limit / current - joints) / (2.0 * size.row.ohm_per_metre(current, 30.0));
                let route = (longest - 0.6) / 1.1;
                assert!(route > 1.0, "the case says something");
                let load = format!("current = \"{current} A\"\nfunction = \"{function}\"");
                let at = |share: f64| plan(practice, "boat", size.name, share * route, &load);
                let place = format!("{practice}, {function}, {}, {route} m", size.name);
                let drop_fails = |judgement: &Judgement| failures(judgement).any(|one| one.rule == "voltage-drop");
                let (inside, outside) = (at(0.995), at(1.005));
                assert!(!drop_fails(&inside), "{place}: inside");
                assert!(drop_fails(&outside), "{place}: outside");
                // At the limit itself the numbers are those of the formula.
                let told = finding(&outside, "voltage-drop", "far").expect("it fails");
                let by_hand = current * (2.0 * size.row.ohm_per_metre(current, 30.0) * cut(1.005 * route) + joints);
                assert!(
                    (told.measured.unwrap() - by_hand).abs() < 1e-6 * by_hand,
                    "{place}: {told:?}, {by_hand} by hand"
                );
                assert!((told.limit.unwrap() - limit).abs() < 1e-9, "{place}");
                // Within 10 % of the limit it is a caution, farther inside nothing.
                assert!(finding(&inside, "voltage-drop", "far").is_some(), "{place}: thin");
                assert!(finding(&at(0.85), "voltage-drop", "far").is_none(), "{place}: ample");
            }
        }
    }
}
