//! One day of readings explained: rounds by case, the fit, gross errors, and what it says of every segment.
//! Numbers in this kernel are SI units.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::fit::{Fit, Seen};
use super::gross::{self, Gross};
use super::model::{Frame, Round};
use super::next::{self, Next};
use super::probe::Probe;
use super::segment::{Segment, Verdict};
use super::system::Half;
use super::thermal::warm;
use super::verdict::{Piece, Warmth, milliohms, verdict};
use super::{Day, Measured, Reading, ReconcileError, Slip, devices};
use crate::data::tables::constants;
use crate::network::{NetworkError, islands};
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, in_celsius};
use crate::study::judge::Judgement;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;

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

/// How much a piece has grown since it was last measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Growth {
    /// The day of the earlier readings.
    pub since: Option<Date>,
    /// What it has more than then.
    pub by: ElectricalResistance,
    /// Half the width of the interval of that.
    pub within: ElectricalResistance,
}

/// A piece of a way as measured.
#[derive(Clone, Debug, PartialEq)]
pub struct SegmentResult {
    /// Its segments: more than one where the readings cannot tell them apart.
    pub segments: Vec<Segment>,
    /// Least, nominal and most of what was planned.
    pub planned: [ElectricalResistance; 3],
    /// Measured resistance.
    pub measured: ElectricalResistance,
    /// Half the width of its 95 % interval.
    pub within: ElectricalResistance,
    /// What is to be done.
    pub verdict: Verdict,
    /// Why, in words.
    pub reason: String,
    /// What it would do at full load.
    pub warmth: Option<Warmth>,
    /// Which one more reading would tell most, where something is open.
    pub next: Option<Next>,
    /// Lines of the readings that it rests on.
    pub lines: Vec<usize>,
    /// How it has grown.
    pub growth: Option<Growth>,
}

impl SegmentResult {
    /// What it has above the plan.
    pub fn excess(&self) -> ElectricalResistance {
        self.measured - self.planned[1]
    }

    /// What it is called: all its segments.
    pub fn name(&self, judgement: &Judgement) -> String {
        Segment::names(&self.segments, &judgement.installation)
    }
}

