//! Worked examples that others published, each with its id in `tests/reference/worked_examples_*.csv`, where source,
//! edition, inputs and confidence stand. All are `seen` or `two-sources`; W13's factors are named below.
//!
//! Left out because that physics is not built: discrimination, contact voltages, photovoltaic strings, converters' fault
//! currents; the motor winding (its α of 4.3e-3 is a 0 °C value used at 20 °C); fuse characteristics of other families.
//! The layers and duct walls of a 132 kV cable are no cable of ours: their formulas stand in `iec60287_parts.rs`.

use loomwright::conductor::{Kind, Material};
use loomwright::heat::{HeatPath, Installation, Lay, withstand};
use loomwright::practice::{Practice, TableCap, table_cap};
use loomwright::protection::{Family, OVERLOAD_FACTOR, law_allows, protection_margins};
use loomwright::quantity::uom::si::area::square_meter;
use loomwright::quantity::uom::si::electrical_resistance::ohm;
use loomwright::quantity::uom::si::ratio::ratio;
use loomwright::quantity::{
    CrossSection, ElectricalResistance, FromText, Gauge, Length, LineResistance, Ratio, celsius, in_ohm_per_km,
};
use loomwright::study::cable::{CableQuery, Candidate, DropLimit, Joints, Load, ReturnPath, size};
use loomwright_tests::{amperes, apart, chosen_as, conductor, metres, read, volts};

/// One example: its id, the published result, how far ours may be from it, and ours.
struct Example {
    id: &'static str,
    printed: f64,
    tolerance: f64,
    ours: fn() -> f64,
}

