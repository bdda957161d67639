//! Protective devices: breakers, makers' sheets, holders, places, pulses, and limits that a plan sets itself. Small
//! plans, by hand.

use crate::support::{finding, judged, lamp, run, two_bars};
use loomwright::finding::Signal;
use loomwright::study::judge::Judgement;
use loomwright::study::remedy::propose;
use loomwright::text::read_plan;
use loomwright_tests::by_hand::copper;

fn tells(judgement: &Judgement, rule: &str, subject: &str) -> Option<Signal> {
    finding(judgement, rule, subject).map(|found| found.signal)
}

/// The messages of a plan that is refused.
fn refused(text: &str) -> Vec<String> {
    read_plan(text)
        .expect_err("it is refused")
        .iter()
        .map(|error| format!("{}: {}", error.key, error.message))
        .collect()
}

/// A charger's circuit: its current flows towards the bar, a fault behind the breaker is fed from the battery.
#[test]
fn a_polarised_breaker_between_two_sources() {
    let charger = |breaker: &str| {
        judged(&two_bars(
            "12 V",
            "150 A class-t",
            &format!(
                "[converters.shore]\nkind = \"shore-charger\"\noutput_current = \"20 A\"\n[circuits.shore]\nfrom = \"plus\"\n\
                 return = \"minus\"\nto = \"shore.out\"\nroute = [\"1 m in here\"]\nconductor = \"10 mm2\"\nfuse = \"{breaker}\"\n"
            ),
        ))
    };
    let found = charger("32 A breaker-miniature-c-polarised");
    assert_eq!(tells(&found, "breaker-polarity", "shore +"), Some(Signal::Danger));
    let message = finding(&found, "breaker-polarity", "shore +").map(|found| found.message.clone()).unwrap_or_default();
    assert!(message.contains("(charging-shore)"), "{message}");
    assert!(tells(&charger("32 A breaker-miniature-c"), "breaker-polarity", "shore +").is_none());
    // A load draws one way, and drives nothing into a fault.
    let load = judged(&two_bars(
        "12 V",
        "150 A class-t",
        &lamp("current = \"10 A\"", "conductor = \"10 mm2\"\nfuse = \"32 A breaker-miniature-c-polarised\""),
    ));
    assert!(tells(&load, "breaker-polarity", "lamp +").is_none());
}

/// Types I to III of SAE J553.
#[test]
fn a_breaker_that_closes_by_itself_protects_nothing() {
    for (family, signal) in [
        ("breaker-thermal-automatic", Some(Signal::Danger)),
        ("breaker-thermal-modified", Some(Signal::Caution)),
        ("breaker-thermal", None),
        ("breaker-hydraulic", None),
    ] {
        let circuit = format!("conductor = \"10 mm2\"\nfuse = \"20 A {family}\"");
        let mut judgement = judged(&two_bars("12 V", "150 A class-t", &lamp("current = \"8 A\"", &circuit)));
        assert_eq!(tells(&judgement, "breaker-reset", "lamp +"), signal, "{family}");
        propose(&mut judgement);
        let found = finding(&judgement, "breaker-reset", "lamp +").filter(|found| found.signal == Signal::Danger);
        assert!(found.is_none_or(|found| !found.remedies.is_empty()), "a fuse in its place");
    }
}

/// The family lets 225 A of class T pass nothing but ratings it is made in; a sheet may state another, with what it breaks
/// and its times: 1.35 times within 600 s, twice within 5 s.
fn sheet(more: &str) -> String {
    let plan = two_bars("12 V", "main", &lamp("current = \"7 A\"", "conductor = \"2.5 mm2\"\nfuse = \"10 A class-t\""));
    format!(
        "{plan}[fuses.main]\nlike = \"strip-sf51\"\nrating = \"160 A\"\nsource = \"maker's sheet, page 2 (invented)\"\n\
         rated_voltage = \"58 V\"\nbreaks = \"20 kA\"\nslowest = [\"600 s at 135 %\", \"5 s at 320 A\", \"100 ms at 600 %\"]\n{more}"
    )
}

