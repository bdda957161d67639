//! What a drop and a current say of runs: one by one, and where several show together only.

use super::{FEED, FUSE, HEAD, battery, case, case_of, holding, lamp, load, on, piece, point_of, run, run_of};
use crate::support::judged;
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{Day, Next, Segment, Verdict};
use loomwright_tests::by_hand::close;

/// R = V / I. The lamp draws what the plan says, so what the plan knows of its current (20 % and 0.1 A) only narrows:
/// 1e-5 is left for the start of 1 Ω at which a resistance is sought and for the last step of the fit.
#[test]
fn a_drop_over_a_current_is_a_resistance() {
    let of = lamp(5.0);
    for (volts, current) in [(0.08, 5.0), (0.12, 5.0), (0.3, 5.0), (0.5, 5.0)] {
        let day = on(&of).volts("on", FEED, volts, 1e-3).amperes("on", "feed", current, 0.05).day();
        close(piece(&of, &day, "feed").measured.value, volts / current, 1e-5);
    }
}

/// A clamp that reads other than the plan is believed by its weight: 4.5 A within 0.05 A against 5 A with a deviation of
/// 20 % and 0.1 A, so (4.5/0.0289² + 5/1.1²)/(1/0.0289² + 1/1.1²) A flow.
#[test]
fn the_plans_own_current_weighs_little() {
    let of = lamp(5.0);
    let day = on(&of).volts("on", FEED, 0.09, 1e-3).amperes("on", "feed", 4.5, 0.05).day();
    let (clamp, plan) = (3.0 / (0.05 * 0.05), 1.0 / (1.1 * 1.1));
    let current = (4.5 * clamp + 5.0 * plan) / (clamp + plan);
    assert!(current > 4.5 + 3e-4, "the plan moves it by more than the tolerance below");
    // 1e-5: the start of 1 Ω and the last step of the fit.
    close(piece(&of, &day, "feed").measured.value, 0.09 / current, 1e-5);
}

/// 95 % of a rectangle of half-width a lie within 0.95 a; of the sum of two alike, a triangle, within 2a·(1 − √0.05), and
/// of a normal law within 1.96 deviations. Relative half-widths of a product add up as those of its factors do.
#[test]
fn half_widths_by_the_law_of_the_rectangles() {
    let of = lamp(5.0);
    let within = |of_volts: f64, of_amperes: f64| {
        let sheet = on(&of).volts("on", FEED, 0.1, 0.1 * of_volts).amperes("on", "feed", 5.0, 5.0 * of_amperes);
        piece(&of, &sheet.day(), "feed").within.value / (0.1 / 5.0)
    };
    // 1 %: the smaller term is a twentieth of the larger, and the plan's own doubt of 1.1 A is forty times the clamp's.
    close(within(0.001, 0.02), 0.95 * 0.02, 0.01);
    close(within(0.02, 0.001), 0.95 * 0.02, 0.01);
    close(within(0.02, 0.02), 2.0 * 0.02 * (1.0 - 0.05_f64.sqrt()), 0.01);
    for (volts, amperes) in [(0.001, 0.02), (0.005, 0.02), (0.01, 0.02), (0.02, 0.02), (0.02, 0.005)] {
        let deviation = f64::hypot(volts, amperes) / 3.0_f64.sqrt();
        let factor = within(volts, amperes) / deviation;
        // The same 1 % on either side.
        assert!((1.645 * 0.99..=1.96 * 1.01).contains(&factor), "{volts} {amperes}: {factor}");
    }
}

/// A fuse that sits 0.5 m along a run of 6 mm² (3.30 mΩ/m by IEC 60228, 3.9 m cut): up to its outgoing side stand 0.1 mΩ of
/// the joint, 100 mV at 30 A and half a metre; behind it 3.4 m and the other joint. 3 %: the conductor is a few kelvin warmer
/// than 20 °C, at 0.39 % for each.
#[test]
fn the_conductor_before_a_fuse_counts_with_it() {
    let feed = run("feed", ["house.+", "lamp.+"], 3.0, "6 mm2", "30 A blade-c") + "fuse_distance = \"0.5 m\"\n";
    let back = run("back", ["lamp.-", "house.-"], 3.0, "6 mm2", "none");
    let of = judged(&[HEAD, &battery("house"), &load("lamp", 5.0), &feed, &back, &case("on", &["lamp"])].concat());
    let (before, behind) = (0.1e-3 + 0.1 / 30.0 + 0.5 * 3.30e-3, 3.4 * 3.30e-3 + 0.1e-3);
    let sheet = on(&of).volts("on", FUSE, 5.0 * before, 1e-4).amperes("on", "feed", 5.0, 0.05);
    let day = sheet.volts("on", FEED, 5.0 * (before + behind), 1e-4).day();
    let fuse = piece(&of, &day, "joint on house.+ and fuse of feed");
    close(fuse.planned[1].value, before, 0.03);
    close(piece(&of, &day, "conductor and joint on lamp.+ of feed").planned[1].value, behind, 0.03);
    assert!(day.segments.iter().all(|piece| piece.verdict == Verdict::AsPlanned), "{:?}", day.segments);
}

