//! What holds of every picture: it is XML whose places are numbers within the picture, whatever the plan; names stay names;
//! the same results give the same bytes.

use crate::support::{judged, text_of};
use loomwright::study::cable::{CableQuery, Load, size_map};
use loomwright::study::forecast::{Options, forecast};
use loomwright::study::judge::{Judgement, judge};
use loomwright::study::reconcile::reconcile;
use loomwright::text::{read_plan, read_readings};
use loomwright_draw::{
    DrawError, Kind, Picture, Wanted, charge, diagram, diagram_sheets, joints, margins, picture, readings, sizes,
    temperatures, through_time, voltage,
};
use loomwright_tests::{amperes, metres, volts};
use roxmltree::Document;

const SHIPPED: [(&str, Option<&str>); 7] = [
    ("crates/loomwright/examples/cabin.toml", None),
    ("crates/loomwright/examples/lamp.toml", None),
    ("examples/plans/failing.toml", None),
    ("examples/plans/mountain-hut-before.toml", None),
    ("examples/plans/mountain-hut.toml", None),
    ("examples/plans/river-launch.toml", Some("examples/readings/river-launch.toml")),
    ("examples/plans/veterinary-van.toml", Some("examples/readings/veterinary-van.csv")),
];

/// Every picture of a plan, of all that it can be of.
fn every(judgement: &Judgement, told: Option<&str>) -> Vec<(String, Picture)> {
    let record = judgement.record();
    let mut all = vec![
        ("diagram".to_owned(), diagram(judgement)),
        ("margins".to_owned(), margins(&record, usize::MAX)),
        ("temperatures".to_owned(), temperatures(&record)),
    ];
    all.extend(diagram_sheets(judgement).into_iter().enumerate().map(|(at, sheet)| (format!("sheet {at}"), sheet)));
    all.extend(judgement.voltage_paths().iter().map(|path| (format!("voltage {}", path.consumer), voltage(path))));
    let through = (0..judgement.installation.runs.len()).filter_map(|run| judgement.through_time(run));
    all.extend(through.map(|found| (format!("fuses {}", found.run), through_time(&found))));
    let options = Options { series: true, samples: 2, ..Options::default() };
    if let Ok(found) = forecast(judgement, &options) {
        let found = found.record(&options);
        for stay in &found.stays {
            let of = |bank| charge(stay, bank);
            all.extend(stay.banks.iter().filter_map(of).map(|drawn| (format!("charge {}", stay.name), drawn)));
        }
    }
    if let Some(file) = told {
        let read = read_readings(&text_of(file), &judgement.installation);
        let found = reconcile(judgement, &read.readings).expect("they can be explained").record(judgement);
        all.extend(joints(&found).map(|drawn| ("joints".to_owned(), drawn)));
        all.extend(readings(&found).map(|drawn| ("readings".to_owned(), drawn)));
    }
    all
}

/// Asserts that a picture is XML with numbers where numbers belong.
fn sound(picture: &Picture, what: &str) {
    let drawn = picture.svg();
    let document = Document::parse(&drawn).unwrap_or_else(|error| panic!("{what}: {error}"));
    let numbers = [
        "d",
        "x",
        "y",
        "cx",
        "cy",
        "r",
        "rx",
        "width",
        "height",
        "viewBox",
        "transform",
        "points",
        "x1",
        "x2",
        "y1",
        "y2",
    ];
    for node in document.descendants() {
        for attribute in node.attributes().filter(|attribute| numbers.contains(&attribute.name())) {
            let value = attribute.value();
            assert!(!value.contains("NaN") && !value.contains("inf"), "{what}: {}={value}", attribute.name());
            // Nor an exponent, nor a place that no screen has.
            let plain = value.split(|letter: char| !letter.is_ascii_digit() && letter != '.');
            let far = plain.filter_map(|one| one.parse::<f64>().ok()).find(|one| *one > 1e5);
            assert_eq!(far, None, "{what}: {}={value}", attribute.name());
        }
        if let Some(text) = node.text().filter(|_| node.is_text()) {
            let bad = |word: &str| matches!(word, "NaN" | "inf" | "-inf" | "−inf" | "NaN%" | "Infinity");
            assert!(!text.split([' ', ',', ';', ':']).any(bad), "{what}: {text}");
        }
    }
    assert!(!picture.title.is_empty() && !picture.description.is_empty(), "{what}");
    let root = document.root_element();
    assert!(crate::svg::number(root, "width") > 100.0 && crate::svg::number(root, "height") > 40.0, "{what}");
}