#[test]
fn a_makers_sheet_comes_first() {
    let of_family = judged(&two_bars("12 V", "150 A strip-sf51", ""));
    let by_sheet = judged(&sheet(""));
    assert_eq!(tells(&of_family, "fuse-interrupts-fault", "lead"), Some(Signal::Danger), "2 kA by its standard");
    assert!(tells(&by_sheet, "fuse-interrupts-fault", "lead").is_none(), "20 kA by its sheet");
    let record = run(&by_sheet, "lead");
    let device = record.protective_device.expect("it has one");
    assert!(device.device.contains("main (160 A strip-sf51)"), "{}", device.device);
    assert_eq!((device.rated_v, device.breaks_a), (Some(58.0), Some(20_000.0)));
    // The least fault opens it between the sheet's last two gates, straight on double logarithmic paper.
    let fault = record.fault_lowest_a.expect("the battery");
    let opens = record.opens_on_lowest_s.expect("it opens");
    assert!(fault > 320.0 && fault < 960.0);
    let by_hand = 5.0 * (fault / 320.0).powf((0.1_f64 / 5.0).ln() / (960.0_f64 / 320.0).ln());
    assert!((opens / by_hand - 1.0).abs() < 1e-6, "{opens} {by_hand} {fault}");
    assert!(by_sheet.record().fuses.iter().any(|one| one.name == "main" && one.source.contains("page 2")));
    // What the sheet states rests on memory no longer; re-rating for ambient it does not state.
    let names =
        |judgement: &Judgement| finding(judgement, "rests-on-memory", "fuses").map(|found| found.message.clone());
    assert!(names(&by_sheet).is_some_and(|text| text.contains("class-t")), "the lamp's fuse does");
    // Used above its rated voltage, nothing is known of what it breaks.
    let high = judged(
        &sheet("").replace("system_voltage = \"12 V\"", "system_voltage = \"48 V\"").replace("\"58 V\"", "\"32 V\""),
    );
    assert_eq!(tells(&high, "fuse-voltage", "lead"), Some(Signal::Danger));
    assert_eq!(tells(&high, "fuse-interrupts-fault", "lead"), Some(Signal::Caution));
}

/// A sheet slower than its wire fails within its stated times, whatever cannot be judged beyond them.
#[test]
fn a_sheet_slower_than_its_wire() {
    let slow = "[fuses.slow]\nlike = \"blade-c\"\nrating = \"10 A\"\nsource = \"maker's sheet (invented)\"\n\
                slowest = [\"10 h at 135 %\", \"5 h at 200 %\", \"2 h at 600 %\"]\n";
    let circuit = "conductor = \"1.5 mm2\"\nfuse = \"slow\"";
    let judgement = judged(&(two_bars("12 V", "150 A class-t", &lamp("current = \"5 A\"", circuit)) + slow));
    let found = finding(&judgement, "fuse-protects-conductor", "lamp +").expect("it is told");
    assert_eq!(found.signal, Signal::Danger, "{}", found.message);
    assert!(!found.message.contains("cannot be judged"), "{}", found.message);
}

/// A start counts with all of the stated inrush, also where the case's battery sags.
#[test]
fn a_start_counts_with_its_whole_inrush() {
    let load = "current = \"5 A\"\ninrush = \"16 A\"\nstart_time = \"3 s\"\nlowest_voltage = \"9 V\"";
    let circuit = "conductor = \"4 mm2\"\nfuse = \"7.5 A blade-c\"";
    let judgement = judged(&two_bars("12 V", "150 A class-t", &lamp(load, circuit)));
    let found = finding(&judgement, "fuse-rides-through", "lamp +").expect("it is told");
    assert!(found.message.starts_with("16 A flow"), "{}", found.message);
}

