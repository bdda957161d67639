//! Sizes over length and current.

use super::{one, plane, says};
use crate::svg::{NEAR, all, number, places, text};
use loomwright::quantity::in_mm2;
use loomwright::study::cable::{CableQuery, Load, size, size_map};
use loomwright_draw::sizes;
use loomwright_tests::{amperes, metres, volts};
use roxmltree::Document;

fn circuit(current: f64, length: f64) -> CableQuery {
    CableQuery::new(Load::Current(amperes(current)), metres(length), volts(12.0))
}

/// Metal of the choice, mm²; more than anything where no single conductor passes.
fn metal(current: f64, length: f64) -> f64 {
    let chosen = size(&circuit(current, length)).expect("it can be computed").chosen;
    chosen.filter(|one| one.parallel == 1).map_or(f64::INFINITY, |one| in_mm2(one.conductor.area))
}

#[test]
fn the_map_of_sizes_says_where_sizes_take_over() {
    let map = size_map(&circuit(40.0, 5.5)).expect("it can be computed");
    let drawn = sizes(&map).svg();
    let document = Document::parse(&drawn).expect("it is XML");
    let plane = plane(&document);
    let dot = one(&all(&document, "circle", "f2"), "the circuit asked for");
    says(plane.x(), number(dot, "cx"), 5.5, "length");
    says(plane.y(), number(dot, "cy"), 40.0, "current");
    let told = all(&document, "text", "strong halo").into_iter().find(|node| text(*node).contains(" A over "));
    assert_eq!(told.map(text), Some(format!("40 A over 5.5 m: {}", map.size.clone().expect("a size"))));

    // Every name stands on the line of its size, which is drawn before it; the chosen one's on the coloured line.
    let chosen = places(one(&all(&document, "path", "s1"), "the line of the choice"));
    let (mut compared, mut named) = (0, 0);
    for label in all(&document, "text", "halo") {
        let name = text(label);
        let Some(csa) = map.sizes.iter().find(|one| one.size == name).map(|one| one.csa_mm2) else { continue };
        named += 1;
        let (x, y) = (number(label, "x"), number(label, "y") - 3.5);
        let before = label.prev_sibling_element().expect("a line");
        let line = places(before.first_element_child().unwrap_or(before));
        assert!(line.iter().any(|(at, up)| (at - x).hypot(up - y) < NEAR), "{name} does not stand on its line");
        assert_eq!(line == chosen, Some(&name) == map.size.as_ref(), "{name}");
        // At three lengths, 1 % below the line this size or a smaller one is chosen, 1 % above a larger one: a pixel is worth
        // 0.9 % of a current here, and a place is off by a third of one at most.
        for at in [line.len() / 4, line.len() / 2, 3 * line.len() / 4] {
            let (length, current) = (plane.x().value(line[at].0), plane.y().value(line[at].1));
            let [below, above] = [0.99, 1.01].map(|by| metal(by * current, length));
            let told = format!("{name} at {length} m and {current} A: below {below} mm², above {above} mm²");
            assert!(below <= csa * (1.0 + 1e-9) && above > csa * (1.0 + 1e-9), "{told}");
            compared += 1;
        }
    }
    assert!(named >= 8 && compared == 3 * named, "{named} sizes have names");
}
