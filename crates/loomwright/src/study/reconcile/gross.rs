//! Gross errors: readings that no plant gives are named, not fitted.
//!
//! A reading is held against what all others and the plan say without it, in units of how sure both are (W. Baarda's test of
//! data snooping, 1968: from memory). Of those that are far off the one is left out without which all the rest fits best, and
//! the usual slip that leads from it to what the rest says is named.
//! Numbers in this kernel are SI units.

use super::fit::Fit;
use super::probe::Probe;
use super::system::Half;
use crate::data::tables::constants;
use crate::network::NetworkError;

/// The usual slips.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slip {
    /// Probes or clamp the wrong way round.
    Sign,
    /// The decimal point or the prefix of the unit: the true value is so many times the one read.
    Decimal(i32),
    /// Another pair of points: that of another reading of the same case, by its line.
    Point(usize),
    /// It contradicts the others, and no usual slip explains it.
    Contradiction,
    /// The way would have less resistance than its metal.
    Impossible,
}

/// A reading that was left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gross {
    /// Its place among those of the fit.
    pub(super) seen: usize,
    pub(super) slip: Slip,
    /// What it should have been, SI, and half the width of that interval.
    pub(super) expected: (f64, f64),
}

/// So many deviations away is no chance: one of sixteen thousand by a normal law.
const FAR: f64 = 4.0;
/// So many deviations away still fits.
const NEAR: f64 = 2.5;
/// Share of redundancy below which a reading is not tested: nothing else says what it should be.
const LEAST_CHECKED: f64 = 1e-5;
/// Powers of ten that a decimal point or a prefix slips by.
const SLIPS: [i32; 6] = [-1, 1, -2, 2, -3, 3];

/// The slip that brings a value next to what is expected.
fn slip(value: f64, expected: f64, deviation: f64) -> Option<Slip> {
    let near = |value: f64| (value - expected).abs() <= NEAR * deviation;
    // What is next to nothing looks like everything.
    if expected.abs() < NEAR * deviation {
        return None;
    }
    if near(-value) {
        return Some(Slip::Sign);
    }
    SLIPS.into_iter().find(|power| near(value * 10.0_f64.powi(*power))).map(Slip::Decimal)
}

/// Leaves out what contradicts the plan so that no plant explains it: currents, and voltages of whole devices.
pub(super) fn against_plan(fit: &mut Fit<'_>, nominal: f64) -> Result<Vec<Gross>, NetworkError> {
    let views = fit.views()?;
    let mut found = Vec::new();
    for place in 0..fit.seen.len() {
        let (Some(seen), Some(view)) = (fit.seen.get(place), views.get(place)) else { continue };
        let expected = view.value;
        let rough = fit.rounds.get(seen.round).map_or(0.0, |round| {
            let parts = round.rough.iter().zip(&view.own).map(|(rough, slope)| (rough.deviation * slope).powi(2));
            parts.sum::<f64>()
        });
        let deviation = (rough + seen.deviation().powi(2)).sqrt();
        let across = matches!(seen.probe, Probe::Voltage(_));
        let device = across && expected.abs() > 0.5 * nominal;
        let far = (seen.value - expected).abs() > FAR * deviation;
        // A bad joint takes any voltage away, but nobody measures a load that has lost most of it.
        let named = match slip(seen.value, expected, deviation) {
            Some(slip) if far && (!across || device) => Some(slip),
            Some(Slip::Sign) if across && -seen.value > FAR * seen.deviation() && expected > 0.0 => Some(Slip::Sign),
            _ => None,
        };
        if let Some(slip) = named {
            found.push(Gross { seen: place, slip, expected: (expected, 2.0 * deviation) });
        }
    }
    // Several currents off at once have one reason: the clamp, which is looked at once everything hangs together.
    let clamp = |gross: &Gross| fit.seen.get(gross.seen).is_some_and(|seen| seen.clamp);
    if found.iter().filter(|gross| clamp(gross)).count() > 1 {
        found.retain(|gross| !clamp(gross));
    }
    for gross in &found {
        if let Some(seen) = fit.seen.get_mut(gross.seen) {
            seen.out = true;
        }
    }
    Ok(found)
}

/// A reading against all others: how far it is off, and the deviation of that.
struct Test {
    seen: usize,
    off: f64,
    deviation: f64,
}

impl Test {
    /// In deviations.
    fn ratio(&self) -> f64 {
        self.off.abs() / self.deviation
    }
}

