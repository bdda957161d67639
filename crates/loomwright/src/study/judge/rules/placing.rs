//! Rules on where protective devices sit and what they are: near the source, in a holder that bears it, the right way
//! round, closing again only by hand; and what switches in the negative leave live.

use super::runs::Subject;
use super::{Measure, n, plain};
use crate::data::Confidence;
use crate::finding::{Finding, Signal};
use crate::installation::{Installation, LinkKind};
use crate::practice::Practice;
use crate::protection::Reset;
use crate::quantity::in_mm2;
use crate::study::judge::Judgement;
use crate::study::judge::distance::Unprotected;

/// Reversed currents below this, in A, are what no arc needs to be blown out of.
const LEAST_REVERSED_A: f64 = 1.0;

/// Lengths for people.
fn metres(length: f64) -> String {
    if length < 1.0 { format!("{} mm", n(1e3 * length)) } else { format!("{} m", n(length)) }
}

/// All that is unprotected within what practice permits, in one notice.
pub(super) fn unprotected_lengths(judgement: &Judgement) -> Option<Finding> {
    let plan = &judgement.installation;
    let all = plan.runs.iter().zip(&judgement.unprotected);
    let within = all.filter_map(|(run, bare)| {
        let bare = bare.as_ref()?;
        let what = if bare.tail { "all of" } else { "up to the fuse of" };
        let passes = bare.length <= plan.fuse_distance(bare.sheathed).value;
        // What only the plan's own limit permits.
        let usual = plan.practice.fuse_distance(bare.sheathed).value;
        let beyond = if bare.length > usual {
            format!(" ({} permits {})", plan.practice, metres(usual.value))
        } else {
            String::new()
        };
        passes.then(|| (!beyond.is_empty(), format!("{what} {} {}{beyond}", run.name, metres(bare.length.value))))
    });
    let (beyond, told): (Vec<bool>, Vec<String>) = within.unzip();
    let signal = if beyond.contains(&true) { Signal::Caution } else { Signal::Notice };
    let message =
        format!("unprotected, within the limit: {}; sleeve it, keep it clear of edges and metal", told.join(", "));
    (!told.is_empty()).then(|| plain("fuse-near-source", "runs", signal, message, &plan.fuse_distance(false).citation))
}

/// Isolators and relays in the negative: what they leave live.
pub(super) fn negative_switches(judgement: &Judgement) -> Vec<Finding> {
    let plan = &judgement.installation;
    let mut found = Vec::new();
    let switches = plan.links.iter().filter(|link| matches!(link.kind, LinkKind::Isolator | LinkKind::Relay));
    for link in switches.filter(|link| link.nodes.iter().any(|node| is_negative(plan, node.0))) {
        let (signal, so) = match plan.chassis {
            Some(_) => (Signal::Warning, "when it opens, every fault to the chassis still has its way back"),
            None => (Signal::Caution, "when it opens, the positive stays live; isolate the positive, or both"),
        };
        let message = format!("the {} sits in the negative: {so}", link.kind);
        found.push(plain("isolator-in-negative", &link.name, signal, message, "common practice, no source"));
    }
    found
}

/// Whether a node belongs to the negative: a pole of a battery, or where a negative run ends.
fn is_negative(plan: &Installation, node: usize) -> bool {
    let pole = plan.batteries.iter().any(|battery| battery.nodes[1].0 == node);
    // The negative of one battery in series is the positive of the next.
    let positive = plan.batteries.iter().any(|battery| battery.nodes[0].0 == node);
    let run = plan
        .runs
        .iter()
        .any(|run| run.leg == crate::installation::Leg::Negative && (run.from.0 == node || run.to.0 == node));
    !positive && (pole || run)
}

