//! The heat path of one conductor from its metal to still air, by one model: the hot kernel.
//!
//! Bare numbers, SI units: metres, kelvin, watts per metre, K·m/W, amperes, Ω/m. Everything is followed
//! from one unknown, the rise of the outermost surface over the air: it gives the heat, and with the heat
//! every temperature inwards.

use super::air;
use super::annulus::Annulus;
use crate::data::tables::constants;

/// Stefan–Boltzmann constant, W/(m²·K⁴), exact in the SI of 2019.
pub(crate) const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// Standard gravity, m/s².
pub(crate) const GRAVITY: f64 = 9.806_65;
/// The highest conductor temperature considered, kelvin: 250 °C.
pub(super) const CEILING_K: f64 = 523.15;
/// A rise that no thermometer sees, K.
const NOTHING: f64 = 1e-7;

/// What the outermost surface does with the heat.
#[derive(Clone, Copy, Debug)]
pub(super) enum Outside {
    /// Convection and radiation of a level cylinder, of which only a share of the outline sheds.
    Cylinder { diameter: f64, emissivity: f64, share: f64 },
    /// The coefficient of IEC 60287: W/(m·K^1.25).
    Iec60287(f64),
    /// A conductance from a table for equal conductors, straight from each to the air, W/(m·K); and with whom.
    Table(f64, Option<Company>),
}

/// Unequal neighbours under a table that knows equal ones only: they share what all of it sheds.
#[derive(Clone, Copy, Debug)]
pub(super) struct Company {
    /// Equal conductors, this one included.
    pub(super) count: f64,
    /// Heat of the others, W/m.
    pub(super) others: f64,
    /// Loaded conductors, this one included.
    pub(super) loaded: f64,
}

/// What lies between the cables and the bore of their conduit.
#[derive(Clone, Copy, Debug)]
pub(super) enum Gap {
    None,
    Annulus(Annulus),
    /// U / (1 + 0.1 (V + Y·t_mean) De): U, 1 + 0.1·V·De and 0.1·Y·De.
    Iec60287 {
        u: f64,
        constant: f64,
        slope: f64,
    },
}

/// One conductor's path.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chain {
    pub(super) outside: Outside,
    /// Wall of the conduit, K·m/W.
    pub(super) wall: f64,
    pub(super) gap: Gap,
    /// Surface of the bunch to the surface of its hottest cable, K·m/W on all their heat.
    pub(super) inner: f64,
    /// Conductor to surface of its insulation, K·m/W.
    pub(super) insulation: f64,
    /// Equal conductors that share the path.
    pub(super) count: f64,
    /// Heat of unequal neighbours, W/m.
    pub(super) others: f64,
    pub(super) ambient: f64,
    /// Resistance at 0 °C and its slope per kelvin, Ω/m.
    pub(super) at_zero: f64,
    pub(super) slope: f64,
}

/// Temperatures along the path to the surface of the conductor's insulation, kelvin, outermost first.
#[derive(Clone, Copy, Debug)]
pub(super) struct Along {
    pub(super) outside: f64,
    pub(super) bore: f64,
    /// Surface of the bunch.
    pub(super) bunch: f64,
    /// Surface of the conductor's own insulation.
    pub(super) surface: f64,
}

impl Chain {
    /// Heat shed by convection and by radiation at a rise of the outermost surface, W/m, and the slope of both
    /// together, W/(m·K); for a model that does not tell them apart, all of it as the first. The slope is good
    /// to a per cent, for Newton's rule.
    ///
    /// Natural convection: Churchill and Chu (1975), long horizontal cylinder; radiation to surroundings at
    /// ambient.
    pub(super) fn shed(&self, rise: f64) -> (f64, f64, f64) {
        match self.outside {
            Outside::Cylinder { diameter, emissivity, share } => {
                let surface = self.ambient + rise;
                let film = self.ambient + 0.5 * rise;
                let (conductivity, viscosity, prandtl, factor) = air::film(film);
                let cube = diameter * diameter * diameter;
                let rayleigh = GRAVITY / film * rise * cube * prandtl / (viscosity * viscosity);
                // The sixth root of Ra; Nu is the square of `root`.
                let grown = factor * rayleigh.max(0.0).powf(1.0 / 6.0);
                let root = 0.60 + grown;
                // Nu = h·D/k, so the heat per metre is π·k·Nu·ΔT.
                let convection = share * std::f64::consts::PI * conductivity * root * root * rise;
                let black = share * std::f64::consts::PI * diameter * emissivity * STEFAN_BOLTZMANN;
                let square = surface * surface;
                // T⁴ − T₀⁴ in factors, which keeps its digits for the smallest rise.
                let radiation = black * rise * (surface + self.ambient) * (square + self.ambient * self.ambient);
                // Ra goes with ΔT and about with T^-4.5, conductivity with T^0.8.
                let of_rayleigh = 1.0 - 2.25 * rise / film;
                let relative = 1.0 + grown / (3.0 * root) * of_rayleigh + 0.4 * rise / film;
                (convection, radiation, convection * relative / rise + 4.0 * black * square * surface)
            }
            Outside::Iec60287(coefficient) => {
                let per_kelvin = coefficient * rise.max(0.0).sqrt().sqrt();
                (per_kelvin * rise, 0.0, 1.25 * per_kelvin)
            }
            Outside::Table(conductance, _) => (conductance * rise, 0.0, conductance),
        }
    }