/// What was not said of the readings.
pub(super) fn assumptions(readings: &[Reading]) -> Vec<String> {
    let mut found = Vec::new();
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
        let moments =
            judgement.installation.cases.get(case).is_some_and(|case| case.lock_out || case.starting.is_some());
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
            let Some(seen) = Seen::of(frame, index, place, reading) else { continue };
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
    let results = results(&fit, readings, &planned, &gross);
    let segments = segments(judgement, &mut fit, readings)?;
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
    let told: Vec<usize> = fit.groups.members.iter().flatten().copied().collect();
    let bridges = frame.bridges.iter().enumerate().filter(|(bridge, _)| !told.contains(bridge));
    let untold = bridges.flat_map(|(_, bridge)| bridge.segments.iter().copied()).collect();
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

/// Pieces of ways with their verdicts, worst first.
fn segments(
    judgement: &Judgement,
    fit: &mut Fit<'_>,
    readings: &[&Reading],
) -> Result<Vec<SegmentResult>, NetworkError> {
    let halves: Vec<Option<Half>> = (0..fit.groups.members.len()).map(|group| fit.unit(group)).collect();
    let mut currents = Vec::with_capacity(fit.rounds.len());
    for round in 0..fit.rounds.len() {
        currents.push(fit.currents(round)?);
    }
    let mut found = Vec::new();
    for group in 0..halves.len() {
        let Some(half) = halves.get(group).and_then(Option::as_ref) else { continue };
        let mut result = piece(judgement, fit, readings, &[group], half);
        if result.verdict == Verdict::NotTold
            && let Some((groups, half)) = together(fit, &halves, group)
        {
            result = piece(judgement, fit, readings, &groups, &half);
        }
        let first = fit.groups.members.get(group).and_then(|members| members.first()).copied().unwrap_or(0);
        let loaded = (0..currents.len()).max_by(|one, other| {
            let at =
                |round: &usize| currents.get(*round).and_then(|here| here.get(first)).map_or(0.0, |here| here.abs());
            at(one).total_cmp(&at(other))
        });
        let case = loaded.and_then(|round| fit.rounds.get(round)).map_or(0, |round| round.case);
        if result.verdict == Verdict::NotTold {
            result.next = next::narrow(&judgement.installation, fit, group)?;
        }
        if result.next.is_none() && result.segments.len() > 1 && result.verdict != Verdict::AsPlanned {
            result.next = next::part(&judgement.installation, fit, &result.segments, case);
        }
        if !found.iter().any(|other: &SegmentResult| other.segments == result.segments) {
            found.push(result);
        }
    }
    similar(&mut found);
    found.sort_by(|one, other| {
        let watts = |result: &SegmentResult| result.warmth.as_ref().map_or(0.0, |warmth| warmth.one_sided.watts.value);
        other.verdict.cmp(&one.verdict).then(watts(other).total_cmp(&watts(one)))
    });
    Ok(found)
}

/// The groups that only show together with one that is not told: as long as the sum is told much better than its parts.
fn together(fit: &Fit<'_>, halves: &[Option<Half>], group: usize) -> Option<(Vec<usize>, Half)> {
    const MOST: usize = 4;
    let mut groups = vec![group];
    let mut sum = halves.get(group)?.clone()?;
    let alone = sum.variance();
    while groups.len() < MOST {
        let others = halves.iter().enumerate().filter(|(place, _)| !groups.contains(place));
        let against = |half: &Half| sum.covariance(half) / (sum.variance() * half.variance()).sqrt().max(1e-30);
        let others = others.filter_map(|(place, half)| Some((place, half.as_ref()?, against(half.as_ref()?))));
        let (place, half, correlation) = others.min_by(|one, other| one.2.total_cmp(&other.2))?;
        if correlation > -0.5 {
            break;
        }
        sum = sum.and(half);
        groups.push(place);
    }
    groups.sort_unstable();
    (groups.len() > 1 && sum.variance() < 0.25 * alone && fit.rows.len() > 1).then_some((groups, sum))
}

fn piece(judgement: &Judgement, fit: &Fit<'_>, readings: &[&Reading], groups: &[usize], half: &Half) -> SegmentResult {
    let members: Vec<usize> =
        groups.iter().filter_map(|group| fit.groups.members.get(*group)).flatten().copied().collect();
    let of = members.iter().filter_map(|bridge| fit.frame.bridges.get(*bridge));
    let segments: Vec<Segment> = of.flat_map(|bridge| bridge.segments.iter().copied()).collect();
    let planned = fit.planned(&members);
    let excess: f64 = groups.iter().filter_map(|group| fit.shared.get(*group)).sum();
    let (_, within) = fit.spread(half);
    let measured = planned.1 + excess;
    let (verdict, mut reason, warmth) = verdict(judgement, Piece { segments: &segments, planned, measured, within });
    let variance = half.variance();
    let mut lines: Vec<usize> = Vec::new();
    for (seen, (_, _, row)) in fit.seen.iter().zip(&fit.rows).filter(|(seen, _)| !seen.out) {
        if (half.covariance(row) / seen.deviation()).powi(2) > 0.01 * variance {
            lines.extend(readings.get(seen.reading).map(|reading| reading.line));
        }
    }
    lines.sort_unstable();
    // A slip of the decimal point and a bad joint look alike where nothing else tells.
    let times = (measured / planned.1.max(1e-12)).log10();
    if verdict == Verdict::Remake && lines.len() <= 2 && times > 0.9 && (times - times.round()).abs() < 0.04 {
        reason.push_str("; just ten or a hundred times the plan: look at the decimal point first");
    }
    let ohms = ElectricalResistance::new::<ohm>;
    SegmentResult {
        segments,
        planned: [planned.0, planned.1, planned.2].map(ohms),
        measured: ohms(measured),
        within: ohms(within),
        verdict,
        reason,
        warmth,
        next: None,
        lines,
        growth: None,
    }
}

/// A joint measured by itself is held against the best of its like.
fn similar(found: &mut [SegmentResult]) {
    let alone = |result: &SegmentResult| match result.segments.as_slice() {
        [Segment::Joint(..)] => Some(result.planned[1].value.to_bits()),
        _ => None,
    };
    let best: BTreeMap<u64, f64> = found.iter().fold(BTreeMap::new(), |mut best, result| {
        if let Some(kind) = alone(result) {
            let highest = (result.measured + result.within).value;
            best.entry(kind).and_modify(|least: &mut f64| *least = least.min(highest)).or_insert(highest);
        }
        best
    });
    for result in found {
        let Some(least) = alone(result).and_then(|kind| best.get(&kind)) else { continue };
        let lowest = (result.measured - result.within).value;
        if result.verdict == Verdict::AsPlanned && lowest > constants::JOINT_OVER_SIMILAR * least && *least > 0.0 {
            result.verdict = Verdict::Watch;
            result.reason = format!(
                "{}; more than {} times the best joint of its like, {}",
                result.reason,
                constants::JOINT_OVER_SIMILAR,
                milliohms(*least)
            );
        }
    }
}

/// What has grown since the same segments were last measured.
pub(super) fn grown(day: &mut Day, earlier: &[Day]) {
    for result in &mut day.segments {
        let before =
            earlier.iter().rev().filter(|day| day.date.is_some()).find_map(|day| {
                day.segments.iter().find(|one| one.segments == result.segments).map(|one| (day.date, one))
            });
        let Some((since, before)) = before.filter(|_| day.date.is_some()) else { continue };
        let by = result.measured - before.measured;
        let within = ElectricalResistance::new::<ohm>(result.within.value.hypot(before.within.value));
        result.growth = Some(Growth { since, by, within });
        let beyond = by.value > (constants::JOINT_OVER_BASELINE - 1.0) * before.measured.value;
        if by > within && beyond {
            let since = since.map_or_else(String::new, |date| format!(" since {date}"));
            result.reason = format!("{}; {} more{since}", result.reason, milliohms(by.value));
            result.verdict = result.verdict.max(Verdict::Watch);
        }
    }
}
