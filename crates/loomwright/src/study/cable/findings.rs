//! The judgement on a sized circuit.

use super::remedies::{passing, propose, why_nothing_passes, words};
use super::{CableQuery, Candidate, Check, ReturnPath, Sizing};
use crate::conductor::Material;
use crate::data::tables::constants;
use crate::data::{Confidence, Source};
use crate::finding::{Finding, Signal};
use crate::heat::{Installation, Model, group_factor_source};
use crate::practice::{TableCap, table_cap};
use crate::protection::law_allows;
use crate::quantity::{ToText, significant};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;

/// Where a check's rule comes from, and how far it can be trusted.
fn citation(sized: &Sizing, check: Check) -> (String, Confidence) {
    let standard = |text: &str| (text.to_owned(), Confidence::Published);
    match check {
        Check::Ampacity => standard("IEC 60364-4-43, 433.1 (Ib ≤ Iz)"),
        Check::VoltageDrop if sized.circuit.query.drop.is_some() => standard("the limit given"),
        Check::VoltageDrop => ("3 %, common practice, no source".to_owned(), Confidence::CommonPractice),
        Check::FuseRating => standard("IEC 60364-4-43, 433.1 (In ≤ Iz)"),
        Check::FuseOverload => standard("IEC 60364-4-43, 433.1 (I2 ≤ 1.45 Iz)"),
        Check::Terminal => standard("the terminal given"),
        Check::Conduit => standard("the conduit given"),
        Check::SmallestConductor => match sized.circuit.smallest_conductor {
            Some(least) => (least.source.to_string(), least.source.confidence),
            None => standard("the practice"),
        },
    }
}

fn blank(rule: &'static str, subject: String, signal: Signal, message: String) -> Finding {
    Finding::plain(rule, subject, signal, message, "common practice")
}

