//! A joint over the years: its excess resistance against time.

use jiff::civil::Date;

use crate::data::tables::constants;
use crate::heat::resistance_at_rise;
use crate::quantity::{ElectricalResistance, TemperatureInterval};
use crate::study::judge::Judgement;
use crate::study::reconcile::{Seen, Segment};
use uom::si::electrical_resistance::ohm;
use uom::si::temperature_interval::kelvin;

/// Days of a year, for a slope per year.
const YEAR: f64 = 365.25;
/// A reading that is said to be exact counts as good to a nanoohm, or it alone would count.
const FINEST_OHM: f64 = 1e-9;

/// How a segment's excess resistance has gone, by a straight line through readings of several days, each weighted by the
/// inverse square of its uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Trend {
    /// The segment.
    pub segment: Segment,
    /// What it is called.
    pub name: String,
    /// The first day and the last.
    pub days: [Date; 2],
    /// How many readings it rests on.
    pub readings: usize,
    /// What it gains in a year; negative where it falls.
    pub per_year: ElectricalResistance,
    /// Half the width of that one's 95 % interval.
    pub within: ElectricalResistance,
    /// What the line says for the last day.
    pub at_last: ElectricalResistance,
    /// Whether it grows: more than its uncertainty.
    pub grows: bool,
    /// The excess at which it is to be remade at the latest: a joint whose body then is 45 K hotter than its cable at the
    /// run's design current. `None` for what is no joint, and where nothing can be told.
    pub limit: Option<ElectricalResistance>,
    /// When it gets there if it goes on; `None` where it does not grow, or not within a hundred years.
    pub reaches: Option<Date>,
}

/// The trend of a segment; `None` with fewer than two days.
///
/// Uncertainties are those of the readings. They are not widened when the readings scatter more than they should: a joint that
/// jumps about is a loose one, and would then be told as quiet.
pub(super) fn trend(judgement: &Judgement, segment: Segment, seen: &[Seen]) -> Option<Trend> {
    let usable = |one: &&Seen| one.segment == segment && one.excess.is_finite() && one.within.is_finite();
    let mut dated: Vec<(Date, f64, f64)> = seen
        .iter()
        .filter(usable)
        .filter_map(|one| Some((one.date?, one.excess.get::<ohm>(), one.within.get::<ohm>().abs().max(FINEST_OHM))))
        .collect();
    dated.sort_by_key(|(date, ..)| *date);
    let (first, last) = (dated.first()?.0, dated.last()?.0);
    if first == last {
        return None;
    }
    let years = |date: Date| f64::from((date - first).get_days()) / YEAR;
    // Half widths at 95 % instead of standard deviations: their factor leaves weights alone and comes out in the slope.
    let weights: Vec<(f64, f64, f64)> =
        dated.iter().map(|(date, excess, within)| (years(*date), *excess, 1.0 / (within * within))).collect();
    let sum = |of: fn(&(f64, f64, f64)) -> f64| weights.iter().map(of).sum::<f64>();
    let whole = sum(|(.., weight)| *weight);
    let (mean, level) =
        (sum(|(time, _, weight)| time * weight) / whole, sum(|(_, value, weight)| value * weight) / whole);
    let spread: f64 = weights.iter().map(|(time, _, weight)| weight * (time - mean) * (time - mean)).sum();
    let slope =
        weights.iter().map(|(time, value, weight)| weight * (time - mean) * (value - level)).sum::<f64>() / spread;
    let within = 1.0 / spread.sqrt();
    let at_last = level + slope * (years(last) - mean);
    // Absurd readings weigh nothing, and nothing has no line.
    if !(slope.is_finite() && within.is_finite() && at_last.is_finite()) {
        return None;
    }
    let grows = slope > within;
    let limit = limit(judgement, segment);
    let reaches = limit.filter(|_| grows).and_then(|limit| {
        let left = ((limit.get::<ohm>() - at_last) / slope * YEAR).max(0.0).floor();
        // Over a hundred years nobody plans for; a text holds the number without a cast.
        let days: i64 = (left < 100.0 * YEAR).then(|| format!("{left:.0}").parse().ok()).flatten()?;
        last.checked_add(jiff::Span::new().try_days(days).ok()?).ok()
    });
    let of = ElectricalResistance::new::<ohm>;
    Some(Trend {
        segment,
        name: segment.name(&judgement.installation),
        days: [first, last],
        readings: dated.len(),
        per_year: of(slope),
        within: of(within),
        at_last: of(at_last),
        grows,
        limit,
        reaches,
    })
}

/// The excess of a joint at which it is 45 K hotter than its cable at the run's design current; none is left where the planned
/// joint already is.
fn limit(judgement: &Judgement, segment: Segment) -> Option<ElectricalResistance> {
    let Segment::Joint(run, end) = segment else { return None };
    let path = judgement.models.get(run)?.end_path(end)?;
    let current = judgement.design.get(run)?.current;
    let rise = TemperatureInterval::new::<kelvin>(constants::JOINT_RISE_K);
    // One cable cools it: what it sits on may be as warm.
    let whole = resistance_at_rise(rise, current, &[path]).ok()??;
    let planned = judgement.models.get(run)?.joint(end);
    Some((whole - planned).max(ElectricalResistance::default()))
}
