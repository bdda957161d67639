//! What must hold of every map of sizes: lines fall with length, larger sizes never bear less, and the map says of the circuit
//! that was asked what `size` says.

use loomwright::conductor::Kind;
use loomwright::heat::Installation;
use loomwright::quantity::uom::si::ratio::percent;
use loomwright::quantity::{Ratio, celsius};
use loomwright::study::cable::{CableQuery, DropLimit, Load, size, size_map};
use loomwright_tests::{amperes, metres, sampling_each, volts};
use proptest::prelude::*;
use proptest::sample::select;

/// A circuit as people have them: 1 to 300 A, 0.5 to 40 m, evenly over the decades.
fn circuit() -> impl Strategy<Value = CableQuery> {
    let electric = (0.0..2.5_f64, -0.3..1.6_f64, select(vec![12.0, 24.0, 48.0]), 0.5..12.0_f64);
    let kinds = select(vec![Kind::Iec5, Kind::Awg, Kind::Sae, Kind::Iso6722]);
    // The default is a table; where heat is solved along the way, a map takes several times as long.
    let lays = if cfg!(debug_assertions) { 1 } else { 2 };
    let lay = select([Installation::Enclosed, Installation::FreeAir].into_iter().take(lays).collect::<Vec<_>>());
    (electric, -20.0..60.0_f64, kinds, lay).prop_map(|((current, length, system, drop), ambient, kind, lay)| {
        CableQuery {
            drop: Some(DropLimit::Share(Ratio::new::<percent>(drop))),
            ambient: Some(celsius(ambient)),
            kind: Some(kind),
            installation: Some(lay),
            ..CableQuery::new(Load::Current(amperes(10_f64.powf(current))), metres(10_f64.powf(length)), volts(system))
        }
    })
}

/// Where a line lies at a length between two that were looked at: straight on double logarithmic paper, as it is drawn.
/// `None` where it does not reach.
fn line_at(lengths: &[f64], largest: &[f64], length: f64) -> Option<f64> {
    let after = lengths.iter().position(|one| *one >= length * (1.0 - 1e-9))?;
    let before = after.saturating_sub(1);
    let (near, far) = (largest[before], largest[after]);
    if near <= 0.0 || far <= 0.0 {
        return None;
    }
    if before == after {
        return Some(far);
    }
    let share = (length / lengths[before]).ln() / (lengths[after] / lengths[before]).ln();
    Some(near * (far / near).powf(share))
}

proptest! {
    // Each map is some ten thousand sizings.
    #![proptest_config(sampling_each(0x3a9, 10))]

    #[test]
    fn a_map_of_sizes_is_in_order_and_agrees_with_the_sizing(query in circuit()) {
        let (Ok(map), Ok(sized)) = (size_map(&query), size(&query)) else { return Ok(()) };
        prop_assert!(map.lengths_m.is_sorted_by(|near, far| near < far), "{:?}", map.lengths_m);
        for line in &map.sizes {
            prop_assert_eq!(line.largest_a.len(), map.lengths_m.len());
            prop_assert!(line.largest_a.iter().all(|one| one.is_finite() && (0.0..=2000.0).contains(one)));
            prop_assert!(line.largest_a.is_sorted_by(|near, far| near >= far), "{line:?}");
        }
        for pair in map.sizes.windows(2) {
            prop_assert!(pair[0].csa_mm2 < pair[1].csa_mm2);
            for (smaller, larger) in pair[0].largest_a.iter().zip(&pair[1].largest_a) {
                prop_assert!(larger >= smaller, "{:?} {:?}", pair[0], pair[1]);
            }
        }
        // The size of the sizing, and of the map itself: the least whose line lies above the point.
        let chosen = sized.chosen.as_ref().filter(|one| one.parallel == 1).map(|one| one.conductor.label());
        prop_assert_eq!(&map.size, &chosen);
        let above = |line: &loomwright::study::cable::SizeLineRecord, by: f64| {
            line_at(&map.lengths_m, &line.largest_a, map.length_m).is_some_and(|most| most >= by * map.current_a)
        };
        // Lines are known to 0.1 %, and straight between lengths that lie 8 % apart: 1 % beside a line either may be said.
        let surely = map.sizes.iter().find(|line| above(line, 1.01)).map(|line| &line.size);
        let perhaps = map.sizes.iter().find(|line| above(line, 0.99)).map(|line| &line.size);
        if surely == perhaps {
            prop_assert_eq!(surely, chosen.as_ref(), "{:?}", query);
        }
    }
}
