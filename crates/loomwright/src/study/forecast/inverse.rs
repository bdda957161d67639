//! Inverse answers: the battery, charger or panels that last a stay, and the best split of panels between banks.

use std::ops::ControlFlow;

use uom::si::electric_current::ampere;

use super::ForecastError;
use super::books::{Day, State};
use super::model::Model;
use super::outcome::NOTHING_WH;
use super::run::Stage;
use crate::installation::Array;
use crate::names::named;
use crate::quantity::{ElectricCharge, ElectricCurrent, Power, Ratio};

named! {
    /// What is to be sized.
    Size, "thing to size", {
        /// The capacity of the bank that falls short.
        Battery => "battery",
        /// The current of the chargers into it: from the engine and from shore.
        Charger => "charger",
        /// The panels on it, with the current limit of their controllers.
        Panels => "panels",
        /// How the panels are shared between the banks that have some.
        Split => "split",
    }
}

/// What would last.
#[derive(Clone, Debug, PartialEq)]
pub enum Sized {
    /// One quantity of one bank.
    One(Enlarged),
    /// Panels on each bank.
    Split(Vec<(String, Power)>),
}

/// One quantity of a bank, as it is and as it would last.
#[derive(Clone, Debug, PartialEq)]
pub struct Enlarged {
    /// The bank.
    pub bank: String,
    /// What was sized.
    pub size: Size,
    /// As planned: in Ah, A or W, whichever [`Size`] says.
    pub now: f64,
    /// The least that lasts, rounded up by less than a per cent; `None` where fifty times as much does not.
    pub needed: Option<f64>,
}

impl Enlarged {
    /// The capacity that lasts, where a battery was sized.
    pub fn capacity(&self) -> Option<ElectricCharge> {
        let of = self.needed.filter(|_| self.size == Size::Battery)?;
        Some(ElectricCharge::new::<uom::si::electric_charge::ampere_hour>(of))
    }

    /// The charger current that lasts, where one was sized.
    pub fn current(&self) -> Option<ElectricCurrent> {
        Some(ElectricCurrent::new::<ampere>(self.needed.filter(|_| self.size == Size::Charger)?))
    }

    /// The power of panels that lasts, where they were sized.
    pub fn power(&self) -> Option<Power> {
        Some(Power::new::<uom::si::power::watt>(self.needed.filter(|_| self.size == Size::Panels)?))
    }
}

/// Largest and smallest factor that is tried.
const FACTORS: [f64; 2] = [0.02, 50.0];

/// Sizes what was asked for.
pub(super) fn size(stage: &Stage<'_>, start: &State, size: Size) -> Result<Sized, ForecastError> {
    if size == Size::Split {
        return split(stage, start);
    }
    let place = weakest(stage, start);
    let net = stage.model.nets.get(place).ok_or(ForecastError::NoBattery)?;
    let now = match size {
        Size::Battery => net.bank.capacity,
        Size::Charger => charging(stage.model, place),
        Size::Panels | Size::Split => panels(stage, place),
    };
    if now <= 0.0 {
        return Err(ForecastError::NothingToSize(match size {
            Size::Charger => "no charger ends at the bank that falls short first",
            _ => "no array of stated modules is on the bank that falls short first",
        }));
    }
    let lasts = |factor: f64| short(&Changed::by(stage, place, size, factor), stage, start, place) <= NOTHING_WH;
    let [mut low, mut high] = FACTORS;
    let needed = if !lasts(high) {
        None
    } else if lasts(low) {
        Some(now * low)
    } else {
        // Halved on a scale of ratios until a per cent is left.
        while high / low > 1.008 {
            let middle = (low * high).sqrt();
            if lasts(middle) { high = middle } else { low = middle }
        }
        Some(now * high)
    };
    Ok(Sized::One(Enlarged { bank: net.bank.name.clone(), size, now, needed }))
}

/// A plan with one thing changed.
struct Changed {
    model: Model,
    arrays: Vec<Array>,
    /// The bank's size over what it was.
    bank: f64,
}

impl Changed {
    fn by(stage: &Stage<'_>, place: usize, size: Size, factor: f64) -> Self {
        let mut model = stage.model.clone();
        let mut arrays = stage.arrays.to_vec();
        let Some(net) = model.nets.get_mut(place) else { return Self { model, arrays, bank: 1.0 } };
        match size {
            Size::Battery => {
                net.bank = net.bank.scaled(factor);
                return Self { model, arrays, bank: factor };
            }
            Size::Charger => {
                net.shores.iter_mut().for_each(|shore| shore.most *= factor);
                let chargers = net.chargers.clone();
                for charger in chargers {
                    if let Some(charger) = model.chargers.get_mut(charger) {
                        charger.most *= factor;
                        charger.input_limit *= factor;
                        charger.losses = charger.losses.stretched(Ratio::from(factor));
                    }
                }
            }
            Size::Panels | Size::Split => enlarge(net, &mut arrays, factor),
        }
        Self { model, arrays, bank: 1.0 }
    }
}

/// So many times the panels on a bank, and the current limit and losses of their controllers with them.
fn enlarge(net: &mut super::model::Net, arrays: &mut [Array], factor: f64) {
    for sun in &mut net.suns {
        sun.most *= factor;
        sun.losses = sun.losses.stretched(Ratio::from(factor));
        for array in &sun.arrays {
            if let Some(array) = arrays.get_mut(*array) {
                array.strings.module.power *= factor;
            }
        }
    }
}

