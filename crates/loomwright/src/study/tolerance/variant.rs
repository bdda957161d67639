//! Variants: what a draw makes of a plan. Numbers in this kernel are SI units: V, A, Ω, K.

use super::Spreads;
use super::draw::{Draw, Variant};
use super::model::{Case, Model, headroom};
use crate::installation::{ConverterKind, DeviceRef, Installation};
use crate::network::{
    DemandKind, Lowered, NetworkError, OperatingPoint, Outcome, Part, Workbench, input_power, inverter_output,
};
use crate::quantity::{ElectricPotential, ElectricalResistance, Power, Ratio};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::ratio::ratio;

/// What one thread keeps from variant to variant.
pub(super) struct Bench {
    benches: Vec<[Workbench; 2]>,
    networks: Vec<[crate::network::Network; 2]>,
}

fn at(list: &[f64], index: usize) -> f64 {
    list.get(index).copied().unwrap_or(1.0)
}

impl Bench {
    pub(super) fn new(model: &Model<'_>) -> Self {
        let networks = model.cases.iter().map(|case| [case.free.network.clone(), case.held.network.clone()]);
        Self {
            benches: model.cases.iter().map(|_| [Workbench::default(), Workbench::default()]).collect(),
            networks: networks.collect(),
        }
    }

    /// The margin of every limit in one variant; a limit without an operating point to read has none left: 0.
    pub(super) fn margins(
        &mut self,
        model: &Model<'_>,
        spreads: &Spreads,
        draw: &Draw,
    ) -> Result<Vec<f64>, NetworkError> {
        let variant = Variant::of(model.plan, &model.together, spreads, draw);
        let mut margins = vec![f64::INFINITY; model.limits.len()];
        let mut least = |place: usize, margin: f64| {
            if let Some(slot) = margins.get_mut(place) {
                *slot = slot.min(margin);
            }
        };
        let mut points: Vec<Option<Box<OperatingPoint>>> = Vec::with_capacity(model.cases.len());
        for ((place, case), (benches, networks)) in
            model.cases.iter().enumerate().zip(self.benches.iter_mut().zip(&mut self.networks))
        {
            let [free_bench, held_bench] = benches;
            let [free, held] = networks;
            case.vary(model.plan, &variant, &case.free, free);
            let (mut point, mut asked) = (solved(free_bench.operating_point(free)?), 0.0);
            if let Some(found) = &point {
                let mut short = false;
                let mut available = 0.0;
                for (part, current) in case.free.sources.iter().zip(&found.source_currents) {
                    if let Part::Device(DeviceRef::Alternator(index)) = part
                        && let Some(has) = model.available(case, *index)
                    {
                        asked += current.value;
                        available += has;
                        short |= current.value > has;
                    }
                }
                let limit = model.headroom.iter().find(|(_, of)| *of == place && case.driving);
                limit.into_iter().for_each(|(limit, _)| least(*limit, headroom(asked - case.resting, available)));
                if short {
                    case.vary(model.plan, &variant, &case.held, held);
                    point = solved(held_bench.operating_point(held)?);
                }
            }
            if point.is_none() {
                model.points.iter().filter(|(_, of)| *of == place).for_each(|(limit, _)| least(*limit, 0.0));
            }
            points.push(point);
        }
        let of_result = |result: usize| {
            let place = model.cases.iter().position(|case| case.result == result)?;
            points.get(place)?.as_ref()
        };
        for (limit, watch) in &model.watches {
            match of_result(watch.case) {
                Some(point) => {
                    let between =
                        |nodes: [crate::installation::NodeId; 2]| point.between(nodes.map(|node| node.0)).value;
                    least(*limit, watch.read(&between).1);
                }
                None => least(*limit, 0.0),
            }
        }
        for (limit, bearing) in &model.bearings {
            let now = model.cases.iter().zip(&points).filter(|(case, _)| case.lasts);
            let now = now.filter_map(|(case, point)| current(&case.free, point.as_ref()?, bearing.run));
            let grown = if bearing.current > 0.0 { now.fold(0.0, f64::max) / bearing.current } else { 1.0 };
            // I² · R / (limit − air) is what is shed per kelvin, which stays.
            let room = (bearing.limit - bearing.air - variant.air).max(0.0) / (bearing.limit - bearing.air).max(1e-9);
            let bears = (room / at(&variant.conductors, bearing.run)).sqrt();
            least(*limit, if grown > 0.0 { bearing.nominal * bears / grown } else { f64::INFINITY });
        }
        Ok(margins)
    }
}

