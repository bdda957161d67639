//! Conductors and fuses that the plan leaves open.
//!
//! Rounds of: solve every case, take the smallest fuse that carries, the smallest conductor that bears
//! load and fuse; then give the run that loses most on the way to each load that gets too little the
//! next size. Sizes only ever grow, so it ends.

use super::model::RunModel;
use super::operate::{CaseResult, Depth};
use super::paths::Ways;
use super::work::Work;
use super::{JudgeError, company, currents, faults, fitting, operate_all, paths, rules};
use crate::conductor::{Conductor, series};
use crate::data::tables::constants;
use crate::fitting::Tight;
use crate::heat::{Duty, HeatPath, Lay};
use crate::installation::{ConductorChoice, FuseChoice, Installation, Leg, Run};
use crate::protection::Fuse;
use crate::quantity::{ElectricCurrent, ToText, celsius};

/// What was chosen for a run.
#[derive(Clone, Debug)]
pub struct Choice {
    /// The run.
    pub run: usize,
    /// The conductor, when it was open.
    pub conductor: Option<Conductor>,
    /// The fuse, when it was open.
    pub fuse: Option<Fuse>,
}

/// Most rounds; each grows at least one conductor or is the last.
const MOST_ROUNDS: usize = 120;
/// Share by which the currents that warm a loom may differ between two rounds.
const LOOMS_SETTLED: f64 = 1e-3;

struct Open {
    sizes: Vec<Conductor>,
    /// Index into `sizes`.
    at: usize,
}

pub(super) fn choose(plan: &Installation, work: &mut Work) -> Result<(Installation, Vec<Choice>), JudgeError> {
    let mut fixed = plan.clone();
    let ways = Ways::of(plan);
    let mut open: Vec<Option<Open>> = Vec::with_capacity(plan.runs.len());
    for run in &plan.runs {
        open.push(match run.conductor {
            ConductorChoice::Fixed(_) => None,
            ConductorChoice::Auto(kind, material) => {
                let fits = |conductor: &Conductor| {
                    let smallest = plan.smallest_conductor().is_none_or(|least| conductor.area >= least.value);
                    // Only a table that does not hold the size keeps it from being chosen.
                    let known = run.segments.iter().all(|segment| {
                        let lay = Lay::alone(plan.method(run, segment));
                        HeatPath::new(conductor, &lay, celsius(constants::AMBIENT_C)).is_ok()
                    });
                    smallest && known
                };
                let sizes: Vec<Conductor> = series(kind, material).filter(fits).collect();
                let sizes = entering(plan, run, sizes);
                if sizes.is_empty() {
                    return Err(JudgeError::NoConductor {
                        run: run.name.clone(),
                        message: format!("{kind} has no size in {material} for it"),
                    });
                }
                Some(Open { sizes, at: 0 })
            }
        });
    }
    let open_fuses = open_fuses(plan, &ways);
    // First by rated currents, then by the true operating points.
    let mut rated = true;
    // The currents that warm the looms, from the round before.
    let looms = company::has_looms(plan);
    let mut loads: Vec<ElectricCurrent> = Vec::new();
    for _ in 0..MOST_ROUNDS {
        put(&mut fixed, &open);
        let models = super::model::models(&fixed, &loads);
        let cases = operate_all(if rated { Depth::Rated } else { Depth::Currents }, &fixed, &models, work)?;
        let design = currents::design(&fixed, &ways, &cases);
        // While conductors grow by rated currents, fuses are chosen by those too.
        let faults = if rated { Vec::new() } else { faults::highest_faults(&fixed, &ways, &models, work)? };
        let mut grew = false;
        if looms {
            let now: Vec<ElectricCurrent> = design.iter().map(|design| design.current).collect();
            let moved = |(now, last): (&ElectricCurrent, &ElectricCurrent)| (*now - *last).abs() > *now * LOOMS_SETTLED;
            grew |= now.len() != loads.len() || now.iter().zip(&loads).any(moved);
            loads = now;
        }
        for index in &open_fuses {
            let (Some(model), Some(design)) = (models.get(*index), design.get(*index)) else { continue };
            let started = fitting::starts(&fixed, &ways, &cases, *index);
            let asked = fitting::Asked {
                carried: design.current,
                least: alternator_fuse(&fixed, *index),
                ambient: model.fuse_ambient,
                fault: faults.get(*index).and_then(Option::as_ref),
                starts: &started,
                area: model.conductor.area,
            };
            let chosen = fitting::fitting(&fixed, &ways, *index, &asked);
            if let Some(run) = fixed.runs.get_mut(*index) {
                let next = chosen.map_or(FuseChoice::Auto, FuseChoice::Fixed);
                grew |= run.fuse != next;
                run.fuse = next;
            }
        }
        let protections = paths::protections(&fixed, &ways);
        for index in 0..open.len() {
            let (Some(model), Some(design), Some(protection)) =
                (models.get(index), design.get(index), protections.get(index))
            else {
                continue;
            };
            let run = fixed.runs.get(index).filter(|run| run.leg == Leg::Positive);
            let (fuses, current) = match (protection, run) {
                (paths::Protection::Fuses(fuses), _) => (fuses.as_slice(), design.current),
                (paths::Protection::SelfLimiting, Some(run)) => {
                    let most = ways.self_limiting(&fixed, run.from).into_iter();
                    let most = most.fold(ElectricCurrent::default(), |sum, (current, _)| sum + current);
                    (&[][..], design.current.max(most * constants::SELF_LIMITING))
                }
                _ => (&[][..], design.current),
            };
            let bears_as = |model: &RunModel| {
                // Where even the air is too hot, no size would bear anything: the finding says so.
                let hopeless = model.ampacity.is_some_and(|ampacity| ampacity.value <= 0.0);
                hopeless || bears(model, current, (&fixed, fuses), design.duty.as_ref())
            };
            while !bears_as(resized(&fixed, &open, index, model, &loads).as_ref().unwrap_or(model)) {
                if !grow(&fixed, &mut open, index) {
                    break;
                }
                grew = true;
                // Rated currents stay; true ones follow the conductors, and are solved again first.
                if !rated {
                    break;
                }
            }
        }
        if !grew {
            grew = relieve(&fixed, &ways, &models, &cases, &mut open);
        }
        if !grew && !rated {
            break;
        }
        rated &= grew;
    }
    put(&mut fixed, &open);
    Ok((fixed.clone(), choices(&fixed, &open, &open_fuses)))
}

