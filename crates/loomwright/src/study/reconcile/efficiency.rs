//! Efficiency of a converter from what it takes and gives, with all covariances. Numbers in this kernel are SI units.

use super::devices::{DeviceResult, Found, known, port, probe_of, variance};
use super::fit::Fit;
use super::probe::Probe;
use super::reading::{Measured, Reading};
use super::system::Half;
use crate::data::tables::constants;
use crate::installation::{Converter, DeviceRef};
use crate::network::{NetworkError, Part};
use crate::quantity::{Power, Ratio, significant};
use crate::study::reconcile::Verdict;
use uom::si::power::watt;
use uom::si::ratio::ratio;

/// The efficiency of a converter in a round, where its input current was measured, and its output or an inverter's power.
pub(super) fn efficiency(
    fit: &mut Fit<'_>,
    (round, case): (usize, usize),
    (index, converter): (usize, &Converter),
    readings: &[&Reading],
) -> Result<Option<DeviceResult>, NetworkError> {
    let Some(input) = converter.input else { return Ok(None) };
    let Some(drawn) = probe_of(fit, round, Part::Device(DeviceRef::Converter(index))) else { return Ok(None) };
    let (Some(volts), Some(amperes)) = (known(fit, round, port(input))?, known(fit, round, drawn)?) else {
        return Ok(None);
    };
    let taken = volts.value * amperes.value;
    // Output: its own volts and amperes, or the power that was read on the mains side.
    let mut given = None;
    for reading in readings.iter().filter(|reading| reading.case == case) {
        if let Measured::Power { converter, value, within } = reading.measured
            && converter == index
        {
            given = Some((value.value, within.value / 3.0_f64.sqrt(), Vec::new()));
        }
    }
    if let (None, Some(nodes), Some(probe)) = (&given, converter.output, probe_of(fit, round, Part::Output(index))) {
        let (Some(at), Some(gives)) = (known(fit, round, port(nodes))?, known(fit, round, probe)?) else {
            return Ok(None);
        };
        // A demand of negative current is a source.
        let sign = if matches!(probe, Probe::Draw(_)) { -1.0 } else { 1.0 };
        let (watts, measured) = (sign * at.value * gives.value, gives.measured());
        if measured {
            let slopes = vec![(sign * gives.value, at.half), (sign * at.value, gives.half)];
            given = Some((watts, 0.0, slopes));
        }
    }
    let Some((output, alone, slopes)) = given.filter(|_| amperes.measured() && taken > 1.0) else { return Ok(None) };
    let efficiency = output / taken;
    let mut parts: Vec<(f64, &Half)> = slopes.iter().map(|(slope, half)| (slope / taken, half)).collect();
    parts.push((-efficiency / volts.value, &volts.half));
    parts.push((-efficiency / amperes.value, &amperes.half));
    let within = 1.96 * (variance(&parts) + (alone / taken).powi(2)).sqrt();
    let watts = Power::new::<watt>(output.max(0.0));
    let curve = |factor: f64| {
        let input = converter.losses.scaled(Ratio::new::<ratio>(factor)).input(watts);
        if input.value > 0.0 { watts / input } else { Ratio::default() }
    };
    let planned = [curve(constants::SPREAD_LOSS_HIGH), curve(1.0), curve(constants::SPREAD_LOSS_LOW)];
    let percent = |value: f64| significant(value * 100.0, 3);
    let words = format!(
        "{} ± {} % at {} W, planned {} %",
        percent(efficiency),
        significant(within * 100.0, 2),
        significant(output, 3),
        percent(planned[1].value)
    );
    let (verdict, reason) = if efficiency - within > 1.0 {
        (Verdict::NotTold, format!("{words}: no converter gives more than it takes; read input and output again"))
    } else if efficiency + within < planned[0].value {
        (Verdict::Watch, format!("{words}: it loses more than its curve says"))
    } else if within > constants::READING_COARSE {
        (Verdict::NotTold, format!("{words}: too coarse to tell"))
    } else {
        (Verdict::AsPlanned, words)
    };
    let found = Found::Efficiency {
        measured: Ratio::new::<ratio>(efficiency),
        within: Ratio::new::<ratio>(within),
        planned,
        output: watts,
    };
    Ok(Some(DeviceResult { device: converter.name.clone(), cases: vec![case], found, verdict, reason }))
}
