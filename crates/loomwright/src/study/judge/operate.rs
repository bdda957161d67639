//! The operating point of every case, electro-thermally consistent: resistances are those of the
//! conductors at the temperatures they reach in that case, stretch by stretch.

use super::{Design, company};
use crate::conductor::Conductor;
use crate::data::tables::constants;
use crate::heat::{Duty, HeatError, HeatPath, Lay, Model, OverloadLimits, Pulse, Transient};
use crate::installation::{
    Alternator, Case, ConductorChoice, DeviceRef, Engine, FuseChoice, Installation, LinkKind, NodeId, Run,
};
use crate::network::{NetworkError, OperatingPoint, Outcome, Part, States, lower, solve};
use crate::practice::{TableCap, contact_resistance, table_cap};
use crate::protection::Fuse;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Length, Power, ThermodynamicTemperature, Time, celsius,
    in_celsius,
};
use uom::si::electric_potential::volt;

/// One stretch of a run with its heat path.
#[derive(Clone, Debug)]
struct Stretch {
    length: Length,
    lay: Lay,
    /// What the practice's table leaves of the model's ampacity: 1 or less.
    capped: f64,
    path: Result<HeatPath, HeatError>,
    ambient: ThermodynamicTemperature,
    /// The insulation class; at the ends of a run not above what the terminal there may reach.
    limit: ThermodynamicTemperature,
}

/// A run whose conductor and fuse are known, ready to be solved and judged.
#[derive(Clone, Debug)]
pub struct RunModel {
    /// The conductor.
    pub conductor: Conductor,
    /// The fuse at its source end.
    pub fuse: Option<Fuse>,
    /// The limit in the stretch that governs: insulation class, at the ends also the terminal.
    pub limit: ThermodynamicTemperature,
    /// What the conductor may carry continuously in its hottest stretch; `None` when no model gives it.
    pub ampacity: Option<ElectricCurrent>,
    /// Whether a practice's table, not the heat model, set the ampacity.
    pub table_governs: bool,
    /// The zone that governs.
    pub hottest_zone: usize,
    /// The way it lies there.
    pub method: crate::heat::Installation,
    /// The model that says what it may carry there; `None` when none does.
    pub model: Option<Model>,
    /// Conductors around and bore of the first conduit that is too small for them.
    pub too_tight: Option<(Length, Length)>,
    /// Air at the fuse.
    pub fuse_ambient: ThermodynamicTemperature,
    insulation: ThermodynamicTemperature,
    stretches: Vec<Stretch>,
    /// Joints at both ends and the fuse with its holder.
    fixed: ElectricalResistance,
}

/// How hot the terminals of a node may get.
pub(super) fn terminal_limit(installation: &Installation, node: NodeId) -> ThermodynamicTemperature {
    let stated = installation.nodes.get(node.0).and_then(|node| node.terminal.temperature);
    stated.unwrap_or_else(|| installation.practice.terminal_rule().usual.value)
}

