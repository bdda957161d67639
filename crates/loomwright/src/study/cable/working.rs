//! The calculation as an engineer would write it: formula, numbers put in, result, source.

use serde::Serialize;

use super::{Candidate, Load, OperatingPoint, Sizing};
use crate::heat::{HeatPath, Model};
use crate::practice::TableCap;
use crate::quantity::{ToText, in_celsius, in_ohm_per_km, significant};
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

pub(super) fn n(value: f64) -> String {
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
        steps.extend(self.withstand_step(candidate));
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
        let zero = conductor.material.data().zero_resistance.value;
        let degrees = in_celsius(point.resistance_at);
        let each = self.circuit.current.get::<ampere>() / f64::from(candidate.parallel);
        let mut steps = vec![Step {
            title: "Resistance of the conductor at its working temperature",
            formula: "r(t) = r20 · (T0 + t) / (T0 + 20)",
            numbers: format!(
                "{}: r = {} Ω/km · ({} + {}) / ({} + 20) = {} Ω/km",
                conductor.label(),
                n(in_ohm_per_km(conductor.resistance_20)),
                n(zero),
                n(degrees),
                n(zero),
                n(in_ohm_per_km(conductor.resistance_at(point.resistance_at)))
            ),
            source: format!("{}; {}", conductor.source, conductor.material.data().zero_resistance_source),
        }];
        let path = HeatPath::new(conductor, &self.circuit.lay(candidate.parallel), self.circuit.ambient);
        let balance = path.and_then(|path| path.balance(self.circuit.current / f64::from(candidate.parallel)));
        match (balance, self.circuit.duty) {
            (_, Some(duty)) => steps.push(self.duty_step(candidate, point, &duty)),
            (Ok(balance), None) => steps.push(self.balance_step(candidate, each, &balance)),
            (Err(_), None) => {}
        }
        steps
    }

    fn ampacity_steps(&self, candidate: &Candidate) -> Vec<Step> {
        let model = n(candidate.model_ampacity.get::<ampere>());
        let limit = n(in_celsius(candidate.conductor_limit));
        let rule = &self.circuit.terminal_rule;
        let small = rule.small_circuits.map_or_else(String::new, |(current, small)| {
            format!(
                " ({} °C where it cannot carry {} A within that)",
                n(in_celsius(small.value)),
                n(current.get::<ampere>())
            )
        });
        let at_limit = n(in_ohm_per_km(candidate.conductor.resistance_at(candidate.conductor_limit)));
        let mut steps = vec![Step {
            title: "Ampacity by the heat model",
            formula: match candidate.governing_model() {
                Model::Table => "Iz = √(G · (t_limit − t_ambient) / r(t_limit))",
                _ => "the current at which the heat balance holds the limit",
            },
            numbers: format!(
                "limit = lower of insulation {} °C and terminals {} °C{small} = {limit} °C; r({limit} °C) = {at_limit} Ω/km; Iz = {model} A{}{}",
                n(in_celsius(self.circuit.insulation)),
                n(in_celsius(rule.usual.value)),
                self.grouped(candidate.parallel),
                self.opinions(candidate),
            ),
            source: candidate.governing_model().title(self.circuit.installation),
        }];
        if let TableCap::Capped(cap) = &candidate.table {
            steps.push(Step {
                title: "Ampacity by the practice's table",
                formula: "I_table(30 °C) · √((t_column − t_ambient) / (t_column − 30 °C)) · grouping, at most the printed value",
                numbers: format!(
                    "{} A printed, grouping {}, {} A here; the smaller of both governs: Iz = {} A",
                    n(cap.at_30_c.get::<ampere>()),
                    n(cap.grouping),
                    n(cap.ampacity.get::<ampere>()),
                    n(candidate.ampacity.get::<ampere>())
                ),
                source: cap.source.to_string(),
            });
        }
        steps
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
        let carried = fuse.continuous_current(self.circuit.ambient)?;
        let bears = candidate.margins().find(|margin| margin.check == super::Check::FuseRating)?.limit;
        let operating = fuse.conventional_current().map_or_else(String::new, |operating| {
            let limit = bears * crate::protection::OVERLOAD_FACTOR;
            format!("; I2 = {} A ≤ 1.45 Iz = {} A", n(operating.get::<ampere>()), n(limit))
        });
        Some(Step {
            title: "Fuse",
            formula: "Ib ≤ In · continuous share · ambient factor; In ≤ Iz; I2 ≤ 1.45 Iz",
            numbers: format!(
                "{} {} A · {} · {} carries {} A here; In = {} A against Iz = {} A{operating}",
                fuse.family.name(),
                n(fuse.rating.get::<ampere>()),
                n(fuse.family.continuous_share().value),
                n(fuse.family.rerating(self.circuit.ambient)?.value),
                n(carried.get::<ampere>()),
                n(fuse.rating.get::<ampere>()),
                n(bears),
            ),
            source: "IEC 60364-4-43, 433.1; family data in data/fuse_families.csv".into(),
        })
    }
}
