//! The report as plain data: numbers with the unit in the key.

use serde::Serialize;
use uom::si::temperature_interval::kelvin;

use super::Judgement;
use super::record_cases::{CaseRecord, FattenRecord};
use super::record_protection::{LimitRecord, ProtectiveRecord, SheetRecord};
use super::rules::air_at;
use crate::converter::free_surface;
use crate::data::tables::constants;
use crate::finding::{Finding, Verdict, verdict};
use crate::installation::{ConverterKind, DeviceRef, Leg, LoadKind, NodeId};
use crate::network::{Part, delivers, inverter_output};
use crate::practice::Limited;
use crate::quantity::{ElectricalResistance, Power, TemperatureInterval, ToText, in_celsius, in_mm2};
use crate::source::ShortCircuit;
use crate::study::cable::{AssumptionRecord, round9};

/// Rise over the air of its zone at which a converter's free surface is told.
const SHEDS_AT_K: f64 = 20.0;

/// A run in the report.
#[derive(Clone, Debug, Serialize)]
pub struct RunRecord {
    /// Its name.
    pub name: String,
    /// The circuit it is a leg of.
    pub circuit: Option<String>,
    /// `positive` or `negative`.
    pub leg: &'static str,
    /// Where it starts.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Conductor size as people say it.
    pub size: String,
    /// Cross-sectional area.
    pub csa_mm2: f64,
    /// Conductor kind.
    pub kind: &'static str,
    /// Conductor material.
    pub material: &'static str,
    /// Whether the conductor was chosen here.
    pub conductor_chosen: bool,
    /// Fuse family.
    pub fuse_family: Option<&'static str>,
    /// Fuse rating.
    pub fuse_rating_a: Option<f64>,
    /// Whether the fuse was chosen here.
    pub fuse_chosen: bool,
    /// What the fuse is and does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub protective_device: Option<ProtectiveRecord>,
    /// Unprotected conductor between the source and the fuse, or all the way from the source to its end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unprotected_m: Option<f64>,
    /// Routed length.
    pub route_m: f64,
    /// Length to cut, and electrical length.
    pub cut_m: f64,
    /// How it lies where it bears least.
    pub installation: &'static str,
    /// The zone that governs its ampacity.
    pub hottest_zone: String,
    /// Hottest air there.
    pub ambient_c: f64,
    /// What insulation and terminals permit.
    pub limit_c: f64,
    /// What it may carry continuously.
    pub ampacity_a: Option<f64>,
    /// What it may carry in its duty cycle, where it bears its current only because that pauses.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub duty_ampacity_a: Option<f64>,
    /// Which model or table says so.
    pub ampacity_governed_by: String,
    /// The current it is judged at.
    pub current_a: f64,
    /// How long that flows in every period, where it feeds one load alone whose cycle is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub duty: Option<String>,
    /// The case or device that sets that current.
    pub current_set_by: String,
    /// Hottest conductor temperature over all cases; where it bears its current only because that pauses, of the cycle.
    pub conductor_temperature_c: Option<f64>,
    /// Largest drop over all cases, with joints and fuse.
    pub drop_v: f64,
    /// Largest heat over all cases.
    pub loss_w: f64,
    /// The highest fault current that its fuse may have to break, with a reserve of 1.25.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fault_highest_a: Option<f64>,
    /// The lowest fault current on which its fuse still has to open: at the far end, hot, from one cold battery.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fault_lowest_a: Option<f64>,
    /// The latest that its fuse opens on that; left out where it may never, or its times are not at hand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opens_on_lowest_s: Option<f64>,
    /// How long the conductor bears an overcurrent over the latest opening of its fuse, the least over all currents up to
    /// the highest fault; left out where it bears all of them for good, or nothing is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_margin: Option<f64>,
}

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

