//! Upgrades: what is there is judged as it stands, what goes is gone, and two plans are compared.

use crate::support::{judged, text_of, two_bars};
use loomwright::finding::Verdict;
use loomwright::study::compare::{Comparison, MaterialChange, compare};
use loomwright::text::read_plan;

fn hut() -> Comparison {
    let [old, new] =
        ["mountain-hut-before", "mountain-hut"].map(|name| judged(&text_of(&format!("examples/plans/{name}.toml"))));
    compare(&old, &new)
}

/// A 6 mm² conductor behind a 60 A fuse must change, and the report says why; the lamp's may stay.
#[test]
fn what_may_stay_and_what_must_change() {
    let more = r#"
[loads.heater]
current = "45 A"
[loads.lamp]
current = "2 A"
existing = "kept"
[loads.old-pump]
current = "5 A"
existing = "removed"
[circuits.heater]
from = "plus"
return = "minus"
to = "heater"
route = ["2 m in here"]
conductor = "6 mm2"
fuse = "60 A class-t"
existing = "kept"
[circuits.lamp]
from = "plus"
return = "minus"
to = "lamp"
route = ["2 m in here"]
conductor = "2.5 mm2"
fuse = "10 A class-t"
existing = "kept"
[circuits.old-pump]
from = "plus"
return = "minus"
to = "old-pump"
route = ["3 m in here"]
conductor = "2.5 mm2"
fuse = "10 A class-t"
existing = "removed"
"#;
    let record = judged(&two_bars("12 V", "200 A class-t", more)).record();
    let of = |name: &str, part: &str| record.existing.iter().find(|one| one.name == name && one.part == part).unwrap();
    let heater = of("heater", "circuits");
    assert_eq!(heater.verdict, "must-change");
    assert!(heater.why.iter().any(|why| why.starts_with("ampacity: 6 mm² carries 45 A")), "{:#?}", heater.why);
    assert_eq!((of("lamp", "circuits").verdict, of("lamp", "loads").verdict), ("may-stay", "may-stay"));
    assert_eq!((of("old-pump", "circuits").verdict, of("old-pump", "loads").verdict), ("removed", "removed"));
    // What is taken out is in no network.
    assert!(record.runs.iter().all(|run| !run.name.starts_with("old-pump")));
    assert!(record.devices.iter().all(|device| device.name != "old-pump"));
}

#[test]
fn mistakes_of_existing_parts_are_told() {
    let told = |more: &str| {
        let errors = read_plan(&two_bars("12 V", "200 A class-t", more)).expect_err("a mistake");
        errors.iter().map(|error| error.message.clone()).collect::<Vec<_>>().join("\n")
    };
    let circuit = |state: &str, load: &str, size: &str| {
        format!(
            "[loads.pump]\ncurrent = \"5 A\"\n{load}\n[circuits.pump]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"pump\"\nroute = [\"3 m in here\"]\n{size}\nexisting = \"{state}\"\n"
        )
    };
    assert!(told(&circuit("kept", "", "")).contains("a conductor that is there has a size"));
    assert!(told(&circuit("gone", "", "")).contains("known: kept, removed"));
    // A circuit that stays, to a load that goes.
    let orphan = circuit("kept", "existing = \"removed\"", "conductor = \"2.5 mm2\"");
    assert!(told(&orphan).contains("\"pump\" is marked existing = \"removed\""), "{}", told(&orphan));
    let bar = "[busbars.old]\nexisting = \"removed\"\n[runs.stub]\nfrom = \"plus\"\nto = \"old\"\nroute = [\"1 m in here\"]\nconductor = \"16 mm2\"\nfuse = \"40 A blade-e\"\n";
    assert!(told(bar).contains("\"old\" is marked existing = \"removed\""), "{}", told(bar));
}

