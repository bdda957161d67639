//! Batteries against what others published: Peukert, usable energy, capacity by temperature, charging.

use crate::stays::{bank, battery, circuit, found, load, march, plan, stay, wh};
use loomwright::quantity::uom::si::electric_charge::ampere_hour;
use loomwright::quantity::uom::si::electric_potential::volt;
use loomwright::quantity::uom::si::time::{hour, minute};
use loomwright::quantity::{ElectricCharge, Ratio, Time, celsius};
use loomwright::source::{Chemistry, SourceError, Storage, peukert_exponent};
use loomwright::study::forecast::{Options, Size, Sized};
use loomwright::text::read_plan;
use loomwright_tests::{Row, Worst, amperes, apart, close, read};

fn charge(value: f64) -> ElectricCharge {
    ElectricCharge::new::<ampere_hour>(value)
}

/// A battery of 100 Ah used down to a share, by this chemistry's habits otherwise.
fn down_to(chemistry: Chemistry, floor: f64) -> Storage {
    Storage { floor: Ratio::from(floor), ..Storage::typical(chemistry, charge(100.0)) }
}

/// The capacity in Ah that gives so many Ah above a floor where it is warm.
fn capacity_for(chemistry: Chemistry, floor: f64, needed: f64) -> f64 {
    down_to(chemistry, floor).capacity_for(charge(needed), celsius(26.7)).get::<ampere_hour>()
}

/// Exponents of a monitor's manual from the 20-hour rating and the minutes at 25 A: to the last digit of the recomputed ones, and
/// within half of the last digit of the printed ones (two places; one is printed 0.0046 off). PK02 is left out: it gives 58 Ah at
/// 25 A from a battery of 43 Ah at 20 h, which no exponent of 1 or more explains, and which is refused.
#[test]
fn exponents_of_a_manual() {
    let (mut recomputed, mut printed) = (Worst::of("recomputed exponents"), Worst::of("printed exponents"));
    for row in read("peukert_exponents.csv") {
        let short = (amperes(25.0), Time::new::<minute>(row.number("reserve_min_at_25A")));
        let long = (amperes(row.number("C20_Ah") / 20.0), Time::new::<hour>(20.0));
        let found = peukert_exponent(short, long);
        if row.text("id") == "PK02" {
            assert_eq!(found, Err(SourceError::Peukert));
            continue;
        }
        let found = found.unwrap();
        // The order does not matter.
        close(peukert_exponent(long, short).unwrap().value, found.value, 1e-12);
        recomputed.apart(found.value, row.number("n_recomputed"), &row);
        printed.apart(found.value, row.number("n_published"), &row);
    }
    recomputed.hold(10, 5.1e-5);
    printed.hold(10, 0.005);
}

/// PE03: t = R·(C/(I·R))ⁿ. PE02 and PE06 are the one-ampere form t = C/Iⁿ, in which C is what the battery gives at 1 A: for a
/// 20-hour rating the same 5 A from 100 Ah last 20 h and not 14.5 h, and 10 A from 200 Ah 20 h and not 13.9 h.
#[test]
fn hour_rates_are_not_left_out() {
    let of = |capacity: f64, n: f64, current: f64| {
        let typical = Storage::typical(Chemistry::Flooded, charge(capacity));
        let storage = Storage { peukert: Ratio::from(n), hour_rate: Time::new::<hour>(20.0), ..typical };
        storage.discharge_time(amperes(current)).get::<hour>()
    };
    close(of(100.0, 1.3, 10.0), 8.1225, 1e-5);
    close(of(100.0, 1.3, 10.0) * 10.0, 81.225, 1e-5);
    let at_one_ampere = |capacity: f64, n: f64, current: f64| capacity / f64::powf(current, n);
    close(at_one_ampere(100.0, 1.2, 5.0), 14.5, 5e-3);
    close(of(100.0, 1.2, 5.0), 20.0, 1e-12);
    close(at_one_ampere(220.0, 1.2, 5.0), 31.9, 5e-3);
    close(at_one_ampere(220.0, 1.2, 10.0), 13.9, 5e-3);
    close(of(200.0, 1.2, 10.0), 20.0, 1e-12);
    // So an exponent without its hour rate is not taken.
    let errors = read_plan(&plan(&battery("house", "agm", 100.0, "peukert = \"120 %\""))).unwrap_err();
    assert_eq!(errors[0].key, "batteries.house.peukert");
    assert!(errors[0].message.contains("hour_rate") && errors[0].message.contains("t = R·(C/(I·R))ⁿ"), "{errors:?}");
}

