//! Published worked examples of protection, by id in `tests/reference/worked_examples_protection.csv`, where source,
//! inputs and confidence stand; and 33 CFR 183.455, 183.460 by application.
//!
//! Left out: W04 and W05 (families that are not ours), W09 (string fuses), W14 to W18 (joints and cranking drops), W22
//! (molten wire: nothing here goes beyond what insulation bears).

use crate::support::{finding, judged, two_bars};
use loomwright::conductor::{Kind, Material};
use loomwright::finding::Signal;
use loomwright::heat::withstand;
use loomwright::protection::Family;
use loomwright::quantity::{ElectricCurrent, FromText, celsius, in_mm2};
use loomwright::study::judge::Judgement;
use loomwright_tests::{apart, conductor, read};

/// The row of an example, so that none is checked that is not on file, and none from memory.
fn on_file(id: &str) {
    let rows = read("worked_examples_protection.csv");
    let row = rows.iter().find(|row| row.text("id") == id).unwrap_or_else(|| panic!("no example {id}"));
    assert!(row.text("source").starts_with("seen"), "{id}");
}

/// The area that withstands I²t at the k of a printed pair of temperatures, mm².
fn least_area(amperes: f64, seconds: f64, start: f64, end: f64, k: f64) -> f64 {
    let made = conductor(Kind::Iec2, Material::Copper, "50 mm2");
    let found = withstand(&made, celsius(start), celsius(end)).expect("they ascend");
    let (held, _) = found.as_printed.expect("a printed k");
    let ours = held.value.sqrt() / in_mm2(made.area);
    assert!(apart(ours, k) < 0.5, "k {ours}");
    amperes * seconds.sqrt() / ours
}

/// W01 to W03, each within half a unit of the last digit that its source prints.
#[test]
fn short_circuit_sizes() {
    for (id, amperes, seconds, ends, k, printed, within) in [
        ("W01", 90.0, 0.4, (70.0, 160.0), 115.0, 0.49, 0.005),
        ("W02", 12_000.0, 0.2, (90.0, 250.0), 143.0, 37.5, 0.05),
        ("W03", 12_000.0, 0.02, (90.0, 250.0), 143.0, 11.9, 0.05),
    ] {
        on_file(id);
        let ours = least_area(amperes, seconds, ends.0, ends.1, k);
        assert!(apart(ours, printed) < within, "{id}: {ours}");
    }
}

/// W06 to W08: current from the millivolts across a cold blade. 3 % at 22 mA, which the chart prints to two digits.
#[test]
fn current_from_the_drop_across_a_blade() {
    for (id, family, rating, drop_mv, milliamperes, within) in [
        ("W06", "blade-c", 10.0, 1.0, 130.0, 0.01),
        ("W07", "blade-c", 10.0, 2.4, 312.0, 0.005),
        ("W08", "blade-f", 15.0, 0.1, 22.0, 0.03),
        ("W08", "blade-f", 15.0, 1.0, 218.0, 0.005),
    ] {
        on_file(id);
        let rating = ElectricCurrent::from_text(&format!("{rating} A")).expect("a current");
        let cold = Family::named(family).expect("a family").cold_resistance(rating).expect("it is known");
        let ours = drop_mv / cold.value;
        assert!(apart(ours, milliamperes) < within * milliamperes, "{id}: {ours}");
    }
}

/// W11: a converter limited to 200 A drives 300 A into a fault. A bolted fault takes what each source drives into it
/// alone, so the charger adds just that, with the reserve of 1.25.
#[test]
fn what_a_converter_drives_into_a_fault() {
    on_file("W11");
    let highest = |charger: &str| {
        let more = format!(
            "[loads.lamp]\ncurrent = \"10 A\"\n[circuits.lamp]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"lamp\"\n\
             route = [\"4 m in here\"]\nfuse = \"15 A class-t\"\n{charger}"
        );
        let judgement = judged(&two_bars("12 V", "150 A class-t", &more));
        let record = judgement.record().runs.into_iter().find(|run| run.name == "lamp +").expect("the run");
        record.fault_highest_a.expect("it has a fuse")
    };
    let charger = "[converters.shore]\nkind = \"shore-charger\"\noutput_current = \"200 A\"\n[circuits.shore]\nfrom = \"plus\"\n\
                   return = \"minus\"\nto = \"shore.out\"\nroute = [\"1 m in here\"]\nconductor = \"95 mm2\"\nfuse = \"300 A class-t\"\n";
    let added = (highest(charger) - highest("")) / 1.25;
    // A thousandth: the fault's own 1 µΩ pushes a little of it back through the battery.
    assert!(apart(added, 300.0) < 0.3, "{added}");
}