#[test]
fn every_picture_of_every_plan_that_is_shipped_is_sound_and_the_same_twice() {
    let mut drawn = 0;
    for (file, told) in SHIPPED {
        let judgement = judged(&text_of(file));
        let (pictures, again) = (every(&judgement, told), every(&judgement, told));
        assert_eq!(pictures.len(), again.len());
        for ((name, picture), (_, again)) in pictures.iter().zip(&again) {
            sound(picture, &format!("{file}: {name}"));
            assert!(picture.svg() == again.svg(), "{file}: {name} differs the second time");
            drawn += 1;
        }
    }
    assert!(drawn > 150, "{drawn}");
}

/// What a name may hold that is markup elsewhere.
const HOSTILE: &str = "</text><script>alert(1)</script>&amp;\"'<!--]]>\u{1}\u{fffe}\u{202e}";

/// Drawn, a hostile name is text: no element came of it, and where it is told in full it reads as it was written.
fn harmless(drawn: &Picture, what: &str) {
    let text = drawn.svg();
    let document = Document::parse(&text).unwrap_or_else(|error| panic!("{what}: {error}"));
    let known =
        ["svg", "title", "desc", "style", "rect", "text", "path", "g", "circle", "line", "tspan", "polygon", "ellipse"];
    for node in document.descendants() {
        assert!(!node.is_comment() && !node.is_pi(), "{what}");
        assert!(!node.is_element() || known.contains(&node.tag_name().name()), "{what}: {:?}", node.tag_name());
        let handler =
            node.attributes().find(|attribute| attribute.name().starts_with("on") || attribute.name() == "href");
        assert!(handler.is_none(), "{what}: {handler:?}");
    }
    let readable = HOSTILE.replace(['\u{1}', '\u{fffe}'], "\u{fffd}");
    let told = document.descendants().filter_map(|node| node.text()).any(|text| text.contains(&readable));
    assert!(told, "{what}: the name is told nowhere");
}

#[test]
fn hostile_names_come_out_as_text() {
    let judgement = judged(&text_of("examples/plans/veterinary-van.toml"));
    let mut hostile = judgement.clone();
    let plan = &mut hostile.installation;
    plan.name = HOSTILE.to_owned();
    plan.runs.iter_mut().for_each(|run| run.name = format!("{HOSTILE}{}", run.name));
    plan.nodes.iter_mut().for_each(|node| node.name = format!("{HOSTILE}{}", node.name));
    plan.loads.iter_mut().for_each(|load| load.name = format!("{HOSTILE}{}", load.name));
    plan.cases.iter_mut().for_each(|case| case.name = format!("{HOSTILE}{}", case.name));
    harmless(&diagram(&hostile), "diagram");
    let mut record = hostile.record();
    record.checks.iter_mut().for_each(|check| check.subject = HOSTILE.to_owned());
    harmless(&margins(&record, usize::MAX), "margins");
    harmless(&temperatures(&record), "temperatures");
    for path in hostile.voltage_paths() {
        harmless(&voltage(&path), "voltage");
    }
    let mut found = hostile.through_time(0).or_else(|| hostile.through_time(1)).expect("a fuse protects one");
    found.fuses.iter_mut().for_each(|fuse| fuse.name = HOSTILE.to_owned());
    harmless(&through_time(&found), "fuses");
    let read = read_readings(&text_of("examples/readings/veterinary-van.csv"), &judgement.installation);
    let mut found = reconcile(&judgement, &read.readings).expect("they can be explained").record(&judgement);
    found.name = HOSTILE.to_owned();
    for day in &mut found.days {
        day.segments.iter_mut().for_each(|piece| piece.name = HOSTILE.to_owned());
        day.readings.iter_mut().for_each(|reading| reading.at = HOSTILE.to_owned());
    }
    harmless(&joints(&found).expect("pieces"), "joints");
    harmless(&readings(&found).expect("readings"), "readings");
    let options = Options::default();
    let judgement = judged(&text_of("crates/loomwright/examples/cabin.toml"));
    let mut found = forecast(&judgement, &options).expect("a stay").record(&options);
    let stay = &mut found.stays[0];
    stay.name = HOSTILE.to_owned();
    stay.banks[0].name = HOSTILE.to_owned();
    harmless(&charge(stay, &stay.banks[0]).expect("days"), "charge");
}