    fn heat(&self, rise: f64) -> f64 {
        let (convection, radiation, _) = self.shed(rise);
        convection + radiation
    }

    /// The conductor's own share of all heat.
    fn own(&self, heat: f64) -> f64 {
        (heat - self.others) / self.count
    }

    /// Surface of the bunch, for the heat that leaves at this rise.
    fn bunch(&self, rise: f64, heat: f64) -> (f64, f64) {
        let bore = self.ambient + rise + self.wall * heat;
        let bunch = match &self.gap {
            Gap::None => bore,
            Gap::Annulus(annulus) => annulus.body(bore, heat),
            Gap::Iec60287 { u, constant, slope } => {
                // δ·(1 + 0.1 V De + 0.1 Y De (t_bore + δ/2)) = U·Q, a quadratic in the difference δ.
                let linear = constant + slope * (bore - 273.15);
                let right = u * heat;
                bore + 2.0 * right / (linear + (linear * linear + 2.0 * slope * right).sqrt())
            }
        };
        (bore, bunch)
    }

    /// Every temperature along the path at a rise of the outermost surface.
    pub(super) fn along(&self, rise: f64, heat: f64) -> Along {
        let (bore, bunch) = self.bunch(rise, heat);
        Along { outside: self.ambient + rise, bore, bunch, surface: bunch + self.inner * heat }
    }

    /// What may be missed, as a share, before the last straight step: its slope is exact to a thousandth, to a few
    /// hundredths where there is a gap.
    fn close(&self) -> f64 {
        if matches!(self.gap, Gap::None) { 1e-6 } else { 1e-9 }
    }

    /// Everything at a rise of the outermost surface, with slopes.
    fn reach(&self, rise: f64) -> Reach {
        let (convection, radiation, slope) = self.shed(rise);
        let heat = convection + radiation;
        let (bore, bunch) = self.bunch(rise, heat);
        let own = self.insulation / self.count;
        let conductor = bunch + self.inner * heat + own * (heat - self.others);
        // Heat through the gap grows a little faster than the difference across it.
        let gap = if heat > 0.0 { (bunch - bore) / (1.15 * heat) } else { 0.0 };
        Reach { heat, slope, conductor, warming: 1.0 + (self.wall + gap + self.inner + own) * slope }
    }

    /// What a conductor sheds at a rise of the outermost surface, W/m, and the temperature its surface then has.
    pub(super) fn own_surface(&self, rise: f64) -> (f64, f64) {
        let heat = self.heat(rise);
        (self.own(heat), self.bunch(rise, heat).1 + self.inner * heat)
    }

    /// Resistance per metre at a conductor temperature in kelvin.
    pub(super) fn resistance(&self, conductor: f64) -> f64 {
        (self.at_zero + self.slope * (conductor - 273.15)).max(0.0)
    }

    /// The current that holds the conductor at `limit`, A; 0 when its neighbours alone heat it so far.
    pub(super) fn current_at(&self, limit: f64) -> f64 {
        let span = limit - self.ambient;
        if let Outside::Table(conductance, company) = self.outside {
            let own = conductance * span.max(0.0);
            // The mean of all may not pass the limit either.
            let mean = company.map_or(own, |all| (all.loaded * own - all.others).max(0.0) / all.count);
            return (own.min(mean) / self.resistance(limit)).sqrt();
        }
        let found = root(0.85 * span, span, self.close(), |rise| {
            let reach = self.reach(rise);
            ((reach.conductor - limit) / span, reach.warming / span, reach)
        });
        let heat = found.at.heat + found.at.slope * found.step;
        (self.own(heat).max(0.0) / self.resistance(limit)).sqrt()
    }

    /// The largest current that loses at most `volts` in `metres` of this conductor and a resistance of
    /// `series` beside it, A, as far as the conductor stays below the ceiling.
    pub(super) fn current_at_volts(&self, metres: f64, series: f64, volts: f64) -> f64 {
        let span = CEILING_K - self.ambient;
        // From the current that loses so much in a cold conductor.
        let cold = volts / (self.resistance(self.ambient) * metres + series);
        let found = root(self.guess(cold).min(0.5 * span), span, self.close(), |rise| {
            let reach = self.reach(rise);
            let resistance = self.resistance(reach.conductor);
            let current = (self.own(reach.heat).max(0.0) / resistance).sqrt();
            let drop = current * (resistance * metres + series);
            // Both the current and the resistance rise with the heat.
            let stiffening = self.slope * reach.warming / resistance;
            let gain = 0.5 * current * (reach.slope / (self.count * self.own(reach.heat)) - stiffening);
            let slope = gain * drop / current + current * metres * self.slope * reach.warming;
            ((drop - volts) / volts, slope / volts, (current, gain))
        });
        let (current, gain) = found.at;
        current + gain * found.step
    }

