//! The study of tolerances over whole plans: nothing varied is the judged plan, threads make no difference, corners are worst.

use crate::stays;
use crate::support::{judged, text_of, two_bars};
use loomwright::quantity::Ratio;
use loomwright::quantity::uom::si::ratio::ratio;
use loomwright::study::judge::Judgement;
use loomwright::study::tolerance::{LimitTolerance, Options, Spreads, tolerance};

fn example(name: &str) -> Judgement {
    judged(&text_of(&format!("examples/plans/{name}.toml")))
}

/// Without any spread a variant is the judged plan: every margin is that of the judge, to a ten-thousandth (its
/// temperatures settle to that, and alternators at their limit are asked again from there).
#[test]
fn no_spread_is_the_judged_plan() {
    for name in ["veterinary-van", "river-launch", "mountain-hut", "failing"] {
        let found =
            tolerance(&example(name), &Options { samples: 1, spreads: Spreads::none(), ..Options::default() }).unwrap();
        assert!(found.limits.len() > 20, "{name}");
        for limit in found.limits.iter().filter(|limit| limit.margin.is_finite()) {
            for margin in [limit.fifth_percentile, limit.worst_corner] {
                assert!((margin / limit.margin - 1.0).abs() < 1e-4, "{name}: {limit:?}");
            }
            assert_eq!(limit.moved_by, None, "{name}: {limit:?}");
        }
    }
}

/// The same bytes on any number of threads, and other variants for another seed.
#[test]
fn threads_make_no_difference() {
    let plan = example("river-launch");
    let of = |threads, seed| {
        let found = tolerance(&plan, &Options { samples: 300, seed, threads, ..Options::default() }).unwrap();
        serde_json::to_string(&found.record()).unwrap()
    };
    let one = of(1, 1);
    assert!([2, 3, 7, 256].iter().all(|threads| of(*threads, 1) == one));
    assert_ne!(of(1, 2), one);
}

/// No variant of the examples is worse than the worst corner. Quantities are sent to their worse ends one by one, from the
/// judged plan; half a per cent is left for where one pulls the other way once the others have moved.
#[test]
fn corners_are_worst() {
    for name in ["veterinary-van", "river-launch", "mountain-hut"] {
        let plan = example(name);
        // The lowest of twenty variants is their fifth percentile.
        for seed in 0..5 {
            let found = tolerance(&plan, &Options { samples: 19, seed, ..Options::default() }).unwrap();
            for limit in &found.limits {
                assert!(limit.fifth_percentile >= 0.995 * limit.worst_corner, "{name}: {limit:?}");
                assert!(limit.worst_corner <= limit.margin * 1.0001, "{name}: {limit:?}");
            }
        }
    }
}

/// Two batteries side by side stay alike: no current flows between them that the judged plan does not have. Each drawn by
/// itself, 4 % of 12.5 V would drive 50 A through their 10 mΩ.
#[test]
fn batteries_side_by_side_do_not_fight() {
    let more = r#"
[batteries.second]
chemistry = "agm"
capacity = "100 Ah"
[runs.second-lead]
from = "second.+"
to = "plus"
route = ["0.5 m in here"]
conductor = "95 mm2"
fuse = "200 A class-t"
[runs.second-back]
from = "second.-"
to = "minus"
route = ["0.5 m in here"]
conductor = "95 mm2"
[loads.lamp]
current = "20 A"
[circuits.lamp]
from = "plus"
return = "minus"
to = "lamp"
route = ["1 m in here"]
conductor = "10 mm2"
fuse = "30 A class-t"
"#;
    let spreads = Spreads { source: [0.98, 1.02].map(Ratio::new::<ratio>), ..Spreads::none() };
    let plan = judged(&two_bars("12 V", "200 A class-t", more));
    let found = tolerance(&plan, &Options { samples: 200, spreads, ..Options::default() }).unwrap();
    let mut leads = found.limits.iter().filter(|limit| limit.rule == "ampacity" && limit.subject == "lead");
    let lead = leads.next().expect("it is watched");
    // The lamp draws a constant current: only how it is shared could move it.
    assert!((lead.worst_corner / lead.margin - 1.0).abs() < 1e-3, "{lead:?}");
}

/// A charger that loses a fifth more than the 48 W of its 480 W takes 2 % more of what the alternator has at idle; half as
/// much either way is left for what that loses on its way.
#[test]
fn a_charger_s_losses_move_the_headroom() {
    let says = "output_current = \"30 A\"\nefficiency = \"90 %\"\nrunning_signal = true";
    let parts = [
        stays::battery("starter", "agm", 80.0, ""),
        stays::battery("service", "agm", 200.0, ""),
        stays::alternator("starter"),
        stays::dc_dc("charger", "starter", "service", says),
    ];
    let spreads = Spreads { loss: [1.0, 1.2].map(Ratio::new::<ratio>), ..Spreads::none() };
    let found =
        tolerance(&judged(&stays::plan(&parts.concat())), &Options { samples: 20, spreads, ..Options::default() });
    let found = found.unwrap();
    let idle = |limit: &&LimitTolerance| limit.rule == "alternator-headroom" && limit.case == "driving-hot-idle";
    let limit = found.limits.iter().find(idle).unwrap_or_else(|| panic!("{:#?}", found.limits));
    assert_eq!(limit.moved_by, Some("losses"));
    let worse = limit.margin / limit.worst_corner;
    assert!((1.01..1.03).contains(&worse), "{worse}: {limit:?}");
}
