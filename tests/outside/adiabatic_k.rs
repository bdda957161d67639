//! k from first constants (IEC 60949) against the rounded k of IEC 60364-4-43 and -5-54, whose temperatures were read
//! and whose printed k are memory but for 115 and 76 (see the file's own notes).

use loomwright::conductor::{Kind, Material};
use loomwright::heat::withstand;
use loomwright::quantity::{celsius, in_mm2};
use loomwright_tests::{apart, conductor, read};

/// Within 1 A·√s/mm², the rounding of the print with that of its constants.
#[test]
fn k_from_constants_is_the_printed_one() {
    let (mut checked, mut published) = (0, 0);
    for row in read("adiabatic_k_factors.csv") {
        let material = match row.text("material") {
            "copper" => Material::Copper,
            "aluminium" => Material::Aluminium,
            _ => continue,
        };
        let made = conductor(Kind::Iec2, material, "50 mm2");
        let (start, end) = (celsius(row.number("t_initial_c")), celsius(row.number("t_final_c")));
        let found = withstand(&made, start, end).unwrap();
        let k = |value: f64| value.sqrt() / in_mm2(made.area);
        let printed = row.number("k_printed");
        assert!(apart(k(found.from_constants.value), printed) <= 1.0, "{row:?}: {}", k(found.from_constants.value));
        // The engine's own table holds the same print, or a more cautious neighbour where none fits better.
        let (held, _) = found.as_printed.expect("a printed k");
        assert!(k(held.value) <= printed + 1.0, "{row:?}: {}", k(held.value));
        // A conductor at its standard's largest resistance has less metal than its name, and stands less.
        assert!(found.least() <= found.from_constants && found.own_resistance < found.from_constants);
        checked += 1;
        published += usize::from(!row.is_memory());
    }
    assert!(checked >= 20 && published >= 2, "{checked} rows, {published} published");
}
