//! How batteries are charged: small plans, by hand, against published charge settings.

use crate::support::{finding, judged, two_bars};
use loomwright::finding::Signal;
use loomwright::installation::Change;
use loomwright::source::Chemistry;
use loomwright::study::judge::Judgement;
use loomwright::study::remedy::found;
use loomwright::study::schedule::{Cell, SheetName, schedule};
use loomwright_tests::read;
use proptest::prelude::*;

/// A battery of a chemistry in air from −20 to 45 °C with a shore charger on its bars; `battery` and `charger` say more.
fn charged(system_voltage: &str, chemistry: &str, battery: &str, charger: &str) -> String {
    let more = format!(
        "[zones.shed]\nkind = \"hut\"\nhottest = \"45 °C\"\n[converters.shore]\nkind = \"shore-charger\"\noutput_current = \"20 A\"\n{charger}\n\
         [circuits.shore]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"shore.out\"\nroute = [\"1 m in here\"]\nconductor = \"10 mm2\"\n\
         fuse = \"30 A class-t\"\n"
    );
    two_bars(system_voltage, "150 A class-t", &more).replacen(
        "chemistry = \"agm\"",
        &format!("chemistry = \"{chemistry}\"\n{battery}"),
        1,
    )
}

/// What a plan of one charger is told by a rule: signal, measured, limit.
fn told(judgement: &Judgement, rule: &str, subject: &str) -> Option<(Signal, Option<f64>, Option<f64>)> {
    finding(judgement, rule, subject).map(|found| (found.signal, found.measured, found.limit))
}

fn shore(system_voltage: &str, chemistry: &str, charger: &str, rule: &str) -> Option<(Signal, f64, f64)> {
    let judgement = judged(&charged(system_voltage, chemistry, "", charger));
    let (signal, measured, limit) = told(&judgement, rule, "shore")?;
    Some((signal, measured.expect("a number"), limit.expect("a limit")))
}

const LITHIUM: &str = "lithium-iron-phosphate";

#[track_caller]
fn close(found: Option<(Signal, f64, f64)>, signal: Signal, measured: f64, limit: f64) {
    let found = found.expect("it is told");
    assert_eq!(found.0, signal);
    assert!((found.1 - measured).abs() < 1e-6 && (found.2 - limit).abs() < 1e-6, "{found:?}, {measured} {limit}");
}

/// Windows of a 12 V block: glass mat from 14.25 V, less 0.1 V of slack; on 48 V four times all of it.
#[test]
fn absorption_that_never_fills() {
    let of = |system: &str, chemistry: &str, volts: &str| {
        shore(system, chemistry, &format!("output_voltage = \"{volts} V\""), "absorption-fills-battery")
    };
    close(of("12 V", "agm", "14.1"), Signal::Caution, 14.1, 14.25);
    assert!(of("12 V", "agm", "14.15").is_none() && of("12 V", "agm", "14.7").is_none());
    close(of("48 V", "agm", "56.5"), Signal::Caution, 56.5, 57.0);
    assert!(of("48 V", "agm", "56.6").is_none());
    close(of("24 V", LITHIUM, "28"), Signal::Caution, 28.0, 28.4);
    // A battery that bears less is full at that.
    let gentle = charged("12 V", LITHIUM, "charge_voltage = \"13.9 V\"", "output_voltage = \"13.9 V\"");
    assert!(finding(&judged(&gentle), "absorption-fills-battery", "shore").is_none());
    // A window of lithium is that of four cells, called 12 or 12.8 V.
    let named = charged("12 V", LITHIUM, "nominal_voltage = \"12.8 V\"", "output_voltage = \"14.2 V\"");
    assert!(finding(&judged(&named), "absorption-fills-battery", "shore").is_none());
}

/// Above the window it ages a sealed battery and lithium, and boils off a flooded one's water; below it none stays full.
#[test]
fn float_voltages() {
    let of = |system: &str, chemistry: &str, volts: &str| {
        shore(system, chemistry, &format!("float_voltage = \"{volts} V\""), "float-voltage-suits-battery")
    };
    close(of("12 V", "agm", "14"), Signal::Warning, 14.0, 13.8);
    close(of("12 V", "gel", "14"), Signal::Warning, 14.0, 13.8);
    close(of("24 V", LITHIUM, "28"), Signal::Warning, 28.0, 27.6);
    close(of("12 V", "flooded", "14"), Signal::Caution, 14.0, 13.8);
    close(of("12 V", "agm", "13.2"), Signal::Caution, 13.2, 13.4);
    assert!(of("12 V", "flooded", "13.2").is_none() && of("24 V", "agm", "27.6").is_none());
    let mut judgement = judged(&charged("12 V", "agm", "", "float_voltage = \"14 V\""));
    loomwright::study::remedy::propose(&mut judgement);
    let found = finding(&judgement, "float-voltage-suits-battery", "shore").expect("it is told");
    assert_eq!(found.remedies, ["set the float of shore to 13.8 V"]);
}

