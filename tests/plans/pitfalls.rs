//! Small plans for things that are easy to get wrong, each found by asking the engine about a plan of some size.

use crate::support::{case, failures, finding, judged, text_of};
use loomwright::study::judge::Judgement;
use loomwright::study::remedy::found;

/// A 24 V engine side with a 12 V bar behind a buck converter; the alternator gives little at idle.
const SHORT_AT_IDLE: &str = r#"format = 1
[plan]
name = "Alternator that is short at idle (invented)"
place = "vehicle"
system_voltage = "24 V"
[zones.here]
kind = "van-cabin"
[batteries.starter]
chemistry = "agm"
capacity = "100 Ah"
[alternators.alternator]
rating = "40 A"
hot_output = "30 A"
idle_output = "10 A"
[converters.buck]
kind = "buck"
output_current = "20 A"
output_voltage = "12 V"
[busbars.plus]
[busbars.minus]
[loads.on-24]
current = "12 A"
[loads.on-12]
current = "16 A"
nominal_voltage = "12 V"
[runs.battery]
from = "starter.+"
to = "plus"
route = ["0.5 m in here"]
fuse = "auto"
[runs.battery-return]
from = "starter.-"
to = "minus"
route = ["0.5 m in here"]
[runs.alternator]
from = "plus"
to = "alternator.+"
route = ["1 m in here"]
fuse = "60 A class-t"
[runs.alternator-return]
from = "minus"
to = "alternator.-"
route = ["1 m in here"]
[circuits.buck]
from = "plus"
return = "minus"
to = "buck"
route = ["1 m in here"]
[circuits.on-24]
from = "plus"
return = "minus"
to = "on-24"
route = ["1 m in here"]
[circuits.on-12]
from = "buck.out+"
return = "buck.out-"
to = "on-12"
route = ["1 m in here"]
"#;

fn asked(judgement: &Judgement, name: &str) -> f64 {
    case(judgement, name).alternators[0].0.value
}

/// What is asked does not depend on what can be given: regulated to 28.4 V, 12 A and the 12 V converter's input,
/// 16 A · 12 V / 90 % over some 28 V, at idle as at cruising speed.
#[test]
fn an_alternator_that_is_short_is_asked_for_everything() {
    let judgement = judged(SHORT_AT_IDLE);
    let by_hand = 12.0 + 16.0 * 12.0 / 0.9 / 27.9;
    for name in ["driving-cruise", "driving-hot-idle"] {
        let asked = asked(&judgement, name);
        assert!((asked - by_hand).abs() < 0.01 * by_hand, "{name}: {asked} A asked, {by_hand} A by hand");
    }
    let (idle, cruise) = (asked(&judgement, "driving-hot-idle"), asked(&judgement, "driving-cruise"));
    assert!((idle - cruise).abs() < 1e-4 * cruise, "{idle} A at idle, {cruise} A at cruising speed");
}

/// A boat whose battery and load both stand on the hull returns through the hull, with no wire to say so.
#[test]
fn hull_return_is_found_also_between_grounded_devices() {
    let boat = |practice: &str| {
        format!(
            r#"format = 1
[plan]
name = "Hull return (invented)"
place = "boat"
practice = "{practice}"
system_voltage = "12 V"
[zones.here]
kind = "boat"
[batteries.house]
chemistry = "agm"
capacity = "100 Ah"
grounded = true
[loads.lamp]
current = "2 A"
grounded = true
[circuits.lamp]
from = "house.+"
return = "chassis"
to = "lamp"
route = ["1 m in here"]
"#
        )
    };
    for practice in ["iso-small-craft", "us-small-craft"] {
        let judgement = judged(&boat(practice));
        assert!(failures(&judgement).any(|one| one.rule == "return-path"), "{practice}: a current in the hull passes");
    }
    // With a wire back to the battery's pole nothing returns through the hull.
    let wired = boat("iso-small-craft").replace("grounded = true\n", "").replace("\"chassis\"", "\"house.-\"");
    assert!(judged(&wired).holds());
}

/// A board behind a 50 A fuse cannot send more than that back: its common return needs no more than its feed.
#[test]
fn a_shared_return_is_protected_by_the_fuse_of_its_feed() {
    let plan = r#"format = 1
[plan]
name = "Board with a common return (invented)"
place = "vehicle"
system_voltage = "12 V"
[defaults]
insulation = "90 °C"
[zones.here]
kind = "van-cabin"
[batteries.house]
chemistry = "agm"
capacity = "200 Ah"
[busbars.plus]
[busbars.minus]
[busbars.board]
[busbars.board-minus]
[loads.one]
current = "10 A"
[loads.other]
current = "10 A"
[runs.lead]
from = "house.+"
to = "plus"
route = ["0.3 m in here"]
conductor = "95 mm2"
fuse = "150 A class-t"
[runs.back]
from = "house.-"
to = "minus"
route = ["0.3 m in here"]
conductor = "95 mm2"
[runs.feed]
from = "plus"
to = "board"
route = ["1 m in here"]
conductor = "16 mm2"
fuse = "50 A blade-e"
[runs.feed-return]
from = "minus"
to = "board-minus"
route = ["1 m in here"]
conductor = "16 mm2"
[circuits.one]
from = "board"
return = "board-minus"
to = "one"
route = ["1 m in here"]
[circuits.other]
from = "board"
return = "board-minus"
to = "other"
route = ["1 m in here"]
"#;
    let judgement = judged(plan);
    let told: Vec<_> = failures(&judgement).map(|one| (one.rule, one.subject.as_str(), one.limit)).collect();
    assert!(told.is_empty(), "{told:?}");
}