fn tests(fit: &Fit<'_>) -> Vec<Test> {
    let mut found = Vec::new();
    for (place, (seen, (shows, _, half))) in fit.seen.iter().zip(&fit.rows).enumerate() {
        let own = seen.deviation().powi(2);
        let checked = 1.0 - half.variance() / own;
        if !seen.out && checked >= LEAST_CHECKED {
            // What the others say, without this one.
            let off = (seen.value - shows) / checked;
            found.push(Test { seen: place, off, deviation: (own / checked).sqrt() });
        }
    }
    found
}

/// What of the doubt about a reading, as the others leave it, is the plan's and not that of their instruments.
fn by_plan(fit: &Fit<'_>, place: usize) -> f64 {
    let (Some(seen), Some((_, _, half))) = (fit.seen.get(place), fit.rows.get(place)) else { return 1.0 };
    let (own, of_fit) = (seen.deviation().powi(2), half.variance());
    let used = fit.seen.iter().zip(&fit.rows).filter(|(other, _)| !other.out);
    let read: f64 = used.map(|(other, (_, _, row))| (half.covariance(row) / other.deviation()).powi(2)).sum();
    let left = of_fit * (1.0 - of_fit / own);
    if left > 0.0 { 1.0 - (read - of_fit * of_fit / own) / left } else { 0.0 }
}

/// How much the squares fall, and by how much the clamp is off, if all its readings are off by as much.
fn zero(fit: &Fit<'_>) -> Option<(f64, f64)> {
    let clamps: Vec<_> = fit.seen.iter().zip(&fit.rows).filter(|(seen, _)| seen.clamp && !seen.out).collect();
    if clamps.len() < 3 {
        return None;
    }
    let weights = || clamps.iter().map(|(one, _)| 1.0 / one.deviation().powi(2));
    let right: f64 =
        clamps.iter().zip(weights()).map(|((one, (shows, ..)), weight)| weight * (one.value - shows)).sum();
    let halves = clamps.iter().zip(weights()).map(|((_, (_, _, half)), weight)| (weight, half));
    let weight = weights().sum::<f64>() - Half::variance_of_sum(halves);
    (weight > 0.0).then(|| (right * right / weight, right / weight))
}

/// A usual slip is likelier than a reading that is wrong for no reason.
const SLIP_COST: f64 = 4.0;
const OUT_COST: f64 = 9.0;
/// So much better must the rest fit.
const GAIN: f64 = FAR * FAR;
/// How far a reading may be off the plan and still be what was meant, in deviations of a slip that is sought.
const PLANNED_WITHIN: f64 = 0.12;
/// Most readings that are left out on one day: each takes some fits.
const MOST_LEFT_OUT: usize = 40;
/// Most readings that are tried for one contradiction.
const MOST_TRIED: usize = 6;

/// Leaves out what contradicts the other readings, the worst first, settling anew after each.
///
/// Where something is far off, or a way has less resistance than its metal, each reading that has a part in it is left out in
/// turn; the one without which the rest fits best is the wrong one, and the usual slip that leads from it to what the rest
/// says is named.
pub(super) fn against_others(fit: &mut Fit<'_>) -> Result<Vec<Gross>, NetworkError> {
    let mut found = Vec::new();
    // More than a fourth of the readings wrong is a case for measuring again, not for guessing.
    for _ in 0..fit.seen.len().div_ceil(4).min(MOST_LEFT_OUT) {
        let tests = tests(fit);
        let far = suspects(fit, &tests);
        if !fit.zero
            && let Some((fall, off)) = zero(fit)
        {
            let widest = fit.seen.iter().filter(|seen| seen.clamp).map(|seen| seen.within).fold(0.0, f64::max);
            let one = tests.iter().map(|test| test.ratio().powi(2)).fold(FAR * FAR, f64::max);
            if fall > 1.2 * one && off.abs() > constants::CLAMP_ZERO_SHARE * widest {
                fit.zero = true;
                fit.settle()?;
                continue;
            }
        }
        let mut suspects: Vec<usize> = far.iter().map(|test| test.seen).collect();
        let impossible = impossible(fit);
        suspects.extend(impossible.iter().filter(|seen| !suspects.contains(seen)).copied().collect::<Vec<_>>());
        let Some(gross) = explain(fit, &suspects, !impossible.is_empty())? else { break };
        out(fit, gross.seen, true);
        fit.settle()?;
        found.push(gross);
    }
    Ok(found)
}

/// The readings that are far off by what other readings say, or by what the plan says and a usual slip explains.
fn suspects<'a>(fit: &Fit<'_>, tests: &'a [Test]) -> Vec<&'a Test> {
    let mut far: Vec<&Test> = tests.iter().filter(|test| test.ratio() > FAR).collect();
    far.sort_by(|one, other| other.ratio().total_cmp(&one.ratio()));
    far.truncate(MOST_LEFT_OUT);
    far.retain(|test| {
        let value = fit.seen.get(test.seen).map_or(0.0, |seen| seen.value);
        // What only the plan speaks against is a departure from the plan: that is what one measures for.
        by_plan(fit, test.seen) < 0.5 || slip(value, value - test.off, test.deviation).is_some()
    });
    far.truncate(MOST_TRIED);
    far
}