#[test]
fn equalisation() {
    let of = |chemistry: &str, volts: &str| {
        let text = format!("equalise_voltage = \"{volts} V\"");
        shore("12 V", chemistry, &text, "equalisation-suits-battery")
    };
    assert!(of("flooded", "15").is_none(), "15.0 V for 2 h at most");
    close(of("flooded", "15.5"), Signal::Warning, 15.5, 15.0);
    close(of("agm", "15"), Signal::Warning, 15.0, 14.7);
    close(of("gel", "15"), Signal::Warning, 15.0, 14.4);
    close(of(LITHIUM, "15"), Signal::Danger, 15.0, 14.6);
    close(of(LITHIUM, "14.4"), Signal::Warning, 14.4, 14.6);
    for (chemistry, volts, words) in [
        (LITHIUM, "15", "switch the equalisation of shore off"),
        ("flooded", "15.5", "set the equalisation of shore to 15 V"),
    ] {
        let mut judgement = judged(&charged("12 V", chemistry, "", &format!("equalise_voltage = \"{volts} V\"")));
        loomwright::study::remedy::propose(&mut judgement);
        let found = finding(&judgement, "equalisation-suits-battery", "shore").expect("it is told");
        assert_eq!(found.remedies, [words]);
    }
}

/// −3 mV/K a cell are −18 mV/K for 12 V; lithium has none, and −18 mV/K lift 14.4 V to 14.4 + 0.018 · 45 = 15.21 V at
/// −20 °C.
#[test]
fn compensation_for_temperature() {
    let of = |system: &str, chemistry: &str, millivolts: &str, zone: &str| {
        let text = charged(system, chemistry, zone, &format!("voltage_per_kelvin = \"{millivolts} mV\""));
        let judgement = judged(&text);
        let (signal, measured, limit) = told(&judgement, "temperature-compensation", "shore")?;
        Some((signal, measured.expect("a number"), limit.expect("a limit")))
    };
    let rule = |system: &str, chemistry: &str, millivolts: &str| of(system, chemistry, millivolts, "");
    assert!(rule("12 V", "agm", "-18").is_none() && rule("12 V", "agm", "-27").is_none());
    assert!(rule("12 V", "agm", "-9").is_none(), "half of it");
    close(rule("12 V", "agm", "-28"), Signal::Caution, -28.0, -18.0);
    close(rule("12 V", "agm", "0"), Signal::Caution, 0.0, -18.0);
    close(rule("24 V", "flooded", "-17"), Signal::Caution, -17.0, -36.0);
    close(rule("48 V", "agm", "-18"), Signal::Caution, -18.0, -72.0);
    // Lithium: in a zone the coldest air counts; without one nobody knows how cold it gets.
    close(of("12 V", LITHIUM, "-18", "zone = \"shed\""), Signal::Warning, 15.21, 14.6);
    close(rule("12 V", LITHIUM, "-18"), Signal::Caution, -18.0, 0.0);
    close(of("12 V", LITHIUM, "-1", "zone = \"shed\""), Signal::Caution, -1.0, 0.0);
    assert!(rule("12 V", LITHIUM, "0").is_none());
    // Nothing is told where nothing is stated.
    assert!(shore("12 V", "agm", "", "temperature-compensation").is_none());
}

