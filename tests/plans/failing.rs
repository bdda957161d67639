//! `examples/plans/failing.toml`: every warning and danger justified by hand, from the plan's own numbers and printed
//! tables, and every remedy tried. Nothing here calls the engine for a number that it then compares.

use crate::support::{failures, finding, judged, text_of};
use loomwright::finding::{Finding, Signal};
use loomwright::installation::{Change, Installation};
use loomwright::study::judge::{Judgement, judge};
use loomwright::study::remedy::{found, removes};
use loomwright_tests::by_hand::{Enclosed, copper, cut};

fn plan() -> Judgement {
    judged(&text_of("examples/plans/failing.toml"))
}

// Rows of IEC 60364-5-52 method B.
const MM2_1_5: Enclosed = Enclosed { table_a: 17.5, class_2: 12.1, class_5: 13.3 };
const MM2_2_5: Enclosed = Enclosed { table_a: 24.0, class_2: 7.41, class_5: 7.98 };
const MM2_4: Enclosed = Enclosed { table_a: 32.0, class_2: 4.61, class_5: 4.95 };
const MM2_10: Enclosed = Enclosed { table_a: 57.0, class_2: 1.83, class_5: 1.91 };

/// Two lugs of 0.1 mΩ, and a fuse with its holder that drops 100 mV at its rating.
fn joints(fuse_a: f64) -> f64 {
    2e-4 + if fuse_a > 0.0 { 0.1 / fuse_a } else { 0.0 }
}

/// What the inverter takes of its input: 2 kW over 90 %, and 10 W for itself.
const INVERTER_W: f64 = 2000.0 / 0.9;
/// What the buck converter takes for 6 A of its 10 A: of the 13.3 W that 90 % of 120 W lose, 17 % are its own, 19 % go with
/// the output, 64 % with its square.
const BUCK_W: f64 = 72.0 + (120.0 / 0.9 - 120.0) * (0.17 + 0.19 * 0.6 + 0.64 * 0.36);
/// What the charger takes: 18 A at 58.4 V over 92 %.
const CHARGER_W: f64 = 18.0 * 58.4 / 0.92;

/// Volts lost between the 12 V converter and the tail lamp at its 6 A.
fn tail_lamp_drop() -> f64 {
    // 12 m of 1.5 mm² in 40 °C air, warmed by 6 A, behind a 10 A fuse; before it half a metre of 4 mm².
    let long = copper(MM2_1_5.class_5, MM2_1_5.temperature(6.0, 40.0)) * cut(12.0) + joints(10.0);
    let short = copper(MM2_4.class_5, MM2_4.temperature(6.0, 45.0)) * cut(0.5) + joints(0.0);
    // Back through 1 mΩ to the body, and from there 1 mΩ to the converter, which carries only the difference of its
    // output and input current.
    let input = BUCK_W / 50.0;
    6.0 * (long + short) + 6.0 * 1e-3 + (6.0 - input) * 1e-3
}

/// Volts at the 12 V converter with everything on and the service battery nearly empty: 16 cells at 3.2 V.
fn buck_input() -> f64 {
    let others = 30.0 + 12.0 + 18.0 + 4.0 + 25.0 + 15.0 + 3.0 + 1.0 + 0.5;
    // The battery's lead: 120 mm² (0.161 Ω/km) some 7 K above its 45 °C air.
    let lead = copper(0.161, 52.0) * cut(0.5) + joints(250.0);
    let branch = copper(MM2_2_5.class_5, 45.0) * cut(0.8) + joints(6.0);
    let mut volts = 50.0;
    for _ in 0..50 {
        // Constant power draws more as the voltage sags: a fixed point.
        let through = others + INVERTER_W / volts + BUCK_W / volts;
        // 8 mΩ, and 1.1 times that nearly empty (10 % charge).
        let bar = 4.0 * 12.8 - 8.8e-3 * (through + 6.0) - lead * through;
        let taken = BUCK_W / volts;
        volts = bar - branch * taken + (6.0 - taken) * 1e-3;
    }
    volts
}

/// What is asked of the alternator while it holds 14.2 V: 35 A of the vehicle, and the charger's constant power.
fn alternator_asked() -> f64 {
    let own = 1e-3; // its output resistance
    let lead = copper(0.206, 62.0) * cut(1.2) + joints(200.0);
    let feed = copper(0.272, 60.0) * cut(4.5) + joints(175.0);
    let mut charger = 80.0;
    for _ in 0..50 {
        let volts = 14.2 - (own + lead) * (35.0 + charger) - feed * charger - 0.5e-3 * (charger - 18.0);
        charger = CHARGER_W / volts;
    }
    35.0 + charger
}

struct Expected {
    rule: &'static str,
    subject: &'static str,
    signal: Signal,
    /// Measured and limit; `None` where the rule has no number.
    numbers: Option<(f64, f64)>,
    /// Permitted deviation, as a share.
    within: f64,
}

