//! The operating point of every case, electro-thermally consistent: resistances are those of the
//! conductors at the temperatures they reach in that case, stretch by stretch.

use super::model::{RunModel, RunState};
use crate::installation::{Alternator, Case, DeviceRef, Engine, Installation, LinkKind, NodeId};
use crate::network::{NetworkError, OperatingPoint, Outcome, Part, States, lower, solve};
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power, in_celsius};

/// What happens in one case.
#[derive(Clone, Debug)]
pub struct CaseResult {
    /// The case's index.
    pub case: usize,
    /// The operating point; `None` when none exists.
    pub point: Option<Box<OperatingPoint>>,
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
