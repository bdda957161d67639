//! Rules on runs: ampacity, terminals, materials; their fuses are judged in `protection`.

use std::collections::BTreeMap;

use super::{Measure, n, plain};
use crate::conductor::Kind;
use crate::data::Confidence;
use crate::finding::{Finding, Signal};
use crate::installation::{Case, Load, Place, Run};
use crate::quantity::{ElectricCurrent, ThermodynamicTemperature, ToText, in_celsius, in_mm2};
use crate::study::judge::Judgement;
use crate::study::judge::model::{RunModel, terminal_limit};
use crate::study::judge::paths::Protection;

use uom::si::length::millimeter;

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let mut found = Vec::new();
    // By the run that the fuse sits in.
    let (mut backed, mut holders, mut unjudged): (Vec<Finding>, Vec<Finding>, Vec<Finding>) = Default::default();
    let mut narrowly: BTreeMap<Option<usize>, Vec<Finding>> = BTreeMap::new();
    for (index, ((run, model), protection)) in
        judgement.installation.runs.iter().zip(&judgement.models).zip(&judgement.protections).enumerate()
    {
        let subject = Subject { judgement, index, run, model };
        found.extend(subject.ampacity());
        found.extend(subject.conduit());
        found.extend(subject.start_heating());
        found.extend(subject.pauses());
        found.extend(subject.terminal_temperature());
        found.extend(subject.material());
        found.extend(subject.smallest());
        found.extend(subject.own_fuse());
        found.extend(subject.near_source());
        found.extend(subject.breaker());
        match subject.holder() {
            Some(tight) if tight.signal == Signal::Caution => holders.push(tight),
            weak => found.extend(weak),
        }
        match subject.interrupts() {
            // Backed up: not proof, but the same doubt for all of them.
            Some(weak) if weak.signal == Signal::Caution && weak.margin.is_some_and(|margin| margin < 1.0) => {
                backed.push(weak);
            }
            interrupts => found.extend(interrupts),
        }
        found.extend(subject.opens_on_fault());
        found.extend(subject.rides_through());
        match subject.discriminates() {
            Some(unknown) if unknown.margin.is_none() => unjudged.push(unknown),
            known => found.extend(known),
        }
        let protecting = worse(subject.protected_by(protection), subject.protected_through_time());
        match (protection, protecting) {
            (Protection::Fuses(feeding), Some(narrow)) if narrow.signal == Signal::Caution && feeding.len() == 1 => {
                narrowly.entry(feeding.first().copied()).or_default().push(narrow);
            }
            (_, protecting) => found.extend(protecting),
        }
    }
    found.extend(narrowly.into_values().filter_map(|narrow| together(narrow, "narrow too")));
    found.extend(together(backed, "likewise"));
    found.extend(together(holders, "likewise"));
    found.extend(together(unjudged, "likewise"));
    found.extend(super::faults::on_memory(judgement));
    found
}

/// The worse of two findings of one rule on one subject. Of two failures the first, which needs no curve, is enough; of
/// two cautions the one of less margin is told.
fn worse(one: Option<Finding>, other: Option<Finding>) -> Option<Finding> {
    match (one, other) {
        (Some(one), Some(other)) => {
            let closer = one.signal == Signal::Caution && other.rank() < one.rank();
            Some(if other.signal > one.signal || (other.signal == one.signal && closer) { other } else { one })
        }
        (one, other) => one.or(other),
    }
}

