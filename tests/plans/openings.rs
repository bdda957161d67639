//! What if something opens, converters that chatter, batteries joined, relays that sense: small plans, by hand.

use crate::support::{finding, judged, two_bars};
use loomwright::finding::Signal;
use loomwright::study::judge::{Judgement, judge};
use loomwright::text::read_plan;

fn plan(more: &str) -> Judgement {
    judged(&two_bars("12 V", "150 A class-t", more))
}

const ALTERNATOR: &str = r#"[alternators.engine]
rating = "100 A"
SUPPRESSED
[runs.engine-lead]
from = "plus"
to = "engine.+"
route = ["1 m in here"]
conductor = "35 mm2"
fuse = "125 A class-t"
[runs.engine-back]
from = "minus"
to = "engine.-"
route = ["1 m in here"]
conductor = "35 mm2"
"#;

fn circuit(name: &str, from: &str, what: &str, metres: f64, size: &str) -> String {
    format!(
        "[circuits.{name}]\nfrom = \"{from}\"\nreturn = \"minus\"\nto = \"{what}\"\nroute = [\"{metres} m in here\"]\nconductor = \"{size}\"\nfuse = \"auto\"\n"
    )
}

/// Its fuse or the battery's opens while driving: 79 to 101 V on a 12 V net, unless its own diodes clip it; then what
/// stays on its net sees up to 35 V (ISO 16750-2, from memory).
#[test]
fn an_alternator_without_a_battery_is_a_danger() {
    let bare = plan(&ALTERNATOR.replace("SUPPRESSED", ""));
    let found = finding(&bare, "load-dump", "engine").expect("it is told");
    assert_eq!(found.signal, Signal::Danger);
    assert!(found.message.contains("101 V") && found.message.contains("the fuse of lead"), "{}", found.message);
    let clipped = plan(&ALTERNATOR.replace("SUPPRESSED", "suppressed = true"));
    assert!(finding(&clipped, "load-dump", "engine").is_none(), "nothing is left on its net");
    let lamp = format!(
        "{}[loads.lamp]\ncurrent = \"5 A\"\n{}",
        ALTERNATOR.replace("SUPPRESSED", "suppressed = true"),
        circuit("lamp", "plus", "lamp", 2.0, "2.5 mm2")
    );
    let left = plan(&lamp);
    let found = finding(&left, "load-dump", "engine").expect("a lamp stays on its net");
    assert_eq!(found.signal, Signal::Caution);
    assert!(found.message.contains("35 V"), "{}", found.message);
}

/// Whatever opens before it takes its supply; its own fuse is its own affair.
#[test]
fn what_must_stay_supplied_is_told_what_can_take_its_supply() {
    let pump = |extra: &str| {
        format!("[loads.pump]\ncurrent = \"5 A\"\n{extra}\n{}", circuit("pump", "plus", "pump", 2.0, "2.5 mm2"))
    };
    assert!(finding(&plan(&pump("")), "kept-powered", "pump").is_none());
    let kept = plan(&pump("keep_powered = true"));
    let found = finding(&kept, "kept-powered", "pump").expect("the main fuse takes it");
    assert_eq!(found.signal, Signal::Warning);
    assert!(
        found.message.contains("the fuse of lead") && !found.message.contains("the fuse of pump"),
        "{}",
        found.message
    );
}

/// An isolator in the negative takes the supply as well as one in the positive.
#[test]
fn an_isolator_in_the_negative_opens_the_circuit_too() {
    let pump = format!(
        "[loads.pump]\ncurrent = \"5 A\"\nkeep_powered = true\n{}",
        circuit("pump", "plus", "pump", 2.0, "2.5 mm2")
    );
    let switch = "[links.negative-switch]\nkind = \"isolator\"\nrating = \"200 A\"\n[runs.far-back]\nfrom = \"negative-switch.out\"\nto = \"minus\"\nroute = [\"0.5 m in here\"]\nconductor = \"95 mm2\"\n";
    let text = two_bars("12 V", "150 A class-t", &format!("{switch}{pump}{}", ALTERNATOR.replace("SUPPRESSED", "")));
    let text =
        text.replacen("from = \"house.-\"\nto = \"minus\"", "from = \"house.-\"\nto = \"negative-switch.in\"", 1);
    let judgement = judged(&text);
    for (rule, subject) in [("kept-powered", "pump"), ("load-dump", "engine")] {
        let found = finding(&judgement, rule, subject).unwrap_or_else(|| panic!("{rule} is told"));
        assert!(found.message.contains("negative-switch") || rule == "kept-powered", "{}", found.message);
    }
}

