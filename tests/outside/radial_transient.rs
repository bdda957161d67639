//! Transient heating against scipy's BDF on the radial heat equation: stored, and with feature `live` fresh.

use loomwright::conductor::{Conductor, Kind, Material};
use loomwright::heat::{Installation, Lay, Pulse, Transient};
use loomwright::quantity::uom::si::{electric_current::ampere, length::millimeter, time::second};
use loomwright::quantity::{ElectricCurrent, Length, Time, celsius, in_celsius, mm2, ohm_per_km};
use loomwright_tests::{Row, compared, conductor, read};

fn made(row: &Row) -> Conductor {
    Conductor {
        area: mm2(row.number("csa_mm2")),
        resistance_20: ohm_per_km(row.number("r20_ohm_per_km")),
        diameter: Length::new::<millimeter>(row.number("strands_mm")),
        outer_diameter: Length::new::<millimeter>(row.number("outside_mm")),
        ..conductor(Kind::Iec5, Material::Copper, "6 mm2")
    }
}

/// Within 0.5 % of the time (or of the rise, where the adiabatic time decides), and never later: an overload that
/// is found too late is a fire.
fn hold(rows: &[Row]) {
    assert_eq!(rows.len(), 56);
    let (mut worst_late, mut worst_early, mut fast) = (0.0_f64, 0.0_f64, 0);
    for row in rows {
        let [ambient, start, limit] = ["ambient_c", "start_c", "limit_c"].map(|column| celsius(row.number(column)));
        let current = ElectricCurrent::new::<ampere>(row.number("current_a"));
        let expected = row.number("time_s");
        let transient = Transient::new(&made(row), &Lay::alone(Installation::FreeAir), ambient).unwrap();
        let time = transient.time_to(limit, current, start).unwrap().expect("it is reached").get::<second>();
        compared(time, expected);
        let error = time / expected - 1.0;
        assert!(error < 0.005, "{row:?}: {time} s is late by {:.2} %", 100.0 * error);
        // The shells alone, at the outside time.
        let pulse = [Pulse { duration: Time::new::<second>(expected), current }];
        let course = transient.course(&pulse, start).unwrap();
        let reached = in_celsius(course.last().unwrap().conductor);
        compared(reached, row.number("limit_c"));
        let miss = (reached - row.number("limit_c")) / (row.number("limit_c") - row.number("start_c"));
        assert!(miss.abs() < 0.005, "{row:?}: {reached} °C at {expected} s");
        if time >= 1.0 {
            assert!(error > -0.005, "{row:?}: {time} s is early by {:.2} %", -100.0 * error);
            worst_late = worst_late.max(error);
            worst_early = worst_early.min(error);
        } else {
            fast += 1;
        }
    }
    println!("latest {:+.3} %, earliest {:+.3} %, {fast} below a second", 100.0 * worst_late, 100.0 * worst_early);
    assert!(fast >= 10);
}

#[test]
fn heating_is_that_of_the_radial_equation() {
    hold(&read("radial_transient.csv"));
}

#[cfg(feature = "live")]
#[test]
fn heating_is_that_of_the_radial_equation_now() {
    hold(&loomwright_tests::live::fresh_as_stored(
        "radial_transient.py",
        "radial_transient.csv",
        &["current_a", "time_s"],
    ));
}