fn solved(outcome: Outcome) -> Option<Box<OperatingPoint>> {
    match outcome {
        Outcome::Point(point) => Some(point),
        Outcome::None(_) => None,
    }
}

/// The current in a run, in A. Branches are lowered in the order of the runs.
fn current(lowered: &Lowered, point: &OperatingPoint, run: usize) -> Option<f64> {
    (*lowered.branches.get(run)? == Part::Run(run)).then_some(())?;
    Some(point.branch_currents.get(run)?.value.abs())
}

impl Case {
    /// Writes a variant's numbers into a network of this case.
    fn vary(&self, plan: &Installation, variant: &Variant, lowered: &Lowered, network: &mut crate::network::Network) {
        for ((part, branch), nominal) in
            lowered.branches.iter().zip(&mut network.branches).zip(&lowered.network.branches)
        {
            let value = match part {
                Part::Run(run) => self
                    .wires
                    .get(*run)
                    .map(|wire| wire.resistance(at(&variant.conductors, *run), at(&variant.joints, *run), variant.air)),
                // A diode's drop is its own; what it has beside it is a joint like any other.
                Part::Link(link) => Some(nominal.resistance.value * at(&variant.links, *link)),
                _ => None,
            };
            if let Some(value) = value {
                branch.resistance = ElectricalResistance::new::<ohm>(value);
            }
        }
        for ((part, source), nominal) in lowered.sources.iter().zip(&mut network.sources).zip(&lowered.network.sources)
        {
            let factor = match part {
                Part::Device(DeviceRef::Battery(index)) => at(&variant.batteries, *index),
                Part::Device(DeviceRef::Alternator(index)) => at(&variant.alternators, *index),
                _ => continue,
            };
            source.emf = ElectricPotential::new::<volt>(nominal.emf.value * factor);
        }
        for ((part, demand), nominal) in lowered.demands.iter().zip(&mut network.demands).zip(&lowered.network.demands)
        {
            if let (Part::Device(DeviceRef::Converter(index)), DemandKind::Power(_, limit)) = (part, nominal.kind)
                && let Some(power) = self.input(plan, *index, at(&variant.losses, *index))
            {
                demand.kind = DemandKind::Power(power, limit);
            }
        }
        for (index, converter) in lowered.converters.iter().zip(&mut network.converters) {
            if let Some(nominal) = plan.converters.get(*index) {
                converter.losses = nominal.losses.scaled(Ratio::new::<ratio>(at(&variant.losses, *index)));
            }
        }
    }

    /// What a converter takes in this case with its losses changed; `None` where an array decides.
    fn input(&self, plan: &Installation, index: usize, loss: f64) -> Option<Power> {
        let (converter, of) = (plan.converters.get(index)?, plan.cases.get(self.of_case)?);
        let losses = converter.losses.scaled(Ratio::new::<ratio>(loss));
        match converter.kind {
            ConverterKind::DcDcCharger => Some(losses.input(converter.output_current? * converter.output_voltage)),
            ConverterKind::Inverter => Some(losses.input(inverter_output(plan, of, index))),
            _ => {
                let nominal = input_power(plan, of, index);
                (nominal.value > 0.0).then_some(nominal)
            }
        }
    }
}
