//! What the readings tell of devices: efficiency, output, internal resistance, charge voltage; each with its uncertainty
//! propagated to first order with all covariances (JCGM 100, 5.2.2). Numbers in this kernel are SI units.

use super::efficiency::efficiency;
use super::fit::Fit;
use super::model::Unknown;
use super::probe::Probe;
use super::reading::Reading;
use super::system::Half;
use crate::data::tables::constants;
use crate::installation::{Alternator, Battery, Case, Converter, ConverterKind, DeviceRef, Installation};
use crate::network::{NetworkError, Part};
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio, significant};
use crate::study::reconcile::Verdict;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;

/// A measured quantity of a device.
#[derive(Clone, Debug, PartialEq)]
pub struct DeviceResult {
    /// The device.
    pub device: String,
    /// The case, or the two of a load step.
    pub cases: Vec<usize>,
    /// What was found.
    pub found: Found,
    /// What is to be said of it.
    pub verdict: Verdict,
    /// Why, in words.
    pub reason: String,
}

/// What was found of a device, each with half the width of its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Found {
    /// Efficiency of a converter at an output, against its curve there.
    Efficiency {
        /// Measured.
        measured: Ratio,
        /// Half the width of its interval.
        within: Ratio,
        /// By its curve, with losses 1.2 and 0.9 times as large.
        planned: [Ratio; 3],
        /// The output that it gave.
        output: Power,
    },
    /// Output of an alternator against what it can give in that case.
    Output {
        /// Measured current.
        measured: ElectricCurrent,
        /// Half the width of its interval.
        within: ElectricCurrent,
        /// What it can give.
        available: ElectricCurrent,
        /// Its voltage.
        voltage: ElectricPotential,
    },
    /// Resistance of a battery from a load step.
    Resistance {
        /// Measured.
        measured: ElectricalResistance,
        /// Half the width of its interval.
        within: ElectricalResistance,
        /// What the plan counts with.
        planned: ElectricalResistance,
    },
    /// Voltage at a battery while something charges it.
    ChargeVoltage {
        /// Measured.
        measured: ElectricPotential,
        /// Half the width of its interval.
        within: ElectricPotential,
        /// What the charger is set to.
        set: ElectricPotential,
        /// What the battery bears.
        most: ElectricPotential,
    },
}

/// A number with the half row that says how it hangs on everything.
pub(super) struct Known {
    pub(super) value: f64,
    pub(super) half: Half,
    before: f64,
}

/// Share of the doubt before the readings that has to be gone for a number to count as measured.
const MEASURED: f64 = 0.5;

impl Known {
    fn variance(&self) -> f64 {
        self.half.variance()
    }

    /// Whether the readings say what it is, and not the plan.
    pub(super) fn measured(&self) -> bool {
        self.variance().sqrt() < MEASURED * self.before
    }
}

/// What a probe shows in a round as the readings have it.
pub(super) fn known(fit: &mut Fit<'_>, round: usize, probe: Probe) -> Result<Option<Known>, NetworkError> {
    let views = fit.look(round, &[probe])?;
    let (Some(view), Some(of)) = (views.first(), fit.rounds.get(round)) else { return Ok(None) };
    let row = fit.row(round, view, false);
    let Some(half) = fit.solved.as_ref().map(|solved| solved.half(&row)) else { return Ok(None) };
    let parts = of.rough.iter().zip(&view.own).map(|(rough, slope)| (rough.deviation * slope).powi(2));
    // What any resistance may do of volts counts as doubt too: next to a bad joint nothing is known.
    Ok(Some(Known { value: view.value, half, before: parts.sum::<f64>().sqrt() }))
}

/// The rough number or source that stands for a part.
pub(super) fn probe_of(fit: &Fit<'_>, round: usize, part: Part) -> Option<Probe> {
    let of = fit.rounds.get(round)?;
    let (index, rough) = of.rough.iter().enumerate().find(|(_, rough)| rough.part == part)?;
    Some(match rough.what {
        Unknown::Emf(source) => Probe::Given(source),
        Unknown::Draw(_) => Probe::Draw(index),
    })
}

pub(super) fn port(nodes: [crate::installation::NodeId; 2]) -> Probe {
    Probe::Voltage(nodes.map(|node| node.0))
}

