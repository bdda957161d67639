//! How much work one judgement may be: counted in steps of elimination, never by the clock, so that a plan is judged or
//! refused alike on every machine.

use super::JudgeError;
use crate::installation::{FuseChoice, Installation};
use crate::network::islands;

/// Most steps of one judgement, what is chosen for it included: some seconds on one core. A radial plan of three hundred
/// runs, with all cases that are read and four batteries, takes a small part of it.
pub(crate) const MOST_STEPS: usize = 5_000_000_000;

/// Steps that the temperature of one stretch of a run takes: about a hundred nanoseconds and more.
const OF_A_STRETCH: usize = 100;

/// Steps so far, and those of one solution with a fault.
#[derive(Debug, Default)]
pub(super) struct Work {
    steps: usize,
    fault: usize,
}

impl Work {
    pub(super) fn steps(&self) -> usize {
        self.steps
    }

    /// Counts what has been done, or is about to be.
    ///
    /// # Errors
    /// [`JudgeError::TooMuchWork`] when that is more than one plan is given.
    pub(super) fn spend(&mut self, plan: &Installation, steps: usize) -> Result<(), JudgeError> {
        self.steps = self.steps.saturating_add(steps);
        if self.steps > MOST_STEPS { Err(JudgeError::TooMuchWork(Size::of(plan).words())) } else { Ok(()) }
    }

    /// Counts solutions with faults; `each` are the steps of one from nothing.
    ///
    /// # Errors
    /// As [`Self::spend`].
    pub(super) fn faults(&mut self, plan: &Installation, steps: usize, each: usize) -> Result<(), JudgeError> {
        self.fault = self.fault.max(each);
        self.spend(plan, steps)
    }

    /// Whether as many solutions more, each as long as the longest so far, could be afforded: asked before they are begun.
    ///
    /// # Errors
    /// As [`Self::spend`].
    pub(super) fn afford(&self, plan: &Installation, solutions: usize) -> Result<(), JudgeError> {
        Self { ..*self }.ahead(plan, solutions)
    }

    /// Counts solutions of that kind which the rules are about to ask for.
    ///
    /// # Errors
    /// As [`Self::spend`].
    pub(super) fn ahead(&mut self, plan: &Installation, solutions: usize) -> Result<(), JudgeError> {
        self.spend(plan, self.fault.saturating_mul(solutions))
    }
}

/// Steps of so many stretches at their temperatures.
pub(super) fn of_stretches(stretches: usize) -> usize {
    OF_A_STRETCH.saturating_mul(stretches)
}

/// What makes a plan large.
struct Size {
    runs: usize,
    fuses: usize,
    batteries: usize,
    cases: usize,
    loops: usize,
}

impl Size {
    fn of(plan: &Installation) -> Self {
        let ends = plan.runs.iter().map(|run| [run.from.0, run.to.0]);
        let links = plan.links.iter().map(|link| link.nodes.map(|node| node.0));
        let edges = plan.runs.len() + plan.links.len();
        let mut parts = islands(plan.nodes.len(), ends.chain(links));
        parts.sort_unstable();
        parts.dedup();
        Self {
            runs: plan.runs.len(),
            fuses: plan.runs.iter().filter(|run| run.fuse != FuseChoice::None).count(),
            batteries: plan.batteries.len(),
            cases: plan.cases.len(),
            loops: (edges + parts.len()).saturating_sub(plan.nodes.len()),
        }
    }

    fn words(&self) -> String {
        let Self { runs, fuses, batteries, cases, loops } = self;
        let open = if *loops > 0 { "take out connections that close loops, " } else { "" };
        format!(
            "the plan is more than is judged at once (runs: {runs}, fuses: {fuses}, batteries: {batteries}, cases, one for each \
             load with an inrush among them: {cases}, loops: {loops}): check parts of the plan that hang on one feed each by \
             themselves, count batteries in parallel as one of their capacity together, {open}or state fewer cases and conductors by size"
        )
    }
}