/// Asserts that whatever is drawn of values stands within the plane.
fn within_the_plane(drawn: &Picture, marks: &[(&str, &str)], what: &str) {
    sound(drawn, what);
    let text = drawn.svg();
    let document = Document::parse(&text).expect("it is XML");
    let planes = crate::svg::planes(&document);
    let plane = &planes[0];
    let across = plane.left - 0.3..=plane.right + 0.3;
    for (tag, class) in marks {
        let nodes = crate::svg::all(&document, tag, class);
        assert!(!nodes.is_empty(), "{what}: no {tag} of {class}");
        for node in nodes {
            let places: Vec<f64> = match *tag {
                "circle" => vec![crate::svg::number(node, "cx")],
                "path" => crate::svg::places(node).into_iter().map(|place| place.0).collect(),
                _ => {
                    let x = crate::svg::number(node, "x");
                    vec![x, x + crate::svg::number(node, "width")]
                }
            };
            for x in places {
                assert!(
                    across.contains(&x),
                    "{what}: {tag} {class} at {x}, plane from {} to {}",
                    plane.left,
                    plane.right
                );
            }
        }
    }
}

#[test]
fn what_lies_outside_an_axis_stays_in_the_plane() {
    let judgement = judged(&text_of("examples/plans/veterinary-van.toml"));
    let mut record = judgement.record();
    let outside = [0.0, 1e-300, 1e-9, 1e9, 1e300, -5.0];
    for (check, margin) in record.checks.iter_mut().zip(outside) {
        check.margin = margin;
        check.signal = None;
    }
    record.checks.truncate(outside.len());
    // Crosses and rings stand around the ends of bars, so half of one may lie over the border.
    within_the_plane(&margins(&record, usize::MAX), &[("rect", "f1")], "margins");
    for (run, hot) in record.runs.iter_mut().zip([-400.0, 1e6, f64::NAN, f64::INFINITY]) {
        run.conductor_temperature_c = Some(hot);
    }
    let finite: Vec<_> =
        record.runs.iter().filter(|run| run.conductor_temperature_c.is_none_or(f64::is_finite)).cloned().collect();
    record.runs = finite;
    within_the_plane(&temperatures(&record), &[("circle", "f1"), ("path", "s1"), ("path", "s2")], "temperatures");
    let read = read_readings(&text_of("examples/readings/veterinary-van.csv"), &judgement.installation);
    let mut found = reconcile(&judgement, &read.readings).expect("they can be explained").record(&judgement);
    let day = found.days.last_mut().expect("a day");
    for (piece, (measured, within)) in day.segments.iter_mut().zip([(-3.0, 1.0), (0.0, 50.0), (1e-6, 1e-7), (1e9, 1.0)])
    {
        (piece.measured_mohm, piece.within_mohm) = (measured, within);
    }
    let marks = [("path", "mark"), ("rect", "veil f3")];
    within_the_plane(&joints(&found).expect("pieces"), &marks, "joints");
    within_the_plane(&readings(&found).expect("readings"), &[("path", "mark"), ("circle", "f1")], "readings");
}

