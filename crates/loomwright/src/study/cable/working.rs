//! The calculation as an engineer would write it: formula, numbers put in, result, source.

use serde::Serialize;

use super::heat_steps::{Laid, duty_step, resistance, resistance_source, table_step, withstand_step};
use super::{Candidate, Load, OperatingPoint, Sizing};
use crate::heat::{HeatPath, Lay};
use crate::practice::TableCap;
use crate::protection::{Device, OVERLOAD_FACTOR};
use crate::quantity::{ThermodynamicTemperature, ToText, in_celsius, in_ohm_per_km, significant};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;

/// One step of the calculation.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Step {
    /// What is worked out.
    pub title: &'static str,
    /// The formula.
    pub formula: &'static str,
    /// The formula with its numbers and result.
    pub numbers: String,
    /// Where formula or numbers come from.
    pub source: String,
}

/// A number for people.
pub(crate) fn n(value: f64) -> String {
    significant(value, 4)
}

impl Sizing {
    /// The working of the chosen size, or of the closest when nothing passes.
    pub fn working(&self) -> Vec<Step> {
        let Some(candidate) = self.chosen.as_ref().or(self.closest.as_ref()) else { return Vec::new() };
        let mut steps = vec![self.current_step()];
        if let Some(point) = &candidate.operating {
            steps.extend(self.resistance_steps(candidate, point));
        }
        steps.extend(self.ampacity_steps(candidate));
        if let Some(point) = &candidate.operating {
            steps.extend(self.drop_steps(candidate, point));
        }
        steps.extend(self.fuse_steps(candidate));
        steps.extend(withstand_step(&candidate.conductor, self.circuit.insulation, candidate.conductor_limit));
        if let Some(point) = &candidate.operating {
            steps.push(self.inverse_step(candidate, point));
        }
        steps
    }

    fn current_step(&self) -> Step {
        let current = n(self.circuit.current.get::<ampere>());
        let (formula, numbers) = match self.circuit.query.load {
            Load::Current(_) => ("Ib as given", format!("Ib = {current} A")),
            Load::Power { power, lowest_voltage } => (
                "Ib = P / U_lowest",
                format!("Ib = {} W / {} V = {current} A", n(power.value), n(lowest_voltage.value)),
            ),
        };
        Step { title: "Design current", formula, numbers, source: "the circuit as given".into() }
    }

    fn resistance_steps(&self, candidate: &Candidate, point: &OperatingPoint) -> Vec<Step> {
        let conductor = &candidate.conductor;
        let each = self.circuit.current / f64::from(candidate.parallel);
        let mut steps = vec![Step {
            title: "Resistance of the conductor at its working temperature",
            formula: RESISTANCE,
            numbers: format!("{}: {}", conductor.label(), resistance(conductor, point.resistance_at)),
            source: resistance_source(conductor),
        }];
        let lay = self.circuit.lay(candidate.parallel);
        let path = HeatPath::new(conductor, &lay, self.circuit.ambient);
        let balance = path.and_then(|path| path.balance(each));
        match (balance, self.circuit.duty) {
            (_, Some(duty)) => {
                let permitted = candidate.duty_ampacity.unwrap_or_default();
                let temperatures = [point.temperature, candidate.conductor_limit, point.resistance_at];
                steps.push(duty_step(&duty, [self.circuit.current, permitted], temperatures));
            }
            (Ok(balance), None) => {
                steps.push(self.laid(candidate, &lay).balance_step(each.get::<ampere>(), &balance));
            }
            (Err(_), None) => {}
        }
        steps
    }

    fn laid<'a>(&self, candidate: &'a Candidate, lay: &'a Lay) -> Laid<'a> {
        Laid { conductor: &candidate.conductor, lay, parallel: candidate.parallel, ambient: self.circuit.ambient }
    }

    fn ampacity_steps(&self, candidate: &Candidate) -> Vec<Step> {
        let rule = &self.circuit.terminal_rule;
        let small = rule.small_circuits.map_or_else(String::new, |(current, small)| {
            format!(
                " ({} °C where it cannot carry {} A within that)",
                n(in_celsius(small.value)),
                n(current.get::<ampere>())
            )
        });
        let within = format!(
            "lower of insulation {} °C and terminals {} °C{small} = {} °C",
            n(in_celsius(self.circuit.insulation)),
            n(in_celsius(rule.usual.value)),
            n(in_celsius(candidate.conductor_limit)),
        );
        let lay = self.circuit.lay(candidate.parallel);
        let models: Vec<_> = candidate.models.iter().flatten().copied().collect();
        let by_model = self.laid(candidate, &lay).ampacity_step(&within, candidate.conductor_limit, &models);
        let by_table = match &candidate.table {
            TableCap::Capped(cap) => Some(table_step(cap, candidate.ampacity)),
            TableCap::NoTable => None,
        };
        by_model.into_iter().chain(by_table).collect()
    }

