//! A plan as a forecast sees it: banks, what charges them, what hangs on them, and what couples them.
//!
//! Bare numbers inside are V, A, Ω, W.

use std::collections::BTreeMap;

use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;

use super::ForecastError;
use super::bank::Bank;
use crate::converter::Losses;
use crate::data::tables::constants;
use crate::installation::{
    Battery, Converter, ConverterKind, Installation, Link, LinkKind, LoadKind, NodeId, Regulation,
};
use crate::network::islands;
use crate::source::{SensingRelay, as_lead};
use crate::study::judge::Judgement;

/// A bank of batteries with what charges it.
#[derive(Clone, Debug)]
pub(super) struct Net {
    pub(super) bank: Bank,
    /// The first battery of the bank.
    pub(super) battery: usize,
    /// Whether an alternator charges it and no converter stands between.
    pub(super) is_starter: bool,
    pub(super) engines: Vec<Engine>,
    pub(super) shores: Vec<Shore>,
    pub(super) suns: Vec<SunSource>,
    /// Chargers that end here.
    pub(super) chargers: Vec<usize>,
    /// What hangs on it, by the converter between, if any.
    pub(super) groups: Vec<Group>,
}

/// An alternator at a bank.
#[derive(Clone, Copy, Debug)]
pub(super) struct Engine {
    pub(super) set: f64,
    pub(super) hot: f64,
    pub(super) idle: f64,
}

/// A charger on shore power.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shore {
    pub(super) set: f64,
    pub(super) most: f64,
}

/// A solar controller with its arrays.
#[derive(Clone, Debug)]
pub(super) struct SunSource {
    pub(super) set: f64,
    pub(super) most: f64,
    pub(super) losses: Losses,
    pub(super) tracks: bool,
    /// Indexes into the arrays of the plan.
    pub(super) arrays: Vec<usize>,
}

/// A charger from one bank to another.
#[derive(Clone, Debug)]
pub(super) struct Charger {
    pub(super) from: usize,
    pub(super) set: f64,
    pub(super) most: f64,
    /// A, at its input.
    pub(super) input_limit: f64,
    pub(super) losses: Losses,
    pub(super) lock_out: f64,
    pub(super) restart: f64,
    pub(super) running_signal: bool,
}

/// Loads behind one converter, or straight on a bank.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub(super) losses: Option<Losses>,
    /// Whether it takes its own loss all the time, as a buck converter does, or only with a load.
    pub(super) always_on: bool,
    pub(super) loads: Vec<usize>,
}

/// What joins two banks at times: a relay, a switch, a diode.
#[derive(Clone, Debug)]
pub(super) struct Coupling {
    pub(super) name: String,
    pub(super) nets: [usize; 2],
    pub(super) ohms: f64,
    pub(super) drop: f64,
    pub(super) one_way: bool,
    pub(super) closed_when: [bool; 3],
    pub(super) senses: Option<SensingRelay>,
}

/// A plan ready to be stepped through time.
#[derive(Clone, Debug)]
pub(super) struct Model {
    pub(super) nets: Vec<Net>,
    pub(super) chargers: Vec<Charger>,
    pub(super) couplings: Vec<Coupling>,
    /// The order in which nets are settled: those that are charged from others first.
    pub(super) order: Vec<usize>,
    /// Loads that hang on no battery.
    pub(super) unfed: Vec<String>,
}

impl Net {
    /// How many sources end here.
    pub(super) fn sources(&self) -> usize {
        self.engines.len() + self.shores.len() + self.suns.len() + self.chargers.len()
    }
}

fn is_permanent(link: &Link) -> bool {
    !matches!(link.kind, LinkKind::Relay | LinkKind::Diode) && link.closed_when == [true; 3]
}

/// Batteries in series, first the one whose positive terminal is the string's.
fn strings<'a>(batteries: &'a [Battery], island: &dyn Fn(NodeId) -> usize) -> Vec<Vec<&'a Battery>> {
    let below = |one: &Battery| batteries.iter().find(|next| island(next.nodes[0]) == island(one.nodes[1]));
    let is_top = |one: &&Battery| !batteries.iter().any(|above| island(above.nodes[1]) == island(one.nodes[0]));
    let mut found = Vec::new();
    for top in batteries.iter().filter(is_top) {
        let mut string = vec![top];
        while let Some(next) = string.last().and_then(|last| below(last)).filter(|_| string.len() <= batteries.len()) {
            string.push(next);
        }
        found.push(string);
    }
    found
}

