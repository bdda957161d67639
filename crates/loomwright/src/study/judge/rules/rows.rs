//! What is measured of every run and its fuse, passing or not, for the table of all checks.

use super::Measure;
use super::runs::Subject;
use crate::data::Confidence;
use crate::finding::Signal;
use crate::heat::Duty;
use crate::quantity::ElectricCurrent;
use crate::study::judge::model::Warm;
use crate::study::judge::{CaseResult, CheckRecord, Judgement};

/// What is measured of every run and its fuse, passing or not.
pub(super) fn checks(judgement: &Judgement) -> Vec<CheckRecord> {
    let runs = judgement.installation.runs.iter().zip(&judgement.models).zip(&judgement.protections).enumerate();
    let each = runs.flat_map(|(index, ((run, model), protection))| {
        let subject = Subject { judgement, index, run, model };
        let measures = [
            subject.bears().map(|(bears, _)| subject.ampacity_measure(bears)),
            subject.temperature_measure(),
            subject.carries_measure(),
            subject.interrupts_measure(),
            subject.opens_measure(),
        ];
        let mut found: Vec<CheckRecord> = measures.iter().flatten().map(Measure::check).collect();
        found.extend(subject.protects_check(protection));
        found
    });
    each.collect()
}

impl Subject<'_> {
    /// What it may carry without pause, or in its duty cycle where it bears its current only so, with that cycle.
    pub(super) fn bears(&self) -> Option<(ElectricCurrent, Option<Duty>)> {
        let ampacity = self.model.ampacity?;
        let duty = self.judgement.design.get(self.index).and_then(|design| design.duty);
        let cyclic = duty.filter(|_| self.current().0 > ampacity.value);
        let bears = cyclic.and_then(|duty| Some((self.model.duty_ampacity(&duty)?, Some(duty))));
        Some(bears.unwrap_or((ampacity, None)))
    }

    pub(super) fn ampacity_measure(&self, bears: ElectricCurrent) -> Measure<'_> {
        let (current, reason) = self.current();
        Measure {
            rule: "ampacity",
            subject: self.name(),
            measured: current,
            limit: bears.value,
            unit: "A",
            margin: if current > 0.0 { bears.value / current } else { f64::INFINITY },
            failing: Signal::Danger,
            citation: "IEC 60364-4-43, 433.1 (Ib ≤ Iz)",
            confidence: Confidence::Published,
            case: Some(reason),
        }
    }

    /// Its hottest stretch against what that may reach, in the case that heats it most; a run that rests is held to its
    /// cycle by `ampacity`. Heat goes with the rise over the air, so that is what the margin compares.
    fn temperature_measure(&self) -> Option<Measure<'_>> {
        let plan = &self.judgement.installation;
        if self.judgement.design.get(self.index).is_some_and(|design| self.model.rests(design)) {
            return None;
        }
        let mut worst: Option<(f64, &CaseResult, Warm)> = None;
        for case in self.judgement.lasting() {
            if case.runs.get(self.index)?.too_hot {
                return None;
            }
            for warm in self.model.warm(*case.run_currents.get(self.index)?) {
                let margin = (warm.limit - warm.ambient) / (warm.reached - warm.ambient);
                if warm.reached > warm.ambient && worst.as_ref().is_none_or(|(least, ..)| margin < *least) {
                    worst = Some((margin, case, warm));
                }
            }
        }
        let (margin, case, warm) = worst?;
        Some(Measure {
            rule: "conductor-temperature",
            subject: self.name(),
            measured: warm.reached,
            limit: warm.limit,
            unit: "°C",
            margin,
            failing: Signal::Danger,
            citation: "IEC 60364-4-43, 433.1",
            confidence: Confidence::Published,
            case: plan.cases.get(case.case).map(|of| of.name.clone()),
        })
    }
}
