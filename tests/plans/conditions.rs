//! What a case states of batteries and alternators, relays as states, and what holds converters down: by hand.

use crate::support::{finding, judged, two_bars};
use loomwright::finding::Signal;
use loomwright::study::judge::{CaseRecord, CaseResult, Judgement};
use loomwright::text::read_plan;

fn case(judgement: &Judgement, name: &str) -> CaseRecord {
    judgement.record().cases.into_iter().find(|case| case.name == name).unwrap_or_else(|| panic!("no case {name}"))
}

fn voltage(case: &CaseRecord, node: &str) -> f64 {
    let node = case.nodes.iter().find(|found| found.name == node).unwrap_or_else(|| panic!("no node {node}"));
    node.voltage_v.expect("a source reaches it")
}

const ENGINE: &str = r#"[alternators.engine]
rating = "100 A"
suppressed = true
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

/// 45 K colder a 12 V lead-acid block stands 45 mV lower and has twice the resistance: of 4.5 mΩ for 100 Ah, and 1.008 of
/// that at 60 % charge by the laboratory module's row.
#[test]
fn a_case_states_charge_and_temperature() {
    let load = "[loads.lamp]\ncurrent = \"10 A\"\n[circuits.lamp]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"lamp\"\nroute = [\"1 m in here\"]\nconductor = \"10 mm2\"\n";
    let cases = "[cases.mild]\nstate_of_charge = \"60 %\"\n[cases.cold]\nstate_of_charge = \"60 %\"\nbattery_temperature = \"-20 °C\"\n[cases.unloaded]\nstate_of_charge = \"60 %\"\nbattery_temperature = \"-20 °C\"\nloads = []\n";
    let judgement = judged(&two_bars("12 V", "150 A class-t", &format!("{load}{cases}")));
    let at = |name: &str| voltage(&case(&judgement, name), "house.+");
    let own = 4.5e-3 * 1.008;
    let rest = at("mild") + 10.0 * own;
    assert!((at("unloaded") - (rest - 0.045)).abs() < 1e-6, "{} {rest}", at("unloaded"));
    assert!((at("cold") - (rest - 0.045 - 20.0 * own)).abs() < 1e-6, "{} {rest}", at("cold"));
}

/// Four, eight or sixteen cells of 3.2 V are called 12, 24 or 48 V as well as 12.8, 25.6 or 51.2 V: the same battery, and the same
/// regulator, charger and lock-out beside it.
#[test]
fn a_battery_stands_where_it_stands_whatever_it_is_called() {
    let cases = "[cases.half]\nstate_of_charge = \"50 %\"\n[cases.driving]\nengine = \"cruise\"\n";
    for (called, cells) in [("12 V", "12.8 V"), ("24 V", "25.6 V"), ("48 V", "51.2 V")] {
        let at = |name: &str, node: &str| {
            let plan = two_bars(name, "150 A class-t", &format!("{ENGINE}{cases}"));
            let judgement = judged(&plan.replace("agm", "lithium-iron-phosphate"));
            voltage(&case(&judgement, if node == "engine.+" { "driving" } else { "half" }), node)
        };
        for node in ["house.+", "engine.+"] {
            let [one, other] = [at(called, node), at(cells, node)];
            assert!((one - other).abs() < 1e-9, "{node}: {one} V as {called}, {other} V as {cells}");
        }
        let charger = "[converters.charger]\nkind = \"dc-dc-charger\"\noutput_current = \"20 A\"\n";
        let usual = |name: &str| {
            let plan = read_plan(&two_bars(name, "150 A class-t", charger)).expect("the plan is sound");
            (plan.converters[0].output_voltage, plan.converters[0].lock_out)
        };
        assert_eq!(usual(called), usual(cells));
    }
}

#[test]
fn a_case_states_the_speed_of_the_alternator() {
    let cases = "[cases.slow]\nengine = \"cruise\"\nalternator_speed = \"1800 r/min\"\n[cases.fast]\nengine = \"idle\"\nalternator_speed = \"6000 rpm\"\n[cases.below]\nengine = \"idle\"\nalternator_speed = \"1200/min\"\n";
    let judgement = judged(&two_bars("12 V", "150 A class-t", &format!("{ENGINE}{cases}")));
    let available = |name: &str| case(&judgement, name).alternators[0].available_a;
    // Through its two points: 0.4 and 0.8 of its rating; nothing below 1300 r/min.
    assert!((available("slow") - 40.0).abs() < 1e-6 && (available("fast") - 80.0).abs() < 1e-6);
    assert_eq!(available("below"), 0.0);
    let assumed = judgement.record().assumptions;
    assert!(assumed.iter().any(|one| one.text.contains("idle speed 1800 r/min")), "{assumed:?}");
}

