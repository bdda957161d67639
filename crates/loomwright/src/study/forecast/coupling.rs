//! What flows between banks while a relay, a switch or a diode joins them: in both directions, as their voltages have it.
//!
//! Bare numbers inside are V, A, Ω.

use super::books::{MOST_BANKS, State};
use super::model::Coupling;
use super::run::Moment;

/// The current out of each bank through all couplings.
pub(super) fn currents(moment: &Moment<'_>, state: &mut State) -> [f64; MOST_BANKS] {
    let mut out = [0.0; MOST_BANKS];
    for (index, coupling) in moment.stage.model.couplings.iter().enumerate() {
        let closed = is_closed(moment, state, index, coupling);
        // Closed for a part of the step, it passes so much less in the mean.
        let current = if closed > 0.0 { flows(moment, state, coupling, &out) * closed } else { 0.0 };
        if let Some(slot) = state.coupled.get_mut(index) {
            *slot = (closed > 0.0).then_some(current);
        }
        let [from, to] = coupling.nets;
        for (net, sign) in [(from, 1.0), (to, -1.0)] {
            if let Some(slot) = out.get_mut(net) {
                *slot += sign * current;
            }
        }
    }
    out
}

/// The share of the step that it is closed.
fn is_closed(moment: &Moment<'_>, state: &State, index: usize, coupling: &Coupling) -> f64 {
    let doing = moment.doing;
    let parked = 1.0 - (doing.driving + doing.shore).min(1.0);
    let states = [parked, doing.driving, doing.shore];
    let when: f64 =
        coupling.closed_when.iter().zip(states).filter(|(closed, _)| **closed).map(|(_, share)| share).sum();
    let Some(relay) = coupling.senses else { return when };
    let before = state.coupled.get(index).is_some_and(Option::is_some);
    let sensed = moment.volts(state, coupling.nets[0], 0.0);
    if before {
        // Closed, it senses what both stand at together.
        let together = moment.volts(state, coupling.nets[0], flows(moment, state, coupling, &[0.0; MOST_BANKS]));
        return if relay.closed_at(volts(together), true) { when } else { 0.0 };
    }
    if relay.closed_at(volts(sensed), false) { when } else { 0.0 }
}

fn volts(value: f64) -> crate::quantity::ElectricPotential {
    crate::quantity::ElectricPotential::new::<uom::si::electric_potential::volt>(value)
}

/// The current from the first bank to the second at which their voltages differ by what it drops on the way.
fn flows(moment: &Moment<'_>, state: &State, coupling: &Coupling, already: &[f64]) -> f64 {
    let [from, to] = coupling.nets;
    let base = |net: usize| already.get(net).copied().unwrap_or_default();
    let left = |current: f64| {
        moment.volts(state, from, base(from) + current)
            - moment.volts(state, to, base(to) - current)
            - coupling.drop
            - coupling.ohms * current
    };
    let resting = left(0.0);
    if resting == 0.0 || (coupling.one_way && resting < 0.0) {
        return 0.0;
    }
    // Nothing passes more than its own resistance lets.
    let (mut low, mut high) =
        if resting > 0.0 { (0.0, resting / coupling.ohms) } else { (resting / coupling.ohms, 0.0) };
    let (mut at_low, mut at_high) = (left(low), left(high));
    for _ in 0..60 {
        let width = high - low;
        if width.abs() < 1e-9 * (1.0 + low.abs().max(high.abs())) {
            break;
        }
        // A straight line between the ends, held off them; its slope changes with every limit that it meets.
        let straight = low + width * (at_low / (at_low - at_high)).clamp(0.02, 0.98);
        let value = left(straight);
        if value > 0.0 {
            (low, at_low) = (straight, value);
        } else {
            (high, at_high) = (straight, value);
        }
        let middle = 0.5 * (low + high);
        let value = left(middle);
        if value > 0.0 {
            (low, at_low) = (middle, value);
        } else {
            (high, at_high) = (middle, value);
        }
    }
    0.5 * (low + high)
}
