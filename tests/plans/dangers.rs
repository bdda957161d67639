//! Dangerous plans that once passed: each beside the same plan as it should be, which passes. Rules of the trade,
//! common practice, no source, where a test names none.

use crate::support::{failures, finding, judged, lamp, two_bars};
use loomwright::finding::Signal;
use loomwright::study::judge::Judgement;

fn bars(system_voltage: &str, fuse: &str, more: &str) -> Judgement {
    judged(&two_bars(system_voltage, fuse, more))
}

fn circuit(name: &str, more: &str) -> String {
    format!(
        "[circuits.{name}]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"{name}\"\nroute = [\"1 m in here\"]\n{more}\n"
    )
}

fn tells(judgement: &Judgement, rule: &str, subject: &str) -> bool {
    failures(judgement).any(|one| one.rule == rule && one.subject == subject)
}

fn second_battery(chemistry: &str, from: &str, to: &str) -> Judgement {
    let battery = format!("[batteries.second]\nchemistry = \"{chemistry}\"\ncapacity = \"200 Ah\"\n");
    let link = format!(
        "[runs.link]\nfrom = \"{from}\"\nto = \"{to}\"\nroute = [\"0.5 m in here\"]\nconductor = \"95 mm2\"\nfuse = \"150 A strip-sf51\"\n"
    );
    let back =
        "[runs.link-back]\nfrom = \"second.-\"\nto = \"minus\"\nroute = [\"0.5 m in here\"]\nconductor = \"95 mm2\"\n";
    bars("12 V", "150 A strip-sf51", &(battery + &link + back))
}

/// 33 CFR 183.455: protection at each source. A fuse at one battery protects nothing from the other.
#[test]
fn a_link_between_batteries_needs_a_fuse_at_both() {
    assert!(tells(&second_battery("agm", "second.+", "house.+"), "fuse-at-source", "link"));
    assert!(!tells(&second_battery("agm", "second.+", "plus"), "fuse-at-source", "link"));
}

#[test]
fn lithium_and_lead_are_not_joined() {
    assert!(tells(&second_battery("lithium-iron-phosphate", "second.+", "plus"), "batteries-in-parallel", "house"));
    assert!(!tells(&second_battery("agm", "second.+", "plus"), "batteries-in-parallel", "house"));
}

/// A fuse of 32 V stands an array of 18 V (25 V unloaded and cold), not one of 40 V.
#[test]
fn a_fuse_in_an_array_lead_breaks_the_arrays_voltage() {
    let array = |volts: u32, fuse: &str| {
        let controller = format!(
            "[converters.sun]\nkind = \"solar-controller\"\noutput_current = \"10 A\"\narray_current = \"9 A\"\narray_voltage = \"{volts} V\"\n"
        );
        let lead = format!(
            "[busbars.roof-plus]\n[busbars.roof-minus]\n[circuits.array]\nfrom = \"roof-plus\"\nreturn = \"roof-minus\"\nto = \"sun\"\nroute = [\"2 m in here\"]\nfuse = \"{fuse}\"\n"
        );
        let output =
            "[circuits.output]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"sun.out\"\nroute = [\"1 m in here\"]\n";
        bars("12 V", "150 A strip-sf51", &(controller + &lead + output))
    };
    assert!(!tells(&array(18, "20 A blade-c"), "fuse-voltage", "array +"));
    assert!(tells(&array(40, "20 A blade-c"), "fuse-voltage", "array +"));
    // Left to choose, none of 32 V is taken.
    let chosen = array(40, "auto");
    let index = chosen.installation.runs.iter().position(|run| run.name == "array +").expect("it is there");
    assert!(
        chosen.models[index]
            .fuse
            .is_none_or(|fuse| fuse.family.rated_voltage().is_some_and(|rated| rated.value >= 40.0))
    );
    // And an array below the charge voltage charges nothing.
    assert!(tells(&array(10, "none"), "array-voltage", "sun"));
}

#[test]
fn a_start_that_fails_is_told_without_a_stated_lowest_voltage() {
    let pump = |inrush: u32| {
        let load = format!("[loads.pump]\ncurrent = \"5 A\"\ninrush = \"{inrush} A\"\n");
        bars("12 V", "150 A strip-sf51", &(load + &circuit("pump", "conductor = \"1 mm2\"\nfuse = \"7.5 A blade-c\"")))
    };
    assert!(tells(&pump(200), "lowest-voltage", "pump"));
    assert!(!tells(&pump(10), "lowest-voltage", "pump"));
}

/// 20 A of charge go through the battery's 15 A fuse as soon as the heater stops.
#[test]
fn charging_with_loads_off_counts() {
    let plan = |fuse: &str| {
        let charger = "[converters.charger]\nkind = \"shore-charger\"\noutput_current = \"20 A\"\n[loads.heater]\ncurrent = \"11 A\"\n";
        let output = "[circuits.charger]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"charger.out\"\nroute = [\"1 m in here\"]\n";
        bars("12 V", fuse, &(charger.to_owned() + output + &circuit("heater", "")))
    };
    assert!(tells(&plan("15 A blade-c"), "fuse-carries-load", "lead"));
    assert!(!tells(&plan("40 A blade-c"), "fuse-carries-load", "lead"));
}

