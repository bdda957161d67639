//! The one more reading that would tell most.

use super::fit::Fit;
use super::model::Frame;
use super::probe::Probe;
use super::reading::{Inside, Point};
use super::segment::Segment;
use crate::installation::{Installation, NodeId};
use crate::network::NetworkError;

/// What to read next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Next {
    /// The voltage of one point over another, in a case by its index.
    Voltage([Point; 2], usize),
    /// The current in a run, by its index, in a case.
    Current(usize, usize),
}

impl Next {
    /// What to do, in words.
    pub fn words(&self, plan: &Installation) -> String {
        let case = |index: usize| plan.cases.get(index).map_or("", |case| case.name.as_str());
        match self {
            Self::Voltage([one, other], of) => {
                format!("read the voltage from {} to {} in {}", one.name(plan), other.name(plan), case(*of))
            }
            Self::Current(run, of) => {
                let run = plan.runs.get(*run).map_or("", |run| run.name.as_str());
                format!("read the current in {run} in {}", case(*of))
            }
        }
    }
}

/// What a usual instrument adds of doubt: half a millivolt, and 2 % of a current.
const VOLTS: f64 = 0.3e-3;
const CLAMP: f64 = 0.012;
/// How likely the fault sits there: cables hardly ever, fuse holders most.
fn suspicion(segment: Segment) -> f64 {
    match segment {
        Segment::Cable(_) => 0.3,
        Segment::Fuse(_) => 1.5,
        Segment::Joint(..) | Segment::Link(_) => 1.0,
    }
}

/// Where the two probes stand on either side of a segment.
fn ends(plan: &Installation, frame: &Frame, segment: Segment) -> Option<[Point; 2]> {
    let of = |run: usize| plan.runs.get(run);
    let node = |node: NodeId| Point::Node(node);
    let fused = |run: usize| frame.bridges.iter().any(|bridge| bridge.segments.contains(&Segment::Fuse(run)));
    Some(match segment {
        Segment::Joint(run, 0) => [node(of(run)?.from), Point::Run(run, Inside::Start)],
        Segment::Joint(run, _) => [Point::Run(run, Inside::End), node(of(run)?.to)],
        Segment::Fuse(run) => [Point::Run(run, Inside::Start), Point::Run(run, Inside::Fuse)],
        Segment::Cable(run) => {
            let start = if fused(run) { Inside::Fuse } else { Inside::Start };
            [Point::Run(run, start), Point::Run(run, Inside::End)]
        }
        Segment::Link(link) => plan.links.get(link)?.nodes.map(node),
    })
}

/// The cut that parts suspicion most evenly: from the group's first segment up to some other, or a whole run of it.
pub(super) fn part(plan: &Installation, fit: &Fit<'_>, segments: &[Segment], case: usize) -> Option<Next> {
    let whole: f64 = segments.iter().map(|segment| suspicion(*segment)).sum();
    let mut best: Option<(f64, [Point; 2])> = None;
    for (from, first) in segments.iter().enumerate() {
        let mut sum = 0.0;
        for last in segments.iter().skip(from) {
            // Only along one run, in the order of its way; a link stands alone.
            if last.run() != first.run() || (first.run().is_none() && last != first) {
                break;
            }
            sum += suspicion(*last);
            let (Some([one, _]), Some([_, other])) = (ends(plan, fit.frame, *first), ends(plan, fit.frame, *last))
            else {
                continue;
            };
            let off = (sum / whole - 0.5).abs();
            if sum < whole && best.is_none_or(|(least, _)| off < least - 1e-9) {
                best = Some((off, [one, other]));
            }
        }
    }
    best.map(|(_, points)| Next::Voltage(points, case))
}

/// The reading that narrows a group most: the current of one of its runs, or the voltage along one of its bridges.
pub(super) fn narrow(plan: &Installation, fit: &mut Fit<'_>, group: usize) -> Result<Option<Next>, NetworkError> {
    let Some(members) = fit.groups.members.get(group).cloned() else { return Ok(None) };
    let Some(of) = fit.unit(group) else { return Ok(None) };
    let mut best: Option<(f64, Next)> = None;
    for round in 0..fit.rounds.len() {
        let Some(case) = fit.rounds.get(round).map(|round| round.case) else { continue };
        let mut candidates = Vec::new();
        for bridge in &members {
            let Some(here) = fit.frame.bridges.get(*bridge) else { continue };
            let cable = here.segments.iter().find_map(|segment| segment.run());
            if let Some(run) = cable.filter(|run| fit.frame.cables.get(*run) == Some(bridge)) {
                candidates.push((Probe::Current(*bridge), Next::Current(run, case)));
            }
            if members.len() > 1 {
                // What stands across a part of a group says little of the whole; that is for parting it.
                continue;
            }
            let first = here.segments.first().and_then(|segment| ends(plan, fit.frame, *segment));
            let last = here.segments.last().and_then(|segment| ends(plan, fit.frame, *segment));
            if let (Some([one, _]), Some([_, other])) = (first, last) {
                candidates.push((Probe::Voltage(here.nodes), Next::Voltage([one, other], case)));
            }
        }
        let probes: Vec<Probe> = candidates.iter().map(|(probe, _)| *probe).collect();
        let views = fit.look(round, &probes)?;
        for ((probe, next), view) in candidates.iter().zip(&views) {
            let row = fit.row(round, view, false);
            let Some(half) = fit.solved.as_ref().map(|solved| solved.half(&row)) else { continue };
            let doubt = match probe {
                Probe::Current(_) => CLAMP * view.value.abs(),
                _ => VOLTS,
            };
            let narrowed = of.covariance(&half).powi(2) / (half.variance() + doubt * doubt);
            if best.is_none_or(|(most, _)| narrowed > most * (1.0 + 1e-6)) {
                best = Some((narrowed, *next));
            }
        }
    }
    // What narrows nothing is no advice.
    let variance = of.variance();
    Ok(best.filter(|(narrowed, _)| *narrowed > 0.2 * variance).map(|(_, next)| next))
}
