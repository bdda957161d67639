//! Devices in the report.

use serde::Serialize;
use uom::si::temperature_interval::kelvin;

use super::Judgement;
use super::rules::air_at;
use crate::converter::free_surface;
use crate::installation::{ConverterKind, DeviceRef, LoadKind, NodeId};
use crate::network::{Part, delivers, inverter_output};
use crate::quantity::{ElectricalResistance, Power, TemperatureInterval};
use crate::source::ShortCircuit;
use crate::study::cable::round9;

/// Rise over the air of its zone at which a converter's free surface is told.
const SHEDS_AT_K: f64 = 20.0;

/// A device in the report.
#[derive(Clone, Debug, Serialize)]
pub struct DeviceRecord {
    /// What it is: battery, alternator, converter or load.
    pub device: &'static str,
    /// Its name.
    pub name: String,
    /// Lowest voltage at it over all cases in which it is supplied.
    pub lowest_voltage_v: Option<f64>,
    /// The case of the lowest voltage.
    pub lowest_case: Option<String>,
    /// Highest voltage at it.
    pub highest_voltage_v: Option<f64>,
    /// Largest current over all cases.
    pub current_a: Option<f64>,
    /// Most heat that a converter sheds over all cases.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heat_w: Option<f64>,
    /// Free upright surface that sheds it at 20 K above the hottest air of its zone.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub free_surface_m2: Option<f64>,
    /// Of a battery: peak of a short circuit at its terminals (IEC 61660-1, full, its ohmic resistance).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub short_circuit_peak_a: Option<f64>,
    /// What flows a second later.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub short_circuit_steady_a: Option<f64>,
}

impl Judgement {
    pub(super) fn device_records(&self) -> Vec<DeviceRecord> {
        let plan = &self.installation;
        let mut records = Vec::new();
        let current_of = |part: Part| {
            let all = self.cases.iter().flat_map(|case| case.sources.iter().chain(&case.demands));
            all.filter(|(found, _)| *found == part).map(|(_, current)| current.value.abs()).reduce(f64::max).map(round9)
        };
        let mut add = |device, name: &str, nodes: Option<[NodeId; 2]>, current| {
            let volts = nodes.map_or_else(Vec::new, |nodes| {
                let supplied = self.cases.iter().filter(|case| case.supplies(nodes[0]) && case.supplies(nodes[1]));
                supplied.map(|case| (case.between(nodes).value, case.case)).collect::<Vec<_>>()
            });
            let lowest = volts.iter().min_by(|one, other| one.0.total_cmp(&other.0));
            let highest = volts.iter().max_by(|one, other| one.0.total_cmp(&other.0));
            records.push(DeviceRecord {
                device,
                name: name.to_owned(),
                lowest_voltage_v: lowest.map(|(value, _)| round9(*value)),
                lowest_case: lowest.and_then(|(_, case)| plan.cases.get(*case)).map(|case| case.name.clone()),
                highest_voltage_v: highest.map(|(value, _)| round9(*value)),
                current_a: current,
                heat_w: None,
                free_surface_m2: None,
                short_circuit_peak_a: None,
                short_circuit_steady_a: None,
            });
        };
        for (index, battery) in plan.batteries.iter().enumerate() {
            add("battery", &battery.name, Some(battery.nodes), current_of(Part::Device(DeviceRef::Battery(index))));
        }
        for (index, alternator) in plan.alternators.iter().enumerate() {
            add(
                "alternator",
                &alternator.name,
                Some(alternator.nodes),
                current_of(Part::Device(DeviceRef::Alternator(index))),
            );
        }
        for (index, converter) in plan.converters.iter().enumerate() {
            let nodes = converter.input.or(converter.output);
            let current =
                current_of(Part::Device(DeviceRef::Converter(index))).or_else(|| current_of(Part::Output(index)));
            add("converter", &converter.name, nodes, current);
        }
        for (index, load) in plan.loads.iter().enumerate() {
            let on_inverter = match load.kind {
                LoadKind::Current(current) if load.nodes.is_none() => Some(round9(current.value)),
                _ => None,
            };
            let current = current_of(Part::Device(DeviceRef::Load(index))).or(on_inverter);
            add("load", &load.name, load.nodes, current);
        }
        for battery in &plan.batteries {
            let own = |record: &&mut DeviceRecord| record.device == "battery" && record.name == battery.name;
            let found = ShortCircuit::of(battery.at_rest[2], battery.ohmic, ElectricalResistance::default());
            if let (Some(record), Ok(found)) = (records.iter_mut().find(own), found) {
                record.short_circuit_peak_a = Some(round9(found.peak.value));
                record.short_circuit_steady_a = Some(round9(found.quasi_steady.value));
            }
        }
        for (index, converter) in plan.converters.iter().enumerate() {
            let Some(heat) = self.converter_heat(index) else { continue };
            let own = |record: &&mut DeviceRecord| record.device == "converter" && record.name == converter.name;
            if let Some(record) = records.iter_mut().find(own) {
                record.heat_w = Some(round9(heat.value));
                let rise = TemperatureInterval::new::<kelvin>(SHEDS_AT_K);
                let surface = free_surface(heat, air_at(plan, converter), rise);
                record.free_surface_m2 = surface.ok().map(|surface| round9(surface.value));
            }
        }
        records
    }

    /// The most that a converter loses in any case: at the output that its loads or its setting ask for.
    fn converter_heat(&self, index: usize) -> Option<Power> {
        let plan = &self.installation;
        let converter = plan.converters.get(index)?;
        let set = converter.output_current.map(|current| current * converter.output_voltage);
        let cases = self.cases.iter().filter_map(|case| {
            let of = plan.cases.get(case.case)?;
            let given = case.sources.iter().find(|(part, _)| *part == Part::Output(index));
            let output = match converter.kind {
                ConverterKind::Inverter => inverter_output(plan, of, index),
                ConverterKind::Buck => given?.1 * converter.output_voltage,
                _ => set.filter(|_| delivers(converter.kind, of))?,
            };
            (output.value > 0.0).then(|| converter.losses.loss(output))
        });
        cases.reduce(|most, heat| if heat > most { heat } else { most })
    }
}
