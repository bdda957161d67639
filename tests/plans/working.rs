//! The calculation of every run: its steps, and that its numbers are those of the report.

use crate::support::{judged, text_of};
use loomwright::heat::{Duty, Installation};
use loomwright::quantity::{ElectricCurrent, FromText, Time};
use loomwright::study::cable::{CableQuery, Load, Step, size};
use loomwright::study::judge::Judgement;

/// A number to four digits, as it is printed.
fn printed(value: f64) -> String {
    let rounded: f64 = format!("{value:.3e}").parse().expect("a number");
    rounded.to_string()
}

fn step<'a>(steps: &'a [Step], title: &str) -> Option<&'a Step> {
    steps.iter().find(|step| step.title == title)
}

fn ends_with(steps: &[Step], title: &str, value: f64, unit: &str) {
    let step = step(steps, title).unwrap_or_else(|| panic!("no step {title}: {steps:#?}"));
    let end = format!("= {} {unit}", printed(value));
    assert!(step.numbers.ends_with(&end), "{title}: {} does not end with {end}", step.numbers);
}

/// The numbers of every run of a plan against its record.
fn agrees(file: &str, judgement: &Judgement) {
    for (index, run) in judgement.record().runs.iter().enumerate() {
        let steps = judgement.working(index);
        assert!(steps.len() > 4 && steps.iter().all(|step| !step.source.is_empty()), "{file}: {}", run.name);
        ends_with(&steps, "Cut length", run.cut_m, "m");
        let design = step(&steps, "Design current").expect("a current");
        assert!(design.numbers.starts_with(&format!("Ib = {} A", printed(run.current_a))), "{file}: {design:?}");
        if run.drop_v > 0.0 {
            ends_with(&steps, "Largest drop", run.drop_v, "V");
        }
        if let Some(ampacity) = run.ampacity_a {
            let by_model = step(&steps, "Ampacity by the heat model");
            let by_table = step(&steps, "Ampacity by the practice's table");
            let last = by_table.or(by_model).filter(|_| ampacity > 0.0);
            let told = last.is_none_or(|last| last.numbers.contains(&format!("Iz = {} A", printed(ampacity))));
            assert!(told, "{file}: {} {ampacity} {last:?}", run.name);
        }
        if let Some(highest) = run.fault_highest_a.filter(|_| run.fuse_rating_a.is_some()) {
            let fault = step(&steps, "Highest fault").expect("a fault");
            assert!(fault.numbers.contains(&format!("= {} A;", printed(highest))), "{file}: {fault:?}");
        }
        // What the fuse needs to open against what the conductor bears: told with the sign that the numbers have.
        if let Some((_, sides)) = step(&steps, "Fuse").and_then(|fuse| fuse.numbers.split_once("; I2 = ")) {
            let (operating, rest) = sides.split_once(" A ").expect("a current");
            let (sign, most) = rest.split_once(" 1.45 Iz = ").expect("a sign");
            let number = |text: &str| text.trim_end_matches(" A").parse::<f64>().expect("a number");
            assert_eq!(sign, if number(operating) <= number(most) { "≤" } else { ">" }, "{file}: {sides}");
        }
        if let Some(margin) = run.time_margin {
            let through = step(&steps, "Overcurrents through time").expect("a fuse");
            assert!(through.numbers.ends_with(&format!(": {} times", printed(margin))), "{file}: {through:?}");
        }
    }
}

#[test]
fn the_numbers_are_those_of_the_report() {
    for file in [
        "examples/plans/veterinary-van.toml",
        "examples/plans/river-launch.toml",
        "examples/plans/mountain-hut.toml",
        "examples/plans/failing.toml",
    ] {
        agrees(file, &judged(&text_of(file)));
    }
    let none = judged(&text_of("examples/plans/veterinary-van.toml"));
    assert!(none.working(usize::MAX).is_empty());
}