impl Model {
    /// # Errors
    /// [`ForecastError`] when nothing stores, or chargers feed one another in a ring.
    pub(super) fn new(judgement: &Judgement) -> Result<Self, ForecastError> {
        let plan = &judgement.installation;
        let permanent = plan.links.iter().filter(|link| is_permanent(link)).map(|link| link.nodes);
        let joined = plan.runs.iter().map(|run| [run.from, run.to]).chain(permanent);
        let islands = islands(plan.nodes.len(), joined.map(|nodes| nodes.map(|node| node.0)));
        let island = |node: NodeId| islands.get(node.0).copied().unwrap_or(usize::MAX);
        // Strings by the island of their positive end.
        let mut banks: BTreeMap<usize, Vec<Vec<&Battery>>> = BTreeMap::new();
        for string in strings(&plan.batteries, &island) {
            if let Some(top) = string.first() {
                banks.entry(island(top.nodes[0])).or_default().push(string);
            }
        }
        let mut nets = Vec::new();
        let mut net_of: BTreeMap<usize, usize> = BTreeMap::new();
        for (positive, strings) in &banks {
            let Some(bank) = Bank::new(strings)? else { continue };
            let members: Vec<&Battery> = strings.iter().flatten().copied().collect();
            let first = plan.batteries.iter().position(|one| members.iter().any(|member| member.name == one.name));
            net_of.insert(*positive, nets.len());
            // What hangs between two batteries of a string draws from the string.
            for member in &members {
                net_of.entry(island(member.nodes[0])).or_insert(nets.len());
            }
            nets.push(Net {
                bank,
                battery: first.unwrap_or_default(),
                is_starter: false,
                engines: Vec::new(),
                shores: Vec::new(),
                suns: Vec::new(),
                chargers: Vec::new(),
                groups: Vec::new(),
            });
        }
        if nets.is_empty() {
            return Err(ForecastError::NoBattery);
        }
        let mut model =
            Self { nets, chargers: Vec::new(), couplings: Vec::new(), order: Vec::new(), unfed: Vec::new() };
        let at = |node: NodeId| net_of.get(&island(node)).copied();
        model.couple(judgement, &at);
        model.engines(plan, &at, &island);
        model.converters(plan, &at);
        model.loads(plan, &at, &island);
        model.order = model.settle_order()?;
        Ok(model)
    }

    /// Relays, switches and diodes between banks.
    fn couple(&mut self, judgement: &Judgement, at: &dyn Fn(NodeId) -> Option<usize>) {
        let plan = &judgement.installation;
        for link in plan.links.iter().filter(|link| !is_permanent(link)) {
            let [Some(from), Some(to)] = link.nodes.map(at) else { continue };
            if from == to {
                continue;
            }
            let ends = [from, to].map(|net| self.nets.get(net).and_then(|net| plan.batteries.get(net.battery)));
            // The whole loop: both conductors and every joint on the way, as the check has them at rest.
            let way = |pole: usize| {
                let [Some(one), Some(other)] = ends.map(|end| end.and_then(|battery| battery.nodes.get(pole).copied()))
                else {
                    return 0.0;
                };
                judgement.way_resistance(one, other).get::<ohm>()
            };
            self.couplings.push(Coupling {
                name: link.name.clone(),
                nets: [from, to],
                ohms: (way(0) + way(1) + link.resistance.get::<ohm>()).max(1e-6),
                drop: link.drop.get::<volt>(),
                one_way: link.kind == LinkKind::Diode,
                closed_when: link.closed_when,
                senses: link.senses,
            });
        }
    }

    /// Alternators: at the bank that they are joined to, else at each that a diode leads to.
    fn engines(&mut self, plan: &Installation, at: &dyn Fn(NodeId) -> Option<usize>, island: &dyn Fn(NodeId) -> usize) {
        for alternator in &plan.alternators {
            let here = island(alternator.nodes[0]);
            let beyond = plan.links.iter().filter(|link| !is_permanent(link) && island(link.nodes[0]) == here);
            let through = beyond.filter_map(|link| Some((at(link.nodes[1])?, link.drop.get::<volt>())));
            let reached: Vec<(usize, f64)> = match at(alternator.nodes[0]) {
                Some(net) => vec![(net, 0.0)],
                None => through.collect(),
            };
            // What several share is split evenly: the cautious side for the one that matters.
            let share = f64::from(u32::try_from(reached.len().max(1)).unwrap_or(1));
            // What its regulation lets sink cannot be counted on above the float voltage of its bank.
            let set = alternator.voltage.get::<volt>();
            let held = constants::VARIABLE_HOLDS_V * (as_lead(plan.system_voltage).get::<volt>() / 12.0);
            let lowered = if alternator.regulation == Regulation::Variable { set.min(held) } else { set };
            for (net, drop) in reached {
                let Some(net) = self.nets.get_mut(net) else { continue };
                net.is_starter = true;
                net.engines.push(Engine {
                    set: lowered - drop,
                    hot: alternator.hot_output.get::<ampere>() / share,
                    idle: alternator.idle_output.get::<ampere>() / share,
                });
            }
        }
    }

