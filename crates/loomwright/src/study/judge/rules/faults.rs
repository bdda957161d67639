//! Rules on fuses through time: what they break, what they protect over every overcurrent, what they sit out, and which
//! of two opens first.

use super::runs::Subject;
use super::{Measure, n, plain};
use crate::data::Confidence;
use crate::finding::{Finding, Signal};
use crate::installation::Leg;
use crate::protection::{Band, Fuse, discrimination};
use crate::quantity::{ElectricCurrent, Ratio, Time};
use crate::study::judge::faults::{Start, backed_up, starts};
use crate::study::judge::{Fault, Judgement};
use uom::si::ratio::ratio;

/// Confidence of a rule that rests on a band.
fn confidence(band: &Band) -> Confidence {
    if band.from_memory() { Confidence::Memory } else { Confidence::Published }
}

/// A fuse as it is called.
fn called(fuse: &Fuse) -> String {
    format!("{} A {}", n(fuse.rating.value), fuse.family.name())
}

/// Seconds for people.
fn time(seconds: f64) -> String {
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

    /// The band of a run's fuse in the air around it.
    fn band(&self, run: usize) -> Option<(Fuse, Band)> {
        let model = self.models.get(run)?;
        let fuse = model.fuse?;
        let share = fuse.family.rerating(model.fuse_ambient).unwrap_or_else(|| Ratio::new::<ratio>(1.0));
        Some((fuse, Band::of(&fuse)?.rerated(share)))
    }

    /// The fuses between a run's fuse and the sources that feed it, nearest first.
    pub(crate) fn before(&self, run: usize) -> Vec<usize> {
        let plan = &self.installation;
        let Some(from) = plan.runs.get(run).map(|run| run.from) else { return Vec::new() };
        let mut found: Vec<usize> = Vec::new();
        for battery in plan.batteries.iter().filter(|battery| self.ways.reaches(battery.nodes[0], from)) {
            // The way back from the run's start to the battery.
            let way = self.ways.between(battery.nodes[0], from);
            let fused = way
                .into_iter()
                .filter(|at| *at != run && self.models.get(*at).is_some_and(|model| model.fuse.is_some()));
            for at in fused {
                if !found.contains(&at) {
                    found.push(at);
                }
            }
        }
        found
    }
}