fn expected() -> Vec<Expected> {
    use Signal::{Danger, Warning};
    let make = |rule, subject, signal, numbers, within| Expected { rule, subject, signal, numbers, within };
    let exact = 1e-9;
    // Ends on terminals of 75 °C, so 75 °C limits these short runs, not their 90 °C insulation.
    let (lathe, inverter) = (MM2_4.bears(75.0, 50.0), MM2_10.bears(75.0, 45.0));
    let press = MM2_2_5.bears(75.0, 40.0);
    let at_lock_out = INVERTER_W / 42.0;
    // Class T: 80 %, re-rated on a straight line from 1.00 at 25 °C to 0.88 at 65 °C; the main bar stands in 45 °C.
    let extractor_fuse = 20.0 * 0.8 * (1.0 - 0.12 * (45.0 - 25.0) / (65.0 - 25.0));
    let drop = tail_lamp_drop();
    vec![
        make("ampacity", "lathe +", Danger, Some((30.0, lathe)), 1e-6),
        make("terminal-temperature", "lathe +", Danger, Some((MM2_4.temperature(30.0, 50.0), 75.0)), 1e-6),
        make("fuse-protects-conductor", "lathe +", Danger, Some((45.0, lathe)), 1e-6),
        // Mains-frequency ripple heats as 1.1 times the mean current.
        make("ampacity", "inverter +", Danger, Some((1.1 * at_lock_out, inverter)), 1e-6),
        make("converter-input-current", "inverter", Danger, Some((1.1 * at_lock_out, inverter)), 1e-6),
        make(
            "terminal-temperature",
            "inverter +",
            Danger,
            Some((MM2_10.temperature(1.1 * at_lock_out, 45.0), 75.0)),
            1e-6,
        ),
        make("fuse-protects-conductor", "inverter +", Danger, Some((80.0, inverter)), 1e-6),
        make("fuse-protects-conductor", "press +", Danger, Some((30.0, press)), 1e-6),
        make("fuse-carries-load", "extractor +", Warning, Some((18.0, extractor_fuse)), exact),
        // 16 cells of 3.65 V.
        make("fuse-voltage", "work-lights +", Danger, Some((16.0 * 3.65, 32.0)), exact),
        make("device-rating", "heater-relay", Danger, Some((25.0, 20.0)), 1e-6),
        make("charge-voltage-suits-battery", "charger", Danger, Some((58.4, 57.6)), exact),
        // 20 cm on small craft (ISO 10133, from memory), taken where caravans have no rule at hand.
        make("fuse-near-source", "roof-lead", Danger, Some((2.5, 0.2)), exact),
        make("terminal-accepts-conductor", "grinder +", Warning, Some((10.0, 6.0)), exact),
        make("smallest-conductor", "gas-sensor +", Warning, Some((1.0, 1.5)), exact),
        make("conductor-material", "radio +", Warning, None, exact),
        make("conductor-stranding", "step-light +", Warning, None, exact),
        // Temperatures of the heavy leads are taken a few kelvin above their air, hence 0.5 %.
        make("alternator-headroom", "alternator", Warning, Some((alternator_asked(), 90.0)), 5e-3),
        make("engine-running-signal", "charger", Warning, None, exact),
        make("converter-input-voltage", "buck", Warning, Some((buck_input(), 49.0 * 1.05)), 1e-3),
        make("voltage-drop", "tail-lamp", Warning, Some((drop, 0.10 * 12.0)), 2e-3),
        // The converter holds 12 V behind its 1 mΩ.
        make("lowest-voltage", "tail-lamp", Warning, Some((12.0 - 6.0 * 1e-3 - drop, 11.0)), 2e-3),
        make("supplied", "awning-motor", Warning, None, exact),
    ]
}

#[test]
fn fails_exactly_where_it_is_wrong() {
    let judgement = plan();
    let mut ours: Vec<(&str, &str)> = failures(&judgement).map(|one| (one.rule, one.subject.as_str())).collect();
    let wanted = expected();
    let mut theirs: Vec<(&str, &str)> = wanted.iter().map(|one| (one.rule, one.subject)).collect();
    ours.sort_unstable();
    theirs.sort_unstable();
    assert_eq!(ours, theirs);
    let mut rules: Vec<&str> = theirs.iter().map(|(rule, _)| *rule).collect();
    rules.dedup();
    assert!(rules.len() >= 8, "eight different ways at least: {rules:?}");
}

