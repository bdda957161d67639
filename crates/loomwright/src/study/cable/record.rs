//! The result as plain data: numbers with the unit in the key, ready for JSON, tables and callers.

use serde::Serialize;

use super::heat_steps::withstands;
use super::{Candidate, Load, Margin, Sizing, Step};
use crate::data::Confidence;
use crate::finding::{Finding, Verdict, verdict};
use crate::heat::Installation;
use crate::practice::TableCap;
use crate::quantity::{ToText, in_celsius, in_mm2, round_significant};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::length::{meter, millimeter};
use uom::si::mass::kilogram;
use uom::si::power::watt;

/// Nine significant digits: the same bytes on every machine, and no digit that means nothing.
pub(crate) fn round9(value: f64) -> f64 {
    round_significant(value, 9)
}

/// A fuse in the result.
#[derive(Clone, Debug, Serialize)]
pub struct FuseRecord {
    /// Family name.
    pub family: &'static str,
    /// Family in words.
    pub title: &'static str,
    /// Rated current.
    pub rating_a: f64,
    /// Rated voltage.
    pub rated_voltage_v: Option<f64>,
    /// The largest current it can break.
    pub interrupt_a: Option<f64>,
    /// What it carries continuously in this ambient.
    pub continuous_a: f64,
}

/// One check with its margin.
#[derive(Clone, Debug, Serialize)]
pub struct MarginRecord {
    /// Rule name.
    pub rule: &'static str,
    /// The check in words.
    pub check: &'static str,
    /// The number found; absent when there is no operating point.
    pub measured: Option<f64>,
    /// The number it is held against.
    pub limit: f64,
    /// Unit of both.
    pub unit: &'static str,
    /// 1 or more passes.
    pub margin: f64,
    /// Whether it passes.
    pub passes: bool,
}

/// What one model or table permits.
#[derive(Clone, Debug, Serialize)]
pub struct AmpacityRecord {
    /// The model or table.
    pub model: String,
    /// What it permits.
    pub ampacity_a: f64,
    /// Where its numbers come from.
    pub source: String,
    /// How far they can be trusted.
    pub confidence: Confidence,
}

/// One size in the result. Numbers that need an operating point are absent when there is none.
#[derive(Clone, Debug, Serialize)]
pub struct CandidateRecord {
    /// The size as people say it.
    pub size: String,
    /// Cross-sectional area of one conductor.
    pub csa_mm2: f64,
    /// Conductors in parallel in each leg.
    pub parallel: u8,
    /// Whether every check passes.
    pub passes: bool,
    /// Drop of conductors, joints, fuse and chassis.
    pub drop_v: Option<f64>,
    /// Drop of the conductors alone.
    pub conductor_drop_v: Option<f64>,
    /// Drop of the joints.
    pub joint_drop_v: Option<f64>,
    /// Drop of the fuse with its holder, counted as fully loaded: an upper bound.
    pub fuse_drop_v: Option<f64>,
    /// Drop of the chassis return.
    pub chassis_drop_v: Option<f64>,
    /// Whole drop in per cent of the system voltage.
    pub drop_percent: Option<f64>,
    /// System voltage less the drop.
    pub load_voltage_v: Option<f64>,
    /// Steady conductor temperature.
    pub conductor_temperature_c: Option<f64>,
    /// What insulation and terminals permit.
    pub conductor_limit_c: f64,
    /// Heat lost in the circuit.
    pub loss_w: Option<f64>,
    /// What the conductor may carry continuously.
    pub ampacity_a: f64,
    /// Which model or table set it.
    pub ampacity_governed_by: String,
    /// What the heat model permits.
    pub ampacity_model_a: f64,
    /// What the practice's table permits.
    pub ampacity_table_a: Option<f64>,
    /// What every model and table that bears on the installation permits; the least governs.
    pub ampacity_candidates: Vec<AmpacityRecord>,
    /// The current that the duty cycle may have, where one was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub duty_ampacity_a: Option<f64>,
    /// I²t that the conductor stands from its limit to its short-time temperature, no heat lost: the least of
    /// the rounded k, k from first constants and the conductor's own resistance.
    pub withstand_a2s: f64,
    /// The fuse.
    pub fuse: Option<FuseRecord>,
    /// The longest one-way run that this size allows within all limits.
    pub longest_run_m: f64,
    /// The largest current that this size allows at this length.
    pub largest_current_a: f64,
    /// Metal mass of all legs.
    pub conductor_mass_kg: f64,
    /// The rule with the smallest margin.
    pub binding: &'static str,
    /// Every check.
    pub margins: Vec<MarginRecord>,
}

