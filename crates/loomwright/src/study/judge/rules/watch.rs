//! What is watched of voltages: every consumer, under every rule, in every case, as something that is read off an operating
//! point. The rules read the judged points; the study of tolerances reads thousands of others.

use std::borrow::Cow;

use crate::data::{Confidence, tables::constants};
use crate::installation::{Bound, Converter, ConverterKind, DeviceRef, Function, Installation, Load, NodeId};
use crate::network::{Part, delivers, joined, runs_in};
use crate::study::judge::operate::CaseResult;
use crate::study::judge::paths::Ways;

/// What is read.
enum Kind {
    /// Volts lost from the highest of these pairs, or none where none of them has a voltage.
    Lost(Vec<[NodeId; 2]>),
    /// Volts that there are, of at least the limit.
    Least,
    /// Volts by which a charger's output lies above its battery.
    Above([NodeId; 2]),
}

/// One consumer under one rule in one case.
pub(crate) struct Watch<'a> {
    /// The rule.
    pub(crate) rule: &'static str,
    /// What it is about.
    pub(crate) subject: Cow<'a, str>,
    /// Its terminals.
    pub(crate) nodes: [NodeId; 2],
    /// Those of the source that it hangs on.
    pub(crate) source: [NodeId; 2],
    /// Place of the case among those that were solved.
    pub(crate) case: usize,
    /// The limit, in V.
    pub(crate) limit: f64,
    /// Where the limit comes from.
    pub(crate) citation: String,
    /// How far that can be trusted.
    pub(crate) confidence: Confidence,
    kind: Kind,
}

impl Watch<'_> {
    /// What it measures in V, and its margin, by the voltage between any two nodes.
    pub(crate) fn read(&self, between: &dyn Fn([NodeId; 2]) -> f64) -> (f64, f64) {
        let here = between(self.nodes);
        let most = |lost: f64| (lost, if lost > 0.0 { self.limit / lost } else { f64::INFINITY });
        match &self.kind {
            Kind::Least => (here, here / self.limit),
            Kind::Above(battery) => most(here - between(*battery)),
            Kind::Lost(from) => {
                let highest = from.iter().map(|pair| between(*pair)).fold(0.0, f64::max);
                most(if highest > 0.0 { highest - here } else { 0.0 })
            }
        }
    }
}

/// A solved case that is about voltages, with what of it all consumers share.
struct Settled<'a> {
    place: usize,
    result: &'a CaseResult,
    of: &'a crate::installation::Case,
    island: Vec<usize>,
    /// Positive and negative terminal of everything that may give in this case.
    driving: Vec<[NodeId; 2]>,
}

impl Settled<'_> {
    fn together(&self, one: NodeId, other: NodeId) -> bool {
        self.island.get(one.0).is_some() && self.island.get(one.0) == self.island.get(other.0)
    }

    /// The pairs that drops count from: between the highest positive terminal of the sources that reach a consumer in this
    /// case and the lowest negative terminal of the same sources, or of their series bank. So parallel sources, series banks
    /// and the order of the plan make no difference.
    fn from(&self, nodes: [NodeId; 2]) -> Vec<[NodeId; 2]> {
        let (feeding, others): (Vec<[NodeId; 2]>, Vec<[NodeId; 2]>) =
            self.driving.iter().partition(|source| self.together(source[0], nodes[0]));
        let returning = |sources: &[[NodeId; 2]]| -> Vec<NodeId> {
            sources.iter().map(|source| source[1]).filter(|node| self.together(*node, nodes[1])).collect()
        };
        let mut negatives = returning(&feeding);
        if negatives.is_empty() {
            // A series bank: its negative end belongs to another battery than its positive end.
            negatives = returning(&others);
        }
        feeding.iter().flat_map(|source| negatives.iter().map(|negative| [source[0], *negative])).collect()
    }
}

fn settled<'a>(installation: &'a Installation, cases: &'a [CaseResult]) -> Vec<Settled<'a>> {
    cases.iter().enumerate().filter_map(|(place, result)| Settled::new(installation, place, result)).collect()
}

/// The pair of terminals with the highest voltage of those that the drop of a consumer counts from in a case; `None` where
/// nothing gives.
pub(crate) fn counted_from(installation: &Installation, case: &CaseResult, nodes: [NodeId; 2]) -> Option<[NodeId; 2]> {
    let pairs = Settled::new(installation, 0, case)?.from(nodes);
    pairs.into_iter().reduce(|best, next| if case.between(next) > case.between(best) { next } else { best })
}

impl<'a> Settled<'a> {
    fn new(installation: &'a Installation, place: usize, result: &'a CaseResult) -> Option<Self> {
        let of = installation.cases.get(result.case).filter(|of| result.point.is_some() && !of.lock_out)?;
        let driving = result.sources.iter().filter_map(|(part, _)| match part {
            Part::Device(DeviceRef::Battery(index)) => installation.batteries.get(*index).map(|one| one.nodes),
            Part::Device(DeviceRef::Alternator(index)) => installation.alternators.get(*index).map(|one| one.nodes),
            Part::Output(index) => installation.converters.get(*index).and_then(|one| one.output),
            _ => None,
        });
        let driving = driving.collect();
        Some(Self { place, result, of, island: joined(installation, of), driving })
    }
}

