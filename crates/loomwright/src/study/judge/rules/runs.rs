//! Rules on runs: ampacity, terminals, materials; their fuses are judged in `protection`.

use std::collections::BTreeMap;

use super::{Measure, n, plain};
use crate::conductor::Kind;
use crate::data::Confidence;
use crate::finding::{Finding, Signal};
use crate::installation::{Place, Run};
use crate::quantity::{in_celsius, in_mm2};
use crate::study::judge::Judgement;
use crate::study::judge::operate::{RunModel, terminal_limit};
use crate::study::judge::paths::{Protection, protections};

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let protections = protections(&judgement.installation, &judgement.ways);
    let mut found = Vec::new();
    // By the run that the fuse sits in.
    let mut narrowly: BTreeMap<usize, Vec<Finding>> = BTreeMap::new();
    for (index, ((run, model), protection)) in
        judgement.installation.runs.iter().zip(&judgement.models).zip(&protections).enumerate()
    {
        let subject = Subject { judgement, index, run, model };
        found.extend(subject.ampacity());
        found.extend(subject.terminals());
        found.extend(subject.terminal_temperature());
        found.extend(subject.material());
        found.extend(subject.smallest());
        found.extend(subject.own_fuse());
        let protecting = subject.protected_by(protection);
        match (protection, protecting) {
            (Protection::Fuse(feeding, _, 1), Some(narrow)) if narrow.signal == Signal::Caution => {
                narrowly.entry(*feeding).or_default().push(narrow);
            }
            (_, protecting) => found.extend(protecting),
        }
    }
    found.extend(narrowly.into_values().filter_map(together));
    found
}

/// One finding for all runs that the same fuse protects narrowly: the narrowest, which names the others.
fn together(narrow: Vec<Finding>) -> Option<Finding> {
    let margin = |finding: &Finding| finding.margin.unwrap_or(f64::INFINITY);
    let least = narrow.iter().enumerate().min_by(|(_, one), (_, other)| margin(one).total_cmp(&margin(other)))?.0;
    let others: Vec<&str> =
        narrow.iter().enumerate().filter(|(at, _)| *at != least).map(|(_, one)| one.subject.as_str()).collect();
    let mut finding = narrow.get(least)?.clone();
    if !others.is_empty() {
        finding.message = format!("{}; narrow too: {}", finding.message, others.join(", "));
    }
    Some(finding)
}

#[derive(Clone, Copy)]
pub(super) struct Subject<'a> {
    pub(super) judgement: &'a Judgement,
    pub(super) index: usize,
    pub(super) run: &'a Run,
    pub(super) model: &'a RunModel,
}

