//! The way of the current from a source to a consumer and back, with the voltage at every stop.

use serde::Serialize;

use super::paths::Step;
use super::rules::{Watch, counted_from, watch};
use super::{CaseResult, Judgement};
use crate::installation::{DeviceRef, NodeId};
use crate::network::Part;
use crate::quantity::Length;
use crate::study::cable::round9;

/// A consumer's way out and back.
#[derive(Clone, Debug, Serialize)]
pub struct VoltagePathRecord {
    /// The consumer.
    pub consumer: String,
    /// What its drop counts from in its worst case; two names where the terminals belong to a bank.
    pub source: String,
    /// Drop that is permitted; null where no rule sets one.
    pub limit_v: Option<f64>,
    /// From the source's positive terminal to the consumer's.
    pub out: Vec<StopRecord>,
    /// From the consumer's negative terminal to the source's; lengths go on from those of `out`.
    pub back: Vec<StopRecord>,
    /// The cases in which the consumer runs and is fed, in the order of the plan.
    pub cases: Vec<PathCaseRecord>,
}

/// A node on the way.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StopRecord {
    /// Its name.
    pub node: String,
    /// The run, isolator, relay or other link that leads here from the stop before; null at the start of either side.
    pub by: Option<String>,
    /// Cut length of the conductors from the source up to here.
    pub length_m: f64,
}

/// The way in one case.
#[derive(Clone, Debug, Serialize)]
pub struct PathCaseRecord {
    /// The case.
    pub case: String,
    /// What the consumer draws.
    pub current_a: f64,
    /// Voltage of each stop of `out` over the source's negative terminal.
    pub out_v: Vec<f64>,
    /// The same of each stop of `back`.
    pub back_v: Vec<f64>,
    /// What is lost between source and consumer, both sides together; below zero where another source holds the consumer
    /// higher.
    pub drop_v: f64,
    /// How far the rule on voltage drop is met, which counts from the highest source of the case; null where it asks for
    /// nothing or nothing is lost.
    pub margin: Option<f64>,
}

/// What draws from a pair of nodes.
struct Consumer<'a> {
    name: &'a str,
    device: DeviceRef,
    nodes: [NodeId; 2],
    /// The terminals of its array, for a solar controller.
    array: Option<[NodeId; 2]>,
}

/// A side of the way: its stops, and their nodes.
type Side = (Vec<StopRecord>, Vec<NodeId>);

