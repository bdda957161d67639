//! What a report tells of a run, stretch by stretch.

use super::RunModel;
use crate::heat::{HeatPath, Lay};
use crate::quantity::{ElectricCurrent, ThermodynamicTemperature, in_celsius};

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

/// The stretch that governs.
#[derive(Clone, Copy, Debug)]
pub(in super::super) struct Governing<'a> {
    /// How it lies.
    pub(in super::super) lay: &'a Lay,
    /// Its way from metal to air; `None` where no model gives it.
    pub(in super::super) path: Option<&'a HeatPath>,
    /// The air.
    pub(in super::super) ambient: ThermodynamicTemperature,
}

impl RunModel {
    /// The stretch in which it bears least.
    pub(in super::super) fn governing(&self) -> Option<Governing<'_>> {
        let stretch = self.stretches.get(self.governing)?;
        Some(Governing { lay: &stretch.lay, path: stretch.path.as_ref().ok(), ambient: stretch.ambient })
    }

    /// Every stretch that a model follows at a current.
    pub(in super::super) fn warm(&self, current: ElectricCurrent) -> impl Iterator<Item = Warm> {
        self.stretches.iter().filter_map(move |stretch| {
            let reached = stretch.path.as_ref().ok()?.temperature(current.abs()).ok()?;
            let [reached, limit, ambient] = [reached, stretch.limit, stretch.ambient].map(in_celsius);
            Some(Warm { reached, limit, ambient })
        })
    }
}