    fn drop_steps(&self, candidate: &Candidate, point: &OperatingPoint) -> Vec<Step> {
        let circuit = &self.circuit;
        let current = n(circuit.current.get::<ampere>());
        let per_km = n(in_ohm_per_km(candidate.conductor.resistance_at(point.resistance_at)));
        let parallel = if candidate.parallel > 1 { format!(" / {}", candidate.parallel) } else { String::new() };
        let legs = n(circuit.legs);
        let length = n(circuit.length.get::<meter>());
        let volts = |value: crate::quantity::ElectricPotential| n(value.get::<volt>());
        let mut steps = vec![Step {
            title: "Drop of the conductors",
            formula: "ΔU = Ib · r(t) · length · legs",
            numbers: format!(
                "{current} A · {per_km} mΩ/m · {length} m · {legs}{parallel} = {} V",
                volts(point.conductor_drop)
            ),
            source: "Ohm's law".into(),
        }];
        let mut parts = vec![
            format!("conductors {} V", volts(point.conductor_drop)),
            format!("joints {current} A · {} = {} V", circuit.joint_resistance.to_text(), volts(point.joint_drop)),
        ];
        parts.push(format!("fuse 0.1 V · 0.8 = {} V", volts(point.fuse_drop)));
        if circuit.chassis_return {
            parts.push(format!(
                "chassis {current} A · {} = {} V",
                circuit.chassis.to_text(),
                volts(point.chassis_drop)
            ));
        }
        steps.push(Step {
            title: "Whole drop",
            formula: "ΔU = conductors + joints + fuse with holder (+ chassis)",
            numbers: format!(
                "{} : {} V of {} V permitted",
                parts.join(" + "),
                volts(point.drop),
                volts(circuit.drop_limit)
            ),
            source: "joints and fuse: common practice, no source".into(),
        });
        steps
    }

    fn inverse_step(&self, candidate: &Candidate, point: &OperatingPoint) -> Step {
        let volts = |value: crate::quantity::ElectricPotential| n(value.get::<volt>());
        let rest = point.drop - point.conductor_drop;
        Step {
            title: "Longest run and largest current",
            formula: "L = (ΔU_limit − fixed drops) / (conductor drop per metre); Imax = least of Iz, what its fuse carries, and the drop",
            numbers: format!(
                "L = ({} − {}) V / ({} V / {} m) = {} m; Imax = {} A",
                volts(self.circuit.drop_limit),
                volts(rest),
                volts(point.conductor_drop),
                n(self.circuit.length.get::<meter>()),
                n(candidate.longest_run.get::<meter>()),
                n(candidate.largest_current.get::<ampere>()),
            ),
            source: "inverse of the steps above".into(),
        }
    }

    fn fuse_steps(&self, candidate: &Candidate) -> Option<Step> {
        let fuse = candidate.fuse?;
        let bears = candidate.margins().find(|margin| margin.check == super::Check::FuseRating)?.limit;
        Some(Step {
            title: "Fuse",
            formula: FUSE,
            numbers: fuse_numbers(&Device::from(fuse), self.circuit.ambient, bears)?,
            source: "IEC 60364-4-43, 433.1; family data in data/fuse_families.csv".into(),
        })
    }
}

/// How resistance goes with temperature.
pub(crate) const RESISTANCE: &str = "r(t) = r20 · (T0 + t) / (T0 + 20)";
/// What a fuse is held to.
pub(crate) const FUSE: &str = "Ib ≤ In · continuous share · ambient factor; In ≤ Iz; I2 ≤ 1.45 Iz";

/// A fuse with its numbers, against a conductor that bears so many amperes; `None` where no re-rating is at hand.
pub(crate) fn fuse_numbers(device: &Device<'_>, ambient: ThermodynamicTemperature, bears: f64) -> Option<String> {
    let (rating, carried) = (n(device.fuse.rating.get::<ampere>()), device.continuous_current(ambient)?);
    let operating = device.conventional_current().map_or_else(String::new, |operating| {
        let (operating, most) = (operating.get::<ampere>(), bears * OVERLOAD_FACTOR);
        let sign = if operating <= most * (1.0 + 1e-9) { "≤" } else { ">" };
        format!("; I2 = {} A {sign} 1.45 Iz = {} A", n(operating), n(most))
    });
    Some(format!(
        "{} {rating} A · {} · {} carries {} A here; In = {rating} A against Iz = {} A{operating}",
        device.fuse.family.name(),
        n(device.continuous_share().value),
        n(device.fuse.family.rerating(ambient)?.value),
        n(carried.get::<ampere>()),
        n(bears),
    ))
}