/// EB01, EB02, EB04, EB07, EB09, EB10, EB14: the capacity for a charge above a floor, each within the tolerance of its row. They
/// reckon at the nominal voltage and where it is warm. EB21 (100 Ah · 12 V, 25 A · 12 V) is plain arithmetic that the engine does
/// not do.
#[test]
fn capacities_of_worked_examples() {
    use Chemistry::{Agm, LithiumIronPhosphate as Lithium};
    // 300 Wh a day, 2 days, 80 % usable, 12 V: 750 Wh, 62.5 Ah.
    close(capacity_for(Lithium, 0.2, 2.0 * 300.0 / 12.0), 62.5, 5e-3);
    // Five days of 1000 Wh at 12 V, which is two and a half at half depth.
    close(capacity_for(Agm, 0.5, 2.5 * 1000.0 / 12.0), 416.66, 1e-3);
    // 4500 kWh a year over 90 %: 13.7 kWh; 285 Ah at 48 V from lead-acid of half depth, or lithium of 80 %.
    let daily = 4.5e6 / 365.0 / 0.9 / 48.0;
    close(daily, 285.0, 0.01);
    close(capacity_for(Agm, 0.5, daily), 570.0, 0.01);
    close(capacity_for(Lithium, 0.2, daily), 357.0, 0.01);
    // 1520 Wh over 0.648 of depth and efficiencies.
    close(capacity_for(Agm, 1.0 - 0.648, 1520.0 / 12.0), 195.5, 1e-3);
    // 50 W · 6 h · 3 days at half depth: 1800 Wh. 300 W · 5 h: 250 Ah. 6 W · 2 h: 2 Ah.
    close(12.0 * capacity_for(Agm, 0.5, 50.0 * 6.0 * 3.0 / 12.0), 1800.0, 1e-3);
    close(capacity_for(Agm, 0.5, 300.0 * 5.0 / 12.0), 250.0, 1e-3);
    close(capacity_for(Agm, 0.5, 6.0 * 2.0 / 12.0), 2.0, 1e-3);
    // And back: what can be used of them.
    let usable = Storage { capacity: charge(250.0), ..down_to(Agm, 0.5) }.usable(celsius(26.7));
    close(usable.get::<ampere_hour>(), 125.0, 1e-9);
}

/// A diary of loads on a large battery.
fn diary(loads: &str, stay: &str, battery: &str) -> loomwright::study::forecast::StayOutcome {
    crate::stays::stay(&plan(&[battery, loads, stay].concat()), 96)
}

/// EB07, EB11, EB13, EB15, EB16: what loads use in a day and a year, to 0.1 % as printed.
#[test]
fn days_of_worked_examples() {
    let large = battery("house", "lithium-iron-phosphate", 3000.0, "");
    let used = |loads: &str| wh(bank(&diary(loads, &march(2, 2, ""), &large), "house").days[0].energies.used);
    let of = |name: &str, watts: f64, hours: f64| {
        load(name, "house", &format!("power = \"{watts} W\"\nper_day = \"{hours} h\""))
    };
    close(used(&of("all", 380.0, 4.0)), 1520.0, 1e-3);
    let house = [of("fridge", 600.0, 8.0), of("lights", 75.0, 3.0), of("rest", 200.0, 2.0)].concat();
    close(used(&house), 5425.0, 1e-3);
    // 60 Wh are 5 Ah at the nominal voltage that the page reckons with.
    close(used(&of("lamp", 6.0, 10.0)) / 12.0, 5.0, 1e-3);
    // A year of (120 W + 150 W) · 4 h a day, with shore power so that nothing falls short: 394 kWh.
    let year = "[stays.year]\nplace = \"lake\"\nfrom = \"2026-01-01\"\nto = \"2026-12-31\"\nshore = [\"all day\"]\n";
    let loads =
        [of("set", 120.0, 4.0), of("box", 150.0, 4.0), crate::stays::shore("shore", "house", 60.0, 14.4)].concat();
    let told = found(&plan(&[&large, &loads, year].concat()), &Options::default());
    close(wh(told.stays[0].banks[0].energies.used), 394e3, 1e-3);
    // 0.75 A for 24 h: 18 Ah, from a battery that loses nothing at rest.
    let rested = battery("house", "agm", 100.0, "self_discharge = \"0 %\"");
    let told = diary(&load("radio", "house", "current = \"0.75 A\""), &march(2, 2, ""), &rested);
    close(100.0 * (1.0 - bank(&told, "house").end_charge.value), 18.0, 1e-3);
}