/// 100 Ah: lead-acid takes 0.4 of it in an hour by the sheet (16 A for 40 Ah), lithium 0.5 (cell sheet).
#[test]
fn charge_currents() {
    let of = |chemistry: &str, battery: &str, amperes: &str| {
        let text = charged("12 V", chemistry, battery, "")
            .replace("output_current = \"20 A\"", &format!("output_current = \"{amperes} A\""));
        let judgement = judged(&text);
        let (signal, measured, limit) = told(&judgement, "charge-current-suits-battery", "house")?;
        Some((signal, measured.expect("a number"), limit.expect("a limit")))
    };
    assert!(of("agm", "", "40").is_none());
    close(of("agm", "", "45"), Signal::Caution, 45.0, 40.0);
    close(of(LITHIUM, "", "60"), Signal::Caution, 60.0, 50.0);
    close(of(LITHIUM, "charge_current_limit = \"30 A\"", "35"), Signal::Warning, 35.0, 30.0);
    assert!(of(LITHIUM, "charge_current_limit = \"100 A\"", "60").is_none(), "its maker permits more");
    assert!(of("agm", "", "2").is_none(), "too little is no finding");
    let mut judgement = judged(&charged("12 V", LITHIUM, "charge_current_limit = \"15 A\"", ""));
    loomwright::study::remedy::propose(&mut judgement);
    let found = finding(&judgement, "charge-current-suits-battery", "house").expect("it is told");
    assert!(found.remedies.len() == 1 && found.remedies[0].starts_with("set shore to 15 A"), "{:?}", found.remedies);
}

/// A second battery of 50 Ah takes a third of 45 A, the first one two thirds: 30 A, below its 40 A; 15 A of its 20 A.
#[test]
fn batteries_in_parallel_share() {
    let second = "[batteries.second]\nchemistry = \"agm\"\ncapacity = \"50 Ah\"\ncharge_current_limit = \"14 A\"\n\
                  [runs.second-lead]\nfrom = \"second.+\"\nto = \"plus\"\nroute = [\"0.5 m in here\"]\nconductor = \"95 mm2\"\nfuse = \"150 A class-t\"\n\
                  [runs.second-back]\nfrom = \"second.-\"\nto = \"minus\"\nroute = [\"0.5 m in here\"]\nconductor = \"95 mm2\"\n";
    let text =
        charged("12 V", "agm", "", "").replace("\"20 A\"", "\"45 A\"").replace("30 A class-t", "60 A class-t") + second;
    let judgement = judged(&text);
    assert!(finding(&judgement, "charge-current-suits-battery", "house").is_none());
    let (signal, measured, limit) = told(&judgement, "charge-current-suits-battery", "second").expect("above 14 A");
    close(Some((signal, measured.unwrap(), limit.unwrap())), Signal::Warning, 15.0, 14.0);
}

/// A charger on the engine and one on the shore do not charge at once in a vehicle, unless the first runs at any time.
#[test]
fn engine_and_shore() {
    let of = |signal: &str| {
        let more = format!(
            "[batteries.starter]\nchemistry = \"agm\"\ncapacity = \"80 Ah\"\n[converters.onboard]\nkind = \"dc-dc-charger\"\noutput_current = \"25 A\"\n{signal}\n\
             [runs.feed]\nfrom = \"starter.+\"\nto = \"onboard.in+\"\nroute = [\"1 m in here\"]\nfuse = \"50 A class-t\"\n\
             [runs.starter-back]\nfrom = \"starter.-\"\nto = \"minus\"\nroute = [\"1 m in here\"]\n\
             [circuits.onboard]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"onboard.out\"\nroute = [\"1 m in here\"]\nfuse = \"50 A class-t\"\n\
             [runs.onboard-back]\nfrom = \"minus\"\nto = \"onboard.in-\"\nroute = [\"1 m in here\"]\n"
        );
        let judgement = judged(&(charged("12 V", "agm", "", "") + &more));
        told(&judgement, "charge-current-suits-battery", "house")
    };
    assert!(of("running_signal = true").is_none(), "25 A or 20 A");
    let (signal, measured, limit) = of("").expect("25 A and 20 A");
    close(Some((signal, measured.unwrap(), limit.unwrap())), Signal::Caution, 45.0, 40.0);
}

