//! What charges what: the batteries and banks that a charger reaches, with the window of each.

use super::paths::{Ways, are_joined};
use crate::data::tables::constants;
use crate::installation::{Battery, Chemistry, Converter, ConverterKind, Installation, NodeId, Place, Zone};
use crate::network::joined;
use crate::quantity::{ElectricCurrent, ElectricPotential, celsius};
use crate::source::ChargeWindow;

/// A battery, or a bank of several in series, that a charger reaches.
pub(crate) struct Charged<'a> {
    /// Its batteries, from the most positive down.
    pub(crate) batteries: Vec<&'a Battery>,
    /// The most positive of them.
    pub(crate) first: &'a Battery,
    /// How many 12 V blocks it has.
    pub(crate) blocks: f64,
    /// With what all of it is charged.
    pub(crate) window: Option<ChargeWindow>,
    /// Its highest charge voltage.
    pub(crate) charge_voltage: ElectricPotential,
}

impl<'a> Charged<'a> {
    fn of(first: &'a Battery, batteries: Vec<&'a Battery>) -> Self {
        let blocks: f64 = batteries.iter().map(|battery| battery.chemistry.blocks(battery.nominal).value).sum();
        let window = first.chemistry.charge_window().map(|window| ChargeWindow {
            absorption: window.absorption.map(|voltage| voltage * blocks),
            float: window.float.map(|voltage| voltage * blocks),
            equalise: window.equalise.map(|voltage| voltage * blocks),
            per_kelvin: window.per_kelvin * blocks,
            ..window
        });
        let none = ElectricPotential::default();
        let charge_voltage = batteries.iter().fold(none, |sum, battery| sum + battery.charge_voltage);
        Self { batteries, first, blocks, window, charge_voltage }
    }

    /// What it is called in a message.
    pub(crate) fn called(&self) -> String {
        match self.batteries.as_slice() {
            [_] => self.first.name.clone(),
            all => all.iter().map(|battery| battery.name.as_str()).collect::<Vec<_>>().join(" and "),
        }
    }

    /// Its absorption: from what fills it to what it bears.
    pub(crate) fn absorption(&self) -> Option<[ElectricPotential; 2]> {
        let [low, high] = self.window?.absorption;
        Some([low.min(self.charge_voltage), high.min(self.charge_voltage)])
    }
}

/// Whether a converter charges batteries.
pub(crate) fn is_charger(converter: &Converter) -> bool {
    !matches!(converter.kind, ConverterKind::Buck | ConverterKind::Inverter)
}

/// The batteries and banks whose positive an output reaches; a bank goes down to the battery that the output's negative
/// reaches.
pub(crate) fn reached<'a>(plan: &'a Installation, ways: &Ways, output: [NodeId; 2]) -> Vec<Charged<'a>> {
    let firsts = plan.batteries.iter().enumerate();
    let firsts = firsts.filter(|(_, battery)| ways.reaches(battery.nodes[0], output[0]));
    let of =
        |index| chain(plan, ways, index, output).into_iter().filter_map(|index| plan.batteries.get(index)).collect();
    firsts.map(|(index, first)| Charged::of(first, of(index))).collect()
}

/// A battery with those in series below it, down to the output's negative.
fn chain(plan: &Installation, ways: &Ways, first: usize, output: [NodeId; 2]) -> Vec<usize> {
    let mut found = vec![first];
    let mut last = plan.batteries.get(first);
    while let Some(battery) = last.filter(|last| !ways.reaches(last.nodes[1], output[1])) {
        let below = |one: &Battery| ways.reaches(one.nodes[0], battery.nodes[1]);
        let Some(next) = plan.batteries.iter().position(below).filter(|_| found.len() < plan.batteries.len()) else {
            // Nothing leads on to the output: what it hangs on is told by other rules.
            return vec![first];
        };
        found.push(next);
        last = plan.batteries.get(next);
    }
    found
}