/// Families whose times, ratings or limits are written from memory: their passes are provisional.
pub(super) fn on_memory(judgement: &Judgement) -> Option<Finding> {
    let mut names: Vec<&'static str> = Vec::new();
    let plan = &judgement.installation;
    for (run, fuse) in plan.runs.iter().zip(&judgement.models).filter_map(|(run, model)| Some((run, model.fuse?))) {
        let highest = judgement.ways.highest_voltage(plan, run.from);
        let breaking = fuse.family.breaks(highest).is_some_and(|(_, one)| one.confidence == Confidence::Memory);
        let memory = |sources: &[&crate::data::Source]| sources.iter().any(|one| one.confidence == Confidence::Memory);
        let provisional =
            breaking || memory(&fuse.family.sources()) || Band::of(&fuse).is_some_and(|band| band.from_memory());
        if provisional && !names.contains(&fuse.family.name()) {
            names.push(fuse.family.name());
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

impl Subject<'_> {
    /// The highest fault against what the fuse breaks.
    pub(super) fn interrupts(&self) -> Option<Finding> {
        let (fuse, fault) = (self.model.fuse?, self.judgement.fault(self.index)?);
        let plan = &self.judgement.installation;
        let highest = self.judgement.ways.highest_voltage(plan, self.run.from);
        let measured = fault.highest.value;
        let Some((breaks, source)) = fuse.family.breaks(highest) else {
            let message = format!(
                "cannot be judged: what {} breaks at {} V is not at hand; up to {} A may flow here",
                fuse.family.name(),
                n(highest.value),
                n(measured)
            );
            return Some(plain("fuse-interrupts-fault", self.name(), Signal::Caution, message, "family data"));
        };
        let backed =
            backed_up(plan, &self.judgement.ways, self.index, fault.highest).filter(|_| measured > breaks.value);
        let measure = Measure {
            rule: "fuse-interrupts-fault",
            subject: self.name(),
            measured,
            limit: breaks.value,
            unit: "A",
            margin: if measured > 0.0 { breaks.value / measured } else { f64::INFINITY },
            failing: if backed.is_some() { Signal::Caution } else { Signal::Danger },
            citation: "IEC 60364-4-43, 434.5.1: no less than the prospective fault current, with a reserve of 1.25",
            confidence: source.confidence,
            case: None,
        };
        measure.finding(|fails| {
            let so = format!("{} breaks {} A, a fault here reaches {} A", called(&fuse), n(breaks.value), n(measured));
            match backed {
                Some(before) => format!(
                    "{so}; the {} before it cuts such faults short, but only the makers' word on this pair proves it",
                    called(&before)
                ),
                None if fails => format!("{so}: it may burst or burn on; put a class T fuse (20 kA) at the battery"),
                None => so,
            }
        })
    }

    /// The lowest fault against the current from which every link opens: at the far end of what the fuse protects.
    pub(super) fn opens_on_fault(&self) -> Option<Finding> {
        let lowest = self.judgement.fault(self.index)?.lowest.as_ref()?;
        let fuse = self.model.fuse?;
        let band = Band::of(&fuse)?;
        let (conventional, current) = (band.conventional_current()?, lowest.current);
        let plan = &self.judgement.installation;
        let far = plan.runs.get(lowest.run).map_or("", |run| run.name.as_str());
        let ampacity = self.judgement.models.get(lowest.run).and_then(|model| model.ampacity);
        let borne = ampacity.is_some_and(|ampacity| ampacity >= current);
        let measure = Measure {
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
        };
        measure.finding(|_| {
            format!(
                "a short at the far end of {far} drives {} A through {}, which opens for certain from {} A on: shorten, take more copper, or a smaller fuse",
                n(current.value),
                called(&fuse),
                n(conventional.value)
            )
        })
    }

    /// The latest opening against what the conductor bears, over every overcurrent up to the highest fault.
    pub(super) fn protected_through_time(&self) -> Option<Finding> {
        let through = self.judgement.overcurrents.get(self.index)?.as_ref()?;
        let (fuse, feeding) = (&through.fuse, through.feeding);
        let of = match self.judgement.installation.runs.get(feeding) {
            Some(other) if feeding != self.index => format!(" of {}", other.name),
            _ => String::new(),
        };
        let Some(band) = &through.band else {
            let message = format!("cannot be judged: no time limits of {}{of} are at hand", called(fuse));
            // Once, where the fuse sits.
            let told = feeding == self.index;
            return told
                .then(|| plain("fuse-protects-conductor", self.name(), Signal::Caution, message, "family data"));
        };
        let least = through.least?;
        let (takes, bears) = (least.takes.value, least.takes.value * least.ratio.value);
        let beyond = band.known_up_to().is_some_and(|known| least.current > known * (1.0 - 1e-9));
        let measure = Measure {
            rule: "fuse-protects-conductor",
            subject: self.name(),
            measured: takes,
            limit: bears,
            unit: "s",
            margin: least.ratio.value,
            failing: if beyond { Signal::Caution } else { Signal::Danger },
            citation: "IEC 60364-4-43, 433 and 434: the slowest link against the conductor's short-time limits",
            confidence: confidence(band),
            case: None,
        };
        measure.finding(|fails| {
            let (size, current) = (self.model.conductor.label(), n(least.current.value));
            match (fails, beyond) {
                (true, true) => format!(
                    "cannot be judged at {current} A: no time limits of {}{of} are at hand for so much, {size} bears that for {}",
                    called(fuse),
                    time(bears)
                ),
                (true, false) => format!(
                    "at {current} A {}{of} may take {}, {size} bears that for {}",
                    called(fuse),
                    time(takes),
                    time(bears)
                ),
                (false, _) => format!(
                    "at {current} A {}{of} takes up to {}, {size} bears that for {}",
                    called(fuse),
                    time(takes),
                    time(bears)
                ),
            }
        })
    }

    /// Starts that flow through the fuse against its earliest opening.
    pub(super) fn rides_through(&self) -> Option<Finding> {
        let (fuse, band) = self.judgement.band(self.index)?;
        let plan = &self.judgement.installation;
        let started = starts(plan, &self.judgement.cases, self.index);
        if !band.knows_fastest() {
            let most = started.iter().map(|start| start.current).reduce(ElectricCurrent::max);
            let most = most.filter(|most| *most > fuse.rating)?;
            let message = format!(
                "cannot be judged: the fastest times of {} are not at hand; {} A flow at a start",
                called(&fuse),
                n(most.value)
            );
            return Some(plain("fuse-rides-through", self.name(), Signal::Caution, message, "family data"));
        }
        let sat_out = started.iter().filter_map(|start| Some((start, band.fastest(start.current)?)));
        let margin = |(start, fastest): &(&Start, Time)| (*fastest / start.lasts).get::<ratio>();
        let worst = sat_out.min_by(|one, other| margin(one).total_cmp(&margin(other)))?;
        let (margin, (start, fastest)) = (margin(&worst), worst);
        let (lasts, fastest) = (start.lasts.value, fastest.value);
        let measure = Measure {
            rule: "fuse-rides-through",
            subject: self.name(),
            measured: lasts,
            limit: fastest,
            unit: "s",
            margin,
            failing: Signal::Warning,
            citation: "the fastest link of the family against the start",
            confidence: confidence(&band),
            case: plan.cases.get(start.case).map(|of| of.name.clone()),
        };
        measure.finding(|_| {
            format!(
                "{} A flow for {} at the start, {} may open after {}",
                n(start.current.value),
                time(lasts),
                called(&fuse),
                time(fastest)
            )
        })
    }

    /// The next fuse before this one, which should hold until this one has opened.
    pub(super) fn discriminates(&self) -> Option<Finding> {
        let fuse = self.model.fuse.filter(|_| self.run.leg == Leg::Positive)?;
        let behind = Band::of(&fuse)?;
        let highest = self.judgement.fault(self.index)?.highest;
        let mut worst: Option<(f64, Finding)> = None;
        for before in self.judgement.before(self.index) {
            let Some((upper, band)) = self.judgement.band(before) else { continue };
            let Some(least) = discrimination(&band, &behind, highest) else { continue };
            let margin = least.ratio.value;
            if margin >= 1.0 || worst.as_ref().is_some_and(|(kept, _)| *kept <= margin) {
                continue;
            }
            let name = self.judgement.installation.runs.get(before).map_or("", |run| run.name.as_str());
            let message = format!(
                "from {} A on {} of {name} may open before {}: everything behind it goes dark",
                n(first_failing(&band, &behind, highest, &least).value),
                called(&upper),
                called(&fuse)
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

/// The least current at which the fuse before may open first, by halving: up to there they discriminate.
fn first_failing(
    before: &Band,
    behind: &Band,
    highest: ElectricCurrent,
    least: &crate::protection::Least,
) -> ElectricCurrent {
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
