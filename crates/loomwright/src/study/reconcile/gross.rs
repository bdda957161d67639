//! Gross errors: readings that no plant gives are named, not fitted.
//!
//! A reading is held against what all others and the plan say without it, in units of how sure both are (W. Baarda's test of
//! data snooping, 1968: from memory). What is far off is tried as each of the usual slips; the one that fits is named.
//! Numbers in this kernel are SI units.

use super::fit::Fit;
use super::probe::Probe;
use crate::data::tables::constants;
use crate::network::NetworkError;

/// The usual slips.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slip {
    /// Probes or clamp the wrong way round.
    Sign,
    /// The decimal point or the prefix of the unit: the true value is so many times the one read.
    Decimal(i32),
    /// Another pair of points: that of another reading of the same case, by its index.
    Point(usize),
    /// Every reading of the clamp is off by as much.
    Zero,
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
    for gross in &found {
        if let Some(seen) = fit.seen.get_mut(gross.seen) {
            seen.out = true;
        }
    }
    Ok(found)
}

/// A reading against all others: how far it is off, the deviation of that, and what of it is the plan's doubt.
struct Test {
    seen: usize,
    off: f64,
    deviation: f64,
    by_plan: f64,
}

fn tests(fit: &Fit<'_>) -> Vec<Test> {
    let mut found = Vec::new();
    for (place, (seen, (shows, _, half))) in fit.seen.iter().zip(&fit.rows).enumerate() {
        let own = seen.deviation().powi(2);
        let of_fit = half.variance();
        let checked = 1.0 - of_fit / own;
        if seen.out || checked < LEAST_CHECKED {
            continue;
        }
        // What the others say, without this one.
        let off = (seen.value - shows) / checked;
        let read: f64 = fit
            .seen
            .iter()
            .zip(&fit.rows)
            .filter(|(other, _)| !other.out)
            .map(|(other, (_, _, row))| (half.covariance(row) / other.deviation()).powi(2))
            .sum();
        let by_plan = if of_fit > 0.0 {
            1.0 - (read - of_fit * of_fit / own) / (of_fit * (1.0 - of_fit / own)).max(1e-30)
        } else {
            0.0
        };
        found.push(Test { seen: place, off, deviation: (own / checked).sqrt(), by_plan });
    }
    found
}

/// How much the squares fall, and by how much the clamp is off, if all its readings are off by as much.
fn zero(fit: &Fit<'_>) -> Option<(f64, f64)> {
    let clamps: Vec<_> = fit.seen.iter().zip(&fit.rows).filter(|(seen, _)| seen.clamp && !seen.out).collect();
    if clamps.len() < 3 {
        return None;
    }
    let (mut right, mut weight) = (0.0, 0.0);
    for (one, (shows, _, half)) in &clamps {
        let here = one.deviation().powi(2);
        right += (one.value - shows) / here;
        weight += 1.0 / here;
        for (other, (_, _, row)) in &clamps {
            weight -= half.covariance(row) / (here * other.deviation().powi(2));
        }
    }
    (weight > 0.0).then(|| (right * right / weight, right / weight))
}