/// Everything that is watched, consumer by consumer in the order of the plan, case by case.
pub(crate) fn watch<'a>(installation: &'a Installation, ways: &Ways, cases: &'a [CaseResult]) -> Vec<Watch<'a>> {
    let settled = settled(installation, cases);
    let mut found = Vec::new();
    for (index, one) in installation.loads.iter().enumerate() {
        load(installation, ways, &settled, (index, one), &mut found);
    }
    for (index, converter) in installation.converters.iter().enumerate() {
        input(installation, ways, &settled, (index, converter), &mut found);
        output(installation, ways, &settled, converter, &mut found);
    }
    found
}

fn load<'a>(
    installation: &Installation,
    ways: &Ways,
    settled: &[Settled<'_>],
    (index, load): (usize, &'a Load),
    found: &mut Vec<Watch<'a>>,
) {
    let Some(nodes) = load.nodes else { return };
    let Some(source) = ways.feeding(installation, DeviceRef::Load(index), nodes) else { return };
    let made = |rule, case, limit, citation, confidence, kind| {
        let subject = Cow::Borrowed(load.name.as_str());
        Watch { rule, subject, nodes, source, case, limit, citation, confidence, kind }
    };
    for case in settled.iter().filter(|case| runs_in(installation, case.of, index)) {
        if case.of.lasts() {
            let Bound { value: share, citation, confidence } = installation.drop_limit(load.function);
            let limit = share.value * load.nominal.value;
            let kind = Kind::Lost(case.from(nodes));
            found.push(made("voltage-drop", case.place, limit, citation, confidence, kind));
        }
        if let Some(least) = load.lowest_voltage {
            let citation = "the load's lowest voltage, stated or assumed".to_owned();
            let confidence = Confidence::Published;
            found.push(made("lowest-voltage", case.place, least.value, citation, confidence, Kind::Least));
        }
    }
}

/// A converter's input: its lock-out voltage, or the drop of an inverter or array.
fn input<'a>(
    installation: &Installation,
    ways: &Ways,
    settled: &[Settled<'_>],
    (index, converter): (usize, &'a Converter),
    found: &mut Vec<Watch<'a>>,
) {
    let Some(nodes) = converter.input else { return };
    let function = match converter.kind {
        ConverterKind::Inverter => Some(Function::Inverter),
        ConverterKind::SolarController => Some(Function::Solar),
        _ => None,
    };
    let array = converter.array.and_then(|_| installation.array_terminals(index));
    let feeding = || ways.feeding(installation, DeviceRef::Converter(index), nodes);
    let Some(source) = array.or_else(feeding) else { return };
    let subject = || Cow::Borrowed(converter.name.as_str());
    let draws = |case: &&Settled<'_>| {
        case.result.demands.iter().any(|(part, _)| *part == Part::Device(DeviceRef::Converter(index)))
    };
    for case in settled.iter().filter(draws) {
        if let Some(lock_out) = converter.lock_out {
            found.push(Watch {
                rule: "converter-input-voltage",
                subject: subject(),
                nodes,
                source,
                case: case.place,
                limit: lock_out.value * constants::ABOVE_LOCK_OUT,
                citation: "5 % above lock-out, common practice, no source".to_owned(),
                confidence: Confidence::CommonPractice,
                kind: Kind::Least,
            });
        }
        if let Some(function) = function {
            let Bound { value: share, citation, confidence } = installation.drop_limit(function);
            let (source, from, nominal) = match converter.array {
                Some((_, voltage)) => {
                    let Some(array) = array else { continue };
                    (array, vec![array], voltage)
                }
                None => (source, case.from(nodes), installation.system_voltage),
            };
            found.push(Watch {
                rule: "voltage-drop",
                subject: subject(),
                nodes,
                source,
                case: case.place,
                limit: share.value * nominal.value,
                citation,
                confidence,
                kind: Kind::Lost(from),
            });
        }
    }
}

/// A charger's output: what is lost on the way to the battery it charges.
fn output<'a>(
    installation: &Installation,
    ways: &Ways,
    settled: &[Settled<'_>],
    converter: &'a Converter,
    found: &mut Vec<Watch<'a>>,
) {
    let Some(nodes) = converter.output else { return };
    let batteries = installation.batteries.iter().map(|battery| battery.nodes);
    let Some(battery) = batteries.into_iter().find(|battery| ways.reaches(battery[0], nodes[0])) else { return };
    for case in settled.iter().filter(|case| delivers(converter.kind, case.of)) {
        found.push(Watch {
            rule: "voltage-drop",
            subject: Cow::Owned(format!("{}.out", converter.name)),
            nodes,
            source: battery,
            case: case.place,
            limit: constants::CHARGING_DROP_V,
            citation: "charging output 0.15 V, common practice, no source".to_owned(),
            confidence: Confidence::CommonPractice,
            kind: Kind::Above(battery),
        });
    }
}
