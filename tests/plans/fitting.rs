//! What does not fit: terminals, pins, lugs, conduits, bends, supports, glands and conductors in parallel, by plans of a
//! few lines and hand calculation; and every remedy that is offered, applied and judged anew.

use crate::support::{finding, judged, two_bars};
use loomwright::finding::{Finding, Signal};
use loomwright::installation::Change;
use loomwright::quantity::in_mm2;
use loomwright::study::judge::{Judgement, judge};
use loomwright::study::remedy::{Remedy, found, removes};
use loomwright::text::read_plan;

/// A charger on two bars, its output conductor and terminal as asked.
fn charger(current: &str, conductor: &str, terminal: &str, route: &str, more: &str) -> String {
    let rest = format!(
        r#"
[converters.charger]
kind = "shore-charger"
output_current = "{current}"
output_voltage = "14.4 V"
terminal = "{terminal}"
[circuits.output]
from = "plus"
return = "minus"
to = "charger.out"
route = ["{route} in here"]
conductor = "{conductor}"
install = "free-air"
fuse = "80 A class-t"
{more}"#
    );
    two_bars("12 V", "200 A class-t", &rest)
}

fn of<'a>(judgement: &'a Judgement, rule: &str, subject: &str) -> &'a Finding {
    finding(judgement, rule, subject).unwrap_or_else(|| panic!("no {rule} of {subject}: {:#?}", judgement.findings))
}

/// 35 mm² into a terminal for 16 mm²: every way out that there is, in the order of PRACTICE, and each does what it says.
#[test]
fn the_size_that_does_not_enter() {
    let judgement = judged(&charger("20 A", "35 mm2", "16 mm2", "1 m", ""));
    let tight = of(&judgement, "terminal-accepts-conductor", "output +");
    assert_eq!((tight.signal, tight.measured, tight.limit), (Signal::Warning, Some(35.0), Some(16.0)));
    // 16/35.
    assert!((tight.margin.unwrap() - 0.457_142_857).abs() < 1e-9);
    let remedies = found(&judgement, tight);
    let words: Vec<&str> = remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    let at = |what: &str| words.iter().position(|words| words.contains(what));
    let order =
        ["set charger to", "route output in", "a reducing pin to 16 mm²", "a busbar at the end of output"].map(at);
    assert!(order.iter().all(Option::is_some) && order.is_sorted(), "{words:#?}");
    for remedy in &remedies {
        again(&judgement, tight, remedy);
    }
}

/// The remedy applied to the plan, judged from nothing: the finding is gone and no failure is new or worse.
fn again(judgement: &Judgement, finding: &Finding, remedy: &Remedy) {
    assert!(removes(judgement, finding, &remedy.changes), "{}", remedy.words);
    let edited = remedy.changes.iter().fold(judgement.installation.clone(), |plan, change| plan.with(change));
    let after = judge(&edited).unwrap_or_else(|error| panic!("{}: {error}", remedy.words));
    let same = |one: &Finding, other: &Finding| one.rule == other.rule && one.subject == other.subject;
    for now in after.findings.iter().filter(|now| now.signal >= Signal::Warning) {
        assert!(!same(now, finding), "{}: {now:#?}", remedy.words);
        assert!(judgement.findings.iter().any(|before| same(before, now)), "{} brings {now:#?}", remedy.words);
    }
}

/// Smaller, mildest first: where the size that enters does by itself, nothing else is asked for with it.
#[test]
fn what_does_less_comes_first() {
    let judgement = judged(&charger("12 A", "35 mm2", "16 mm2", "1 m", ""));
    let tight = of(&judgement, "terminal-accepts-conductor", "output +");
    let words: Vec<String> = found(&judgement, tight).into_iter().map(|remedy| remedy.words).collect();
    assert_eq!(words.first().map(String::as_str), Some("output in 16 mm²"), "{words:#?}");
    let bar = "a busbar at the end of output and a tail of 0.3 m of 16 mm² to it";
    assert!(words.iter().any(|words| words == bar), "{words:#?}");
    assert!(words.iter().all(|words| !words.contains("set charger") && !words.contains("route output")), "{words:#?}");
}