/// EB19: an inverter that takes 10 W at rest takes 240 Wh a day, 20 Ah at 12 V: 20 % of 100 Ah. Ours is switched on by a load of
/// 0.1 W behind it, loses 2 % in conductors, and stands at 12.9 V: 2 % for the load and what it loses.
#[test]
fn an_inverter_at_rest() {
    let inverter = format!(
        "[converters.inverter]\nkind = \"inverter\"\noutput_power = \"500 W\"\nefficiency = \"90 %\"\nno_load = \"10 W\"\n{}",
        circuit("inverter", "house", "inverter")
    );
    let loads = format!("{inverter}[loads.clock]\npower = \"0.1 W\"\ninverter = \"inverter\"\n");
    let told = diary(&loads, &march(2, 2, ""), &battery("house", "agm", 100.0, ""));
    let taken = wh(told.banks[0].energies.used + told.banks[0].energies.converted) * 0.98;
    close(taken, 240.0, 0.02);
    close(taken / 12.0, 20.0, 0.02);
}

/// EB18: the array-to-load ratio is told at maximum power current: 10 A in 4 kWh/m² give 40 Ah, 1.25 of 32 Ah. Without tracking,
/// dirt or clipping ours takes from that 3 % for unlike modules and what glass throws back, by hour and so in no winter: 85 % to
/// 100 % of it, and never more.
#[test]
fn an_array_against_its_load() {
    let sun = crate::stays::solar("sun", "house", 210.0, 30.0)
        .replace("array_limit", "tracks = false\narray_limit")
        .replace("short_circuit = \"10.5 A\"", "short_circuit = \"11 A\"\nsoiling = \"0 %\"");
    let months = |text: &str| vec![format!("\"{text}\""); 12].join(", ");
    let climate = format!("irradiation = [{}]\nair = [{}]", months("4 kWh/m2"), months("10 °C"));
    let stays =
        "[stays.summer]\nplace = \"lake\"\nfrom = \"2026-07-15\"\nto = \"2026-07-15\"\nstart_charge = \"30 %\"\n";
    let parts = [battery("house", "lithium-iron-phosphate", 1000.0, ""), sun, stays.to_owned()];
    let told = stay(&plan(&parts.concat()).replace("climate = \"zurich\"", &climate), 96);
    let given: f64 = told.banks[0].steps.iter().map(|step| step.sun.value / step.voltage.value / 4.0).sum();
    println!("{given} Ah of 40 Ah");
    assert!((0.85 * 40.0..=40.0).contains(&given), "{given} Ah");
}

/// EB09, EB10: the battery that a forecast finds. The pages reckon at 12 V; ours stands at 12.4 V to 12.9 V, which takes 5 % off, and
/// adds 2 % in conductors, what is lost at rest, and Peukert above the 20-hour current (11 % for EB10 at 1.15). Within 10 %.
#[test]
fn sized_batteries_of_worked_examples() {
    let needed = |loads: &str, days: u32| {
        let rest = march(2, 1 + days, "battery_temperature = \"26.7 °C\"");
        let text = plan(&[battery("house", "agm", 80.0, "floor = \"50 %\""), loads.to_owned(), rest].concat());
        let told = found(&text, &Options { size: Some(Size::Battery), ..Options::default() });
        let Some(Sized::One(one)) = &told.stays[0].sized else { panic!("one was asked") };
        one.capacity().expect("something lasts").get::<ampere_hour>()
    };
    let ours = [
        needed(&load("lamp", "house", "power = \"50 W\"\nhours = [\"16:00 to 22:00\"]"), 3),
        needed(&load("stove", "house", "power = \"300 W\"\nhours = [\"10:00 to 15:00\"]"), 1),
    ];
    println!("sized: {ours:?}, printed 150 and 250 Ah");
    close(ours[0], 1800.0 / 12.0, 0.1);
    close(ours[1], 250.0, 0.1);
}