    /// A first guess of the rise at a current, from a coefficient of 12 W/(m²·K).
    fn guess(&self, current: f64) -> f64 {
        let heat = self.others + self.count * current * current * self.resistance(self.ambient);
        heat / match self.outside {
            Outside::Cylinder { diameter, share, .. } => 12.0 * std::f64::consts::PI * diameter * share,
            Outside::Iec60287(coefficient) => 2.0 * coefficient,
            Outside::Table(conductance, _) => conductance,
        }
    }

    /// Rise of the outermost surface and conductor temperature at a current; `None` beyond the ceiling or
    /// without end.
    pub(super) fn temperatures(&self, current: f64) -> Option<(f64, f64)> {
        let square = current * current;
        if let Outside::Table(conductance, company) = self.outside {
            // G·(t − ambient) = n·I²·(at_zero + slope·t) + others is linear in t.
            let reached = |conductance: f64, count: f64, others: f64| {
                let net = conductance - count * square * self.slope;
                let made = count * square * self.at_zero + others;
                let hot = (conductance * (self.ambient - 273.15) + made) / net + 273.15;
                (net > 0.0 && hot <= CEILING_K).then_some(hot)
            };
            let own = reached(conductance, 1.0, 0.0)?;
            let mean = match company {
                Some(all) => reached(all.loaded * conductance, all.count, all.others)?,
                None => own,
            };
            let hot = own.max(mean);
            return Some((hot - self.ambient, hot));
        }
        if current == 0.0 && self.others == 0.0 {
            return Some((0.0, self.ambient));
        }
        let span = CEILING_K - self.ambient;
        let guess = self.guess(current).min(0.5 * span);
        if guess < NOTHING {
            return Some((guess, self.ambient + guess));
        }
        // Beyond the rise that puts the conductor at the ceiling there is no answer; a search that ends there
        // and does not close says that there is none.
        let found = root(guess, span, self.close(), |rise| {
            let reach = self.reach(rise);
            let asked = self.others + self.count * square * self.resistance(reach.conductor);
            let slope = reach.slope - self.count * square * self.slope * reach.warming;
            ((reach.heat - asked) / asked, slope / asked, reach)
        });
        let conductor = found.at.conductor + found.at.warming * found.step;
        (found.closed && conductor <= CEILING_K).then_some((found.x + found.step, conductor))
    }
}

/// The state of a path at a rise of its outermost surface.
#[derive(Clone, Copy, Debug)]
struct Reach {
    /// W/m, and its slope by the rise.
    heat: f64,
    slope: f64,
    /// Kelvin, and its slope by the rise.
    conductor: f64,
    warming: f64,
}

/// Where a search has ended: what stands there, and the small step to where nothing is missed, over which
/// everything is straight to the tenth digit.
struct Root<T> {
    x: f64,
    at: T,
    step: f64,
    closed: bool,
}

/// Where `miss`, which rises from below zero, is zero between 0 and `most`: Newton's rule with a slope that need
/// not be exact, since each step tells how far it was off; kept between what is known to be too small and too
/// large, and halving where that does not help. It ends when `close` or less is missed.
fn root<T>(guess: f64, most: f64, close: f64, miss: impl Fn(f64) -> (f64, f64, T)) -> Root<T> {
    let (mut low, mut high) = (0.0, most);
    let (mut x, mut off) = (guess, 1.0);
    let (mut missed, mut slope, mut at) = miss(x);
    for round in 0..100 {
        if missed.abs() <= close || high - low <= 1e-15 * most {
            break;
        }
        if missed < 0.0 {
            low = x
        } else {
            high = x
        }
        let newton = x - missed / (off * slope);
        let next = if newton > low && newton < high && round < 30 { newton } else { 0.5 * (low + high) };
        let (then_missed, then_slope, then_at) = miss(next);
        // Mean slope over the step against the mean of both ends.
        let told = 2.0 * (then_missed - missed) / ((next - x) * (slope + then_slope));
        if told > 0.5 && told < 2.0 {
            off = told;
        }
        (x, missed, slope, at) = (next, then_missed, then_slope, then_at);
    }
    let closed = missed.abs() <= close;
    Root { x, at, step: if closed { -missed / (off * slope) } else { 0.0 }, closed }
}

/// Thermal resistance of the conductor's insulation, K·m/W (IEC 60287-2-1: T1).
pub(super) fn insulation(conductor: &crate::conductor::Conductor) -> f64 {
    constants::INSULATION_RESISTIVITY / std::f64::consts::TAU
        * (conductor.outer_diameter.value / conductor.diameter.value).ln()
}