/// Two of 12 V in series on a 24 V charger: 28.8 V are 14.4 V each.
#[test]
fn a_bank_in_series_is_charged_as_one() {
    let bank = |charger: &str| {
        let upper = "[batteries.upper]\nchemistry = \"agm\"\ncapacity = \"100 Ah\"\nnominal_voltage = \"12 V\"\n[runs.step]\nfrom = \"house.+\"\nto = \"upper.-\"\nroute = [\"0.3 m in here\"]\nconductor = \"95 mm2\"\n";
        let text = charged("24 V", "agm", "nominal_voltage = \"12 V\"", charger) + upper;
        judged(&text.replacen("from = \"house.+\"\nto = \"plus\"", "from = \"upper.+\"\nto = \"plus\"", 1))
    };
    let good = bank("output_voltage = \"28.8 V\"\nfloat_voltage = \"27.2 V\"\nvoltage_per_kelvin = \"-36 mV\"");
    for rule in [
        "charge-voltage-suits-battery",
        "absorption-fills-battery",
        "float-voltage-suits-battery",
        "temperature-compensation",
    ] {
        assert!(finding(&good, rule, "shore").is_none(), "{rule}");
    }
    let high = bank("output_voltage = \"30 V\"");
    let found = finding(&high, "charge-voltage-suits-battery", "shore").expect("15 V each");
    assert_eq!((found.signal, found.limit), (Signal::Danger, Some(29.4)));
    assert!(found.message.contains("upper and house"), "{}", found.message);
}

/// No charge below 0 °C (cell sheet): a zone is as cold as −20 °C when nobody says.
#[test]
fn lithium_in_frost() {
    let of = |chemistry: &str, battery: &str, coldest: &str| {
        let text = charged("12 V", chemistry, battery, "");
        let judgement = judged(&text.replace("hottest = \"45 °C\"\n", &format!("hottest = \"45 °C\"\n{coldest}\n")));
        told(&judgement, "charging-in-frost", "house")
    };
    assert_eq!(of(LITHIUM, "zone = \"shed\"", ""), Some((Signal::Caution, Some(-20.0), Some(0.0))));
    let bare = "zone = \"shed\"\nstops_in_frost = false";
    assert_eq!(of(LITHIUM, bare, "coldest = \"-5 °C\"").map(|found| found.0), Some(Signal::Warning));
    assert!(of(LITHIUM, bare, "coldest = \"5 °C\"").is_none());
    assert!(of(LITHIUM, "zone = \"shed\"\nstops_in_frost = true", "").is_none());
    assert!(of("agm", "zone = \"shed\"", "").is_none() && of(LITHIUM, "", "").is_none());
    // What nothing charges is not charged in frost.
    let text = charged("12 V", LITHIUM, "zone = \"shed\"", "");
    let alone = text.split("[converters.shore]").next().expect("the battery");
    assert!(finding(&judged(alone), "charging-in-frost", "house").is_none());
}

/// What is to be set, with the window that it lies in.
#[test]
fn the_settings_sheet() {
    let settings = |text: &str| -> Vec<(String, String)> {
        let sheet = schedule(&judged(text)).sheet(SheetName::Settings);
        let text = |cell: &Cell| if let Cell::Text(text) = cell { text.clone() } else { String::new() };
        sheet.rows.iter().map(|row| (text(&row[1]), text(&row[2]))).collect()
    };
    let of = |found: &[(String, String)], name: &str| {
        found.iter().find(|(setting, _)| setting == name).map(|(_, value)| value.clone())
    };
    let flooded =
        settings(&charged("24 V", "flooded", "charge_current_limit = \"15 A\"", "equalise_voltage = \"29.6 V\""));
    for (setting, value) in [
        ("absorption", "28.8 V"),
        ("float", "26.4 V to 27.6 V"),
        ("equalisation", "29.6 V"),
        ("temperature compensation", "-0.036 V/K"),
        ("output current", "15 A"),
    ] {
        assert_eq!(of(&flooded, setting).as_deref(), Some(value), "{setting}");
    }
    assert!(of(&flooded, "no charge below").is_none());
    let lithium = settings(&charged("12 V", LITHIUM, "", "float_voltage = \"13.5 V\""));
    for (setting, value) in [
        ("float", "13.5 V"),
        ("equalisation", "off"),
        ("temperature compensation", "none"),
        ("output current", "20 A"),
        ("no charge below", "0 °C"),
    ] {
        assert_eq!(of(&lithium, setting).as_deref(), Some(value), "{setting}");
    }
}

/// A caution that one edit mends is mended by it, when asked.
#[test]
fn cautions_are_mended_when_asked() {
    let judgement = judged(&charged("12 V", "agm", "", "output_voltage = \"14 V\""));
    let told = finding(&judgement, "absorption-fills-battery", "shore").expect("it is told");
    assert!(!told.citation.is_empty(), "{told:?}");
    let remedies = found(&judgement, told);
    assert!(matches!(remedies[0].changes[..], [Change::OutputVoltage(0, _)]), "{remedies:?}");
}