/// A pin 35 to 16 mm² at 75 °C: 0.017241 Ω·mm²/m · 25 mm / 16 mm² · (234.5 + 75)/254.5 = 32.8 µΩ, and a crimp of
/// 100 µΩ: 7.97 mV and 0.48 W at 60 A. It carries 76 A, whatever the conductor bears.
#[test]
fn a_reducing_pin_by_hand() {
    let judgement = judged(&charger("60 A", "35 mm2", "16 mm2", "1 m", "pin_to = \"16 mm2\""));
    assert!(finding(&judgement, "terminal-accepts-conductor", "output +").is_none());
    let pin = of(&judgement, "reducing-pin", "output +");
    assert_eq!(pin.signal, Signal::Notice);
    assert!(
        pin.message.contains("adds 7.97 mV and 0.478 W at 60 A") && pin.message.contains("carries 76 A"),
        "{}",
        pin.message
    );
    // It is in the network: both legs have one, so the load sees 2 · 132.8 µΩ more, and so does the drop.
    let drop = |text: &str| {
        let judgement = judged(text);
        let record = judgement.record();
        record.runs.iter().find(|run| run.name == "output -").unwrap().drop_v
    };
    let [with, without] = ["pin_to = \"16 mm2\"", ""].map(|pin| drop(&charger("60 A", "35 mm2", "16 mm2", "1 m", pin)));
    // The conductor's temperature, and so its resistance, is the same in both: the pin adds its own drop alone.
    assert!((with - without - 7.97e-3).abs() < 2e-5, "{with} {without}");
    // 80 A is too much for it, though 35 mm² bears them.
    let hot = judged(
        &charger("80 A", "35 mm2", "16 mm2", "1 m", "pin_to = \"16 mm2\"").replace("80 A class-t", "110 A class-t"),
    );
    let pin = of(&hot, "reducing-pin", "output +");
    assert_eq!((pin.signal, pin.limit), (Signal::Warning, Some(76.0)));
    // A pin for a conductor that enters anyway is said to be for nothing.
    let idle = judged(
        &charger("20 A", "10 mm2", "16 mm2", "1 m", "pin_to = \"16 mm2\"").replace("80 A class-t", "40 A class-t"),
    );
    assert!(of(&idle, "reducing-pin", "output +").message.contains("none is needed"));
}

/// A screw joint has 0.2 mΩ, a lug on a stud 0.1 (PRACTICE): 60 A lose 6 mV more in one of them.
#[test]
fn terminals_have_the_resistance_of_their_form() {
    let drop = |terminal: &str| {
        let record = judged(&charger("60 A", "16 mm2", terminal, "1 m", "")).record();
        record.runs.iter().find(|run| run.name == "output -").unwrap().drop_v
    };
    assert!((drop("16 mm2") - drop("M8") - 6e-3).abs() < 1e-6);
}

/// A terminal by its maker's manual: smallest and largest, stiff or flexible.
#[test]
fn kinds_of_terminals() {
    let kind =
        "[terminals.cage]\nform = \"screw\"\nlargest = \"16 mm2\"\nlargest_stiff = \"25 mm2\"\nsmallest = \"10 mm2\"\n";
    let plan = |conductor: &str, more: &str| charger("20 A", conductor, "cage", "1 m", &format!("{more}\n{kind}"));
    assert!(finding(&judged(&plan("16 mm2", "")), "terminal-accepts-conductor", "output +").is_none());
    assert!(finding(&judged(&plan("25 mm2", "")), "terminal-accepts-conductor", "output +").is_some());
    assert!(finding(&judged(&plan("25 mm2", "kind = \"iec-2\"")), "terminal-accepts-conductor", "output +").is_none());
    let small = judged(&plan("6 mm2", "").replace("80 A class-t", "30 A class-t"));
    let loose = of(&small, "terminal-accepts-conductor", "output +");
    assert_eq!((loose.measured, loose.limit), (Some(6.0), Some(10.0)));
    assert!(found(&small, loose).iter().any(|remedy| remedy.words == "output in 10 mm²"));
}

