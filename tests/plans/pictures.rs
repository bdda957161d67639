//! What pictures draw: fuses and conductors through time, and the way of the current with its voltages.

use crate::support::{SHIPPED, judged, text_of, two_bars};
use loomwright::study::judge::Judgement;

/// A lamp of 10 A behind an isolator of 2 mΩ, and a pump that starts with 40 A.
fn lamp() -> Judgement {
    judged(&two_bars(
        "12 V",
        "60 A blade-e",
        r#"[links.main]
kind = "isolator"
resistance = "2 mohm"
[runs.on]
from = "plus"
to = "main.in"
route = ["1 m in here"]
conductor = "10 mm2"
[loads.lamp]
current = "10 A"
[circuits.lamp]
from = "main.out"
return = "minus"
to = "lamp"
route = ["2 m in here"]
conductor = "10 mm2"
fuse = "15 A blade-c"
[loads.pump]
current = "5 A"
inrush = "40 A"
start_time = "0.2 s"
[circuits.pump]
from = "plus"
return = "minus"
to = "pump"
route = ["2 m in here"]
conductor = "10 mm2"
fuse = "30 A blade-c"
"#,
    ))
}

/// Every stretch drops its current times its resistance, from stop to stop; the isolator has no length.
#[test]
fn a_way_by_hand() {
    let judgement = lamp();
    let path = judgement.voltage_path("lamp").expect("it is fed");
    let names = |stops: &[loomwright::study::judge::StopRecord]| -> Vec<(String, Option<String>)> {
        stops.iter().map(|stop| (stop.node.clone(), stop.by.clone())).collect()
    };
    let stop = |node: &str, by: Option<&str>| (node.to_owned(), by.map(str::to_owned));
    let out = [
        stop("house.+", None),
        stop("plus", Some("lead")),
        stop("main.in", Some("on")),
        stop("main.out", Some("main")),
        stop("lamp.+", Some("lamp +")),
    ];
    assert_eq!(names(&path.out), out);
    assert_eq!(names(&path.back), [stop("lamp.-", None), stop("minus", Some("lamp -")), stop("house.-", Some("back"))]);
    // Route + 10 % + 0.6 m.
    let metres: Vec<f64> = path.out.iter().chain(&path.back).map(|stop| stop.length_m).collect();
    let by_hand = [0.0, 1.15, 2.85, 2.85, 5.65, 5.65, 8.45, 9.6];
    assert!(metres.iter().zip(by_hand).all(|(one, other)| (one - other).abs() < 1e-9), "{metres:?}");
    assert_eq!(path.source, "house");
    assert_eq!(path.consumer, "lamp");
    for case in path.cases.iter().filter(|case| !case.case.contains("start")) {
        assert_eq!(case.current_a, 10.0);
        // The isolator: 10 A · 2 mΩ.
        assert!((case.out_v[2] - case.out_v[3] - 0.020).abs() < 1e-8, "{case:?}");
        // 1.7 m of 10 mm² class 5 (1.91 Ω/km at 20 °C) some degrees warmer than 20 °C air and above: 10 A, two joints of 0.1 mΩ.
        let on = case.out_v[1] - case.out_v[2];
        let [cold, hot] = [20.0, 70.0].map(|degrees| 10.0 * (1.7 * 1.91e-3 * (234.5 + degrees) / 254.5 + 0.2e-3));
        assert!(cold < on && on < hot, "{on} {cold} {hot}");
        // The return carries the same current over 2.8 m, without fuse.
        let back = case.back_v[0] - case.back_v[1];
        assert!(((back - 2e-3) / 2.8 - (on - 2e-3) / 1.7).abs() < 2e-5, "{back} {on}");
        assert_eq!(case.back_v.last(), Some(&0.0));
    }
}

