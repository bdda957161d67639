//! Rules on devices: alternators, chargers, batteries, links, and what no source reaches.

use super::{Measure, n, plain};
use crate::data::Confidence;
use crate::finding::{Finding, Signal};
use crate::installation::{Chemistry, ConverterKind, DeviceRef, Engine, Installation, LinkKind, Place, Regulation};
use crate::network::{Part, joined};
use crate::study::judge::Judgement;
use crate::study::judge::currents::at_lock_out;
use crate::study::judge::paths::{are_joined, driving, way};

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for index in 0..installation.alternators.len() {
        found.extend(headroom(judgement, index));
        found.extend(heating(judgement, index));
    }
    found.extend(signals(installation));
    found.extend(coupled_lithium(installation));
    found.extend(charge_voltages(installation));
    found.extend(lock_out_currents(judgement));
    found.extend(ratings(judgement));
    found.extend(unsupplied(judgement));
    found.extend(chassis(installation));
    found
}

/// What an alternator must deliver against what it can, in every driving case.
fn headroom(judgement: &Judgement, index: usize) -> Vec<Finding> {
    let Some(alternator) = judgement.installation.alternators.get(index) else { return Vec::new() };
    let mut found = Vec::new();
    for case in &judgement.cases {
        let Some(of) = judgement.installation.cases.get(case.case).filter(|of| driving(of)) else { continue };
        let Some((asked, available)) = case.alternators.get(index) else { continue };
        let (asked, available) = (asked.value, available.value);
        let cruising = of.engine == Engine::Cruise;
        let measure = Measure {
            rule: "alternator-headroom",
            subject: &alternator.name,
            measured: asked,
            limit: available,
            unit: "A",
            margin: if asked > 0.0 { available / asked } else { f64::INFINITY },
            failing: if cruising { Signal::Warning } else { Signal::Caution },
            citation: "common practice, no source: no deficit while cruising",
            confidence: Confidence::CommonPractice,
            case: Some(of.name.clone()),
        };
        found.extend(measure.finding(|fails| {
            let lack = asked - available;
            if fails {
                format!(
                    "{} A asked of {} A available: the starter battery loses {} Ah every hour",
                    n(asked),
                    n(available),
                    n(lack)
                )
            } else {
                format!("{} A asked of {} A available", n(asked), n(available))
            }
        }));
    }
    found
}

/// Continuous charging above half of the hot output heats an alternator that nothing watches.
fn heating(judgement: &Judgement, index: usize) -> Option<Finding> {
    let installation = &judgement.installation;
    let alternator = installation.alternators.get(index)?;
    let (case, drawn) = judgement
        .cases
        .iter()
        .filter(|case| installation.cases.get(case.case).is_some_and(|of| of.engine == Engine::Cruise))
        .map(|case| {
            let chargers = case.demands.iter().filter(|(part, _)| {
                matches!(part, Part::Device(DeviceRef::Converter(converter)) if installation
                    .converters
                    .get(*converter)
                    .is_some_and(|one| one.kind == ConverterKind::DcDcCharger))
            });
            (case.case, chargers.map(|(_, current)| current.value).sum::<f64>())
        })
        .max_by(|one, other| one.1.total_cmp(&other.1))?;
    let half = 0.5 * alternator.hot_output.value;
    if drawn <= half {
        return None;
    }
    let mut finding = plain(
        "alternator-heating",
        &alternator.name,
        Signal::Caution,
        format!(
            "chargers draw {} A for hours, more than half of its hot output of {} A: watch its temperature",
            n(drawn),
            n(2.0 * half)
        ),
        "common practice, no source",
    );
    finding.case = installation.cases.get(case).map(|case| case.name.clone());
    Some(finding)
}

/// Under variable regulation voltage does not tell that the engine runs.
fn signals(installation: &Installation) -> Vec<Finding> {
    let variable = installation.alternators.iter().any(|alternator| alternator.regulation == Regulation::Variable);
    let blind = installation
        .converters
        .iter()
        .filter(|converter| variable && converter.kind == ConverterKind::DcDcCharger && !converter.running_signal);
    blind
        .map(|converter| {
            let message = "with variable regulation (11.6 to 15.4 V is possible) voltage alone cannot tell that the engine runs: connect \
                           an ignition or D+ signal";
            plain("engine-running-signal", &converter.name, Signal::Warning, message.to_owned(), "common practice, no source")
        })
        .collect()
}

/// Lithium joined to an alternator without anything that limits the current.
fn coupled_lithium(installation: &Installation) -> Vec<Finding> {
    let mut found = Vec::new();
    let Some(case) = installation.cases.iter().find(|case| driving(case)) else { return found };
    let island = joined(installation, case);
    for battery in installation.batteries.iter().filter(|battery| battery.chemistry == Chemistry::LithiumIronPhosphate)
    {
        let direct = installation
            .alternators
            .iter()
            .any(|alternator| are_joined(&island, alternator.nodes[0], battery.nodes[0]));
        if direct {
            let message =
                "coupled to an alternator without a current limit: it takes all the alternator can give, for hours"
                    .to_owned();
            found.push(plain(
                "charge-current-limited",
                &battery.name,
                Signal::Warning,
                message,
                "common practice, no source",
            ));
        }
    }
    found
}