/// A splitter's diode was planned with the 0.8 V of silicon and is a Schottky one of 0.45 V at 20 A: less than its resistance
/// alone could ever be short of, and still as planned, with both readings used.
#[test]
fn a_diode_of_another_kind_is_no_slip() {
    let diode = "[links.splitter]\nkind = \"diode\"\n";
    let feed = run("feed", ["house.+", "splitter.in"], 1.0, "16 mm2", "60 A strip-sf30");
    let on_to = run("on", ["splitter.out", "lamp.+"], 1.0, "16 mm2", "none");
    let back = run("back", ["lamp.-", "house.-"], 1.0, "16 mm2", "none");
    let of = judged(
        &[HEAD, &battery("house"), &load("lamp", 20.0), diode, &feed, &on_to, &back, &case("on", &["lamp"])].concat(),
    );
    let sheet = on(&of).amperes("on", "feed", 20.0, 0.2);
    let day = sheet.volts("on", ["splitter.in", "splitter.out"], 0.45, 2e-3).day();
    assert!(day.readings.len() == 2 && day.readings.iter().all(|reading| reading.slip.is_none()), "{:?}", day.readings);
    assert_eq!(piece(&of, &day, "splitter").verdict, Verdict::AsPlanned);
}

/// What the plan may have is as planned, more than that is watched while it is cool, and remade once it is hot.
#[test]
fn the_verdict_grows_with_the_excess() {
    let of = lamp(5.0);
    let at = |volts: f64| {
        let day = on(&of).volts("on", FEED, volts, 1e-3).amperes("on", "feed", 5.0, 0.05).day();
        piece(&of, &day, "feed").clone()
    };
    let [least, nominal, most] = at(0.08).planned.map(|planned| planned.value);
    assert!(0.0 < least && least < nominal && nominal < most);
    let sound = at(5.0 * nominal);
    assert_eq!(sound.verdict, Verdict::AsPlanned, "{}", sound.reason);
    assert!(sound.next.is_none());
    // A tenth more than would do: 2 mΩ at 5 A are 50 mW more.
    let more = at(5.0 * 1.1 * most);
    assert_eq!(more.verdict, Verdict::Watch, "{}", more.reason);
    assert!(more.reason.contains("cool yet"), "{}", more.reason);
    let bad = at(0.5);
    assert_eq!(bad.verdict, Verdict::Remake, "{}", bad.reason);
    assert!(bad.reason.contains("45 K of IEC 60947-7-1"), "{}", bad.reason);
    assert!(bad.next.is_some(), "which part of the run it is");
}

/// At full load what is too much sheds (R + within − planned)·I²: the high end of the interval.
#[test]
fn heat_of_what_is_too_much() {
    let of = lamp(5.0);
    for volts in [0.15, 0.3, 0.5] {
        let day = on(&of).volts("on", FEED, volts, 1e-3).amperes("on", "feed", 5.0, 0.05).day();
        let found = piece(&of, &day, "feed");
        let warmth = found.warmth.expect("a cable of known heat");
        // The lamp is the only load, so its run is judged at its 5 A; 1e-6 for the solved operating point.
        close(warmth.current.value, 5.0, 1e-6);
        let high = found.measured.value + found.within.value - found.planned[1].value;
        close(warmth.one_sided.watts.value, high * 25.0, 1e-6);
        assert!(high > volts / 5.0 - found.planned[1].value, "the interval counts against it");
        if let Some(two) = warmth.two_sided {
            assert!(two.rise < warmth.one_sided.rise);
        }
    }
}

/// 0.12 V ± 0.06 V at 5 A: 24 mΩ ± 11 mΩ where 20 mΩ would do, and 35 mΩ would be too much. Nothing is told but what to
/// read; finer, it is.
#[test]
fn what_is_too_coarse_is_not_told() {
    let of = lamp(5.0);
    let of_drop = |within: f64| {
        let day = on(&of).volts("on", FEED, 0.12, within).amperes("on", "feed", 5.0, 0.05).day();
        piece(&of, &day, "feed").clone()
    };
    let coarse = of_drop(0.06);
    assert_eq!(coarse.verdict, Verdict::NotTold, "{}", coarse.reason);
    let wanted = [FEED[0], FEED[1]].map(|name| point_of(&of, name));
    assert_eq!(coarse.next, Some(Next::Voltage(wanted, case_of(&of, "on"))), "the drop is what is coarse");
    assert_eq!(of_drop(1e-3).verdict, Verdict::Watch);
}

