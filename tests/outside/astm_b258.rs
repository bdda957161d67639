//! ASTM B258, American wire gauge, 4/0 to 40: the law and the printed tables of NBS Circular 31 (1914/1956, found in
//! two pages that agree) and the rounded diameters of ASTM B258. The Handbook 100 column is from memory: not used.

use loomwright::conductor::Material;
use loomwright::quantity::uom::si::electrical_resistivity::ohm_meter;
use loomwright::quantity::{Gauge, in_mm2};
use loomwright_tests::{Row, apart, read, within};

fn rows() -> Vec<Row> {
    let rows = read("awg_solid_copper_20C.csv");
    assert_eq!(rows.len(), 44);
    rows
}

fn area_mm2(row: &Row) -> f64 {
    let gauge = Gauge::new(row.text("n").parse().unwrap()).unwrap();
    in_mm2(gauge.awg_area())
}

fn diameter_mm(row: &Row) -> f64 {
    (4.0 * area_mm2(row) / std::f64::consts::PI).sqrt()
}

/// Ω/kft of the solid wire at 20 °C, from our area and our resistivity.
fn ohm_per_kft(row: &Row) -> f64 {
    Material::Copper.data().resistivity.get::<ohm_meter>() * 1e6 / area_mm2(row) * 304.8
}

/// The law d = 0.127 mm × 92^((36 − n)/39). Tolerance 0.1 %: the file's columns have four digits or more, its
/// smallest areas three.
#[test]
fn area_and_diameter_follow_the_law() {
    for row in rows() {
        assert!(within(diameter_mm(&row), row.number("calc_diameter_mm"), 1e-3), "{row:?}");
        assert!(within(area_mm2(&row), row.number("calc_area_mm2"), 1.5e-3), "{row:?}");
        assert!(within(ohm_per_kft(&row), row.number("calc_ohm_per_kft"), 1e-3), "{row:?}");
    }
}

/// NBS Circular 31, printed Ω per 1000 ft at 20 °C, all gauges. Tolerance 1 % was asked; the print keeps 0.1 %
/// (its two-digit rows: 4/0 prints 0.049, so half of the last digit is allowed besides).
#[test]
fn solid_wire_matches_circular_31() {
    for row in rows() {
        let printed = row.number("tab_ohm_per_kft_c31");
        let ours = ohm_per_kft(&row);
        assert!(within(ours, printed, 0.001), "{row:?}: {ours:.5}");
    }
}

/// ASTM B258 diameters, printed in ten-thousandths of an inch: within half of the last digit and 0.05 %.
#[test]
fn diameters_match_the_printed_ones() {
    for row in rows() {
        let printed = row.number("b258_diam_in");
        let ours = diameter_mm(&row) / 25.4;
        assert!(apart(ours, printed) <= 0.5e-4 + 5e-4 * printed, "{row:?}: {ours:.5}");
    }
}