/// The ends of the way are the voltages of source and consumer, whatever lies between. Numbers are rounded to nine digits,
/// so sums of a few of them agree to a millionth of a volt.
#[test]
fn ways_agree_with_the_operating_points_and_the_rule() {
    let (mut ways, mut compared) = (0, 0);
    for file in SHIPPED {
        let judgement = judged(&text_of(file));
        let record = judgement.record();
        let paths = judgement.voltage_paths();
        for path in &paths {
            let lengths: Vec<f64> = path.out.iter().chain(&path.back).map(|stop| stop.length_m).collect();
            assert!(lengths.is_sorted() && lengths.iter().all(|length| *length >= 0.0), "{lengths:?}");
        }
        let least = |cases: &[loomwright::study::judge::PathCaseRecord]| {
            cases.iter().filter_map(|case| case.margin).fold(f64::INFINITY, f64::min)
        };
        assert!(paths.windows(2).all(|pair| least(&pair[0].cases) <= least(&pair[1].cases)), "{file}");
        for path in &paths {
            assert!(path.out.len() > 1 && !path.back.is_empty(), "{file}: {path:?}");
            assert!(path.out.iter().skip(1).chain(path.back.iter().skip(1)).all(|stop| stop.by.is_some()));
            for case in &path.cases {
                ways += 1;
                let told = record.cases.iter().find(|one| one.name == case.case).expect("it is a case");
                let volts = |node: &str| {
                    let node = told.nodes.iter().find(|one| one.name == node).expect("it is a node");
                    node.voltage_v.expect("it is supplied")
                };
                let (first, last) = (&path.out[0], path.out.last().expect("a way"));
                let (near, home) = (&path.back[0], path.back.last().expect("a way back"));
                let source = volts(&first.node) - volts(&home.node);
                let consumer = volts(&last.node) - volts(&near.node);
                let (out, back) = (&case.out_v, &case.back_v);
                assert!((out.len(), back.len()) == (path.out.len(), path.back.len()));
                assert!((out[0] - back[back.len() - 1] - source).abs() < 1e-6, "{file}: {path:?}");
                assert!((out[out.len() - 1] - back[0] - consumer).abs() < 1e-6, "{file}: {path:?}");
                assert!((case.drop_v - (source - consumer)).abs() < 1e-6, "{file}: {path:?}");
            }
            // The source is the one that the rule counts from where it is worst, so there both say the same.
            let check = record.checks.iter().find(|one| one.rule == "voltage-drop" && one.subject == path.consumer);
            let Some((check, worst)) = check.and_then(|check| {
                Some((check, path.cases.iter().find(|case| Some(&case.case) == check.case.as_ref())?))
            }) else {
                continue;
            };
            compared += 1;
            assert!(
                (worst.drop_v - check.measured.expect("volts")).abs() < 1e-6,
                "{file}: {check:?} {worst:?} {}",
                path.source
            );
            assert_eq!((worst.margin, path.limit_v), (Some(check.margin), check.limit), "{file}");
        }
    }
    assert!(ways > 200 && compared > 40, "{ways} {compared}");
}