    fn converters(&mut self, plan: &Installation, at: &dyn Fn(NodeId) -> Option<usize>) {
        for (index, converter) in plan.converters.iter().enumerate() {
            let Some(to) = converter.output.and_then(|output| at(output[0])) else { continue };
            let set = converter.output_voltage.get::<volt>();
            let most = converter.output_current.map_or(0.0, |current| current.get::<ampere>());
            let from = converter.input.and_then(|input| at(input[0]));
            let charger = from.filter(|from| *from != to).map(|from| charger(converter, from, set, most));
            let Some(net) = self.nets.get_mut(to) else { continue };
            match converter.kind {
                ConverterKind::ShoreCharger => net.shores.push(Shore { set, most }),
                ConverterKind::SolarController => {
                    let arrays = plan.arrays.iter().enumerate().filter(|(_, array)| array.controller == index);
                    net.suns.push(SunSource {
                        set,
                        most,
                        losses: converter.losses,
                        tracks: converter.tracks,
                        arrays: arrays.map(|(place, _)| place).collect(),
                    });
                }
                ConverterKind::DcDcCharger | ConverterKind::Buck => {
                    if let Some(charger) = charger {
                        net.chargers.push(self.chargers.len());
                        self.chargers.push(charger);
                    } else if from.is_none() {
                        // Straight from the alternator: there while the engine runs.
                        net.engines.push(Engine { set, hot: most, idle: most });
                    }
                }
                ConverterKind::Inverter => {}
            }
        }
    }

    /// Loads by what stands between them and their bank.
    fn loads(&mut self, plan: &Installation, at: &dyn Fn(NodeId) -> Option<usize>, island: &dyn Fn(NodeId) -> usize) {
        let mut groups: BTreeMap<(usize, Option<usize>), Vec<usize>> = BTreeMap::new();
        for (index, load) in plan.loads.iter().enumerate() {
            let behind = |converter: usize| {
                let input = plan.converters.get(converter)?.input?;
                Some((at(input[0])?, Some(converter)))
            };
            let place = match (load.inverter, load.nodes) {
                (Some(inverter), _) => behind(inverter),
                (None, Some(nodes)) => at(nodes[0]).map(|net| (net, None)).or_else(|| {
                    let feeds = |one: &Converter| {
                        one.output.is_some_and(|output| island(output[0]) == island(nodes[0])) && one.input.is_some()
                    };
                    behind(plan.converters.iter().position(feeds)?)
                }),
                (None, None) => None,
            };
            match place {
                Some(place) => groups.entry(place).or_default().push(index),
                None => self.unfed.push(load.name.clone()),
            }
        }
        for ((net, converter), loads) in groups {
            let converter = converter.and_then(|converter| plan.converters.get(converter));
            let Some(net) = self.nets.get_mut(net) else { continue };
            net.groups.push(Group {
                losses: converter.map(|converter| converter.losses),
                always_on: converter.is_some_and(|converter| converter.kind != ConverterKind::Inverter),
                loads,
            });
        }
    }

    /// Nets that are charged from others before those.
    fn settle_order(&self) -> Result<Vec<usize>, ForecastError> {
        let mut order: Vec<usize> = Vec::new();
        while order.len() < self.nets.len() {
            let waits = |net: usize| {
                // Something that it feeds is not settled yet.
                self.nets.iter().enumerate().any(|(to, other)| {
                    !order.contains(&to)
                        && other.chargers.iter().any(|one| self.chargers.get(*one).is_some_and(|one| one.from == net))
                })
            };
            let ready = (0..self.nets.len()).find(|net| !order.contains(net) && !waits(*net));
            order.push(ready.ok_or(ForecastError::Ring)?);
        }
        Ok(order)
    }
}

fn charger(converter: &Converter, from: usize, set: f64, most: f64) -> Charger {
    let volts = |value: Option<crate::quantity::ElectricPotential>| value.map_or(0.0, |value| value.get::<volt>());
    Charger {
        from,
        set,
        most,
        input_limit: converter.input_limit.map_or(f64::INFINITY, |limit| limit.get::<ampere>()),
        losses: converter.losses,
        lock_out: volts(converter.lock_out),
        restart: volts(converter.restart),
        running_signal: converter.running_signal,
    }
}

/// What a load draws while it runs: constant power in W, constant current in A.
pub(super) fn drawn(kind: LoadKind, nominal: crate::quantity::ElectricPotential) -> (f64, f64) {
    match kind {
        LoadKind::Power(power) => (power.value, 0.0),
        LoadKind::Current(current) => (0.0, current.value),
        LoadKind::Resistance(resistance) => (0.0, (nominal / resistance).value),
    }
}