/// Ten times the plan in a single drop is told, with a word on the decimal point.
#[test]
fn just_ten_times_the_plan_is_looked_at_twice() {
    let of = lamp(5.0);
    let drop = |volts: f64| on(&of).volts("on", FEED, volts, 1e-3).amperes("on", "feed", 5.0, 0.05).day();
    let planned = piece(&of, &drop(0.08), "feed").planned[1].value;
    let words = |times: f64| piece(&of, &drop(times * planned * 5.0), "feed").reason.clone();
    assert!(words(10.0).contains("decimal point") && !words(5.0).contains("decimal point"));
}
/// 12.6 V at the battery and 11.9 V at the lamp: 0.7 V / 5 A = 140 mΩ in both legs, and nothing says in which.
#[test]
fn supply_and_return_are_told_together_until_one_is_read() {
    let of = lamp(5.0);
    let sheet = on(&of).volts("on", ["house.+", "house.-"], 12.6, 5e-3);
    let sheet = sheet.volts("on", ["lamp.+", "lamp.-"], 11.9, 5e-3).amperes("on", "feed", 5.0, 0.05);
    let day = sheet.day();
    let both = piece(&of, &day, "feed, back");
    // 1e-3: a difference of 0.7 V beside a start of 1 Ω, and a battery's voltage that the plan half knows.
    close(both.measured.value, 0.7 / 5.0, 1e-3);
    assert_eq!((both.verdict, day.segments.len()), (Verdict::Remake, 1), "{}", both.reason);
    let Some(Next::Voltage(between, at)) = both.next else { panic!("{:?}", both.next) };
    assert_eq!(at, case_of(&of, "on"));
    // The fuse holder has it all: whatever part of the way holds that drops 0.63 V of it more than its share.
    let feed = run_of(&of, "feed");
    let back = run_of(&of, "back");
    let [one, other] = between.map(|point| point.name(&of.installation));
    assert_eq!(one, "house.+", "from the battery along the feed to {other}");
    let apart = sheet.volts("on", [&one, &other], 0.635, 1e-3).day();
    let faulty = holding(&apart, Segment::Fuse(feed)).expect("it is told");
    assert_eq!(faulty.verdict, Verdict::Remake, "{}", faulty.reason);
    close(faulty.measured.value, 0.635 / 5.0, 1e-3);
    assert!(faulty.segments.iter().all(|segment| segment.run() == Some(feed)));
    let sound = holding(&apart, Segment::Cable(back)).expect("it is told");
    // 0.065 V / 5 A, the difference of 0.7 V and 0.635 V; 1 % is 0.7 mV of what the battery's own 0.4 V of doubt pulls.
    close(sound.measured.value, 0.065 / 5.0, 0.01);
    assert_eq!(sound.verdict, Verdict::AsPlanned, "{}", sound.reason);
}

/// Two batteries on one pair of bars that feed a stove of 100 A.
fn two_batteries() -> Judgement {
    let mut text = [HEAD, &battery("one"), &battery("two"), &load("stove", 100.0)].concat();
    text += "[busbars.plus]\n[busbars.minus]\n";
    for name in ["one", "two"] {
        let (plus, minus) = (format!("{name}.+"), format!("{name}.-"));
        text += &run(&format!("{name} lead"), [&plus, "plus"], 1.0, "35 mm2", "100 A class-t");
        text += &run(&format!("{name} back"), ["minus", &minus], 1.0, "35 mm2", "none");
    }
    text += &run("feed", ["plus", "stove.+"], 1.0, "50 mm2", "150 A class-t");
    text += &run("back", ["stove.-", "minus"], 1.0, "50 mm2", "none");
    judged(&(text + &case("on", &["stove"])))
}

