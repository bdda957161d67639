//! A stay, step after step: the books of every bank.
//!
//! Bare numbers inside are V, A, Ah, W, Wh, h.

use super::bank::Weathered;
use super::books::{Day, Flow, MOST_BANKS, MOST_SOURCES, Sources, State};
use super::coupling;
use super::light::Light;
use super::model::{Charger, Model, Net};
use super::node::{Ask, Settled, Source, settle};
use super::profile::{Asked, Doing, Profile};
use crate::data::tables::constants;
use crate::installation::{Array, Installation};
use crate::quantity::{Power, ThermodynamicTemperature, celsius};
use std::ops::ControlFlow;
use uom::si::power::watt;

/// A stay ready to be run.
#[derive(Clone, Copy)]
pub(super) struct Stage<'a> {
    pub(super) plan: &'a Installation,
    pub(super) arrays: &'a [Array],
    pub(super) model: &'a Model,
    pub(super) profile: &'a Profile,
    pub(super) light: &'a Light,
    pub(super) sources: Sources,
    pub(super) idle_share: f64,
    pub(super) temperature: Option<ThermodynamicTemperature>,
}

impl Stage<'_> {
    pub(super) fn hours(&self) -> f64 {
        24.0 / f64::from(u32::try_from(self.profile.steps_per_day).unwrap_or(1))
    }

    /// Lowest state of charge of use of a bank on the coldest day.
    pub(super) fn highest_floor(&self, net: &Net) -> f64 {
        let air = self.light.air.iter().copied().reduce(ThermodynamicTemperature::min);
        let coldest = self.temperature.or(air).unwrap_or_else(|| celsius(constants::MILD_C));
        net.bank.at(coldest, self.hours()).floor / net.bank.capacity
    }

    /// Temperature of the batteries on a day.
    pub(super) fn temperature_on(&self, day: usize) -> ThermodynamicTemperature {
        let air = self.light.air.get(day).or(self.light.air.last()).copied();
        self.temperature.or(air).unwrap_or_else(|| celsius(constants::MILD_C))
    }

    /// What holds for each bank on a day.
    fn weathered(&self, day: usize, into: &mut Vec<Weathered>) {
        let temperature = self.temperature_on(day);
        let hours = self.hours();
        into.clear();
        into.extend(self.model.nets.iter().map(|net| net.bank.at(temperature, hours)));
    }

    /// Runs the stay from a state on; `day` says what each day is like, `seen` sees each step with the flows of every bank, and may
    /// end it.
    pub(super) fn run(
        &self,
        state: &mut State,
        mut day: impl FnMut(usize) -> Day,
        mut seen: impl FnMut(usize, &State, &[Flow]) -> ControlFlow<()>,
    ) {
        let hours = self.hours();
        let mut weathered = Vec::with_capacity(self.model.nets.len());
        let mut flows = vec![Flow::default(); self.model.nets.len()];
        let mut today = Day::default();
        for (step, doing) in self.profile.doing.iter().enumerate() {
            if step % self.profile.steps_per_day == 0 {
                let number = step / self.profile.steps_per_day;
                today = day(number);
                self.weathered(number, &mut weathered);
            }
            let asked = self.profile.asked.get(step * self.model.nets.len()..).unwrap_or_default();
            let moment = Moment { stage: self, step, hours, doing: *doing, today, weathered: &weathered, asked };
            moment.pass(state, &mut flows);
            if seen(step, state, &flows).is_break() {
                break;
            }
        }
    }
}

/// One step.
pub(super) struct Moment<'a> {
    pub(super) stage: &'a Stage<'a>,
    step: usize,
    pub(super) hours: f64,
    pub(super) doing: Doing,
    today: Day,
    pub(super) weathered: &'a [Weathered],
    asked: &'a [Asked],
}

/// What leaves banks in a step beside their loads.
#[derive(Clone, Copy, Debug, Default)]
struct Passing {
    /// Power of chargers to other banks, as far as those are settled.
    onward: [f64; MOST_BANKS],
    /// Current through couplings.
    out: [f64; MOST_BANKS],
}

/// The sources of a bank in a step, in order of their set voltage.
#[derive(Clone, Copy)]
struct Lined {
    source: Source,
    kind: Kind,
}

#[derive(Clone, Copy)]
enum Kind {
    Sun { offered: f64 },
    Engine,
    Charger(usize),
    Shore,
}

