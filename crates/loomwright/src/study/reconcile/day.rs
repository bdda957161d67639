//! One day of readings explained: rounds by case, the fit, gross errors, and what it says of every segment.
//! Numbers in this kernel are SI units.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::fit::{Fit, Seen};
use super::gross::{self, Gross};
use super::model::{Frame, Round};
use super::pieces::{self, SegmentResult};
use super::probe::Probe;
use super::segment::Segment;
use super::thermal::warm;
use super::{Day, Measured, Reading, ReconcileError, Slip, devices};
use crate::data::tables::constants;
use crate::network::{NetworkError, islands};
use crate::quantity::{ElectricCurrent, ElectricPotential, in_celsius, significant};
use crate::study::judge::Judgement;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;

/// A reading with what it should be.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadingResult {
    /// The reading.
    pub reading: Reading,
    /// What the plan expects, and how far that may be off and still be as planned.
    pub planned: Measured,
    /// What explains all readings together; `None` for a reading that was left out before anything was explained.
    pub explained: Measured,
    /// Why it was left out, where it was a gross error.
    pub slip: Option<Slip>,
}

/// A reading that could not be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// Line of the reading.
    pub line: usize,
    /// Why.
    pub reason: String,
}

/// What was not said of the readings.
pub(super) fn assumptions(readings: &[Reading]) -> Vec<String> {
    let percent = |share: f64| significant(100.0 * share, 3);
    // What a resistance rests on where its current was not read, and what a piece may have and be sound.
    let mut found = vec![
        format!(
            "what is not read is as the plan has it, within standard deviations of {} % and {} A for currents, {} % for arrays, {} % \
             for batteries and {} % for regulated voltages, {} % where regulation is variable (common practice, no source)",
            percent(constants::READING_LOAD_SHARE),
            constants::READING_LOAD_FLOOR_A,
            percent(constants::READING_SUN_SHARE),
            percent(constants::READING_REST),
            percent(constants::READING_REGULATED),
            percent(constants::READING_VARIABLE)
        ),
        format!(
            "joints, fuse holders and isolators are as planned from {} to {} times their planned resistance, shunts within {} %, \
             conductors from {} times their standard's largest up to it, in air up to the hottest of their zone (common practice, no \
             source)",
            constants::SPREAD_JOINT_LOW,
            constants::SPREAD_JOINT_HIGH,
            percent(constants::SHUNT_SPREAD),
            constants::SPREAD_CONDUCTOR_LOW
        ),
    ];
    let lines = |of: &dyn Fn(&Reading) -> bool| {
        let lines: Vec<String> = readings.iter().filter(|one| of(one)).map(|one| one.line.to_string()).collect();
        (!lines.is_empty()).then(|| shorten(&lines))
    };
    if let Some(lines) = lines(&|one| one.assumed) {
        found.push(format!(
            "accuracy not stated, a usual instrument's counts (common practice, no source): lines {lines}"
        ));
    }
    if let Some(lines) = lines(&|one| one.ambient.is_none() && !matches!(one.measured, Measured::Power { .. })) {
        found.push(format!(
            "air not stated: {} °C within {} K count for the conductors (common practice, no source): lines {lines}",
            constants::READING_AIR_C,
            constants::READING_AIR_K
        ));
    }
    found
}

/// Some of many, so that a line stays a line.
fn shorten(all: &[String]) -> String {
    const SHOWN: usize = 12;
    let shown: Vec<&str> = all.iter().take(SHOWN).map(String::as_str).collect();
    let more = if all.len() > SHOWN { format!(" and {} more", all.len() - SHOWN) } else { String::new() };
    format!("{}{more}", shown.join(", "))
}