/// Every mistake of a sheet at its key.
#[test]
fn a_sheet_that_cannot_be() {
    for (from, to, key, says) in [
        ("like = \"strip-sf51\"", "like = \"strip-sf52\"", "fuses.main.like", "did you mean"),
        ("\"600 s at 135 %\"", "\"600 s at 90 %\"", "fuses.main.slowest", "not above its rating"),
        ("\"5 s at 320 A\"", "\"700 s at 320 A\"", "fuses.main.slowest", "at a higher current a link opens sooner"),
        ("\"5 s at 320 A\"", "\"-5 s at 320 A\"", "fuses.main.slowest", "above zero"),
        ("\"5 s at 320 A\"", "\"5 s for 320 A\"", "fuses.main.slowest", "10 min at 135 %"),
        ("\"5 s at 320 A\"", "\"5 s at 320\"", "fuses.main.slowest", "320"),
        ("breaks = \"20 kA\"", "breaks = \"0 kA\"", "fuses.main.breaks", "above 0 A"),
        ("breaks = \"20 kA\"", "drop = \"2 V\"", "fuses.main.drop", "at most 1 V"),
        ("breaks = \"20 kA\"", "reset = \"manual\"", "fuses.main.reset", "a fuse-link"),
        ("breaks = \"20 kA\"", "continuous = \"120 %\"", "fuses.main.continuous", "at most 100 %"),
        ("breaks = \"20 kA\"", "fastest = [\"20 s at 200 %\"]", "fuses.main.fastest", "comes after the latest"),
        ("breaks = \"20 kA\"", "melting = \"4100\"", "fuses.main.melting", "A²s"),
        ("source = \"maker's sheet, page 2 (invented)\"\n", "", "fuses.main.source", "needed"),
        ("fuse = \"main\"", "fuse = \"mian\"", "runs.lead.fuse", "did you mean \"main\""),
        ("fuse = \"main\"", "fuse = \"45 A blade-e\"", "runs.lead.fuse", "is not a rating of blade-e"),
        ("[fuses.main]", "[fuses.auto]", "fuses.auto", "says a fuse already"),
    ] {
        let text = sheet("");
        assert!(text.contains(from), "{from}");
        let errors = refused(&text.replace(from, to));
        assert!(errors.iter().any(|error| error.starts_with(key) && error.contains(says)), "{to}: {errors:?}");
    }
}

/// 32 A of 1.35 kA²s charged through: 22 mF at 14.7 V over the battery's 2.25 mΩ and cold cables.
#[test]
fn capacitors_charge_through_fuses() {
    let inverter = |more: &str, melting: &str| {
        let plan = two_bars(
            "12 V",
            "main",
            &format!(
                "[converters.inverter]\nkind = \"inverter\"\noutput_power = \"300 W\"\n{more}\n[loads.kettle]\npower = \"200 W\"\n\
                 inverter = \"inverter\"\n[circuits.inverter]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"inverter\"\n\
                 route = [\"1 m in here\"]\nconductor = \"16 mm2\"\nfuse = \"60 A blade-e\"\n[fuses.main]\nlike = \"class-t\"\n\
                 rating = \"150 A\"\nsource = \"maker's sheet (invented)\"\n{melting}\n"
            ),
        );
        judged(&plan)
    };
    // Without data: a caution at 12 V that asks for them.
    let unknown = inverter("", "");
    let found = finding(&unknown, "pre-charge", "inverter").expect("it is told");
    assert_eq!(found.signal, Signal::Caution);
    assert!(found.message.contains("input_capacitance"));
    // With the capacitance and every link's melting I²t: C·V²/(2R) against 29 % of the lesser.
    let small = inverter("input_capacitance = \"22 mF\"", "melting = \"10 kA2s\"");
    assert!(finding(&small, "pre-charge", "inverter").is_none());
    let large = inverter("input_capacitance = \"220 mF\"", "melting = \"10 kA2s\"");
    let found = finding(&large, "pre-charge", "inverter").expect("it is told");
    // 1.15 m of 95 mm² (0.206 Ω/km) and 1.7 m of 16 mm² (1.21 Ω/km), out and back.
    let resistance = 2.25e-3 + 2.0 * (copper(0.206, -20.0) * 1.15 + copper(1.21, -20.0) * 1.7);
    let passed = 0.22 * 14.7 * 14.7 / (2.0 * resistance);
    assert!(found.measured.is_some_and(|ours| (ours / passed - 1.0).abs() < 1e-3), "{:?} {passed}", found.measured);
    // A 60 A blade of type E: 0.04 s at six times its rating (maker's data sheet) is 5184 A²s.
    assert!(found.limit.is_some_and(|limit| (limit / (0.29 * 5184.0) - 1.0).abs() < 1e-9), "{:?}", found.limit);
    assert_eq!(found.signal, Signal::Warning);
    let mut large = large;
    propose(&mut large);
    let found = finding(&large, "pre-charge", "inverter").expect("it is told");
    assert!(found.remedies.iter().any(|remedy| remedy.contains("resistor")), "{:?}", found.remedies);
    // What melts class T is not at hand: it cannot be judged.
    let part = inverter("input_capacitance = \"22 mF\"", "");
    let found = finding(&part, "pre-charge", "inverter").expect("it is told");
    assert!(found.message.contains("cannot be judged") && found.signal == Signal::Caution, "{}", found.message);
}