impl Sizing {
    /// Every finding, worst first.
    pub fn findings(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        let failing = why_nothing_passes(self);
        if failing.is_empty() && self.chosen.is_none() {
            // No size of the series stands in the installation's table.
            let message = "no size of this kind stands in the table of the enclosed installation".to_owned();
            found.push(blank("ampacity", "circuit".into(), Signal::Warning, message));
        }
        let remedies = if failing.is_empty() { Vec::new() } else { propose(self) };
        for (number, (check, message)) in failing.into_iter().enumerate() {
            let margin = self.closest.iter().flat_map(Candidate::margins).find(|margin| margin.check == check);
            let finite = |value: f64| value.is_finite().then_some(value);
            let (cited, confidence) = citation(self, check);
            found.push(Finding {
                measured: margin.and_then(|margin| finite(margin.measured)),
                limit: margin.and_then(|margin| finite(margin.limit)),
                unit: margin.map_or("", |margin| margin.unit),
                margin: margin.map(|margin| margin.margin.value),
                citation: cited,
                confidence,
                // What mends one failure was confirmed to mend them all.
                remedies: if number == 0 { remedies.clone() } else { Vec::new() },
                ..blank(check.rule(), "circuit".into(), Signal::Warning, message)
            });
        }
        found.extend(self.material_finding());
        found.extend(self.return_finding());
        if let Some(chosen) = &self.chosen {
            found.extend(thin_margins(self, chosen));
            found.extend(parallel_notice(chosen));
            found.extend(self.table_findings(chosen));
            found.extend(self.fuse_findings(chosen));
            found.extend(self.duty_notice(chosen));
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
        let mut source = material.data().resistivity_source;
        if let Some(rule) = self.circuit.practice.copper_only() {
            message.push_str(&format!("; {} forbids it ({})", self.circuit.practice, rule.note));
            source = rule.source;
        }
        let copper = passing(&CableQuery { material: Some(Material::Copper), ..self.circuit.query });
        Some(Finding {
            measured: Some(over),
            limit: Some(1.0),
            unit: "× copper",
            margin: Some(1.0 / over),
            citation: source.to_string(),
            confidence: source.confidence,
            remedies: copper.iter().map(|size| format!("copper: {} passes", words(size))).collect(),
            ..blank("conductor-material", "conductor".into(), Signal::Warning, message)
        })
    }

    fn return_finding(&self) -> Option<Finding> {
        let rule = self.circuit.chassis_return.then(|| self.circuit.practice.forbids_chassis_return()).flatten()?;
        let two = passing(&CableQuery { return_path: Some(ReturnPath::Conductor), ..self.circuit.query });
        Some(Finding {
            citation: rule.source.to_string(),
            remedies: two
                .iter()
                .map(|size| format!("return through a second conductor: {} passes", words(size)))
                .collect(),
            ..blank("return-path", "return".into(), Signal::Warning, rule.note.to_owned())
        })
    }

    fn table_findings(&self, chosen: &Candidate) -> Option<Finding> {
        let circuit = &self.circuit;
        let permitted = circuit.practice.overcurrent_permitted()?;
        // The law's table goes by insulation alone.
        let table = table_cap(
            circuit.practice,
            &chosen.conductor,
            &circuit.lay(chosen.parallel),
            circuit.insulation,
            circuit.ambient,
        );
        let TableCap::Capped(cap) = table else { return None };
        if circuit.voltage.get::<volt>() >= 50.0 {
            return None;
        }
        let allowed = law_allows(cap.ampacity * f64::from(chosen.parallel), permitted.value);
        Some(Finding {
            citation: permitted.source.to_string(),
            confidence: permitted.source.confidence,
            ..blank(
                "fuse-protects-conductor",
                "fuse".into(),
                Signal::Notice,
                format!(
                    "the law would allow a fuse of up to {} A ({}); the physical rule decides: no more than the {} A that the \
                     conductor bears",
                    significant(allowed.get::<ampere>(), 4),
                    permitted.note,
                    significant(chosen.ampacity.get::<ampere>(), 3)
                ),
            )
        })
    }

    fn fuse_findings(&self, chosen: &Candidate) -> Option<Finding> {
        let fuse = chosen.fuse?;
        let voltage = self.circuit.highest_voltage;
        let (breaks, source) = fuse.family.breaks(voltage)?;
        let otherwise =
            if breaks.get::<ampere>() < 20e3 { ", or put a class T fuse (20 kA) at the battery" } else { "" };
        Some(Finding {
            citation: "IEC 60364-4-43, 434.5.1".into(),
            confidence: source.confidence,
            ..blank(
                "fuse-interrupts-fault",
                "fuse".into(),
                Signal::Caution,
                format!(
                    "not judged here: faults, the distance of the fuse from the source, and opening at the far end. {} breaks up to \
                     {} A at {} V, and a battery can deliver more: fit it only where the prospective fault current is lower{otherwise}",
                    fuse.family.name(),
                    significant(breaks.get::<ampere>(), 4),
                    significant(voltage.get::<volt>(), 4)
                ),
            )
        })
    }

    /// What a duty cycle does and does not win.
    fn duty_notice(&self, chosen: &Candidate) -> Option<Finding> {
        let duty = self.circuit.query.duty?;
        if self.circuit.duty.is_none() {
            let message = format!(
                "{}: not credited, since nobody says that the conductors beside it pause with it; they count at the same current \
                 without pause",
                duty.to_text()
            );
            return Some(blank("duty", chosen.conductor.label(), Signal::Notice, message));
        }
        let bears = chosen.duty_ampacity?;
        Some(blank(
            "duty",
            chosen.conductor.label(),
            Signal::Notice,
            format!(
                "{}: the conductor bears {} A so long, {} A without pause. The fuse is chosen as if the current did not stop, since it \
                 must protect the conductor when it does not",
                duty.to_text(),
                significant(bears.get::<ampere>(), 3),
                significant(chosen.ampacity.get::<ampere>(), 3),
            ),
        ))
    }

    /// The sources behind the chosen size, each with what it gave.
    fn sources(&self, chosen: &Candidate) -> Vec<(&'static str, &'static Source)> {
        let mut used = vec![("conductor resistance", chosen.conductor.source)];
        let terminals_decide = chosen.conductor_limit < self.circuit.insulation;
        if terminals_decide && self.circuit.query.terminal_temperature.is_none() {
            used.push(("terminal temperature", self.circuit.terminal_rule.usual.source));
        }
        used.push(("resistance at temperature", self.circuit.material.data().zero_resistance_source));
        if chosen.conductor.scaled_from_copper {
            used.push(("resistivity", self.circuit.material.data().resistivity_source));
        }
        let (installation, model) = (self.circuit.installation, chosen.governing_model());
        if installation != Installation::Enclosed {
            used.push(("insulation wall", chosen.conductor.wall_source));
            used.push(("heat model", model.source(installation)));
        }
        let grouped = match installation {
            Installation::FreeAir => chosen.parallel > 1,
            _ => model == Model::Table && self.circuit.lay(chosen.parallel).loaded() > 2,
        };
        if grouped {
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

fn thin_margins(sized: &Sizing, chosen: &Candidate) -> Vec<Finding> {
    chosen
        .margins()
        .filter(|margin| margin.margin.value < constants::THIN_MARGIN)
        .filter(|margin| !margin.check.is_fit())
        .map(|margin| (margin, citation(sized, margin.check)))
        .map(|(margin, (cited, confidence))| Finding {
            measured: Some(margin.measured),
            limit: Some(margin.limit),
            unit: margin.unit,
            margin: Some(margin.margin.value),
            citation: cited,
            confidence,
            ..blank(
                margin.check.rule(),
                chosen.conductor.label(),
                Signal::Caution,
                format!(
                    "{} passes with {} % margin: {} {} against {} {}",
                    margin.check.title(),
                    significant((1e3 * (margin.margin.value - 1.0).max(0.0)).floor() / 10.0, 2),
                    significant(margin.measured, 3),
                    margin.unit,
                    significant(margin.limit, 3),
                    margin.unit
                ),
            )
        })
        .collect()
}

/// What conductors in parallel ask for.
fn parallel_notice(chosen: &Candidate) -> Option<Finding> {
    if chosen.parallel < 2 {
        return None;
    }
    let number = f64::from(chosen.parallel);
    let message = format!(
        "{} equal conductors make each leg: same kind, size and length, each with its own lugs. Together they bear {} A, what they \
         warm each other counted; with one open the rest bear {} A, which the fuse respects",
        chosen.parallel,
        significant(chosen.ampacity.get::<ampere>(), 3),
        significant(chosen.ampacity.get::<ampere>() * (number - 1.0) / number, 3),
    );
    let source = group_factor_source();
    Some(Finding {
        citation: source.to_string(),
        confidence: source.confidence,
        ..blank("parallel-conductors", chosen.conductor.label(), Signal::Caution, message)
    })
}
