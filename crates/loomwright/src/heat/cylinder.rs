//! The heat balance of one insulated round conductor lying level in still air: the hot kernel.
//!
//! Bare numbers, SI units: metres, kelvin, watts per metre, K·m/W, amperes, Ω/m.

use std::cell::Cell;

use super::air;
use crate::data::tables::constants;

/// Stefan–Boltzmann constant, W/(m²·K⁴), exact in the SI of 2019.
const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// Standard gravity, m/s².
const GRAVITY: f64 = 9.806_65;
/// The highest conductor temperature considered, kelvin: 250 °C.
pub(super) const CEILING_K: f64 = 523.15;

/// One insulated cylinder in still air with a resistance that rises with temperature.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cylinder {
    pub(super) outer_diameter: f64,
    /// Conductor to surface, K·m/W.
    pub(super) insulation: f64,
    /// Share of the single cylinder's heat that this one still sheds, for cables bunched together.
    pub(super) share: f64,
    pub(super) ambient: f64,
    /// Resistance at 0 °C and its slope per kelvin, Ω/m.
    pub(super) at_zero: f64,
    pub(super) slope: f64,
}

impl Cylinder {
    /// Heat shed by convection and by radiation at a surface temperature, W/m.
    ///
    /// Natural convection: Churchill and Chu (1975), long horizontal cylinder; radiation to
    /// surroundings at ambient.
    pub(super) fn shed(&self, surface: f64) -> (f64, f64) {
        let film = 0.5 * (surface + self.ambient);
        let (conductivity, viscosity, prandtl, factor) = air::film(film);
        let difference = surface - self.ambient;
        let cube = self.outer_diameter * self.outer_diameter * self.outer_diameter;
        let rayleigh = GRAVITY / film * difference * cube * prandtl / (viscosity * viscosity);
        // The sixth root of Ra; Nu is the square of `root`.
        let root = 0.60 + factor * rayleigh.max(0.0).powf(1.0 / 6.0);
        // Nu = h·D/k, so the heat per metre is π·k·Nu·ΔT.
        let convection = std::f64::consts::PI * conductivity * root * root * difference;
        let square = |kelvin: f64| kelvin * kelvin;
        let radiation = std::f64::consts::PI
            * self.outer_diameter
            * constants::EMISSIVITY
            * STEFAN_BOLTZMANN
            * (square(square(surface)) - square(square(self.ambient)));
        (convection * self.share, radiation * self.share)
    }

    fn heat(&self, surface: f64) -> f64 {
        let (convection, radiation) = self.shed(surface);
        convection + radiation
    }

    /// Resistance per metre at a conductor temperature in kelvin.
    pub(super) fn resistance(&self, conductor: f64) -> f64 {
        (self.at_zero + self.slope * (conductor - 273.15)).max(0.0)
    }

    /// The current that holds the conductor at `limit`, A; `limit` lies above ambient.
    pub(super) fn current_at(&self, limit: f64) -> f64 {
        let span = limit - self.ambient;
        let (surface_rise, _) = log_secant(0.8 * span, USUAL_SLOPE, |rise| {
            (rise + self.insulation * self.heat(self.ambient + rise)) / span
        });
        let miss = |rise: f64| rise + self.insulation * self.heat(self.ambient + rise) - span;
        // The search is checked, and halved to the end should it ever not close.
        let surface_rise = if miss(surface_rise).abs() <= 1e-9 * span {
            surface_rise
        } else {
            let (mut low, mut high) = (0.0, span);
            for _ in 0..80 {
                let middle = 0.5 * (low + high);
                if miss(middle) < 0.0 { low = middle } else { high = middle }
            }
            low
        };
        let heat = self.heat(self.ambient + surface_rise);
        (heat / self.resistance(limit)).sqrt()
    }

    /// Surface and conductor temperature at a current; `None` beyond the ceiling or without end.
    ///
    /// `near` carries what the last search on this conductor found to the next one, and nothing else:
    /// the answer does not depend on it beyond the twelfth digit.
    pub(super) fn temperatures(&self, current: f64, near: &Near) -> Option<(f64, f64)> {
        if current == 0.0 {
            return Some((self.ambient, self.ambient));
        }
        let square = current * current;
        let conductor = |surface: f64, heat: f64| surface + self.insulation * heat;
        let guess = match near.0.get() {
            Some(last) => last.rise * (current / last.current).powf(2.0 / last.slope),
            // From a coefficient of 12 W/(m²·K), usual for thin cables.
            None => {
                square * self.resistance(self.ambient)
                    / (12.0 * std::f64::consts::PI * self.outer_diameter * self.share)
            }
        };
        let slope = near.0.get().map_or(USUAL_SLOPE, |last| last.slope);
        let (rise, slope) = log_secant(guess.clamp(1e-6, 200.0), slope, |rise| {
            let surface = self.ambient + rise;
            let heat = self.heat(surface);
            heat / (square * self.resistance(conductor(surface, heat)))
        });
        near.0.set(Some(Last { current, rise, slope }));
        let surface = self.ambient + rise;
        let heat = self.heat(surface);
        let hot = conductor(surface, heat);
        let closes = (heat - square * self.resistance(hot)).abs() <= 1e-9 * heat;
        if closes && hot <= CEILING_K {
            Some((surface, hot))
        } else if !closes && hot < CEILING_K && current < self.current_at(CEILING_K) {
            // The search did not close although a solution exists: halve the interval instead.
            Some(self.bisected(square))
        } else {
            None
        }
    }

    fn bisected(&self, square: f64) -> (f64, f64) {
        let (mut low, mut high) = (self.ambient, CEILING_K);
        for _ in 0..80 {
            let surface = 0.5 * (low + high);
            let heat = self.heat(surface);
            if heat < square * self.resistance(surface + self.insulation * heat) {
                low = surface
            } else {
                high = surface
            }
        }
        let surface = 0.5 * (low + high);
        (surface, surface + self.insulation * self.heat(surface))
    }
}

/// Heat shed grows roughly as the 1.2th power of the rise.
const USUAL_SLOPE: f64 = 1.2;

#[derive(Clone, Copy, Debug)]
struct Last {
    current: f64,
    rise: f64,
    slope: f64,
}

/// What the last search for a temperature found, so that the next one starts close.
#[derive(Clone, Debug, Default)]
pub(crate) struct Near(Cell<Option<Last>>);

/// The x > 0 at which `ratio(x)` is 1, and the slope there, by the secant rule on logarithms, where heat
/// laws are almost straight lines: four to six evaluations reach twelve digits.
fn log_secant(guess: f64, mut slope: f64, ratio: impl Fn(f64) -> f64) -> (f64, f64) {
    let mut x = guess.ln();
    let mut miss = ratio(guess).ln();
    for _ in 0..40 {
        if miss.abs() < 1e-12 || !miss.is_finite() {
            break;
        }
        let next = (x - miss / slope).clamp(x - 3.0, x + 3.0).min(7.0);
        let next_miss = ratio(next.exp()).ln();
        let new_slope = (next_miss - miss) / (next - x);
        // Next to the root the quotient is noise.
        if new_slope.is_finite() && new_slope > 0.05 && (next - x).abs() > 1e-7 {
            slope = new_slope;
        }
        (x, miss) = (next, next_miss);
    }
    (x.exp(), slope)
}