/// The same start once an hour tires a link more than now and then: 22 % against 29 % of its melting I²t.
#[test]
fn a_start_in_every_cycle_tires_more() {
    let limit = |duty: &str| {
        let load =
            format!("current = \"5 A\"\ninrush = \"16 A\"\nstart_time = \"3 s\"\nlowest_voltage = \"9 V\"\n{duty}");
        let judgement =
            judged(&two_bars("12 V", "150 A class-t", &lamp(&load, "conductor = \"4 mm2\"\nfuse = \"7.5 A blade-c\"")));
        finding(&judgement, "fuse-rides-through", "lamp +").and_then(|found| found.limit).expect("it is told")
    };
    let ratio = limit("duty = \"5 min in 20 min\"") / limit("");
    assert!((ratio / (0.22 / 0.29) - 1.0).abs() < 1e-6, "{ratio}");
}

/// Two fused feeds to one bar: both together, one after the other at half the current each, in twice the time.
#[test]
fn two_feeds_together() {
    let twice = |conductor: &str| {
        let more = format!(
            "[batteries.second]\nchemistry = \"agm\"\ncapacity = \"100 Ah\"\n[busbars.joint]\n[runs.second-lead]\nfrom = \"second.+\"\n\
             to = \"plus\"\nroute = [\"0.5 m in here\"]\nconductor = \"95 mm2\"\nfuse = \"60 A class-t\"\n[runs.second-back]\n\
             from = \"second.-\"\nto = \"minus\"\nroute = [\"0.5 m in here\"]\nconductor = \"95 mm2\"\n[runs.onward]\nfrom = \"plus\"\n\
             to = \"joint\"\nroute = [\"2 m in here\"]\nconductor = \"{conductor}\"\n{}",
            lamp("current = \"10 A\"", "conductor = \"4 mm2\"\nfuse = \"15 A class-t\"")
                .replace("from = \"plus\"", "from = \"joint\"")
        );
        judged(&two_bars("12 V", "60 A class-t", &more))
    };
    // 120 A of fuse against 16 mm².
    let thin = twice("16 mm2");
    let found = finding(&thin, "fuse-protects-conductor", "onward").expect("it is told");
    assert!(found.signal == Signal::Danger && found.message.contains("2 fuses"), "{}", found.message);
    let stout = twice("70 mm2");
    let record = run(&stout, "onward");
    // Each battery alone drives the least fault, and it is held against both fuses together.
    assert!(record.fault_lowest_a.is_some_and(|fault| fault > 162.0), "{:?}", record.fault_lowest_a);
    assert!(record.time_margin.is_some_and(|margin| margin > 1.0), "{:?}", record.time_margin);
}

