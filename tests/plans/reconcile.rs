//! Readings explained: what was hidden is found.

mod support;

use loomwright::quantity::celsius;
use loomwright::study::reconcile::{Measured, Reading, reconcile, walk};
use support::{judged, text_of};

#[test]
fn scratch() {
    for plan in ["veterinary-van", "river-launch", "mountain-hut"] {
        let judgement = judged(&text_of(&format!("examples/plans/{plan}.toml")));
        let mut readings = Vec::new();
        for round in walk(&judgement) {
            for stop in &round.stops {
                let measured = match stop.measured {
                    Measured::Voltage { between, value, .. } => Measured::Voltage {
                        between,
                        value,
                        within: value * 0.002
                            + loomwright::quantity::ElectricPotential::new::<
                                loomwright::quantity::uom::si::electric_potential::volt,
                            >(0.0002),
                    },
                    Measured::Current { run, value, .. } => Measured::Current {
                        run,
                        value,
                        within: value * 0.02
                            + loomwright::quantity::ElectricCurrent::new::<
                                loomwright::quantity::uom::si::electric_current::ampere,
                            >(0.03),
                    },
                    other => other,
                };
                readings.push(Reading {
                    line: readings.len() + 1,
                    case: round.case,
                    measured,
                    ambient: Some(celsius(30.0)),
                    date: None,
                    assumed: false,
                    note: String::new(),
                });
            }
        }
        let started = std::time::Instant::now();
        let found = reconcile(&judgement, &readings).unwrap();
        println!("{plan}: {} readings {} cases {:?}", readings.len(), walk(&judgement).len(), started.elapsed());
        for day in &found.days {
            for one in &day.segments {
                println!(
                    "  {:?} {} -- {} lines {:?} next {:?}",
                    one.verdict,
                    one.name(&judgement),
                    one.reason,
                    one.lines,
                    one.next.map(|n| n.words(&judgement.installation))
                );
            }
            for one in &day.devices {
                println!("  {:?} {} {}", one.verdict, one.device, one.reason);
            }
            for one in &day.readings {
                if one.slip.is_some() {
                    println!("  slip {:?} {:?}", one.slip, one);
                }
            }
            println!("  zero {:?} untold {:?}", day.clamp_zero, day.untold.len());
        }
        println!("{:?}", found.refused);
    }
}