impl RunModel {
    /// The model of a run with this conductor and fuse.
    ///
    /// `loads` are the currents that all runs are judged at, which heat the looms they lie in.
    pub(super) fn new(
        installation: &Installation,
        index: usize,
        run: &Run,
        conductor: Conductor,
        fuse: Option<Fuse>,
        loads: &[ElectricCurrent],
    ) -> Self {
        let lower_of =
            |one: ThermodynamicTemperature, other: ThermodynamicTemperature| if other < one { other } else { one };
        let route = run.route();
        let scale = if route.value > 0.0 { (run.cut_length() / route).value } else { 1.0 };
        let mut stretches = Vec::with_capacity(run.segments.len());
        let (mut ampacity, mut hottest_zone, mut table_governs) = (None, 0, false);
        let mut governing = run.insulation;
        let (mut method, mut governing_model, mut too_tight) = (run.method, None, None);
        let last = run.segments.len().saturating_sub(1);
        for (number, segment) in run.segments.iter().enumerate() {
            let Some(zone) = installation.zones.get(segment.zone) else { continue };
            let mut limit = run.insulation;
            if number == 0 {
                limit = lower_of(limit, terminal_limit(installation, run.from));
            }
            if number == last {
                limit = lower_of(limit, terminal_limit(installation, run.to));
            }
            let mut lay = company::lay(installation, index, run, segment, loads);
            let tight = company::too_tight(&lay, &conductor);
            if let Some((contents, _)) = tight {
                // The finding says so; what it would carry is told for the smallest conduit that holds it.
                lay.bore = Some(contents);
                too_tight = too_tight.or(tight);
            }
            let path = HeatPath::new(&conductor, &lay, zone.hottest);
            let model = path.as_ref().ok().map(|path| path.ampacity(limit).unwrap_or_default());
            let table = table_cap(installation.practice, &conductor, &lay, run.insulation, zone.hottest);
            let (here, capped) = match (model, table) {
                (Some(model), TableCap::Capped(cap)) if cap.ampacity < model => (Some(cap.ampacity), true),
                (model, _) => (model, false),
            };
            let stricter = match (here, ampacity) {
                (_, None) => stretches.is_empty(),
                (Some(here), Some(so_far)) => here < so_far,
                (None, Some(_)) => true,
            };
            if stricter {
                (ampacity, hottest_zone, table_governs) = (here, segment.zone, capped);
                (governing, method) = (limit, lay.installation);
                governing_model = path.as_ref().ok().and_then(|path| path.governing(limit));
            }
            let share = match (here, model) {
                (Some(here), Some(model)) if model.value > 0.0 => (here / model).value,
                _ => 1.0,
            };
            let length = segment.length * scale;
            stretches.push(Stretch { length, lay, capped: share, path, ambient: zone.hottest, limit });
        }
        let ambient_of =
            |zone: Option<usize>| zone.and_then(|zone| installation.zones.get(zone)).map(|zone| zone.hottest);
        let fuse_zone = installation
            .nodes
            .get(run.from.0)
            .and_then(|node| node.zone)
            .or(run.segments.first().map(|segment| segment.zone));
        let fuse_resistance = fuse.map_or(ElectricalResistance::default(), |fuse| {
            ElectricPotential::new::<volt>(constants::FUSE_DROP_AT_RATING_V) / fuse.rating
        });
        Self {
            conductor,
            fuse,
            limit: governing,
            ampacity,
            table_governs,
            hottest_zone,
            method,
            model: governing_model,
            too_tight,
            insulation: run.insulation,
            fuse_ambient: ambient_of(fuse_zone).unwrap_or_else(|| celsius(40.0)),
            stretches,
            fixed: contact_resistance("lug-on-stud") * 2.0 + fuse_resistance,
        }
    }

    /// Whether it carries its current only because that pauses: its temperature in a case that goes on is
    /// then never reached.
    pub(super) fn rests(&self, design: &Design) -> bool {
        design.duty.is_some() && self.ampacity.is_some_and(|ampacity| design.current > ampacity)
    }

    /// What the conductor may carry for a part of the time in its hottest stretch; `None` when no model gives it.
    pub(super) fn duty_ampacity(&self, duty: &Duty) -> Option<ElectricCurrent> {
        let bears = |stretch: &Stretch| {
            let transient = Transient::new(&self.conductor, &stretch.lay, stretch.ambient).ok()?;
            let permitted = transient.permitted_current(duty, stretch.limit).unwrap_or_default();
            Some(permitted * stretch.capped)
        };
        let mut least: Option<ElectricCurrent> = None;
        for stretch in &self.stretches {
            let here = bears(stretch)?;
            least = Some(least.map_or(here, |least| if here < least { here } else { least }));
        }
        least
    }

    /// The stretch that comes nearest to what it may reach when a current flows once for `duration` after a
    /// load of `before`: temperature at the end, and limit. `None` when no stretch can be followed.
    pub(super) fn start(
        &self,
        current: ElectricCurrent,
        duration: Time,
        before: ElectricCurrent,
    ) -> Option<(ThermodynamicTemperature, ThermodynamicTemperature)> {
        let mut worst: Option<(f64, ThermodynamicTemperature, ThermodynamicTemperature)> = None;
        for stretch in &self.stretches {
            let Ok(path) = &stretch.path else { continue };
            let limit = OverloadLimits::of(self.insulation, self.insulation).at(duration);
            // What carries the start for good needs no clock.
            let steady = path.temperature(current).ok();
            let ceiling = celsius(250.0);
            let reached = match steady.filter(|steady| *steady <= stretch.limit) {
                Some(steady) => steady,
                None => {
                    let start = path.temperature(before).unwrap_or(ceiling);
                    let transient = Transient::new(&self.conductor, &stretch.lay, stretch.ambient).ok()?;
                    let pulse = [Pulse { duration, current }];
                    transient.course(&pulse, start).ok()?.last()?.conductor
                }
            };
            let share = (reached.value - stretch.ambient.value) / (limit.value - stretch.ambient.value).max(1e-9);
            if worst.is_none_or(|(most, _, _)| share > most) {
                worst = Some((share, reached, limit));
            }
        }
        worst.map(|(_, reached, limit)| (reached, limit))
    }

