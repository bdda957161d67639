//! A bank with its sources and what is asked of it, over one step: which voltage it settles at, and what flows.
//!
//! The step is taken by its middle: the bank stands at the mean of its open voltage over the step, so that voltage times
//! current times time is the energy that passed. A kernel. Bare numbers inside: V, A, Ω, Ah, W, h.

use super::bank::{Bank, Weathered};

/// A source that holds a voltage up to a current and a power.
#[derive(Clone, Copy, Debug)]
pub(super) struct Source {
    /// It gives less and less above this voltage.
    pub(super) set: f64,
    /// A.
    pub(super) most: f64,
    /// W; infinite where only the current limits it.
    pub(super) power: f64,
}

impl Source {
    fn gives(&self, volts: f64) -> f64 {
        self.most.min(self.power / volts)
    }

    /// Whether its power and not its current limits it at a voltage.
    fn is_power_limited(&self, volts: f64) -> bool {
        self.power <= self.most * volts
    }
}

/// What is asked over the step.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Ask {
    /// Constant power of loads, W.
    pub(super) power: f64,
    /// Constant current of loads, A.
    pub(super) current: f64,
    /// Power that must be served, of chargers to other banks, W.
    pub(super) onward: f64,
    /// Current that leaves through couplings, A; negative when it comes.
    pub(super) out: f64,
}

/// What came of it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Settled {
    /// At the bank's terminals.
    pub(super) volts: f64,
    /// Into the bank, negative out of it.
    pub(super) current: f64,
    /// The share of the loads that is served.
    pub(super) served: f64,
    /// Charge in the bank at the end, Ah.
    pub(super) charge: f64,
}

/// How often a step is looked at again at most.
const LOOKS: usize = 20;

/// How steeply a voltage rises or falls, in Ω, that nothing takes or gives any more.
const STEEP: f64 = 1.0;

/// One step of so many hours; `given` receives what each source gives. Sources stand in order of their set voltage.
pub(super) fn settle(
    bank: &Bank,
    charge: f64,
    hours: f64,
    weathered: &Weathered,
    sources: &[Source],
    ask: &Ask,
    given: &mut [f64],
) -> Settled {
    let (open, slope) = bank.open(charge);
    let resistance = bank.resistance(charge) * weathered.colder;
    let mut stand = Stand { bank, charge, hours, weathered, open, slope, resistance };
    let mut settled = stand.settle(sources, ask, given);
    let mut moved = settled.charge - charge;
    if moved.abs() < 1e-3 * bank.capacity {
        return settled;
    }
    // Where the step leaves its cell of the grid, the mean open voltage of what it passed stands for its middle. What it passes
    // follows from that in turn: the higher the bank stands, the more it gives and the lower it ends, so two looks lie on
    // either side of the answer, and false position (Illinois) closes in on it.
    let mut stands = open + 0.5 * slope * moved;
    let (mut low, mut high): (Option<Look>, Option<Look>) = (None, None);
    let mut before = None;
    for _ in 0..LOOKS {
        let mean = if moved.abs() < 1e-6 * bank.capacity {
            open + 0.5 * slope * moved
        } else {
            (bank.stored(settled.charge) - bank.stored(charge)) / moved
        };
        let off = mean - stands;
        // Mostly the next cell rises as this one does.
        if off.abs() < 1e-8 * open {
            break;
        }
        let rises = off > 0.0;
        let (side, other) = if rises { (&mut low, &mut high) } else { (&mut high, &mut low) };
        *side = Some(Look { stands, off });
        // Twice on one side: the other end counts half, or it would stay for good.
        if before.replace(rises) == Some(rises)
            && let Some(kept) = other
        {
            kept.off *= 0.5;
        }
        stands = match (&low, &high) {
            (Some(low), Some(high)) => low.stands + (high.stands - low.stands) * low.off / (low.off - high.off),
            _ => mean,
        };
        stand = Stand { open: stands, slope: 0.0, ..stand };
        settled = stand.settle(sources, ask, given);
        moved = settled.charge - charge;
    }
    settled
}

/// The open voltage that a step was looked at with, and how far the mean of what it passed lies above.
struct Look {
    stands: f64,
    off: f64,
}

struct Stand<'a> {
    bank: &'a Bank,
    charge: f64,
    hours: f64,
    weathered: &'a Weathered,
    open: f64,
    slope: f64,
    resistance: f64,
}