/// The hut by hand. Freed: the old battery lead (1.26 m), battery return and shunt lead (1.15 + 0.93 m) of 16 mm², and two
/// legs of 1.48 m of 4 mm²: (3.34 · 16 + 2.96 · 4) · 1e-6 · 8890 = 0.580 kg.
#[test]
fn the_hut_takes_and_frees() {
    let comparison = hut();
    assert_eq!((comparison.old.verdict, comparison.new.verdict), (Verdict::DoesNotHold, Verdict::Holds));
    let metres = |list: &[MaterialChange], start: &str| -> f64 {
        list.iter()
            .filter(|one| one.part == "cable" && one.description.starts_with(start))
            .map(|one| one.quantity)
            .sum()
    };
    let materials = &comparison.materials;
    assert!(
        (metres(&materials.freed, "16 mm²") - 3.34).abs() < 1e-9
            && (metres(&materials.freed, "4 mm²") - 2.96).abs() < 1e-9
    );
    assert!((materials.freed_metal_kg - 0.580).abs() < 0.001, "{}", materials.freed_metal_kg);
    // Kept: two legs of lamps 6.1 m and pump 5.0 m of 2.5 mm², radio 2.8 m of 1.5, array 5.55 m of 4.
    for (size, kept) in [("2.5 mm²", 22.2), ("1.5 mm²", 5.6), ("4 mm²", 11.1)] {
        assert!((metres(&materials.kept, size) - kept).abs() < 1e-9, "{size}");
    }
    let fuses = |list: &[MaterialChange]| {
        list.iter().filter(|one| one.part == "fuse").map(|one| one.description.clone()).collect::<Vec<_>>()
    };
    assert_eq!(fuses(&materials.freed), ["15 A blade-c", "60 A class-t"]);
    assert_eq!(fuses(&materials.kept), ["5 A blade-c", "10 A blade-c"]);
}

/// What the new plan says is there already is not bought, also where the old plan does not know it.
#[test]
fn what_is_kept_is_not_bought() {
    let more = "[loads.lamp]\ncurrent = \"1 A\"\n\
                [circuits.lamp]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"lamp\"\nroute = [\"1 m in here\"]\nconductor = \"1.5 mm2\"\nfuse = \"5 A blade-c\"\n";
    let old = judged(&two_bars("12 V", "200 A class-t", ""));
    let bought = |new: &str| {
        let found = compare(&old, &judged(&two_bars("12 V", "200 A class-t", new))).materials;
        (found.add.len(), found.add_metal_kg)
    };
    assert_eq!(bought(&format!("{more}existing = \"kept\"\n")), (0, 0.0));
    assert!(bought(more).0 > 0 && bought(more).1 > 0.0);
}

/// Runs and devices by their names, findings by rule and subject; a plan against itself shows nothing.
#[test]
fn what_changes_and_what_does_not() {
    let comparison = hut();
    let run = |name: &str| comparison.runs.iter().find(|run| run.name == name).unwrap();
    assert_eq!(
        (run("battery-lead").change, run("lithium-lead").change, run("array +").change),
        ("removed", "added", "loaded")
    );
    let shunt = run("shunt-lead");
    assert_eq!((shunt.change, shunt.old.as_ref().unwrap().size.as_str()), ("changed", "16 mm²"));
    assert!(comparison.findings.iter().any(|one| one.change == "gone" && one.rule == "battery-ventilation"));
    let device = |name: &str| comparison.devices.iter().find(|device| device.name == name).unwrap().change;
    assert_eq!((device("bank"), device("lithium"), device("lamps")), ("removed", "added", "stays"));
    let van = judged(&text_of("examples/plans/veterinary-van.toml"));
    let same = compare(&van, &van);
    assert!(same.findings.is_empty() && same.runs.iter().all(|run| run.change == "same"));
    assert!(same.materials.add.is_empty() && same.materials.freed.is_empty() && !same.materials.kept.is_empty());
    assert!(
        same.headroom.iter().all(|left| left.old_a == left.new_a && left.old_a.is_some()) && !same.headroom.is_empty()
    );
}