    /// The run at a current, each stretch at its own temperature; a stretch beyond 250 °C counts with its
    /// resistance at 250 °C.
    pub(super) fn at(&self, current: ElectricCurrent) -> RunState {
        let ceiling = celsius(250.0);
        let mut state = RunState { resistance: self.fixed, hottest: None, too_hot: false, ends: [ceiling; 2] };
        for (number, stretch) in self.stretches.iter().enumerate() {
            let reached = match &stretch.path {
                Ok(path) => path.temperature(current.abs()).ok(),
                // No model for this size: the resistance at its limit is the cautious one.
                Err(_) => Some(if stretch.limit > stretch.ambient { stretch.limit } else { stretch.ambient }),
            };
            state.too_hot |= reached.is_none();
            let temperature = reached.unwrap_or(ceiling);
            state.resistance += self.conductor.resistance_at(temperature) * stretch.length;
            if state.hottest.is_none_or(|hottest| temperature > hottest) {
                state.hottest = Some(temperature);
            }
            if number == 0 {
                state.ends[0] = temperature;
            }
            state.ends[1] = temperature;
        }
        state
    }
}

/// A run at a current.
#[derive(Clone, Copy, Debug)]
pub struct RunState {
    /// Resistance of conductor, joints and fuse.
    pub resistance: ElectricalResistance,
    /// Hottest conductor temperature; 250 °C at most.
    pub hottest: Option<ThermodynamicTemperature>,
    /// Whether a stretch would pass 250 °C.
    pub too_hot: bool,
    /// Conductor temperature at both ends.
    pub ends: [ThermodynamicTemperature; 2],
}

/// What happens in one case.
#[derive(Clone, Debug)]
pub struct CaseResult {
    /// The case's index.
    pub case: usize,
    /// The operating point; `None` when none exists.
    pub point: Option<OperatingPoint>,
    /// The part whose demand cannot be met, when no operating point exists.
    pub collapsed: Option<Part>,
    /// Current in each run, positive from its start to its end.
    pub run_currents: Vec<ElectricCurrent>,
    /// Each run at its current.
    pub runs: Vec<RunState>,
    /// Heat lost in each run.
    pub run_losses: Vec<Power>,
    /// What is asked of each alternator, and what it can deliver.
    pub alternators: Vec<(ElectricCurrent, ElectricCurrent)>,
    /// What each source gives, by part.
    pub sources: Vec<(Part, ElectricCurrent)>,
    /// What each demand draws, by part.
    pub demands: Vec<(Part, ElectricCurrent)>,
}

impl CaseResult {
    /// Voltage of the first node over the second; zero without an operating point.
    pub fn between(&self, nodes: [NodeId; 2]) -> ElectricPotential {
        self.point.as_ref().map_or(ElectricPotential::default(), |point| point.between(nodes.map(|node| node.0)))
    }

    /// Whether a source reaches a node.
    pub fn supplies(&self, node: NodeId) -> bool {
        self.point.as_ref().is_some_and(|point| !point.unsupplied.contains(&node.0))
    }
}

/// Rounds of the thermal iteration; each shrinks the error by the small share that resistance changes.
const MOST_ROUNDS: usize = 40;
/// Kelvin by which two rounds may differ.
const SETTLED_K: f64 = 1e-4;

/// What an alternator can deliver in a case.
fn available(alternator: &Alternator, case: &Case) -> ElectricCurrent {
    match case.engine {
        Engine::Off => ElectricCurrent::default(),
        Engine::Idle => alternator.idle_output,
        Engine::Cruise => alternator.hot_output,
    }
}