/// Asserts every example of a topic, and that its published result is the one in the file.
fn hold(examples: &[Example]) {
    let conductors = read("worked_examples_conductors.csv");
    let protection = read("worked_examples_protection.csv");
    let mut missed = Vec::new();
    for Example { id, printed, tolerance, ours } in examples {
        let row = conductors.iter().chain(&protection).find(|row| row.text("id") == *id).unwrap();
        let expected = row.text("expected");
        let numbers = expected.split(|letter: char| !letter.is_ascii_digit() && letter != '.');
        let published = numbers.filter_map(|number| number.parse::<f64>().ok()).any(|number| number == *printed);
        assert!(published, "{id} has no {printed} in {expected:?}");
        let found = ours();
        if apart(found, *printed) > *tolerance {
            missed.push(format!("printed {printed} ± {tolerance}, ours {found}: {row:?}"));
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

/// Every topic with the number of examples in it.
const TOPICS: [&[Example]; 5] = [&RESISTANCE, &DROP, &SIZE, &AMPACITY, &FUSE];

#[test]
fn there_are_at_least_thirty() {
    assert!(TOPICS.iter().map(|topic| topic.len()).sum::<usize>() >= 30);
}

#[test]
fn resistance() {
    hold(&RESISTANCE);
}

#[test]
fn drop() {
    hold(&DROP);
}

#[test]
fn sizes() {
    hold(&SIZE);
}

#[test]
fn ampacity() {
    hold(&AMPACITY);
}

#[test]
fn fuse() {
    hold(&FUSE);
}

/// Tolerances are those of the file: half of the last printed digit.
const RESISTANCE: [Example; 3] = [
    // The page's own 1.68e-8 Ω·m over our 12 AWG (d = 2.053 mm).
    Example {
        id: "r_12gauge_20m",
        printed: 0.1016,
        tolerance: 0.0002,
        ours: || 1.68e-8 * 20.0 / Gauge::new(12).unwrap().awg_area().get::<square_meter>(),
    },
    Example {
        id: "r_25mm2_70C",
        printed: 0.87,
        tolerance: 0.0006,
        ours: || in_ohm_per_km(conductor(Kind::Iec2, Material::Copper, "25 mm2").resistance_at(celsius(70.0))),
    },
    Example {
        id: "r_coil_60C",
        printed: 2.3144,
        tolerance: 0.0001,
        ours: || 2.0 * Material::Copper.resistance_factor(celsius(60.0)).value,
    },
];

/// V = r·L·I with the FAA's own resistance, through our text and units: a check of feet, ohms and kilofeet.
fn faa(ohm_per_kft: &str, feet: &str) -> f64 {
    let line = LineResistance::from_text(&format!("{ohm_per_kft} ohm/kft")).unwrap();
    (line * Length::from_text(&format!("{feet} ft")).unwrap() * amperes(20.0)).value
}

/// A circuit whose return costs nothing, so that one leg is left.
fn single_leg(current_a: f64, length_m: f64, system_v: f64) -> CableQuery {
    let nothing = ReturnPath::Chassis(Some(ElectricalResistance::default()));
    let query = CableQuery::new(Load::Current(amperes(current_a)), metres(length_m), volts(system_v));
    CableQuery { return_path: Some(nothing), installation: Some(Installation::FreeAir), ..query }
}

/// Conductor drop of the chosen size, its own heating taken out, as at a conductor temperature.
fn conductor_drop_at(chosen: &Candidate, degrees: f64) -> f64 {
    let factor = |temperature| chosen.conductor.material.resistance_factor(temperature).value;
    let point = chosen.operating.unwrap();
    point.conductor_drop.value * factor(celsius(degrees)) / factor(point.temperature)
}

/// A trailer supplier's single core of road-vehicle cable at 20 °C, through `size`.
fn towbar(current_a: f64, wanted: &str) -> f64 {
    let query = CableQuery {
        kind: Some(Kind::Iso6722),
        ambient: Some(celsius(20.0)),
        terminal_temperature: Some(celsius(100.0)),
        ..single_leg(current_a, 5.0, 12.0)
    };
    conductor_drop_at(&chosen_as(query, wanted).1, 20.0)
}

/// mV per ampere and metre of a pair of tinned class 5 conductors at 60 °C, through `size`.
fn flexible(current_a: f64, wanted: &str) -> f64 {
    let query = CableQuery {
        material: Some(Material::TinnedCopper),
        installation: Some(Installation::FreeAir),
        ..CableQuery::new(Load::Current(amperes(current_a)), metres(10.0), volts(12.0))
    };
    conductor_drop_at(&chosen_as(query, wanted).1, 60.0) * 1e3 / current_a / 10.0
}

/// A bad joint of so many ohms in a cranking circuit, put where `size` takes a measured resistance: the return path.
fn added_resistance(ohms: f64, current_a: f64) -> f64 {
    let bad = ReturnPath::Chassis(Some(ElectricalResistance::new::<ohm>(ohms)));
    let drop = Some(DropLimit::Absolute(volts(4.0)));
    let query = CableQuery { return_path: Some(bad), drop, ..single_leg(current_a, 1.0, 12.0) };
    size(&query).unwrap().chosen.unwrap().operating.unwrap().chassis_drop.value
}

/// FAA AC 43.13-1B CHG 1 (2001) tables 11-7 and 11-8: tolerances of the file. Table 11-8's row of 19.5 ft is left out:
/// it prints 0.366 V where its own inputs give 0.491 V.
const DROP: [Example; 11] = [
    Example { id: "vd_faa_11_7a", printed: 0.942, tolerance: 0.001, ours: || faa("0.44", "107") },
    Example { id: "vd_faa_11_7b", printed: 0.504, tolerance: 0.0005, ours: || faa("0.28", "90") },
    Example { id: "vd_faa_11_7d", printed: 6.12, tolerance: 0.005, ours: || faa("3.06", "100") },
    Example { id: "vd_faa_11_8a", printed: 0.98, tolerance: 0.005, ours: || faa("1.26", "39") },
    Example { id: "vd_faa_11_8c", printed: 3.93, tolerance: 0.005, ours: || faa("1.26", "156") },
    Example { id: "vd_faa_11_8d", printed: 6.88, tolerance: 0.005, ours: || faa("1.26", "273") },
    // The supplier's r has two digits (0.0094, 0.0075 Ω/m: up to 0.7 %) where ours is ISO 6722's maximum (MEMORY, 9.42 and
    // 7.6 mΩ/m): 0.5 % and 1.5 %.
    Example { id: "vd_towbar_28_030", printed: 0.823, tolerance: 0.005 * 0.823, ours: || towbar(17.5, "2 mm2") },
    Example { id: "vd_towbar_35_030", printed: 0.816, tolerance: 0.015 * 0.816, ours: || towbar(21.75, "2.5 mm2") },
    Example { id: "mv_flex_35_60C", printed: 1.31, tolerance: 0.01, ours: || flexible(60.0, "35 mm2") },
    Example { id: "mv_flex_70_60C", printed: 0.64, tolerance: 0.006, ours: || flexible(120.0, "70 mm2") },
    Example { id: "W12", printed: 2.0, tolerance: 1e-9, ours: || added_resistance(0.01, 200.0) },
];

/// The gauge that `size` chooses for a permitted drop of the conductors alone: the fuse, which the examples leave out
/// and we do not, gets its own drop of at most 80 mV (80 % of 100 mV at rating) on top.
fn gauge(kind: Kind, material: Material, current_a: f64, feet_one_way: f64, system_v: f64, limit_v: f64) -> f64 {
    let length = metres(feet_one_way * 0.3048);
    let query = CableQuery {
        kind: Some(kind),
        material: Some(material),
        installation: Some(Installation::FreeAir),
        ambient: Some(celsius(20.0)),
        joints: Some(Joints { lugs: Some(0), screw_cages: 0, isolators: 0 }),
        drop: Some(DropLimit::Absolute(volts(limit_v + 0.08))),
        ..CableQuery::new(Load::Current(amperes(current_a)), length, volts(system_v))
    };
    match size(&query).unwrap().chosen.unwrap().conductor.size {
        CrossSection::Awg(gauge) | CrossSection::Sae(gauge) => f64::from(gauge.number()),
        CrossSection::Area(_) => panic!("no gauge"),
    }
}

/// Exact: a gauge is a number. The marine page says itself that SAE 12 is too small where AWG 12 does.
const SIZE: [Example; 2] = [
    Example {
        id: "size_faa_ex1",
        printed: 8.0,
        tolerance: 0.0,
        ours: || gauge(Kind::Awg, Material::TinnedCopper, 20.0, 25.0, 28.0, 1.0),
    },
    Example {
        id: "size_boat_3pct",
        printed: 12.0,
        tolerance: 0.0,
        ours: || gauge(Kind::Awg, Material::Copper, 10.0, 10.5, 12.0, 0.36),
    },
];

/// The note of `size_boat_3pct`: with SAE gauges the same circuit needs SAE 10.
#[test]
fn sae_gauges_need_one_size_more() {
    assert_eq!(gauge(Kind::Sae, Material::Copper, 10.0, 10.5, 12.0, 0.36), 10.0);
}

/// A table's value carried to another ambient as our enclosed installation does it, PVC 70 °C.
fn carried(at_30_a: f64, ambient_c: f64) -> f64 {
    let made = conductor(Kind::Iec2, Material::Copper, "16 mm2");
    let at = |ambient_c| {
        let path = HeatPath::new(&made, &Lay::alone(Installation::Enclosed), celsius(ambient_c)).unwrap();
        path.ampacity(celsius(70.0)).unwrap()
    };
    at_30_a * (at(ambient_c) / at(30.0)).value
}

/// Boat cable in an engine space at 50 °C, capped by the table of US law, through `size`.
fn engine_space(current_a: f64, wanted: &str) -> f64 {
    let query = boat(current_a, 50.0, 24.0);
    match chosen_as(query, wanted).1.table {
        TableCap::Capped(cap) => cap.ampacity.value,
        other => panic!("{other:?}"),
    }
}

const US: Practice = Practice::UsSmallCraft;
const NA: Practice = Practice::NaRecreationalVehicle;

/// What a practice's table leaves a conductor among so many loaded ones, in a bundle.
fn capped(practice: Practice, size: &str, loaded: u16, insulation_c: f64, ambient_c: f64) -> f64 {
    let made = conductor(Kind::Awg, Material::Copper, size);
    let lay = Lay { together: loaded, ..Lay::alone(Installation::Bundle) };
    match table_cap(practice, &made, &lay, celsius(insulation_c), celsius(ambient_c)) {
        TableCap::Capped(cap) => cap.ampacity.value,
        other => panic!("{other:?}"),
    }
}

/// The current in kiloamperes that a conductor stands for so long, by k from first constants.
fn stands(size: &str, material: Material, start_c: f64, end_c: f64, seconds: f64) -> f64 {
    let made = conductor(Kind::Iec2, material, size);
    (withstand(&made, celsius(start_c), celsius(end_c)).unwrap().from_constants.value / seconds).sqrt() / 1e3
}

fn boat(current_a: f64, ambient_c: f64, system_v: f64) -> CableQuery {
    CableQuery {
        kind: Some(Kind::Awg),
        practice: Some(Practice::UsSmallCraft),
        installation: Some(Installation::FreeAir),
        ambient: Some(celsius(ambient_c)),
        insulation: Some(celsius(105.0)),
        terminal_temperature: Some(celsius(105.0)),
        ..CableQuery::new(Load::Current(amperes(current_a)), metres(10.0), volts(system_v))
    }
}

/// Tolerances of the file; the boat rows 0.8 %, since the law prints 0.85 where the square-root law gives 0.856, and the
/// textbook 0.5 %, since its factor 0.94 has two digits.
const AMPACITY: [Example; 14] = [
    Example { id: "amp_b2_4_45C", printed: 21.0, tolerance: 0.6, ours: || carried(27.0, 45.0) },
    Example { id: "amp_b2_35_40C", printed: 86.0, tolerance: 0.6, ours: || carried(99.0, 40.0) },
    Example { id: "amp_b2_70_55C", printed: 91.0, tolerance: 0.8, ours: || carried(149.0, 55.0) },
    Example { id: "amp_nym_25C", printed: 17.5, tolerance: 0.05, ours: || carried(16.5, 25.0) },
    Example { id: "it_32A_35C", printed: 34.04, tolerance: 0.005 * 34.04, ours: || 32.0 / carried(1.0, 35.0) },
    Example { id: "amp_nec_12_4cond", printed: 24.0, tolerance: 1e-9, ours: || capped(NA, "12 AWG", 4, 90.0, 30.0) },
    Example { id: "amp_boat_8_engine", printed: 68.0, tolerance: 1e-9, ours: || engine_space(25.0, "8 AWG") },
    Example { id: "amp_boat_2_engine", printed: 178.5, tolerance: 0.05, ours: || engine_space(80.0, "2 AWG") },
    Example {
        id: "amp_boat_4_0_bundle",
        printed: 189.1,
        tolerance: 0.1,
        ours: || capped(US, "4/0 AWG", 7, 105.0, 50.0),
    },
    Example {
        id: "sc_pvc_16_1s",
        printed: 1.84,
        tolerance: 0.006,
        ours: || stands("16 mm2", Material::Copper, 70.0, 160.0, 1.0),
    },
    Example {
        id: "sc_pvc_240_1s",
        printed: 27.6,
        tolerance: 0.06,
        ours: || stands("240 mm2", Material::Copper, 70.0, 160.0, 1.0),
    },
    Example {
        id: "sc_al_pvc_120_1s",
        printed: 9.12,
        tolerance: 0.03,
        ours: || stands("120 mm2", Material::Aluminium, 70.0, 160.0, 1.0),
    },
    Example {
        id: "sc_al_xlpe_240_0p5s",
        printed: 32.1,
        tolerance: 0.1,
        ours: || stands("240 mm2", Material::Aluminium, 90.0, 250.0, 0.5),
    },
    Example {
        id: "sc_al_xlpe_50_0p1s",
        printed: 14.9,
        tolerance: 0.06,
        ours: || stands("50 mm2", Material::Aluminium, 90.0, 250.0, 0.1),
    },
];

fn rerated(family: &str, rating_a: f64, ambient_c: f64) -> f64 {
    let fuse = Family::named(family).unwrap().fuse(amperes(rating_a)).unwrap();
    (fuse.rating * fuse.family.rerating(celsius(ambient_c)).unwrap()).value
}

/// The least ampacity that a gG fuse protects: where both margins of IEC 60364-4-43, 433.1, reach 1.
fn least_ampacity(rating_a: f64) -> f64 {
    let fuse = Family::named("gg").unwrap().fuse(amperes(rating_a)).unwrap();
    let (rating, overload) = protection_margins(&fuse, amperes(rating_a));
    rating_a / rating.value.min(overload.unwrap().value)
}

/// The largest fuse that the law allows at 150 % of the table's 60 A, as the notice of a sizing says it.
fn law_in_a_notice() -> f64 {
    let (sized, chosen) = chosen_as(boat(20.0, 30.0, 12.0), "10 AWG");
    let TableCap::Capped(cap) = chosen.table else { panic!("no table") };
    assert_eq!(cap.ampacity.value, 60.0);
    let notices: Vec<_> =
        sized.findings().into_iter().filter(|found| found.message.contains("law would allow")).collect();
    let words: Vec<&str> = notices[0].message.split(' ').collect();
    let at = words.iter().position(|word| *word == "A").unwrap();
    // The physical rule decides all the same: the fuse stays within what the conductor bears.
    assert!(chosen.fuse.unwrap().rating <= chosen.ampacity);
    words[at - 1].parse().unwrap()
}

/// The breaker for a 400 A charger at 125 %: our 80 % of rating, through `size` on 48 V, where only fuses of 125 V do.
fn charger_fuse() -> f64 {
    let query = CableQuery {
        installation: Some(Installation::FreeAir),
        ambient: Some(celsius(25.0)),
        insulation: Some(celsius(90.0)),
        terminal_temperature: Some(celsius(90.0)),
        ..CableQuery::new(Load::Current(amperes(400.0)), metres(3.0), volts(48.0))
    };
    let chosen = size(&query).unwrap().chosen.unwrap();
    assert!(chosen.ampacity >= amperes(500.0), "the cable's design current is 500 A too");
    chosen.fuse.unwrap().rating.value
}

/// W13: I2 of gG over rating is 1.9 above 4 A and below 16 A (MEMORY of IEC 60269-1, and an upper limit on a page that
/// was read), and 1.6 from 16 A (`two-sources`); the rule k3 rounds 1.9/1.45 to 1.31 and 1.6/1.45 to 1.10, hence 0.5 %.
/// W10, W20, W21 and W23 are exact.
const FUSE: [Example; 7] = [
    Example { id: "W13", printed: 13.1, tolerance: 0.005 * 13.1, ours: || least_ampacity(10.0) },
    Example { id: "W13", printed: 69.3, tolerance: 0.005 * 69.3, ours: || least_ampacity(63.0) },
    Example { id: "W20", printed: 144.0, tolerance: 1e-9, ours: || rerated("gg", 160.0, 60.0) },
    Example { id: "W23", printed: 30.0, tolerance: 1e-9, ours: || rerated("blade-e", 40.0, 85.0) },
    Example {
        id: "W21",
        printed: 90.0,
        tolerance: 1e-9,
        ours: || law_allows(amperes(60.0), Practice::UsSmallCraft.overcurrent_permitted().unwrap().value).value,
    },
    Example { id: "W21", printed: 90.0, tolerance: 1e-9, ours: law_in_a_notice },
    Example { id: "W10", printed: 500.0, tolerance: 0.0, ours: charger_fuse },
];

/// The overload rule itself, IEC 60364-4-43, 433.1.
#[test]
fn overload_factor_is_the_standards() {
    assert_eq!(Ratio::new::<ratio>(OVERLOAD_FACTOR).value, 1.45);
}
