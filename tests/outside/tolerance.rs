//! The study of tolerances against closed forms, scipy and a published table.

use loomwright::quantity::uom::si::ratio::ratio;
use loomwright::quantity::{ElectricPotential, Ratio};
use loomwright::study::judge::{CaseResult, Judgement, judge};
use loomwright::study::tolerance::{LimitTolerance, Options, Spreads, Tolerance, ToleranceError, tolerance, wilson};
use loomwright::text::read_plan;
use loomwright_tests::{Row, apart, read};

/// One lamp straight on a battery: the drop is 5 A through both legs of 10 m of 16 mm² and 0.4 mΩ of joints. The conductor
/// stays within a kelvin of its air, so that drop follows resistance.
fn lamp(limit: &str, lowest: &str) -> Judgement {
    let text = format!(
        r#"format = 1
[plan]
name = "One lamp (invented)"
place = "cabin"
system_voltage = "12 V"
{limit}
[zones.here]
kind = "hut"
[batteries.house]
chemistry = "agm"
capacity = "100 Ah"
[loads.lamp]
current = "5 A"
{lowest}
[circuits.lamp]
from = "house.+"
return = "house.-"
to = "lamp"
route = ["10 m in here"]
conductor = "16 mm2"
install = "free-air"
fuse = "none"
[cases.evening]
engine = "off"
batteries = "resting"
"#
    );
    judge(&read_plan(&text).unwrap_or_else(|errors| panic!("{errors:#?}"))).unwrap()
}

fn of<'a>(found: &'a Tolerance, rule: &str) -> &'a LimitTolerance {
    found.limits.iter().find(|limit| limit.rule == rule && limit.subject == "lamp").expect("it is watched")
}

fn both(low: f64, high: f64) -> [Ratio; 2] {
    [low, high].map(Ratio::new::<ratio>)
}

/// The share that the interval of so many samples should hold: two in a hundred seeds may miss, so the expected value has to
/// lie within four standard deviations, which one in ten thousand would miss.
fn close(found: &LimitTolerance, expected: f64, samples: f64) {
    let deviation = (expected * (1.0 - expected) / samples).sqrt();
    assert!(apart(found.chance[0], expected) < 4.0 * deviation, "{:?}, by hand {expected}", found.chance);
}

/// Both legs are of one size and vary together, evenly within 0.8 to 1.2. With the drop limit where their sum is 2.1 the
/// chance is (1.05 − 0.8)/0.4 = 0.625; where it is 1.7, 0.125.
#[test]
fn two_legs_of_one_drum_are_even() {
    let nominal = lamp("", "");
    let plain = tolerance(&nominal, &Options { samples: 1, spreads: Spreads::none(), ..Options::default() }).unwrap();
    // By the margin at the general limit of 10 %, 1.2 V: what is lost, of which 4 joints of 0.1 mΩ take 2 mV.
    let lost = 1.2 / of(&plain, "voltage-drop").margin;
    let (joints, spread) = (5.0 * 0.4e-3, Spreads { conductor: both(0.8, 1.2), ..Spreads::none() });
    for (sum, expected) in [(2.1, 0.625), (1.7, 0.125)] {
        let limit = joints + (lost - joints) * sum / 2.0;
        let limit = format!("[limits.drop-general]\nvalue = \"{} %\"\nreason = \"test\"", 100.0 * limit / 12.0);
        let samples = 20_000;
        let found = tolerance(&lamp(&limit, ""), &Options { samples, spreads: spread, ..Options::default() }).unwrap();
        // Heating by 5 A moves the resistance by less than 0.1 %, which moves these chances by less than 0.002.
        let drop = of(&found, "voltage-drop");
        assert!(apart(drop.chance[0], expected) < 0.002 + 4.0 * (expected * (1.0 - expected) / 20_000.0_f64).sqrt());
        assert_eq!(drop.moved_by, Some("conductors"));
        // All at the high end: 2.4 of 2.1, or 1.7.
        assert!(apart(drop.worst_corner, sum / 2.4) < 0.02, "{}", drop.worst_corner);
    }
}

/// A battery's voltage lies evenly within 2 %; the lamp needs what it gets at +0.5 %: three in eight variants give it.
#[test]
fn one_voltage_is_even() {
    let nominal = lamp("", "");
    let nodes = nominal.installation.loads[0].nodes.unwrap();
    // The case that decides is that of the emptiest battery.
    let least =
        |one: &&CaseResult, other: &&CaseResult| one.between(nodes).value.total_cmp(&other.between(nodes).value);
    let case = nominal.cases.iter().min_by(least).unwrap();
    let battery = nominal.installation.cases[case.case].battery(&nominal.installation.batteries[0]);
    let needed: ElectricPotential = case.between(nodes) + battery.emf * 0.005;
    let lowest = format!("lowest_voltage = \"{} V\"", needed.value);
    let spreads = Spreads { source: both(0.98, 1.02), ..Spreads::none() };
    let found = tolerance(&lamp("", &lowest), &Options { samples: 20_000, spreads, ..Options::default() }).unwrap();
    close(of(&found, "lowest-voltage"), 0.375, 20_000.0);
}

fn hold(rows: &[Row]) {
    assert_eq!(rows.len(), 8);
    for row in rows {
        let count = |column: &str| row.text(column).parse().unwrap();
        let [_, low, high] = wilson(count("kept"), count("of"));
        assert!(apart(low, row.number("low")) < 1e-9 && apart(high, row.number("high")) < 1e-9, "{row:?}");
    }
}

/// Newcombe's examples as printed, to four decimals (from memory), and scipy's to its digits.
#[test]
fn intervals_are_wilson_s() {
    for (kept, of, printed) in
        [(81, 263, [0.2553, 0.3662]), (15, 148, [0.0624, 0.1605]), (0, 20, [0.0, 0.1611]), (1, 29, [0.0061, 0.1718])]
    {
        let [_, low, high] = wilson(kept, of);
        assert!(apart(low, printed[0]) < 6e-5 && apart(high, printed[1]) < 6e-5, "{kept}/{of}: {low} {high}");
    }
    hold(&read("wilson.csv"));
}

#[cfg(feature = "live")]
#[test]
fn intervals_are_scipy_s_now() {
    hold(&loomwright_tests::live::fresh_as_stored("wilson.py", "wilson.csv", &["low", "high"]));
}

#[test]
fn bad_options_are_refused() {
    let plan = lamp("", "");
    let asked = |options: Options| tolerance(&plan, &options).unwrap_err();
    let one = Options { samples: 1, ..Options::default() };
    assert_eq!(asked(Options { samples: 0, ..one }), ToleranceError::Samples(0));
    assert_eq!(asked(Options { samples: 1_000_001, ..one }), ToleranceError::Samples(1_000_001));
    assert_eq!(asked(Options { threads: 0, ..one }), ToleranceError::Threads(0));
    for wrong in [both(1.2, 1.0), both(0.0, 1.0), both(f64::NAN, 1.0), both(1.0, f64::INFINITY)] {
        let spreads = Spreads { loss: wrong, ..Spreads::default() };
        assert_eq!(asked(Options { spreads, ..one }), ToleranceError::Spread("losses"));
    }
}
