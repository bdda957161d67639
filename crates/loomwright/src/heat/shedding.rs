//! What a conductor's surface sheds at each temperature, made ready for many evaluations.
//!
//! Bare numbers, SI units.

use super::chain::{Chain, Outside};
use super::path::HeatPath;
use crate::straight::{around, between};

/// Points of the table, spaced as squares so that small rises are resolved.
const POINTS: u32 = 48;
const POINTS_AND_ZERO: usize = 49;
/// The largest surface rise that the table covers, K.
const HIGHEST: f64 = 400.0;

/// Conductance from the surface of a conductor's insulation to the air, W/(m·K), by rise; the least of all
/// models. Straight between points, where the true one is curved to the hot side: a little too small, so
/// a little too hot.
#[derive(Clone, Debug)]
pub(super) struct Shedding {
    conductance: [f64; POINTS_AND_ZERO],
    /// Heat of neighbours that this conductor's share of the path must carry as well, W/m.
    pub(super) burden: f64,
    pub(super) ambient: f64,
}

fn rise_of(point: u32) -> f64 {
    let share = f64::from(point) / f64::from(POINTS);
    HIGHEST * share * share
}

/// Rises and conductances of one chain: its own sweep of the outermost surface.
fn sweep(chain: &Chain, burden: f64) -> Vec<(f64, f64)> {
    (1..=POINTS)
        .map(|point| {
            let (own, surface) = chain.own_surface(rise_of(point));
            let rise = surface - chain.ambient;
            (rise, (own + burden) / rise)
        })
        .collect()
}

/// The conductance at a rise, straight between the sweep's points and as at its ends beyond.
fn at(sweep: &[(f64, f64)], rise: f64) -> f64 {
    match around(sweep, rise) {
        (Some(first), Some(last)) => between(first, last, rise),
        (Some(end), None) | (None, Some(end)) => end.1,
        (None, None) => 0.0,
    }
}

impl Shedding {
    pub(super) fn of(path: &HeatPath) -> Self {
        let chains: Vec<&Chain> = path.chains.iter().flatten().collect();
        let burden = chains.iter().map(|chain| chain.others / chain.count).fold(0.0, f64::max);
        let mut conductance = [f64::INFINITY; POINTS_AND_ZERO];
        for chain in chains {
            match chain.outside {
                Outside::Table(each, _) => {
                    // The table's conductance starts at the conductor, ours at its surface.
                    let whole = 1.0 / each - path.insulation;
                    let outside = if whole > 0.0 { 1.0 / whole } else { f64::INFINITY };
                    conductance.iter_mut().for_each(|least| *least = least.min(outside));
                }
                _ => {
                    let sweep = sweep(chain, burden);
                    for (point, least) in (0..).zip(&mut conductance) {
                        *least = least.min(at(&sweep, rise_of(point)));
                    }
                }
            }
        }
        Self { conductance, burden, ambient: path.ambient_k }
    }

    /// Conductance at a surface temperature, and its slope there.
    #[expect(clippy::as_conversions, reason = "saturates, and is then clamped to the table's range")]
    pub(super) fn conductance(&self, surface: f64) -> (f64, f64) {
        let rise = (surface - self.ambient).max(0.0);
        let place = ((rise / HIGHEST).sqrt() * f64::from(POINTS)) as u32;
        let below = place.min(POINTS - 1);
        let at = |point: u32| self.conductance.get(point as usize).copied().unwrap_or_default();
        let (low, high) = (at(below), at(below + 1));
        let (from, to) = (rise_of(below), rise_of(below + 1));
        let slope = (high - low) / (to - from);
        (low + slope * (rise - from), slope)
    }

    /// What the surface sheds for this conductor alone, W/m.
    pub(super) fn heat(&self, surface: f64) -> f64 {
        self.conductance(surface).0 * (surface - self.ambient) - self.burden
    }
}
