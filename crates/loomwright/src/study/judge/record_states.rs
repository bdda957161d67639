//! What converters and relays do in a case, and what holds them to it.

use serde::Serialize;

use super::rules::air_at;
use super::{CaseResult, Judgement};
use crate::converter::{Conditions, Limits, LockOut, Operation};
use crate::installation::ConverterKind;
use crate::network::{Part, delivers, input_power, inverter_output};
use crate::study::cable::round9;

/// A converter in one case.
#[derive(Clone, Debug, Serialize)]
pub struct ConverterInCase {
    /// Its name.
    pub name: String,
    /// Voltage at its input.
    pub input_voltage_v: f64,
    /// Current that it takes there.
    pub input_current_a: f64,
    /// Power that it gives.
    pub output_w: f64,
    /// Heat that it sheds.
    pub heat_w: f64,
    /// What decides how much it gives: `demand`, or the limit that binds.
    pub limited_by: &'static str,
}

/// A relay that senses a voltage, in one case.
#[derive(Clone, Debug, Serialize)]
pub struct RelayInCase {
    /// Its name.
    pub name: String,
    /// Whether it is closed.
    pub closed: bool,
    /// Voltage that it senses.
    pub senses_v: f64,
}

impl Judgement {
    /// What a converter does in a case with an operating point, and at which input voltage; `None` where it rests.
    pub(super) fn operation(&self, case: &CaseResult, index: usize) -> Option<Operation> {
        let plan = &self.installation;
        let (converter, of) = (plan.converters.get(index)?, plan.cases.get(case.case)?);
        let input = converter.input.filter(|input| case.point.is_some() && case.supplies(input[0]))?;
        let set = converter.output_current.map(|current| current * converter.output_voltage);
        let wanted = match converter.kind {
            ConverterKind::Inverter => inverter_output(plan, of, index),
            ConverterKind::Buck => {
                let given = case.sources.iter().find(|(part, _)| *part == Part::Output(index))?;
                given.1.abs() * converter.output_voltage
            }
            // An array that has less than the setting asks for gives what it has; a battery takes more than the setting.
            ConverterKind::SolarController => converter.losses.output(input_power(plan, of, index)),
            ConverterKind::DcDcCharger => set.filter(|_| delivers(converter.kind, of))? * 2.0,
            // It has no direct-current input to be limited.
            ConverterKind::ShoreCharger => return None,
        };
        let limits = Limits {
            output_current: converter.output_current,
            output_power: converter.output_power,
            input_current: converter.input_limit,
            derating: converter.derating,
            lock_out: converter
                .lock_out
                .zip(converter.restart)
                .and_then(|(stop, start)| LockOut::new(stop, start).ok()),
        };
        let conditions = Conditions {
            input_voltage: case.between(input),
            output_voltage: converter.output_voltage,
            wanted,
            ambient: air_at(plan, converter),
            running: true,
        };
        let runs = wanted.value > 0.0 && conditions.input_voltage.value > 0.0;
        runs.then(|| limits.operate(&converter.losses, &conditions).ok()).flatten()
    }

    pub(super) fn converters_in(&self, case: &CaseResult) -> Vec<ConverterInCase> {
        let converters = self.installation.converters.iter().enumerate();
        let found = converters.filter_map(|(index, converter)| {
            let done = self.operation(case, index)?;
            Some(ConverterInCase {
                name: converter.name.clone(),
                input_voltage_v: round9(case.between(converter.input?).value),
                input_current_a: round9(done.input_current.value),
                output_w: round9(done.output.value),
                heat_w: round9(done.heat.value),
                limited_by: done.binding.name(),
            })
        });
        found.collect()
    }

    pub(super) fn relays_in(&self, case: &CaseResult) -> Vec<RelayInCase> {
        let Some(point) = &case.point else { return Vec::new() };
        let relays = case.lowered.relays.iter().zip(&case.lowered.network.relays);
        let found = relays.filter_map(|(link, relay)| {
            Some(RelayInCase {
                name: self.installation.links.get(*link)?.name.clone(),
                closed: !point.open_branches.contains(&relay.branch),
                senses_v: round9(point.between(relay.senses).value),
            })
        });
        found.collect()
    }
}