/// Solves one case.
///
/// # Errors
/// [`NetworkError`] when a resistance is not above zero: it names the nodes.
///
/// With `rated`, demands of constant power count as currents at 0.85 of their nominal voltage: what there
/// is to size by before any conductor is known, when the true network may not settle at all.
pub(super) fn operate(
    rated: bool,
    installation: &Installation,
    models: &[RunModel],
    index: usize,
    case: &Case,
) -> Result<CaseResult, NetworkError> {
    let mut states = States {
        limited: vec![false; installation.alternators.len()],
        blocked: vec![false; installation.links.len()],
        buck_output: vec![Power::default(); installation.converters.len()],
    };
    let mut asked = vec![ElectricCurrent::default(); installation.alternators.len()];
    let mut currents = vec![ElectricCurrent::default(); models.len()];
    let mut at: Vec<_> = models.iter().map(|model| model.at(ElectricCurrent::default())).collect();
    let mut result = None;
    // What is asked of the alternators is known once nothing moves any more; only then are they held to what
    // they have.
    let mut asking = true;
    for _ in 0..MOST_ROUNDS {
        let resistances: Vec<ElectricalResistance> = at.iter().map(|state| state.resistance).collect();
        let mut lowered = lower(installation, case, &resistances, &states);
        if rated {
            lowered.rate(installation);
        }
        let point = match solve(&lowered.network)? {
            Outcome::Point(point) => point,
            Outcome::None(none) => {
                result = Some((Err(lowered.demands.get(none.demand).copied()), lowered));
                break;
            }
        };
        for (part, current) in lowered.branches.iter().zip(&point.branch_currents) {
            if let Part::Run(run) = part
                && let Some(slot) = currents.get_mut(*run)
            {
                *slot = *current;
            }
        }
        let mut settled = true;
        for (part, current) in lowered.sources.iter().zip(&point.source_currents) {
            match part {
                Part::Output(converter) => {
                    let output = installation
                        .converters
                        .get(*converter)
                        .map_or(ElectricPotential::default(), |one| one.output_voltage);
                    if let Some(slot) = states.buck_output.get_mut(*converter) {
                        let power = output * current.abs();
                        settled &= (power.value - slot.value).abs() < 1e-6;
                        *slot = power;
                    }
                }
                Part::Device(DeviceRef::Alternator(alternator)) => {
                    let limit = installation
                        .alternators
                        .get(*alternator)
                        .map_or(ElectricCurrent::default(), |one| available(one, case));
                    if asking && let Some(slot) = asked.get_mut(*alternator) {
                        *slot = *current;
                    }
                    if !asking
                        && *current > limit
                        && let Some(limited) = states.limited.get_mut(*alternator)
                    {
                        *limited = true;
                        settled = false;
                    }
                }
                _ => {}
            }
        }
        settled &= !turn_diodes(installation, &lowered.branches, &point, &mut states.blocked);
        let next: Vec<_> = models.iter().zip(&currents).map(|(model, current)| model.at(*current)).collect();
        let degrees = |state: &RunState| state.hottest.map_or(0.0, in_celsius);
        let moved = next.iter().zip(&at).map(|(next, last)| (degrees(next) - degrees(last)).abs()).fold(0.0, f64::max);
        at = next;
        result = Some((Ok(point), lowered));
        if settled && moved < SETTLED_K {
            if !asking {
                break;
            }
            asking = false;
        }
    }
    let alternators = installation
        .alternators
        .iter()
        .zip(&asked)
        .map(|(alternator, asked)| (*asked, available(alternator, case)))
        .collect();
    let (point, collapsed, sources, demands) = match result {
        Some((Ok(point), lowered)) => {
            let sources = lowered.sources.iter().copied().zip(point.source_currents.iter().copied()).collect();
            let demands = lowered.demands.iter().copied().zip(point.demand_currents.iter().copied()).collect();
            (Some(point), None, sources, demands)
        }
        Some((Err(part), _)) => (None, part, Vec::new(), Vec::new()),
        None => (None, None, Vec::new(), Vec::new()),
    };
    let run_losses = currents.iter().zip(&at).map(|(current, state)| *current * *current * state.resistance).collect();
    Ok(CaseResult {
        case: index,
        point,
        collapsed,
        runs: at,
        run_currents: currents,
        run_losses,
        alternators,
        sources,
        demands,
    })
}

/// Turns diodes that conduct backwards off, and those that would conduct on; whether any turned.
fn turn_diodes(installation: &Installation, branches: &[Part], point: &OperatingPoint, blocked: &mut [bool]) -> bool {
    let mut turned = false;
    for (index, link) in installation.links.iter().enumerate().filter(|(_, link)| link.kind == LinkKind::Diode) {
        let Some(state) = blocked.get_mut(index) else { continue };
        let flowing = branches.iter().zip(&point.branch_currents).find(|(part, _)| **part == Part::Link(index));
        let now = match flowing {
            Some((_, current)) => current.value < -1e-9,
            // One blocked stays so while the voltage across it is below its drop.
            None => *state && point.between(link.nodes.map(|node| node.0)) <= link.drop,
        };
        turned |= now != *state;
        *state = now;
    }
    turned
}

/// The models of an installation whose every conductor and fuse is fixed; `loads` are the currents that the
/// runs are judged at, as far as they are known.
pub(super) fn models(installation: &Installation, loads: &[ElectricCurrent]) -> Vec<RunModel> {
    installation
        .runs
        .iter()
        .enumerate()
        .filter_map(|(index, run)| {
            let ConductorChoice::Fixed(conductor) = run.conductor else { return None };
            let fuse = match run.fuse {
                FuseChoice::Fixed(fuse) => Some(fuse),
                FuseChoice::Auto | FuseChoice::None => None,
            };
            Some(RunModel::new(installation, index, run, conductor, fuse, loads))
        })
        .collect()
}
