//! Ambient-temperature factors on ampacity: IEC 60364-5-52:2009 table B.52.14, DIN VDE 0298-4:2003 table 17, NEC
//! 2011–2014 310.15(B)(2), and a maker's table with base 45 °C; the page of each row and its confidence stand in the
//! file. Rows from memory are counted apart: they may agree with ours only because both were remembered.

use loomwright::conductor::{Kind, Material};
use loomwright::heat::{HeatPath, Installation, Lay};
use loomwright::quantity::celsius;
use loomwright_tests::{apart, conductor, read};

/// The enclosed installation's ampacity at an ambient over that at the table's base.
///
/// Tolerance 0.012: the factors are the square-root law printed with two decimals, some rounded twice.
#[test]
fn enclosed_ampacity_follows_the_printed_factors() {
    let made = conductor(Kind::Iec2, Material::Copper, "16 mm2");
    let (mut seen, mut remembered) = (0, 0);
    for row in read("ambient_factors.csv") {
        let at = |ambient_c: f64| {
            let path = HeatPath::new(&made, &Lay::alone(Installation::Enclosed), celsius(ambient_c)).unwrap();
            path.ampacity(celsius(row.number("insulation_c"))).unwrap()
        };
        let ours = (at(row.number("ambient_c")) / at(row.number("base_c"))).value;
        assert!(apart(ours, row.number("factor")) <= 0.012, "{row:?}: {ours:.4}");
        *if row.is_memory() { &mut remembered } else { &mut seen } += 1;
    }
    assert_eq!((seen, remembered), (109, 26));
}
