//! The current that each run is judged at: the worst of all cases and of what its devices may draw.

use super::operate::CaseResult;
use crate::installation::{ConverterKind, Installation, NodeId};
use crate::practice::Practice;
use crate::quantity::{ElectricCurrent, Power};

/// A current, and what makes it so large.
#[derive(Clone, Debug, Default)]
pub struct Design {
    /// The current.
    pub current: ElectricCurrent,
    /// The case or device that sets it.
    pub reason: String,
    /// Index of the case, when a case sets it.
    pub case: Option<usize>,
}

/// RMS over mean of an inverter's input current with mains-frequency ripple: common practice, no source.
const RIPPLE: f64 = 1.1;
/// Design current of a solar array over its short-circuit current: IEC practice, and NEC 690.8.
const ARRAY: f64 = 1.25;
const ARRAY_NA: f64 = 1.56;

/// The largest input current of a converter: at its lock-out voltage, within its own limit.
pub(super) fn at_lock_out(installation: &Installation, index: usize) -> Option<ElectricCurrent> {
    let converter = installation.converters.get(index)?;
    let output: Power = match converter.kind {
        ConverterKind::Inverter => converter.output_power?,
        ConverterKind::DcDcCharger | ConverterKind::Buck => converter.output_current? * converter.output_voltage,
        ConverterKind::SolarController | ConverterKind::ShoreCharger => return None,
    };
    let drawn = (output / converter.efficiency + converter.no_load) / converter.lock_out?;
    Some(converter.input_limit.map_or(drawn, |limit| if limit < drawn { limit } else { drawn }))
}

/// The design current of every run.
pub(super) fn design(installation: &Installation, cases: &[CaseResult]) -> Vec<Design> {
    let mut found: Vec<Design> = vec![Design::default(); installation.runs.len()];
    for (index, design) in found.iter_mut().enumerate() {
        let mut raise = |current: ElectricCurrent, reason: &str, case: Option<usize>| {
            if current > design.current {
                *design = Design { current, reason: reason.to_owned(), case };
            }
        };
        // A start lasts moments: it counts for voltage, not for what a conductor or fuse carries.
        let lasting =
            |result: &&CaseResult| installation.cases.get(result.case).is_some_and(|case| case.starting.is_none());
        for result in cases.iter().filter(lasting) {
            let current = result.run_currents.get(index).copied().unwrap_or_default().abs();
            let name = installation.cases.get(result.case).map_or("", |case| case.name.as_str());
            raise(current, name, Some(result.case));
        }
        for (number, converter) in installation.converters.iter().enumerate() {
            if !feeds(installation, index, converter.input) {
                continue;
            }
            if let Some(current) = at_lock_out(installation, number) {
                let ripple = if converter.kind == ConverterKind::Inverter { RIPPLE } else { 1.0 };
                raise(current * ripple, &format!("{} at its lock-out voltage", converter.name), None);
            }
            if let Some((short_circuit, _)) = converter.array {
                let north_american =
                    matches!(installation.practice, Practice::NaRecreationalVehicle | Practice::UsSmallCraft);
                let factor = if north_american { ARRAY_NA } else { ARRAY };
                raise(short_circuit * factor, &format!("{factor} times the array's short-circuit current"), None);
            }
        }
    }
    found
}

/// Whether a run is the one that ends at a converter's input, or its other leg.
fn feeds(installation: &Installation, run: usize, input: Option<[NodeId; 2]>) -> bool {
    let ends = |run: usize| installation.runs.get(run).zip(input).is_some_and(|(run, input)| run.to == input[0]);
    installation.run_and_twin(run).any(ends)
}