/// The rounds of a day, by case, with what cannot be used told.
fn rounds(judgement: &Judgement, frame: &Frame, readings: &[&Reading], refused: &mut Vec<Refused>) -> Vec<Round> {
    let mut air: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for reading in readings {
        air.entry(reading.case).or_default().extend(reading.ambient.map(in_celsius));
    }
    let mut found = Vec::new();
    for (case, air) in air {
        let name = judgement.installation.cases.get(case).map_or("", |case| case.name.as_str());
        let moments = judgement.installation.cases.get(case).is_some_and(|case| !case.is_usual());
        let result = judgement.cases.iter().find(|result| result.case == case);
        let count: f64 = air.iter().map(|_| 1.0).sum();
        let mean = (count > 0.0).then(|| air.iter().sum::<f64>() / count);
        match result.filter(|_| !moments).and_then(|result| Round::new(judgement, frame, result, mean)) {
            Some(round) => found.push(round),
            None => {
                let reason = if moments {
                    format!("case {name} lasts moments only: read a case that lasts")
                } else {
                    format!("case {name} has no operating point in the plan: nothing says what to expect")
                };
                let lines = readings.iter().filter(|one| one.case == case);
                let lines =
                    lines.filter(|one| matches!(one.measured, Measured::Voltage { .. } | Measured::Current { .. }));
                refused.extend(lines.map(|one| Refused { line: one.line, reason: reason.clone() }));
            }
        }
    }
    found
}

/// The equations of a day.
fn seen(frame: &Frame, rounds: &[Round], readings: &[&Reading], refused: &mut Vec<Refused>) -> Vec<Seen> {
    let mut found = Vec::new();
    for (index, round) in rounds.iter().enumerate() {
        let branches = round.network.branches.iter().map(|one| one.nodes);
        let joined = islands(frame.nodes, branches.chain(round.network.sources.iter().map(|one| one.nodes)));
        for (place, reading) in readings.iter().enumerate().filter(|(_, reading)| reading.case == round.case) {
            let electric = matches!(reading.measured, Measured::Voltage { .. } | Measured::Current { .. });
            let Some(seen) = Seen::of(frame, index, place, reading) else {
                if electric {
                    let reason =
                        "the plan has no such place: RUN@fuse is there only where the run has a fuse".to_owned();
                    refused.push(Refused { line: reading.line, reason });
                }
                continue;
            };
            let apart = match seen.probe {
                Probe::Voltage([one, other]) => joined.get(one) != joined.get(other),
                Probe::Current(bridge) => round.branches.get(bridge).copied().flatten().is_none(),
                Probe::Draw(_) | Probe::Given(_) => false,
            };
            if apart {
                let reason = "nothing joins these two points in this case: their voltage is any".to_owned();
                refused.push(Refused { line: reading.line, reason });
            } else {
                found.push(seen);
            }
        }
    }
    found
}

/// A number as what was measured, with the half-width of an interval.
fn as_measured(like: &Measured, value: f64, within: f64) -> Measured {
    let volts = ElectricPotential::new::<volt>;
    let amperes = ElectricCurrent::new::<ampere>;
    match *like {
        Measured::Voltage { between, .. } => Measured::Voltage { between, value: volts(value), within: volts(within) },
        Measured::Current { run, .. } => Measured::Current { run, value: amperes(value), within: amperes(within) },
        other => other,
    }
}

/// What the plan says of every equation, and how far that may be off and still be as planned.
fn planned(fit: &mut Fit<'_>) -> Result<Vec<(f64, f64)>, NetworkError> {
    let views = fit.views()?;
    let off = |(seen, view): (&Seen, &super::probe::View)| {
        let Some(round) = fit.rounds.get(seen.round) else { return (view.value, 0.0) };
        let rough = round.rough.iter().zip(&view.own).map(|(rough, slope)| (rough.deviation * slope).powi(2));
        let bridges = round.planned.iter().zip(&view.bridges);
        let bridges = bridges.map(|(planned, slope)| ((planned.most - planned.least) * slope).powi(2) / 12.0);
        (view.value, 1.96 * (rough.sum::<f64>() + bridges.sum::<f64>()).sqrt())
    };
    Ok(fit.seen.iter().zip(&views).map(off).collect())
}

