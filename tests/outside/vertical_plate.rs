//! What a converter's case sheds against the `ht` library with CoolProp's air: stored, and with feature `live` fresh.

use loomwright::converter::surface_heat;
use loomwright::quantity::uom::si::temperature_interval::kelvin;
use loomwright::quantity::{TemperatureInterval, celsius};
use loomwright_tests::{Row, read, within};

/// 0.5 % on convection (our fit of air, an ideal gas's expansion), a hundred-thousandth on radiation (the constant before the SI of 2019).
fn hold(rows: &[Row]) {
    assert_eq!(rows.len(), 24);
    for row in rows {
        let rise = TemperatureInterval::new::<kelvin>(row.number("rise_k"));
        let shed = surface_heat(celsius(row.number("ambient_c")), rise).unwrap();
        assert!(within(shed.convection.value, row.number("convection_w_per_m2"), 0.005), "{row:?}: {shed:?}");
        assert!(within(shed.radiation.value, row.number("radiation_w_per_m2"), 1e-5), "{row:?}: {shed:?}");
    }
}

#[test]
fn an_upright_plate_sheds_as_in_ht() {
    hold(&read("vertical_plate.csv"));
}

#[cfg(feature = "live")]
#[test]
fn an_upright_plate_sheds_as_in_ht_now() {
    let columns = ["convection_w_per_m2", "radiation_w_per_m2"];
    hold(&loomwright_tests::live::fresh_as_stored("vertical_plate.py", "vertical_plate.csv", &columns));
}
