//! What charts say: values read from places by the axes' own ticks, held to the engine's numbers. A place may be off by
//! `crate::svg::NEAR`, a third of a pixel.

use crate::support::{judged, text_of};
use crate::svg::{Axis, NEAR, Plane, all, level_at, number, places, planes, rows, text};
use loomwright::finding::Signal;
use loomwright::protection::{Band, Fuse};
use loomwright::quantity::{CrossSection, FromText, celsius, in_mm2};
use loomwright::study::cable::{CableQuery, Load, size, size_map};
use loomwright::study::curve::{CurveQuery, Wire};
use loomwright::study::forecast::{Options, forecast};
use loomwright::study::judge::{CheckRecord, Judgement, ThroughTimeRecord};
use loomwright::study::reconcile::{ReconcileRecord, reconcile};
use loomwright::text::read_readings;
use loomwright_draw::{charge, curves, joints, margins, readings, sizes, temperatures, through_time, voltage};
use loomwright_tests::{amperes, metres, volts};
use roxmltree::{Document, Node};

const CABIN: &str = "crates/loomwright/examples/cabin.toml";
const VAN: &str = "examples/plans/veterinary-van.toml";
const LAUNCH: &str = "examples/plans/river-launch.toml";
const FAILING: &str = "examples/plans/failing.toml";

/// The one plane of a picture.
fn plane(document: &Document<'_>) -> Plane {
    let mut planes = planes(document);
    assert_eq!(planes.len(), 1);
    planes.remove(0)
}

/// Asserts that a place says a value.
fn says(axis: &Axis, place: f64, value: f64, what: &str) {
    let (belongs, read) = (axis.place(value), axis.value(place));
    assert!((place - belongs).abs() <= NEAR, "{what}: at {place} stands {read}, {value} belongs at {belongs}");
}

/// The same where the value may lie beyond the plane: it then stands on its border.
fn says_within(plane: &Plane, place: f64, value: f64, what: &str) {
    let belongs = plane.x().place(value).clamp(plane.left, plane.right);
    let read = plane.x().value(place);
    assert!((place - belongs).abs() <= NEAR, "{what}: at {place} stands {read}, {value} belongs at {belongs}");
}

/// The elements whose middle lies at a height.
fn in_row<'a, 'i>(nodes: &[Node<'a, 'i>], middle: impl Fn(Node<'a, 'i>) -> f64, row: f64) -> Vec<Node<'a, 'i>> {
    // Letters are set by their foot, so their row is known to two pixels; rows lie farther apart.
    nodes.iter().copied().filter(|node| (middle(*node) - row).abs() < 2.0).collect()
}

fn one<'a, 'i>(nodes: &[Node<'a, 'i>], what: &str) -> Node<'a, 'i> {
    let [node] = nodes else { panic!("{what}: {} elements", nodes.len()) };
    *node
}

// Sizes over length and current.

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

// Margins and temperatures.

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

// Voltage along a way.

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

// Fuses and conductors through time.

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

// A stay.

#[test]
fn the_line_of_charge_ends_where_the_stay_does() {
    let mut banded = 0;
    for (file, samples, series) in
        [(CABIN, 12, true), (CABIN, 0, false), ("examples/plans/mountain-hut.toml", 4, false)]
    {
        let judgement = judged(&text_of(file));
        let options = Options { samples, series, ..Options::default() };
        let record = forecast(&judgement, &options).expect("it has stays").record(&options);
        for stay in &record.stays {
            for bank in &stay.banks {
                let drawn = charge(stay, bank).expect("it has days").svg();
                let document = Document::parse(&drawn).expect("it is XML");
                let planes = planes(&document);
                let upper = &planes[0];
                let what = format!("{file}: {} in {}", bank.name, stay.name);
                let lines = all(&document, "path", "s1").into_iter().map(places);
                let line = lines.filter(|line| upper.holds(line[0])).max_by_key(Vec::len).expect("a line");
                let (first, last) = (line[0], line[line.len() - 1]);
                says(upper.y(), first.1, 100.0 * bank.start_charge, &what);
                says(upper.y(), last.1, 100.0 * bank.end_charge, &what);
                assert!((first.0 - upper.left).abs() <= NEAR && (last.0 - upper.right).abs() <= NEAR, "{what}");
                // Days lie where their dates say: each ends where the next one begins.
                let days: Vec<(f64, &str)> = upper.x_says.iter().map(|(at, says)| (*at, says.as_str())).collect();
                for day in 1..bank.days.len() {
                    let date = &bank.days[day].date;
                    let months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
                    let month = months[date[5..7].parse::<usize>().expect("a month") - 1];
                    let short = format!("{} {month}", date[8..10].trim_start_matches('0'));
                    let named: Vec<f64> = days.iter().filter(|(_, says)| *says == short).map(|(at, _)| *at).collect();
                    if let [at] = named.as_slice() {
                        let y = level_at(&line, *at).expect("a day within");
                        // The tick stands on the tenth of a pixel below, and the line may be steep there.
                        let slack = 1.5 * NEAR;
                        let belongs = upper.y().place(100.0 * bank.days[day - 1].end_charge);
                        assert!((y - belongs).abs() <= slack, "{what}: {short} {y} {belongs}");
                    }
                }
                let limits: Vec<_> = all(&document, "path", "limit").into_iter().map(places).collect();
                says(upper.y(), limits[0][0].1, 100.0 * bank.floor, &what);
                // The band: upper edge from left to right, lower edge back again.
                let bands: Vec<_> = all(&document, "path", "veil f1").into_iter().map(places).collect();
                assert_eq!(bands.len(), usize::from(samples > 0), "{what}");
                if let Some(band) = bands.first() {
                    let (high, low) = band.split_at(band.len() / 2);
                    assert_eq!(high.len(), bank.days.len() + 1, "{what}");
                    for (day, place) in bank.days.iter().zip(&high[1..]) {
                        let told = day.end_charge_band.expect("a band");
                        says(upper.y(), place.1, 100.0 * told[2], &what);
                    }
                    for (day, place) in bank.days.iter().rev().zip(low) {
                        let told = day.end_charge_band.expect("a band");
                        says(upper.y(), place.1, 100.0 * told[0], &what);
                        banded += 1;
                    }
                }
            }
        }
    }
    assert!(banded > 10, "{banded}");
}

// Readings.

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
