//! Rules on overcurrent protection: what a fuse carries and breaks, and what it protects.

use super::runs::Subject;
use super::{Measure, n, plain};
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::heat::Lay;
use crate::installation::{FuseChoice, Leg};
use crate::practice::{TableCap, table_cap};
use crate::protection::{OVERLOAD_FACTOR, law_allows};
use crate::quantity::{ElectricCurrent, in_celsius, in_mm2};
use crate::study::judge::CheckRecord;
use crate::study::judge::paths::{Protection, operating, overload_margins, ratings};

impl Subject<'_> {
    /// The load against what the run's own fuse carries without pause.
    pub(super) fn carries_measure(&self) -> Option<Measure<'_>> {
        let (current, reason) = self.current();
        let device = self.judgement.installation.device(self.index)?;
        let carried = device.continuous_current(self.model.fuse_ambient)?;
        Some(Measure {
            rule: "fuse-carries-load",
            subject: self.name(),
            measured: current,
            limit: carried.value,
            unit: "A",
            margin: if current > 0.0 { carried.value / current } else { f64::INFINITY },
            failing: Signal::Warning,
            citation: "family data: continuous share and ambient",
            confidence: Confidence::Published,
            case: Some(reason),
        })
    }

    /// The run's own fuse: the load it carries and the voltage it breaks.
    pub(super) fn own_fuse(&self) -> Vec<Finding> {
        let (current, _) = self.current();
        let Some(device) = self.judgement.installation.device(self.index) else {
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
        match device.continuous_current(self.model.fuse_ambient) {
            // Its own 80 % and re-rating are the margin; passing is enough.
            Some(carried) => found.extend(self.carries_measure().map(Measure::enough).and_then(|measure| {
                measure.finding(|_| {
                    format!(
                        "{} carries {} A without pause at {} °C, the run carries {} A",
                        device.called(),
                        n(carried.value),
                        n(in_celsius(self.model.fuse_ambient)),
                        n(current)
                    )
                })
            })),
            None => {
                let message = format!(
                    "cannot be judged: no re-rating of {} for {} °C",
                    device.called(),
                    n(in_celsius(self.model.fuse_ambient))
                );
                found.push(plain("fuse-carries-load", self.name(), Signal::Caution, message, "family data"));
            }
        }
        let highest = self.judgement.ways.highest_voltage(&self.judgement.installation, self.run.from).value;
        match device.rated_voltage() {
            Some(rated) => found.extend(
                Measure {
                    rule: "fuse-voltage",
                    subject: self.name(),
                    measured: highest,
                    limit: rated.value,
                    unit: "V",
                    margin: if highest <= rated.value * (1.0 + 1e-9) { f64::INFINITY } else { rated.value / highest },
                    failing: Signal::Danger,
                    citation: "rated voltage of the family against the highest of its sources, charging or unloaded",
                    confidence: Confidence::Published,
                    case: None,
                }
                .finding(|_| {
                    let (rated, highest) = (n(rated.value), n(highest));
                    format!(
                        "{} is rated {rated} V, its circuit reaches {highest} V: it may not break an arc",
                        device.called()
                    )
                }),
            ),
            None => {
                let message = format!(
                    "cannot be judged: the rated DC voltage of {} differs by size and maker",
                    device.fuse.family.name()
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

    /// What the conductor bears against what only self-limiting sources can give: then it needs no fuse.
    fn self_limited_measure(&self) -> Option<Measure<'_>> {
        if self.run.leg == Leg::Negative {
            return None;
        }
        let reaching = self.judgement.ways.self_limiting(&self.judgement.installation, self.run.from);
        let most: f64 = reaching.iter().map(|(current, _)| current.value).sum();
        let limit = self.model.ampacity?.value;
        let needed = most * constants::SELF_LIMITING;
        Some(Measure {
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
        })
    }

    fn self_limited(&self) -> Option<Finding> {
        let measure = self.self_limited_measure()?;
        let reaching = self.judgement.ways.self_limiting(&self.judgement.installation, self.run.from);
        let most: f64 = reaching.iter().map(|(current, _)| current.value).sum();
        let names: Vec<&str> = reaching.iter().map(|(_, name)| *name).collect();
        let (needed, limit) = (measure.measured, measure.limit);
        measure.finding(|_| {
            let (size, names) = (self.model.conductor.label(), names.join(" and "));
            let (most, needed, limit) = (n(most), n(needed), n(limit));
            format!("no fuse, and {names} can give {most} A: {size} must bear {needed} A and bears {limit} A")
        })
    }

    /// What the law permits for its conductor as it lies where it bears least, where the practice says so.
    fn law_permits(&self) -> Option<ElectricCurrent> {
        let plan = &self.judgement.installation;
        let permitted = plan.practice.overcurrent_permitted().filter(|_| plan.system_voltage.value < 50.0)?;
        let ambient = plan.zones.get(self.model.hottest_zone)?.hottest;
        let lay = Lay::alone(self.model.method);
        match table_cap(plan.practice, &self.model.conductor, &lay, self.run.insulation, ambient) {
            TableCap::Capped(cap) => Some(law_allows(cap.ampacity, permitted.value)),
            TableCap::NoTable => None,
        }
    }

    /// Whether its fuse was left to choose, and so is the smallest that carries the load.
    fn fuse_was_chosen(&self) -> bool {
        self.judgement.choices.iter().any(|choice| choice.run == self.index && choice.fuse.is_some())
    }

    /// The smaller of In ≤ Iz and I2 ≤ 1.45 Iz behind the fuses of these runs together.
    fn overload_measure(&self, feeding: &[usize], ampacity: ElectricCurrent) -> Measure<'_> {
        let plan = &self.judgement.installation;
        let (rating, overload) = overload_margins(plan, feeding, ampacity);
        let mut measure = Measure {
            rule: "fuse-protects-conductor",
            subject: self.name(),
            measured: ratings(plan, feeding).value,
            limit: ampacity.value,
            unit: "A",
            margin: rating.value,
            failing: Signal::Danger,
            citation: "IEC 60364-4-43, 433.1 (In ≤ Iz)",
            confidence: Confidence::Published,
            case: None,
        };
        if let Some((overload, operating)) = overload.zip(operating(plan, feeding))
            && overload < rating
        {
            measure.measured = operating.value;
            measure.limit = ampacity.value * OVERLOAD_FACTOR;
            measure.margin = overload.value;
            measure.citation = "IEC 60364-4-43, 433.1 (I2 ≤ 1.45 Iz)";
        }
        measure
    }

    /// The closest that a fuse comes to leaving the conductor unprotected: on overload, or through time.
    pub(super) fn protects_check(&self, protection: &Protection) -> Option<CheckRecord> {
        let feeding = match protection {
            Protection::Fuses(feeding) => feeding.as_slice(),
            Protection::SelfLimiting => return self.self_limited_measure().map(|measure| measure.check()),
            Protection::None | Protection::WrongEnd => return None,
        };
        let overload = self.model.ampacity.map(|ampacity| self.overload_measure(feeding, ampacity));
        let least = match (overload, self.time_measure()) {
            (Some(overload), Some(time)) if time.margin < overload.margin => time,
            (overload, time) => overload.or(time)?,
        };
        Some(least.check())
    }

    pub(super) fn protected_by(&self, protection: &Protection) -> Option<Finding> {
        let feeding = match protection {
            Protection::Fuses(feeding) => feeding.as_slice(),
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
            // How long it may be is told by `fuse-near-source`.
            Protection::None if self.is_tail() => return None,
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
        let Some(ampacity) = self.model.ampacity else {
            let message = format!("cannot be judged: what {} bears here is not known", self.model.conductor.label());
            return Some(plain(
                "fuse-protects-conductor",
                self.name(),
                Signal::Caution,
                message,
                "IEC 60364-4-43, 433.1",
            ));
        };
        let plan = &self.judgement.installation;
        let leg = if self.run.leg == Leg::Negative { " in its return" } else { "" };
        let several = feeding.len() > 1;
        let all = ratings(plan, feeding);
        let largest = feeding.first().and_then(|first| plan.runs.get(*first)).map_or("", |run| run.name.as_str());
        let described = if several {
            format!("{} fuses, together {} A, the largest that of {largest},", feeding.len(), n(all.value))
        } else {
            self.called(feeding)
        };
        let size = self.model.conductor.label();
        let measure = self.overload_measure(feeding, ampacity);
        let printed = plan.practice.largest_overcurrent(self.model.conductor.area);
        let cited = printed.map(|printed| (printed, printed.source.to_string()));
        if let Some((printed, citation)) = &cited
            && measure.margin >= 1.0
            && all > printed.value * (1.0 + 1e-9)
        {
            let measure = Measure {
                measured: all.value,
                limit: printed.value.value,
                margin: (printed.value / all).value,
                failing: Signal::Warning,
                citation,
                confidence: printed.source.confidence,
                ..measure
            };
            let (practice, most) = (plan.practice, n(printed.value.value));
            return measure
                .finding(|_| format!("{described}: {practice} permits {most} A for {size} ({})", printed.note));
        }
        let permitted = self.law_permits().filter(|permitted| *permitted > ampacity);
        measure.finding(|fails| {
            let so = match (fails, several) {
                (true, false) => "does not protect",
                (true, true) => "do not protect",
                (false, false) => "protects",
                (false, true) => "protect",
            };
            let clash = match feeding {
                [one] if fails && *one == self.index && self.fuse_was_chosen() => format!(
                    ": the load needs a fuse of {} A, so take a larger conductor, or split the load over two circuits",
                    n(all.value)
                ),
                _ => String::new(),
            };
            let law = permitted.filter(|_| fails).map_or_else(String::new, |permitted| {
                format!("; the law would permit {} A (33 CFR 183.455(c)), the stricter decides", n(permitted.value))
            });
            format!("{described} {so} {size}{leg}, which bears {} A{clash}{law}", n(ampacity.value))
        })
    }
}