#[test]
fn what_a_case_cannot_be_is_refused() {
    let refused = |case: &str, said: &str| {
        let errors =
            read_plan(&two_bars("12 V", "150 A class-t", &format!("{ENGINE}[cases.odd]\n{case}"))).unwrap_err();
        assert!(errors.iter().any(|error| error.message.contains(said) && error.line > 20), "{case}: {errors:?}");
    };
    refused("state_of_charge = \"120 %\"", "0 % to 100 %");
    refused("state_of_charge = \"50 %\"\nbatteries = \"low\"", "one of batteries and state_of_charge");
    refused("battery_temperature = \"300 °C\"", "-40 °C to 80 °C");
    refused("alternator_speed = \"2600 r/min\"", "engine = ");
    refused("engine = \"idle\"\nalternator_speed = \"2600\"", "2600");
    refused("engine = \"idle\"\nalternator_speed = \"99999 rpm\"", "20000 r/min");
    let odd = ENGINE.replace("suppressed = true", "hot_output = \"50 A\"\nidle_output = \"60 A\"");
    let odd = format!("{odd}[cases.odd]\nengine = \"idle\"\nalternator_speed = \"2600 rpm\"");
    let errors = read_plan(&two_bars("12 V", "150 A class-t", &odd)).unwrap_err();
    assert!(errors.iter().any(|error| error.message.contains("not known for engine")), "{errors:?}");
}

/// A service battery behind a relay that senses; `sensing` is the terminal on the alternator's side.
fn combined(chemistry: &str, sensing: &str, other: &str, metres: f64) -> String {
    format!(
        r#"{ENGINE}[batteries.service]
chemistry = "{chemistry}"
capacity = "100 Ah"
[links.combiner]
kind = "relay"
rating = "200 A"
closes_at = "13.3 V"
opens_at = "12.8 V"
[runs.service-lead]
from = "service.+"
to = "combiner.{other}"
route = ["{metres} m in here"]
conductor = "35 mm2"
fuse = "125 A class-t"
[runs.combiner-lead]
from = "plus"
to = "combiner.{sensing}"
route = ["1 m in here"]
conductor = "35 mm2"
fuse = "125 A class-t"
[runs.service-back]
from = "service.-"
to = "minus"
route = ["{metres} m in here"]
conductor = "35 mm2"
"#
    )
}

#[test]
fn a_relay_closes_by_what_it_senses() {
    let state = |judgement: &Judgement, name: &str| case(judgement, name).relays[0].closed;
    // Driving, the alternator's 14.2 V close it; at rest glass mat's 12.5 V let it go, lithium's 13.2 V do not.
    let glass = judged(&two_bars("12 V", "150 A class-t", &combined("agm", "in", "out", 1.0)));
    assert!(state(&glass, "driving-cruise") && !state(&glass, "parked-night"));
    let lithium = combined("lithium-iron-phosphate", "in", "out", 1.0);
    let lithium = two_bars("12 V", "150 A class-t", &lithium).replacen("agm", "lithium-iron-phosphate", 1);
    assert!(state(&judged(&lithium), "parked-night"));
    // Turned round it senses the service battery, which nothing lifts: it never closes.
    let turned = judged(&two_bars("12 V", "150 A class-t", &combined("agm", "out", "in", 1.0)));
    let found = finding(&turned, "relay-closes", "combiner").expect("it stays open");
    assert_eq!(found.signal, Signal::Warning);
    assert!(finding(&glass, "relay-closes", "combiner").is_none());
}

/// Lithium behind a short lead takes all that the alternator has at idle: 40 A over 4 mΩ and leads of some 3 mΩ leave
/// about 13.2 V + 0.3 V; with the opening voltage above that and the alternator's 14.2 V above the closing one it
/// opens and closes without end.
#[test]
fn a_relay_that_pulls_its_own_voltage_down_chatters() {
    let plan = two_bars("12 V", "150 A class-t", &combined("lithium-iron-phosphate", "in", "out", 1.0))
        .replace("closes_at = \"13.3 V\"\nopens_at = \"12.8 V\"", "closes_at = \"14.0 V\"\nopens_at = \"13.9 V\"");
    let judgement = judged(&plan);
    let found = finding(&judgement, "relay-chatter", "combiner").expect("it chatters");
    assert_eq!((found.signal, found.case.as_deref()), (Signal::Warning, Some("driving-hot-idle")));
    assert!(found.message.contains("13.9 V") && found.message.contains("14 V"), "{}", found.message);
    // In whatever cases it does so, it is told once.
    let again = judged(&format!("{plan}[cases.waiting]\nengine = \"idle\"\nbatteries = \"resting\"\n"));
    let chatters =
        |result: &&CaseResult| result.point.as_ref().is_some_and(|point| !point.chattering_relays.is_empty());
    assert!(again.cases.iter().filter(chatters).count() > 1);
    assert_eq!(again.findings.iter().filter(|one| one.rule == "relay-chatter").count(), 1);
}

