//! What a report tells of a run, stretch by stretch.

use super::RunModel;
use crate::quantity::{ElectricCurrent, in_celsius};

/// A stretch at a current, °C.
#[derive(Clone, Copy, Debug)]
pub(in super::super) struct Warm {
    /// The conductor.
    pub(in super::super) reached: f64,
    /// What it may reach there.
    pub(in super::super) limit: f64,
    /// The air.
    pub(in super::super) ambient: f64,
}

impl RunModel {
    /// Every stretch that a model follows at a current.
    pub(in super::super) fn warm(&self, current: ElectricCurrent) -> impl Iterator<Item = Warm> {
        self.stretches.iter().filter_map(move |stretch| {
            let reached = stretch.path.as_ref().ok()?.temperature(current.abs()).ok()?;
            let [reached, limit, ambient] = [reached, stretch.limit, stretch.ambient].map(in_celsius);
            Some(Warm { reached, limit, ambient })
        })
    }
}