#[test]
fn a_picture_through_time_by_hand() {
    let judgement = lamp();
    let index = |name: &str| judgement.installation.runs.iter().position(|run| run.name == name).expect("a run");
    let lamp = judgement.through_time(index("lamp +")).expect("a fuse protects it");
    let [fuse] = lamp.fuses.as_slice() else { panic!("{lamp:?}") };
    assert_eq!((fuse.name.as_str(), lamp.conductor.as_str(), lamp.load_a), ("15 A blade-c", "10 mm²", 10.0));
    // ISO 8820-3: at 135 % of the rating no later than 10 minutes; below it may never open.
    let gate = fuse.opens.iter().find(|point| (point.current_a - 1.35 * 15.0).abs() < 1e-6).expect("its gate");
    assert!((gate.slowest_s.expect("it opens") - 600.0).abs() < 1e-6, "{gate:?}");
    assert!(fuse.opens.iter().filter(|point| point.current_a < 20.2).all(|point| point.slowest_s.is_none()));
    assert!(fuse.opens.len() > 50 && fuse.opens.windows(2).all(|pair| pair[0].current_a < pair[1].current_a));
    assert!(lamp.starts.is_empty(), "{:?}", lamp.starts);
    // The pump's start passes both its legs and what all share.
    for run in ["pump +", "pump -", "lead", "back"] {
        let through = judgement.through_time(index(run)).expect("a fuse protects it");
        let [start] = through.starts.as_slice() else { panic!("{run}: {:?}", through.starts) };
        assert!(start.load == "pump" && start.time_s == 0.2 && start.current_a >= 40.0 - 1e-6, "{run}: {start:?}");
    }
    let back = judgement.through_time(index("pump -")).expect("a fuse protects it");
    assert_eq!(back.fuses[0].name, "30 A blade-c of pump +");
}

/// Where its margin is thin, what a run bears over the latest opening is nowhere less, and equals it where the two come
/// closest.
#[test]
fn pictures_agree_with_the_margins() {
    let thin = |size: &str, fuse: &str| {
        format!(
            "[loads.lamp]\ncurrent = \"4 A\"\n[circuits.lamp]\nfrom = \"plus\"\nreturn = \"minus\"\nto = \"lamp\"\n\
             route = [\"2 m in here\"]\nconductor = \"{size}\"\nfuse = \"{fuse}\"\n"
        )
    };
    let grid = ["0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2"].into_iter().flat_map(|size| {
        ["15 A blade-c", "20 A blade-c", "30 A blade-c", "40 A blade-e", "60 A blade-e"].map(|fuse| thin(size, fuse))
    });
    let made = grid.map(|circuit| ("a plan of this test", two_bars("12 V", "150 A class-t", &circuit)));
    let shipped = SHIPPED.map(|file| (file, text_of(file)));
    let mut close = 0;
    for (file, text) in shipped.into_iter().chain(made) {
        let judgement = judged(&text);
        for (index, run) in judgement.record().runs.iter().enumerate() {
            let Some(through) = judgement.through_time(index) else { continue };
            assert_eq!(
                (&through.run, through.time_margin, through.ampacity_a),
                (&run.name, run.time_margin, run.ampacity_a)
            );
            assert_eq!(through.load_a, run.current_a, "{file}: {}", run.name);
            if run.fuse_rating_a.is_some() && through.fuses.len() == 1 {
                assert_eq!(
                    (through.fault_highest_a, through.fault_lowest_a),
                    (run.fault_highest_a, run.fault_lowest_a)
                );
            }
            let judged_by = through.fuses.last().expect("a fuse");
            let Some((margin, at)) = through.time_margin.zip(through.closest_at_a) else { continue };
            // A comfortable margin is a bound: the search ends once nothing can come closer than 1.1.
            for point in judged_by.opens.iter().filter(|_| margin < 1.1) {
                let bears = through.bears.iter().find(|bears| bears.current_a == point.current_a);
                let Some((slowest, bears)) = point.slowest_s.zip(bears.and_then(|bears| bears.bears_s)) else {
                    continue;
                };
                let beyond = judged_by.known_up_to_a.is_some_and(|known| point.current_a > known * (1.0 - 1e-9));
                if beyond || margin < 0.5 {
                    // What fails beyond the stated times is not looked at closely, nor what fails by far.
                    continue;
                }
                assert!(bears / slowest >= margin * (1.0 - 1e-3), "{file}: {} {point:?} {bears} {margin}", run.name);
                if (point.current_a - at).abs() < 1e-6 * at {
                    assert!((bears / slowest - margin).abs() < 1e-3 * margin, "{file}: {} {bears} {slowest}", run.name);
                    close += 1;
                }
            }
        }
    }
    assert!(close > 1, "hardly a margin was thin: {close}");
}