/// A circuit at either end of what is asked for still has its mark in the plane.
#[test]
fn maps_of_sizes_at_the_ends_of_what_is_asked() {
    for (current, length, voltage) in [(0.02, 0.05, 48.0), (0.5, 900.0, 12.0), (1900.0, 0.1, 48.0), (300.0, 60.0, 12.0)]
    {
        let query = CableQuery::new(Load::Current(amperes(current)), metres(length), volts(voltage));
        let Ok(map) = size_map(&query) else { continue };
        let drawn = sizes(&map);
        within_the_plane(&drawn, &[("circle", "f2")], &format!("{current} A over {length} m"));
        assert!(drawn.svg() == sizes(&map).svg());
    }
}

const HEAD: &str = "format = 1\n[plan]\nname = \"Hardly a plan\"\nplace = \"cabin\"\nsystem_voltage = \"12 V\"\n\
                    [zones.here]\nkind = \"hut\"\n";
const BATTERY: &str = "[batteries.house]\nchemistry = \"agm\"\ncapacity = \"100 Ah\"\n";

/// Plans that have hardly anything to show: each picture is drawn, or is told to be of nothing.
#[test]
fn degenerate_plans_give_pictures_or_say_why_not() {
    let bar = "[busbars.plus]\n";
    let unfused = "[runs.lead]\nfrom = \"house.+\"\nto = \"plus\"\nroute = [\"1 m in here\"]\nconductor = \"16 mm2\"\nfuse = \"none\"\n";
    let terminal_cube = unfused.replace("\"none\"", "\"100 A terminal-cube\"");
    let idle = format!(
        "{}[busbars.minus]\n[loads.lamp]\ncurrent = \"0 A\"\n[circuits.lamp]\nfrom = \"house.+\"\nreturn = \"house.-\"\nto = \"lamp\"\nroute = [\"0.1 m in here\"]\n",
        BATTERY
    );
    let plans = [
        ("nothing", String::new()),
        ("one bar", bar.to_owned()),
        ("a battery alone", BATTERY.to_owned()),
        ("no fuse, no load", format!("{BATTERY}{bar}{unfused}")),
        ("no times of the fuse", format!("{BATTERY}{bar}{terminal_cube}")),
        ("an idle lamp", idle),
    ];
    let (mut drawn, mut nothing) = (0, 0);
    for (name, plan) in plans {
        // What cannot even be read or judged has no picture.
        let Ok(plan) = read_plan(&format!("{HEAD}{plan}")) else { continue };
        let Ok(judgement) = judge(&plan) else { continue };
        let options = Options::default();
        let stays = forecast(&judgement, &options).ok().map(|found| found.record(&options));
        let found = reconcile(&judgement, &[]).ok().map(|found| found.record(&judgement));
        for kind in Kind::ALL {
            let wanted = Wanted { kind, of: None, stay: None };
            let what = format!("{name}: {}", kind.name());
            match picture(&judgement, &wanted, stays.as_ref(), found.as_ref()) {
                Ok(one) => {
                    sound(&one, &what);
                    drawn += 1;
                }
                Err(DrawError::Nothing(why)) => {
                    assert!(why.len() > 10, "{what}");
                    nothing += 1;
                }
                Err(error) => panic!("{what}: {error}"),
            }
            // A name that is not there is told, or not asked for.
            let wanted = Wanted { kind, of: Some("nobody"), stay: None };
            let refused = picture(&judgement, &wanted, stays.as_ref(), found.as_ref());
            assert!(refused.is_err(), "{what} of nobody");
        }
    }
    assert!(drawn >= 9 && nothing >= 6, "{drawn} {nothing}");
}
