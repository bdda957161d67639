//! Fuses and conductors through time.

use super::{CABIN, VAN, plane, says};
use crate::support::{judged, text_of};
use crate::svg::{NEAR, Plane, all, level_at, number, places, text};
use loomwright::protection::{Band, Fuse};
use loomwright::quantity::{CrossSection, FromText, celsius};
use loomwright::study::curve::{CurveQuery, Wire};
use loomwright::study::judge::ThroughTimeRecord;
use loomwright_draw::{curves, through_time};
use loomwright_tests::amperes;
use roxmltree::{Document, Node};

/// Where a series' line goes up or down at a current: read by the axes.
fn read_at(plane: &Plane, line: &[(f64, f64)], current: f64) -> f64 {
    let x = plane.x().place(current);
    plane.y().value(level_at(line, x).unwrap_or_else(|| panic!("no line at {current} A")))
}

#[test]
fn curves_lie_where_bands_and_conductor_do() {
    let fuse: Fuse = "15 A blade-c".parse().expect("a fuse");
    let wire = Wire {
        insulation: Some(celsius(90.0)),
        load: Some(amperes(10.0)),
        ..Wire::new(CrossSection::from_text("2.5 mm2").expect("a size"))
    };
    // 25 °C, at which the makers' times are told.
    let query =
        CurveQuery { fuses: vec![fuse], ambient: Some(celsius(25.0)), wire: Some(wire), fault: Some(amperes(900.0)) };
    let record = query.record().expect("it can be computed");
    let drawn = curves(&record).svg();
    let document = Document::parse(&drawn).expect("it is XML");
    let plane = plane(&document);
    let inside = |node: &Node<'_, '_>| plane.holds(places(*node)[0]);
    let lines: Vec<Vec<(f64, f64)>> = all(&document, "path", "s1").into_iter().filter(inside).map(places).collect();
    let [fast, slow] = lines.as_slice() else { panic!("{} lines of the fuse", lines.len()) };
    let band = Band::of(&"15 A blade-c".parse().expect("a fuse")).expect("its times are at hand");
    // A decade of time takes some 57 pixels: a third of one is 1.2 % of a time. Upright edges are read above them.
    let alike = |read: f64, known: f64, what: &str| {
        assert!((read / known - 1.0).abs() < 0.02, "{what}: {read} s is drawn, {known} s known");
    };
    // ISO 8820-3: at 135 % of the rating no later than 600 s, at 200 % 5 s, at 350 % 0.5 s: gates, where the edge turns.
    let corner = slow.iter().find(|(_, y)| (plane.y().value(*y) / 600.0 - 1.0).abs() < 0.02).expect("the first gate");
    says(plane.x(), corner.0, 1.35 * 15.0, "the current of the first gate");
    says(plane.y(), corner.1, 600.0, "the time of the first gate");
    let gates: Vec<f64> = band.turns().map(|current| current.value).filter(|current| *current > 20.3).collect();
    assert!(gates.len() > 1, "{gates:?}");
    for current in gates.into_iter().chain([25.0, 37.0, 66.0, 120.0]) {
        let known = band.slowest(amperes(current)).expect("it opens").value;
        if known > 1.05e-3 && current < 850.0 {
            alike(read_at(&plane, slow, current), known, &format!("slow edge at {current} A"));
        }
    }
    for current in [40.0, 66.0, 120.0, 240.0] {
        let known = band.fastest(amperes(current)).expect("it opens").value;
        alike(read_at(&plane, fast, current), known, &format!("fast edge at {current} A"));
    }
    let bears: Vec<Vec<(f64, f64)>> = all(&document, "path", "s2").into_iter().filter(inside).map(places).collect();
    let [bears] = bears.as_slice() else { panic!("{} lines of the conductor", bears.len()) };
    let points = &record.conductor.as_ref().expect("a conductor").points;
    let known: Vec<(f64, f64)> = points.iter().filter_map(|point| Some((point.current_a, point.bears_s?))).collect();
    let mut compared = 0;
    for (current, time) in known.iter().skip(1).filter(|(_, time)| (1e-3..1e5).contains(time)) {
        alike(read_at(&plane, bears, *current), *time, &format!("conductor at {current} A"));
        compared += 1;
    }
    assert!(compared > 5, "{compared} currents compared");
    upright(&document, &plane, "fault 900 A", 900.0);
    upright(&document, &plane, "load 10 A", 10.0);
    let ampacity = record.conductor.as_ref().expect("a conductor").ampacity_a;
    upright(&document, &plane, "bears ", ampacity);
}