#[test]
fn mistakes_of_terminals_are_told() {
    let mistake = |terminal: &str, kind: &str| {
        let text = charger("20 A", "16 mm2", terminal, "1 m", kind);
        let errors = read_plan(&text).expect_err("a mistake");
        errors.iter().map(|error| format!("{}: {}", error.key, error.message)).collect::<Vec<_>>().join("\n")
    };
    for (terminal, kind, told) in [
        ("cag", "[terminals.cage]\nform = \"screw\"\nlargest = \"16 mm2\"", "did you mean \"cage\"?"),
        ("16", "", "has no unit"),
        ("16 mmm", "", "mm"),
        ("cage", "[terminals.cage]\nform = \"stud\"", "a stud has a thread"),
        ("cage", "[terminals.cage]\nform = \"screw\"", "say the largest conductor"),
        (
            "cage",
            "[terminals.cage]\nform = \"screw\"\nlargest = \"16 mm2\"\nthread = \"M8\"",
            "goes with form = \"stud\"",
        ),
        ("cage", "[terminals.cage]\nform = \"stud\"\nthread = \"M7\"", "known: M3.5, M4"),
        (
            "cage",
            "[terminals.cage]\nform = \"spring\"\nlargest = \"16 mm2\"\ntorque = \"2 N m\"",
            "a spring is not tightened",
        ),
        (
            "cage",
            "[terminals.cage]\nform = \"screw\"\nlargest = \"4 mm2\"\nsmallest = \"6 mm2\"",
            "not above the largest",
        ),
        ("cage", "[terminals.cage]\nform = \"screw\"\nlargest = \"4 mm2\"\ntorque = \"2\"", "has no unit"),
        ("cage", "[terminals.cage]\nform = \"screw\"\nlargest = \"4 mm2\"\ntakes = 0", "a whole number from 1 to 20"),
        ("cage", "[terminals.cage]\nform = \"screw\"\nlargest = \"4 mm2\"\nstrip = \"2 m\"", "3 mm to 60 mm"),
        ("M8", "pin_to = \"16 mm2\"", "a stud takes a lug"),
        ("16 mm2", "gland = \"M21\"", "known: M12"),
        ("16 mm2", "bend_radius = \"0 mm\"", "above 0 m"),
        // Found by random plans: a converter of 5e-324 V has no finite heat.
        ("16 mm2", "bend_radius = \"5e-324 m\"", "next to nothing"),
    ] {
        let found = mistake(terminal, kind);
        assert!(found.contains(told), "{terminal} {kind}: {found}");
    }
}

/// Loads that hang on one stud or clamp together.
fn crowd(count: usize, terminal: &str) -> String {
    let loads = (0..count).map(|load| {
        format!(
            "[runs.tap{load}]\nfrom = \"hub.in\"\nto = \"lamp{load}.+\"\nroute = [\"1 m in here\"]\nconductor = \"1.5 mm2\"\nfuse = \"5 A blade-c\"\n\
             [runs.back{load}]\nfrom = \"minus\"\nto = \"lamp{load}.-\"\nroute = [\"1 m in here\"]\nconductor = \"1.5 mm2\"\n\
             [loads.lamp{load}]\ncurrent = \"1 A\"\n"
        )
    });
    let hub = format!(
        "[links.hub]\nkind = \"joint\"\nterminal = \"{terminal}\"\n\
         [runs.to-hub]\nfrom = \"plus\"\nto = \"hub.out\"\nroute = [\"0.3 m in here\"]\nconductor = \"6 mm2\"\nfuse = \"20 A blade-c\"\n"
    );
    two_bars("12 V", "200 A class-t", &(hub + &loads.collect::<String>()))
}

/// Four lugs on a stud (a marine consultant's article), one conductor in a clamp; two thin ones make one in a twin ferrule.
#[test]
fn how_many_meet_in_one_terminal() {
    assert!(finding(&judged(&crowd(4, "M6")), "conductors-per-terminal", "hub.in").is_none());
    let five = judged(&crowd(5, "M6"));
    let told = of(&five, "conductors-per-terminal", "hub.in");
    assert_eq!((told.signal, told.measured, told.limit), (Signal::Warning, Some(5.0), Some(4.0)));
    let two = judged(&crowd(2, "6 mm2"));
    let told = of(&two, "conductors-per-terminal", "hub.in");
    assert_eq!(told.signal, Signal::Caution);
    assert!(told.message.contains("twin ferrule") && told.message.contains("3 mm² together"), "{}", told.message);
    assert_eq!(of(&judged(&crowd(3, "6 mm2")), "conductors-per-terminal", "hub.in").signal, Signal::Warning);
    // What the plan says of a terminal comes first.
    let kind = "[terminals.double]\nform = \"screw\"\nlargest = \"6 mm2\"\ntakes = 3\n";
    assert!(finding(&judged(&(crowd(3, "double") + kind)), "conductors-per-terminal", "hub.in").is_none());
}

