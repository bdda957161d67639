//! The operating point of every case, electro-thermally consistent: resistances are those of the
//! conductors at the temperatures they reach in that case, stretch by stretch.

use super::model::{RunModel, RunState};
use super::work::of_stretches;
use crate::converter::LockOut;
use crate::installation::{Alternator, Case, DeviceRef, Installation, NodeId};
use crate::network::{Lowered, NetworkError, OperatingPoint, Outcome, Part, Workbench, lower, operating_point};
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio, in_celsius};

/// What there is to say when no operating point exists.
#[derive(Clone, Copy, Debug)]
pub struct Collapse {
    /// The part whose voltage falls first.
    pub part: Part,
    /// The largest common factor below 1 on every constant power that would still be carried.
    pub load_factor: Ratio,
}

/// What happens in one case.
#[derive(Clone, Debug)]
pub struct CaseResult {
    /// The case's index.
    pub case: usize,
    /// The operating point; `None` when none exists.
    pub point: Option<Box<OperatingPoint>>,
    /// What collapses when no operating point exists.
    pub collapsed: Option<Collapse>,
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
    /// Converters that start and stop without end, with what each sees while it is off.
    pub chatters: Vec<(usize, ElectricPotential)>,
    /// The network that was solved last.
    pub lowered: Lowered,
    /// Steps of elimination that it took.
    pub(super) steps: usize,
}

impl CaseResult {
    /// Voltage of the first node over the second; zero without an operating point.
    pub fn between(&self, nodes: [NodeId; 2]) -> ElectricPotential {
        self.point.as_ref().map_or(ElectricPotential::default(), |point| point.between(nodes.map(|node| node.0)))
    }

    /// Whether a source reaches a node.
    ///
    /// ```
    /// use loomwright::{study::judge::judge, text::read_plan};
    /// let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// let judgement = judge(&plan)?;
    /// let lamp = plan.loads[0].nodes.ok_or("it hangs on a circuit")?;
    /// assert!(judgement.cases.iter().any(|case| case.supplies(lamp[0])));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn supplies(&self, node: NodeId) -> bool {
        self.point.as_ref().is_some_and(|point| !point.unsupplied.contains(&node.0))
    }
}

/// Rounds of the thermal iteration; each shrinks the error by the small share that resistance changes.
const MOST_ROUNDS: usize = 40;
/// Kelvin by which two rounds may differ.
const SETTLED_K: f64 = 1e-4;

/// How much of a case is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Depth {
    /// Currents to size by before any conductor is known, when the true network may not settle at all: demands of constant
    /// power count as currents at 0.85 of their nominal voltage.
    Rated,
    /// True currents and temperatures.
    Currents,
    /// Those, how far the case is from having no operating point, and what starts and stops without end.
    Whole,
}