impl Subject<'_> {
    pub(super) fn name(&self) -> &str {
        &self.run.name
    }

    pub(super) fn current(&self) -> (f64, String) {
        let design = self.judgement.design.get(self.index);
        design.map_or((0.0, String::new()), |design| (design.current.value, design.reason.clone()))
    }

    fn zone(&self) -> String {
        let zone = self.judgement.installation.zones.get(self.model.hottest_zone);
        zone.map_or_else(String::new, |zone| format!("{} at {} °C", zone.name, n(in_celsius(zone.hottest))))
    }

    fn ampacity(&self) -> Option<Finding> {
        let (current, reason) = self.current();
        let Some(ampacity) = self.model.ampacity else {
            let message = format!(
                "{} has no value in the table of the enclosed installation, which runs from 1 to 400 mm²: what it may carry cannot be judged",
                self.model.conductor.label()
            );
            return Some(plain("ampacity", self.name(), Signal::Warning, message, "IEC 60364-5-52, method B"));
        };
        let limit = ampacity.value;
        let size = self.model.conductor.label();
        let by = if self.model.table_governs { "practice's table" } else { "heat model" };
        Measure {
            rule: "ampacity",
            subject: self.name(),
            measured: current,
            limit,
            unit: "A",
            margin: if current > 0.0 { limit / current } else { f64::INFINITY },
            failing: Signal::Danger,
            citation: "IEC 60364-4-43, 433.1 (Ib ≤ Iz)",
            confidence: Confidence::Published,
            case: Some(reason),
        }
        .finding(|_| {
            if limit <= 0.0 {
                return format!(
                    "{} is as hot as the {} °C that this conductor may reach: no size carries anything there; take insulation for hotter, for example 90 °C",
                    self.zone(),
                    n(in_celsius(self.model.limit))
                );
            }
            format!(
                "{size} carries {} A and bears {} A in {} (limit {} °C, {by})",
                n(current),
                n(limit),
                self.zone(),
                n(in_celsius(self.model.limit))
            )
        })
    }

    fn terminals(&self) -> Vec<Finding> {
        let area = in_mm2(self.model.conductor.area);
        let ends = [self.run.from, self.run.to];
        let nodes = ends.iter().filter_map(|node| self.judgement.installation.nodes.get(node.0));
        nodes
            .filter_map(|node| {
                let largest = in_mm2(node.terminal.largest?);
                Measure {
                    rule: "terminal-accepts-conductor",
                    subject: self.name(),
                    measured: area,
                    limit: largest,
                    unit: "mm²",
                    // An exact fit is a fit: no caution for small margin.
                    margin: if area <= largest * (1.0 + 1e-9) { f64::INFINITY } else { largest / area },
                    failing: Signal::Warning,
                    citation: "the plan's terminal",
                    confidence: Confidence::Published,
                    case: None,
                }
                .finding(|_| {
                    format!(
                        "{} does not enter {}, which accepts {} mm²",
                        self.model.conductor.label(),
                        node.name,
                        n(largest)
                    )
                })
            })
            .collect()
    }

    /// Conductor temperature at each end against what the terminal there may reach. Only failure is told:
    /// the approach to it is the ampacity rule's.
    fn terminal_temperature(&self) -> Option<Finding> {
        let ends =
            [self.run.from, self.run.to].map(|node| in_celsius(terminal_limit(&self.judgement.installation, node)));
        let (case, reached, limit) = self
            .judgement
            .cases
            .iter()
            // A start lasts moments.
            .filter(|case| {
                let of = self.judgement.installation.cases.get(case.case);
                case.point.is_some() && of.is_some_and(|of| of.starting.is_none())
            })
            .filter_map(|case| {
                let reached = case.runs.get(self.index)?.ends.map(in_celsius);
                let worse = if reached[0] - ends[0] >= reached[1] - ends[1] { 0 } else { 1 };
                Some((case.case, *reached.get(worse)?, *ends.get(worse)?))
            })
            .max_by(|one, other| (one.1 - one.2).total_cmp(&(other.1 - other.2)))?;
        if reached <= limit + 1e-6 {
            return None;
        }
        Measure {
            rule: "terminal-temperature",
            subject: self.name(),
            measured: reached,
            limit,
            unit: "°C",
            margin: limit / reached,
            failing: Signal::Danger,
            citation: "NEC 110.14(C) (from memory)",
            confidence: Confidence::Memory,
            case: self.judgement.installation.cases.get(case).map(|case| case.name.clone()),
        }
        .finding(|_| format!("the conductor reaches {} °C at a terminal that may reach {} °C", n(reached), n(limit)))
    }

    fn material(&self) -> Option<Finding> {
        let conductor = &self.model.conductor;
        if conductor.kind == Kind::Iec1 && self.judgement.installation.place != Place::Cabin {
            let message =
                "a solid conductor breaks from vibration in anything that moves; use class 2, 5 or 6".to_owned();
            return Some(plain(
                "conductor-stranding",
                self.name(),
                Signal::Warning,
                message,
                "33 CFR 183.425(a): stranded",
            ));
        }
        if conductor.material.is_copper() {
            return None;
        }
        let over = conductor.material.resistivity_over_copper();
        let forbids = self.judgement.installation.practice.copper_only();
        let mut message = format!("{} has {} times the resistance of copper", conductor.material, n(over));
        let citation = match &forbids {
            Some(rule) => {
                message.push_str(&format!("; {} forbids it ({})", self.judgement.installation.practice, rule.note));
                rule.source.to_string()
            }
            None => conductor.material.data().resistivity_source.to_string(),
        };
        Some(plain("conductor-material", self.name(), Signal::Warning, message, &citation))
    }

    fn smallest(&self) -> Option<Finding> {
        let least = self.judgement.installation.practice.smallest_conductor()?;
        let (area, limit) = (in_mm2(self.model.conductor.area), in_mm2(least.value));
        Measure {
            rule: "smallest-conductor",
            subject: self.name(),
            measured: area,
            limit,
            unit: "mm²",
            margin: if area >= limit * (1.0 - 1e-9) { f64::INFINITY } else { area / limit },
            failing: Signal::Warning,
            citation: &least.source.to_string(),
            confidence: least.source.confidence,
            case: None,
        }
        .finding(|_| {
            format!("{} is below the smallest size: {} mm² ({})", self.model.conductor.label(), n(limit), least.note)
        })
    }
}