/// A judged plan.
#[derive(Clone, Debug, Serialize)]
pub struct PlanRecord {
    /// Version of this form.
    pub format: u32,
    /// Version of the engine.
    pub engine_version: &'static str,
    /// Name of the plan.
    pub name: String,
    /// Rule set.
    pub practice: &'static str,
    /// `holds`, or `does-not-hold` when any finding is a warning or a danger.
    pub verdict: Verdict,
    /// Findings, worst first.
    pub findings: Vec<Finding>,
    /// Runs in the order of the plan.
    pub runs: Vec<RunRecord>,
    /// Devices in the order of the plan.
    pub devices: Vec<DeviceRecord>,
    /// Cases.
    pub cases: Vec<CaseRecord>,
    /// For every consumer whose drop is judged, in its worst case, the one with least margin first: the run that more
    /// copper helps most.
    pub fatten_first: Vec<FattenRecord>,
    /// Limits that the plan sets otherwise than its practice, each with its reason.
    pub limits: Vec<LimitRecord>,
    /// Protective devices that the plan gives by their makers' sheets.
    pub fuses: Vec<SheetRecord>,
    /// What the plan does not state.
    pub assumptions: Vec<AssumptionRecord>,
}

impl Judgement {
    /// The judgement as plain data.
    pub fn record(&self) -> PlanRecord {
        let plan = &self.installation;
        let mut assumptions: Vec<AssumptionRecord> = Vec::new();
        let custom = &crate::data::tables::sources::COMMON_PRACTICE_DEFAULT;
        let general = [
            (
                format!(
                    "faults: highest from all sources at once, alternators with {} and converters with {} times their rating, \
                     conductors in the coldest air, times {}; lowest from one battery at 10 % charge in the coldest air; that \
                     is the zone's, {} °C where nothing is said",
                    constants::ALTERNATOR_FAULT,
                    constants::CONVERTER_FAULT,
                    constants::FAULT_RESERVE,
                    constants::COLDEST_C
                ),
                custom,
            ),
            (
                "batteries at 25 °C where a case does not say; called low they have the resistance of 10 % charge, resting \
                 of 50 %"
                    .to_owned(),
                custom,
            ),
            ("cut length: route + 10 % + 0.3 m per end, which is also the electrical length".to_owned(), custom),
            (
                "joints: lug 0.1 mΩ at each end of a run, fuse with holder 100 mV at its rating".to_owned(),
                &crate::data::tables::sources::CONTACT_COMMON_PRACTICE,
            ),
        ];
        let looms = super::company::has_looms(plan).then(|| {
            let text = "neighbours in a loom count at the current they are judged at, without pause, as hot as their \
                        insulation permits";
            (text.to_owned(), custom)
        });
        for (text, source) in general.into_iter().chain(looms) {
            assumptions.push(AssumptionRecord { text, source: source.to_string(), confidence: source.confidence });
        }
        if !plan.limits.iter().any(|stated| stated.limit == Limited::TerminalTemperature) {
            let usual = plan.practice.terminal_rule().usual;
            let text = format!("terminals of unstated temperature up to {} °C", in_celsius(usual.value).round());
            let record =
                AssumptionRecord { text, source: usual.source.to_string(), confidence: usual.source.confidence };
            assumptions.insert(0, record);
        }
        for assumption in &plan.assumptions {
            assumptions.push(AssumptionRecord {
                text: format!("{}: {}", assumption.subject, assumption.text),
                source: assumption.source.to_string(),
                confidence: assumption.source.confidence,
            });
        }
        let findings: Vec<Finding> = self.findings.iter().map(rounded).collect();
        PlanRecord {
            format: 1,
            engine_version: env!("CARGO_PKG_VERSION"),
            name: plan.name.clone(),
            practice: plan.practice.name(),
            verdict: verdict(&findings),
            findings,
            runs: (0..plan.runs.len()).filter_map(|index| self.run_record(index)).collect(),
            devices: self.device_records(),
            cases: self.case_records(),
            fatten_first: self.fatten_first(),
            limits: plan.limits.iter().map(LimitRecord::of).collect(),
            fuses: plan.fuses.iter().map(SheetRecord::of).collect(),
            assumptions,
        }
    }

    pub(super) fn node_name(&self, node: NodeId) -> String {
        self.installation.nodes.get(node.0).map_or_else(String::new, |node| node.name.clone())
    }

