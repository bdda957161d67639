//! How long each bank lasts by itself, and how long a drive fills it.

use std::ops::ControlFlow;

use uom::si::time::hour;

use super::Options;
use super::books::{Day, Sources, State};
use super::model::Model;
use super::outcome::NOTHING_WH;
use super::profile::{Asked, Doing, Profile};
use super::run::Stage;
use crate::installation::{Installation, Stay};
use crate::quantity::Time;

/// What is asked of a bank by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct BankAnswers {
    /// Its batteries.
    pub name: String,
    /// How long it lasts from full with every source off, loads as in the diary; `None` where it lasts a year or has no loads.
    pub autonomy: Option<Time>,
    /// How long a drive takes from its floor to the chosen level, loads at their daily mean; `None` where none does within
    /// four days.
    pub drive_to_level: Option<Time>,
    /// The same to where it takes hardly more: 99 % of its ceiling.
    pub drive_to_full: Option<Time>,
}

/// Steps of a day of a drive.
const DRIVE_STEPS: usize = 288;
/// Longest drive, in days.
const DRIVE_DAYS: usize = 4;
/// Longest autonomy, in hours.
const YEAR_H: f64 = 8784.0;
/// What counts as full.
const FULL: f64 = 0.99;

/// The answers for every bank in a stay.
pub(super) fn answers(stage: &Stage<'_>, stay: &Stay, options: &Options<'_>) -> Vec<BankAnswers> {
    let parked = Stay { driving: Vec::new(), shore: Vec::new(), ..stay.clone() };
    let steps_per_day = u32::try_from(stage.profile.steps_per_day).unwrap_or(options.steps_per_day);
    // Where nothing is driven the stay itself is parked.
    let moves = !(stay.driving.is_empty() && stay.shore.is_empty());
    let resting = moves.then(|| Profile::new(stage.plan, stage.model, &parked, steps_per_day));
    let profile = resting.as_ref().unwrap_or(stage.profile);
    let autonomy = autonomy(&Stage { profile, sources: Sources::NONE, ..*stage });
    let model = stage.model;
    let driven = driving(stage.plan, model, stay);
    let drive = Stage { profile: &driven, sources: Sources { sun: false, engine: true, shore: false }, ..*stage };
    let mut found = Vec::new();
    for (place, net) in model.nets.iter().enumerate() {
        let driven = !(net.engines.is_empty() && net.chargers.is_empty());
        let [drive_to_level, drive_to_full] =
            if driven { drive_to(&drive, place, [options.level.value, FULL]) } else { [None; 2] };
        let autonomy = autonomy.get(place).copied().flatten();
        found.push(BankAnswers { name: net.bank.name.clone(), autonomy, drive_to_level, drive_to_full });
    }
    found
}

/// How long each bank lasts, the stay repeated as often as it takes.
fn autonomy(stage: &Stage<'_>) -> Vec<Option<Time>> {
    let mut found = vec![None; stage.model.nets.len()];
    let asks = stage.profile.asked.iter().any(|asked| asked.power > 0.0 || asked.current > 0.0);
    let mut state = State::at(stage.model, None);
    let mut passed = 0.0;
    while asks && passed < YEAR_H && found.contains(&None) {
        stage.run(
            &mut state,
            |_| Day::default(),
            |step, _, flows| {
                let hours = stage.hours();
                let now = passed + f64::from(u32::try_from(step).unwrap_or_default()) * hours;
                for (slot, flow) in found.iter_mut().zip(flows) {
                    // Within the step, as much later as a part of it was still served.
                    let served = flow.used / (flow.used + flow.unserved).max(f64::MIN_POSITIVE);
                    if slot.is_none() && flow.unserved * hours > NOTHING_WH {
                        *slot = Some(Time::new::<hour>(now + served * hours));
                    }
                }
                if found.contains(&None) { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
            },
        );
        passed += f64::from(u32::try_from(stage.profile.doing.len()).unwrap_or(u32::MAX)) * stage.hours();
    }
    found
}

/// A drive without end, loads at the mean of the stay's first day.
fn driving(plan: &Installation, model: &Model, stay: &Stay) -> Profile {
    let always = crate::installation::Spell {
        span: crate::installation::ClockSpan::day(),
        on: crate::installation::Days::Every,
    };
    let day = Stay { driving: vec![always], shore: Vec::new(), to: stay.from, ..stay.clone() };
    let whole = Profile::new(plan, model, &day, 24);
    let nets = model.nets.len();
    let mut mean = vec![Asked::default(); nets];
    for hourly in whole.asked.chunks(nets.max(1)) {
        for (slot, asked) in mean.iter_mut().zip(hourly) {
            slot.power += asked.power / 24.0;
            slot.useful += asked.useful / 24.0;
            slot.current += asked.current / 24.0;
        }
    }
    let steps = DRIVE_STEPS * DRIVE_DAYS;
    let doing = vec![Doing { driving: 1.0, shore: 0.0 }; steps];
    Profile { doing, asked: mean.repeat(steps), steps_per_day: DRIVE_STEPS }
}

/// How long a drive takes to shares of a bank's ceiling, every other bank full.
fn drive_to(stage: &Stage<'_>, place: usize, levels: [f64; 2]) -> [Option<Time>; 2] {
    let mut state = State::at(stage.model, None);
    let Some(net) = stage.model.nets.get(place) else { return [None; 2] };
    let floor = stage.highest_floor(net) * net.bank.capacity;
    if let Some(slot) = state.charge.get_mut(place) {
        *slot = floor;
    }
    let targets = [levels[0] * net.bank.capacity, levels[1] * net.bank.ceiling];
    let mut found = targets.map(|target| (target <= floor).then(Time::default));
    let mut before = floor;
    stage.run(
        &mut state,
        |_| Day::default(),
        |step, state, _| {
            let charge = state.charge.get(place).copied().unwrap_or_default();
            for (slot, target) in found.iter_mut().zip(targets) {
                if slot.is_none() && charge >= target {
                    let part = if charge > before { (target - before) / (charge - before) } else { 1.0 };
                    let steps = f64::from(u32::try_from(step).unwrap_or_default()) + part;
                    *slot = Some(Time::new::<hour>(steps * stage.hours()));
                }
            }
            before = charge;
            if found.contains(&None) { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
        },
    );
    found
}
