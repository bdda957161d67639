//! What goes on each end of a conductor.

use crate::fitting::{Termination, ferrule_length};
use crate::installation::{Installation, NodeId, Terminal};
use crate::quantity::Length;
use crate::study::judge::Judgement;
use uom::si::length::millimeter;

/// One end of a run as it is made.
pub(super) struct End {
    pub(super) node: NodeId,
    pub(super) terminal: Terminal,
    pub(super) termination: Termination,
    /// The length to strip; `None` where that is the depth of a lug's barrel, or not known.
    pub(super) strip: Option<Length>,
}

/// The kinds of terminals that a node has.
pub(super) fn terminals(installation: &Installation, node: NodeId) -> Vec<Terminal> {
    let node = installation.nodes.get(node.0);
    node.map_or_else(Vec::new, |node| [Some(node.terminal), node.second_terminal].into_iter().flatten().collect())
}

/// Start (0) or end (1) of a run.
pub(super) fn end(judgement: &Judgement, index: usize, which: usize) -> Option<End> {
    let (run, model) = (judgement.installation.runs.get(index)?, judgement.models.get(index)?);
    let node = if which == 0 { run.from } else { run.to };
    let pin = run.pin(which, &model.conductor);
    let terminal = judgement.installation.nodes.get(node.0)?.terminal_for(&model.conductor, pin);
    let termination = terminal.termination(&model.conductor, pin);
    let strip = match termination {
        Termination::Ferrule(area) => terminal.strip.or_else(|| ferrule_length(area)),
        Termination::Bare => terminal.strip,
        Termination::Lug(_) | Termination::NoLug(..) | Termination::Pin(_) | Termination::Unstated => None,
    };
    Some(End { node, terminal, termination, strip })
}

/// A length in millimetres, for a cell.
pub(super) fn mm(length: Length) -> f64 {
    length.get::<millimeter>()
}