#[test]
fn a_load_for_more_than_its_net_is_told() {
    let lamp = |volts: u32| {
        let load = format!("[loads.lamp]\npower = \"60 W\"\nnominal_voltage = \"{volts} V\"\n");
        bars("12 V", "150 A strip-sf51", &(load + &circuit("lamp", "")))
    };
    assert!(tells(&lamp(24), "voltage-suits-device", "lamp"));
    assert!(!tells(&lamp(12), "voltage-suits-device", "lamp"));
}

/// 33 CFR 183.460 (from memory) exempts the conductors of the cranking motor; 1 mm² is none.
#[test]
fn only_a_stout_conductor_is_a_cranking_lead() {
    let lead = |size: u32| {
        let run = format!(
            "[busbars.far]\n[runs.cranking]\nfrom = \"house.+\"\nto = \"far\"\nroute = [\"1 m in here\"]\nconductor = \"{size} mm2\"\ncranking = true\n"
        );
        bars("12 V", "150 A strip-sf51", &run)
    };
    assert!(tells(&lead(1), "fuse-at-source", "cranking"));
    let stout = lead(70);
    assert!(!tells(&stout, "fuse-at-source", "cranking") && finding(&stout, "fuse-at-source", "cranking").is_some());
}

/// An empty battery takes all that the alternator gives, whatever a full one would.
#[test]
fn an_empty_battery_on_the_alternator_sizes_its_leads() {
    let plan = |lead: &str| {
        judged(&format!(
            r#"format = 1
[plan]
name = "Engine side (invented)"
place = "cabin"
system_voltage = "12 V"
[defaults]
insulation = "90 °C"
[zones.here]
kind = "van-cabin"
[batteries.starter]
chemistry = "flooded"
capacity = "100 Ah"
[alternators.alternator]
rating = "120 A"
[busbars.plus]
[busbars.minus]
[runs.lead]
from = "starter.+"
to = "plus"
route = ["0.5 m in here"]
conductor = "{lead}"
fuse = "200 A strip-sf51"
[runs.back]
from = "starter.-"
to = "minus"
route = ["0.5 m in here"]
conductor = "95 mm2"
[runs.alternator-lead]
from = "plus"
to = "alternator.+"
route = ["1 m in here"]
conductor = "95 mm2"
fuse = "none"
[runs.alternator-back]
from = "minus"
to = "alternator.-"
route = ["1 m in here"]
conductor = "95 mm2"
"#
        ))
    };
    assert!(tells(&plan("16 mm2"), "ampacity", "lead"), "16 mm² does not bear 120 A");
    assert!(!tells(&plan("95 mm2"), "ampacity", "lead"));
}

/// NEC 240.4(D): 20 A at most for 12 AWG copper, whatever it bears. In air of 25 °C and alone it bears more than 25 A.
#[test]
fn a_practice_permits_less_than_a_conductor_bears() {
    let circuit = |fuse: &str| {
        let plan = two_bars(
            "12 V",
            "150 A class-t",
            &lamp("power = \"60 W\"", &format!("conductor = \"12 AWG\"\nkind = \"awg\"\nfuse = \"{fuse}\"")),
        );
        let plan = plan.replace("place = \"vehicle\"", "place = \"vehicle\"\npractice = \"na-recreational-vehicle\"");
        let plan = plan.replace("kind = \"van-cabin\"", "kind = \"van-cabin\"\nhottest = \"25 °C\"");
        judged(&plan.replace("insulation = \"90 °C\"", "insulation = \"90 °C\"\ninstall = \"free-air\""))
    };
    let judgement = circuit("25 A blade-c");
    let told = finding(&judgement, "fuse-protects-conductor", "lamp +").expect("25 A before 12 AWG");
    assert_eq!((told.signal, told.measured, told.limit), (Signal::Warning, Some(25.0), Some(20.0)), "{told:?}");
    assert!((told.margin.unwrap() - 0.8).abs() < 1e-12 && told.message.contains("permits 20 A"), "{told:?}");
    assert!(told.citation.contains("240.4"), "{}", told.citation);
    assert!(finding(&circuit("20 A blade-c"), "fuse-protects-conductor", "lamp +").is_none());
    // It is the rating that is permitted, also where a fuse that opens late is judged by that.
    let late = circuit("25 A gg");
    let told = finding(&late, "fuse-protects-conductor", "lamp +").expect("25 A before 12 AWG");
    assert_eq!((told.measured, told.limit), (Some(25.0), Some(20.0)), "{told:?}");
}