/// Everything that the readings tell of devices.
pub(super) fn devices(
    plan: &Installation,
    fit: &mut Fit<'_>,
    readings: &[&Reading],
) -> Result<Vec<DeviceResult>, NetworkError> {
    let mut found = Vec::new();
    for round in 0..fit.rounds.len() {
        let Some((place, case)) =
            fit.rounds.get(round).and_then(|round| Some((round.case, plan.cases.get(round.case)?)))
        else {
            continue;
        };
        for (index, converter) in plan.converters.iter().enumerate() {
            found.extend(efficiency(fit, (round, place), (index, converter), readings)?);
            found.extend(charge_voltage(plan, fit, (round, place), (index, converter), case)?);
        }
        for (index, alternator) in plan.alternators.iter().enumerate() {
            found.extend(output(fit, (round, place), (index, alternator), case)?);
        }
    }
    for (index, battery) in plan.batteries.iter().enumerate() {
        found.extend(load_step(plan, fit, (index, battery))?);
    }
    Ok(found)
}

/// Covariance-weighted sum over numbers: (slope, half row) each.
pub(super) fn variance(parts: &[(f64, &Half)]) -> f64 {
    let pairs = parts.iter().flat_map(|one| parts.iter().map(move |other| one.0 * other.0 * one.1.covariance(other.1)));
    pairs.sum()
}

fn output(
    fit: &mut Fit<'_>,
    (round, case): (usize, usize),
    (index, alternator): (usize, &Alternator),
    of: &Case,
) -> Result<Option<DeviceResult>, NetworkError> {
    let Some(probe) = probe_of(fit, round, Part::Device(DeviceRef::Alternator(index))) else { return Ok(None) };
    let (Some(gives), Some(volts)) = (known(fit, round, probe)?, known(fit, round, port(alternator.nodes))?) else {
        return Ok(None);
    };
    let sign = if matches!(probe, Probe::Draw(_)) { -1.0 } else { 1.0 };
    let measured = sign * gives.value;
    let (_, within) = fit.spread(&gives.half);
    // Next to a stiff source the plan knows nothing of its current: what is left of doubt decides.
    if within > 0.3 * measured.abs().max(0.05 * alternator.rating.value) {
        return Ok(None);
    }
    let available = of.available(alternator);
    let sags = volts.value < alternator.voltage.value * constants::READING_SAGS && volts.measured();
    let words = format!(
        "{} ± {} A at {} V; {} A are to be had there, {} A is its rating",
        significant(measured, 3),
        significant(within, 2),
        significant(volts.value, 4),
        significant(available.value, 3),
        significant(alternator.rating.value, 3)
    );
    let (verdict, reason) = if measured - within > alternator.rating.value {
        (Verdict::Watch, format!("{words}: more than its rating, it will overheat"))
    } else if measured - within > available.value {
        (Verdict::Watch, format!("{words}: more than it is counted on to give hot"))
    } else if sags && measured + within < constants::READING_WEAK * available.value {
        (
            Verdict::Watch,
            format!("{words}: its voltage sags before it gives what it should; look at belt, diodes and field"),
        )
    } else {
        (Verdict::AsPlanned, words)
    };
    let found = Found::Output {
        measured: ElectricCurrent::new::<ampere>(measured),
        within: ElectricCurrent::new::<ampere>(within),
        available,
        voltage: ElectricPotential::new::<volt>(volts.value),
    };
    Ok(Some(DeviceResult { device: alternator.name.clone(), cases: vec![case], found, verdict, reason }))
}

/// Resistance from two rounds in which the battery rests alike and is loaded differently.
fn load_step(
    plan: &Installation,
    fit: &mut Fit<'_>,
    (index, battery): (usize, &Battery),
) -> Result<Option<DeviceResult>, NetworkError> {
    let mut rounds = Vec::new();
    for round in 0..fit.rounds.len() {
        let Some(case) = fit.rounds.get(round).map(|round| round.case) else { continue };
        let Some(probe) = probe_of(fit, round, Part::Device(DeviceRef::Battery(index))) else { continue };
        if let (Some(gives), Some(volts)) = (known(fit, round, probe)?, known(fit, round, port(battery.nodes))?)
            && volts.measured()
        {
            rounds.push((case, gives, volts));
        }
    }
    let rests = |case: usize| {
        plan.cases.get(case).map(|case| (case.batteries, case.charge.map(|charge| charge.value.to_bits())))
    };
    let mut best: Option<(f64, DeviceResult)> = None;
    for (place, (one, less, high)) in rounds.iter().enumerate() {
        for (other, more, low) in rounds.iter().skip(place + 1) {
            let (step, fall) = (more.value - less.value, high.value - low.value);
            if rests(*one) != rests(*other) || step.abs() < 1.0 {
                continue;
            }
            let measured = fall / step;
            let parts = [
                (1.0 / step, &high.half),
                (-1.0 / step, &low.half),
                (-measured / step, &more.half),
                (measured / step, &less.half),
            ];
            let within = 1.96 * variance(&parts).sqrt();
            // What the plan alone knows is no measurement.
            if within > 0.5 * measured.abs() || best.as_ref().is_some_and(|(least, _)| *least <= within) {
                continue;
            }
            let loaded = if more.value.abs() > less.value.abs() { *other } else { *one };
            let planned = plan.cases.get(loaded).map_or(battery.resistance, |case| case.battery(battery).resistance);
            best = Some((within, resistance(battery, planned, [*one, *other], [measured, within])));
        }
    }
    Ok(best.map(|(_, result)| result))
}

