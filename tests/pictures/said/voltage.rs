//! Voltage along a way.

use super::{CABIN, FAILING, VAN, plane, says};
use crate::support::{judged, text_of};
use crate::svg::{all, number, places};
use loomwright_draw::voltage;
use roxmltree::{Document, Node};

#[test]
fn markers_stand_as_high_as_the_volts_that_are_lost() {
    let mut compared = 0;
    for file in [CABIN, VAN, FAILING] {
        for path in judged(&text_of(file)).voltage_paths() {
            let drawn = voltage(&path).svg();
            let document = Document::parse(&drawn).expect("it is XML");
            let plane = plane(&document);
            let worst = path.cases.iter().max_by(|one, other| one.drop_v.total_cmp(&other.drop_v)).expect("a case");
            let source = worst.out_v[0];
            let left = worst.out_v[worst.out_v.len() - 1] - worst.back_v[0];
            let out = worst.out_v.iter().map(|volts| source - volts);
            let lost: Vec<f64> = out.chain(worst.back_v.iter().map(|volts| source - left - volts)).collect();
            // The first series is the worst case; what stands below the plane belongs to the key.
            let at = |node: &Node<'_, '_>| (number(*node, "cx"), number(*node, "cy"));
            let markers: Vec<(f64, f64)> =
                all(&document, "circle", "f1").iter().map(at).filter(|place| plane.holds(*place)).collect();
            let what = format!("{file}: {} in {}", path.consumer, worst.case);
            assert_eq!(markers.len(), lost.len(), "{what}");
            assert!(markers.is_sorted_by(|one, other| one.0 < other.0), "{what}");
            for ((_, y), lost) in markers.iter().zip(&lost) {
                says(plane.y(), *y, *lost, &what);
                compared += 1;
            }
            // What the way ends with is the drop that the rule speaks of.
            says(plane.y(), markers[markers.len() - 1].1, worst.drop_v, &what);
            assert_eq!(places(all(&document, "path", "s1")[0]), markers, "{what}");
            if let Some(limit) = path.limit_v {
                says(plane.y(), places(all(&document, "path", "limit")[0])[0].1, limit, &what);
            }
        }
    }
    assert!(compared > 200, "{compared}");
}
