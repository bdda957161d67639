//! Edits worth trying for a finding, by rule: groups in the order of PRACTICE, mildest first in each.

mod terminals;

use crate::conductor::{Conductor, Kind, Material, find, series};
use crate::finding::Finding;
use crate::installation::{Change, Converter, ConverterKind, DeviceRef, Installation};
use crate::network::Part;
use crate::protection::{Fuse, families};
use crate::quantity::{ElectricCurrent, Length};
use crate::study::judge::charge::{is_charger, reached};
use crate::study::judge::paths::{Protection, consumers};
use crate::study::judge::{CaseResult, Judgement};
use uom::si::electric_current::ampere;
use uom::si::length::meter;

type Edits = Vec<Change>;

/// Sizes tried above the present one.
const LARGER: usize = 9;

pub(super) fn groups(judgement: &Judgement, finding: &Finding) -> Vec<Vec<Edits>> {
    let subject = Subject { judgement, finding };
    match finding.rule {
        "ampacity" | "terminal-temperature" => vec![subject.settings(), subject.larger_of(subject.run())],
        "smallest-conductor" => vec![subject.larger_of(subject.run())],
        "conductor-material" | "conductor-stranding" => vec![subject.better_conductor()],
        "terminal-accepts-conductor" | "reducing-pin" => terminals::groups(&subject),
        "gland-grips-conductor" | "bend-radius" => vec![subject.smaller()],
        "fuse-carries-load" | "fuse-voltage" | "fuse-at-source" | "fuse-near-source" => {
            vec![subject.settings(), subject.other_fuse()]
        }
        "breaker-polarity" | "breaker-reset" | "fuse-holder" => vec![subject.other_fuse()],
        "pre-charge" => {
            vec![subject.converter().map(|index| vec![Change::PreCharge(index)]).into_iter().collect()]
        }
        "fuse-interrupts-fault" | "fuse-rides-through" => vec![subject.other_fuse(), subject.limiting_before()],
        "fuse-protects-conductor" | "fuse-opens-on-fault" => {
            vec![subject.smaller_fuse(), subject.larger_of(subject.run()), subject.other_fuse()]
        }
        "voltage-drop" | "lowest-voltage" | "converter-input-voltage" | "operating-point" => {
            vec![subject.settings(), subject.shorter(), subject.larger_of(subject.weakest_run())]
        }
        "converter-input-current" => vec![subject.settings(), subject.larger_of(subject.feeding_run())],
        "alternator-headroom" => vec![subject.less_charging()],
        "charge-voltage-suits-battery"
        | "absorption-fills-battery"
        | "float-voltage-suits-battery"
        | "equalisation-suits-battery"
        | "temperature-compensation" => vec![subject.charging()],
        "charge-current-suits-battery" => vec![subject.less_into(&finding.subject)],
        "engine-running-signal" => {
            vec![subject.converter().map(|index| vec![Change::RunningSignal(index)]).into_iter().collect()]
        }
        _ => Vec::new(),
    }
}

#[derive(Clone, Copy)]
struct Subject<'a> {
    judgement: &'a Judgement,
    finding: &'a Finding,
}

