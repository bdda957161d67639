//! How the voltages of a network answer to small changes: one elimination, then a sweep for each question.

use super::elements::{Network, NetworkError};
use super::point::{OperatingPoint, Workbench, point};
use super::solver::{Nowhere, Solver, across};
use crate::quantity::{ElectricalResistance, Ratio};
use uom::si::electrical_resistance::ohm;
use uom::si::ratio::ratio;

/// By how much every voltage rises for each ampere that is fed into one node and taken out of another, with what constant
/// powers then draw less: transfer resistances.
#[derive(Clone, Debug)]
pub struct Response {
    /// Rise of every node in V/A.
    rises: Vec<f64>,
}

impl Response {
    /// The rise of the voltage of the first node over the second. It is the same as that between the fed nodes if these two
    /// were fed.
    pub fn transfer(&self, nodes: [usize; 2]) -> ElectricalResistance {
        let [one, other] = nodes.map(|node| self.rises.get(node).copied().unwrap_or(0.0));
        ElectricalResistance::new::<ohm>(one - other)
    }
}

/// An operating point with its responses.
type Responded = (Box<OperatingPoint>, Vec<Response>);

impl Workbench {
    /// The operating point, and how it answers to an ampere fed in between each pair of nodes, into the first; `None` when
    /// none exists.
    ///
    /// # Errors
    /// As [`solve`](super::solve).
    ///
    /// ```
    /// use loomwright::network::{Demand, Network, Source, Workbench};
    /// use loomwright::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, FromText};
    /// let battery = Source::new([1, 0], ElectricPotential::from_text("12 V")?, ElectricalResistance::from_text("10 mohm")?);
    /// let mut network = Network { nodes: 2, sources: vec![battery], ..Network::default() };
    /// let mut bench = Workbench::default();
    /// network.demands = vec![Demand::current([1, 0], ElectricCurrent::from_text("10 A")?)];
    /// let (_, responses) = bench.responses(&network, &[[1, 0]])?.ok_or("it settles")?;
    /// assert!((responses[0].transfer([1, 0]).value - 0.01).abs() < 1e-9); // the battery's own 10 mΩ
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn responses(&mut self, network: &Network, fed: &[[usize; 2]]) -> Result<Option<Responded>, NetworkError> {
        let mut solver = Solver::new(network, self.take())?;
        let settled = solver.settle(false);
        let found = match settled {
            Ok(()) => {
                let point = Box::new(point(&solver));
                Ok(Some((point, fed.iter().map(|nodes| response(&mut solver, *nodes)).collect())))
            }
            Err(Nowhere::Collapse) => Ok(None),
            Err(Nowhere::Restless([one, other])) => Err(NetworkError::Restless(one, other)),
        };
        self.keep(solver.parts);
        found
    }
}

fn response(solver: &mut Solver<'_>, fed: [usize; 2]) -> Response {
    // There and back, and a list of its own.
    let elements = solver.parts.order.elements();
    solver.parts.work = solver.parts.work.saturating_add(elements.saturating_mul(4));
    solver.parts.factor.right.fill(0.0);
    let at = fed.map(|node| solver.position(node));
    solver.parts.factor.current(at, 1.0);
    let mut rises = vec![0.0; solver.parts.order.unknowns + 1];
    solver.parts.factor.again(&solver.parts.order, &mut rises);
    let ground = solver.parts.order.unknowns;
    let rises = (0..solver.network.nodes).map(|node| across(&rises, [solver.position(node), ground]));
    Response { rises: rises.collect() }
}

/// How much of one more ampere drawn between two nodes flows in each branch, with what constant powers then draw more:
/// the volts lost there per volt lost in the branch. `None` when no operating point exists.
///
/// The volts that a demand gains when a branch loses a milliohm are the branch's current times this share.
///
/// ```
/// use loomwright::network::{Branch, Demand, Network, Source, shares};
/// use loomwright::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, FromText};
/// let ohms = |text: &str| ElectricalResistance::from_text(text);
/// let network = Network {
///     nodes: 3,
///     sources: vec![Source::new([1, 0], ElectricPotential::from_text("12.6 V")?, ohms("5 mohm")?)],
///     branches: vec![Branch::new([1, 2], ohms("10 mohm")?), Branch::new([1, 2], ohms("30 mohm")?)],
///     demands: vec![Demand::current([2, 0], ElectricCurrent::from_text("20 A")?)],
///     ..Network::default()
/// };
/// let found = shares(&network, [2, 0])?.ok_or("it settles")?;
/// assert!((found[0].value - 0.75).abs() < 1e-9 && (found[1].value - 0.25).abs() < 1e-9); // 30 to 10
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`solve`](super::solve).
pub fn shares(network: &Network, nodes: [usize; 2]) -> Result<Option<Vec<Ratio>>, NetworkError> {
    // What is drawn between the nodes is fed in the other way round.
    let Some((point, responses)) = Workbench::default().responses(network, &[[nodes[1], nodes[0]]])? else {
        return Ok(None);
    };
    let Some(response) = responses.first() else { return Ok(None) };
    let mut open = vec![false; network.branches.len()];
    for index in &point.open_branches {
        if let Some(open) = open.get_mut(*index) {
            *open = true;
        }
    }
    let share = |(branch, open): (&super::Branch, bool)| {
        let through = (response.transfer(branch.nodes) / branch.resistance).value;
        Ratio::new::<ratio>(if open { 0.0 } else { through })
    };
    Ok(Some(network.branches.iter().zip(open).map(share).collect()))
}