/// Solves one case.
///
/// # Errors
/// [`NetworkError`] when a resistance is not above zero: it names the nodes.
pub(super) fn operate(
    depth: Depth,
    installation: &Installation,
    models: &[RunModel],
    index: usize,
    case: &Case,
) -> Result<CaseResult, NetworkError> {
    let mut asked = vec![ElectricCurrent::default(); installation.alternators.len()];
    let mut currents = vec![ElectricCurrent::default(); models.len()];
    let mut at: Vec<_> = models.iter().map(|model| model.at(ElectricCurrent::default())).collect();
    // What is asked of the alternators is known once nothing moves any more; only then are they held to what they have.
    let mut held = false;
    let mut bench = Workbench::default();
    let mut lowered = lower(installation, case, &resistances(&at), held);
    let mut none = None;
    let stretches: usize = models.iter().map(RunModel::stretches).sum();
    let mut heated = 0_usize;
    for _ in 0..MOST_ROUNDS {
        if depth == Depth::Rated {
            lowered.rate(installation, case);
        }
        let point = match bench.operating_point(&lowered.network)? {
            Outcome::Point(point) => point,
            Outcome::None(found) => {
                none = Some(found);
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
        heated = heated.saturating_add(stretches);
        let next: Vec<_> = models.iter().zip(&currents).map(|(model, current)| model.at(*current)).collect();
        let degrees = |state: &RunState| state.hottest.map_or(0.0, in_celsius);
        let moved = next.iter().zip(&at).map(|(next, last)| (degrees(next) - degrees(last)).abs()).fold(0.0, f64::max);
        at = next;
        if moved < SETTLED_K {
            if held {
                break;
            }
            for (part, current) in lowered.sources.iter().zip(&point.source_currents) {
                if let Part::Device(DeviceRef::Alternator(alternator)) = part
                    && let Some(slot) = asked.get_mut(*alternator)
                {
                    *slot = *current;
                }
            }
            let enough = |(alternator, asked): (&Alternator, &ElectricCurrent)| *asked <= case.available(alternator);
            if installation.alternators.iter().zip(&asked).all(enough) {
                break;
            }
            held = true;
        }
        lowered = lower(installation, case, &resistances(&at), held);
    }
    let alternators = installation
        .alternators
        .iter()
        .zip(&asked)
        .map(|(alternator, asked)| (*asked, case.available(alternator)))
        .collect();
    let outcome = match none {
        Some(none) => Outcome::None(none),
        None if depth == Depth::Whole => bench.solve(&lowered.network)?,
        None => bench.operating_point(&lowered.network)?,
    };
    let (mut point, mut collapsed, mut sources, mut demands) = (None, None, Vec::new(), Vec::new());
    match outcome {
        Outcome::Point(found) => {
            sources.extend(lowered.sources.iter().copied().zip(found.source_currents.iter().copied()));
            demands.extend(lowered.demands.iter().copied().zip(found.demand_currents.iter().copied()));
            for (index, converter) in lowered.converters.iter().zip(&found.converters) {
                sources.push((Part::Output(*index), converter.output_current));
                demands.push((Part::Device(DeviceRef::Converter(*index)), converter.input_current));
            }
            point = Some(found);
        }
        Outcome::None(none) => {
            let demand = lowered.demands.get(none.demand).copied();
            let converter = || lowered.converters.get(none.demand.checked_sub(lowered.demands.len())?);
            let part = demand.or_else(|| Some(Part::Device(DeviceRef::Converter(*converter()?))));
            collapsed = part.map(|part| Collapse { part, load_factor: none.load_factor });
        }
    }
    let chatters = if depth != Depth::Whole || case.lock_out {
        Vec::new()
    } else {
        chatters(installation, &lowered, point.as_deref())?
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
        chatters,
        lowered,
        steps: bench.work().saturating_add(of_stretches(heated)),
    })
}

/// Converters that lock out by what they draw themselves and then see the voltage at which they start again. Asked only
/// where one is pulled below its lock-out voltage, or nothing settles.
fn chatters(
    installation: &Installation,
    lowered: &Lowered,
    point: Option<&OperatingPoint>,
) -> Result<Vec<(usize, ElectricPotential)>, NetworkError> {
    let lock_out = |index: usize| {
        let converter = installation.converters.get(index)?;
        LockOut::new(converter.lock_out?, converter.restart?).ok()
    };
    let of_demand = |part: &Part| match part {
        Part::Device(DeviceRef::Converter(index)) => Some(*index),
        _ => None,
    };
    // Demands, then converters, as the network counts what locks out: its converter, if it is one, and its nodes.
    let demands = lowered.demands.iter().zip(&lowered.network.demands).map(|(part, one)| (of_demand(part), one.nodes));
    let inputs = lowered.converters.iter().zip(&lowered.network.converters);
    let drawing: Vec<(Option<usize>, [usize; 2])> =
        demands.chain(inputs.map(|(index, one)| (Some(*index), one.input))).collect();
    let pulled_down = |(index, nodes): &(Option<usize>, [usize; 2])| {
        let stops = index.and_then(lock_out).map(|lock_out| lock_out.stop());
        stops.is_some_and(|stops| point.is_none_or(|point| point.between(*nodes) < stops))
    };
    if !drawing.iter().any(pulled_down) {
        return Ok(Vec::new());
    }
    let mut network = lowered.network.clone();
    let locks = network.demands.iter_mut().map(|one| &mut one.lock_out);
    let locks = locks.chain(network.converters.iter_mut().map(|one| &mut one.lock_out));
    for (slot, (index, _)) in locks.zip(&drawing) {
        *slot = index.and_then(lock_out);
    }
    let Outcome::Point(point) = operating_point(&network)? else { return Ok(Vec::new()) };
    let seen = point.chatters.iter().filter_map(|index| drawing.get(*index));
    Ok(seen.filter_map(|(index, nodes)| Some(((*index)?, point.between(*nodes)))).collect())
}

fn resistances(at: &[RunState]) -> Vec<ElectricalResistance> {
    at.iter().map(|state| state.resistance).collect()
}