impl Judgement {
    /// The way of one consumer: a load, or a converter by its input. `None` where there is no such consumer or no source
    /// reaches both its terminals.
    ///
    /// ```
    /// use loomwright::{study::judge::judge, text::read_plan};
    /// let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// let judgement = judge(&plan)?;
    /// let path = judgement.voltage_path("lamp").ok_or("it is fed")?;
    /// assert!(path.cases.iter().all(|case| case.drop_v > 0.0));
    /// assert!(judgement.voltage_path("moon").is_none());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn voltage_path(&self, consumer: &str) -> Option<VoltagePathRecord> {
        let watches = watch(&self.installation, &self.ways, &self.cases);
        self.consumers().iter().find(|one| one.name == consumer).and_then(|one| self.path_of(one, &watches))
    }

    /// The ways of all consumers, the one with least margin first.
    pub fn voltage_paths(&self) -> Vec<VoltagePathRecord> {
        let watches = watch(&self.installation, &self.ways, &self.cases);
        let mut found: Vec<VoltagePathRecord> =
            self.consumers().iter().filter_map(|one| self.path_of(one, &watches)).collect();
        let least =
            |path: &VoltagePathRecord| path.cases.iter().filter_map(|case| case.margin).fold(f64::INFINITY, f64::min);
        found.sort_by(|one, other| least(one).total_cmp(&least(other)));
        found
    }

    fn consumers(&self) -> Vec<Consumer<'_>> {
        let plan = &self.installation;
        let loads = plan.loads.iter().enumerate().filter_map(|(index, load)| {
            Some(Consumer { name: &load.name, device: DeviceRef::Load(index), nodes: load.nodes?, array: None })
        });
        let converters = plan.converters.iter().enumerate().filter_map(|(index, converter)| {
            Some(Consumer {
                name: &converter.name,
                device: DeviceRef::Converter(index),
                nodes: converter.input?,
                array: plan.array_terminals(index),
            })
        });
        loads.chain(converters).collect()
    }

    fn path_of(&self, consumer: &Consumer<'_>, watches: &[Watch<'_>]) -> Option<VoltagePathRecord> {
        let plan = &self.installation;
        let drops: Vec<&Watch<'_>> = watches
            .iter()
            .filter(|one| one.rule == "voltage-drop" && one.subject == consumer.name && one.nodes == consumer.nodes)
            .collect();
        let margin = |watch: &Watch<'_>| {
            let case = self.cases.get(watch.case)?;
            Some(watch.read(&|nodes| case.between(nodes).value).1)
        };
        let running = |(place, case): (usize, &CaseResult)| {
            let part = Part::Device(consumer.device);
            let (_, current) = case.demands.iter().find(|(found, _)| *found == part)?;
            let drop = drops.iter().find(|watch| watch.case == place).and_then(|watch| margin(watch));
            Some((place, current.value, drop))
        };
        let running: Vec<(usize, f64, Option<f64>)> = self.cases.iter().enumerate().filter_map(running).collect();
        // Where it is worst off: by the rule, or where it sees the least voltage.
        let seen =
            |place: usize| self.cases.get(place).map_or(f64::INFINITY, |case| case.between(consumer.nodes).value);
        let worst = running.iter().min_by(|one, other| {
            let margin = |of: Option<f64>| of.unwrap_or(f64::INFINITY);
            margin(one.2).total_cmp(&margin(other.2)).then_with(|| seen(one.0).total_cmp(&seen(other.0)))
        });
        let held_up = worst.and_then(|(place, ..)| counted_from(plan, self.cases.get(*place)?, consumer.nodes));
        let feeding = || self.ways.feeding(plan, consumer.device, consumer.nodes);
        let source = consumer.array.or(held_up).or_else(feeding)?;
        let (out, there) = self.side(source[0], consumer.nodes[0], 0.0)?;
        let (back, home) = self.side(consumer.nodes[1], source[1], out.last().map_or(0.0, |stop| stop.length_m))?;
        let cases = running.iter().filter_map(|(place, current, margin)| {
            let case = self.cases.get(*place)?;
            let of = plan.cases.get(case.case).filter(|of| case.point.is_some() && !of.lock_out)?;
            let joined = crate::network::joined(plan, of);
            let together = |one: NodeId, other: NodeId| super::paths::are_joined(&joined, one, other);
            let fed = together(source[0], consumer.nodes[0]) && together(source[1], consumer.nodes[1]);
            if !fed || !there.iter().chain(&home).all(|node| case.supplies(*node)) {
                return None;
            }
            let over = |nodes: &[NodeId]| -> Vec<f64> {
                nodes.iter().map(|node| round9(case.between([*node, source[1]]).value)).collect()
            };
            Some(PathCaseRecord {
                case: of.name.clone(),
                current_a: round9(*current),
                out_v: over(&there),
                back_v: over(&home),
                drop_v: round9((case.between(source) - case.between(consumer.nodes)).value),
                margin: margin.filter(|margin| margin.is_finite()).map(round9),
            })
        });
        Some(VoltagePathRecord {
            consumer: consumer.name.to_owned(),
            source: self.source_name(source),
            limit_v: drops.first().map(|watch| round9(watch.limit)),
            cases: cases.collect(),
            out,
            back,
        })
    }

    /// The shortest way between two nodes, its lengths counted on from `before`, m.
    fn side(&self, from: NodeId, to: NodeId, before: f64) -> Option<Side> {
        let plan = &self.installation;
        let mut length = before;
        let (mut stops, mut nodes) = (Vec::new(), Vec::new());
        for (node, step) in self.ways.stops(from, to)? {
            let by = step.and_then(|step| match step {
                Step::Run(run) => plan.runs.get(run).map(|run| (run.name.clone(), run.cut_length())),
                Step::Link(link) => plan.links.get(link).map(|link| (link.name.clone(), Length::default())),
            });
            length += by.as_ref().map_or(0.0, |(_, more)| more.value);
            stops.push(StopRecord {
                node: self.node_name(node),
                by: by.map(|(name, _)| name),
                length_m: round9(length),
            });
            nodes.push(node);
        }
        Some((stops, nodes))
    }

    /// Whose terminals these are.
    fn source_name(&self, source: [NodeId; 2]) -> String {
        let plan = &self.installation;
        let batteries = plan.batteries.iter().map(|one| (one.name.clone(), one.nodes));
        let alternators = plan.alternators.iter().map(|one| (one.name.clone(), one.nodes));
        let outputs = plan.converters.iter().filter_map(|one| Some((one.name.clone(), one.output?)));
        let arrays = plan.converters.iter().enumerate();
        let arrays =
            arrays.filter_map(|(index, one)| Some((format!("array of {}", one.name), plan.array_terminals(index)?)));
        let all: Vec<(String, [NodeId; 2])> = batteries.chain(alternators).chain(outputs).chain(arrays).collect();
        let whole = all.iter().find(|(_, nodes)| *nodes == source).map(|(name, _)| name.clone());
        let end = |side: usize| all.iter().find(|(_, nodes)| nodes.get(side) == source.get(side));
        let bank = || -> Vec<String> { [0, 1].into_iter().filter_map(end).map(|(name, _)| name.clone()).collect() };
        whole.unwrap_or_else(|| bank().join(" and "))
    }
}
