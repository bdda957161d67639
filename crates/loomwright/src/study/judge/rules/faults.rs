//! Rules on fuses through time: what they break, what they protect over every overcurrent, what they sit out, and which
//! of two opens first.

use super::runs::Subject;
use super::{Measure, n, plain};
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::installation::Leg;
use crate::protection::{Band, Device, Least, discrimination};
use crate::quantity::{ElectricCurrent, Ratio};
use crate::study::judge::fitting::{Start, backed_up, starts};
use crate::study::judge::{Fault, Judgement};
use uom::si::ratio::ratio;

/// Confidence of a rule that rests on a band.
fn confidence(band: &Band) -> Confidence {
    if band.from_memory() { Confidence::Memory } else { Confidence::Published }
}

/// Seconds for people.
pub(in crate::study::judge) fn time(seconds: f64) -> String {
    match seconds {
        long if long >= 7200.0 => format!("{} h", n(long / 3600.0)),
        long if long >= 300.0 => format!("{} min", n(long / 60.0)),
        short if short < 0.1 => format!("{} ms", n(1e3 * short)),
        seconds => format!("{} s", n(seconds)),
    }
}

impl Judgement {
    pub(super) fn fault(&self, run: usize) -> Option<&Fault> {
        self.faults.get(run)?.as_ref()
    }

    /// A run's device, and its band in the air around it.
    pub(super) fn band(&self, run: usize) -> Option<(Device<'_>, Band)> {
        let device = self.installation.device(run)?;
        let ambient = self.models.get(run)?.fuse_ambient;
        let share = device.fuse.family.rerating(ambient).unwrap_or_else(|| Ratio::new::<ratio>(1.0));
        Some((device, device.band()?.rerated(share)))
    }

    /// The fuses between a run's fuse and the sources that feed it, nearest first.
    pub(crate) fn before(&self, run: usize) -> Vec<usize> {
        let plan = &self.installation;
        let Some(from) = plan.runs.get(run).map(|run| run.from) else { return Vec::new() };
        let fused = |at: &usize| self.models.get(*at).is_some_and(|model| model.fuse.is_some());
        // The ways back from the run's start to the batteries; one that lies behind it feeds it from there.
        let reaching = plan.batteries.iter().filter(|battery| self.ways.reaches(battery.nodes[0], from));
        let ways = reaching.map(|battery| self.ways.between(battery.nodes[0], from));
        let mut ways =
            ways.filter(|way| !way.contains(&run)).map(|way| way.into_iter().filter(fused).collect::<Vec<_>>());
        let first = ways.next().unwrap_or_default();
        // Where one of several feeds opens, the others go on: only what all ways pass stands before it.
        ways.fold(first, |common, way| common.into_iter().filter(|at| way.contains(at)).collect())
    }
}

/// Families whose times, ratings or limits are written from memory: their passes are provisional.
pub(super) fn on_memory(judgement: &Judgement) -> Option<Finding> {
    let mut names: Vec<&'static str> = Vec::new();
    let plan = &judgement.installation;
    for (index, run) in plan.runs.iter().enumerate() {
        let Some(device) = plan.device(index) else { continue };
        let name = device.fuse.family.name();
        if device.rests_on_memory(judgement.ways.highest_voltage(plan, run.from)) && !names.contains(&name) {
            names.push(name);
        }
    }
    let message = format!(
        "provisional: ratings, times or breaking limits written from memory, compare with the maker's sheet: {}",
        names.join(", ")
    );
    let mut finding =
        plain("rests-on-memory", "fuses", Signal::Caution, message, "sources marked memory in the data tables");
    finding.confidence = Confidence::Memory;
    (!names.is_empty()).then_some(finding)
}

impl Judgement {
    /// The devices of these runs in words: whose they are, where they are not the run's own.
    pub(in crate::study::judge) fn called(&self, own: usize, feeding: &[usize]) -> String {
        let plan = &self.installation;
        let name = |run: usize| plan.runs.get(run).map_or("", |run| run.name.as_str());
        match feeding {
            [one] if *one == own => plan.device(*one).map_or_else(String::new, |device| device.called()),
            [one] => {
                let device = plan.device(*one).map_or_else(String::new, |device| device.called());
                format!("{device} of {}", name(*one))
            }
            several => {
                let names: Vec<&str> = several.iter().map(|run| name(*run)).collect();
                format!("the {} fuses of {} together", several.len(), names.join(", "))
            }
        }
    }
}

