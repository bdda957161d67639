//! One network with a place for every fault that is asked about, and the faults at them one after the other.

use super::JudgeError;
use super::work::Work;
use crate::installation::{Installation, NodeId};
use crate::network::{Branch, Network, OperatingPoint, Outcome, Response, Workbench};
use crate::quantity::{ElectricCurrent, ElectricalResistance};
use uom::si::electrical_resistance::ohm;

/// A bolted fault, and what is open: not nothing and not endless, so that one order of elimination serves them all.
pub(super) const BOLTED_OHM: f64 = 1e-6;
pub(super) const OPEN_OHM: f64 = 1e9;
/// A place that answers with more than this is held by no battery: there what limits itself pushes its current through what
/// is open, and the volts of that leave no digits to subtract in.
const HELD_OHM: f64 = 1e4;

pub(super) fn ohms(value: f64) -> ElectricalResistance {
    ElectricalResistance::new::<ohm>(value)
}

pub(super) fn pair(nodes: [NodeId; 2]) -> [usize; 2] {
    nodes.map(|node| node.0)
}

/// One network with a place for every fault that is asked about.
pub(super) struct Bench {
    network: Network,
    bench: Workbench,
    /// Branch of each fault's place.
    first: usize,
    /// Steps of the first solution.
    solution: usize,
    /// The point without a fault and how it answers to an ampere at each place: where nothing blocks, the fault at
    /// every place that a battery holds follows from these without another elimination.
    linear: Option<(Box<OperatingPoint>, Vec<Response>)>,
}

impl Bench {
    pub(super) fn new(mut network: Network, places: &[[usize; 2]]) -> Self {
        let first = network.branches.len();
        network.branches.extend(places.iter().map(|nodes| Branch::new(*nodes, ohms(OPEN_OHM))));
        let mut bench = Workbench::default();
        let blocks = network.branches.iter().any(|branch| branch.one_way);
        let linear = if blocks { None } else { bench.responses(&network, places).ok().flatten() };
        let solution = bench.solution();
        Self { network, bench, first, solution, linear }
    }

    /// The currents of a fault at a place: through it, and through a run, from its start to its end.
    pub(super) fn at(&mut self, place: usize, run: usize) -> [ElectricCurrent; 2] {
        self.through(place, ohms(BOLTED_OHM), [self.branch(place), run])
    }

    /// The currents of a fault of a resistance at a place, through these branches.
    pub(super) fn through<const N: usize>(
        &mut self,
        place: usize,
        resistance: ElectricalResistance,
        branches: [usize; N],
    ) -> [ElectricCurrent; N] {
        if let Some(found) = self.superposed(place, resistance) {
            return branches.map(found);
        }
        let fault = self.first + place;
        if let Some(branch) = self.network.branches.get_mut(fault) {
            branch.resistance = resistance;
        }
        let found = match self.bench.operating_point(&self.network) {
            Ok(Outcome::Point(point)) => {
                branches.map(|index| point.branch_currents.get(index).copied().unwrap_or_default())
            }
            // Nothing but resistances, sources and currents: there is always a point.
            Ok(Outcome::None(_)) | Err(_) => [ElectricCurrent::default(); N],
        };
        if let Some(branch) = self.network.branches.get_mut(fault) {
            branch.resistance = ohms(OPEN_OHM);
        }
        found
    }

    /// The current in each branch with a fault of a resistance at a place, as what it draws adds to the point without one.
    fn superposed(&self, place: usize, resistance: ElectricalResistance) -> Option<impl Fn(usize) -> ElectricCurrent> {
        let (point, responses) = self.linear.as_ref()?;
        let response = responses.get(place)?;
        let fault = self.branch(place);
        let nodes = self.network.branches.get(fault)?.nodes;
        let answer = response.transfer(nodes);
        if answer > ohms(HELD_OHM) {
            return None;
        }
        let open = point.between(nodes);
        // The fault comes beside what is there already: that of an open place.
        let more = ohms(1.0 / (1.0 / resistance.value - 1.0 / OPEN_OHM));
        let drawn: ElectricCurrent = open / (more + answer);
        Some(move |index: usize| {
            let Some(branch) = self.network.branches.get(index) else { return ElectricCurrent::default() };
            let before = point.branch_currents.get(index).copied().unwrap_or_default();
            let change = drawn * (response.transfer(branch.nodes) / branch.resistance);
            if index == fault { before + drawn - change } else { before - change }
        })
    }

    /// Counts what it has solved.
    pub(super) fn count(&self, installation: &Installation, work: &mut Work) -> Result<(), JudgeError> {
        work.faults(installation, self.bench.work(), self.solution.max(self.bench.solution()))
    }

    /// The branch of a place.
    pub(super) fn branch(&self, place: usize) -> usize {
        self.first + place
    }
}