#[test]
fn an_input_limit_that_binds_is_named() {
    let charger = |limit: &str| {
        format!(
            "{ENGINE}[batteries.service]\nchemistry = \"agm\"\ncapacity = \"200 Ah\"\n[converters.charger]\nkind = \"dc-dc-charger\"\noutput_current = \"30 A\"\noutput_voltage = \"14.4 V\"\nefficiency = \"90 %\"\n{limit}\nrunning_signal = true\n\
             [circuits.feed]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"charger\"\nroute = [\"2 m in here\"]\n\
             [runs.out]\nfrom = \"service.+\"\nto = \"charger.out+\"\nroute = [\"1 m in here\"]\nfuse = \"50 A class-t\"\n[runs.service-back]\nfrom = \"service.-\"\nto = \"minus\"\nroute = [\"1 m in here\"]\n"
        )
    };
    let judgement = judged(&two_bars("12 V", "150 A class-t", &charger("input_limit = \"25 A\"")));
    let found =
        finding(&judgement, "converter-limited", "charger").expect("25 A in at 14 V are less than 30 A out at 14.4 V");
    assert_eq!(found.signal, Signal::Notice);
    assert!(found.message.contains("its input limit of 25 A"), "{}", found.message);
    let cruise = case(&judgement, "driving-cruise");
    assert_eq!(cruise.converters[0].limited_by, "input-current");
    // What it gives and loses is what it takes.
    let one = &cruise.converters[0];
    assert!((one.output_w + one.heat_w - one.input_voltage_v * one.input_current_a).abs() < 1e-6);
    let free = judged(&two_bars("12 V", "150 A class-t", &charger("")));
    assert_eq!(case(&free, "driving-cruise").converters[0].limited_by, "output-current");
    assert!(finding(&free, "converter-limited", "charger").is_none());
}

#[test]
fn unlike_batteries_in_series_are_told() {
    let bank = |upper: &str, lower: &str| {
        let text = two_bars(
            "24 V",
            "60 A class-t",
            &format!(
                "[batteries.upper]\nnominal_voltage = \"12 V\"\n{upper}\n[runs.step]\nfrom = \"house.+\"\nto = \"upper.-\"\nroute = [\"0.3 m in here\"]\nconductor = \"35 mm2\"\n"
            ),
        );
        let text = text.replace(
            "capacity = \"100 Ah\"\n[busbars.plus]",
            &format!("capacity = \"100 Ah\"\nnominal_voltage = \"12 V\"\n{lower}[busbars.plus]"),
        );
        judged(&text.replacen("from = \"house.+\"\nto = \"plus\"", "from = \"upper.+\"\nto = \"plus\"", 1))
    };
    let told = |judgement: &Judgement| finding(judgement, "batteries-in-series", "upper").map(|found| found.signal);
    let same = "chemistry = \"agm\"\ncapacity = \"100 Ah\"\ninstalled = \"2024\"";
    assert_eq!(told(&bank(same, "installed = \"2024\"\n")), None);
    assert_eq!(told(&bank(same, "installed = \"2019\"\n")), Some(Signal::Caution));
    assert_eq!(told(&bank("chemistry = \"agm\"\ncapacity = \"70 Ah\"", "")), Some(Signal::Warning));
    assert_eq!(told(&bank("chemistry = \"gel\"\ncapacity = \"100 Ah\"", "")), Some(Signal::Warning));
}

/// The engine's own battery is behind a relay that senses the wrong side and stays open: nothing then holds the net of
/// the alternator when its other battery's fuse opens.
#[test]
fn an_open_relay_holds_no_alternator() {
    let told = |sensing: &str, other: &str| {
        let plan = combined("agm", sensing, other, 1.0).replace("suppressed = true", "");
        let judgement = judged(&two_bars("12 V", "150 A class-t", &plan));
        finding(&judgement, "load-dump", "engine").is_some_and(|found| found.message.contains("the fuse of lead"))
    };
    assert!(told("out", "in"), "the relay is open");
    assert!(!told("in", "out"), "the service battery still holds it");
}
