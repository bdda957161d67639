//! Typed edits of a plan: what a remedy applies before it asks again.

use super::{ConductorChoice, FuseChoice, Installation};
use crate::conductor::Conductor;
use crate::protection::Fuse;
use crate::quantity::{ElectricCurrent, ElectricPotential, Length, Ratio};
use uom::si::ratio::ratio;

/// One edit.
#[derive(Clone, Copy, Debug)]
pub enum Change {
    /// Another conductor for a run and its twin.
    Conductor(usize, Conductor),
    /// Another fuse in a run.
    Fuse(usize, Fuse),
    /// Another routed length for a run and its twin, spread over its zones as before.
    Length(usize, Length),
    /// Another output current setting of a converter.
    OutputCurrent(usize, ElectricCurrent),
    /// Another output voltage of a converter.
    OutputVoltage(usize, ElectricPotential),
    /// An ignition or D+ signal for a charger.
    RunningSignal(usize),
    /// A resistor through which a converter's input capacitors are charged first.
    PreCharge(usize),
}

impl Installation {
    /// The plan with one edit applied; an index that does not exist changes nothing.
    pub fn with(&self, change: &Change) -> Self {
        let mut changed = self.clone();
        match *change {
            Change::Conductor(run, conductor) => {
                for index in self.run_and_twin(run) {
                    if let Some(run) = changed.runs.get_mut(index) {
                        run.conductor = ConductorChoice::Fixed(conductor);
                    }
                }
            }
            Change::Fuse(run, fuse) => {
                if let Some(run) = changed.runs.get_mut(run) {
                    run.fuse = FuseChoice::Fixed(fuse);
                    // Another part than the one whose sheet the plan gives.
                    run.sheet = None;
                }
            }
            Change::Length(run, length) => {
                for index in self.run_and_twin(run) {
                    if let Some(run) = changed.runs.get_mut(index) {
                        let scale: Ratio = length / run.route();
                        if scale.get::<ratio>().is_finite() {
                            run.segments.iter_mut().for_each(|segment| segment.length *= scale.get::<ratio>());
                        }
                    }
                }
            }
            Change::OutputCurrent(converter, current) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.output_current = Some(current);
                }
            }
            Change::OutputVoltage(converter, voltage) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.output_voltage = voltage;
                }
            }
            Change::PreCharge(converter) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.pre_charge = true;
                }
            }
            Change::RunningSignal(converter) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.running_signal = true;
                }
            }
        }
        changed
    }

    /// A run's index and that of its other leg.
    pub fn run_and_twin(&self, run: usize) -> impl Iterator<Item = usize> {
        let twin = self.runs.get(run).and_then(|run| run.twin);
        std::iter::once(run).chain(twin)
    }
}
