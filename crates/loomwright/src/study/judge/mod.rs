//! A whole plan judged over its operating cases: pure, and without remedies.
//!
//! ```
//! use loomwright::{study::judge::judge, text::read_plan};
//! let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
//! let judgement = judge(&plan)?;
//! assert!(judgement.installation.runs.len() == 4 && judgement.holds());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod bench;
mod bonds;
pub(crate) mod charge;
mod checks;
mod choose;
mod company;
mod currents;
mod distance;
mod faults;
mod fitting;
mod model;
mod operate;
mod overcurrent;
pub(crate) mod paths;
mod record;
mod record_cases;
mod record_devices;
mod record_existing;
mod record_protection;
mod record_states;
mod rules;
mod schema;
mod through_time;
mod voltage_path;
mod work;
mod working;

pub use checks::CheckRecord;
pub use choose::Choice;
pub use currents::Design;
pub use distance::Unprotected;
pub use faults::{Fault, FaultLevel, Lowest};
pub use model::{RunModel, RunState};
pub use operate::CaseResult;
pub use overcurrent::Overcurrent;
pub use record::{PlanRecord, RunRecord};
pub use record_cases::{AlternatorRecord, CaseRecord, FattenRecord, NodeRecord, RunInCase};
pub use record_devices::DeviceRecord;
pub use record_existing::ExistingRecord;
pub use record_protection::{FaultLevelRecord, LimitRecord, ProtectiveRecord, SheetRecord};
pub use record_states::{ConverterInCase, RelayInCase};
pub(crate) use rules::{Watch, watch};
pub use schema::report_schema;
pub use through_time::{FuseThroughTime, StartRecord, ThroughTimeRecord};
pub use voltage_path::{PathCaseRecord, StopRecord, VoltagePathRecord};

use crate::finding::{Finding, Verdict, verdict};
use crate::installation::{Case, Installation, NodeId};
use crate::network::NetworkError;
use crate::quantity::ElectricalResistance;
use operate::Depth;
use thiserror::Error;
use work::Work;

/// Why a plan could not be judged at all.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum JudgeError {
    /// The network of a case could not be computed.
    #[error("case {case}: {message}")]
    Network {
        /// The case.
        case: String,
        /// What is wrong, with the names of the plan.
        message: String,
    },
    /// No conductor could be chosen for a run.
    #[error("run {run}: {message}")]
    NoConductor {
        /// The run.
        run: String,
        /// Why.
        message: String,
    },
    /// The plan is larger than what is judged at once.
    #[error("{0}")]
    TooMuchWork(String),
}

/// A judged plan.
#[derive(Clone, Debug)]
pub struct Judgement {
    /// The plan with every `auto` chosen.
    pub installation: Installation,
    /// What was chosen.
    pub choices: Vec<Choice>,
    /// Every run, solved and judged.
    pub models: Vec<RunModel>,
    /// Every case.
    pub cases: Vec<CaseResult>,
    /// The current that each run is judged at.
    pub design: Vec<Design>,
    /// What a fault drives through the fuse of each run that has one.
    pub faults: Vec<Option<Fault>>,
    /// How the fuse of each run, or before it, protects its conductor through time.
    pub overcurrents: Vec<Option<Overcurrent>>,
    /// What is unprotected of each run between its source and its protective device.
    pub unprotected: Vec<Option<Unprotected>>,
    /// Findings, worst first.
    pub findings: Vec<Finding>,
    pub(crate) ways: paths::Ways,
    /// What protects each run.
    pub(crate) protections: Vec<paths::Protection>,
    /// Steps of elimination that it took, what was chosen before not included.
    pub(crate) steps: usize,
}

impl Judgement {
    /// Resistance of the conductors, joints and fuses on the shortest way between two nodes, as warm as they may get.
    pub(crate) fn way_resistance(&self, from: NodeId, to: NodeId) -> ElectricalResistance {
        let runs = self.ways.between(from, to).into_iter().filter_map(|run| self.models.get(run));
        runs.fold(ElectricalResistance::default(), |sum, model| sum + model.hot())
    }

    /// The cases that have an operating point and last.
    pub(crate) fn lasting(&self) -> impl Iterator<Item = &CaseResult> {
        let lasts = |case: &&CaseResult| self.installation.cases.get(case.case).is_some_and(Case::lasts);
        self.cases.iter().filter(|case| case.point.is_some()).filter(lasts)
    }

    /// Whether nothing is found that is a warning or a danger.
    pub fn holds(&self) -> bool {
        verdict(&self.findings) == Verdict::Holds
    }
}

