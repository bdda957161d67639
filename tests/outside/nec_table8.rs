//! NEC (NFPA 70, editions 2008 to 2023) chapter 9 table 8: d.c. resistance at 75 °C of gauges, read in a page that
//! reprints the whole table (confidence `seen`, 16 AWG stranded `two-sources`).

use loomwright::conductor::{Kind, Material, series};
use loomwright::quantity::{CrossSection, FromText, celsius, in_mm2, in_ohm_per_km};
use loomwright_tests::{Row, conductor, read, within};

/// Kilofeet in a kilometre: the foot is 0.3048 m exactly.
const KFT_PER_KM: f64 = 1.0 / 0.3048;
/// IEC 60028: annealed copper at 20 °C, Ω·mm²/km (1000/58).
const RESISTIVITY: f64 = 1000.0 / 58.0;
/// A strand is longer than its conductor by the lay; common practice 2 %, no source.
const LAY: f64 = 1.02;

fn rows() -> Vec<Row> {
    let rows = read("nec_ch9_table8_dc_resistance_75C.csv");
    assert_eq!(rows.len(), 22);
    rows
}

fn size(row: &Row) -> String {
    let name = row.text("size_awg_kcmil");
    if name == "250" { "250 kcmil".into() } else { format!("{name} AWG") }
}

fn area_mm2(row: &Row) -> f64 {
    match CrossSection::from_text(&size(row)).unwrap() {
        CrossSection::Awg(gauge) => in_mm2(gauge.awg_area()),
        CrossSection::Area(area) => in_mm2(area),
        CrossSection::Sae(_) => panic!("table 8 has no SAE gauges"),
    }
}

/// Transcription: our stranded conductors carried to the table's 75 °C give the printed numbers of all three columns.
#[test]
fn every_stranded_row_is_transcribed() {
    let stranded: Vec<Row> = rows().into_iter().filter(|row| row.number("strands") > 1.0).collect();
    let columns = [
        (Material::Copper, "cu_uncoated_ohm_per_kft"),
        (Material::TinnedCopper, "cu_coated_ohm_per_kft"),
        (Material::Aluminium, "al_ohm_per_kft"),
    ];
    for (material, column) in columns {
        for row in &stranded {
            let at_75 = conductor(Kind::Awg, material, &size(row)).resistance_at(celsius(75.0));
            assert!(within(in_ohm_per_km(at_75) / KFT_PER_KM, row.number(column), 1e-12), "{material} {row:?}");
        }
        assert_eq!(series(Kind::Awg, material).count(), stranded.len(), "{material}");
    }
}

/// Geometry: printed copper against resistivity over the gauge law's area, solid wires as they are, stranded ones
/// with 2 % lay, carried to 75 °C by our law. Tolerance 1 % (three printed digits leave up to 0.4 %; lay varies).
#[test]
fn printed_resistance_keeps_to_geometry() {
    let to_75 = Material::Copper.resistance_factor(celsius(75.0)).value;
    for row in rows() {
        let lay = if row.number("strands") > 1.0 { LAY } else { 1.0 };
        let geometry = RESISTIVITY / area_mm2(&row) * lay * to_75;
        assert!(within(geometry / KFT_PER_KM, row.number("cu_uncoated_ohm_per_kft"), 0.01), "{row:?}: {geometry}");
    }
}

/// The same for what the engine holds, at 20 °C: our copper by gauge against resistivity, our area and lay, 1 %.
#[test]
fn our_gauges_keep_to_geometry() {
    for made in series(Kind::Awg, Material::Copper) {
        let geometry = RESISTIVITY / in_mm2(made.area) * LAY;
        assert!(within(in_ohm_per_km(made.resistance_20), geometry, 0.01), "{:?}", made.size);
    }
}

/// The table's printed circular mils against the gauge law, 0.5 % (it prints three or four digits).
#[test]
fn printed_areas_keep_to_the_gauge_law() {
    for row in rows() {
        // One circular mil is π/4 × (25.4 µm)².
        let printed = row.number("cmil") * std::f64::consts::FRAC_PI_4 * 25.4e-3 * 25.4e-3;
        assert!(within(area_mm2(&row), printed, 0.005), "{row:?}: {}", area_mm2(&row));
    }
}