/// Voltages do not say how two batteries share 100 A. 0.1 V / 60 A = 1.667 mΩ and 0.3 V / 40 A = 7.5 mΩ, once clamps do.
#[test]
fn batteries_in_parallel_need_their_currents() {
    let of = two_batteries();
    let terminals = on(&of).volts("on", ["one.+", "one.-"], 12.5, 5e-3).volts("on", ["two.+", "two.-"], 12.7, 5e-3);
    let told = |day: &Day, name: &str| {
        let found = holding(day, Segment::Cable(run_of(&of, name)));
        found.is_some_and(|found| found.verdict != Verdict::NotTold)
    };
    let day = terminals.day();
    assert!(!told(&day, "one lead") && !told(&day, "two lead"));
    let bars = terminals.volts("on", ["plus", "minus"], 12.4, 5e-3);
    assert!(!told(&bars.day(), "two lead"));
    let clamped = bars.amperes("on", "one lead", 60.0, 0.6).amperes("on", "two lead", 40.0, 0.4);
    let day = clamped.day();
    // 1 %: three digits of the currents are the clamps', the fourth the plan's.
    let [one, two] = ["one lead, one back", "two lead, two back"].map(|name| piece(&of, &day, name));
    close(one.measured.value, 0.1 / 60.0, 0.01);
    close(two.measured.value, 0.3 / 40.0, 0.01);
    assert_eq!((one.verdict, two.verdict), (Verdict::AsPlanned, Verdict::Remake), "{} {}", one.reason, two.reason);
}

/// With every drop read and no current, the current is what one asks for; with it, 0.15 V / 40 A = 3.75 mΩ are told.
#[test]
fn a_lead_whose_drop_is_known_asks_for_its_current() {
    let of = two_batteries();
    let sheet = on(&of).volts("on", ["one.+", "plus"], 0.05, 1e-3).volts("on", ["minus", "one.-"], 0.05, 1e-3);
    let sheet = sheet.volts("on", ["two.+", "plus"], 0.15, 1e-3).volts("on", ["minus", "two.-"], 0.15, 1e-3);
    let day = sheet.day();
    let lead = run_of(&of, "two lead");
    let found = piece(&of, &day, "two lead");
    assert_eq!(found.verdict, Verdict::NotTold, "{}", found.reason);
    assert_eq!(found.next, Some(Next::Current(lead, case_of(&of, "on"))));
    let day = sheet.amperes("on", "two lead", 40.0, 0.4).day();
    let found = piece(&of, &day, "two lead");
    assert!(found.verdict != Verdict::NotTold && found.verdict != Verdict::AsPlanned, "{}", found.reason);
    // 1 %: three digits of the current are the clamp's, the fourth the plan's.
    close(found.measured.value, 0.15 / 40.0, 0.01);
}

/// A lamp and a pump of 10 A each whose returns meet at a frame, from which one strap leads to the battery. Own returns of
/// 4 mΩ, a strap of 21 mΩ: a lamp alone loses 10·(4 + 21) mV on its way back, both at once 10·4 + 20·21 mV each.
#[test]
fn a_bad_common_return_is_found_where_it_is() {
    let mut text = [HEAD, &battery("house"), &load("lamp", 10.0), &load("pump", 10.0), "[busbars.frame]\n"].concat();
    for name in ["lamp", "pump"] {
        let (plus, minus) = (format!("{name}.+"), format!("{name}.-"));
        text += &run(&format!("{name} feed"), ["house.+", &plus], 2.0, "6 mm2", "15 A blade-c");
        text += &run(&format!("{name} return"), [&minus, "frame"], 1.0, "6 mm2", "none");
    }
    text += &run("strap", ["frame", "house.-"], 1.0, "16 mm2", "none");
    text += &(case("both", &["lamp", "pump"]) + &case("one", &["lamp"]) + &case("other", &["pump"]));
    let of = judged(&text);
    let (own, strap) = (4e-3, 21e-3);
    let mut sheet = on(&of);
    for (case, lamp, pump) in [("both", 10.0, 10.0), ("one", 10.0, 0.0), ("other", 0.0, 10.0)] {
        for (name, current) in [("lamp", lamp), ("pump", pump)].into_iter().filter(|(_, current)| *current > 0.0) {
            let drop = own * current + strap * (lamp + pump);
            sheet = sheet.volts(case, [&format!("{name}.-"), "house.-"], drop, 1e-3);
            sheet = sheet.amperes(case, &format!("{name} return"), current, 0.1);
        }
    }
    let day = sheet.day();
    let found = piece(&of, &day, "strap");
    assert_eq!(found.verdict, Verdict::Remake, "{}", found.reason);
    // 0.5 % of the strap, of which the plan's copper is a tenth and warmer by a few kelvin where both flow; 2 % of what is
    // left for the returns.
    close(found.measured.value, strap, 5e-3);
    for name in ["lamp return", "pump return"] {
        let of_own = piece(&of, &day, name);
        close(of_own.measured.value, own, 0.02);
        assert_eq!(of_own.verdict, Verdict::AsPlanned, "{}", of_own.reason);
    }
}