/// An assumption in the result.
#[derive(Clone, Debug, Serialize)]
pub struct AssumptionRecord {
    /// The assumption in words.
    pub text: String,
    /// Where its value comes from.
    pub source: String,
    /// How far it can be trusted.
    pub confidence: Confidence,
}

/// The whole result of one sizing.
///
/// The keys of the chosen size stand at the top level; they are null when nothing passes, and `closest`
/// then tells what came nearest. Within one `format`, keys are only ever added.
#[derive(Clone, Debug, Serialize)]
pub struct CableRecord {
    /// Version of this form.
    pub format: u32,
    /// Version of the engine.
    pub engine_version: &'static str,
    /// `holds`, or `does-not-hold` when any finding is a warning or a danger.
    pub verdict: Verdict,
    /// Design current.
    pub design_current_a: f64,
    /// One-way length.
    pub length_m: f64,
    /// System voltage.
    pub voltage_v: f64,
    /// Permitted drop.
    pub drop_limit_v: f64,
    /// Hottest ambient.
    pub ambient_c: f64,
    /// Insulation class.
    pub insulation_c: f64,
    /// Conductor kind.
    pub kind: &'static str,
    /// Conductor kind in words.
    pub kind_title: &'static str,
    /// Conductor material.
    pub material: &'static str,
    /// How the conductor lies.
    pub installation: &'static str,
    /// Loaded conductors together, both legs counted; absent where each lies alone.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub conductors_together: Option<u16>,
    /// Bore of the conduit, when it was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub conduit_bore_mm: Option<f64>,
    /// The duty cycle, when there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub duty: Option<String>,
    /// `conductor` or `chassis`.
    pub return_path: &'static str,
    /// Rule set.
    pub practice: &'static str,
    /// The power asked for, when the load is one.
    pub power_w: Option<f64>,
    /// The lowest voltage at which the load still takes that power.
    pub lowest_voltage_v: Option<f64>,
    /// Lugs, screw cages and isolators counted, besides the fuse.
    pub joints: [u16; 3],
    /// Resistance of the chassis return.
    pub chassis_resistance_mohm: Option<f64>,
    /// The highest voltage while charging, against which the fuse is rated.
    pub highest_voltage_v: f64,
    /// The largest conductor that the terminals accept.
    pub terminal_mm2: Option<f64>,
    /// Metres of conductor in all legs.
    pub conductor_length_m: Option<f64>,
    /// The chosen size: its keys stand at the top level, and are null when nothing passes.
    #[serde(flatten, serialize_with = "chosen_or_nulls")]
    pub chosen: Option<CandidateRecord>,
    /// The next smaller and the next larger size.
    pub neighbours: Vec<CandidateRecord>,
    /// What came closest when nothing passes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub closest: Option<CandidateRecord>,
    /// Findings, worst first.
    pub findings: Vec<Finding>,
    /// What was assumed because it was not stated.
    pub assumptions: Vec<AssumptionRecord>,
    /// What everybody who cuts cable should hear.
    pub cautions: Vec<&'static str>,
    /// The calculation step by step, when asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub working: Vec<Step>,
}

