//! The conductor and the shells of its insulation as one implicit, stable system: the transient kernel.
//!
//! Bare numbers, SI units. The metal is one body, since it conducts heat a thousand times better than what
//! surrounds it; the insulation is cut into shells that grow outwards, finest where a fast overload's heat
//! enters. Air gap and conduit follow at once, without heat of their own: hotter than the truth, never
//! later. Rodas3 (Sandu and others 1997, from memory; its order is held by a test), an L-stable
//! linearly implicit rule of third order with its error estimate, steps it through time.

use super::path::HeatPath;
use super::shedding::Shedding;
use super::withstand::metal;
use crate::conductor::Conductor;
use crate::data::tables::constants;

/// Shells of the insulation.
const SHELLS: usize = 12;
/// The metal and the shells.
pub(super) const NODES: usize = SHELLS + 1;
/// Each shell is so much thicker than the one inside it.
const GROWTH: f64 = 1.2;
/// Error of a step as a share of the rise over the air.
const ACCURACY: f64 = 3e-4;

/// Temperatures of metal and shells, kelvin, outwards.
pub(super) type State = [f64; NODES];

/// One conductor in its installation, ready to be followed through time.
#[derive(Clone, Debug)]
pub(super) struct Radial {
    /// 1 / heat capacity per metre, K·m/J.
    inverse_capacity: State,
    /// From each node to the next one outwards, the last to the surface, W/(m·K).
    conductance: State,
    at_zero: f64,
    slope: f64,
    shedding: Shedding,
    pub(super) accuracy: f64,
}

/// A tridiagonal matrix, by rows.
struct Bands {
    lower: State,
    diagonal: State,
    upper: State,
}

impl Radial {
    pub(super) fn of(conductor: &Conductor, path: &HeatPath) -> Self {
        let (constant, slope) = conductor.material.law_per_celsius();
        let (inner, outer) = (0.5 * conductor.diameter.value, 0.5 * conductor.outer_diameter.value);
        let widths: f64 = (0..SHELLS).fold(0.0, |sum, _| sum * GROWTH + 1.0);
        let mut width = (outer - inner) / widths;
        let mut inverse_capacity = [1.0 / (conductor.material.data().heat_capacity.value * metal(conductor)); NODES];
        let mut conductance = [0.0; NODES];
        let (mut radius, mut middle) = (inner, inner);
        let into = |from: f64, to: f64| std::f64::consts::TAU / (constants::INSULATION_RESISTIVITY * (to / from).ln());
        for (capacity, inwards) in inverse_capacity.iter_mut().skip(1).zip(&mut conductance) {
            let next = radius + width;
            let centre = (radius * next).sqrt();
            *capacity = 1.0 / (constants::PVC_HEAT_CAPACITY * std::f64::consts::PI * (next * next - radius * radius));
            *inwards = into(middle, centre);
            (radius, middle, width) = (next, centre, width * GROWTH);
        }
        if let Some(last) = conductance.last_mut() {
            *last = into(middle, outer);
        }
        Self {
            inverse_capacity,
            conductance,
            at_zero: conductor.resistance_20.value * constant,
            slope: conductor.resistance_20.value * slope,
            shedding: Shedding::of(path),
            accuracy: ACCURACY,
        }
    }

    fn joule(&self, square: f64, metal: f64) -> f64 {
        square * (self.at_zero + self.slope * (metal - 273.15)).max(0.0)
    }

    /// Temperature of the surface over the outermost shell, what it sheds, and the slope of that by the
    /// shell's temperature.
    fn surface(&self, shell: f64) -> (f64, f64, f64) {
        let inside = self.conductance.last().copied().unwrap_or_default();
        let (ambient, burden) = (self.shedding.ambient, self.shedding.burden);
        let mut surface = shell;
        let (mut outside, mut slope) = self.shedding.conductance(surface);
        for _ in 0..4 {
            surface = (inside * shell + outside * ambient + burden) / (inside + outside);
            (outside, slope) = self.shedding.conductance(surface);
        }
        let leaving = outside + slope * (surface - ambient).max(0.0);
        (surface, inside * (shell - surface), inside * leaving / (inside + leaving))
    }