/// Chargers against the highest charge voltage of the batteries they reach.
fn charge_voltages(installation: &Installation) -> Vec<Finding> {
    let mut found = Vec::new();
    for converter in installation.converters.iter().filter(|converter| converter.kind != ConverterKind::Buck) {
        let Some(output) = converter.output else { continue };
        let reached = installation.batteries.iter().filter(|battery| {
            battery.nodes[0] == output[0] || !way(installation, battery.nodes[0], output[0]).is_empty()
        });
        for battery in reached {
            let (measured, limit) = (converter.output_voltage.value, battery.charge_voltage.value);
            let measure = Measure {
                rule: "charge-voltage-suits-battery",
                subject: &converter.name,
                measured,
                limit,
                unit: "V",
                margin: if measured <= limit * (1.0 + 1e-9) { f64::INFINITY } else { limit / measured },
                failing: Signal::Danger,
                citation: "the battery's highest charge voltage",
                confidence: Confidence::Published,
                case: None,
            };
            found.extend(measure.finding(|_| {
                format!("charges to {} V, {} ({}) allows {} V", n(measured), battery.name, battery.chemistry, n(limit))
            }));
        }
    }
    found
}

/// What a converter draws at its lock-out voltage against the conductor that feeds it.
fn lock_out_currents(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for (index, converter) in installation.converters.iter().enumerate() {
        let (Some(current), Some(input)) = (at_lock_out(installation, index), converter.input) else { continue };
        let feeding = installation.runs.iter().zip(&judgement.models).filter(|(run, _)| run.to == input[0]);
        let Some(bears) =
            feeding.filter_map(|(_, model)| model.ampacity).map(|ampacity| ampacity.value).reduce(f64::min)
        else {
            continue;
        };
        let lock_out = converter.lock_out.map_or(0.0, |voltage| voltage.value);
        let measure = Measure {
            rule: "converter-input-current",
            subject: &converter.name,
            measured: current.value,
            limit: bears,
            unit: "A",
            // The margin itself is told by the run's ampacity; here only failure.
            margin: if current.value <= bears { f64::INFINITY } else { bears / current.value },
            failing: Signal::Danger,
            citation: "input power over lock-out voltage; IEC 60364-4-43, 433.1",
            confidence: Confidence::Published,
            case: None,
        };
        found.extend(measure.finding(|_| {
            format!(
                "draws {} A just above its lock-out at {} V, its conductor bears {} A",
                n(current.value),
                n(lock_out),
                n(bears)
            )
        }));
    }
    found
}

/// Links against their rated current, over all cases.
fn ratings(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for link in &installation.links {
        let Some(rating) = link.rating else { continue };
        let touching = || {
            installation
                .runs
                .iter()
                .enumerate()
                .filter(|(_, run)| link.nodes.contains(&run.to) || link.nodes.contains(&run.from))
        };
        let worst = judgement
            .cases
            .iter()
            .filter_map(|case| {
                // What flows through a link is what flows in the runs on one of its sides.
                let side = |node| -> f64 {
                    let runs = touching().filter(|(_, run)| run.to == node || run.from == node);
                    runs.map(|(index, run)| {
                        let current = case.run_currents.get(index).copied().unwrap_or_default().value;
                        if run.to == node { current } else { -current }
                    })
                    .sum::<f64>()
                    .abs()
                };
                case.point.as_ref()?;
                Some((case.case, side(link.nodes[0]).max(side(link.nodes[1]))))
            })
            .max_by(|one, other| one.1.total_cmp(&other.1));
        let Some((case, current)) = worst else { continue };
        let limit = rating.value;
        let measure = Measure {
            rule: "device-rating",
            subject: &link.name,
            measured: current,
            limit,
            unit: "A",
            margin: if current > 0.0 { limit / current } else { f64::INFINITY },
            failing: if link.kind == LinkKind::Shunt { Signal::Warning } else { Signal::Danger },
            citation: "the device's rated current",
            confidence: Confidence::Published,
            case: installation.cases.get(case).map(|case| case.name.clone()),
        };
        found.extend(measure.finding(|_| format!("{} carries {} A, rated {} A", link.kind, n(current), n(limit))));
    }
    found
}

/// Loads that no source reaches in any case.
fn unsupplied(judgement: &Judgement) -> Vec<Finding> {
    let loads = judgement.installation.loads.iter().filter_map(|load| Some((load, load.nodes?)));
    loads
        .filter(|(_, nodes)| !judgement.cases.iter().any(|case| case.supplies(nodes[0]) && case.supplies(nodes[1])))
        .filter(|_| judgement.cases.iter().any(|case| case.point.is_some()))
        .map(|(load, _)| {
            plain("supplied", &load.name, Signal::Warning, "no source reaches it in any case".to_owned(), "the plan")
        })
        .collect()
}

/// Current in the hull of a boat.
fn chassis(installation: &Installation) -> Vec<Finding> {
    let forbidden = installation.place == Place::Boat || installation.practice.forbids_chassis_return().is_some();
    let Some(chassis) = installation.chassis.filter(|_| forbidden) else { return Vec::new() };
    let carrying =
        installation.links.iter().filter(|link| link.kind == LinkKind::Joint && link.nodes.contains(&chassis));
    carrying
        .map(|link| {
            let subject = link.name.trim_end_matches(" chassis path");
            let message =
                "returns through the hull or chassis, which a boat must not: it corrodes underwater metal".to_owned();
            plain("return-path", subject, Signal::Warning, message, "common practice, no source")
        })
        .collect()
}