/// Leaves out what contradicts the other readings, the worst first, settling anew after each.
pub(super) fn against_others(fit: &mut Fit<'_>) -> Result<Vec<Gross>, NetworkError> {
    let mut found = Vec::new();
    // More than a fourth of the readings wrong is a case for measuring again, not for guessing.
    for _ in 0..fit.seen.len().div_ceil(4) {
        let impossible = impossible(fit);
        let tests = tests(fit);
        let ratio = |test: &Test| test.off.abs() / test.deviation;
        let far: Vec<&Test> = tests.iter().filter(|test| ratio(test) > FAR).collect();
        let worst = far.iter().map(|test| ratio(test)).fold(0.0, f64::max);
        if !fit.zero
            && let Some((fall, off)) = zero(fit)
        {
            let widest = fit.seen.iter().filter(|seen| seen.clamp).map(|seen| seen.within).fold(0.0, f64::max);
            let one = far.iter().map(|test| ratio(test).powi(2)).fold(FAR * FAR, f64::max);
            if fall > 1.2 * one && off.abs() > constants::CLAMP_ZERO_SHARE * widest {
                fit.zero = true;
                fit.settle()?;
                continue;
            }
        }
        let named = |test: &&&Test| {
            let seen = fit.seen.get(test.seen)?;
            let expected = seen.value - test.off;
            let slip =
                slip(seen.value, expected, test.deviation).or_else(|| point(fit, test.seen, expected, test.deviation));
            Some(Gross { seen: test.seen, slip: slip?, expected: (expected, 2.0 * test.deviation) })
        };
        let by_ratio = |one: &&&Test, other: &&&Test| ratio(one).total_cmp(&ratio(other));
        let close = || far.iter().filter(|test| ratio(test) > 0.7 * worst);
        let slipped = close().filter(|test| named(test).is_some()).max_by(by_ratio).and_then(|test| named(&test));
        // What only the plan speaks against is a departure from the plan: that is what one measures for.
        let torn = || {
            let test = close().filter(|test| test.by_plan < 0.5).max_by(by_ratio)?;
            let value = fit.seen.get(test.seen)?.value;
            Some(Gross {
                seen: test.seen,
                slip: Slip::Contradiction,
                expected: (value - test.off, 2.0 * test.deviation),
            })
        };
        let Some(gross) = impossible.or(slipped).or_else(torn) else { break };
        if let Some(seen) = fit.seen.get_mut(gross.seen) {
            seen.out = true;
        }
        found.push(gross);
        fit.settle()?;
    }
    Ok(found)
}

/// Whether the reading is that of another pair of points of the same case.
fn point(fit: &Fit<'_>, seen: usize, expected: f64, deviation: f64) -> Option<Slip> {
    let of = fit.seen.get(seen)?;
    let same = |probe: &Probe| std::mem::discriminant(probe) == std::mem::discriminant(&of.probe);
    let others =
        fit.seen.iter().zip(&fit.rows).filter(|(other, _)| {
            !other.out && other.round == of.round && other.probe != of.probe && same(&other.probe)
        });
    // Points that should show the same are none that it was mistaken for.
    let apart = |shows: f64| (shows - expected).abs() > FAR * deviation;
    let mut near = others.filter(|(other, (shows, _, _))| {
        apart(*shows) && (of.value - shows).abs() <= NEAR * other.deviation().hypot(of.deviation())
    });
    near.next().map(|(other, _)| Slip::Point(other.reading))
}

/// A group that would have less resistance than its metal: the reading that says so most.
fn impossible(fit: &Fit<'_>) -> Option<Gross> {
    for (group, members) in fit.groups.members.iter().enumerate() {
        let (least, nominal, _) = fit.planned(members);
        let half = fit.unit(group)?;
        let (deviation, within) = fit.spread(&half);
        let measured = nominal + fit.shared.get(group).copied().unwrap_or(0.0);
        if measured + 1.5 * within >= constants::IMPOSSIBLE_SHARE * least {
            continue;
        }
        let weight = |(place, (seen, (_, _, row))): &(
            usize,
            (&super::fit::Seen, &(f64, super::system::Row, super::system::Half)),
        )| {
            let moved = half.covariance(row) / seen.deviation();
            (*place, moved * moved)
        };
        let used = fit.seen.iter().zip(&fit.rows).enumerate().filter(|(_, (seen, _))| !seen.out);
        let (place, part) = used.map(|one| weight(&one)).max_by(|one, other| one.1.total_cmp(&other.1))?;
        if part < 0.1 * deviation * deviation {
            continue;
        }
        let (seen, (_, row, _)) = (fit.seen.get(place)?, fit.rows.get(place)?);
        // By how much it is too low for the planned resistance.
        let slope = row.shared.get(group).copied().unwrap_or(0.0);
        let expected = seen.value + slope * (nominal - measured);
        let doubt = (0.3 * expected.abs()).max(2.0 * seen.within);
        let slip = slip(seen.value, expected, doubt / NEAR).unwrap_or(Slip::Impossible);
        return Some(Gross { seen: place, slip, expected: (expected, doubt) });
    }
    None
}