impl Moment<'_> {
    fn pass(&self, state: &mut State, flows: &mut [Flow]) {
        flows.fill(Flow::default());
        let mut passing = Passing { onward: [0.0; MOST_BANKS], out: coupling::currents(self, state) };
        for net in &self.stage.model.order {
            let Some(flow) = flows.get_mut(*net) else { continue };
            let (fed, charge) = self.settle_net(state, *net, &passing, flow);
            for (index, power) in fed.into_iter().flatten() {
                let Some(charger) = self.stage.model.chargers.get(index) else { continue };
                if let Some(slot) = state.works.get_mut(index) {
                    *slot = power > 0.0;
                }
                if let Some(slot) = passing.onward.get_mut(charger.from)
                    && power > 0.0
                {
                    *slot += charger.losses.input(Power::new::<watt>(power)).get::<watt>();
                }
            }
            if let (Some(model), Some(slot)) = (self.stage.model.nets.get(*net), state.charge.get_mut(*net)) {
                *slot = self.leaked(model, charge, flow);
            }
        }
    }

    /// The voltage of a bank when so much leaves it through couplings.
    pub(super) fn volts(&self, state: &State, net: usize, out: f64) -> f64 {
        let mut flow = Flow::default();
        let mut passing = Passing::default();
        if let Some(slot) = passing.out.get_mut(net) {
            *slot = out;
        }
        let _ = self.settle_net(state, net, &passing, &mut flow);
        flow.volts
    }

    /// Settles one bank: what each charger into it gives, in W, and the charge that it then holds.
    fn settle_net(
        &self,
        state: &State,
        place: usize,
        passing: &Passing,
        flow: &mut Flow,
    ) -> ([Option<(usize, f64)>; MOST_SOURCES], f64) {
        let mut fed = [None; MOST_SOURCES];
        let charge = state.charge.get(place).copied().unwrap_or_default();
        let (Some(net), Some(weathered)) = (self.stage.model.nets.get(place), self.weathered.get(place)) else {
            return (fed, charge);
        };
        let asked = self.asked.get(place).copied().unwrap_or_default();
        let load = self.today.load;
        let [onward, out] = [passing.onward, passing.out].map(|of| of.get(place).copied().unwrap_or_default());
        let ask = Ask { power: asked.power * load, current: asked.current * load, onward, out };
        let mut lined = [Lined { source: Source { set: 0.0, most: 0.0, power: 0.0 }, kind: Kind::Shore }; MOST_SOURCES];
        let count = self.line_up(state, net, charge, passing, &mut lined);
        let lined = lined.get(..count).unwrap_or_default();
        let mut sources = [Source { set: 0.0, most: 0.0, power: 0.0 }; MOST_SOURCES];
        for (slot, one) in sources.iter_mut().zip(lined) {
            *slot = one.source;
        }
        let mut given = [0.0; MOST_SOURCES];
        let (sources, given) = (sources.get(..count).unwrap_or_default(), given.get_mut(..count).unwrap_or_default());
        let settled = settle(&net.bank, charge, self.hours, weathered, sources, &ask, given);
        let mut chargers = fed.iter_mut();
        for (one, amperes) in lined.iter().zip(given.iter()) {
            let power = amperes * settled.volts;
            match one.kind {
                Kind::Engine => flow.engine += power,
                Kind::Shore => flow.shore += power,
                Kind::Charger(index) => {
                    flow.charger += power;
                    if let Some(slot) = chargers.next() {
                        *slot = Some((index, power));
                    }
                }
                Kind::Sun { offered } => {
                    flow.sun += power;
                    let limited = offered.min(one.source.most * settled.volts);
                    flow.clipped += offered - limited;
                    flow.unused += (limited - power).max(0.0);
                }
            }
        }
        self.book(net, charge, &settled, &ask, asked.useful * load, flow);
        (fed, settled.charge)
    }

    /// What leaks away at rest.
    fn leaked(&self, net: &Net, charge: f64, flow: &mut Flow) -> f64 {
        let left = (charge - net.bank.leak * self.hours).max(0.0);
        let gone = net.bank.stored(charge) - net.bank.stored(left);
        flow.stored -= gone;
        flow.lost += gone;
        left
    }

    fn book(&self, net: &Net, before: f64, settled: &Settled, ask: &Ask, useful: f64, flow: &mut Flow) {
        let Settled { volts, current, served, charge } = *settled;
        let drawn = served * (ask.power + volts * ask.current);
        // What is served of the loads' own: power that they get, and all of a constant current.
        flow.used = served * (useful + volts * ask.current);
        flow.converted = drawn - flow.used;
        flow.unserved = (1.0 - served) * (useful + volts * ask.current);
        flow.onward = ask.onward;
        flow.coupled = ask.out * volts;
        flow.stored = net.bank.stored(charge) - net.bank.stored(before);
        flow.lost = volts * current * self.hours - flow.stored;
        flow.volts = volts;
        flow.current = current;
    }

    fn line_up(
        &self,
        state: &State,
        net: &Net,
        charge: f64,
        passing: &Passing,
        into: &mut [Lined; MOST_SOURCES],
    ) -> usize {
        let mut count = 0;
        let mut add = |source: Source, kind: Kind| {
            if source.most > 0.0
                && source.power > 0.0
                && let Some(slot) = into.get_mut(count)
            {
                *slot = Lined { source, kind };
                count += 1;
            }
        };
        let Doing { driving, shore } = self.doing;
        if self.stage.sources.engine && driving > 0.0 {
            let idle = self.stage.idle_share;
            for engine in &net.engines {
                let most = driving * (idle * engine.idle + (1.0 - idle) * engine.hot);
                add(Source { set: engine.set, most, power: f64::INFINITY }, Kind::Engine);
            }
        }
        if self.stage.sources.shore && shore > 0.0 {
            for one in &net.shores {
                add(Source { set: one.set, most: shore * one.most, power: f64::INFINITY }, Kind::Shore);
            }
        }
        // What chargers before have claimed of the bank that feeds them, in this step.
        let mut passing = *passing;
        for index in &net.chargers {
            if let Some(charger) = self.stage.model.chargers.get(*index)
                && let Some((most, power)) = self.charger(state, *index, charger, &passing)
            {
                if let Some(slot) = passing.onward.get_mut(charger.from) {
                    let most = power.min(most * charger.set);
                    *slot += charger.losses.input(Power::new::<watt>(most)).get::<watt>();
                }
                add(Source { set: charger.set, most, power }, Kind::Charger(*index));
            }
        }
        if self.stage.sources.sun {
            let (open, _) = net.bank.open(charge);
            for sun in &net.suns {
                let harvest = self.stage.light.harvest(self.stage.arrays, sun, self.step, self.today.bright);
                if harvest.power <= 0.0 {
                    continue;
                }
                if sun.tracks {
                    let power = sun.losses.output(Power::new::<watt>(harvest.power)).get::<watt>();
                    add(Source { set: sun.set, most: sun.most, power }, Kind::Sun { offered: power });
                } else {
                    let most = harvest.amperes.min(sun.most);
                    let offered = harvest.amperes * open;
                    add(Source { set: sun.set, most, power: f64::INFINITY }, Kind::Sun { offered });
                }
            }
        }
        if let Some(lined) = into.get_mut(..count) {
            lined.sort_by(|one, other| one.source.set.total_cmp(&other.source.set));
        }
        count
    }

    /// What a charger from another bank can give: its own current, while what feeds it lasts.
    fn charger(&self, state: &State, index: usize, charger: &Charger, passing: &Passing) -> Option<(f64, f64)> {
        let from = self.stage.model.nets.get(charger.from)?;
        let charge = state.charge.get(charger.from).copied()?;
        let weathered = self.weathered.get(charger.from)?;
        let driving = if self.stage.sources.engine { self.doing.driving } else { 0.0 };
        let (open, _) = from.bank.open(charge);
        let works =
            if charger.running_signal { driving > 0.0 } else { driving > 0.0 || state.works.get(index) == Some(&true) };
        if !works && open < charger.restart.max(charger.lock_out) {
            return None;
        }
        let part = if charger.running_signal { driving } else { 1.0 };
        if part <= 0.0 || (open < charger.lock_out && driving <= 0.0) {
            return None;
        }
        // What its feeding bank has left in this step, after its own loads and what else is drawn from it.
        let idle = self.stage.idle_share;
        let engines: f64 = from.engines.iter().map(|one| driving * (idle * one.idle + (1.0 - idle) * one.hot)).sum();
        let asked = self.asked.get(charger.from).copied().unwrap_or_default();
        let [onward, out] = [passing.onward, passing.out].map(|of| of.get(charger.from).copied().unwrap_or_default());
        let own = (asked.power + asked.current * open) * self.today.load + onward + out.max(0.0) * open;
        // All that engine and bank give together, at the voltage that the bank then falls to.
        let left = constants::CLAIMED_SHARE * (from.bank.power_out(charge, self.hours, weathered, engines) - own);
        let input = left.min(charger.input_limit * part * open);
        let power = charger.losses.output(Power::new::<watt>(input.max(0.0))).get::<watt>();
        Some((charger.most * part, power.max(0.0)))
    }
}