    /// Temperature of the surface, kelvin.
    pub(super) fn surface_of(&self, state: &State) -> f64 {
        self.surface(state.last().copied().unwrap_or_default()).0
    }

    /// The state whose steady conductor temperature is this: what a steady current has left behind.
    pub(super) fn steady(&self, metal: f64) -> State {
        // Inwards from a surface temperature, with what it sheds.
        let from = |surface: f64| {
            let heat = self.shedding.heat(surface);
            let mut state = [surface; NODES];
            let mut temperature = surface;
            for (node, outwards) in state.iter_mut().zip(&self.conductance).rev() {
                temperature += heat / outwards;
                *node = temperature;
            }
            state
        };
        let first = |state: &State| state.first().copied().unwrap_or_default();
        let (mut low, mut high) = (self.shedding.ambient.min(metal) - 50.0, metal + 50.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if first(&from(middle)) < metal { low = middle } else { high = middle }
        }
        from(0.5 * (low + high))
    }

    /// Rate of change, K/s.
    fn rate(&self, square: f64, state: &State, heat_out: f64) -> State {
        let mut entering = self.joule(square, state.first().copied().unwrap_or_default());
        let mut rate = [0.0; NODES];
        let outwards = state.iter().skip(1).map(Some).chain([None]);
        for ((((rate, node), next), conductance), capacity) in
            rate.iter_mut().zip(state).zip(outwards).zip(&self.conductance).zip(&self.inverse_capacity)
        {
            let leaving = next.map_or(heat_out, |next| conductance * (node - next));
            *rate = (entering - leaving) * capacity;
            entering = leaving;
        }
        rate
    }

    /// Factors of I/(hγ) − J, ready for substitution.
    fn factors(&self, square: f64, shift: f64, leaving: f64) -> Bands {
        let mut bands = Bands { lower: [0.0; NODES], diagonal: [0.0; NODES], upper: [0.0; NODES] };
        let (mut before, mut above, mut pivot) = (0.0, 0.0, 1.0);
        let mut own = -square * self.slope;
        let places = bands.lower.iter_mut().zip(&mut bands.diagonal).zip(&mut bands.upper);
        let mut left = NODES;
        for (((lower, diagonal), upper), (conductance, capacity)) in
            places.zip(self.conductance.iter().zip(&self.inverse_capacity))
        {
            left -= 1;
            let out = if left == 0 { leaving } else { *conductance };
            // The row of the node: what couples it inwards, itself, outwards.
            let inward = -before * capacity;
            let outward = if left == 0 { 0.0 } else { -out * capacity };
            let factor = inward / pivot;
            pivot = shift + (before + out + own) * capacity - factor * above;
            (*lower, *diagonal, *upper) = (factor, 1.0 / pivot, outward);
            (before, above, own) = (out, outward, 0.0);
        }
        bands
    }

    /// One step of Rodas3: the new state and the error estimate.
    fn step(&self, square: f64, state: &State, step: f64) -> (State, f64) {
        let last = |state: &State| state.last().copied().unwrap_or_default();
        let (_, heat, leaving) = self.surface(last(state));
        let bands = self.factors(square, 2.0 / step, leaving);
        let rate = self.rate(square, state, heat);
        let inverse = 1.0 / step;
        // Stages of the transformed form: γ = 1/2; a = 2; 2, 0, 1; c = 4; 1, −1; 1, −1, −8/3; m = 2, 0, 1, 1.
        let k1 = bands.solve(&rate);
        let k2 = bands.solve(&combine([(&rate, 1.0), (&k1, 4.0 * inverse)]));
        let third = combine([(state, 1.0), (&k1, 2.0)]);
        let rate3 = self.rate(square, &third, self.surface(last(&third)).1);
        let k3 = bands.solve(&combine([(&rate3, 1.0), (&k1, inverse), (&k2, -inverse)]));
        let fourth = combine([(&third, 1.0), (&k3, 1.0)]);
        let rate4 = self.rate(square, &fourth, self.surface(last(&fourth)).1);
        let k4 = bands.solve(&combine([(&rate4, 1.0), (&k1, inverse), (&k2, -inverse), (&k3, -8.0 / 3.0 * inverse)]));
        let error = k4.iter().fold(0.0_f64, |most, error| most.max(error.abs()));
        (combine([(&fourth, 1.0), (&k4, 1.0)]), error)
    }