/// An upright line of that name stands at its current, and its name above it.
fn upright(document: &Document<'_>, plane: &Plane, name: &str, current: f64) {
    let named = all(document, "text", "halo").into_iter().find(|node| text(*node).starts_with(name));
    let label = named.unwrap_or_else(|| panic!("no line is called {name:?}"));
    let lines = all(document, "path", "limit").into_iter().chain(all(document, "path", "wire thin")).map(places);
    let at = plane.x().place(current);
    let line = lines.filter(|line| line[0].0 == line[1].0).find(|line| (line[0].0 - at).abs() <= NEAR);
    let line = line.unwrap_or_else(|| panic!("no line at {current} A for {name:?}"));
    assert!((line[1].1 - plane.bottom).abs() <= NEAR && line[0].1 <= plane.top, "{name}: {line:?}");
    let (start, y) = (number(label, "x"), number(label, "y"));
    // The name begins left of its line, or is held within the picture, and ends above where the line begins.
    assert!(start < at + 60.0 && y <= line[0].1, "{name}: text at {start} {y}, line at {at} from {}", line[0].1);
}

#[test]
fn runs_through_time_have_their_faults_and_edges_where_the_record_has_them() {
    let mut faults = 0;
    for file in [CABIN, VAN] {
        let judgement = judged(&text_of(file));
        let runs = 0..judgement.installation.runs.len();
        for found in runs.filter_map(|run| judgement.through_time(run)) {
            let drawn = through_time(&found).svg();
            let document = Document::parse(&drawn).expect("it is XML");
            let plane = plane(&document);
            for (name, at) in [("lowest fault", found.fault_lowest_a), ("highest fault", found.fault_highest_a)] {
                if let Some(at) = at {
                    upright(&document, &plane, name, at);
                    faults += 1;
                }
            }
            first_edge(&document, &plane, &found);
        }
    }
    assert!(faults > 20, "{faults}");
}

/// Every place of the first fuse's slow edge within the plane is a time of the record.
fn first_edge(document: &Document<'_>, plane: &Plane, found: &ThroughTimeRecord) {
    let Some(fuse) = found.fuses.iter().find(|fuse| !fuse.opens.is_empty()) else { return };
    let lines: Vec<_> =
        all(document, "path", "s1").into_iter().map(places).filter(|line| plane.holds(line[0])).collect();
    let slow = lines.last().expect("a line of the fuse");
    let (longest, shortest) = (plane.y().value(plane.top), plane.y().value(plane.bottom));
    let shown = fuse.opens.iter().filter_map(|point| Some((point.current_a, point.slowest_s?)));
    for (current, time) in shown.filter(|(_, time)| (shortest..longest).contains(time)) {
        let (x, y) = (plane.x().place(current), plane.y().place(time));
        let near = slow.iter().any(|place| (place.0 - x).abs() <= NEAR && (place.1 - y).abs() <= NEAR);
        assert!(near, "{}: {} at {current} A: {time} s", found.run, fuse.name);
    }
    // Nothing runs along the border as if it were a time.
    let along = slow.windows(2).find(|pair| pair[0].1 == pair[1].1 && pair[0].1 >= plane.bottom - NEAR);
    assert_eq!(along, None, "{}: {}", found.run, fuse.name);
}