/// What explains a contradiction best, if anything does well enough: the suspect without which all else fits best.
fn explain(fit: &mut Fit<'_>, suspects: &[usize], impossible: bool) -> Result<Option<Gross>, NetworkError> {
    if suspects.is_empty() {
        return Ok(None);
    }
    let (shared, off) = (fit.shared.clone(), fit.off.clone());
    let now = fit.misfit()?.0;
    let mut best: Option<(f64, Gross)> = None;
    for place in suspects.iter().copied() {
        (fit.shared, fit.off) = (shared.clone(), off.clone());
        let Some(value) = out(fit, place, true) else { continue };
        let (misfit, rows) = fit.misfit()?;
        out(fit, place, false);
        let Some(((shows, row), solved)) = rows.get(place).zip(fit.solved.as_ref()) else { continue };
        let own = fit.seen.get(place).map_or(0.0, super::fit::Seen::deviation);
        let deviation = own.hypot(solved.half(row).variance().sqrt());
        // Where nothing else tells, the plan does, within a few tenths.
        let named = slip(value, *shows, deviation.min(PLANNED_WITHIN * shows.abs()));
        let named = named.or_else(|| point(fit, place, *shows, deviation));
        let unexplained = if impossible { Slip::Impossible } else { Slip::Contradiction };
        let misfit = misfit + if named.is_some() { SLIP_COST } else { OUT_COST };
        if misfit.is_finite() && best.is_none_or(|(least, _)| misfit < least) {
            let expected = (*shows, (2.0 * deviation).min((NEAR * PLANNED_WITHIN * shows.abs()).max(2.0 * own)));
            best = Some((misfit, Gross { seen: place, slip: named.unwrap_or(unexplained), expected }));
        }
    }
    (fit.shared, fit.off) = (shared, off);
    Ok(best.filter(|(misfit, _)| misfit + GAIN < now).map(|(_, gross)| gross))
}

/// Leaves a reading out or takes it in again; its value.
fn out(fit: &mut Fit<'_>, place: usize, out: bool) -> Option<f64> {
    let seen = fit.seen.get_mut(place)?;
    seen.out = out;
    Some(seen.value)
}

/// Whether the reading is that of another pair of points of the same case.
fn point(fit: &Fit<'_>, seen: usize, expected: f64, deviation: f64) -> Option<Slip> {
    let of = fit.seen.get(seen)?;
    let same = |probe: &Probe| std::mem::discriminant(probe) == std::mem::discriminant(&of.probe);
    let others =
        fit.seen.iter().zip(&fit.rows).filter(|(other, _)| {
            !other.out && other.round == of.round && other.probe != of.probe && same(&other.probe)
        });
    // Points that should show much the same are none that it was mistaken for.
    let apart = |shows: f64| (shows - expected).abs() > (FAR * deviation).max(0.2 * expected.abs());
    let mut near = others.filter(|(other, (shows, _, _))| {
        apart(*shows) && (of.value - shows).abs() <= NEAR * other.deviation().hypot(of.deviation())
    });
    near.next().map(|(other, _)| Slip::Point(other.reading))
}

/// The readings that say that some group has less resistance than its metal, those that say so most first.
fn impossible(fit: &Fit<'_>) -> Vec<usize> {
    let mut found: Vec<(f64, usize)> = Vec::new();
    for (group, members) in fit.groups.members.iter().enumerate() {
        let (least, nominal, _) = fit.planned(members);
        let Some(half) = fit.unit(group) else { continue };
        let measured = nominal + fit.shared.get(group).copied().unwrap_or(0.0);
        let variance = half.variance();
        if measured + 3.0 * variance.sqrt() >= constants::IMPOSSIBLE_SHARE * least {
            continue;
        }
        for (place, (seen, (_, _, row))) in
            fit.seen.iter().zip(&fit.rows).enumerate().filter(|(_, (seen, _))| !seen.out)
        {
            let part = (half.covariance(row) / seen.deviation()).powi(2) / variance;
            if part > 0.01 {
                found.push((part, place));
            }
        }
    }
    found.sort_by(|one, other| other.0.total_cmp(&one.0));
    let mut places: Vec<usize> = Vec::new();
    for (_, place) in found {
        if !places.contains(&place) && places.len() < MOST_TRIED {
            places.push(place);
        }
    }
    places
}