    /// Follows a constant current for `duration` seconds or until `stop` says so; `stop` sees every step: its
    /// start and end, as time, metal temperature and rate of that. Returns the time reached.
    pub(super) fn follow(
        &self,
        current: f64,
        duration: f64,
        state: &mut State,
        mut stop: impl FnMut(Sample, Sample) -> bool,
    ) -> f64 {
        let square = current * current;
        let sample = |time: f64, state: &State| {
            let (surface, heat, _) = self.surface(state.last().copied().unwrap_or_default());
            let rate = self.rate(square, state, heat).first().copied().unwrap_or_default();
            Sample { time, metal: state.first().copied().unwrap_or_default(), rate, surface }
        };
        let mut before = sample(0.0, state);
        // A hundredth of the time in which the metal alone would change by the rise that matters.
        let mut step = (0.2 / before.rate.abs().max(1e-9)).clamp(1e-7 * duration, duration);
        while before.time < duration {
            let left = duration - before.time;
            let taken = if step >= left { left } else { step };
            let (next, error) = self.step(square, state, taken);
            let metal = next.first().copied().unwrap_or_default();
            let allowed = self.accuracy
                * (metal - self.shedding.ambient).abs().max(before.metal - self.shedding.ambient).max(5.0);
            let good = error.is_finite() && error <= allowed;
            // Third order: the error goes with the cube of the step.
            let change = if error > 0.0 { 0.9 * (allowed / error).cbrt() } else { 6.0 };
            if good || taken <= 1e-9 {
                *state = next;
                let after = sample(if taken == left { duration } else { before.time + taken }, state);
                let done = stop(before, after);
                before = after;
                if done {
                    break;
                }
            }
            step = taken * if change.is_finite() { change.clamp(0.1, 6.0) } else { 0.1 };
        }
        before.time
    }
}

/// A moment of a transient: s, K, K/s, K.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sample {
    pub(super) time: f64,
    pub(super) metal: f64,
    pub(super) rate: f64,
    pub(super) surface: f64,
}

impl Sample {
    /// When the metal passes `limit` between two samples of a step, by the cubic through both.
    pub(super) fn crossing(self, after: Self, limit: f64) -> f64 {
        let step = after.time - self.time;
        let at = |share: f64| {
            let (square, rest) = (share * share, 1.0 - share);
            rest * rest * (1.0 + 2.0 * share) * self.metal
                + square * (3.0 - 2.0 * share) * after.metal
                + step * share * rest * (rest * self.rate - share * after.rate)
        };
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if at(middle) < limit { low = middle } else { high = middle }
        }
        self.time + step * low
    }
}

fn combine<const N: usize>(terms: [(&State, f64); N]) -> State {
    let mut sum = [0.0; NODES];
    for (term, weight) in terms {
        for (sum, term) in sum.iter_mut().zip(term) {
            *sum += weight * term;
        }
    }
    sum
}

impl Bands {
    fn solve(&self, right: &State) -> State {
        let mut solved = *right;
        let mut before = 0.0;
        for (value, factor) in solved.iter_mut().zip(&self.lower) {
            *value -= factor * before;
            before = *value;
        }
        let mut after = 0.0;
        for ((value, pivot), upper) in solved.iter_mut().zip(&self.diagonal).zip(&self.upper).rev() {
            *value = (*value - upper * after) * pivot;
            after = *value;
        }
        solved
    }
}