/// One finding for several of a kind, such as all runs that the same fuse protects narrowly: that of least margin, which
/// names the others.
fn together(narrow: Vec<Finding>, others_are: &str) -> Option<Finding> {
    let least = narrow.iter().enumerate().min_by(|(_, one), (_, other)| one.rank().total_cmp(&other.rank()))?.0;
    let others: Vec<&str> =
        narrow.iter().enumerate().filter(|(at, _)| *at != least).map(|(_, one)| one.subject.as_str()).collect();
    let mut finding = narrow.get(least)?.clone();
    if !others.is_empty() {
        finding.message = format!("{}; {others_are}: {}", finding.message, others.join(", "));
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
        let (current, _) = self.current();
        let Some((bears, while_on)) = self.bears() else {
            let message = format!(
                "{} has no value here: the enclosed installation's table runs from 1 to 400 mm², and no grouping factor is known for more than 20 circuits together; what it may carry cannot be judged",
                self.model.conductor.label()
            );
            return Some(plain("ampacity", self.name(), Signal::Warning, message, "IEC 60364-5-52"));
        };
        let limit = bears.value;
        let size = self.model.conductor.label();
        let by = match self.model.model {
            _ if self.model.table_governs => "practice's table".to_owned(),
            Some(model) => model.title(self.model.method),
            None => "heat model".to_owned(),
        };
        let while_on = while_on.map_or_else(String::new, |duty| format!(" for {}", duty.to_text()));
        self.ampacity_measure(bears).finding(|_| {
            if limit <= 0.0 {
                return self.nothing_to_bear();
            }
            format!(
                "{size} carries {} A{while_on} and bears {} A in {} (limit {} °C, {by})",
                n(current),
                n(limit),
                self.zone(),
                n(in_celsius(self.model.limit))
            )
        })
    }

    /// That it bears its current only because that pauses.
    fn pauses(&self) -> Option<Finding> {
        let design = self.judgement.design.get(self.index)?;
        let duty = design.duty.filter(|_| self.model.rests(design))?;
        let bears = self.model.duty_ampacity(&duty)?.value;
        if design.current.value > bears {
            return None;
        }
        let message = format!(
            "carries {} A for {} and bears {} A so, {} A without pause: it must not run on; the fuse is judged as if it did",
            n(design.current.value),
            duty.to_text(),
            n(bears),
            n(self.model.ampacity.map_or(0.0, |ampacity| ampacity.value))
        );
        Some(plain("duty", self.name(), Signal::Notice, message, "the plan's duty cycle"))
    }

    /// Why a conductor may carry nothing at all, and what would help.
    fn nothing_to_bear(&self) -> String {
        let limit = in_celsius(self.model.limit);
        let zone = self.judgement.installation.zones.get(self.model.hottest_zone);
        let air = zone.map_or(0.0, |zone| in_celsius(zone.hottest));
        if air < limit {
            return format!(
                "what lies in its loom in {} heats it to the {} °C that it may reach before it carries anything: fewer or \
                 larger conductors in that loom, or this one apart from it",
                self.zone(),
                n(limit)
            );
        }
        // The usual insulation classes.
        let classes = [70.0, 90.0, 105.0, 125.0, 150.0];
        let hotter = classes.into_iter().find(|class| *class > air + 5.0);
        let help = hotter.map_or_else(
            || "keep it out of there".to_owned(),
            |class| {
                format!(
                    "take insulation, and terminals, for hotter, for example {} °C, or keep it out of there",
                    n(class)
                )
            },
        );
        format!(
            "{} is as hot as the {} °C that this conductor may reach: no size carries anything there; {help}",
            self.zone(),
            n(limit)
        )
    }

    /// Whether the conduits of its looms hold what lies in them.
    fn conduit(&self) -> Option<Finding> {
        let (contents, bore) = self.model.too_tight?;
        let (contents, bore) = (contents.get::<millimeter>(), bore.get::<millimeter>());
        Measure {
            rule: "conduit-holds-conductors",
            subject: self.name(),
            measured: contents,
            limit: bore,
            unit: "mm",
            margin: bore / contents,
            failing: Signal::Warning,
            citation: "geometry of circles in a circle",
            confidence: Confidence::Published,
            case: None,
        }
        .finding(|_| {
            format!("the conductors of its loom need a bore of {} mm, the conduit has {} mm", n(contents), n(bore))
        })
    }

    /// What the moments of a start heat it to, on top of what it carries anyway. Only the worst start is told.
    fn start_heating(&self) -> Option<Finding> {
        let installation = &self.judgement.installation;
        let before = self.judgement.design.get(self.index)?.current;
        let starts = self.judgement.cases.iter().filter_map(|result| {
            let case = installation.cases.get(result.case)?;
            let load = installation.loads.get(case.starting?)?;
            let current = result.run_currents.get(self.index)?.abs();
            let (reached, limit) = self.model.start(current, load.start_time, before)?;
            Some((case, load, current, reached, limit))
        });
        let over = |found: &(&Case, &Load, ElectricCurrent, ThermodynamicTemperature, ThermodynamicTemperature)| {
            found.3.value - found.4.value
        };
        let (case, load, current, reached, limit) = starts.max_by(|one, other| over(one).total_cmp(&over(other)))?;
        if reached <= limit {
            return None;
        }
        let (reached, limit) = (in_celsius(reached), in_celsius(limit));
        Measure {
            rule: "start-heating",
            subject: self.name(),
            measured: reached,
            limit,
            unit: "°C",
            margin: limit / reached,
            failing: Signal::Danger,
            citation: "IEC 60364-4-43, 434.5.2; ISO 6722-1 thermal overload (from memory)",
            confidence: Confidence::Memory,
            case: Some(case.name.clone()),
        }
        .finding(|_| {
            format!(
                "{} A for {} while {} starts take the conductor to {} °C; its insulation bears {} °C so long",
                n(current.value),
                load.start_time.to_text(),
                load.name,
                n(reached),
                n(limit)
            )
        })
    }

    /// Conductor temperature at each end against what the terminal there may reach. Only failure is told:
    /// the approach to it is the ampacity rule's.
    fn terminal_temperature(&self) -> Option<Finding> {
        if self.judgement.design.get(self.index).is_some_and(|design| self.model.rests(design)) {
            // The duty cycle is held to the terminals' limit too, by the ampacity rule.
            return None;
        }
        let ends =
            [self.run.from, self.run.to].map(|node| in_celsius(terminal_limit(&self.judgement.installation, node)));
        let (case, reached, limit) = self
            .judgement
            .lasting()
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
        let least = self.judgement.installation.smallest_conductor()?;
        let (area, limit) = (in_mm2(self.model.conductor.area), in_mm2(least.value));
        Measure {
            rule: "smallest-conductor",
            subject: self.name(),
            measured: area,
            limit,
            unit: "mm²",
            margin: if area >= limit * (1.0 - 1e-9) { f64::INFINITY } else { area / limit },
            failing: Signal::Warning,
            citation: &least.citation,
            confidence: least.confidence,
            case: None,
        }
        .finding(|_| format!("{} is below the smallest size: {} mm²", self.model.conductor.label(), n(limit)))
    }
}
