//! Operating points in the report: voltages, currents, losses, and what more copper would be worth.

use serde::Serialize;

use super::record_states::{ConverterInCase, RelayInCase};
use super::rules::judged_drops;
use super::{CaseResult, Judgement, paths};
use crate::installation::NodeId;
use crate::network::{Part, shares};
use crate::quantity::in_celsius;
use crate::study::cable::round9;

/// A case in the report.
#[derive(Clone, Debug, Serialize)]
pub struct CaseRecord {
    /// Its name.
    pub name: String,
    /// `operating-point`, or `none` when none exists.
    pub outcome: &'static str,
    /// The largest common factor on all constant power that still has an operating point; left out when there is
    /// no constant power, or a thousand times as much would be carried.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stability_margin: Option<f64>,
    /// Without an operating point: the factor below 1 that would still have one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub load_factor: Option<f64>,
    /// Heat lost in all runs.
    pub loss_w: f64,
    /// Power that the sources give.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub given_w: Option<f64>,
    /// Power that loads and inputs draw.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drawn_w: Option<f64>,
    /// Largest current that does not add up at any node: how exact the solution is.
    pub residual_a: Option<f64>,
    /// What does not add up of the power, as a share of what is given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub imbalance: Option<f64>,
    /// What each alternator is asked for, and what it can deliver.
    pub alternators: Vec<AlternatorRecord>,
    /// Every converter that runs: what it gives, and what decides that.
    pub converters: Vec<ConverterInCase>,
    /// Relays that sense a voltage.
    pub relays: Vec<RelayInCase>,
    /// Voltage of every node over the zero of its net.
    pub nodes: Vec<NodeRecord>,
    /// Current, temperature and loss of every run.
    pub runs: Vec<RunInCase>,
}

/// An alternator in one case.
#[derive(Clone, Debug, Serialize)]
pub struct AlternatorRecord {
    /// Its name.
    pub name: String,
    /// Asked of it.
    pub asked_a: f64,
    /// Available from it.
    pub available_a: f64,
}

/// A node in one case.
#[derive(Clone, Debug, Serialize)]
pub struct NodeRecord {
    /// Its name.
    pub name: String,
    /// Its voltage; left out when no source reaches it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voltage_v: Option<f64>,
}

/// A run in one case.
#[derive(Clone, Debug, Serialize)]
pub struct RunInCase {
    /// Its name.
    pub name: String,
    /// Current, positive from its start to its end.
    pub current_a: f64,
    /// Conductor temperature if that current went on; left out above 250 °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<f64>,
    /// Heat lost in conductor, joints and fuse.
    pub loss_w: f64,
}

/// The run that more copper helps most.
#[derive(Clone, Debug, Serialize)]
pub struct FattenRecord {
    /// The consumer.
    pub consumer: String,
    /// Its worst case.
    pub case: String,
    /// The run.
    pub run: String,
    /// Volts that the consumer gains for the first kilogram of conductor metal, at that rate.
    pub volts_per_kg: f64,
}

impl Judgement {
    pub(super) fn case_records(&self) -> Vec<CaseRecord> {
        let plan = &self.installation;
        let records = self.cases.iter().filter_map(|case| {
            let of = plan.cases.get(case.case)?;
            let driving = paths::driving(of);
            let alternators = plan.alternators.iter().zip(&case.alternators).filter(|_| driving);
            let point = case.point.as_deref();
            Some(CaseRecord {
                name: of.name.clone(),
                outcome: if point.is_some() { "operating-point" } else { "none" },
                stability_margin: point.and_then(|point| point.stability_margin).map(|margin| round9(margin.value)),
                load_factor: case.collapsed.map(|collapse| round9(collapse.load_factor.value)),
                loss_w: round9(case.run_losses.iter().map(|loss| loss.value).sum()),
                given_w: point.map(|point| round9(point.given.value)),
                drawn_w: point.map(|point| round9(point.drawn.value)),
                residual_a: point.map(|point| round9(point.residual.value)),
                imbalance: point.map(|point| round9(point.imbalance().value)),
                alternators: alternators
                    .map(|(alternator, (asked, available))| AlternatorRecord {
                        name: alternator.name.clone(),
                        asked_a: round9(asked.value),
                        available_a: round9(available.value),
                    })
                    .collect(),
                converters: self.converters_in(case),
                relays: self.relays_in(case),
                nodes: point.map_or_else(Vec::new, |_| self.nodes_in(case)),
                runs: point.map_or_else(Vec::new, |_| self.runs_in(case)),
            })
        });
        records.collect()
    }

    fn nodes_in(&self, case: &CaseResult) -> Vec<NodeRecord> {
        let node = |index: usize| NodeRecord {
            name: self.node_name(NodeId(index)),
            voltage_v: case
                .supplies(NodeId(index))
                .then(|| round9(case.between([NodeId(index), NodeId(usize::MAX)]).value)),
        };
        (0..self.installation.nodes.len()).map(node).collect()
    }

    fn runs_in(&self, case: &CaseResult) -> Vec<RunInCase> {
        let states = case.runs.iter().zip(&case.run_currents).zip(&case.run_losses);
        let runs = self.installation.runs.iter().zip(states).map(|(run, ((state, current), loss))| RunInCase {
            name: run.name.clone(),
            current_a: round9(current.value),
            temperature_c: state.hottest.filter(|_| !state.too_hot).map(|hottest| round9(in_celsius(hottest))),
            loss_w: round9(loss.value),
        });
        runs.collect()
    }

    /// By consumer, the run that gives it most volts per kilogram: R falls by R/m for each kilogram added to m, and what
    /// the consumer loses per ohm there is the run's current times the share of one more ampere that flows through it.
    pub(super) fn fatten_first(&self) -> Vec<FattenRecord> {
        let plan = &self.installation;
        let mut found = Vec::new();
        for (consumer, nodes, case) in judged_drops(self) {
            let Ok(Some(shares)) = shares(&case.lowered.network, nodes.map(|node| node.0)) else { continue };
            let runs = case.lowered.branches.iter().zip(&shares).filter_map(|(part, share)| match part {
                Part::Run(run) => Some((*run, share.value)),
                _ => None,
            });
            let gains = runs.filter_map(|(index, share)| {
                let (run, model) = (plan.runs.get(index)?, self.models.get(index)?);
                let current = case.run_currents.get(index)?.value;
                let metal = model.metal(case.runs.get(index)?).value;
                Some((run, current * share * metal / model.conductor.mass(run.cut_length()).value))
            });
            let best = gains.max_by(|one, other| one.1.total_cmp(&other.1)).filter(|(_, gain)| *gain > 0.0);
            if let Some((run, gain)) = best {
                found.push(FattenRecord {
                    consumer,
                    case: plan.cases.get(case.case).map_or_else(String::new, |of| of.name.clone()),
                    run: run.name.clone(),
                    volts_per_kg: round9(gain),
                });
            }
        }
        found
    }
}
