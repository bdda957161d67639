//! Readings beside their plan.

use super::{LAUNCH, VAN, in_row, one, plane, says_within};
use crate::support::{judged, text_of};
use crate::svg::{all, number, places, rows};
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{ReconcileRecord, reconcile};
use loomwright::text::read_readings;
use loomwright_draw::{joints, readings};
use roxmltree::{Document, Node};

fn explained(plan: &str, file: &str) -> (Judgement, ReconcileRecord) {
    let judgement = judged(&text_of(plan));
    let read = read_readings(&text_of(file), &judgement.installation);
    assert!(read.refused.is_empty(), "{:?}", read.refused);
    let found = reconcile(&judgement, &read.readings).expect("they can be explained");
    let record = found.record(&judgement);
    (judgement, record)
}

fn shipped_readings() -> [ReconcileRecord; 2] {
    [(VAN, "examples/readings/veterinary-van.csv"), (LAUNCH, "examples/readings/river-launch.toml")]
        .map(|(plan, file)| explained(plan, file).1)
}

/// Marker and whisker of a row: the place of the marker, and the ends of the whisker. A square tells what is off.
fn measured(document: &Document<'_>, row: f64, what: &str) -> (f64, [f64; 2], bool) {
    let middle = |node: Node<'_, '_>| places(node)[0].1;
    let whisker = all(document, "path", "mark");
    let ends = places(one(&in_row(&whisker, middle, row), what));
    let dots = in_row(&all(document, "circle", "f1"), |dot| number(dot, "cy"), row)
        .iter()
        .map(|dot| number(*dot, "cx"))
        .collect::<Vec<_>>();
    let squares = in_row(&all(document, "rect", "f2"), |mark| number(mark, "y") + number(mark, "height") / 2.0, row);
    let squares: Vec<f64> = squares.iter().map(|mark| number(*mark, "x") + number(*mark, "width") / 2.0).collect();
    let (marks, square) = if squares.is_empty() { (dots, false) } else { (squares, true) };
    let [mark] = marks.as_slice() else { panic!("{what}: {marks:?}") };
    (*mark, [ends[0].0, ends[1].0], square)
}

#[test]
fn pieces_stand_where_they_were_measured() {
    for record in shipped_readings() {
        let drawn = joints(&record).expect("there are pieces").svg();
        let document = Document::parse(&drawn).expect("it is XML");
        let (plane, rows) = (plane(&document), rows(&document));
        let day = record.days.iter().rev().find(|day| !day.segments.is_empty()).expect("a day");
        assert_eq!(rows.len(), day.segments.len());
        let bands = all(&document, "rect", "veil f3");
        for (piece, (name, row)) in day.segments.iter().zip(&rows) {
            assert_eq!(piece.name, *name);
            let (mark, ends, square) = measured(&document, *row, name);
            says_within(&plane, mark, piece.measured_mohm, name);
            // What may be nothing at all has its whisker from the border on.
            says_within(&plane, ends[0], (piece.measured_mohm - piece.within_mohm).max(1e-12), name);
            says_within(&plane, ends[1], piece.measured_mohm + piece.within_mohm, name);
            assert_eq!(square, matches!(piece.verdict, "remake" | "watch"), "{name}");
            let band = one(&in_row(&bands, |band| number(band, "y") + number(band, "height") / 2.0, *row), name);
            says_within(&plane, number(band, "x"), piece.planned_mohm[0].max(1e-12), name);
            if number(band, "width") > 2.1 {
                says_within(&plane, number(band, "x") + number(band, "width"), piece.planned_mohm[2], name);
            }
        }
    }
}

#[test]
fn readings_stand_as_far_off_as_they_are() {
    let (mut compared, mut squares) = (0, 0);
    for record in shipped_readings() {
        let drawn = readings(&record).expect("there are readings").svg();
        let document = Document::parse(&drawn).expect("it is XML");
        let (plane, rows) = (plane(&document), rows(&document));
        let all: Vec<_> =
            record.days.iter().flat_map(|day| &day.readings).filter(|one| one.numbers.is_some()).collect();
        let told: Vec<_> =
            all.into_iter().filter(|one| one.numbers.as_ref().expect("numbers").all().0[3] > 0.0).collect();
        assert_eq!(rows.len(), told.len());
        for (reading, (name, row)) in told.iter().zip(&rows) {
            assert!(name.starts_with(&format!("{}: {}", reading.line, reading.at)), "{name}");
            let [value, within, planned, tolerance, _, _] = reading.numbers.as_ref().expect("numbers").all().0;
            let (mark, ends, square) = measured(&document, *row, name);
            says_within(&plane, mark, (value - planned) / tolerance, name);
            says_within(&plane, ends[0], (value - within - planned) / tolerance, name);
            says_within(&plane, ends[1], (value + within - planned) / tolerance, name);
            assert_eq!(square, !reading.fits, "{name}");
            compared += 1;
            squares += usize::from(square);
        }
    }
    assert!(compared > 100 && squares > 1, "{compared} {squares}");
}