/// A second battery on a longer way, and what the first must carry when the second is gone.
fn second(limit: &str) -> String {
    format!(
        r#"[batteries.spare]
chemistry = "agm"
capacity = "100 Ah"
{limit}
[runs.spare-lead]
from = "spare.+"
to = "plus"
route = ["6 m in here"]
conductor = "16 mm2"
fuse = "60 A class-t"
[runs.spare-back]
from = "spare.-"
to = "minus"
route = ["6 m in here"]
conductor = "16 mm2"
[loads.winch]
current = "60 A"
{}"#,
        circuit("winch", "plus", "winch", 1.0, "25 mm2")
    )
}

#[test]
fn unequal_ways_share_unequally() {
    let judgement = plan(&second("current_limit = \"40 A\""));
    let found = finding(&judgement, "battery-sharing", "house").expect("the short way carries more");
    // By hand: 4.5 mΩ each battery; short way 2 · 1.15 m of 95 mm² (0.2 mΩ/m), two lugs, the fuse's 0.67 mΩ; long way
    // 2 · 7.2 m of 16 mm² (1.2 mΩ/m), two lugs twice, the fuse's 1.67 mΩ. So about 6 mΩ against 24 mΩ.
    let share = found.measured.expect("a current") / 60.0;
    assert!(share > 0.72 && share < 0.85, "{share}");
    assert_eq!(found.signal, Signal::Caution);
    // Alone, the spare one has to carry all 60 A.
    let found = finding(&judgement, "battery-current", "spare").expect("it is left with all of it");
    assert!(found.message.contains("the fuse of lead") && found.message.contains("60 A"), "{}", found.message);
    assert!(finding(&plan(&second("current_limit = \"80 A\"")), "battery-current", "spare").is_none());
}

/// 12 V from the middle of 24 V.
#[test]
fn a_load_in_the_middle_of_a_bank_is_told() {
    let text = two_bars(
        "24 V",
        "60 A class-t",
        &format!(
            "[batteries.upper]\nchemistry = \"agm\"\ncapacity = \"100 Ah\"\nnominal_voltage = \"12 V\"\n[busbars.middle]\n[runs.step]\nfrom = \"house.+\"\nto = \"middle\"\nroute = [\"0.3 m in here\"]\nconductor = \"35 mm2\"\n[runs.join]\nfrom = \"middle\"\nto = \"upper.-\"\nroute = [\"0.3 m in here\"]\nconductor = \"35 mm2\"\n[loads.radio]\ncurrent = \"2 A\"\nnominal_voltage = \"12 V\"\n{}",
            circuit("radio", "middle", "radio", 2.0, "1.5 mm2")
        ),
    );
    // The bank's positive end is that of the upper battery.
    let text = text.replace(
        "capacity = \"100 Ah\"\n[busbars.plus]",
        "capacity = \"100 Ah\"\nnominal_voltage = \"12 V\"\n[busbars.plus]",
    );
    let text = text.replacen("from = \"house.+\"\nto = \"plus\"", "from = \"upper.+\"\nto = \"plus\"", 1);
    let judgement = judged(&text);
    let found = finding(&judgement, "series-bank-tapped", "radio").expect("it is told");
    assert!(found.message.contains("house alone"), "{}", found.message);
}

fn combined(chemistry: &str) -> String {
    format!(
        r#"[batteries.service]
chemistry = "{chemistry}"
capacity = "100 Ah"
[links.combiner]
kind = "relay"
rating = "140 A"
closes_at = "13.3 V"
opens_at = "12.8 V"
closed = ["driving"]
[runs.service-lead]
from = "service.+"
to = "combiner.in"
route = ["1 m in here"]
conductor = "35 mm2"
fuse = "125 A class-t"
[runs.combiner-lead]
from = "plus"
to = "combiner.out"
route = ["1 m in here"]
conductor = "35 mm2"
fuse = "125 A class-t"
[runs.service-back]
from = "service.-"
to = "minus"
route = ["1 m in here"]
conductor = "35 mm2"
"#
    )
}

