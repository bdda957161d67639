//! What the fit says of every piece of a way: its resistance, what that would do, and what to read next.
//! Numbers in this kernel are SI units.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::fit::Fit;
use super::next::{self, Next};
use super::segment::{Segment, Verdict};
use super::system::Half;
use super::verdict::{Piece, Warmth, milliohms, verdict};
use super::{Day, Reading};
use crate::data::tables::constants;
use crate::network::NetworkError;
use crate::quantity::ElectricalResistance;
use crate::study::judge::Judgement;
use uom::si::electrical_resistance::ohm;

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

/// Variance of a resistance, in Ω², above which the readings have hardly narrowed it: a twentieth of an ohm.
const HARDLY_TOLD: f64 = 2.5e-3;

/// Deviation of a current over itself above which a drop over it tells no resistance.
const MOST_UNSURE: f64 = 0.25;

/// Pieces of ways with their verdicts, worst first.
pub(super) fn segments(
    judgement: &Judgement,
    fit: &mut Fit<'_>,
    readings: &[&Reading],
) -> Result<Vec<SegmentResult>, NetworkError> {
    let halves: Vec<Option<Half>> = (0..fit.groups.members.len()).map(|group| fit.unit(group)).collect();
    let mut through = Vec::with_capacity(fit.rounds.len());
    for round in 0..fit.rounds.len() {
        through.push(fit.through(round)?);
    }
    let mut found = Vec::new();
    for group in 0..halves.len() {
        let Some(half) = halves.get(group).and_then(Option::as_ref).filter(|half| half.variance() < HARDLY_TOLD) else {
            continue;
        };
        let mut result = piece(judgement, fit, readings, &[group], half);
        if result.verdict == Verdict::NotTold
            && let Some((groups, half)) = together(fit, &halves, group)
        {
            result = piece(judgement, fit, readings, &groups, &half);
        }
        let at = |round: &usize| through.get(*round).and_then(|here| here.get(group)).copied().unwrap_or_default();
        let loaded = (0..through.len()).max_by(|one, other| at(one).0.abs().total_cmp(&at(other).0.abs()));
        let unsure = (0..through.len()).map(|round| at(&round)).map(|(current, doubt)| doubt / current.abs().max(1e-9));
        let unsure = unsure.fold(f64::INFINITY, f64::min);
        if result.verdict == Verdict::AsPlanned && unsure > MOST_UNSURE {
            // A drop over a current that may as well be next to none is any resistance, whatever the fit's slope says.
            result.verdict = Verdict::NotTold;
            result.reason.push_str("; but nothing says well enough what current flows there");
        }
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
        let gain = half.covariance(row) / seen.deviation().powi(2);
        // What much of the doubt comes from, or much of the value.
        if (gain * seen.deviation()).powi(2) > 0.01 * variance || (gain * seen.value).abs() > 0.1 * measured.abs() {
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
            if result.measured.value - result.within.value > constants::JOINT_GROWN * before.measured.value {
                let times = constants::JOINT_GROWN;
                result.reason.push_str(&format!(
                    ": more than {times} times as much, which fails the ageing test of IEC 60947-7-1"
                ));
            }
            result.verdict = result.verdict.max(Verdict::Watch);
        }
    }
}
