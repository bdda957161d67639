//! Rules on runs: ampacity, terminals, fuses, materials.

use std::collections::BTreeMap;

use super::{Measure, n, plain};
use crate::conductor::Kind;
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::installation::{FuseChoice, Leg, Place, Run};
use crate::protection::{OVERLOAD_FACTOR, protection_margins};
use crate::quantity::{in_celsius, in_mm2};
use crate::study::judge::Judgement;
use crate::study::judge::choose::amperes;
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
struct Subject<'a> {
    judgement: &'a Judgement,
    index: usize,
    run: &'a Run,
    model: &'a RunModel,
}

impl Subject<'_> {
    fn name(&self) -> &str {
        &self.run.name
    }

    fn current(&self) -> (f64, String) {
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

    fn own_fuse(&self) -> Vec<Finding> {
        let (current, reason) = self.current();
        let Some(fuse) = self.model.fuse else {
            return match self.run.fuse {
                FuseChoice::Auto => {
                    let message = format!(
                        "no fuse family of sufficient voltage carries {} A at {} °C",
                        n(current),
                        n(in_celsius(self.model.fuse_ambient))
                    );
                    vec![plain("fuse-carries-load", self.name(), Signal::Warning, message, "fuse family data")]
                }
                FuseChoice::None | FuseChoice::Fixed(_) => Vec::new(),
            };
        };
        let mut found = Vec::new();
        if self.run.leg == Leg::Negative {
            let message = "the fuse sits in the negative: when it opens, the positive stays live".to_owned();
            let citation = "33 CFR 183.455(a): ungrounded conductors";
            found.push(plain("fuse-at-source", self.name(), Signal::Warning, message, citation));
        }
        match fuse.continuous_current(self.model.fuse_ambient) {
            Some(carried) => found.extend(
                Measure {
                    rule: "fuse-carries-load",
                    subject: self.name(),
                    measured: current,
                    limit: carried.value,
                    unit: "A",
                    // Its own 80 % and re-rating are the margin; passing is enough.
                    margin: if current <= carried.value * (1.0 + 1e-9) {
                        f64::INFINITY
                    } else {
                        carried.value / current
                    },
                    failing: Signal::Warning,
                    citation: "family data: continuous share and ambient",
                    confidence: Confidence::Published,
                    case: Some(reason),
                }
                .finding(|_| {
                    format!(
                        "{} {} carries {} A without pause at {} °C, the run carries {} A",
                        amperes(fuse.rating),
                        fuse.family.name(),
                        n(carried.value),
                        n(in_celsius(self.model.fuse_ambient)),
                        n(current)
                    )
                }),
            ),
            None => {
                let message = format!(
                    "cannot be judged: no re-rating of {} for {} °C",
                    fuse.family.name(),
                    n(in_celsius(self.model.fuse_ambient))
                );
                found.push(plain("fuse-carries-load", self.name(), Signal::Caution, message, "family data"));
            }
        }
        let highest = self.judgement.ways.highest_voltage(&self.judgement.installation, self.run.from).value;
        match fuse.family.rated_voltage() {
            Some(rated) => found.extend(
                Measure {
                    rule: "fuse-voltage",
                    subject: self.name(),
                    measured: highest,
                    limit: rated.value,
                    unit: "V",
                    margin: if highest <= rated.value * (1.0 + 1e-9) { f64::INFINITY } else { rated.value / highest },
                    failing: Signal::Danger,
                    citation: "rated voltage of the family against the highest charge voltage",
                    confidence: Confidence::Published,
                    case: None,
                }
                .finding(|_| {
                    let (rated, highest) = (n(rated.value), n(highest));
                    format!(
                        "{} is rated {rated} V, the system reaches {highest} V while charging: it may not break an arc",
                        fuse.family.name()
                    )
                }),
            ),
            None => {
                let message = format!(
                    "cannot be judged: the rated DC voltage of {} differs by size and maker",
                    fuse.family.name()
                );
                found.push(plain("fuse-voltage", self.name(), Signal::Caution, message, "family data"));
            }
        }
        found
    }

    /// Whether the run joins two batteries in series.
    fn is_jumper(&self) -> bool {
        let batteries = &self.judgement.installation.batteries;
        let positive = |node| batteries.iter().position(|battery| battery.nodes[0] == node);
        let negative = |node| batteries.iter().position(|battery| battery.nodes[1] == node);
        let (from, to) = (self.run.from, self.run.to);
        let apart = |one: Option<usize>, other: Option<usize>| one.is_some() && other.is_some() && one != other;
        apart(positive(from), negative(to)) || apart(negative(from), positive(to))
    }

    /// A conductor that only self-limiting sources reach needs no fuse if it bears what they can give.
    fn self_limited(&self) -> Option<Finding> {
        if self.run.leg == Leg::Negative {
            return None;
        }
        let plan = &self.judgement.installation;
        let reaching = self.judgement.ways.self_limiting(plan, self.run.from);
        let most: f64 = reaching.iter().map(|(current, _)| current.value).sum();
        let limit = self.model.ampacity?.value;
        let needed = most * constants::SELF_LIMITING;
        let measure = Measure {
            rule: "fuse-protects-conductor",
            subject: self.name(),
            measured: needed,
            limit,
            unit: "A",
            margin: if needed > 0.0 { limit / needed } else { f64::INFINITY },
            failing: Signal::Danger,
            citation: "1.25 times what a self-limiting source can give, common practice, no source",
            confidence: Confidence::CommonPractice,
            case: None,
        };
        let names: Vec<&str> = reaching.iter().map(|(_, name)| *name).collect();
        measure.finding(|_| {
            let (size, names) = (self.model.conductor.label(), names.join(" and "));
            let (most, needed, limit) = (n(most), n(needed), n(limit));
            format!("no fuse, and {names} can give {most} A: {size} must bear {needed} A and bears {limit} A")
        })
    }

    fn protected_by(&self, protection: &Protection) -> Option<Finding> {
        let (feeding, fuse, feeds) = match protection {
            Protection::Fuse(feeding, fuse, feeds) => (*feeding, fuse, *feeds),
            Protection::SelfLimiting => return self.self_limited(),
            Protection::None
                if self.run.cranking && in_mm2(self.model.conductor.area) < constants::LEAST_CRANKING_MM2 =>
            {
                let message = format!(
                    "{} is too thin to feed a starter motor, so it is not exempt from a fuse",
                    self.model.conductor.label()
                );
                return Some(plain(
                    "fuse-at-source",
                    self.name(),
                    Signal::Danger,
                    message,
                    "16 mm² at least, common practice, no source",
                ));
            }
            Protection::None if self.run.cranking => {
                let message =
                    "feeds a starter motor and is exempt from a fuse: keep it short, sleeved and clear of edges"
                        .to_owned();
                return Some(plain(
                    "fuse-at-source",
                    self.name(),
                    Signal::Notice,
                    message,
                    "33 CFR 183.460 (from memory)",
                ));
            }
            Protection::None if self.is_jumper() => {
                let message =
                    "joins two batteries in series without a fuse: keep it short, sleeved and covered".to_owned();
                return Some(plain(
                    "fuse-at-source",
                    self.name(),
                    Signal::Notice,
                    message,
                    "common practice, no source",
                ));
            }
            Protection::WrongEnd => {
                let message = "a battery reaches the end that its fuse is not at: a short circuit would burn it from there; fuse that end too";
                let citation = "IEC 60364-4-43; 33 CFR 183.455";
                return Some(plain("fuse-at-source", self.name(), Signal::Danger, message.to_owned(), citation));
            }
            Protection::None => {
                let message = "a battery reaches it without passing a fuse: a short circuit would burn it".to_owned();
                return Some(plain(
                    "fuse-at-source",
                    self.name(),
                    Signal::Danger,
                    message,
                    "IEC 60364-4-43; 33 CFR 183.455",
                ));
            }
        };
        let ampacity = self.model.ampacity?;
        let (rating, overload) = protection_margins(fuse, ampacity);
        let whose = match (feeding == self.index, self.judgement.installation.runs.get(feeding)) {
            (true, _) | (_, None) => String::new(),
            (false, Some(other)) => format!(" of {}", other.name),
        };
        let leg = if self.run.leg == Leg::Negative { " in its return" } else { "" };
        let described = if feeds > 1 {
            format!("{feeds} fuses, together {} A, the largest that{whose},", n(fuse.rating.value))
        } else {
            format!("fuse{whose} {} {}", amperes(fuse.rating), fuse.family.name())
        };
        let size = self.model.conductor.label();
        let mut measure = Measure {
            rule: "fuse-protects-conductor",
            subject: self.name(),
            measured: fuse.rating.value,
            limit: ampacity.value,
            unit: "A",
            margin: rating.value,
            failing: Signal::Danger,
            citation: "IEC 60364-4-43, 433.1 (In ≤ Iz)",
            confidence: Confidence::Published,
            case: None,
        };
        if let Some((overload, operating)) = overload.zip(fuse.conventional_current())
            && overload < rating
        {
            measure.measured = operating.value;
            measure.limit = ampacity.value * OVERLOAD_FACTOR;
            measure.margin = overload.value;
            measure.citation = "IEC 60364-4-43, 433.1 (I2 ≤ 1.45 Iz)";
        }
        measure.finding(|fails| {
            let so = match (fails, feeds > 1) {
                (true, false) => "does not protect",
                (true, true) => "do not protect",
                (false, false) => "protects",
                (false, true) => "protect",
            };
            format!("{described} {so} {size}{leg}, which bears {} A", n(ampacity.value))
        })
    }
}