fn numbers(value: &str) -> Vec<f64> {
    // A leading sign is no dash of a range.
    let (sign, digits) = value.strip_prefix('-').map_or((1.0, value), |rest| (-1.0, rest));
    digits
        .split('-')
        .map(|part| sign * part.parse::<f64>().unwrap_or_else(|error| panic!("{value}: {error}")))
        .collect()
}

/// Every published setting lies in the window of its chemistry, or is the end of it.
#[test]
fn windows_hold_what_is_published() {
    let mut seen = 0;
    for row in read("battery_charging.csv") {
        let kinds: &[Chemistry] = match row.text("chemistry") {
            "flooded" => &[Chemistry::Flooded],
            "gel/AGM" => &[Chemistry::Agm, Chemistry::Gel],
            "AGM" => &[Chemistry::Agm],
            "gel" => &[Chemistry::Gel],
            "lead-acid" => &[Chemistry::Flooded, Chemistry::Agm, Chemistry::Gel],
            "LFP" => &[Chemistry::LithiumIronPhosphate],
            _ => continue,
        };
        for kind in kinds {
            let window = kind.charge_window().expect("it has one");
            let values = numbers(row.text("value"));
            let within =
                |[low, high]: [f64; 2]| values.iter().all(|value| *value >= low - 1e-9 && *value <= high + 1e-9);
            let volts = |window: [loomwright::quantity::ElectricPotential; 2]| window.map(|voltage| voltage.value);
            let holds = match row.text("key") {
                "absorption_12V" => within(volts(window.absorption)),
                "float_12V" | "float_12V_alt" => within(volts(window.float)),
                "equalise_12V" => window.equalise.map(|voltage| voltage.value) == Some(values[0]),
                // Six cells.
                "charge_temp_coefficient" => (window.per_kelvin.value - 6e-3 * values[0]).abs() < 1e-12,
                "recommended_charge_current" => (window.least_per_hour.value - values[0]).abs() < 1e-12,
                "charge_min_temp" => {
                    let takes = |degrees: f64| kind.acceptance_at(loomwright::quantity::celsius(degrees)).value;
                    takes(values[0] - 0.01) == 0.0 && takes(values[0]) > 0.0
                }
                "charge_15_to_45C" => kind.acceptance_at(loomwright::quantity::celsius(25.0)).value == values[0],
                _ => continue,
            };
            assert!(holds, "{kind} {}", row.text("key"));
            seen += 1;
        }
    }
    assert!(seen >= 17, "{seen}");
}

const RULES: [&str; 6] = [
    "charge-voltage-suits-battery",
    "absorption-fills-battery",
    "float-voltage-suits-battery",
    "equalisation-suits-battery",
    "temperature-compensation",
    "charge-current-suits-battery",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// No setting within the window is ever reported, on 12, 24 or 48 V.
    #[test]
    fn settings_within_the_window_are_never_told(
        kind in prop::sample::select(vec![Chemistry::Flooded, Chemistry::Agm, Chemistry::Gel, Chemistry::LithiumIronPhosphate]),
        blocks in prop::sample::select(vec![1.0, 2.0, 4.0]),
        absorption in 0.0..=1.0_f64,
        float in 0.0..=1.0_f64,
        compensation in 0.55..=1.45_f64,
        share in 0.01..=1.0_f64,
    ) {
        let window = kind.charge_window().expect("it has one");
        let between = |[low, high]: [loomwright::quantity::ElectricPotential; 2], at: f64| {
            blocks * (low.value + at * (high - low).value)
        };
        let most = 100.0 * if kind.is_lead() { 0.4 } else { 0.5 };
        let equalise = window.equalise.map_or_else(String::new, |most| {
            format!("equalise_voltage = \"{} V\"\n", most.value * blocks)
        });
        let charger = format!(
            "output_voltage = \"{} V\"\nfloat_voltage = \"{} V\"\nvoltage_per_kelvin = \"{} V\"\n{equalise}",
            between(window.absorption, absorption),
            between(window.float, float),
            window.per_kelvin.value * blocks * compensation,
        );
        let text = charged(&format!("{} V", 12.0 * blocks), kind.name(), "zone = \"shed\"", &charger)
            .replace("output_current = \"20 A\"", &format!("output_current = \"{} A\"", most * share));
        let judgement = judged(&text);
        for rule in RULES {
            let told = judgement.findings.iter().find(|found| found.rule == rule);
            prop_assert!(told.is_none(), "{told:?}");
        }
    }
}