impl Subject<'_> {
    pub(super) fn called(&self, feeding: &[usize]) -> String {
        self.judgement.called(self.index, feeding)
    }

    /// The highest fault against what the fuse breaks.
    pub(super) fn interrupts_measure(&self) -> Option<Measure<'_>> {
        let plan = &self.judgement.installation;
        let fault = self.judgement.fault(self.index)?;
        let highest = self.judgement.ways.highest_voltage(plan, self.run.from);
        let (breaks, confidence) = plan.device(self.index)?.breaks(highest)?;
        let measured = fault.highest.value;
        let backed =
            measured > breaks.value && backed_up(plan, &self.judgement.ways, self.index, fault.highest).is_some();
        Some(Measure {
            rule: "fuse-interrupts-fault",
            subject: self.name(),
            measured,
            limit: breaks.value,
            unit: "A",
            margin: if measured > 0.0 { breaks.value / measured } else { f64::INFINITY },
            failing: if backed { Signal::Caution } else { Signal::Danger },
            citation: "IEC 60364-4-43, 434.5.1: no less than the prospective fault current, with a reserve of 1.25",
            confidence,
            case: None,
        })
    }

    pub(super) fn interrupts(&self) -> Option<Finding> {
        let plan = &self.judgement.installation;
        let (device, fault) = (plan.device(self.index)?, self.judgement.fault(self.index)?);
        let highest = self.judgement.ways.highest_voltage(plan, self.run.from);
        let measured = fault.highest.value;
        let Some((breaks, _)) = device.breaks(highest) else {
            let message = format!(
                "cannot be judged: what {} breaks at {} V is not at hand; up to {} A may flow here",
                device.called(),
                n(highest.value),
                n(measured)
            );
            return Some(plain("fuse-interrupts-fault", self.name(), Signal::Caution, message, "family data"));
        };
        let backed =
            backed_up(plan, &self.judgement.ways, self.index, fault.highest).filter(|_| measured > breaks.value);
        self.interrupts_measure()?.finding(|fails| {
            let so = format!(
                "{} breaks {} A, a fault here reaches {} A, {} A with its reserve",
                device.called(),
                n(breaks.value),
                n(measured / constants::FAULT_RESERVE),
                n(measured)
            );
            match backed {
                Some(before) => format!(
                    "{so}; the {} before it cuts such faults short, but only the makers' word on this pair proves it",
                    plan.device(before).map_or_else(String::new, |before| before.called())
                ),
                None if fails && device.fuse.family.limits_current() => {
                    format!("{so}: it may burst or burn on; divide the bank, with a fuse at every battery")
                }
                None if fails => format!("{so}: it may burst or burn on; put a class T fuse (20 kA) at the battery"),
                None => so,
            }
        })
    }

    /// The lowest fault against the current from which every link opens: at the far end of what the fuse protects.
    pub(super) fn opens_measure(&self) -> Option<Measure<'_>> {
        let lowest = self.judgement.fault(self.index)?.lowest.as_ref()?;
        // Its own device, or those that feed it together.
        let own = self.judgement.installation.device(self.index);
        let through = self.judgement.overcurrents.get(self.index)?.as_ref()?;
        let band = own.map_or_else(|| through.band.clone(), |device| device.band())?;
        let (conventional, current) = (band.conventional_current()?, lowest.current);
        let ampacity = self.judgement.models.get(lowest.run).and_then(|model| model.ampacity);
        let borne = ampacity.is_some_and(|ampacity| ampacity >= current);
        Some(Measure {
            rule: "fuse-opens-on-fault",
            subject: self.name(),
            measured: current.value,
            limit: conventional.value,
            unit: "A",
            margin: (current / conventional).get::<ratio>(),
            // What the conductor bears for good burns at the fault, not along the way.
            failing: if borne { Signal::Warning } else { Signal::Danger },
            citation: "IEC 60364-4-43, 434: the least fault, at the far end, hot, from one cold battery",
            confidence: confidence(&band),
            case: None,
        })
    }

    pub(super) fn opens_on_fault(&self) -> Option<Finding> {
        let measure = self.opens_measure()?;
        let plan = &self.judgement.installation;
        let lowest = self.judgement.fault(self.index)?.lowest.as_ref()?;
        let through = self.judgement.overcurrents.get(self.index)?.as_ref()?;
        let own = plan.device(self.index);
        let called = own.map_or_else(|| self.called(&through.feeding), |device| device.called());
        let far = plan.runs.get(lowest.run).map_or("", |run| run.name.as_str());
        let (current, conventional) = (n(measure.measured), n(measure.limit));
        measure.finding(|_| {
            format!(
                "a short at the far end of {far} drives {current} A through {called}, which opens for certain from {conventional} A on: shorten, take more copper, or a smaller fuse"
            )
        })
    }

    /// The latest opening against what the conductor bears, where the two come closest.
    pub(super) fn time_measure(&self) -> Option<Measure<'_>> {
        let through = self.judgement.overcurrents.get(self.index)?.as_ref()?;
        let (band, least) = (through.band.as_ref()?, through.least?);
        Some(Measure {
            rule: "fuse-protects-conductor",
            subject: self.name(),
            measured: least.takes.value,
            limit: least.takes.value * least.ratio.value,
            unit: "s",
            margin: least.ratio.value,
            failing: if is_beyond(band, &least) { Signal::Caution } else { Signal::Danger },
            citation: "IEC 60364-4-43, 433 and 434: the slowest link against the conductor's short-time limits",
            confidence: confidence(band),
            case: None,
        })
    }

    /// The latest opening against what the conductor bears, over every overcurrent up to the highest fault.
    pub(super) fn protected_through_time(&self) -> Option<Finding> {
        let through = self.judgement.overcurrents.get(self.index)?.as_ref()?;
        let called = self.called(&through.feeding);
        let own = through.feeding.first() == Some(&self.index);
        let Some(band) = &through.band else {
            let message = format!("cannot be judged: no time limits of {called} are at hand");
            // Once, where the fuse sits.
            return own.then(|| plain("fuse-protects-conductor", self.name(), Signal::Caution, message, "family data"));
        };
        let least = through.least?;
        let measure = self.time_measure()?;
        let (takes, bears) = (measure.measured, measure.limit);
        let beyond = is_beyond(band, &least);
        measure.finding(|fails| {
            let (size, current) = (self.model.conductor.label(), n(least.current.value));
            match (fails, beyond) {
                (true, true) => format!(
                    "cannot be judged at {current} A: no time limits of {called} are at hand for so much, {size} bears that for {}",
                    time(bears)
                ),
                (true, false) => format!(
                    "at {current} A {called} may take {}, {size} bears that for {}",
                    time(takes),
                    time(bears)
                ),
                (false, _) => format!(
                    "at {current} A {called} takes up to {}, {size} bears that for {}",
                    time(takes),
                    time(bears)
                ),
            }
        })
    }

    /// Starts that flow through the fuse against its earliest opening, as often as they come over the years.
    pub(super) fn rides_through(&self) -> Option<Finding> {
        let (device, band) = self.judgement.band(self.index)?;
        let plan = &self.judgement.installation;
        let started = starts(plan, &self.judgement.ways, &self.judgement.cases, self.index);
        // A breaker does not melt a little every time.
        let breaker = device.reset().is_some();
        let fatigued = |start: &Start| if breaker { (1.0, "") } else { start.fatigue() };
        if !band.knows_fastest() {
            let melting = device.melting();
            // What would not even melt it without losing any heat needs no fast edge.
            let sat_out = |start: &&Start| {
                let passed = start.current * start.current * start.lasts;
                start.current <= device.fuse.rating
                    || melting.is_some_and(|melting| passed <= melting * fatigued(start).0)
            };
            let most = started.iter().filter(|start| !sat_out(start)).map(|start| start.current);
            let most = most.reduce(ElectricCurrent::max)?;
            let message = format!(
                "cannot be judged: the fastest times of {} are not at hand; {} A flow at a start",
                device.called(),
                n(most.value)
            );
            return Some(plain("fuse-rides-through", self.name(), Signal::Caution, message, "family data"));
        }
        let sat_out = started.iter().filter_map(|start| {
            let fastest = band.fastest(start.current)?;
            Some((start, fastest, (fastest * fatigued(start).0 / start.lasts).get::<ratio>()))
        });
        let (start, fastest, margin) = sat_out.min_by(|one, other| one.2.total_cmp(&other.2))?;
        let (lasts, bears) = (start.lasts.value, fastest.value * fatigued(start).0);
        let measure = Measure {
            rule: "fuse-rides-through",
            subject: self.name(),
            measured: lasts,
            limit: bears,
            unit: "s",
            margin,
            failing: Signal::Warning,
            citation: "the fastest link of the family against the start, times what its I²t bears so often (from memory)",
            confidence: confidence(&band),
            case: plan.cases.get(start.case).map(|of| of.name.clone()),
        };
        measure.finding(|_| {
            let often = format!(", and bears {} {}", time(bears), fatigued(start).1);
            format!(
                "{} A flow for {} at the start; {} may open after {}{}",
                n(start.current.value),
                time(lasts),
                device.called(),
                time(fastest.value),
                if breaker { "" } else { &often }
            )
        })
    }

    /// The next fuse before this one, which should hold until this one has opened.
    pub(super) fn discriminates(&self) -> Option<Finding> {
        let device = self.judgement.installation.device(self.index).filter(|_| self.run.leg == Leg::Positive)?;
        let behind = device.band()?;
        let highest = self.judgement.fault(self.index)?.highest;
        let mut worst: Option<(f64, Finding)> = None;
        for before in self.judgement.before(self.index) {
            let Some((upper, band)) = self.judgement.band(before) else { continue };
            if !band.knows_fastest() && worst.is_none() {
                let name = self.judgement.installation.runs.get(before).map_or("", |run| run.name.as_str());
                let message = format!(
                    "cannot be judged: the fastest times of {} of {name} are not at hand, so which of the two opens first",
                    upper.called()
                );
                let finding = plain("fuses-discriminate", self.name(), Signal::Notice, message, "family data");
                worst = Some((f64::INFINITY, finding));
            }
            let Some(least) = discrimination(&band, &behind, highest) else { continue };
            let margin = least.ratio.value;
            if margin >= 1.0 || worst.as_ref().is_some_and(|(kept, _)| *kept <= margin) {
                continue;
            }
            let name = self.judgement.installation.runs.get(before).map_or("", |run| run.name.as_str());
            let message = format!(
                "from {} A on {} of {name} may open before {}: everything behind it goes dark",
                n(first_failing(&band, &behind, highest, &least).value),
                upper.called(),
                device.called()
            );
            let mut finding = plain(
                "fuses-discriminate",
                self.name(),
                Signal::Notice,
                message,
                "the fastest link before against the slowest behind",
            );
            finding.confidence = if band.from_memory() { confidence(&band) } else { confidence(&behind) };
            finding.margin = Some(margin);
            worst = Some((margin, finding));
        }
        worst.map(|(_, finding)| finding)
    }
}

/// Whether two come closest where the times of the fuse are no longer stated.
fn is_beyond(band: &Band, least: &Least) -> bool {
    band.known_up_to().is_some_and(|known| least.current > known * (1.0 + 1e-9))
}

/// The least current at which the fuse before may open first, by halving: up to there they discriminate.
fn first_failing(before: &Band, behind: &Band, highest: ElectricCurrent, least: &Least) -> ElectricCurrent {
    let holds =
        |up_to: ElectricCurrent| discrimination(before, behind, up_to).is_none_or(|least| least.ratio.value >= 1.0);
    let Some(mut low) = behind.conventional_current() else { return highest };
    let mut high = least.current;
    for _ in 0..24 {
        let middle = low * (high / low).sqrt();
        if holds(middle) { low = middle } else { high = middle }
    }
    high
}
