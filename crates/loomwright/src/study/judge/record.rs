//! The report as plain data: numbers with the unit in the key.

use serde::Serialize;

use super::record_cases::{CaseRecord, FattenRecord};
use super::record_devices::DeviceRecord;
use super::record_existing::ExistingRecord;
use super::record_protection::{FaultLevelRecord, LimitRecord, ProtectiveRecord, SheetRecord};
use super::{CheckRecord, Judgement};
use crate::data::tables::constants;
use crate::finding::{Finding, Verdict, verdict};
use crate::installation::{Case, NodeId};
use crate::practice::Limited;
use crate::quantity::{ToText, in_celsius, in_mm2};
use crate::study::cable::{AssumptionRecord, round9};

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
    /// Every check with its margin, those that pass too, worst first.
    pub checks: Vec<CheckRecord>,
    /// Runs in the order of the plan.
    pub runs: Vec<RunRecord>,
    /// Devices in the order of the plan.
    pub devices: Vec<DeviceRecord>,
    /// Cases.
    pub cases: Vec<CaseRecord>,
    /// Fault currents at every node that a source's positive reaches.
    pub fault_levels: Vec<FaultLevelRecord>,
    /// For every consumer whose drop is judged, in its worst case, the one with least margin first: the run that more
    /// copper helps most.
    pub fatten_first: Vec<FattenRecord>,
    /// Limits that the plan sets otherwise than its practice, each with its reason.
    pub limits: Vec<LimitRecord>,
    /// Protective devices that the plan gives by their makers' sheets.
    pub fuses: Vec<SheetRecord>,
    /// Parts of an earlier system: what may stay, what must change and why, what goes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub existing: Vec<ExistingRecord>,
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
            (
                "short circuit of a battery alone by IEC 61660-1, which is written for stationary lead-acid and nickel-cadmium \
                 ones: from its open-circuit voltage when full, behind its ohmic resistance, no inductance"
                    .to_owned(),
                &crate::data::tables::sources::IEC_61660_1,
            ),
            ("fuses sit at the start of their run, where it does not state fuse_distance".to_owned(), custom),
            (
                "a start comes 10000 times over the years, one in every cycle of its load 100000 times: a fuse-link bears \
                 29 and 22 % of its melting I²t so often"
                    .to_owned(),
                &crate::data::tables::sources::FUSE_PULSE_MEMORY,
            ),
            (
                "largest conductor and current of fuse holders: those of usual ones, by family".to_owned(),
                &crate::data::tables::sources::FUSE_HOLDER_COMMON_PRACTICE,
            ),
            ("cut length: route + 10 % + 0.3 m per end, which is also the electrical length".to_owned(), custom),
            (
                "joints: 0.1 mΩ for a lug on a stud and where a terminal's form is not stated, 0.2 mΩ in a screw or spring \
                 terminal, which one stated by a cross-section is; a reducing pin is 25 mm of copper and one crimp more; \
                 fuse with holder 100 mV at its rating, or what its sheet or family says where that is more"
                    .to_owned(),
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
        if let Some(scope) = plan.practice.scope() {
            let text = format!("practice {}: {}", plan.practice, scope.note);
            let record =
                AssumptionRecord { text, source: scope.source.to_string(), confidence: scope.source.confidence };
            assumptions.insert(0, record);
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
            checks: self.checks(),
            runs: (0..plan.runs.len()).filter_map(|index| self.run_record(index)).collect(),
            devices: self.device_records(),
            cases: self.case_records(),
            fault_levels: self.fault_level_records(),
            fatten_first: self.fatten_first(),
            limits: plan.limits.iter().map(LimitRecord::of).collect(),
            fuses: plan.fuses.iter().map(SheetRecord::of).collect(),
            existing: self.existing_records(),
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
        // The temperature that the current of a start would reach in the end is never reached.
        let over_cases =
            |pick: &dyn Fn(&super::CaseResult) -> Option<f64>| self.lasting().filter_map(pick).fold(0.0, f64::max);
        let lasts = |case: &&super::CaseResult| plan.cases.get(case.case).is_some_and(Case::lasts);
        let too_hot =
            self.cases.iter().filter(lasts).any(|case| case.runs.get(index).is_some_and(|state| state.too_hot));
        let hottest = over_cases(&|case| case.runs.get(index)?.hottest.map(in_celsius));
        let lowest = self.faults.get(index)?.as_ref().and_then(|fault| fault.lowest.as_ref());
        let band = plan.device(index).and_then(|device| device.band());
        let band = band.as_ref();
        Some(RunRecord {
            name: run.name.clone(),
            circuit: run.circuit.clone(),
            leg: run.leg.name(),
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
            drop_v: round9(self.largest_drop(index).map_or(0.0, |most| most.drop)),
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
}

fn rounded(finding: &Finding) -> Finding {
    Finding {
        measured: finding.measured.map(round9),
        limit: finding.limit.map(round9),
        margin: finding.margin.map(round9),
        ..finding.clone()
    }
}
