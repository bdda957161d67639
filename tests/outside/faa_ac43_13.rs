//! Bundles against FAA AC 43.13-1B CHG 1 (2001) table 11-9: tin-plated copper aircraft wire at 70 °C ambient, 33 or more
//! wires for 24 to 10 AWG and 9 for 8 AWG and larger, at most 20 % of the harness's capacity used, at 60 000 ft.
//!
//! Air at 60 000 ft is a fourteenth as dense, so their wires shed less than ours at sea level; against that, with a fifth
//! of the heat in use, most wires rest. So this is a comparison of orders, and its band says so.

use loomwright::conductor::{Conductor, Kind, Material};
use loomwright::heat::{HeatPath, Installation, Lay, Others};
use loomwright::quantity::uom::si::linear_power_density::watt_per_meter;
use loomwright::quantity::{LinearPowerDensity, celsius, ohm_per_km};
use loomwright_tests::{Compared, compare, conductor, read};

fn wire(gauge: &str, ohm_per_kft: f64) -> Conductor {
    let made = conductor(Kind::Awg, Material::TinnedCopper, &format!("{gauge} AWG"));
    Conductor { resistance_20: ohm_per_km(ohm_per_kft / 0.3048), ..made }
}

/// One wire at its limit, of which as many are fully loaded as make a fifth of the squares of all currents.
fn bundled(made: &Conductor, wires: f64, limit_c: f64) -> f64 {
    let loaded = (0.2 * wires).ceil().max(1.0);
    let resting = wires - loaded;
    let others = Others {
        heat: LinearPowerDensity::new::<watt_per_meter>(0.0),
        diameter: made.outer_diameter * resting.sqrt(),
        resting: made.outer_diameter * resting.sqrt(),
        largest: made.outer_diameter,
        loaded: 0,
    };
    let together = if loaded < 4.0 { 2 } else { 7 };
    let lay = Lay { together, others, ..Lay::alone(Installation::Bundle) };
    HeatPath::new(made, &lay, celsius(70.0)).unwrap().ampacity(celsius(limit_c)).unwrap().value
}

#[test]
fn bundles_are_of_the_order_of_the_table() {
    let mut rows = Vec::new();
    for row in read("faa_ac43_13_table11_9_copper_wire.csv") {
        let gauge = row.text("awg");
        if ["20", "22", "24"].contains(&gauge) {
            continue; // Thinner than the thinnest conductor of ours.
        }
        let small = gauge.parse::<u32>().is_ok_and(|number| number >= 10);
        let made = wire(gauge, row.number("r20_ohm_per_kft_max"));
        for (column, limit) in [("a_105C", 105.0), ("a_150C", 150.0), ("a_200C", 200.0)] {
            let ours_a = bundled(&made, if small { 33.0 } else { 9.0 }, limit);
            rows.push(Compared { row: format!("{gauge} AWG {limit} °C"), printed_a: row.number(column), ours_a });
        }
    }
    assert_eq!(rows.len(), 42);
    compare("faa_ac43_13", &rows, (5.0, 55.0));
}