impl Subject<'_> {
    fn plan(&self) -> &Installation {
        &self.judgement.installation
    }

    fn run(&self) -> Option<usize> {
        self.plan().runs.iter().position(|run| run.name == self.finding.subject)
    }

    fn converter(&self) -> Option<usize> {
        let name = self.finding.subject.trim_end_matches(".out");
        self.plan().converters.iter().position(|converter| converter.name == name)
    }

    fn conductor(&self, run: usize) -> Option<Conductor> {
        self.judgement.models.get(run).map(|model| model.conductor)
    }

    /// The run that feeds the converter that the finding is about.
    fn feeding_run(&self) -> Option<usize> {
        let input = self.plan().converters.get(self.converter()?)?.input?;
        self.plan().runs.iter().position(|run| run.to == input[0])
    }

    /// Source and consumer of a finding about voltage.
    fn ways(&self) -> Vec<usize> {
        let plan = self.plan();
        let name = self.finding.subject.trim_end_matches(".out");
        let consumer = consumers(plan).into_iter().find(|(device, _)| match device {
            DeviceRef::Load(index) => plan.loads.get(*index).is_some_and(|load| load.name == name),
            DeviceRef::Converter(index) => plan.converters.get(*index).is_some_and(|converter| converter.name == name),
            DeviceRef::Battery(_) | DeviceRef::Alternator(_) => false,
        });
        let Some((device, nodes)) = consumer else { return Vec::new() };
        let output = self.finding.subject.ends_with(".out");
        let converter = self.converter().and_then(|index| plan.converters.get(index));
        let nodes = if output { converter.and_then(|converter| converter.output).unwrap_or(nodes) } else { nodes };
        let Some(source) = self.judgement.ways.feeding(plan, device, nodes) else { return Vec::new() };
        let mut runs = self.judgement.ways.between(source[0], nodes[0]);
        runs.extend(self.judgement.ways.between(source[1], nodes[1]));
        runs
    }

    /// The finding's case, or the first.
    fn case(&self) -> Option<&CaseResult> {
        let wanted = self.finding.case.as_deref();
        let named = |case: &&CaseResult| self.plan().cases.get(case.case).map(|case| case.name.as_str()) == wanted;
        self.judgement.cases.iter().find(named).or(self.judgement.cases.first())
    }

    /// Volts that a run loses in the finding's case.
    fn lost(&self, run: usize) -> f64 {
        let found = self.case();
        found.map_or(0.0, |case| {
            let current = case.run_currents.get(run).map_or(0.0, |current| current.value.abs());
            let power = case.run_losses.get(run).map_or(0.0, |loss| loss.value);
            if current > 0.0 { power / current } else { 0.0 }
        })
    }

    fn weakest_run(&self) -> Option<usize> {
        let by_length = |run: &usize| self.plan().runs.get(*run).map_or(0.0, |run| run.cut_length().value);
        let runs = self.ways();
        let lossy = runs.iter().copied().max_by(|one, other| self.lost(*one).total_cmp(&self.lost(*other)));
        lossy
            .filter(|run| self.lost(*run) > 0.0)
            .or_else(|| runs.into_iter().max_by(|one, other| by_length(one).total_cmp(&by_length(other))))
    }

    fn larger_of(&self, run: Option<usize>) -> Vec<Edits> {
        let Some((run, now)) = run.and_then(|run| Some((run, self.conductor(run)?))) else { return Vec::new() };
        let larger = series(now.kind, now.material).filter(|size| size.area > now.area).take(LARGER);
        larger.map(|size| vec![Change::Conductor(run, size)]).collect()
    }

    fn better_conductor(&self) -> Vec<Edits> {
        let Some((run, now)) = self.run().and_then(|run| Some((run, self.conductor(run)?))) else { return Vec::new() };
        let kind = if now.kind.is_solid() || now.material == Material::Aluminium { Kind::Iec5 } else { now.kind };
        find(kind, Material::Copper, now.size)
            .ok()
            .map(|better| vec![Change::Conductor(run, better)])
            .into_iter()
            .collect()
    }

    /// Smaller conductors, the largest first.
    fn smaller(&self) -> Vec<Edits> {
        let Some((run, now)) = self.run().and_then(|run| Some((run, self.conductor(run)?))) else { return Vec::new() };
        let mut sizes: Vec<Conductor> = series(now.kind, now.material).filter(|size| size.area < now.area).collect();
        sizes.reverse();
        sizes.into_iter().take(LARGER).map(|size| vec![Change::Conductor(run, size)]).collect()
    }

    /// The converter whose setting drives the current of a run.
    fn setting_of(&self, run: usize) -> Option<usize> {
        let run = self.plan().runs.get(run)?;
        self.plan().converters.iter().position(|converter| {
            let ports = converter.input.into_iter().chain(converter.output);
            converter.output_current.is_some() && ports.into_iter().any(|port| port[0] == run.to || port[0] == run.from)
        })
    }

    /// A lower setting of the converter concerned, from the margin that is missing.
    fn settings(&self) -> Vec<Edits> {
        let converter = self.run().and_then(|run| self.setting_of(run)).or_else(|| self.converter());
        let Some(index) = converter else { return Vec::new() };
        let Some(now) = self.plan().converters.get(index).and_then(|converter| converter.output_current) else {
            return Vec::new();
        };
        let margin = self.finding.margin.unwrap_or(0.8).clamp(0.1, 0.99);
        [1.0, 0.93, 0.85]
            .into_iter()
            .map(|more| vec![Change::OutputCurrent(index, whole(now * (margin * more)))])
            .filter(|edits| !zero(edits))
            .collect()
    }

    /// Charging reduced until the alternator has what is asked: the largest charger gives up its share.
    fn less_charging(&self) -> Vec<Edits> {
        let case = self.case();
        let drawn = |index: usize| -> f64 {
            let part = Part::Device(DeviceRef::Converter(index));
            let demands = case.into_iter().flat_map(|case| &case.demands);
            demands.filter(|(found, _)| *found == part).map(|(_, current)| current.value).sum()
        };
        let chargers = self.plan().converters.iter().enumerate();
        let largest = chargers
            .filter(|(_, one)| one.kind == ConverterKind::DcDcCharger)
            .filter_map(|(index, one)| Some((index, one.output_current?, drawn(index))))
            .max_by(|one, other| one.2.total_cmp(&other.2));
        let (Some((index, now, drawn)), Some(asked), Some(available)) =
            (largest, self.finding.measured, self.finding.limit)
        else {
            return Vec::new();
        };
        let shares = [1.0, 1.1, 1.25, 1.5].into_iter().map(|more| 1.0 - (asked - available) * more / drawn);
        let settings = shares.map(|share| whole(now * share)).filter(|current| current.value >= 1.0);
        settings.map(|current| vec![Change::OutputCurrent(index, current)]).collect()
    }

    /// The setting of a charger that its battery's limit asks for.
    fn charging(&self) -> Vec<Edits> {
        let Some(index) = self.converter() else { return Vec::new() };
        let limit =
            self.finding.limit.map(crate::quantity::ElectricPotential::new::<uom::si::electric_potential::volt>);
        let change = match (self.finding.rule, limit) {
            // Without a margin there is no voltage that would do.
            ("equalisation-suits-battery", limit) => {
                Some(Change::Equalise(index, limit.filter(|_| self.finding.margin.is_some())))
            }
            ("temperature-compensation", _) => Some(Change::Compensation(index, Default::default())),
            ("float-voltage-suits-battery", Some(limit)) => Some(Change::FloatVoltage(index, limit)),
            ("charge-voltage-suits-battery" | "absorption-fills-battery", Some(limit)) => {
                Some(Change::OutputVoltage(index, limit))
            }
            _ => None,
        };
        change.map(|change| vec![change]).into_iter().collect()
    }

    /// The largest of the chargers that reach a battery, set lower.
    fn less_into(&self, battery: &str) -> Vec<Edits> {
        let plan = self.plan();
        let (Some(measured), Some(limit)) = (self.finding.measured, self.finding.limit) else { return Vec::new() };
        let into = |index: usize, one: &Converter| {
            let charged = reached(plan, &self.judgement.ways, one.output.filter(|_| is_charger(one))?);
            let is_one = charged.iter().flat_map(|charged| &charged.batteries).any(|one| one.name == battery);
            Some((index, one.output_current.filter(|_| is_one)?))
        };
        let chargers = plan.converters.iter().enumerate().filter_map(|(index, one)| into(index, one));
        let largest = chargers.max_by(|one, other| one.1.value.total_cmp(&other.1.value));
        let Some((index, now)) = largest else { return Vec::new() };
        // By what is too much, and by more where other batteries share it.
        let steps = [now - ElectricCurrent::new::<ampere>(measured - limit), now * (limit / measured)];
        let lower = steps.into_iter().filter(|current| current.value >= 1.0);
        lower.map(|current| vec![Change::OutputCurrent(index, whole(current))]).collect()
    }

    /// The run that loses most, shortened by what is missing.
    fn shorter(&self) -> Vec<Edits> {
        let Some(run) = self.weakest_run() else { return Vec::new() };
        let (Some(measured), Some(limit)) = (self.finding.measured, self.finding.limit) else { return Vec::new() };
        let Some(of) = self.plan().runs.get(run) else { return Vec::new() };
        let legs: f64 = self.plan().run_and_twin(run).map(|leg| self.lost(leg)).sum();
        let missing = (measured - limit).abs();
        let per_metre = legs / of.cut_length().value;
        let route = of.route().get::<meter>();
        let steps = [1.05, 1.25, 1.6].into_iter().map(|more| route - missing * more / per_metre / (1.0 + of.cut.share));
        steps
            .filter(|length| length.is_finite() && *length >= 0.2)
            .map(|length| vec![Change::Length(run, Length::new::<meter>((length * 10.0).floor() / 10.0))])
            .filter(|edits| !matches!(edits.first(), Some(Change::Length(_, length)) if length.value < 0.1))
            .collect()
    }

    /// The smallest fuse that carries what the run is judged at.
    fn carrying(&self, run: usize) -> Option<Fuse> {
        let design = self.judgement.design.get(run)?;
        let ambient = self.judgement.models.get(run)?.fuse_ambient;
        self.judgement.fitting_fuse(run, design.current, ambient)
    }

    /// The fuse that carries the load, alone or with a conductor that bears it.
    fn other_fuse(&self) -> Vec<Edits> {
        let Some((run, fuse)) = self.run().and_then(|run| Some((run, self.carrying(run)?))) else { return Vec::new() };
        if self.judgement.models.get(run).and_then(|model| model.fuse) == Some(fuse) {
            return Vec::new();
        }
        let alone = vec![Change::Fuse(run, fuse)];
        let larger = self.larger_of(Some(run)).into_iter();
        let both = larger.map(|edits| alone.iter().copied().chain(edits).collect());
        std::iter::once(alone.clone()).chain(both).collect()
    }

    /// A fuse that cuts faults short in place of the one nearest to the battery, of its rating or the next.
    fn limiting_before(&self) -> Vec<Edits> {
        let Some(run) = self.run() else { return Vec::new() };
        let before = self.judgement.before(run).into_iter();
        let found = before.filter_map(|at| {
            let rating = self.judgement.models.get(at)?.fuse?.rating;
            let limiting = families().filter(|family| family.limits_current() && family.automatic_round().is_some());
            let made = limiting.flat_map(|family| family.ratings().map(move |rating| Fuse { family, rating }));
            let next = made.into_iter().find(|fuse| fuse.rating >= rating)?;
            Some(vec![Change::Fuse(at, next)])
        });
        found.collect()
    }

    /// The protecting fuse, smaller: the largest rating first.
    fn smaller_fuse(&self) -> Vec<Edits> {
        let Some(run) = self.run() else { return Vec::new() };
        let Some(Protection::Fuses(feeding)) = self.judgement.protections.get(run) else { return Vec::new() };
        let Some(feeding) = feeding.first().copied() else { return Vec::new() };
        let Some(fuse) = self.plan().device(feeding).map(|device| device.fuse) else { return Vec::new() };
        let mut smaller: Vec<ElectricCurrent> = fuse.family.ratings().filter(|rating| *rating < fuse.rating).collect();
        smaller.reverse();
        let made = smaller.into_iter().take(LARGER).map(|rating| Fuse { family: fuse.family, rating });
        let mut edits: Vec<Edits> = made.map(|fuse| vec![Change::Fuse(feeding, fuse)]).collect();
        edits.extend(self.carrying(feeding).map(|fuse| vec![Change::Fuse(feeding, fuse)]));
        edits
    }
}

/// Rounded down to a whole ampere, or a tenth below ten.
fn whole(current: ElectricCurrent) -> ElectricCurrent {
    let value = current.get::<ampere>();
    ElectricCurrent::new::<ampere>(if value >= 10.0 { value.floor() } else { (value * 10.0).floor() / 10.0 })
}

fn zero(edits: &[Change]) -> bool {
    edits.iter().any(|change| matches!(change, Change::OutputCurrent(_, current) if current.value <= 0.0))
}