fn resistance(
    battery: &Battery,
    planned: ElectricalResistance,
    cases: [usize; 2],
    [measured, within]: [f64; 2],
) -> DeviceResult {
    let words = format!(
        "{} ± {} mΩ by the load step, planned {} mΩ",
        significant(measured * 1e3, 3),
        significant(within * 1e3, 2),
        significant(planned.value * 1e3, 3)
    );
    let (verdict, reason) = if measured < 0.0 {
        (Verdict::NotTold, format!("{words}: its voltage rose under load; read both cases shortly after each other"))
    } else if measured - within > constants::BATTERY_WORN * planned.value {
        (Verdict::Watch, format!("{words}: worn, cold, or a bad joint inside"))
    } else {
        (Verdict::AsPlanned, words)
    };
    let found = Found::Resistance {
        measured: ElectricalResistance::new::<ohm>(measured),
        within: ElectricalResistance::new::<ohm>(within),
        planned,
    };
    DeviceResult { device: battery.name.clone(), cases: cases.to_vec(), found, verdict, reason }
}

/// Voltage at the batteries that a charger reaches, while it gives.
fn charge_voltage(
    plan: &Installation,
    fit: &mut Fit<'_>,
    (round, place): (usize, usize),
    (index, converter): (usize, &Converter),
    case: &Case,
) -> Result<Vec<DeviceResult>, NetworkError> {
    let Some(output) = converter.output.filter(|_| crate::network::delivers(converter.kind, case)) else {
        return Ok(Vec::new());
    };
    let charges = converter.kind != ConverterKind::Buck && converter.kind != ConverterKind::Inverter;
    let island = crate::network::joined(plan, case);
    let joined = |one: usize| island.get(one).is_some() && island.get(one) == island.get(output[0].0);
    let mut found = Vec::new();
    for battery in plan.batteries.iter().filter(|battery| charges && joined(battery.nodes[0].0)) {
        let Some(volts) = known(fit, round, port(battery.nodes))?.filter(Known::measured) else { continue };
        let (_, within) = fit.spread(&volts.half);
        let (set, most) = (converter.output_voltage, battery.charge_voltage);
        let words = format!(
            "{} ± {} V at {}, set to {} V",
            significant(volts.value, 4),
            significant(within, 2),
            battery.name,
            significant(set.value, 4)
        );
        let (verdict, reason) = if volts.value - within > most.value {
            (
                Verdict::Remake,
                format!("{words}: more than the {} V that it bears; lower the setting now", significant(most.value, 4)),
            )
        } else if volts.value - within > set.value {
            (Verdict::Watch, format!("{words}: above the setting; another charger or its sense wire"))
        } else {
            (Verdict::AsPlanned, format!("{words}; it comes up to the setting at the end of the charge"))
        };
        let result = Found::ChargeVoltage {
            measured: ElectricPotential::new::<volt>(volts.value),
            within: ElectricPotential::new::<volt>(within),
            set,
            most,
        };
        let device = plan.converters.get(index).map_or_else(String::new, |one| one.name.clone());
        found.push(DeviceResult { device, cases: vec![place], found: result, verdict, reason });
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// JCGM 100:2008 (the GUM), example H.2, from memory: volts 4.9990 with a standard uncertainty of 0.0032, milliamperes
    /// 19.661 with 0.0095, correlated by −0.36; their ratio 254.260 Ω has 0.236 Ω. The printed digits are met: to 0.3 %,
    /// as rounded as the inputs are.
    #[test]
    fn a_ratio_of_correlated_numbers_is_that_of_the_gum() {
        let (volts, amperes, correlation) = (4.9990, 19.661e-3, -0.36_f64);
        let (of_volts, of_amperes) = (0.0032, 0.0095e-3);
        let one = Half::of(&[of_volts, 0.0]);
        let other = Half::of(&[correlation * of_amperes, (1.0 - correlation * correlation).sqrt() * of_amperes]);
        let quotient: f64 = volts / amperes;
        let deviation = variance(&[(1.0 / amperes, &one), (-quotient / amperes, &other)]).sqrt();
        assert!((quotient - 254.260).abs() < 0.001, "{quotient}");
        assert!((deviation / 0.236 - 1.0).abs() < 3e-3, "{deviation}");
    }
}
