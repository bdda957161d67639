//! The heat balance against IEC 60364-5-52 methods A, B and C, as BS 7671:2008 table 4D1A reprints them: single-core
//! 70 °C PVC copper (IEC 60228 class 2), two loaded conductors, 30 °C air. Every error is stored.

use loomwright::conductor::{Kind, Material};
use loomwright::heat::{HeatPath, Installation, Lay, Model};
use loomwright::quantity::celsius;
use loomwright_tests::{Compared, compare, conductor, read};

/// What the heat balance alone permits: the table itself is one of the engine's candidates, and would answer.
fn balance(installation: Installation, size: &str) -> f64 {
    let made = conductor(Kind::Iec2, Material::Copper, size);
    let path = HeatPath::new(&made, &Lay::pair(installation), celsius(30.0)).unwrap();
    let mut candidates = path.candidates(celsius(70.0)).unwrap();
    candidates.find(|(model, _)| *model == Model::HeatBalance).unwrap().1.value
}

fn rows(installation: Installation, column: &str) -> Vec<Compared> {
    let table = read("bs7671_4D1A_single_core_pvc_70C.csv");
    let printed = table.iter().filter_map(|row| Some((row.text("csa_mm2").to_owned(), row.maybe(column)?)));
    let rows: Vec<Compared> = printed
        .map(|(size, printed_a)| {
            let ours_a = balance(installation, &format!("{size} mm2"));
            Compared { row: format!("{installation} {size} mm²"), printed_a, ours_a }
        })
        .collect();
    assert!(rows.len() >= 17, "{} rows", rows.len());
    rows
}

#[test]
fn plastic_conduit_is_method_b_within_15_per_cent() {
    compare("iec60364_method_b", &rows(Installation::ConduitPlastic, "B_2_dc"), (-15.0, 0.0));
}

/// Plain galvanised metal radiates little, which the table does not tell apart: ours is the cautious one.
#[test]
fn metal_and_split_conduit_lie_below_method_b() {
    compare("iec60364_method_b_metal", &rows(Installation::ConduitMetal, "B_2_dc"), (-29.0, 0.0));
    compare("iec60364_method_b_split", &rows(Installation::ConduitSplit, "B_2_dc"), (-17.0, 0.0));
}

#[test]
fn against_insulation_is_method_a_within_8_per_cent() {
    compare("iec60364_method_a", &rows(Installation::Insulated, "A_2"), (-5.0, 8.0));
}

#[test]
fn on_a_surface_lies_below_method_c() {
    compare("iec60364_method_c", &rows(Installation::Surface, "C_2_dc"), (-20.0, 0.0));
}

/// Where the balance is above a table, the table decides; so nothing the engine permits is above one.
#[test]
fn no_answer_exceeds_its_table() {
    let columns = [
        (Installation::Insulated, "A_2"),
        (Installation::ConduitPlastic, "B_2_dc"),
        (Installation::ConduitMetal, "B_2_dc"),
        (Installation::ConduitSplit, "B_2_dc"),
        (Installation::Enclosed, "B_2_dc"),
        (Installation::Surface, "C_2_dc"),
    ];
    for (installation, column) in columns {
        for row in read("bs7671_4D1A_single_core_pvc_70C.csv") {
            let Some(printed) = row.maybe(column) else { continue };
            let made = conductor(Kind::Iec2, Material::Copper, &format!("{} mm2", row.text("csa_mm2")));
            let path = HeatPath::new(&made, &Lay::pair(installation), celsius(30.0)).unwrap();
            let ours = path.ampacity(celsius(70.0)).unwrap().value;
            assert!(ours <= printed * (1.0 + 1e-9), "{installation} {row:?}: {ours} A");
        }
    }
}