/// The runs whose fuses are to be chosen, those nearest to a battery first, for what they cut short saves the next ones a
/// stronger fuse; then by name, so that the order of the plan does not matter.
fn open_fuses(plan: &Installation, ways: &Ways) -> Vec<usize> {
    let open = plan.runs.iter().enumerate().filter(|(_, run)| run.fuse == FuseChoice::Auto);
    let far = |run: &Run| {
        let from = plan.batteries.iter().filter(|battery| ways.reaches(battery.nodes[0], run.from));
        from.map(|battery| ways.between(battery.nodes[0], run.from).len()).min().unwrap_or(usize::MAX)
    };
    let mut found: Vec<(usize, &str, usize)> = open.map(|(index, run)| (far(run), run.name.as_str(), index)).collect();
    found.sort_unstable();
    found.into_iter().map(|(_, _, index)| index).collect()
}

/// The sizes that enter the terminals at both ends; all of them when none does, so that the finding says
/// which terminal is too small.
fn entering(plan: &Installation, run: &Run, sizes: Vec<Conductor>) -> Vec<Conductor> {
    let fits = |size: &&Conductor| {
        [run.from, run.to].into_iter().enumerate().all(|(end, node)| {
            let pin = run.pin(end, size);
            let refused = plan.nodes.get(node.0).and_then(|node| node.terminal_for(size, pin).refuses(size, pin));
            // Which lugs are made is known from memory only: it is told, but chooses no conductor.
            matches!(refused, None | Some(Tight::NoLug(_)))
        })
    };
    let fitting: Vec<Conductor> = sizes.iter().filter(fits).copied().collect();
    if fitting.is_empty() { sizes } else { fitting }
}

fn put(fixed: &mut Installation, open: &[Option<Open>]) {
    for (run, open) in fixed.runs.iter_mut().zip(open) {
        if let Some(size) = open.as_ref().and_then(|open| open.sizes.get(open.at)) {
            run.conductor = ConductorChoice::Fixed(*size);
        }
    }
}

/// The least fuse rating of a run that an alternator ends at.
fn alternator_fuse(installation: &Installation, run: usize) -> ElectricCurrent {
    let Some(run) = installation.runs.get(run) else { return ElectricCurrent::default() };
    let ends = installation.alternators.iter().filter(|one| run.to == one.nodes[0] || run.from == one.nodes[0]);
    let least = installation.alternator_fuse().value;
    ends.map(|one| one.rating * least)
        .fold(ElectricCurrent::default(), |most, least| if least > most { least } else { most })
}

/// Whether a conductor bears its load and the fuses before it.
fn bears(
    model: &RunModel,
    current: ElectricCurrent,
    (plan, fuses): (&Installation, &[usize]),
    duty: Option<&Duty>,
) -> bool {
    let Some(ampacity) = model.ampacity else { return false };
    let protects = || {
        let printed = plan.practice.largest_overcurrent(model.conductor.area).map(|printed| printed.value);
        let ampacity = printed.filter(|printed| *printed < ampacity).unwrap_or(ampacity);
        let (rating, overload) = paths::overload_margins(plan, fuses, ampacity);
        rating.value >= 1.0 && overload.is_none_or(|overload| overload.value >= 1.0)
    };
    let carries = || ampacity >= current || duty.and_then(|duty| model.duty_ampacity(duty)) >= Some(current);
    (fuses.is_empty() || protects()) && carries()
}

/// A run in the size that it has by now, which its other leg may have raised; `None` where that is its model's.
fn resized(
    fixed: &Installation,
    open: &[Option<Open>],
    index: usize,
    model: &RunModel,
    loads: &[ElectricCurrent],
) -> Option<RunModel> {
    let open = open.get(index)?.as_ref()?;
    let now = open.sizes.get(open.at).filter(|now| **now != model.conductor)?;
    Some(RunModel::new(fixed, index, fixed.runs.get(index)?, *now, model.fuse, loads))
}