/// What the loads of a bank do not get, in Wh, up to the first that is missing.
fn short(changed: &Changed, stage: &Stage<'_>, start: &State, place: usize) -> f64 {
    let stage = Stage { model: &changed.model, arrays: &changed.arrays, ..*stage };
    let mut state = start.clone();
    if let Some(charge) = state.charge.get_mut(place) {
        *charge *= changed.bank;
    }
    let mut sum = 0.0;
    let hours = stage.hours();
    stage.run(
        &mut state,
        |_| Day::default(),
        |_, _, flows| {
            sum += flows.get(place).map_or(0.0, |flow| flow.unserved) * hours;
            // Too little is too little.
            if sum > NOTHING_WH { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        },
    );
    sum
}

/// The bank whose loads get least of what they ask; where all get everything, the one that comes nearest to its floor.
fn weakest(stage: &Stage<'_>, start: &State) -> usize {
    let judged = standing(stage, start);
    let worst = judged
        .iter()
        .enumerate()
        .max_by(|(_, one), (_, other)| one.0.total_cmp(&other.0).then(other.1.total_cmp(&one.1)));
    worst.map_or(0, |(place, _)| place)
}

/// By bank: Wh not served, and how near it came to its floor (0) from its ceiling (1).
fn standing(stage: &Stage<'_>, start: &State) -> Vec<(f64, f64)> {
    let mut state = start.clone();
    let mut found = vec![(0.0, 1.0); stage.model.nets.len()];
    let floors: Vec<f64> = stage.model.nets.iter().map(|net| stage.highest_floor(net) * net.bank.capacity).collect();
    let hours = stage.hours();
    stage.run(
        &mut state,
        |_| Day::default(),
        |_, state, flows| {
            let banks = stage.model.nets.iter().zip(&floors).zip(state.charge.iter().zip(flows));
            for ((sum, nearest), ((net, floor), (charge, flow))) in found.iter_mut().zip(banks) {
                *sum += flow.unserved * hours;
                let window = (net.bank.ceiling - floor).max(1e-9);
                *nearest = f64::min(*nearest, (charge - floor) / window);
            }
            ControlFlow::Continue(())
        },
    );
    found
}

fn charging(model: &Model, place: usize) -> f64 {
    let Some(net) = model.nets.get(place) else { return 0.0 };
    let shore: f64 = net.shores.iter().map(|shore| shore.most).sum();
    let chargers = net.chargers.iter().filter_map(|charger| model.chargers.get(*charger));
    shore + chargers.map(|charger| charger.most).sum::<f64>()
}

fn panels(stage: &Stage<'_>, place: usize) -> f64 {
    let Some(net) = stage.model.nets.get(place) else { return 0.0 };
    let arrays = net.suns.iter().flat_map(|sun| &sun.arrays).filter_map(|array| stage.arrays.get(*array));
    arrays.map(|array| array.strings.power().value).sum()
}

/// Steps of a split.
const SPLIT_STEPS: u32 = 40;

/// The split of all panels between the banks that have some, in fortieths, that leaves least unserved; of those that leave
/// nothing, the one in which the nearest to its floor stays farthest from it.
fn split(stage: &Stage<'_>, start: &State) -> Result<Sized, ForecastError> {
    let with: Vec<usize> = (0..stage.model.nets.len()).filter(|place| panels(stage, *place) > 0.0).collect();
    let [one, other] = with.as_slice() else {
        return Err(ForecastError::NothingToSize("a split needs arrays of stated modules on two banks"));
    };
    let now = [*one, *other].map(|place| panels(stage, place));
    let total: f64 = now.iter().sum();
    let mut best: Option<(f64, f64, f64)> = None;
    for step in 0..=SPLIT_STEPS {
        let share = f64::from(step) / f64::from(SPLIT_STEPS);
        let mut model = stage.model.clone();
        let mut arrays = stage.arrays.to_vec();
        for ((place, was), to) in [*one, *other].into_iter().zip(now).zip([share, 1.0 - share]) {
            if let Some(net) = model.nets.get_mut(place) {
                enlarge(net, &mut arrays, (total * to / was).max(1e-9));
            }
        }
        let judged = standing(&Stage { model: &model, arrays: &arrays, ..*stage }, start);
        let unserved: f64 = judged.iter().map(|(sum, _)| sum).sum();
        let nearest = with.iter().filter_map(|place| judged.get(*place)).map(|(_, near)| *near).fold(1.0, f64::min);
        let better = best.is_none_or(|(least, farthest, _)| {
            unserved < least - NOTHING_WH || (unserved <= least + NOTHING_WH && nearest > farthest)
        });
        if better {
            best = Some((unserved, nearest, share));
        }
    }
    let share = best.map_or(0.5, |(_, _, share)| share);
    let name = |place: usize| stage.model.nets.get(place).map(|net| net.bank.name.clone()).unwrap_or_default();
    let watts = |share: f64| Power::new::<uom::si::power::watt>(total * share);
    Ok(Sized::Split(vec![(name(*one), watts(share)), (name(*other), watts(1.0 - share))]))
}
