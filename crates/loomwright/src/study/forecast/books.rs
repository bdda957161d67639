//! What is written down of every step: flows of each bank, and what time changes.
//!
//! Bare numbers inside are V, A, Ah, W, Wh, h.

use super::model::{Model, Net};

/// Most banks.
pub(super) const MOST_BANKS: usize = 16;
/// Most sources of one bank.
pub(super) const MOST_SOURCES: usize = 8;

/// What flows at a bank in a step, in W (means over it); what is stored and lost in Wh.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Flow {
    pub(super) sun: f64,
    pub(super) engine: f64,
    pub(super) charger: f64,
    pub(super) shore: f64,
    /// What loads got.
    pub(super) used: f64,
    /// Lost in converters and conductors on the way to them.
    pub(super) converted: f64,
    /// What loads did not get.
    pub(super) unserved: f64,
    /// Drawn by chargers to other banks.
    pub(super) onward: f64,
    /// Out through couplings; negative when it comes in.
    pub(super) coupled: f64,
    /// Wh more in the bank than before.
    pub(super) stored: f64,
    /// Wh turned to heat in the bank, with what leaked away.
    pub(super) lost: f64,
    /// Sun that a controller's own current limit kept out.
    pub(super) clipped: f64,
    /// Sun that a full bank did not take.
    pub(super) unused: f64,
    /// At its terminals, V.
    pub(super) volts: f64,
    /// Into the bank, A; negative out of it.
    pub(super) current: f64,
}

impl Flow {
    /// What came in less everything that it became, Wh: nothing, if the books are right.
    pub(super) fn imbalance(&self, hours: f64) -> f64 {
        let came = self.sun + self.engine + self.charger + self.shore;
        let went = self.used + self.converted + self.onward + self.coupled;
        (came - went) * hours - self.stored - self.lost
    }
}

/// What varies from sample to sample.
#[derive(Clone, Copy, Debug)]
pub(super) struct Day {
    /// How bright over a clear day; the month's mean, or as measured, when not drawn.
    pub(super) bright: Option<f64>,
    /// What loads take over what they are planned with.
    pub(super) load: f64,
}

impl Default for Day {
    fn default() -> Self {
        Self { bright: None, load: 1.0 }
    }
}

/// What changes while time goes on.
#[derive(Clone, Debug)]
pub(super) struct State {
    /// Charge of each bank, Ah.
    pub(super) charge: Vec<f64>,
    /// Whether each charger works.
    pub(super) works: Vec<bool>,
    /// What passes each coupling from its first bank to its second; `None` while it is open.
    pub(super) coupled: Vec<Option<f64>>,
}

impl State {
    /// Every bank at a share of its capacity, not above its ceiling.
    pub(super) fn at(model: &Model, share: Option<f64>) -> Self {
        let charge =
            |net: &Net| share.map_or(net.bank.ceiling, |share| (share * net.bank.capacity).min(net.bank.ceiling));
        Self {
            charge: model.nets.iter().map(charge).collect(),
            works: vec![false; model.chargers.len()],
            coupled: vec![None; model.couplings.len()],
        }
    }
}

/// Which sources there are.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sources {
    pub(super) sun: bool,
    pub(super) engine: bool,
    pub(super) shore: bool,
}

impl Sources {
    pub(super) const ALL: Self = Self { sun: true, engine: true, shore: true };
    pub(super) const NONE: Self = Self { sun: false, engine: false, shore: false };
}
