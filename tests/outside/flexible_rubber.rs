//! Flexible rubber-insulated cables to BS 7919, d.c. voltage drop of a pair: brochure "Current ratings" (AEI Cables,
//! 17th edition of BS 7671; two stored copies of one document, confidence `seen`). Every row through `study::cable`.

use loomwright::conductor::{Kind, Material};
use loomwright::heat::Installation;
use loomwright::quantity::celsius;
use loomwright::study::cable::{CableQuery, Load};
use loomwright_tests::{amperes, chosen_as, metres, read, volts, within};

/// mV per ampere and metre of the pair with the conductor at `at_c`, from a sizing whose own working temperature is
/// taken out by the resistance law.
fn millivolts(csa: &str, current_a: f64, at_c: f64) -> f64 {
    let query = CableQuery {
        kind: Some(Kind::Iec5),
        material: Some(Material::TinnedCopper),
        installation: Some(Installation::FreeAir),
        ambient: Some(celsius(30.0)),
        insulation: Some(celsius(at_c)),
        terminal_temperature: Some(celsius(at_c)),
        // Two fifths of the rating, so that the drop chooses the size and not the ampacity.
        ..CableQuery::new(Load::Current(amperes(0.4 * current_a)), metres(10.0), volts(12.0))
    };
    let (sized, chosen) = chosen_as(query, &format!("{csa} mm2"));
    let point = chosen.operating.unwrap();
    let factor = |temperature| Material::TinnedCopper.resistance_factor(temperature).value;
    let per_ampere_metre = (point.conductor_drop / sized.circuit.current / sized.circuit.length).value;
    1e3 * per_ampere_metre * factor(celsius(at_c)) / factor(point.temperature)
}

/// Tolerance 3 %: the brochure prints two digits (up to 3 % on 0.15) and leans to plain copper at 35 mm², 90 °C.
#[test]
fn drop_per_ampere_and_metre() {
    let mut checked = 0;
    for row in read("flexible_rubber_cables_dc.csv") {
        for at_c in [60, 90] {
            let Some(printed) = row.maybe(&format!("mV_per_A_m_{at_c}C")) else { continue };
            let ours = millivolts(row.text("csa_mm2"), row.number(&format!("i_{at_c}C_a")), f64::from(at_c));
            assert!(within(ours, printed, 0.03), "{row:?} at {at_c} °C: {ours:.3}");
            checked += 1;
        }
    }
    assert_eq!(checked, 21);
}