/// Lithium iron phosphate rests at 13.2 V: a relay that opens at 12.8 V never does. Glass mat rests at 12.5 V.
#[test]
fn a_relay_that_senses_never_releases_from_lithium() {
    let found = plan(&combined("lithium-iron-phosphate"));
    let found = finding(&found, "relay-releases", "combiner").expect("it never opens");
    assert_eq!((found.measured, found.limit), (Some(13.2), Some(12.8)));
    assert!(finding(&plan(&combined("agm")), "relay-releases", "combiner").is_none());
    for (wrong, said) in [("opens_at = \"12.8 V\"\n", "opens_at is needed"), ("kind = \"relay\"", "only a relay")] {
        let text = combined("agm").replace(wrong, if wrong.starts_with("kind") { "kind = \"isolator\"" } else { "" });
        let errors = read_plan(&two_bars("12 V", "150 A class-t", &text)).unwrap_err();
        assert!(errors.iter().any(|error| error.message.contains(said)), "{errors:?}");
    }
}

/// By hand: nearly empty the battery stands at 11.9 V; 900 W over 90 % are 1 kW; 10 m of 16 mm² and back have some
/// 30 mΩ, 7 mΩ the battery at 10 % charge: at 11.3 V where it stops it would take 88 A and lose 3 V.
#[test]
fn a_converter_on_a_thin_feeder_starts_and_stops() {
    let inverter = |metres: f64, size: &str| {
        format!(
            "[converters.inverter]\nkind = \"inverter\"\noutput_power = \"900 W\"\nefficiency = \"90 %\"\nlock_out = \"11 V\"\nrestart = \"11.5 V\"\n{}",
            circuit("inverter", "plus", "inverter", metres, size)
        )
    };
    let judgement = plan(&inverter(10.0, "16 mm2"));
    let found = finding(&judgement, "converter-chatter", "inverter").expect("it chatters");
    assert_eq!(found.signal, Signal::Warning);
    // (11.9 V − 11 V) · 11 V / 1 kW = 9.9 mΩ.
    assert!(found.message.contains("9.9 mΩ"), "{}", found.message);
    let stiff = two_bars("12 V", "150 A class-t", &inverter(0.5, "120 mm2")).replacen("100 Ah", "200 Ah", 1);
    assert!(finding(&judged(&stiff), "converter-chatter", "inverter").is_none());
}

/// A bar that carries all of what it distributes.
#[test]
fn a_bar_is_held_to_its_rating() {
    let loads = format!("[loads.winch]\ncurrent = \"90 A\"\n{}", circuit("winch", "plus", "winch", 1.0, "50 mm2"));
    let text = two_bars("12 V", "150 A class-t", &loads).replace("[busbars.plus]", "[busbars.plus]\nrating = \"80 A\"");
    let judgement = judged(&text);
    let found = finding(&judgement, "device-rating", "plus").expect("80 A for 90 A");
    assert!((found.measured.expect("a current") - 90.0).abs() < 0.5);
    assert!(finding(&judged(&text.replace("80 A\"", "120 A\"")), "device-rating", "plus").is_none());
}

/// Converters that feed each other, or themselves: named, with what is joined.
#[test]
fn converters_in_a_circle_are_named() {
    let buck = |name: &str, from: &str, to: &str| {
        format!(
            "[converters.{name}]\nkind = \"buck\"\noutput_current = \"10 A\"\noutput_voltage = \"12 V\"\n{}{}",
            circuit(&format!("{name}-in"), from, name, 1.0, "4 mm2"),
            circuit(&format!("{name}-out"), to, &format!("{name}.out"), 1.0, "4 mm2")
        )
    };
    let errors = read_plan(&two_bars("12 V", "150 A class-t", &buck("own", "plus", "plus"))).unwrap_err();
    assert!(errors.iter().any(|error| error.message.contains("own feeds itself")), "{errors:?}");
    let circle = format!("[busbars.other]\n{}{}", buck("there", "plus", "other"), buck("back", "other", "plus"));
    let plan = read_plan(&two_bars("12 V", "150 A class-t", &circle)).expect("it reads");
    let error = judge(&plan).expect_err("a circle").to_string();
    assert!(error.contains("in a circle through") && error.contains("there.out+"), "{error}");
}