/// A short tail to the first fuse is practice; a long one, or one that feeds something bare, is not.
#[test]
fn tails_up_to_the_first_fuse() {
    let tail = |metres: &str, lamp_fuse: &str| {
        judged(
            &two_bars(
                "12 V",
                "none",
                &lamp("current = \"5 A\"", &format!("conductor = \"2.5 mm2\"\nfuse = \"{lamp_fuse}\"")),
            )
            .replacen("0.5 m in here", metres, 1),
        )
    };
    let short = tail("0.2 m in here", "10 A class-t");
    assert!(tells(&short, "fuse-at-source", "lead").is_none() && tells(&short, "fuse-near-source", "lead").is_none());
    assert!(
        finding(&short, "fuse-near-source", "runs").is_some_and(|found| found.message.contains("all of lead 200 mm"))
    );
    assert_eq!(run(&short, "lead").unprotected_m, Some(0.2));
    let long = tail("0.21 m in here", "10 A class-t");
    assert_eq!(tells(&long, "fuse-near-source", "lead"), Some(Signal::Danger));
    // In conduit it may be longer.
    assert!(tells(&tail("1.5 m in here, conduit-plastic", "10 A class-t"), "fuse-near-source", "lead").is_none());
    // Bare all the way to the lamp: no tail, however short.
    let bare = tail("0.1 m in here", "none");
    assert_eq!(tells(&bare, "fuse-at-source", "lead"), Some(Signal::Danger));
    assert_eq!(tells(&bare, "fuse-at-source", "lamp +"), Some(Signal::Danger));
}

/// A limit set by the plan is used, printed, and needs its reason.
#[test]
fn limits_of_the_plan() {
    let plan = |limits: &str| {
        let load = lamp("current = \"10 A\"", "conductor = \"2.5 mm2\"\nfuse = \"15 A class-t\"");
        format!("{}{limits}", two_bars("12 V", "150 A class-t", &load))
    };
    let set = "[limits.drop-general]\nvalue = \"4 %\"\nreason = \"lamps dim below 11.5 V\"\n";
    let judgement = judged(&plan(set));
    let found = finding(&judgement, "voltage-drop", "lamp").expect("it is told");
    assert_eq!(found.limit, Some(0.48));
    assert!(found.citation.contains("lamps dim below 11.5 V"), "{}", found.citation);
    assert!(finding(&judged(&plan("")), "voltage-drop", "lamp").is_none());
    let limits = judgement.record().limits;
    assert_eq!((limits[0].limit, limits[0].value.as_str()), ("drop-general", "4 %"));
    // Terminals, fuse places and smallest sizes as well.
    let hot = judged(&plan("[limits.terminal-temperature]\nvalue = \"60 °C\"\nreason = \"old board\"\n"));
    let usual = judged(&plan(""));
    assert!(run(&hot, "lamp +").ampacity_a < run(&usual, "lamp +").ampacity_a);
    let size = judged(&plan("[limits.smallest-conductor]\nvalue = \"4 mm2\"\nreason = \"workshop rule\"\n"));
    assert_eq!(tells(&size, "smallest-conductor", "lamp +"), Some(Signal::Warning));
    for (text, key, says) in [
        (set.replace("drop-general", "drop-genral"), "limits.drop-genral", "did you mean \"drop-general\""),
        (set.replace("4 %", "40 %"), "limits.drop-general.value", "above 0 % to 25 %"),
        (set.replace("4 %", "4 m"), "limits.drop-general.value", "a length"),
        (set.replace("lamps dim below 11.5 V", " "), "limits.drop-general.reason", "reason"),
        ("[limits.drop-general]\nvalue = \"4 %\"\n".to_owned(), "limits.drop-general.reason", "needed"),
    ] {
        let errors = refused(&plan(&text));
        assert!(errors.iter().any(|error| error.starts_with(key) && error.contains(says)), "{text}: {errors:?}");
    }
}

/// An open fuse takes a family whose holder takes the conductor; a fixed one that does not is told.
#[test]
fn holders_take_the_conductor() {
    let chosen = |fuse: &str| {
        let circuit = format!("conductor = \"16 mm2\"\nfuse = \"{fuse}\"");
        judged(&two_bars("12 V", "150 A class-t", &lamp("current = \"20 A\"", &circuit)))
    };
    let fixed = chosen("30 A blade-c");
    assert_eq!(tells(&fixed, "fuse-holder", "lamp +"), Some(Signal::Caution));
    let open = chosen("auto");
    assert!(tells(&open, "fuse-holder", "lamp +").is_none());
    assert_ne!(run(&open, "lamp +").fuse_family, Some("blade-c"));
}