/// A bar has many terminals of its kind: how many each takes says nothing of how many conductors meet on it.
#[test]
fn a_bar_takes_more_than_one_of_its_terminals() {
    let kind = "[terminals.single]\nform = \"stud\"\nthread = \"M6\"\ntakes = 1\n";
    let text = crowd(3, "M6").replace("[busbars.minus]", "[busbars.minus]\nterminal = \"single\"") + kind;
    assert!(finding(&judged(&text), "conductors-per-terminal", "minus").is_none());
}

/// A lug that is not usually made is a caution that names those that are; a bar's second kind of terminals takes the thin
/// conductors.
#[test]
fn lugs_and_second_terminals() {
    let text = charger("20 A", "35 mm2", "M8", "1 m", "");
    assert!(finding(&judged(&text), "lug-fits-stud", "charger.out+").is_none());
    let large = judged(&text.replace("terminal = \"M8\"", "terminal = \"M5\""));
    let told = of(&large, "lug-fits-stud", "charger.out+");
    assert_eq!(told.signal, Signal::Caution);
    assert!(
        told.message.contains("output + (35 mm²)") && told.message.contains("M6, M8, M10, M12"),
        "{}",
        told.message
    );
    let lamp = |bar: &str| {
        let plan = crowd(1, "M6").replace("[busbars.minus]", &format!("[busbars.minus]\n{bar}"));
        finding(&judged(&plan), "lug-fits-stud", "minus").map(|found| found.message.clone())
    };
    assert!(lamp("terminal = \"M10\"").unwrap().contains("back0 (1.5 mm²)"));
    assert_eq!(lamp("terminal = \"M10\"\nsecond_terminal = \"M5\""), None);
}

/// A terminal board's M6 clamps 125 A: 128 A through one lug is a caution, 120 A is none.
#[test]
fn the_current_of_a_stud() {
    let of_current = |amperes: &str| {
        let text = charger(amperes, "95 mm2", "M6", "0.3 m", "").replace("\"80 A class-t\"", "\"250 A class-t\"");
        finding(&judged(&text), "stud-carries-current", "charger.out+").map(|found| found.signal)
    };
    assert_eq!((of_current("128 A"), of_current("120 A")), (Some(Signal::Caution), None));
}

/// Outer diameters of 6.1 mm (10 mm² class 5, wall 1 mm: 2·√(10/(0.75·π)) + 2 = 6.12 mm): two fill 2·37.5/400 = 18.7 % of
/// a 20 mm bore, 31 % may be; of a 15 mm bore they fill 33.3 %.
#[test]
fn conduits_that_are_too_full() {
    let filled = |bore: &str, practice: &str| {
        let loom = format!("[looms.pipe]\ninstall = \"conduit-plastic\"\nbore = \"{bore}\"\n");
        let text = charger("20 A", "10 mm2", "16 mm2", "1 m", &loom)
            .replace("80 A class-t", "40 A class-t")
            .replace("1 m in here", "1 m in here with pipe")
            .replace("install = \"free-air\"\nfuse = \"40", "fuse = \"40")
            .replace("system_voltage", &format!("practice = \"{practice}\"\nsystem_voltage"));
        let judgement = judged(&text);
        finding(&judgement, "conduit-fill", "pipe").map(|found| (found.signal, found.measured.unwrap()))
    };
    assert_eq!(filled("20 mm", "general"), None);
    let (signal, share) = filled("15 mm", "general").unwrap();
    assert_eq!(signal, Signal::Caution);
    // The wall of 10 mm² in our table decides the last digit.
    assert!((share - 33.3).abs() < 1.5, "{share} %");
    assert_eq!(filled("15 mm", "na-recreational-vehicle").unwrap().0, Signal::Warning);
}