/// The share of its capacity that a published row leaves; some print what more is needed instead.
fn left(row: &Row) -> f64 {
    let factor = row.number("factor");
    if row.text("kind").starts_with("available") { factor } else { 1.0 / factor }
}

/// Ours is nowhere above the largest of the published at that temperature (0.002 are left for factors of two places), lies within
/// 0.02 of the worksheets and IEEE 485 (memory) up to 27 °C, and within 0.2 of everything: makers' tables are kinder.
#[test]
fn capacity_by_temperature() {
    let rows = read("battery_capacity_vs_temperature.csv");
    let sets: Vec<&str> = rows.iter().map(|row| row.text("dataset")).collect();
    let mut near = Worst::of("capacity by worksheets");
    let mut far = Worst::of("capacity by everything");
    for row in &rows {
        let at = row.number("temp_C");
        let ours = Chemistry::Agm.capacity_at(celsius(at)).value;
        far.apart(ours, left(row), row);
        if at < 27.0 && ["worksheet", "ieee485_table1"].contains(&row.text("dataset")) {
            near.apart(ours, left(row), row);
        }
        // The largest that any set says there, straight between its points.
        let says = |set: &str| {
            let mut points: Vec<(f64, f64)> = rows
                .iter()
                .filter(|row| row.text("dataset") == set)
                .map(|row| (row.number("temp_C"), left(row)))
                .collect();
            points.sort_by(|one, other| one.0.total_cmp(&other.0));
            let pair = points.windows(2).find(|pair| (pair[0].0..=pair[1].0).contains(&at))?;
            Some(pair[0].1 + (at - pair[0].0) / (pair[1].0 - pair[0].0) * (pair[1].1 - pair[0].1))
        };
        let largest = sets.iter().filter_map(|set| says(set)).fold(0.0, f64::max);
        assert!(ours <= largest + 0.002, "{ours} at {at} °C, at most {largest}");
    }
    near.hold(14, 0.02);
    far.hold(rows.len(), 0.2);
    // At −18 °C, a supplier's text: lithium 0.70, lead-acid 0.45.
    let told = [Chemistry::LithiumIronPhosphate, Chemistry::Flooded].map(|one| one.capacity_at(celsius(-18.0)).value);
    assert!(apart(told[0], 0.70) < 1e-9 && apart(told[1], 0.45) < 1e-9, "{told:?}");
}

fn parameter(rows: &[Row], chemistry: &str, key: &str) -> Vec<f64> {
    let row = rows.iter().find(|row| row.text("chemistry") == chemistry && row.text("key") == key);
    let text = row.unwrap_or_else(|| panic!("no {chemistry} {key}")).text("value");
    // A range is printed with a hyphen, which is also a sign.
    let split = text.char_indices().skip(1).find(|(_, sign)| *sign == '-').map(|(at, _)| at);
    let parts = split.map_or(vec![text], |at| vec![&text[..at], &text[at + 1..]]);
    parts.into_iter().map(|part| part.parse().unwrap()).collect()
}