/// The margin of a case is that of its tightest constant power; below twice it is told.
#[test]
fn little_margin_is_told() {
    let load = |watts: f64| {
        format!("[loads.heater]\npower = \"{watts} W\"\n{}", circuit("heater", "plus", "heater", 12.0, "10 mm2"))
    };
    let judgement = plan(&load(320.0));
    let margin = judgement.record().cases.iter().filter_map(|case| case.stability_margin).fold(f64::INFINITY, f64::min);
    let found = finding(&judgement, "stability-margin", "constant power").expect("it is told");
    assert!(margin < 2.0 && (found.measured.expect("a margin") - margin).abs() < 1e-6);
    assert!(finding(&plan(&load(60.0)), "stability-margin", "constant power").is_none());
}

/// 14.7 V over 4.5 mΩ of battery and some milliohms of cable: kiloamperes; at 48 V it is a warning.
#[test]
fn empty_capacitors_are_told() {
    let inverter = |extra: &str| {
        format!(
            "[converters.inverter]\nkind = \"inverter\"\noutput_power = \"500 W\"\n{extra}\n{}",
            circuit("inverter", "plus", "inverter", 1.0, "25 mm2")
        )
    };
    let found = plan(&inverter(""));
    let found = finding(&found, "pre-charge", "inverter").expect("it is told");
    assert_eq!(found.signal, Signal::Caution);
    assert!(finding(&plan(&inverter("pre_charge = true")), "pre-charge", "inverter").is_none());
    let high = judged(&two_bars("48 V", "60 A class-t", &inverter("")));
    assert_eq!(finding(&high, "pre-charge", "inverter").expect("it is told").signal, Signal::Warning);
}

/// Half way between full output at 30 °C and none at 50 °C, half is left in 40 °C air.
#[test]
fn warm_air_leaves_less_output() {
    let inverter = |loads: f64| {
        format!(
            "[converters.inverter]\nkind = \"inverter\"\noutput_power = \"800 W\"\nzone = \"here\"\nfull_up_to = \"30 °C\"\nnothing_at = \"50 °C\"\n[loads.kettle]\npower = \"{loads} W\"\ninverter = \"inverter\"\n{}",
            circuit("inverter", "plus", "inverter", 1.0, "50 mm2")
        )
    };
    let judgement = plan(&inverter(500.0));
    let found = finding(&judgement, "converter-output", "inverter").expect("400 W are left");
    assert_eq!((found.measured, found.limit.map(f64::round)), (Some(500.0), Some(400.0)));
    assert!(found.message.contains("40 °C"), "{}", found.message);
    assert!(finding(&plan(&inverter(390.0)), "converter-output", "inverter").is_none());
}

/// Old and new, glass mat and gel, side by side.
#[test]
fn batteries_that_do_not_match_are_told() {
    let with = |change: [&str; 2]| plan(&second("installed = \"2019\"").replacen(change[0], change[1], 1));
    let text = two_bars("12 V", "150 A class-t", &second("installed = \"2019\""));
    let old = judged(&text.replacen("capacity = \"100 Ah\"", "capacity = \"100 Ah\"\ninstalled = \"2024\"", 1));
    let found = finding(&old, "batteries-in-parallel", "house").expect("five years apart");
    assert!(found.message.contains("older or newer"), "{}", found.message);
    let mixed = with(["chemistry = \"agm\"", "chemistry = \"gel\""]);
    let found = finding(&mixed, "batteries-in-parallel", "house").expect("of another kind");
    assert_eq!(found.signal, Signal::Caution);
    let errors = read_plan(&text.replace("\"2019\"", "\"last spring\"")).unwrap_err();
    assert!(errors[0].message.contains("is no year"), "{errors:?}");
}

/// An inverter of 1 kW at 90 % loses 111 W at its rated output, which it gives when everything runs. An upright plate 20 K above 40 °C air sheds some 10 W/(m²·K), more than half of it by radiation.
#[test]
fn a_converter_says_what_heat_it_sheds() {
    let text = format!(
        "[converters.inverter]\nkind = \"inverter\"\noutput_power = \"1 kW\"\nefficiency = \"90 %\"\nzone = \"here\"\n[loads.kettle]\npower = \"450 W\"\ninverter = \"inverter\"\n{}",
        circuit("inverter", "plus", "inverter", 1.0, "70 mm2")
    );
    let record = plan(&text).record();
    let inverter = record.devices.iter().find(|device| device.name == "inverter").expect("it is there");
    let lost = 1000.0 / 9.0;
    assert!((inverter.heat_w.expect("it works") - lost).abs() < 1e-6);
    let surface = inverter.free_surface_m2.expect("it sheds");
    assert!(surface > lost / (20.0 * 11.0) && surface < lost / (20.0 * 8.5), "{surface} m²");
}