/// A launch under US law whose lamp circuit has its fuse so far from the board, and whose lead lies so.
fn launch(distance: &str, install: &str) -> Judgement {
    let more = format!(
        "[loads.lamp]\ncurrent = \"5 A\"\n[circuits.lamp]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"lamp\"\n\
         route = [\"4 m in here\"]\nfuse = \"10 A blade-c\"\nfuse_distance = \"{distance}\"\ninstall = \"{install}\"\n"
    );
    let plan = two_bars("12 V", "150 A class-t", &more);
    judged(
        &plan
            .replace("place = \"vehicle\"", "place = \"boat\"\npractice = \"us-small-craft\"")
            .replace("van-cabin", "boat"),
    )
}

/// 33 CFR 183.455(b): within 7 in of the source, or 40 in where the conductor is in a sheath all the way.
#[test]
fn place_of_the_fuse_under_us_law() {
    for (distance, install, passes) in [
        ("7 in", "enclosed", true),
        ("7.1 in", "enclosed", false),
        ("40 in", "conduit-plastic", true),
        ("41 in", "conduit-plastic", false),
        ("39 in", "enclosed", false),
    ] {
        let judgement = launch(distance, install);
        let found = finding(&judgement, "fuse-near-source", "lamp +");
        assert_eq!(found.is_none(), passes, "{distance} {install}");
        if let Some(found) = found {
            assert_eq!(found.signal, Signal::Warning);
            assert!(found.citation.contains("183.455(b)"), "{}", found.citation);
        }
        // What is within is listed all the same.
        let listed = finding(&judgement, "fuse-near-source", "runs");
        assert_eq!(listed.is_some_and(|listed| listed.message.contains("lamp +")), passes);
    }
}

/// 33 CFR 183.455(a), (d) and 183.460 (from MEMORY): a battery's conductor has a fuse or a breaker that is reset by hand,
/// unless it cranks the engine; the device is rated for its circuit.
#[test]
fn kind_of_device_under_us_law() {
    let law = |fuse: &str, cranking: bool| {
        let plan = two_bars("12 V", fuse, "")
            .replace("\nplace = \"vehicle\"", "\nplace = \"boat\"\npractice = \"us-small-craft\"");
        let plan = plan.replace("van-cabin", "boat");
        let starter = "[loads.starter]\ncurrent = \"100 A\"\nwhen = [\"driving\"]\n[runs.crank]\nfrom = \"plus\"\nto = \"starter.+\"\n\
                       route = [\"1 m in here\"]\nconductor = \"95 mm2\"\ncranking = true\n[runs.crank-back]\nfrom = \"minus\"\n\
                       to = \"starter.-\"\nroute = [\"1 m in here\"]\nconductor = \"95 mm2\"\n";
        let lead = if cranking { plan.replacen("fuse = \"none\"", "cranking = true", 1) } else { plan };
        judged(&format!("{lead}{starter}"))
    };
    // Nothing between battery and bar: only a cranking feed may.
    let bare = law("none", false);
    assert_eq!(finding(&bare, "fuse-at-source", "lead").map(|found| found.signal), Some(Signal::Danger));
    let cranking = law("none", true);
    assert_eq!(finding(&cranking, "fuse-at-source", "lead").map(|found| found.signal), Some(Signal::Notice));
    for (fuse, signal) in [
        ("150 A breaker-thermal", None),
        ("50 A breaker-thermal-modified", Some(Signal::Warning)),
        ("50 A breaker-thermal-automatic", Some(Signal::Danger)),
    ] {
        let judgement = law(fuse, false);
        let found = finding(&judgement, "breaker-reset", "lead");
        assert_eq!(found.map(|found| found.signal), signal, "{fuse}");
    }
    // (d): 32 V in a circuit of 48 V.
    let high = judged(
        &two_bars("48 V", "80 A blade-e", "")
            .replace("\nplace = \"vehicle\"", "\nplace = \"boat\"\npractice = \"us-small-craft\""),
    );
    assert_eq!(finding(&high, "fuse-voltage", "lead").map(|found| found.signal), Some(Signal::Danger));
}