/// Gives a run and its other leg the next size; false when there is none.
fn grow(installation: &Installation, open: &mut [Option<Open>], run: usize) -> bool {
    let legs: Vec<usize> = installation.run_and_twin(run).collect();
    let next = legs.iter().filter_map(|leg| open.get(*leg)?.as_ref()).map(|open| open.at + 1).max();
    let Some(next) = next else { return false };
    let fits =
        legs.iter().all(|leg| open.get(*leg).and_then(Option::as_ref).is_none_or(|open| next < open.sizes.len()));
    if fits {
        for leg in legs {
            if let Some(Some(open)) = open.get_mut(leg) {
                open.at = next;
            }
        }
    }
    fits
}

/// Gives the run that wins most volts for its metal, on the way to each consumer that gets too little, the
/// next size. A run that would win less than a hundredth of what is missing is left alone. All are picked before any
/// grows: else the order of consumers in the plan would decide.
fn relieve(
    installation: &Installation,
    ways: &Ways,
    models: &[RunModel],
    cases: &[CaseResult],
    open: &mut [Option<Open>],
) -> bool {
    let mut picked = Vec::new();
    for short in rules::short_of_voltage(installation, ways, cases) {
        let most = |run: &usize| most_gain(models, short.case, open, *run);
        let potential: f64 = short.ways.iter().filter_map(most).sum();
        let mut best: Option<(usize, f64)> = None;
        for run in short.ways {
            let Some((volts, area)) = gain(installation, models, short.case, open, run) else { continue };
            let worth = volts / area;
            // Of equals the first on the way, whatever sums were rounded to.
            if volts >= 0.01 * short.missing && best.is_none_or(|(_, most)| worth > most * (1.0 + 1e-9)) {
                best = Some((run, worth));
            }
        }
        // Growing is no use where even the largest sizes would not win what is missing.
        picked.extend(best.filter(|_| potential >= short.missing).map(|(run, _)| run));
    }
    let mut grown = Vec::new();
    for run in picked {
        if !grown.contains(&run) && grow(installation, open, run) {
            grown.extend(installation.run_and_twin(run));
        }
    }
    !grown.is_empty()
}

/// Volts won when a single leg takes its largest size: that share of what it loses now.
fn most_gain(models: &[RunModel], case: &CaseResult, open: &[Option<Open>], leg: usize) -> Option<f64> {
    let choice = open.get(leg)?.as_ref()?;
    let (now, last) = (choice.sizes.get(choice.at)?, choice.sizes.last()?);
    if case.point.is_none() {
        // There is no current to count with: any growth helps.
        return Some(f64::INFINITY);
    }
    let current = case.run_currents.get(leg)?.value.abs();
    let lost = if current > 0.0 { case.run_losses.get(leg)?.value / current } else { 0.0 };
    let temperature = models.get(leg)?.limit;
    Some(lost * (1.0 - (last.resistance_at(temperature) / now.resistance_at(temperature)).value))
}

/// Volts won and metal added, in V and m³, when a run and its other leg take the next size.
fn gain(
    installation: &Installation,
    models: &[RunModel],
    case: &CaseResult,
    open: &[Option<Open>],
    run: usize,
) -> Option<(f64, f64)> {
    let (mut volts, mut metal) = (0.0, 0.0);
    for leg in installation.run_and_twin(run) {
        let choice = open.get(leg)?.as_ref()?;
        let (now, next) = (choice.sizes.get(choice.at)?, choice.sizes.get(choice.at + 1)?);
        let length = installation.runs.get(leg)?.cut_length();
        let current = case.run_currents.get(leg)?.abs();
        // Without an operating point there is no current: any growth helps.
        let current = if case.point.is_some() { current.value } else { 1e3 };
        let temperature = models.get(leg).map(|model| model.limit)?;
        volts += current * ((now.resistance_at(temperature) - next.resistance_at(temperature)) * length).value;
        metal += ((next.area - now.area) * length).value;
    }
    (metal > 0.0).then_some((volts, metal))
}

fn choices(fixed: &Installation, open: &[Option<Open>], open_fuses: &[usize]) -> Vec<Choice> {
    let mut made = Vec::new();
    for (index, (run, open)) in fixed.runs.iter().zip(open).enumerate() {
        let conductor = open.as_ref().and_then(|open| open.sizes.get(open.at)).copied();
        let fuse = match run.fuse {
            FuseChoice::Fixed(fuse) if open_fuses.contains(&index) => Some(fuse),
            _ => None,
        };
        if conductor.is_some() || fuse.is_some() {
            made.push(Choice { run: index, conductor, fuse });
        }
    }
    made
}

impl Choice {
    /// The choice in words.
    pub fn words(&self) -> String {
        let conductor = self.conductor.as_ref().map(Conductor::label);
        let fuse = self.fuse.map(|fuse| format!("fuse {} {}", fuse.rating.to_text(), fuse.family.name()));
        [conductor, fuse].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}