/// What is left open gets the smallest size that does: one smaller fails by ampacity, protection or drop.
#[test]
fn an_open_conductor_is_the_smallest_that_passes() {
    const SIZES: [f64; 14] = [0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0];
    for current in (1..=30).map(|step| 3.0 * f64::from(step)) {
        let with = |circuit: &str| {
            judged(&two_bars("12 V", "150 A class-t", &lamp(&format!("current = \"{current} A\""), circuit)))
        };
        let chosen = run(&with(""), "lamp +");
        let below = SIZES.iter().rfind(|size| **size < chosen.csa_mm2 - 1e-6).expect("there is a smaller one");
        let (rating, family) = (chosen.fuse_rating_a.expect("a fuse"), chosen.fuse_family.expect("a fuse"));
        let smaller = with(&format!("conductor = \"{below} mm2\"\nfuse = \"{rating} A {family}\""));
        let about_the_lamp = |finding: &&loomwright::finding::Finding| finding.subject.starts_with("lamp");
        let fails = crate::support::failures(&smaller).filter(about_the_lamp).count();
        assert!(fails > 0, "{current} A: {} mm² chosen, {below} mm² passes", chosen.csa_mm2);
    }
}

/// The load needs 30 A of fuse, 1.5 mm² bears less: one finding tells both, and the size that resolves it.
#[test]
fn load_and_conductor_clash() {
    let mut judgement = judged(&two_bars(
        "12 V",
        "150 A class-t",
        &lamp("current = \"20 A\"", "conductor = \"1.5 mm2\"\nfuse = \"auto\""),
    ));
    propose(&mut judgement);
    let found = finding(&judgement, "fuse-protects-conductor", "lamp +").expect("it is told");
    assert!(found.message.contains("the load needs") && found.message.contains("bears"), "{}", found.message);
    assert!(found.remedies.iter().any(|remedy| remedy.contains("mm²")), "{:?}", found.remedies);
}

/// An isolator in the negative leaves the positive live, and against a chassis it isolates nothing.
#[test]
fn isolators_in_the_negative() {
    let plan = |grounded: &str| {
        two_bars(
            "12 V",
            "150 A class-t",
            &format!(
                "[links.key]\nkind = \"isolator\"\nrating = \"200 A\"\n{grounded}{}",
                lamp("current = \"5 A\"", "")
            ),
        )
        .replace("from = \"house.-\"\nto = \"minus\"", "from = \"house.-\"\nto = \"key.in\"")
            + "[runs.key-bar]\nfrom = \"key.out\"\nto = \"minus\"\nroute = [\"0.3 m in here\"]\nconductor = \"95 mm2\"\n"
    };
    assert_eq!(tells(&judged(&plan("")), "isolator-in-negative", "key"), Some(Signal::Caution));
    let chassis = plan("")
        + "[runs.bond]\nfrom = \"minus\"\nto = \"chassis\"\nroute = [\"0.3 m in here\"]\nconductor = \"95 mm2\"\n";
    assert_eq!(tells(&judged(&chassis), "isolator-in-negative", "key"), Some(Signal::Warning));
}

/// A fuse at the load's end of its run, where only the load is before it, protects nothing: the battery's end burns.
#[test]
fn a_fuse_behind_its_own_load() {
    let more = "[loads.lamp]\ncurrent = \"5 A\"\n[runs.feed]\nfrom = \"lamp.+\"\nto = \"house.+\"\nroute = [\"2 m in here\"]\n\
                conductor = \"2.5 mm2\"\nfuse = \"10 A class-t\"\n[runs.feed-back]\nfrom = \"lamp.-\"\nto = \"minus\"\n\
                route = [\"2 m in here\"]\nconductor = \"2.5 mm2\"\n";
    let judgement = judged(&two_bars("12 V", "150 A class-t", more));
    assert_eq!(tells(&judgement, "fuse-at-source", "feed"), Some(Signal::Danger));
}