/// Nothing below 0 °C, at most 0.2 C to 10 °C (guide) and to 15 °C (cell sheet), 0.5 C to 45 °C, and 0.4 C for sealed lead-acid:
/// ours is never above these, at any tenth of a kelvin.
#[test]
fn charge_currents_by_temperature() {
    let rows = read("battery_parameters.csv");
    let of = |chemistry: &str, key: &str| parameter(&rows, chemistry, key)[0];
    let (coldest, cold, cool) =
        (of("LFP", "charge_min_temp"), of("LFP", "charge_below_10C"), of("LFP", "charge_0_to_15C"));
    let (warm, sealed) = (of("LFP", "charge_15_to_45C"), of("sealed 40Ah", "max_charge_current"));
    for tenths in -300_i32..=599 {
        let at = f64::from(tenths) / 10.0;
        let most = if at < coldest {
            0.0
        } else if at < 10.0 {
            cold.min(cool)
        } else if at < 15.0 {
            cool
        } else {
            warm
        };
        let ours = Chemistry::LithiumIronPhosphate.acceptance_at(celsius(at)).value;
        assert!(ours <= most, "{ours} C at {at} °C, at most {most} C");
        assert!(Chemistry::Agm.acceptance_at(celsius(at)).value <= sealed);
    }
    assert_eq!(Chemistry::LithiumIronPhosphate.acceptance_at(celsius(20.0)).value, warm);
}

/// Published settings lie in our windows, the ranges of lithium are ours, and six cells of −3 mV/K are our −18 mV/K.
#[test]
fn charge_windows() {
    let rows = read("battery_parameters.csv");
    let of = |chemistry: &str, key: &str| parameter(&rows, chemistry, key);
    let window = |chemistry: Chemistry| chemistry.charge_window().expect("it has one");
    let absorption = |chemistry: Chemistry| window(chemistry).absorption.map(|one| one.get::<volt>());
    let float = |chemistry: Chemistry| window(chemistry).float.map(|one| one.get::<volt>());
    let holds = |[low, high]: [f64; 2], value: f64| assert!((low..=high).contains(&value), "{value} V");
    use Chemistry::{Agm, Flooded, Gel, LithiumIronPhosphate as Lithium};
    holds(absorption(Flooded), of("flooded", "absorption_12V")[0]);
    for sealed in [Agm, Gel] {
        holds(absorption(sealed), of("gel/AGM", "absorption_12V")[0]);
        close(window(sealed).least_per_hour.value, of("gel/AGM", "recommended_charge_current")[0], 1e-9);
    }
    for lead in [Flooded, Agm, Gel] {
        holds(absorption(lead), 6.0 * of("lead-acid", "absorption_typical")[0]);
        holds(absorption(lead), of("lead-acid", "absorption_12V")[0]);
        holds(float(lead), of("lead-acid", "float_12V")[0]);
        let cells = 6.0 * 1e-3 * of("lead-acid", "charge_temp_coefficient")[0];
        close(window(lead).per_kelvin.get::<volt>(), cells, 1e-9);
    }
    holds(float(Flooded), of("flooded", "float_12V")[0]);
    holds(float(Flooded), of("flooded", "float_12V_alt")[0]);
    holds(float(Gel), of("gel", "float_12V")[0]);
    holds(float(Agm), of("AGM", "float_12V")[0]);
    // A sheet of 14.7 V to 15.0 V and a float of 13.7 V to 13.9 V meets our windows at their ends.
    holds(absorption(Agm), of("sealed 40Ah", "cyclic_charge_12V")[0]);
    holds(float(Agm), of("sealed 40Ah", "float_12V")[0]);
    close(window(Flooded).equalise.expect("it has one").get::<volt>(), of("flooded", "equalise_12V")[0], 1e-9);
    assert!([Agm, Gel, Lithium].iter().all(|one| window(*one).equalise.is_none()));
    assert_eq!(absorption(Lithium).to_vec(), of("LFP", "absorption_12V"));
    assert_eq!(float(Lithium).to_vec(), of("LFP", "float_12V"));
    assert_eq!(window(Lithium).per_kelvin.get::<volt>(), 0.0);
}

/// Every row of the worked examples stands beside a check, by its name: none is copied and forgotten.
#[test]
fn every_worked_example_is_checked() {
    let checks =
        [include_str!("batteries.rs"), include_str!("battery_charging.rs"), include_str!("converter_examples.rs")];
    for row in read("worked_examples_batteries.csv") {
        let id = row.text("id");
        assert!(checks.iter().any(|text| text.contains(id)), "{id} is checked nowhere");
    }
}
