//! Free-air ampacity against DIN VDE 0298-4:2003 table 11 column 2: flexible single-core PVC or rubber, spaced at least
//! one diameter, 30 °C; confidence `two-sources` at 0.75 and 1 mm² and from 50 mm², else `seen` (a second page, of an
//! older edition, prints 3 to 13 % less between 1.5 and 35 mm²). Conductor limit 70 °C (PVC). Rows below 0.5 mm² are
//! left out: class 5 starts there.

use loomwright::conductor::{Kind, Material};
use loomwright_tests::{Compared, compare, conductor, free_air_ampacity, read};

/// Band −12.5 to +19 %: found −12.0 % (1 mm²) rising to +18.8 % (400 mm²). The table's own slope is flatter than that of
/// method G of IEC 60364-5-52 for the same 70 °C in 30 °C: at 400 mm² DIN prints 726 A and method G 852 A (17 % more),
/// so no single physics meets both; ours meets method G within ±8 %. Above 50 mm² we permit more than DIN does.
#[test]
fn flexible_single_core_in_free_air() {
    let rows: Vec<Compared> = read("din_vde_0298_4_single_core_free_air.csv")
        .iter()
        .filter(|row| row.number("csa_mm2") >= 0.5)
        .map(|row| {
            let size = format!("{} mm2", row.text("csa_mm2"));
            let made = conductor(Kind::Iec5, Material::Copper, &size);
            Compared { row: size, printed_a: row.number("a_vde0298_4"), ours_a: free_air_ampacity(&made, 70.0, 30.0) }
        })
        .collect();
    assert_eq!(rows.len(), 20);
    compare("din_vde_0298_4", &rows, (-12.5, 19.0));
}