/// By battery, what first charges it: a charger, or an alternator that it is joined to.
pub(crate) fn charged_by<'a>(plan: &'a Installation, ways: &Ways) -> Vec<Option<&'a str>> {
    let mut found = vec![None; plan.batteries.len()];
    let chargers = plan.converters.iter().filter(|one| is_charger(one));
    let outputs = chargers.filter_map(|one| Some((one.name.as_str(), one.output?)));
    let alternators = plan.alternators.iter().map(|one| (one.name.as_str(), one.nodes));
    for (name, output) in outputs.chain(alternators) {
        let firsts = plan.batteries.iter().enumerate().filter(|(_, one)| ways.reaches(one.nodes[0], output[0]));
        for battery in firsts.flat_map(|(index, _)| chain(plan, ways, index, output)) {
            if let Some(slot @ None) = found.get_mut(battery) {
                *slot = Some(name);
            }
        }
    }
    found
}

/// The zone in which a battery stands, when stated.
pub(crate) fn zone_of<'a>(plan: &'a Installation, battery: &Battery) -> Option<&'a Zone> {
    plan.zones.get(plan.nodes.get(battery.nodes[0].0)?.zone?)
}

/// What goes into a battery at most, and whence.
pub(crate) type Inflow<'a> = (ElectricCurrent, Vec<&'a str>);

/// By battery, the most that all chargers put into it at once, by its share of the capacity that is joined to it, with their
/// names.
///
/// What the engine feeds and what the shore supply feeds do not charge together in a vehicle whose charger is told that the
/// engine runs: whichever is more counts.
pub(crate) fn inflows<'a>(plan: &'a Installation, ways: &Ways) -> Vec<Inflow<'a>> {
    let mut most: Vec<Inflow<'a>> = vec![Inflow::default(); plan.batteries.len()];
    for case in plan.cases.iter().filter(|case| case.is_usual()) {
        let island = joined(plan, case);
        let mut shares: Vec<Vec<(&Converter, ElectricCurrent)>> = vec![Vec::new(); plan.batteries.len()];
        for converter in plan.converters.iter().filter(|one| is_charger(one)) {
            let Some((output, current)) = converter.output.zip(converter.output_current) else { continue };
            let firsts = || {
                let all = plan.batteries.iter().enumerate();
                all.filter(|(_, one)| are_joined(&island, one.nodes[0], output[0]))
            };
            let together: f64 = firsts().map(|(_, one)| one.capacity.value).sum();
            for (index, first) in firsts() {
                let share = current * (first.capacity.value / together);
                for battery in chain(plan, ways, index, output) {
                    if let Some(list) = shares.get_mut(battery) {
                        list.push((converter, share));
                    }
                }
            }
        }
        for (most, shares) in most.iter_mut().zip(&shares) {
            let now = at_once(plan, shares);
            if now.0 > most.0 {
                *most = now;
            }
        }
    }
    most
}

fn at_once<'a>(plan: &Installation, shares: &[(&'a Converter, ElectricCurrent)]) -> Inflow<'a> {
    let apart = |one: &Converter, left_out: ConverterKind| {
        let by_engine = one.kind == ConverterKind::DcDcCharger && one.running_signal;
        one.kind == left_out && (one.kind == ConverterKind::ShoreCharger || by_engine)
    };
    let without = |left_out: Option<ConverterKind>| {
        let counted = shares.iter().filter(|(one, _)| left_out.is_none_or(|kind| !apart(one, kind)));
        counted.fold(Inflow::default(), |(sum, mut names), (one, current)| {
            names.push(one.name.as_str());
            (sum + *current, names)
        })
    };
    if plan.place != Place::Vehicle {
        return without(None);
    }
    let driving = without(Some(ConverterKind::ShoreCharger));
    let shore = without(Some(ConverterKind::DcDcCharger));
    if shore.0 > driving.0 { shore } else { driving }
}

/// What a battery usually takes at 25 °C.
pub(crate) fn usual_current(battery: &Battery) -> ElectricCurrent {
    battery.storage.most_charge(celsius(25.0))
}

/// The most that a battery is to be charged with, where that is stated.
pub(crate) fn most_current(battery: &Battery) -> Option<ElectricCurrent> {
    battery.charge_limit.or(battery.current_limit)
}

/// Whether frost must stop its charge.
pub(crate) fn suffers_in_frost(chemistry: Chemistry) -> bool {
    chemistry.acceptance_at(celsius(constants::FROST_C - 1.0)).value <= 0.0
}
