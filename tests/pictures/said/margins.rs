//! Margins and temperatures.

use super::{CABIN, FAILING, LAUNCH, VAN, in_row, one, plane, says, says_within};
use crate::support::{judged, text_of};
use crate::svg::{NEAR, all, number, places, rows};
use loomwright::finding::Signal;
use loomwright::study::judge::CheckRecord;
use loomwright_draw::{margins, temperatures};
use roxmltree::Document;

#[test]
fn bars_end_at_their_margins_worst_first() {
    for file in [FAILING, VAN, CABIN] {
        let record = judged(&text_of(file)).record();
        let drawn = margins(&record, usize::MAX).svg();
        let document = Document::parse(&drawn).expect("it is XML");
        let (plane, rows) = (plane(&document), rows(&document));
        assert_eq!(rows.len(), record.checks.len(), "{file}");
        let bars: Vec<_> =
            all(&document, "rect", "").into_iter().filter(|node| node.attribute("height") == Some("8")).collect();
        assert_eq!(bars.len(), record.checks.len(), "{file}");
        // A cross is two strokes of six pixels; its middle is where it stands.
        let crosses: Vec<(f64, f64)> = all(&document, "path", "wire")
            .into_iter()
            .map(|node| (node.attribute("class"), places(node)))
            .filter(|(class, places)| *class == Some("wire") && places.len() == 4)
            .map(|(_, places)| ((places[0].0 + places[1].0) / 2.0, (places[0].1 + places[1].1) / 2.0))
            .collect();
        let one_at = plane.x().place(1.0);
        for (check, (name, row)) in record.checks.iter().zip(&rows) {
            assert_eq!(*name, format!("{}, {}", check.subject, check.rule), "{file}");
            let bar = one(&in_row(&bars, |bar| number(bar, "y") + 4.0, *row), name);
            let (left, right) = (number(bar, "x"), number(bar, "x") + number(bar, "width"));
            let failing = check.margin < 1.0 - 1e-9;
            let what = format!("{file}: {name}");
            let end = if failing { left } else { right };
            // A bar of hardly any length has 1.5 pixels, to be seen at all.
            if failing || right - left > 1.6 {
                says_within(&plane, end, check.margin, &what);
            } else {
                assert!((plane.x().place(check.margin) - one_at).abs() < 1.5 + NEAR, "{what}");
            }
            let start = if failing { right } else { left };
            assert!((start - one_at).abs() < if failing { 1.5 + NEAR } else { NEAR }, "{what} begins at {start}");
            let crossed = crosses.iter().filter(|cross| (cross.1 - row).abs() < 2.0).count();
            // Below 1 but not judged to fail: a caution has a ring instead.
            let fails = failing && check.signal.is_none_or(|signal| signal >= Signal::Warning);
            assert_eq!(crossed, usize::from(fails), "{what}");
            if fails {
                assert!(
                    crosses.iter().any(|cross| (cross.1 - row).abs() < 2.0 && (cross.0 - left).abs() < NEAR),
                    "{what}"
                );
            }
        }
        let told =
            |check: &&CheckRecord| check.margin < 1.0 - 1e-9 && check.signal.is_none_or(|one| one >= Signal::Warning);
        let failing = record.checks.iter().filter(told).count();
        assert_eq!(crosses.len(), failing, "{file}");
        assert!(failing > 20 || file != FAILING, "{failing}");
        // The worst first, of those within the scale as far as places tell.
        assert!(rows.is_sorted_by(|one, other| one.1 < other.1));
        assert!(record.checks.is_sorted_by(|one, other| one.margin <= other.margin), "{file}");
        // So many as are asked for.
        let few = margins(&record, 7).svg();
        assert_eq!(crate::svg::rows(&Document::parse(&few).expect("it is XML")).len(), 7.min(record.checks.len()));
    }
}

#[test]
fn dots_and_bars_of_temperatures_stand_at_their_degrees() {
    for file in [FAILING, LAUNCH, CABIN] {
        let record = judged(&text_of(file)).record();
        let drawn = temperatures(&record).svg();
        let document = Document::parse(&drawn).expect("it is XML");
        let (plane, rows) = (plane(&document), rows(&document));
        let known = record.runs.iter().filter(|run| run.conductor_temperature_c.is_some()).count();
        assert_eq!(rows.len(), known, "{file}");
        let (dots, limits) = (all(&document, "circle", "f1"), all(&document, "path", "s2"));
        let strokes = all(&document, "path", "wire thin");
        let mut left_over = f64::NEG_INFINITY;
        for (name, row) in &rows {
            let run = record.runs.iter().find(|run| *name == format!("{}, {}", run.name, run.size)).expect("a run");
            let hot = run.conductor_temperature_c.expect("it is known");
            let what = format!("{file}: {name}");
            let middle = |node| {
                let places = places(node);
                (places[0].1 + places[1].1) / 2.0
            };
            let dot = one(&in_row(&dots, |dot| number(dot, "cy"), *row), &what);
            says(plane.x(), number(dot, "cx"), hot, &what);
            let limit = one(&in_row(&limits, middle, *row), &what);
            says(plane.x(), places(limit)[0].0, run.limit_c, &what);
            let air = one(&in_row(&strokes, middle, *row), &what);
            says(plane.x(), places(air)[0].0, run.ambient_c, &what);
            // The nearest to its limit first.
            assert!(run.limit_c - hot >= left_over, "{what}");
            left_over = run.limit_c - hot;
        }
    }
}