/// A start lasts moments: 130 A for the winch's first turn do not heat 35 mm² to where 130 A for ever would.
#[test]
fn a_start_is_no_steady_heat() {
    let judgement = judged(&text_of("examples/plans/river-launch.toml"));
    let winch = judgement.installation.loads.iter().find(|load| load.name == "winch").expect("the launch has a winch");
    assert!(winch.inrush.is_some_and(|inrush| inrush.value >= 130.0), "the launch's winch has changed");
    let told: Vec<_> = failures(&judgement).filter(|one| one.rule == "terminal-temperature").collect();
    assert!(told.is_empty(), "{told:#?}");
}

/// The charger of the failing van takes 12 V and gives 58.4 V: 28 A too many at its input are 6 A at its output.
#[test]
fn less_charging_counts_in_watts() {
    let judgement = judged(&text_of("examples/plans/failing.toml"));
    let short = finding(&judgement, "alternator-headroom", "alternator").expect("the alternator is short");
    let remedies = found(&judgement, short);
    assert!(remedies.iter().any(|remedy| remedy.words.contains("set charger to")), "{short:#?}, {remedies:#?}");
}

/// What is listed as assumed is what the result rests on: a grounded device has no path of 3 mΩ to assume.
#[test]
fn no_path_is_assumed_where_none_is_counted() {
    let text = text_of("crates/loomwright/examples/lamp.toml")
        .replace("[batteries.house]", "[batteries.house]\ngrounded = true")
        .replace("[loads.lamp]", "[loads.lamp]\ngrounded = true")
        .replace("return = \"negative bar\"", "return = \"chassis\"");
    let judgement = judged(&text);
    let assumed = judgement.installation.assumptions.iter().any(|one| one.text.contains("3 mΩ"));
    let counted = judgement.installation.links.iter().any(|link| link.name.contains("chassis path"));
    assert_eq!(assumed, counted, "3 mΩ are {}assumed", if assumed { "" } else { "not " });
}

/// Half a system at 12 V and half at 48 V: a fuse is held against the voltage of its own half.
#[test]
fn a_fuse_is_held_against_its_own_half() {
    let text = text_of("examples/plans/failing.toml");
    let blade = text.replace("fuse = \"60 A class-t\"", "fuse = \"60 A blade-e\"");
    assert_ne!(text, blade, "the failing van has changed");
    let judgement = judged(&blade);
    assert!(finding(&judgement, "fuse-voltage", "vehicle +").is_none(), "14.7 V at most on a fuse of 32 V");
    assert!(finding(&judgement, "fuse-voltage", "work-lights +").is_some(), "58.4 V on a fuse of 32 V");
}

/// Two batteries behind a 150 A fuse each: in parallel, or in series with `middle` between them.
fn two_batteries(system_voltage: &str, connections: &str) -> Judgement {
    judged(&format!(
        r#"format = 1
[plan]
name = "Two batteries (invented)"
place = "cabin"
system_voltage = "{system_voltage}"
[defaults]
insulation = "90 °C"
[zones.here]
kind = "van-cabin"
[batteries.one]
chemistry = "agm"
nominal_voltage = "12 V"
capacity = "100 Ah"
[batteries.two]
chemistry = "agm"
nominal_voltage = "12 V"
capacity = "100 Ah"
[busbars.plus]
[busbars.minus]
[loads.stove]
current = "20 A"
[runs.one-lead]
from = "one.+"
to = "plus"
route = ["0.5 m in here"]
conductor = "95 mm2"
fuse = "150 A strip-sf51"
[circuits.stove]
from = "plus"
return = "minus"
to = "stove"
route = ["2 m in here"]
fuse = "none"
conductor = "95 mm2"
{connections}"#
    ))
}

/// The return of each battery must bear what its fuse lets through, whichever battery the plan names first.
#[test]
fn the_return_of_every_battery_is_held_against_its_fuse() {
    let thin = "conductor = \"6 mm2\"";
    let run = |name: &str, from: &str, to: &str, more: &str| {
        format!("[runs.{name}]\nfrom = \"{from}\"\nto = \"{to}\"\nroute = [\"0.5 m in here\"]\n{more}\n")
    };
    let thick = "conductor = \"95 mm2\"";
    let fused = "conductor = \"95 mm2\"\nfuse = \"150 A strip-sf51\"";
    let parallel = |one: &str, two: &str| {
        let lead = run("two-lead", "two.+", "plus", fused);
        let returns = run("one-return", "one.-", "minus", one) + &run("two-return", "two.-", "minus", two);
        two_batteries("12 V", &(lead + &returns))
    };
    let told = |judgement: &Judgement, run: &str| {
        failures(judgement).any(|one| one.rule == "fuse-protects-conductor" && one.subject == run)
    };
    assert!(told(&parallel(thin, thick), "one-return"));
    assert!(told(&parallel(thick, thin), "two-return"), "the second battery's return is forgotten");
    let series = |back: &str| {
        let jumper = run("jumper", "one.-", "two.+", thick);
        two_batteries("24 V", &(jumper + &run("two-return", "two.-", "minus", back)))
    };
    assert!(told(&series(thin), "two-return"), "the return of a series bank is forgotten");
    assert!(!told(&series(thick), "two-return"));
}