/// The keys that programs rely on, all null.
#[derive(Default, Serialize)]
struct Nulls {
    size: (),
    csa_mm2: (),
    parallel: (),
    drop_v: (),
    conductor_drop_v: (),
    drop_percent: (),
    load_voltage_v: (),
    conductor_temperature_c: (),
    loss_w: (),
    ampacity_a: (),
    fuse: (),
    longest_run_m: (),
    largest_current_a: (),
    binding: (),
}

fn chosen_or_nulls<S: serde::Serializer>(chosen: &Option<CandidateRecord>, serializer: S) -> Result<S::Ok, S::Error> {
    match chosen {
        Some(chosen) => chosen.serialize(serializer),
        None => Nulls::default().serialize(serializer),
    }
}

fn margin(margin: &Margin) -> MarginRecord {
    MarginRecord {
        rule: margin.check.rule(),
        check: margin.check.title(),
        measured: margin.measured.is_finite().then(|| round9(margin.measured)),
        limit: round9(margin.limit),
        unit: margin.unit,
        margin: round9(margin.margin.value),
        passes: margin.passes(),
    }
}

impl Sizing {
    fn candidate(&self, candidate: &Candidate) -> CandidateRecord {
        let circuit = &self.circuit;
        let point = candidate.operating.as_ref();
        let volts = |pick: fn(&super::OperatingPoint) -> crate::quantity::ElectricPotential| {
            point.map(|point| round9(pick(point).get::<volt>()))
        };
        let table_a = match &candidate.table {
            TableCap::Capped(cap) => Some(round9(cap.ampacity.get::<ampere>())),
            TableCap::NoTable => None,
        };
        let governed_by = match &candidate.table {
            TableCap::Capped(cap) if candidate.table_governs() => cap.source.to_string(),
            _ => candidate.governing_model().title(circuit.installation),
        };
        let table = match &candidate.table {
            TableCap::Capped(cap) => Some((format!("table of {}", circuit.practice), cap.ampacity, cap.source)),
            TableCap::NoTable => None,
        };
        let models =
            candidate.models.iter().flatten().map(|(model, current)| {
                (model.title(circuit.installation), *current, model.source(circuit.installation))
            });
        let ampacity_candidates = models
            .chain(table)
            .map(|(model, current, source)| AmpacityRecord {
                model,
                ampacity_a: round9(current.get::<ampere>()),
                source: source.to_string(),
                confidence: source.confidence,
            })
            .collect();
        let fuse = candidate.fuse.map(|fuse| FuseRecord {
            family: fuse.family.name(),
            title: fuse.family.title(),
            rating_a: fuse.rating.get::<ampere>(),
            rated_voltage_v: fuse.family.rated_voltage().map(|rated| rated.get::<volt>()),
            interrupt_a: fuse.family.breaks(circuit.highest_voltage).map(|(breaks, _)| breaks.get::<ampere>()),
            continuous_a: fuse
                .continuous_current(circuit.ambient)
                .map_or(0.0, |carried| round9(carried.get::<ampere>())),
        });
        CandidateRecord {
            size: candidate.conductor.label(),
            csa_mm2: round9(in_mm2(candidate.conductor.area)),
            parallel: candidate.parallel,
            passes: candidate.passes(),
            drop_v: volts(|point| point.drop),
            conductor_drop_v: volts(|point| point.conductor_drop),
            joint_drop_v: volts(|point| point.joint_drop),
            fuse_drop_v: volts(|point| point.fuse_drop),
            chassis_drop_v: volts(|point| point.chassis_drop),
            drop_percent: point.map(|point| round9(100.0 * (point.drop / circuit.voltage).value)),
            load_voltage_v: volts(|point| point.load_voltage),
            conductor_temperature_c: point.map(|point| round9(in_celsius(point.temperature))),
            conductor_limit_c: round9(in_celsius(candidate.conductor_limit)),
            loss_w: point.map(|point| round9(point.loss.get::<watt>())),
            ampacity_a: round9(candidate.ampacity.get::<ampere>()),
            ampacity_governed_by: governed_by,
            ampacity_model_a: round9(candidate.model_ampacity.get::<ampere>()),
            ampacity_table_a: table_a,
            ampacity_candidates,
            duty_ampacity_a: candidate.duty_ampacity.map(|current| round9(current.get::<ampere>())),
            withstand_a2s: {
                let (conductor, limit) = (&candidate.conductor, candidate.conductor_limit);
                let found = withstands(conductor, self.circuit.insulation, limit);
                round9(found.map_or(0.0, |found| found.least().value))
            },
            fuse,
            longest_run_m: round9(candidate.longest_run.get::<meter>()),
            largest_current_a: round9(candidate.largest_current.get::<ampere>()),
            conductor_mass_kg: round9(candidate.mass.get::<kilogram>()),
            binding: candidate.binding().map_or("", |margin| margin.check.rule()),
            margins: candidate.margins().map(margin).collect(),
        }
    }

