//! What a stay asks, step by step: loads, drives, shore power.
//!
//! Bare numbers inside are W, A and shares of 1.

use jiff::civil::Date;
use uom::si::power::watt;
use uom::si::time::second;

use super::model::{Group, Model, drawn};
use crate::converter::Losses;
use crate::data::tables::constants;
use crate::installation::{Installation, Stay, Usage};
use crate::quantity::{Power, Time};

/// What a bank is asked for in a step.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Asked {
    /// Power at its terminals, W.
    pub(super) power: f64,
    /// What loads get of that, W.
    pub(super) useful: f64,
    /// Current of loads that draw one, A.
    pub(super) current: f64,
}

/// What the vehicle does in a step, as shares of it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Doing {
    pub(super) driving: f64,
    pub(super) shore: f64,
}

/// A stay, step by step.
#[derive(Clone, Debug)]
pub(super) struct Profile {
    /// By step.
    pub(super) doing: Vec<Doing>,
    /// By step and then net.
    pub(super) asked: Vec<Asked>,
    pub(super) steps_per_day: usize,
}

/// Whether a date knows a drive or shore power, its own or one from the evening before.
fn stirs(stay: &Stay, date: Date) -> bool {
    let day = [0.0, 86_400.0].map(Time::new::<second>);
    stay.driving.iter().chain(&stay.shore).any(|spell| spell.overlap(date, day[0], day[1]).value > 0.0)
}

/// Whether a load is used in the month of a date.
fn in_use(usage: &Usage, date: Date) -> bool {
    let month = usize::try_from(date.month() - 1).ok();
    month.and_then(|month| usage.months.get(month)).copied().unwrap_or(true)
}

/// The part of a part of a day that belongs to a load's hours.
fn hours(usage: &Usage, start: Time, end: Time) -> f64 {
    let overlap = usage.hours.iter().fold(0.0, |sum, span| {
        let [same, before] = span.overlap(start, end);
        sum + same.value + before.value
    });
    (overlap / (end - start).value).min(1.0)
}

impl Profile {
    pub(super) fn new(plan: &Installation, model: &Model, stay: &Stay, steps_per_day: u32) -> Self {
        let length = 86_400.0 / f64::from(steps_per_day);
        let days = stay.days();
        let steps = usize::try_from(days * steps_per_day).unwrap_or_default();
        let mut doing = Vec::with_capacity(steps);
        let mut asked = Vec::with_capacity(steps * model.nets.len());
        let mut date = stay.from;
        let per_day = usize::try_from(steps_per_day).unwrap_or_default() * model.nets.len();
        let mut before: Option<i8> = None;
        for _ in 0..days {
            let quiet = !stirs(stay, date);
            if quiet && before == Some(date.month()) {
                // A quiet day asks what the quiet day before it in the same month does.
                doing.extend(std::iter::repeat_n(Doing::default(), usize::try_from(steps_per_day).unwrap_or_default()));
                asked.extend_from_within(asked.len() - per_day..);
                let Ok(next) = date.tomorrow() else { break };
                date = next;
                continue;
            }
            before = quiet.then(|| date.month());
            for step in 0..steps_per_day {
                let [start, end] = [0.0, 1.0].map(|next| Time::new::<second>(length * (f64::from(step) + next)));
                let of = |spells: &[crate::installation::Spell]| {
                    (spells.iter().map(|spell| spell.overlap(date, start, end).value).sum::<f64>() / length).min(1.0)
                };
                let now = Doing { driving: of(&stay.driving), shore: of(&stay.shore) };
                doing.push(now);
                for net in &model.nets {
                    let mut sum = Asked::default();
                    for group in &net.groups {
                        add(&mut sum, plan, stay, group, date, [start, end], now);
                    }
                    asked.push(sum);
                }
            }
            let Ok(next) = date.tomorrow() else { break };
            date = next;
        }
        Self { doing, asked, steps_per_day: usize::try_from(steps_per_day).unwrap_or(1) }
    }
}

/// Adds what a group of loads asks.
fn add(
    sum: &mut Asked,
    plan: &Installation,
    stay: &Stay,
    group: &Group,
    date: Date,
    [start, end]: [Time; 2],
    now: Doing,
) {
    let wiring = 1.0 - constants::WIRING_LOSS;
    let (mut useful, mut taken, mut switched_on) = (0.0, 0.0, 0.0);
    let used = group.loads.iter().filter(|load| stay.loads.as_ref().is_none_or(|loads| loads.contains(load)));
    let used = used.filter_map(|load| plan.loads.get(*load)).filter(|load| in_use(&load.usage, date));
    for load in used {
        let parked = 1.0 - (now.driving + now.shore).min(1.0);
        let states = [parked, now.driving, now.shore];
        let when: f64 = load.runs_when.iter().zip(states).filter(|(runs, _)| **runs).map(|(_, share)| share).sum();
        let needed = hours(&load.usage, start, end) * when;
        let runs = needed * load.usage.share.value;
        let rests = (1.0 - runs).max(0.0);
        let standby = load.usage.standby.get::<watt>();
        let (power, current) = drawn(load.kind, load.nominal);
        match &group.losses {
            None => {
                sum.power += (power * runs + standby * rests) / wiring;
                sum.useful += power * runs + standby * rests;
                sum.current += current * runs;
            }
            Some(losses) => {
                let power = power + current * load.nominal.value;
                useful += power * runs + standby * rests;
                taken += above_rest(losses, power) * runs + above_rest(losses, standby) * rests;
                // Whether it is needed at all in this step: for what stands by, all of it.
                switched_on = f64::max(switched_on, if standby > 0.0 { needed + rests } else { needed }).min(1.0);
            }
        }
    }
    if let Some(losses) = &group.losses {
        let on = if group.always_on { 1.0 } else { switched_on };
        sum.power += (taken + losses.input(Power::new::<watt>(0.0)).get::<watt>() * on) / wiring;
        sum.useful += useful;
    }
}

/// What a converter takes for a load over what it takes for itself.
fn above_rest(losses: &Losses, power: f64) -> f64 {
    if power <= 0.0 {
        return 0.0;
    }
    (losses.input(Power::new::<watt>(power)) - losses.input(Power::new::<watt>(0.0))).get::<watt>()
}
