//! The judgement on a sized circuit.

use super::remedies::{propose, why_nothing_passes};
use super::{Candidate, Check, Sizing};
use crate::data::{Confidence, Source};
use crate::finding::{Finding, Signal};
use crate::heat::{Installation, group_factor_source};
use crate::practice::TableCap;
use crate::protection::law_allows;
use crate::quantity::significant;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;

/// A pass with less margin than this is a caution.
const THIN: f64 = 1.10;

fn citation(check: Check, drop_stated: bool) -> &'static str {
    match check {
        Check::VoltageDrop if drop_stated => "the limit given",
        Check::Ampacity => "IEC 60364-4-43, 433.1 (Ib ≤ Iz)",
        Check::VoltageDrop => "3 %, common practice, no source",
        Check::FuseRating => "IEC 60364-4-43, 433.1 (In ≤ Iz)",
        Check::FuseOverload => "IEC 60364-4-43, 433.1 (I2 ≤ 1.45 Iz)",
        Check::Terminal => "the terminal given",
        Check::SmallestConductor => "the practice's smallest conductor",
    }
}

fn blank(rule: &'static str, subject: String, signal: Signal, message: String) -> Finding {
    Finding {
        rule,
        subject,
        signal,
        case: None,
        message,
        measured: None,
        limit: None,
        unit: "",
        margin: None,
        citation: "common practice".into(),
        confidence: Confidence::CommonPractice,
        remedies: Vec::new(),
    }
}

impl Sizing {
    /// Every finding, worst first.
    pub fn findings(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        if let Some((check, message)) = why_nothing_passes(self) {
            let margin = self.closest.as_ref().and_then(Candidate::binding);
            let finite = |value: f64| value.is_finite().then_some(value);
            found.push(Finding {
                measured: margin.and_then(|margin| finite(margin.measured)),
                limit: margin.and_then(|margin| finite(margin.limit)),
                unit: margin.map_or("", |margin| margin.unit),
                margin: margin.map(|margin| margin.margin.value),
                citation: citation(check, self.circuit.query.drop.is_some()).into(),
                confidence: Confidence::Published,
                remedies: propose(self),
                ..blank(check.rule(), "circuit".into(), Signal::Warning, message)
            });
        } else if self.chosen.is_none() {
            // No size of the series stands in the installation's table.
            let message = "no size of this kind stands in the table of the enclosed installation".to_owned();
            found.push(blank("ampacity", "circuit".into(), Signal::Warning, message));
        }
        found.extend(self.material_finding());
        found.extend(self.return_finding());
        if let Some(chosen) = &self.chosen {
            found.extend(thin_margins(chosen, self.circuit.query.drop.is_some()));
            found.extend(self.table_findings(chosen));
            found.extend(self.fuse_findings(chosen));
            found.extend(self.memory_finding(chosen));
        }
        found.sort_by_key(|finding| std::cmp::Reverse(finding.signal));
        found
    }

    fn material_finding(&self) -> Option<Finding> {
        let material = self.circuit.material;
        if material.is_copper() {
            return None;
        }
        let over = material.resistivity_over_copper();
        let mut message = format!(
            "{material} has {} times the resistance of copper: the same size loses that much more voltage and heat, joints \
             need fittings made for it",
            significant(over, 3)
        );
        let mut cited = material.data().resistivity_source.to_string();
        if let Some(rule) = self.circuit.practice.copper_only() {
            message.push_str(&format!("; {} forbids it ({})", self.circuit.practice, rule.note));
            cited = rule.source.to_string();
        }
        Some(Finding {
            measured: Some(over),
            limit: Some(1.0),
            unit: "× copper",
            margin: Some(1.0 / over),
            citation: cited,
            confidence: material.data().resistivity_source.confidence,
            remedies: vec!["use copper".into()],
            ..blank("conductor-material", "conductor".into(), Signal::Warning, message)
        })
    }

    fn return_finding(&self) -> Option<Finding> {
        let rule = self.circuit.chassis_return.then(|| self.circuit.practice.forbids_chassis_return()).flatten()?;
        Some(Finding {
            citation: rule.source.to_string(),
            remedies: vec!["return through a second conductor".into()],
            ..blank("return-path", "return".into(), Signal::Warning, rule.note.to_owned())
        })
    }

    fn table_findings(&self, chosen: &Candidate) -> Vec<Finding> {
        let mut found = Vec::new();
        match &chosen.table {
            TableCap::Capped(cap) => {
                if let Some(permitted) = self.circuit.practice.overcurrent_permitted()
                    && self.circuit.voltage.get::<volt>() < 50.0
                {
                    let allowed = law_allows(cap.ampacity, permitted.value);
                    found.push(Finding {
                        citation: permitted.source.to_string(),
                        confidence: permitted.source.confidence,
                        ..blank(
                            "fuse-protects-conductor",
                            "fuse".into(),
                            Signal::Notice,
                            format!(
                                "the law would allow a fuse of up to {} A ({}); the physical rule decides: no more than the \
                                 {} A that the conductor bears",
                                significant(allowed.get::<ampere>(), 4),
                                permitted.note,
                                significant(chosen.ampacity.get::<ampere>(), 3)
                            ),
                        )
                    });
                }
            }
            TableCap::NoTable => {}
        }
        found
    }