/// ISO 10133 asks for supports every 450 mm, 300 mm between battery and switch; 33 CFR practice for 18 in. Bends: 4 outer
/// diameters of a flexible cable of 8 to 12 mm (from memory). Glands: M16 grips 5 to 10 mm (from memory).
#[test]
fn bends_supports_and_glands() {
    let of_current = |current: &str, more: &str| {
        let text = charger(current, "35 mm2", "M8", "1 m", more);
        judged(&text.replace("place = \"vehicle\"", "place = \"vehicle\"\npractice = \"iso-small-craft\""))
    };
    let with = |more: &str| of_current("60 A", more);
    let bend = with("bend_radius = \"25 mm\"");
    let told = of(&bend, "bend-radius", "output +");
    assert_eq!(told.signal, Signal::Warning);
    assert!((told.limit.unwrap() - 4.0 * 10.3).abs() < 3.0, "{:?}", told.limit);
    assert!(finding(&with("bend_radius = \"80 mm\""), "bend-radius", "output +").is_none());
    // 25 mm² of some 9 mm bends to 36 mm, and bears 20 A as well.
    let nearly = of_current("20 A", "bend_radius = \"38 mm\"");
    let remedies = found(&nearly, of(&nearly, "bend-radius", "output +"));
    let thinner = |change: &Change| matches!(change, Change::Conductor(_, size) if in_mm2(size.area) < 34.0);
    assert!(remedies.iter().any(|remedy| remedy.changes.iter().any(thinner)), "{remedies:#?}");
    let loose = with("support_spacing = \"500 mm\"");
    assert_eq!(of(&loose, "support-spacing", "output +").limit, Some(450.0));
    assert!(finding(&with("support_spacing = \"450 mm\""), "support-spacing", "output +").is_none());
    let gland = with("gland = \"M12\"");
    let told = of(&gland, "gland-grips-conductor", "output +");
    assert!(told.message.contains("M16") || told.message.contains("M20"), "{}", told.message);
}

/// Two conductors from node to node: equal and of 50 mm² or more, or else one carries too much.
#[test]
fn conductors_in_parallel() {
    let pair = |one: &str, other: &str| {
        let more = format!(
            "[busbars.far]\n[runs.first]\nfrom = \"plus\"\nto = \"far\"\nroute = [\"2 m in here\"]\nconductor = \"{one}\"\nfuse = \"60 A class-t\"\n\
             [runs.second]\nfrom = \"plus\"\nto = \"far\"\nroute = [\"2 m in here\"]\nconductor = \"{other}\"\nfuse = \"60 A class-t\"\n\
             [circuits.heater]\nfrom = \"far\"\nreturn = \"minus\"\nto = \"heater\"\nroute = [\"0.5 m in here\"]\nconductor = \"25 mm2\"\n\
             [loads.heater]\ncurrent = \"40 A\"\n"
        );
        judged(&two_bars("12 V", "200 A class-t", &more))
    };
    assert!(finding(&pair("70 mm2", "70 mm2"), "parallel-conductors", "first").is_none());
    for judgement in [pair("16 mm2", "16 mm2"), pair("70 mm2", "95 mm2")] {
        assert_eq!(of(&judgement, "parallel-conductors", "first").signal, Signal::Warning);
    }
}

/// No size wins what is missing where the largest that enters the terminal does not: the conductor stays smaller than the terminal
/// would take, and the drop is told.
#[test]
fn growth_that_does_not_help_is_not_taken() {
    let plan = charger("10 A", "auto", "6 mm2", "60 m", "").replace("conductor = \"auto\"\n", "");
    let judgement = judged(&plan.replace("80 A class-t", "15 A blade-c"));
    let area = crate::support::run(&judgement, "output +").csa_mm2;
    assert!(area < 6.0, "{area} mm²");
    assert_eq!(of(&judgement, "voltage-drop", "charger.out").signal, Signal::Warning);
}

/// Chargers whose conductor does not enter: each remedy removes its finding when the plan is judged from nothing, and
/// brings no failure.
#[test]
fn every_remedy_at_a_terminal_holds() {
    use proptest::prelude::*;
    use proptest::test_runner::{Config, TestRunner};
    let sizes = ["10", "16", "25", "35", "50", "70", "95"];
    let strategy = (1_usize..7, 0_usize..6, 5_u32..80, 3_u32..60);
    let offered = std::cell::Cell::new(0);
    TestRunner::new(Config { cases: 30, failure_persistence: None, ..Config::default() })
        .run(&strategy, |(size, terminal, amperes, decimetres)| {
            prop_assume!(terminal < size);
            let route = format!("{} m", f64::from(decimetres) / 10.0);
            let (conductor, terminal) = (format!("{} mm2", sizes[size]), format!("{} mm2", sizes[terminal]));
            let judgement = judged(&charger(&format!("{amperes} A"), &conductor, &terminal, &route, ""));
            let tight = of(&judgement, "terminal-accepts-conductor", "output +");
            for remedy in found(&judgement, tight) {
                again(&judgement, tight, &remedy);
                offered.set(offered.get() + 1);
            }
            Ok(())
        })
        .unwrap();
    assert!(offered.get() > 30, "only {} remedies offered", offered.get());
}