impl Stand<'_> {
    fn settle(&self, sources: &[Source], ask: &Ask, given: &mut [f64]) -> Settled {
        given.fill(0.0);
        let most_in = self.bank.most_in(self.charge, self.hours, self.weathered);
        let mut first = 0;
        // From the lowest set voltage up: does the bus stay below it, or is it held there?
        while let Some(level) = sources.get(first).map(|source| source.set) {
            let next = first + sources.iter().skip(first).take_while(|source| source.set <= level).count();
            let bank = self.takes(level, most_in);
            let asked = (ask.power + ask.onward) / level + ask.current + ask.out + bank;
            let above: f64 = sources.iter().skip(next).map(|source| source.gives(level)).sum();
            let here: f64 = sources.iter().take(next).skip(first).map(|source| source.gives(level)).sum();
            if above + here < asked {
                break;
            }
            if above <= asked {
                let share = if here > 0.0 { (asked - above) / here } else { 0.0 };
                for (index, (source, slot)) in sources.iter().zip(given.iter_mut()).enumerate().skip(first) {
                    *slot = source.gives(level) * if index < next { share } else { 1.0 };
                }
                return self.end(level, bank, bank.max(0.0).min(most_in), 1.0);
            }
            first = next;
        }
        // What limits a source, its current or its power, depends on the voltage that it lifts the bank to.
        let mut at = self.open;
        let mut settled = self.free(sources, first, ask, given, most_in, at);
        for _ in first..sources.len() {
            let gives = sources.iter().map(|source| source.gives(settled.volts));
            let mut all = gives.zip(given.iter()).skip(first);
            if all.all(|(gives, given)| (gives - given).abs() <= 1e-12 * gives) {
                break;
            }
            at = settled.volts;
            given.fill(0.0);
            settled = self.free(sources, first, ask, given, most_in, at);
        }
        // Loads of constant power may be fed at a high voltage and not at a low one, though both are points of rest: where
        // there is enough at the high one, it does not fall from there.
        let Some(next) = sources.get(first) else { return settled };
        if settled.volts > next.set {
            return self.held(next.set, sources, first, ask, given, most_in);
        }
        let below = first.checked_sub(1).and_then(|before| sources.get(before)).map(|source| source.set);
        let turns = sources.iter().skip(first).map(|source| source.power / source.most);
        let high = turns.filter(|volts| *volts < next.set && self.spare(*volts, sources, first, ask, most_in) > 0.0);
        let low = high.chain(below).fold(self.open, f64::max);
        if low > settled.volts && low > self.open && low < next.set {
            settled = self.between([low, next.set], sources, first, ask, given, most_in);
        }
        settled
    }

    /// Above the set voltage of its sources nothing gives: it stands there, with what the bank gives at that.
    fn held(
        &self,
        volts: f64,
        sources: &[Source],
        first: usize,
        ask: &Ask,
        given: &mut [f64],
        most_in: f64,
    ) -> Settled {
        given.fill(0.0);
        for (source, slot) in sources.iter().zip(given.iter_mut()).skip(first) {
            *slot = source.gives(volts);
        }
        let left = given.iter().sum::<f64>() - ask.onward / volts - ask.out;
        let (wanted, bank) = (ask.power / volts + ask.current, self.takes(volts, most_in));
        let served = if volts < self.open && wanted > 0.0 { ((left - bank) / wanted).clamp(0.0, 1.0) } else { 1.0 };
        let into = left - served * wanted;
        self.end(volts, into, most_in.min(into.max(0.0)), served)
    }

    /// What sources give at a voltage over what loads and the bank take, A.
    fn spare(&self, volts: f64, sources: &[Source], first: usize, ask: &Ask, most_in: f64) -> f64 {
        let given: f64 = sources.iter().skip(first).map(|source| source.gives(volts)).sum();
        given - (ask.power + ask.onward) / volts - ask.current - ask.out - self.takes(volts, most_in)
    }

    /// The voltage between two, with enough at the lower and too little at the higher, at which sources give what is taken.
    fn between(
        &self,
        [mut low, mut high]: [f64; 2],
        sources: &[Source],
        first: usize,
        ask: &Ask,
        given: &mut [f64],
        most_in: f64,
    ) -> Settled {
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if self.spare(middle, sources, first, ask, most_in) > 0.0 { low = middle } else { high = middle }
        }
        given.fill(0.0);
        for (source, slot) in sources.iter().zip(given.iter_mut()).skip(first) {
            *slot = source.gives(low);
        }
        let rest = given.iter().sum::<f64>() - (ask.power + ask.onward) / low - ask.current - ask.out;
        self.end(low, rest, most_in.min(rest.max(0.0)), 1.0)
    }

    /// What flows into the bank at a voltage.
    fn takes(&self, volts: f64, most_in: f64) -> f64 {
        let (bank, hours) = (self.bank, self.hours);
        let over = volts - self.open;
        if over >= 0.0 {
            let eta = bank.efficiency;
            let ohmic = over / (self.resistance + 0.5 * self.slope * eta * hours);
            // Never past the charge at which it stands at that voltage by itself.
            let until = (bank.charge_at(volts) - self.charge) / (eta * hours);
            return ohmic.min(most_in).min(until).max(0.0);
        }
        let rough = -over / (self.resistance + 0.5 * self.slope * hours);
        let taken = bank.taken(rough);
        let ohmic = -over / (self.resistance + 0.5 * self.slope * taken * hours);
        if bank.gives(ohmic, self.charge, hours, taken, self.weathered) {
            return -ohmic;
        }
        -ohmic.min(bank.most_out(self.charge, hours, self.weathered))
    }

    /// Every source from `first` on gives all it can, limited by what limits it at a voltage; the bank takes or gives the rest.
    fn free(&self, sources: &[Source], first: usize, ask: &Ask, given: &mut [f64], most_in: f64, at: f64) -> Settled {
        let (mut power, mut current) = (-ask.power - ask.onward, -ask.current - ask.out);
        for source in sources.iter().skip(first) {
            if source.is_power_limited(at) { power += source.power } else { current += source.most }
        }
        let surplus = self.open * current + power;
        let bank = self.bank;
        let impedance = |factor: f64| self.resistance + 0.5 * self.slope * factor * self.hours;
        let (mut into, mut taken, mut factor) = (0.0, 1.0, bank.efficiency);
        let mut most_out = f64::INFINITY;
        if surplus > 0.0 {
            // Nothing that charges has no operating point.
            into = self.root(current, surplus, bank.efficiency).unwrap_or_default();
        } else {
            for _ in 0..2 {
                factor = taken;
                let found = self.root(current, surplus, taken);
                // More is asked than any current delivers: it gives the most power that it has.
                most_out = if found.is_some() { f64::INFINITY } else { 0.5 * self.open / impedance(taken) };
                into = found.unwrap_or(-most_out);
                taken = bank.taken(-into);
            }
        }
        let collapses = most_out.is_finite();
        let fill = |volts: f64, given: &mut [f64]| {
            for (source, slot) in sources.iter().zip(given.iter_mut()).skip(first) {
                *slot = source.gives(volts);
            }
            given.iter().sum::<f64>()
        };
        if into > most_in {
            // Nothing takes this any more: the voltage climbs to where the loads take what the sources still give, or, with
            // current from elsewhere alone, until what enters the bank beyond turns to heat.
            let rest = self.open + impedance(bank.efficiency) * most_in;
            let volts = match sources.get(first).map(|next| next.set) {
                None => rest + STEEP * (into - most_in),
                Some(set) if set <= self.open => return self.held(set, sources, first, ask, given, most_in),
                Some(set) => {
                    let volts = if most_in > current { power / (most_in - current) } else { f64::INFINITY };
                    let mut all = sources.iter().skip(first);
                    let counted = all.all(|source| source.is_power_limited(at) == source.is_power_limited(volts));
                    if !(counted && (rest..=set).contains(&volts)) {
                        return self.between([self.open, set], sources, first, ask, given, most_in);
                    }
                    volts
                }
            };
            let rest = fill(volts, given) - (ask.power + ask.onward) / volts - ask.current - ask.out;
            return self.end(volts, rest, most_in.min(rest.max(0.0)), 1.0);
        }
        if collapses || (into < 0.0 && !bank.gives(-into, self.charge, self.hours, taken, self.weathered)) {
            let most_out = bank.most_out(self.charge, self.hours, self.weathered).min(most_out);
            let volts = self.open - impedance(taken) * most_out;
            let sum = fill(volts, given);
            let wanted = ask.power / volts + ask.current;
            let left = sum + most_out - ask.onward / volts - ask.out;
            if left < 0.0 {
                // What must be served takes more than there is: the voltage falls until that shows.
                let volts = (volts + STEEP * left).max(0.5 * volts);
                let into = fill(volts, given) - ask.onward / volts - ask.out;
                return self.end(volts, into, most_in.min(into.max(0.0)), 0.0);
            }
            let served = if wanted > 0.0 { (left / wanted).min(1.0) } else { 1.0 };
            let into = sum - served * wanted - ask.onward / volts - ask.out;
            return self.end(volts, into, most_in.min(into.max(0.0)), served);
        }
        // By the factor that the current was found with, or the books would not close.
        let volts = self.open + impedance(factor) * into;
        for (source, slot) in sources.iter().zip(given.iter_mut()).skip(first) {
            // As it was counted above.
            *slot = if source.is_power_limited(at) { source.power / volts } else { source.most };
        }
        self.end(volts, into, into.max(0.0), 1.0)
    }

    /// The current into the bank at which `(E + Z·I)·(I − i) = p`, with `E·i + p` to spare, on the branch of high voltage.
    fn root(&self, current: f64, surplus: f64, factor: f64) -> Option<f64> {
        let impedance = self.resistance + 0.5 * self.slope * factor * self.hours;
        let half = self.open - impedance * current;
        let under = half * half + 4.0 * impedance * surplus;
        (under >= 0.0).then(|| 2.0 * surplus / (half + under.sqrt()))
    }

    fn end(&self, volts: f64, current: f64, stored: f64, served: f64) -> Settled {
        let bank = self.bank;
        let charge = if current < 0.0 {
            self.charge + current * bank.taken(-current) * self.hours
        } else {
            self.charge + stored * bank.efficiency * self.hours
        };
        Settled { volts, current, served, charge: charge.clamp(0.0, bank.capacity) }
    }
}