/// A circuit of 3 m behind a fuse of its own: what each step has to say, and that the drop is the product of what stands
/// beside it.
#[test]
fn a_run_by_hand() {
    let plan = crate::support::two_bars(
        "12 V",
        "60 A blade-e",
        "[loads.lamp]\ncurrent = \"10 A\"\n[circuits.lamp]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"lamp\"\n\
         route = [\"2 m in here\", \"1 m in here\"]\nconductor = \"6 mm2\"\nfuse = \"15 A blade-c\"\n",
    );
    let judgement = judged(&plan);
    let at = judgement.installation.runs.iter().position(|run| run.name == "lamp +").expect("a run");
    let steps = judgement.working(at);
    let numbers = |title: &str| step(&steps, title).unwrap_or_else(|| panic!("{title}: {steps:#?}")).numbers.clone();
    assert_eq!(numbers("Cut length"), "(2 + 1) m · 1.1 + 0.6 m = 3.9 m");
    assert!(numbers("Design current").starts_with("Ib = 10 A: "));
    // Two lugs of 0.1 mΩ, and 102 mV at 15 A for fuse and holder.
    let whole = numbers("Resistance with joints and fuse");
    assert!(whole.contains(" + 0.1 + 0.1 + 6.8 = "), "{whole}");
    let milliohm: f64 = whole.rsplit("= ").next().and_then(|end| end.strip_suffix(" mΩ")).expect("mΩ").parse().unwrap();
    let drop: f64 = judgement.record().runs[at].drop_v;
    assert!((10.0 * milliohm * 1e-3 - drop).abs() < 1e-3 * drop, "{milliohm} {drop}");
    assert!(numbers("Heat balance of one metre of conductor").contains(" at 10 A"));
    let fuse = numbers("Fuse");
    assert!(fuse.starts_with("Ib = 10 A; blade-c 15 A · 0.8 · ") && fuse.contains("In = 15 A against Iz = "), "{fuse}");
    let back = judgement.working(at + 1);
    let behind = &step(&back, "What protects it on overload").expect("the other leg's fuse").numbers;
    assert!(behind.starts_with("15 A blade-c of lamp +: In = 15 A against Iz = "), "{behind}");
    assert!(step(&steps, "Adiabatic withstand of one conductor").is_some());
}

/// Two circuits that lie enclosed together bear 0.80 of one (IEC 60364-5-52, table B.52.17), and the calculation says so; one
/// alone has no such factor, nor has a bundle, whose own heat balance counts its neighbours.
#[test]
fn a_grouping_factor_is_told() {
    let query = |installation, together| CableQuery {
        installation: Some(installation),
        together: Some(together),
        ..circuit_of("20 A")
    };
    let heat = |query: &CableQuery| {
        let steps = size(query).unwrap().working();
        step(&steps, "Ampacity by the heat model").expect("a model").numbers.clone()
    };
    let grouped = heat(&query(Installation::Enclosed, 4));
    assert!(grouped.contains(" A with grouping factor 0.8"), "{grouped}");
    for (installation, together) in [(Installation::Enclosed, 2), (Installation::Bundle, 4)] {
        let alone = heat(&query(installation, together));
        assert!(!alone.contains("grouping factor"), "{alone}");
    }
}

fn circuit_of(current: &str) -> CableQuery {
    let load = Load::Current(ElectricCurrent::from_text(current).unwrap());
    CableQuery::new(load, loomwright_tests::metres(1.0), loomwright_tests::volts(12.0))
}

/// Pauses count for what lies alone, both legs of it; beside other circuits, of which nobody says that they pause with it, only
/// the steady current does.
#[test]
fn pauses_count_for_its_own_legs_alone() {
    let duty = Duty::new(Time::from_text("30 s").unwrap(), Time::from_text("10 min").unwrap()).ok();
    let margins = |together, duty| {
        let query = CableQuery { together, duty, installation: Some(Installation::Bundle), ..circuit_of("120 A") };
        let chosen = size(&query).unwrap().chosen.expect("a size");
        chosen.margins().map(|margin| (margin.check, margin.margin)).collect::<Vec<_>>()
    };
    assert_eq!(margins(Some(2), duty), margins(None, duty));
    assert_ne!(margins(None, duty), margins(None, None));
    assert_eq!(margins(Some(4), duty), margins(Some(4), None));
}