/// Judges a plan: conductors and fuses left to choose are chosen first.
///
/// ```
/// use loomwright::{study::judge::judge, text::read_plan};
/// let text = include_str!("../../../examples/lamp.toml").replace("fuse = \"auto\"", "fuse = \"none\"");
/// let plan = read_plan(&text).map_err(|errors| format!("{errors:?}"))?;
/// assert!(!judge(&plan)?.holds()); // a battery's cable without a fuse
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`JudgeError`] when a case cannot be computed, a run has no conductor to choose from, or the plan is more work than is
/// done for one: that is counted, so it is the same on every machine.
pub fn judge(plan: &Installation) -> Result<Judgement, JudgeError> {
    let mut work = Work::default();
    let (installation, choices) = choose::choose(plan, &mut work)?;
    fixed(installation, choices, None, work)
}

/// Judges a plan whose every conductor and fuse is fixed; what an earlier judgement of a plan much like it has worked out
/// through time is taken over where nothing of it has changed.
pub(crate) fn judge_fixed(
    installation: Installation,
    choices: Vec<Choice>,
    earlier: Option<&Judgement>,
) -> Result<Judgement, JudgeError> {
    fixed(installation, choices, earlier, Work::default())
}

fn fixed(
    installation: Installation,
    choices: Vec<Choice>,
    earlier: Option<&Judgement>,
    mut work: Work,
) -> Result<Judgement, JudgeError> {
    let before = work.steps();
    let mut models = model::models(&installation, &[]);
    let looms = company::has_looms(&installation);
    let depth = if looms { Depth::Currents } else { Depth::Whole };
    let mut cases = operate_all(depth, &installation, &models, &mut work)?;
    let ways = paths::Ways::of(&installation);
    let mut design = currents::design(&installation, &ways, &cases);
    if looms {
        // Once the currents are known, what lies together warms each other; what little that changes in the
        // currents again is far below the allowance for neighbours at their limit.
        let loads: Vec<_> = design.iter().map(|design| design.current).collect();
        models = model::models(&installation, &loads);
        cases = operate_all(Depth::Whole, &installation, &models, &mut work)?;
        design = currents::design(&installation, &ways, &cases);
    }
    let protections = paths::protections(&installation, &ways);
    let faults = faults::faults(&installation, &ways, &protections, &models, earlier, &mut work)?;
    work.afford(&installation, faults::solutions_of_levels(&installation))?;
    work.ahead(&installation, rules::solutions(&installation))?;
    let (overcurrents, findings) = (Vec::new(), Vec::new());
    let unprotected = distance::unprotected(&installation);
    let steps = work.steps() - before;
    let mut judgement = Judgement {
        installation,
        choices,
        models,
        cases,
        design,
        faults,
        overcurrents,
        unprotected,
        findings,
        ways,
        protections,
        steps,
    };
    judgement.overcurrents = overcurrent::overcurrents(&judgement, earlier);
    let mut findings = rules::all(&judgement);
    findings.sort_by(|one, other| {
        // Worst first; of equal signal, the least margin.
        other.signal.cmp(&one.signal).then(one.rank().total_cmp(&other.rank()))
    });
    judgement.findings = findings;
    Ok(judgement)
}

fn operate_all(
    depth: Depth,
    installation: &Installation,
    models: &[RunModel],
    work: &mut Work,
) -> Result<Vec<CaseResult>, JudgeError> {
    let solved = installation.cases.iter().enumerate().map(|(index, case)| {
        let found = operate::operate(depth, installation, models, index, case)
            .map_err(|error| JudgeError::Network { case: case.name.clone(), message: named(installation, &error) })?;
        work.spend(installation, found.steps)?;
        Ok(found)
    });
    solved.collect()
}

/// What keeps a network from being computed, with the plan's names instead of numbers.
fn named(installation: &Installation, error: &NetworkError) -> String {
    let node =
        |index: &usize| installation.nodes.get(*index).map_or_else(|| index.to_string(), |node| node.name.clone());
    match error {
        NetworkError::NoSuchNode(at) => format!("{} is no node of the plan", node(at)),
        NetworkError::ZeroResistance(one, other) => format!(
            "the connection of {} and {} has no resistance: a short circuit, or one name too many; give it a resistance",
            node(one),
            node(other)
        ),
        NetworkError::Value(one, other) => format!(
            "between {} and {} a resistance is not above zero, or a voltage, current or power is out of range",
            node(one),
            node(other)
        ),
        NetworkError::StiffSources { nodes, .. } => {
            format!("two sources without resistance are in parallel at {}", node(&nodes[0]))
        }
        NetworkError::FeedsItself { input, output, .. } => format!(
            "a converter feeds itself: its input {} and its output {} are joined; take the connection between them out, \
             or leave the converter out of this case",
            node(input),
            node(output)
        ),
        NetworkError::ConverterLoop { nodes, .. } => format!(
            "converters feed each other in a circle through {}; open it at one of them",
            nodes.iter().map(node).collect::<Vec<_>>().join(", ")
        ),
        NetworkError::TooLarge(_) | NetworkError::Relay(_) => error.to_string(),
        NetworkError::Restless(one, other) => {
            format!("diodes, limits and lock-outs find no lasting state around {} and {}", node(one), node(other))
        }
    }
}