impl Subject<'_> {
    fn bare(&self) -> Option<&Unprotected> {
        self.judgement.unprotected.get(self.index)?.as_ref()
    }

    /// Whether the run leads from a battery to protective devices only.
    pub(super) fn is_tail(&self) -> bool {
        self.bare().is_some_and(|bare| bare.tail)
    }

    /// The unprotected conductor up to its device against what practice permits.
    pub(super) fn near_source(&self) -> Option<Finding> {
        let bare = self.bare()?;
        let limit = self.judgement.installation.fuse_distance(bare.sheathed);
        let (measured, limit_m) = (bare.length.value, limit.value.value);
        let measure = Measure {
            rule: "fuse-near-source",
            subject: self.name(),
            measured,
            limit: limit_m,
            unit: "m",
            // Within the limit is enough; all such lengths are told together.
            margin: if measured <= limit_m * (1.0 + 1e-9) { f64::INFINITY } else { limit_m / measured },
            failing: if bare.battery { Signal::Danger } else { Signal::Warning },
            citation: &limit.citation,
            confidence: limit.confidence,
            case: None,
        };
        measure.finding(|_| {
            let what = if bare.tail { "is an unprotected conductor that ends" } else { "has its fuse" };
            let lies = if bare.sheathed { "in conduit" } else { "not in conduit all the way" };
            format!(
                "{what} {} from its source along the conductor, {lies}: {} at most; move the fuse nearer",
                metres(measured),
                metres(limit_m)
            )
        })
    }

    /// Breakers: which way current may pass, and how they close again.
    pub(super) fn breaker(&self) -> Vec<Finding> {
        let plan = &self.judgement.installation;
        let Some(device) = plan.device(self.index) else { return Vec::new() };
        let mut found = Vec::new();
        if device.polarised() {
            found.extend(self.reversing().map(|(forward, backward)| {
                let message = format!(
                    "{} breaks current one way only, and here it flows both ways: {forward} forward, {backward} backward; \
                     opened the wrong way it burns on: fit one that is not polarised, or a fuse",
                    device.called()
                );
                plain("breaker-polarity", self.name(), Signal::Danger, message, "makers' instructions, common practice, no source")
            }));
        }
        let by_hand_only = plan.practice == Practice::UsSmallCraft;
        let (signal, so) = match device.reset() {
            Some(Reset::Automatic) => (Signal::Danger, "closes again by itself, again and again, onto the fault"),
            Some(Reset::Modified) if by_hand_only => (Signal::Warning, "closes again without a hand on it"),
            Some(Reset::Modified) => {
                (Signal::Caution, "closes again, onto the fault, whenever its circuit is switched on")
            }
            Some(Reset::Manual) | None => return found,
        };
        let message =
            format!("{} {so}: it protects no conductor; take one that is reset by hand, or a fuse", device.called());
        found.push(plain(
            "breaker-reset",
            self.name(),
            signal,
            message,
            "33 CFR 183.455(a): reset by hand and trip-free",
        ));
        found
    }

    /// What flows each way through the run, where both happen: in cases, or into a fault.
    fn reversing(&self) -> Option<(String, String)> {
        let plan = &self.judgement.installation;
        let mut ways: [Option<(f64, String)>; 2] = [None, None];
        for case in self.judgement.cases.iter().filter(|case| case.point.is_some()) {
            let name = plan.cases.get(case.case).map_or("", |of| of.name.as_str());
            let current = case.run_currents.get(self.index).map_or(0.0, |current| current.value);
            let [forward, backward] = &mut ways;
            let slot = if current < 0.0 { backward } else { forward };
            let more = slot.as_ref().is_none_or(|(most, _)| *most < current.abs());
            if current.abs() >= LEAST_REVERSED_A && more {
                *slot = Some((current.abs(), name.to_owned()));
            }
        }
        // Where no case sends current that way, a fault may.
        if let Some(fault) = self.judgement.fault(self.index) {
            let faults = [(fault.forward, "into a fault behind it"), (fault.backward, "into a fault before it")];
            for (slot, (current, reason)) in ways.iter_mut().zip(faults) {
                if slot.is_none() && current.value >= LEAST_REVERSED_A {
                    *slot = Some((current.value, reason.to_owned()));
                }
            }
        }
        let [Some(forward), Some(backward)] = ways else { return None };
        let told = |(current, reason): (f64, String)| format!("{} A ({reason})", n(current));
        Some((told(forward), told(backward)))
    }

    /// What a usual holder of the family takes: the current without pause, and the conductor.
    pub(super) fn holder(&self) -> Option<Finding> {
        let device = self.judgement.installation.device(self.index)?;
        let holder = device.fuse.family.holder()?;
        let (current, reason) = self.current();
        let (area, largest) = (in_mm2(self.model.conductor.area), in_mm2(holder.largest));
        if let Some(carries) = holder.carries.filter(|carries| current > carries.value * (1.0 + 1e-9)) {
            let measure = Measure {
                rule: "fuse-holder",
                subject: self.name(),
                measured: current,
                limit: carries.value,
                unit: "A",
                margin: carries.value / current,
                failing: Signal::Warning,
                citation: &holder.source.to_string(),
                confidence: holder.source.confidence,
                case: Some(reason),
            };
            return measure.finding(|_| {
                let family = device.fuse.family.name();
                format!("a usual holder of {family} carries {} A, the run carries {} A", n(carries.value), n(current))
            });
        }
        let measure = Measure {
            rule: "fuse-holder",
            subject: self.name(),
            measured: area,
            limit: largest,
            unit: "mm²",
            margin: if area <= largest * (1.0 + 1e-9) { f64::INFINITY } else { largest / area },
            failing: Signal::Caution,
            citation: &holder.source.to_string(),
            confidence: Confidence::CommonPractice,
            case: None,
        };
        measure.finding(|_| {
            format!(
                "{} does not enter a usual holder of {}, which takes {} mm²: choose a holder that takes it, or a larger family",
                self.model.conductor.label(),
                device.fuse.family.name(),
                n(largest)
            )
        })
    }
}
