//! Properties of air against CoolProp, −40 to 200 °C: stored values, and with feature `live` fresh ones.

use loomwright::heat::air;
use loomwright::quantity::celsius;
use loomwright_tests::{Row, read, within};

/// 0.5 % on each property: what the free-air ampacity, which goes with about the root, could not feel.
fn hold(rows: &[Row]) {
    assert_eq!(rows.len(), 25);
    for row in rows {
        let ours = air(celsius(row.number("t_c")));
        for (value, column) in [
            (ours.conductivity.value, "conductivity_w_per_m_k"),
            (ours.viscosity.value, "kinematic_viscosity_m2_per_s"),
            (ours.prandtl.value, "prandtl"),
        ] {
            assert!(within(value, row.number(column), 0.005), "{column} {row:?}: {value:e}");
            // The engine claims 0.1 % in its documentation.
            assert!(within(value, row.number(column), 0.001), "documented 0.1 %: {column} {row:?}: {value:e}");
        }
    }
}

#[test]
fn air_is_that_of_coolprop() {
    hold(&read("coolprop_air.csv"));
}

#[cfg(feature = "live")]
#[test]
fn air_is_that_of_coolprop_now() {
    let columns = ["t_c", "conductivity_w_per_m_k", "kinematic_viscosity_m2_per_s", "prandtl"];
    hold(&loomwright_tests::live::fresh_as_stored("coolprop_air.py", "coolprop_air.csv", &columns));
}