    fn fuse_findings(&self, chosen: &Candidate) -> Option<Finding> {
        let fuse = chosen.fuse?;
        let (breaks, voltage) = fuse.family.interrupt_rating()?;
        let otherwise =
            if breaks.get::<ampere>() < 20e3 { ", or put a class T fuse (20 kA) at the battery" } else { "" };
        Some(Finding {
            citation: "IEC 60364-4-43, 434.5.1".into(),
            confidence: Confidence::Published,
            ..blank(
                "fuse-interrupts-fault",
                "fuse".into(),
                Signal::Caution,
                format!(
                    "not judged here: {} breaks up to {} A at {} V, and a battery can deliver more. Fit it only where the \
                     prospective fault current is lower{otherwise}",
                    fuse.family.name(),
                    significant(breaks.get::<ampere>(), 4),
                    significant(voltage.get::<volt>(), 4)
                ),
            )
        })
    }

    /// The sources behind the chosen size, each with what it gave.
    fn sources(&self, chosen: &Candidate) -> Vec<(&'static str, &'static Source)> {
        let mut used = vec![("conductor resistance", chosen.conductor.source)];
        let terminals_decide = chosen.conductor_limit < self.circuit.insulation;
        if terminals_decide && self.circuit.query.terminal_temperature.is_none() {
            used.push(("terminal temperature", self.circuit.terminal_rule.usual.source));
        }
        if chosen.conductor.scaled_from_copper {
            used.push(("resistivity", self.circuit.material.data().resistivity_source));
        }
        if self.circuit.installation == Installation::FreeAir {
            used.push(("insulation wall", chosen.conductor.wall_source));
        }
        if chosen.parallel > 1 {
            used.push(("grouping factor", group_factor_source()));
        }
        if let TableCap::Capped(cap) = &chosen.table {
            used.push(("practice's table", cap.source));
        }
        if let Some(fuse) = &chosen.fuse {
            used.extend(fuse.family.sources().into_iter().map(|source| ("fuse data", source)));
        }
        if let Some(least) = self.circuit.practice.smallest_conductor() {
            used.push(("smallest conductor", least.source));
        }
        used
    }

    fn memory_finding(&self, chosen: &Candidate) -> Option<Finding> {
        let mut names: Vec<String> = self
            .sources(chosen)
            .into_iter()
            .filter(|(_, source)| source.confidence == Confidence::Memory)
            .map(|(what, source)| format!("{what} ({})", source.edition))
            .collect();
        names.dedup();
        if names.is_empty() {
            return None;
        }
        Some(Finding {
            citation: "sources marked memory in the data tables".into(),
            confidence: Confidence::Memory,
            ..blank(
                "rests-on-memory",
                chosen.conductor.label(),
                Signal::Caution,
                format!(
                    "provisional: written from memory, compare with the standard or the maker's sheet: {}",
                    names.join("; ")
                ),
            )
        })
    }
}

fn thin_margins(chosen: &Candidate, drop_stated: bool) -> Vec<Finding> {
    chosen
        .margins()
        .filter(|margin| margin.margin.value < THIN)
        .filter(|margin| !matches!(margin.check, Check::Terminal | Check::SmallestConductor))
        .map(|margin| Finding {
            measured: Some(margin.measured),
            limit: Some(margin.limit),
            unit: margin.unit,
            margin: Some(margin.margin.value),
            citation: citation(margin.check, drop_stated).into(),
            confidence: Confidence::Published,
            ..blank(
                margin.check.rule(),
                chosen.conductor.label(),
                Signal::Caution,
                format!(
                    "{} passes with {} % margin: {} {} against {} {}",
                    margin.check.title(),
                    significant(100.0 * (margin.margin.value - 1.0).max(0.0), 2),
                    significant(margin.measured, 3),
                    margin.unit,
                    significant(margin.limit, 3),
                    margin.unit
                ),
            )
        })
        .collect()
}

/// What everybody who cuts cable should hear.
pub(super) const CAUTIONS: [&str; 4] = [
    "A battery short circuit starts fires: disconnect before you work, fuse at the source, cover live studs.",
    "The length is one-way; both legs were computed. Crimp with the tool made for the lug; never trim strands.",
    "Mains from an inverter can kill: that side is work for a licensed person.",
    "This is a computation, not an approval. Local codes and the makers' instructions come first.",
];
