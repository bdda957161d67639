//! Natural convection against the `ht` library's Churchill–Chu with CoolProp's air: stored, and with feature `live` fresh.

use loomwright::conductor::{Conductor, Kind, Material};
use loomwright::heat::{HeatPath, Installation, Lay, Model, air};
use loomwright::quantity::uom::si::length::millimeter;
use loomwright::quantity::{Length, celsius};
use loomwright_tests::{Row, apart, conductor, read, within};

/// Heat shed by convection, W/m, by a bare cylinder at a surface temperature, as the engine's balance reports it.
///
/// Without insulation the conductor is the surface, so the current that holds the conductor there gives the state
/// that is wanted.
fn convection(diameter_mm: f64, ambient_c: f64, surface_c: f64) -> f64 {
    let diameter = Length::new::<millimeter>(diameter_mm);
    let bare = Conductor { diameter, outer_diameter: diameter, ..conductor(Kind::Iec5, Material::Copper, "6 mm2") };
    let path = HeatPath::new(&bare, &Lay::alone(Installation::FreeAir), celsius(ambient_c)).unwrap();
    let mut candidates = path.candidates(celsius(surface_c)).unwrap();
    let (_, current) = candidates.find(|(model, _)| *model == Model::HeatBalance).unwrap();
    let balance = path.balance_by(Model::HeatBalance, current).unwrap();
    assert!(apart(balance.surface.unwrap().value, celsius(surface_c).value) < 1e-6, "not at {surface_c} °C");
    balance.convection.value
}

/// 0.5 % on heat and on Nusselt number: the same correlation, with our fit of air and an ideal gas's expansion.
fn hold(rows: &[Row]) {
    assert_eq!(rows.len(), 120);
    for row in rows {
        let (ambient, surface) = (row.number("ambient_c"), row.number("surface_c"));
        let heat = convection(row.number("diameter_mm"), ambient, surface);
        assert!(within(heat, row.number("convection_w_per_m"), 0.005), "{row:?}: {heat} W/m");
        let conductivity = air(celsius(0.5 * (ambient + surface))).conductivity.value;
        let nusselt = heat / (std::f64::consts::PI * conductivity * (surface - ambient));
        assert!(within(nusselt, row.number("nusselt"), 0.005), "{row:?}: Nu {nusselt}");
    }
}

#[test]
fn convection_is_that_of_ht() {
    hold(&read("churchill_chu.csv"));
}

#[cfg(feature = "live")]
#[test]
fn convection_is_that_of_ht_now() {
    let columns = ["diameter_mm", "ambient_c", "surface_c", "nusselt", "convection_w_per_m"];
    hold(&loomwright_tests::live::fresh_as_stored("churchill_chu.py", "churchill_chu.csv", &columns));
}