    fn run_record(&self, index: usize) -> Option<RunRecord> {
        let plan = &self.installation;
        let (run, model, design) = (plan.runs.get(index)?, self.models.get(index)?, self.design.get(index)?);
        let choice = self.choices.iter().find(|choice| choice.run == index);
        let zone = plan.zones.get(model.hottest_zone);
        // A start lasts moments: the temperature that its current would reach in the end is never reached.
        let lasting = |case: &&super::CaseResult| plan.cases.get(case.case).is_some_and(|of| of.starting.is_none());
        let over_cases = |pick: &dyn Fn(&super::CaseResult) -> Option<f64>| {
            self.cases.iter().filter(lasting).filter(|case| case.point.is_some()).filter_map(pick).fold(0.0, f64::max)
        };
        let too_hot =
            self.cases.iter().filter(lasting).any(|case| case.runs.get(index).is_some_and(|state| state.too_hot));
        let hottest = over_cases(&|case| case.runs.get(index)?.hottest.map(in_celsius));
        let lowest = self.faults.get(index)?.as_ref().and_then(|fault| fault.lowest.as_ref());
        let band = plan.device(index).and_then(|device| device.band());
        let band = band.as_ref();
        Some(RunRecord {
            name: run.name.clone(),
            circuit: run.circuit.clone(),
            leg: if run.leg == Leg::Positive { "positive" } else { "negative" },
            from: self.node_name(run.from),
            to: self.node_name(run.to),
            size: model.conductor.label(),
            csa_mm2: round9(in_mm2(model.conductor.area)),
            kind: model.conductor.kind.name(),
            material: model.conductor.material.name(),
            conductor_chosen: choice.is_some_and(|choice| choice.conductor.is_some()),
            fuse_family: model.fuse.map(|fuse| fuse.family.name()),
            fuse_rating_a: model.fuse.map(|fuse| round9(fuse.rating.value)),
            fuse_chosen: choice.is_some_and(|choice| choice.fuse.is_some()),
            protective_device: self.protective_record(index),
            unprotected_m: self.unprotected.get(index)?.map(|bare| round9(bare.length.value)),
            route_m: round9(run.route().value),
            cut_m: round9(run.cut_length().value),
            installation: model.method.name(),
            hottest_zone: zone.map_or_else(String::new, |zone| zone.name.clone()),
            ambient_c: zone.map_or(0.0, |zone| round9(in_celsius(zone.hottest))),
            limit_c: round9(in_celsius(model.limit)),
            ampacity_a: model.ampacity.map(|ampacity| round9(ampacity.value)),
            duty_ampacity_a: design
                .duty
                .filter(|_| model.rests(design))
                .and_then(|duty| model.duty_ampacity(&duty))
                .map(|ampacity| round9(ampacity.value)),
            ampacity_governed_by: match model.model {
                _ if model.table_governs => format!("table of {}", plan.practice),
                Some(which) => which.title(model.method),
                None => String::new(),
            },
            current_a: round9(design.current.value),
            duty: design.duty.map(|duty| duty.to_text()),
            current_set_by: design.reason.clone(),
            conductor_temperature_c: match design.duty.filter(|_| model.rests(design)) {
                Some(duty) => model.duty_peak(&duty, design.current).map(|peak| round9(in_celsius(peak))),
                None => (!too_hot).then(|| round9(hottest)),
            },
            drop_v: round9(over_cases(&|case| {
                let current = case.run_currents.get(index)?.value.abs();
                (current > 0.0).then(|| case.run_losses.get(index).map_or(0.0, |loss| loss.value / current))
            })),
            loss_w: round9(over_cases(&|case| Some(case.run_losses.get(index)?.value))),
            fault_highest_a: self.faults.get(index)?.as_ref().map(|fault| round9(fault.highest.value)),
            fault_lowest_a: lowest.map(|lowest| round9(lowest.current.value)),
            opens_on_lowest_s: lowest.and_then(|lowest| band?.slowest(lowest.current)).map(|time| round9(time.value)),
            time_margin: self
                .overcurrents
                .get(index)
                .and_then(|through| through.as_ref()?.least)
                .map(|least| round9(least.ratio.value)),
        })
    }

    fn device_records(&self) -> Vec<DeviceRecord> {
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

fn rounded(finding: &Finding) -> Finding {
    Finding {
        measured: finding.measured.map(round9),
        limit: finding.limit.map(round9),
        margin: finding.margin.map(round9),
        ..finding.clone()
    }
}