/// Explains the readings of a day.
pub(super) fn explain(
    judgement: &Judgement,
    date: Option<Date>,
    readings: &[&Reading],
    refused: &mut Vec<Refused>,
) -> Result<Day, ReconcileError> {
    let frame = Frame::new(judgement, readings);
    let rounds = rounds(judgement, &frame, readings, refused);
    let seen = seen(&frame, &rounds, readings, refused);
    let mut fit = Fit::new(&frame, &rounds, seen)?;
    let planned = planned(&mut fit)?;
    let mut gross = gross::against_plan(&mut fit, judgement.installation.system_voltage.value)?;
    fit.settle()?;
    gross.extend(gross::against_others(&mut fit)?);
    if !fit.explains() {
        let reason =
            "with this line the readings have no explanation: values or accuracies lie too many powers of ten apart";
        let lines = fit.seen.iter().filter_map(|seen| readings.get(seen.reading));
        refused.extend(lines.map(|one| Refused { line: one.line, reason: reason.to_owned() }));
        fit = Fit::new(&frame, &rounds, Vec::new())?;
        fit.settle()?;
    }
    let results = results(&fit, readings, &planned, &gross);
    let segments = pieces::segments(judgement, &mut fit, readings)?;
    let devices = devices::devices(&judgement.installation, &mut fit, readings)?;
    let mut currents = BTreeMap::new();
    for (index, round) in rounds.iter().enumerate() {
        let bridges = fit.currents(index)?;
        let runs = frame.cables.iter().map(|bridge| bridges.get(*bridge).copied().unwrap_or(0.0));
        currents.insert(round.case, runs.collect::<Vec<f64>>());
    }
    let warm = readings.iter().filter_map(|reading| {
        let judged = || {
            let result = judgement.cases.iter().find(|result| result.case == reading.case);
            result.map_or_else(Vec::new, |result| result.run_currents.iter().map(|current| current.value).collect())
        };
        warm(judgement, reading, &currents.get(&reading.case).cloned().unwrap_or_else(judged))
    });
    let warm = warm.collect();
    let all = frame.bridges.iter().flat_map(|bridge| bridge.segments.iter().copied());
    let told = |segment: &Segment| segments.iter().any(|result: &SegmentResult| result.segments.contains(segment));
    let untold = all.filter(|segment| !told(segment)).collect();
    let clamp_zero = fit.zero.then(|| {
        let last = fit.groups.members.len();
        let within = fit.unit(last).map_or(0.0, |half| fit.spread(&half).1);
        [fit.shared.get(last).copied().unwrap_or(0.0), within].map(ElectricCurrent::new::<ampere>)
    });
    Ok(Day { date, readings: results, segments, devices, warm, clamp_zero, untold })
}

fn results(fit: &Fit<'_>, readings: &[&Reading], planned: &[(f64, f64)], gross: &[Gross]) -> Vec<ReadingResult> {
    let mut found: Vec<(usize, ReadingResult)> = Vec::new();
    for (place, (seen, (shows, _, half))) in fit.seen.iter().zip(&fit.rows).enumerate() {
        let Some(reading) = readings.get(seen.reading) else { continue };
        let (value, off) = planned.get(place).copied().unwrap_or_default();
        let gross = gross.iter().find(|gross| gross.seen == place);
        let explained = match gross {
            Some(gross) => gross.expected,
            None => (*shows, 1.96 * half.variance().sqrt()),
        };
        let result = ReadingResult {
            reading: (*reading).clone(),
            planned: as_measured(&reading.measured, value, off),
            explained: as_measured(&reading.measured, explained.0, explained.1),
            // Told by the line that stands in the file, not by the place in a list of ours.
            slip: gross.map(|gross| match gross.slip {
                Slip::Point(other) => Slip::Point(readings.get(other).map_or(0, |reading| reading.line)),
                slip => slip,
            }),
        };
        found.push((seen.reading, result));
    }
    found.sort_by_key(|(place, _)| *place);
    found.into_iter().map(|(_, result)| result).collect()
}