#[test]
fn every_finding_is_what_the_hand_says() {
    let judgement = plan();
    for wanted in expected() {
        let place = format!("{} of {}", wanted.rule, wanted.subject);
        let ours = finding(&judgement, wanted.rule, wanted.subject).unwrap_or_else(|| panic!("{place} is missing"));
        assert_eq!(ours.signal, wanted.signal, "{place}");
        let numbers = ours.measured.zip(ours.limit);
        assert_eq!(numbers.is_some(), wanted.numbers.is_some(), "{place}: {numbers:?}");
        if let Some(((measured, limit), (by_hand, limit_by_hand))) = numbers.zip(wanted.numbers) {
            let close = |ours: f64, hand: f64| (ours - hand).abs() <= wanted.within * hand.abs();
            assert!(close(measured, by_hand), "{place}: {measured} here, {by_hand} by hand");
            assert!(close(limit, limit_by_hand), "{place}: limit {limit} here, {limit_by_hand} by hand");
        }
        assert!(!ours.citation.is_empty() && !ours.message.is_empty(), "{place}");
    }
}

/// The findings without numbers, each for the reason that the plan's comment gives.
#[test]
fn findings_without_numbers_say_why() {
    let judgement = plan();
    let message = |rule: &str, subject: &str| finding(&judgement, rule, subject).expect("it is found").message.clone();
    // 0.027411 over 0.017241 Ω·mm²/m: copper-clad aluminium of 10 % copper over annealed copper.
    let ratio = 0.027_410_78 / 0.017_241_38;
    assert!(message("conductor-material", "radio +").contains(&format!("{ratio:.2}")), "1.59 times the resistance");
    assert!(message("conductor-stranding", "step-light +").contains("solid"));
    assert!(message("engine-running-signal", "charger").contains("signal"));
    assert!(message("supplied", "awning-motor").contains("no source"));
    // 51.2 V and more over 8 mΩ and 3.35 m of 6 mm² (3.3 Ω/km): over two kiloamperes, and nothing opens.
    let fault = 51.2 / (8e-3 + 3.3e-3 * cut(2.5) + joints(0.0));
    assert!(fault > 2000.0 && message("fuse-near-source", "roof-lead").contains("unprotected"), "{fault}");
}

fn edited(judgement: &Judgement, changes: &[Change]) -> Installation {
    changes.iter().fold(judgement.installation.clone(), |plan, change| plan.with(change))
}

fn failing_in<'a>(judgement: &'a Judgement, wanted: &Finding) -> Option<&'a Finding> {
    failures(judgement).find(|one| one.rule == wanted.rule && one.subject == wanted.subject)
}

/// What conductors weigh by 8.9 and 2.7 g/cm³, kg.
fn metal(judgement: &Judgement) -> f64 {
    let density = |material: &str| if material == "copper" { 8.9e-3 } else { 2.7e-3 };
    judgement.record().runs.iter().map(|run| run.csa_mm2 * run.cut_m * density(run.material)).sum()
}

/// Each remedy is applied and the plan judged anew: its finding is gone, and no other failure has come.
#[test]
fn every_remedy_removes_its_finding() {
    let judgement = plan();
    let (mut remedied, mut weighed) = (Vec::new(), 0);
    for finding in failures(&judgement) {
        for remedy in found(&judgement, finding) {
            let place = format!("{} of {}: {}", finding.rule, finding.subject, remedy.words);
            assert!(!remedy.words.is_empty() && !remedy.changes.is_empty(), "{place}");
            assert!(removes(&judgement, finding, &remedy.changes), "{place}");
            // The same, asked from outside.
            let after = judge(&edited(&judgement, &remedy.changes)).unwrap_or_else(|error| panic!("{place}: {error}"));
            assert!(failing_in(&after, finding).is_none(), "{place}: still found");
            for new in failures(&after).filter(|new| failing_in(&judgement, new).is_none()) {
                assert!(new.signal < finding.signal, "{place}: brings {} of {}", new.rule, new.subject);
            }
            let more = metal(&after) - metal(&judgement);
            for (told, holds) in [("kg of metal more", more > 0.0), ("kg of metal less", more < 0.0)] {
                let says = remedy.effects.iter().any(|effect| effect.ends_with(told));
                assert!(holds || !says, "{place}: {more} kg");
                weighed += u32::from(says);
            }
            remedied.push((finding.rule, finding.subject.as_str()));
        }
    }
    assert!(weighed > 0, "no remedy says what it weighs");
    remedied.dedup();
    // These have no edit of the plan that would mend them, or none that the engine knows.
    let without = ["device-rating", "alternator-headroom", "converter-input-voltage", "supplied"];
    for finding in failures(&judgement).filter(|finding| !without.contains(&finding.rule)) {
        assert!(remedied.contains(&(finding.rule, finding.subject.as_str())), "{}: no remedy", finding.rule);
    }
}

/// No edit at all removes nothing: the check of remedies is not one that always agrees.
#[test]
fn doing_nothing_is_no_remedy() {
    let judgement = plan();
    for finding in failures(&judgement) {
        assert!(!removes(&judgement, finding, &[]), "{} of {}", finding.rule, finding.subject);
    }
}