    /// The result as plain data; `with_working` adds the calculation step by step.
    pub fn record(&self, with_working: bool) -> CableRecord {
        let circuit = &self.circuit;
        let findings = self.findings();
        let assumptions = circuit
            .assumptions()
            .map(|assumption| {
                let (text, source) = circuit.describe(assumption);
                AssumptionRecord { text, source: source.to_string(), confidence: source.confidence }
            })
            .collect();
        CableRecord {
            format: 1,
            engine_version: env!("CARGO_PKG_VERSION"),
            verdict: verdict(&findings),
            design_current_a: round9(circuit.current.get::<ampere>()),
            length_m: round9(circuit.length.get::<meter>()),
            voltage_v: round9(circuit.voltage.get::<volt>()),
            drop_limit_v: round9(circuit.drop_limit.get::<volt>()),
            ambient_c: round9(in_celsius(circuit.ambient)),
            insulation_c: round9(in_celsius(circuit.insulation)),
            kind: circuit.kind.name(),
            kind_title: circuit.kind.title(),
            material: circuit.material.name(),
            installation: circuit.installation.name(),
            conductors_together: (!matches!(circuit.installation, Installation::FreeAir | Installation::Enclosed))
                .then_some(circuit.together),
            conduit_bore_mm: circuit.bore.map(|bore| round9(bore.get::<millimeter>())),
            duty: circuit.query.duty.map(|duty| duty.to_text()),
            return_path: if circuit.chassis_return { "chassis" } else { "conductor" },
            practice: circuit.practice.name(),
            power_w: match circuit.query.load {
                Load::Power { power, .. } => Some(round9(power.get::<watt>())),
                Load::Current(_) => None,
            },
            lowest_voltage_v: match circuit.query.load {
                Load::Power { lowest_voltage, .. } => Some(round9(lowest_voltage.get::<volt>())),
                Load::Current(_) => None,
            },
            joints: [circuit.lugs(), circuit.joints.screw_cages, circuit.joints.isolators],
            chassis_resistance_mohm: circuit.chassis_return.then(|| round9(circuit.chassis.get::<milliohm>())),
            highest_voltage_v: round9(circuit.highest_voltage.get::<volt>()),
            terminal_mm2: circuit.terminal_area.map(|area| round9(in_mm2(area))),
            conductor_length_m: self
                .chosen
                .as_ref()
                .map(|chosen| round9(circuit.length.get::<meter>() * circuit.legs * f64::from(chosen.parallel))),
            chosen: self.chosen.as_ref().map(|chosen| self.candidate(chosen)),
            neighbours: self.smaller.iter().chain(&self.larger).map(|size| self.candidate(size)).collect(),
            closest: self.closest.as_ref().map(|closest| self.candidate(closest)),
            findings,
            assumptions,
            cautions: crate::study::cautions().to_vec(),
            working: if with_working { self.working() } else { Vec::new() },
        }
    }
}
