//! How conductors lie, in plans: stretches of their own, looms, conduits, duty cycles and starts.

use crate::support::{failures, finding, judged, two_bars};
use loomwright::heat::{Installation, Lay, Transient};
use loomwright::quantity::celsius;
use loomwright::study::judge::Judgement;
use loomwright::text::read_plan;

fn load(name: &str, extra: &str, route: &str) -> String {
    format!(
        "[loads.{name}]\ncurrent = \"30 A\"\n{extra}\n[circuits.{name}]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"{name}\"\nroute = {route}\nconductor = \"16 mm2\"\nfuse = \"40 A blade-c\"\n"
    )
}

fn plan(more: &str) -> Judgement {
    judged(&two_bars("12 V", "150 A class-t", more))
}

fn ampacity(judgement: &Judgement, run: &str) -> f64 {
    let index = judgement.installation.runs.iter().position(|one| one.name == run).expect("a run");
    judgement.models[index].ampacity.expect("an ampacity").value
}

/// The hottest stretch governs, and each stretch counts with its own way of lying.
#[test]
fn the_hottest_stretch_governs() {
    let alone = ampacity(&plan(&load("lamp", "", r#"["2 m in here, surface"]"#)), "lamp +");
    let conduit = ampacity(&plan(&load("lamp", "", r#"["2 m in here, conduit-split"]"#)), "lamp +");
    let both = plan(&load("lamp", "", r#"["1 m in here, surface", "1 m in here, conduit-split"]"#));
    assert!(conduit < alone);
    assert_eq!(ampacity(&both, "lamp +"), conduit);
    let record = both.record();
    let run = record.runs.iter().find(|run| run.name == "lamp +").unwrap();
    assert_eq!(run.installation, "conduit-split");
    assert!(run.ampacity_governed_by.contains("split corrugated conduit"), "{}", run.ampacity_governed_by);
}

const LOOM: &str = "[looms.floor]\ninstall = \"bundle\"\n";

/// Circuits in one loom warm each other; one that rests does not.
#[test]
fn a_loom_counts_the_heat_of_all_its_conductors() {
    let route = r#"["2 m in here with floor"]"#;
    let pair = ampacity(&plan(&format!("{LOOM}{}", load("one", "", route))), "one +");
    let more = |extra: &str| {
        format!("{LOOM}{}{}{}", load("one", "", route), load("two", extra, route), load("three", extra, route))
    };
    let six = plan(&more(""));
    assert!(ampacity(&six, "one +") < pair, "{} A of {pair} A", ampacity(&six, "one +"));
    // By hand: four neighbours of 30 A at 90 °C, 1.21 mΩ/m · (234.5 + 90)/254.5 = 1.543 mΩ/m: 1.389 W/m each.
    let made = six.models.last().unwrap().conductor;
    let mut lay = Lay::pair(Installation::Bundle);
    lay.others.heat = loomwright::quantity::LinearPowerDensity::new::<
        loomwright::quantity::uom::si::linear_power_density::watt_per_meter,
    >(4.0 * 900.0 * 1.21e-3 * 324.5 / 254.5);
    lay.others.diameter = made.outer_diameter * 2.0;
    lay.others.largest = made.outer_diameter;
    lay.others.loaded = 4;
    let path = loomwright::heat::HeatPath::new(&made, &lay, celsius(40.0)).unwrap();
    // The ends of the run are held to terminals of 75 °C.
    let by_hand = path.ampacity(celsius(75.0)).unwrap().value;
    assert!((ampacity(&six, "one +") / by_hand - 1.0).abs() < 1e-9, "{by_hand}");
    // Loads that never run in any case give no heat: only full-load runs everything, so all of them do there.
    assert!(failures(&six).all(|one| one.rule != "ampacity"), "{:?}", six.findings);
}

#[test]
fn a_conduit_that_is_too_small_is_told_once_for_each_run() {
    let loom = "[looms.floor]\ninstall = \"conduit-plastic\"\nbore = \"12 mm\"\n";
    let judgement = plan(&format!("{loom}{}", load("one", "", r#"["2 m in here with floor"]"#)));
    let told = finding(&judgement, "conduit-holds-conductors", "one +").expect("a finding");
    assert_eq!(told.limit, Some(12.0));
    // Two cables side by side need twice their outer diameter.
    let made = judgement.models.last().unwrap().conductor;
    assert!((told.measured.unwrap() - 2e3 * made.outer_diameter.value).abs() < 1e-6);
}

/// A winch of 120 A for 30 s in 10 min in a 10 mm² pair: without a cycle the ampacity fails, with it it passes, and the
/// bound is that of the transient.
#[test]
fn a_duty_cycle_counts_for_the_conductors_of_its_own_circuit() {
    let winch = |duty: &str| {
        format!(
            "[loads.winch]\ncurrent = \"90 A\"\n{duty}\n[circuits.winch]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"winch\"\nroute = [\"1 m in here\"]\nconductor = \"16 mm2\"\nfuse = \"125 A class-t\"\n"
        )
    };
    let fails =
        |judgement: &Judgement| failures(judgement).any(|one| one.rule == "ampacity" && one.subject == "winch +");
    assert!(fails(&plan(&winch(""))));
    assert!(fails(&plan(&winch("duty = \"5 %\""))), "a share of time alone says nothing of minutes");
    let cyclic = plan(&winch("duty = \"30 s in 10 min\""));
    assert!(!fails(&cyclic), "{:?}", cyclic.findings);
    // The fuse must still protect from the current that does not stop.
    assert!(finding(&cyclic, "fuse-protects-conductor", "winch +").is_some());
    let made = cyclic.models.last().unwrap().conductor;
    let transient = Transient::new(&made, &Lay::pair(Installation::Enclosed), celsius(40.0)).unwrap();
    let bears = transient.permitted_current(&"30 s in 10 min".parse().unwrap(), celsius(75.0)).unwrap().value;
    assert!(bears > 90.0);
    let longer = plan(&winch("duty = \"8 min in 10 min\""));
    let told = finding(&longer, "ampacity", "winch +").expect("too long");
    let limit = transient.permitted_current(&"8 min in 10 min".parse().unwrap(), celsius(75.0)).unwrap().value;
    assert!((told.limit.unwrap() / limit - 1.0).abs() < 1e-6, "{told:?}");
    assert!(told.message.contains("8 min in 10 min"), "{}", told.message);
}

/// A starter lead of 16 mm² that carries the crank of 300 A for a second lives; for a minute it burns.
#[test]
fn a_start_that_lasts_too_long_is_found() {
    let starter = |time: &str| {
        format!(
            "[loads.motor]\ncurrent = \"10 A\"\ninrush = \"600 A\"\nstart_time = \"{time}\"\nlowest_voltage = \"3 V\"\n[runs.crank]\nfrom = \"house.+\"\nto = \"motor.+\"\nroute = [\"0.5 m in here\"]\nconductor = \"16 mm2\"\ncranking = true\n[runs.crank-return]\nfrom = \"house.-\"\nto = \"motor.-\"\nroute = [\"0.5 m in here\"]\nconductor = \"16 mm2\"\ncranking = true\n"
        )
    };
    let brief = plan(&starter("1 s"));
    assert!(finding(&brief, "start-heating", "crank").is_none(), "{:?}", brief.findings);
    let long = plan(&starter("60 s"));
    let told = finding(&long, "start-heating", "crank").expect("a finding");
    assert!(told.measured.unwrap() > told.limit.unwrap() && told.message.contains("60 s"), "{told:?}");
    assert_eq!(told.limit, Some(140.0));
}

#[test]
fn mistakes_name_the_value_and_what_is_accepted() {
    let messages = |more: &str| {
        let errors = read_plan(&two_bars("12 V", "150 A class-t", more)).expect_err("a mistake");
        errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    };
    let route = |route: &str| messages(&format!("{LOOM}{}", load("one", "", route)));
    assert!(route(r#"["2 m in here, conduit-splitt"]"#).contains("did you mean \"conduit-split\""));
    assert!(route(r#"["2 m in here with flor"]"#).contains("did you mean \"floor\""));
    assert!(route(r#"["2 m in here, surface with floor"]"#).contains("lies as the loom does"));
    assert!(messages("[looms.a]\ninstall = \"bundle\"\nbore = \"20 mm\"\n").contains("a bore goes with"));
    assert!(messages("[looms.a]\ninstall = \"free-air\"\n").contains("free-air is alone"));
    assert!(messages("[looms.a]\ninstall = \"conduit-metal\"\nbore = \"2 m\"\n").contains("3 mm to 500 mm"));
    let duty = messages(&load("one", "duty = \"20 min in 10 min\"", r#"["2 m in here"]"#));
    assert!(duty.contains("1200 s") && duty.contains("600 s"), "{duty}");
    assert!(messages(&load("one", "duty = \"120 %\"", r#"["2 m in here"]"#)).contains("at most 100 %"));
    assert!(messages(&load("one", "start_time = \"0 s\"", r#"["2 m in here"]"#)).contains("above 0 s"));
    assert!(route(r#"["0 m in here"]"#).contains("longer than 0 m"));
}

/// Company that hardly carries anything cools nobody: more circuits in a loom never bear more than one alone, whatever
/// they carry, and beyond the last grouping factor nothing is judged.
#[test]
fn company_never_helps() {
    let with = |install: &str, count: usize, amperes: f64| {
        let circuits: String = (0..count)
            .map(|index| {
                load(&format!("c{index}"), "", r#"["2 m in here with floor"]"#)
                    .replace("30 A\"", &format!("{amperes} A\""))
            })
            .collect();
        plan(&format!("[looms.floor]\ninstall = \"{install}\"\n{circuits}"))
    };
    for install in ["bundle", "surface", "conduit-plastic", "conduit-metal", "conduit-split", "insulated", "enclosed"] {
        let mut last = f64::INFINITY;
        for count in [1, 2, 5, 10, 20] {
            let here = ampacity(&with(install, count, 1.0), "c0 +");
            assert!(here <= last * (1.0 + 1e-9), "{install}: {here} A of {count} circuits, {last} A of fewer");
            last = here;
        }
        let many = with(install, 21, 1.0);
        assert!(many.models.last().unwrap().ampacity.is_none(), "{install}: 21 circuits have a value");
        assert!(!many.holds());
    }
}

/// Light conductors in an enclosed loom are warmed by a heavy one, as in any other.
#[test]
fn an_enclosed_loom_warms_all_that_lies_in_it() {
    let loom = "[looms.floor]\ninstall = \"enclosed\"\n";
    let light = load("light", "", r#"["2 m in here with floor"]"#).replace("30 A\"", "1 A\"");
    let judgement = plan(&format!("{loom}{light}{}", load("heavy", "", r#"["2 m in here with floor"]"#)));
    let record = judgement.record();
    let hot = |name: &str| record.runs.iter().find(|run| run.name == name).unwrap().conductor_temperature_c.unwrap();
    assert!(hot("light +") > 44.0 && hot("light +") < hot("heavy +"), "{} °C, {} °C", hot("light +"), hot("heavy +"));
}

/// By hand: 200 A for the whole 20 s of every 40 s are 141 A in heat, far above what 16 mm² bears.
#[test]
fn every_on_time_begins_with_a_start() {
    let starting = load(
        "pump",
        "inrush = \"200 A\"\nstart_time = \"20 s\"\nduty = \"20 s in 40 s\"\n",
        r#"["2 m in here, surface"]"#,
    );
    let judgement = plan(&starting);
    let found = finding(&judgement, "ampacity", "pump +").expect("it is told");
    assert_eq!(found.measured, Some(200.0));
    let errors = |more: &str| {
        read_plan(&two_bars("12 V", "150 A class-t", &load("pump", more, r#"["2 m in here"]"#))).unwrap_err()
    };
    for (more, said) in [
        ("start_time = \"5 s\"", "goes with inrush"),
        ("inrush = \"20 A\"", "not below the 30 A"),
        ("inrush = \"90 A\"\nstart_time = \"40 s\"\nduty = \"30 s in 5 min\"", "longer than the 30 s"),
    ] {
        assert!(errors(more).iter().any(|error| error.message.contains(said)), "{more}: {:?}", errors(more));
    }
}
