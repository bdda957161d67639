//! What is the same in all variants of a plan. Numbers in this kernel are SI units: V, A, Ω, K; temperatures in °C.

use super::draw::Together;
use crate::finding::Signal;
use crate::installation::{DeviceRef, Engine, Installation};
use crate::network::{Lowered, Part, lower};
use crate::quantity::{ElectricalResistance, in_celsius};
use crate::study::judge::{CaseResult, Judgement, Watch, watch};

/// A limit that is watched in all variants.
pub(super) struct Limit {
    pub(super) rule: &'static str,
    pub(super) subject: String,
    /// The case of least margin in the judged plan.
    pub(super) case: String,
    /// Its margin there.
    pub(super) nominal: f64,
    /// How it is told when it is not kept.
    pub(super) failing: Signal,
}

/// A stretch of a run in a case: resistance at 20 °C, air in °C, and kelvin of rise per resistance over that at 20 °C.
pub(super) struct Stretch {
    cold: f64,
    air: f64,
    rise: f64,
}

/// A run in a case.
pub(super) struct Wire {
    joints: f64,
    /// The fuse with its holder.
    fuse: f64,
    /// Resistance over that at 20 °C: a + b·t.
    law: (f64, f64),
    stretches: Vec<Stretch>,
}

/// A case: its networks, alternators asked freely and held to what they have, and its runs.
pub(super) struct Case {
    /// Its place among the solved cases, and among those of the plan.
    pub(super) result: usize,
    pub(super) of_case: usize,
    pub(super) free: Lowered,
    pub(super) held: Lowered,
    pub(super) wires: Vec<Wire>,
    /// Whether currents last: a start lasts moments.
    pub(super) lasts: bool,
    pub(super) driving: bool,
    /// Current that loads draw only for a part of the time, as the judge counts it.
    pub(super) resting: f64,
}

/// What bears the current of a run.
pub(super) struct Bearing {
    pub(super) run: usize,
    /// Its margin in the judged plan.
    pub(super) nominal: f64,
    /// The current that the judged cases bring, by which what it is judged at scales.
    pub(super) current: f64,
    /// Limit and air of the stretch that governs, °C.
    pub(super) limit: f64,
    pub(super) air: f64,
}

/// What is the same in all variants of a plan.
pub(super) struct Model<'a> {
    pub(super) plan: &'a Installation,
    pub(super) together: Together,
    pub(super) cases: Vec<Case>,
    pub(super) watches: Vec<(usize, Watch<'a>)>,
    pub(super) bearings: Vec<(usize, Bearing)>,
    /// Place of the limit on the alternators of a case, by the place of the case.
    pub(super) headroom: Vec<(usize, usize)>,
    /// Place of the limit that a case has an operating point.
    pub(super) points: Vec<(usize, usize)>,
    pub(super) limits: Vec<Limit>,
}

impl<'a> Model<'a> {
    pub(super) fn new(judgement: &'a Judgement) -> Self {
        let plan = &judgement.installation;
        let mut model = Self {
            plan,
            together: Together::of(plan),
            cases: Vec::new(),
            watches: Vec::new(),
            bearings: Vec::new(),
            headroom: Vec::new(),
            points: Vec::new(),
            limits: Vec::new(),
        };
        for (place, result) in judgement.cases.iter().enumerate() {
            model.cases.extend(case(judgement, place, result));
        }
        let name = |case: usize| {
            let of = judgement.cases.get(case).and_then(|case| plan.cases.get(case.case));
            of.map_or_else(String::new, |case| case.name.clone())
        };
        for watched in watch(plan, &judgement.ways, &judgement.cases) {
            let Some(result) = judgement.cases.get(watched.case) else { continue };
            let (_, margin) = watched.read(&|nodes| result.between(nodes).value);
            let at = model.limit((watched.rule, Signal::Warning), &watched.subject, name(watched.case), margin);
            model.watches.push((at, watched));
        }
        for run in 0..plan.runs.len() {
            if let Some(bearing) = bearing(judgement, run) {
                let subject = plan.runs.get(run).map_or("", |run| run.name.as_str());
                let case = judgement.design.get(run).map(|design| design.reason.clone()).unwrap_or_default();
                let at = model.limit(("ampacity", Signal::Danger), subject, case, bearing.nominal);
                model.bearings.push((at, bearing));
            }
        }
        let alternators: Vec<&str> = plan.alternators.iter().map(|one| one.name.as_str()).collect();
        let alternators = alternators.join(" and ");
        for place in 0..model.cases.len() {
            let Some(result) = model.cases.get(place).map(|case| case.result) else { continue };
            if model.cases.get(place).is_some_and(|case| case.driving) {
                let margin = judgement.cases.get(result).map_or(f64::INFINITY, |of| {
                    let sum = |pick: fn(&(_, _)) -> f64| of.alternators.iter().map(pick).sum::<f64>();
                    let asked = sum(|one| one.0.value) - model.cases.get(place).map_or(0.0, |case| case.resting);
                    headroom(asked, sum(|one| one.1.value))
                });
                // Every driving case has a limit of its own, as the rule has.
                let at = model.limits.len();
                let subject = alternators.clone();
                let of = judgement.cases.get(result).and_then(|case| plan.cases.get(case.case));
                let failing = alternators_fail(of);
                let case = name(result);
                model.limits.push(Limit { rule: "alternator-headroom", subject, case, nominal: margin, failing });
                model.headroom.push((at, place));
            }
            let at = model.limits.len();
            let subject = name(result);
            let (case, nominal, failing) = (name(result), f64::INFINITY, Signal::Danger);
            model.limits.push(Limit { rule: "operating-point", subject, case, nominal, failing });
            model.points.push((at, place));
        }
        model
    }

    /// The place of a limit, with the least margin that it has in the judged plan.
    fn limit(&mut self, (rule, failing): (&'static str, Signal), subject: &str, case: String, margin: f64) -> usize {
        let known = self.limits.iter().rposition(|limit| limit.rule == rule && limit.subject == subject);
        let place = known.unwrap_or(self.limits.len());
        match self.limits.get_mut(place) {
            Some(limit) if margin < limit.nominal => (limit.case, limit.nominal) = (case, margin),
            Some(_) => {}
            None => self.limits.push(Limit { rule, subject: subject.to_owned(), case, nominal: margin, failing }),
        }
        place
    }
}

/// A deficit while cruising is a failure, at idle a caution, as the rule has it.
fn alternators_fail(case: Option<&crate::installation::Case>) -> Signal {
    if case.is_some_and(|case| case.engine == Engine::Cruise) { Signal::Warning } else { Signal::Caution }
}

pub(super) fn headroom(asked: f64, available: f64) -> f64 {
    if asked > 0.0 { available / asked } else { f64::INFINITY }
}

fn case(judgement: &Judgement, place: usize, result: &CaseResult) -> Option<Case> {
    let plan = &judgement.installation;
    let of = plan.cases.get(result.case)?;
    let currents = result.point.as_ref().map(|_| &result.run_currents)?;
    let wires: Vec<Wire> = judgement
        .models
        .iter()
        .zip(currents)
        .map(|(model, current)| {
            let [joints, fixed] = model.joints().map(|value| value.value);
            let law = model.conductor.material.law_per_celsius();
            let stretches = model.stretches_at(*current).map(|(length, air, reached)| {
                let (air, reached) = (in_celsius(air), in_celsius(reached));
                let over = law.0 + law.1 * reached;
                let rise = if over > 0.0 { (reached - air) / over } else { 0.0 };
                Stretch { cold: (model.conductor.resistance_20 * length).value, air, rise }
            });
            Wire { joints, fuse: fixed - joints, law, stretches: stretches.collect() }
        })
        .collect();
    let resistances: Vec<ElectricalResistance> = result.runs.iter().map(|state| state.resistance).collect();
    let resting: f64 = if of.engine == Engine::Off { 0.0 } else { judgement.resting(result) };
    Some(Case {
        result: place,
        of_case: result.case,
        free: lower(plan, of, &resistances, false),
        held: lower(plan, of, &resistances, true),
        wires,
        lasts: of.lasts(),
        driving: of.engine != Engine::Off && of.is_usual() && !plan.alternators.is_empty(),
        resting,
    })
}

/// What a run bears over its current in the judged plan, where it carries one and does not rest on a duty cycle.
fn bearing(judgement: &Judgement, run: usize) -> Option<Bearing> {
    let (model, design) = (judgement.models.get(run)?, judgement.design.get(run)?);
    let ampacity = model.ampacity.filter(|_| design.duty.is_none() && design.current.value > 0.0)?;
    let zone = judgement.installation.zones.get(model.hottest_zone)?;
    let currents = judgement.lasting().filter_map(|case| Some(case.run_currents.get(run)?.value.abs()));
    let (limit, air) = (in_celsius(model.limit), in_celsius(zone.hottest));
    Some(Bearing { run, nominal: (ampacity / design.current).value, current: currents.fold(0.0, f64::max), limit, air })
}

impl Model<'_> {
    pub(super) fn available(&self, case: &Case, alternator: usize) -> Option<f64> {
        // Held to what they have, alternators are sources with a limit.
        let mut sources = case.held.sources.iter().zip(&case.held.network.sources);
        let found = sources.find(|(part, _)| **part == Part::Device(DeviceRef::Alternator(alternator)));
        found.and_then(|(_, source)| Some(source.limit?.value))
    }
}

impl Wire {
    /// Its resistance with conductor and joints so many times as good, and the air so many kelvin hotter.
    pub(super) fn resistance(&self, conductor: f64, joints: f64, hotter: f64) -> f64 {
        let (a, b) = self.law;
        let metal = self.stretches.iter().map(|stretch| {
            // t = air + rise·f·(a + b·t), solved for t.
            let rise = stretch.rise * conductor;
            let reached = (stretch.air + hotter + rise * a) / (1.0 - rise * b).max(0.05);
            stretch.cold * conductor * (a + b * reached).max(0.0)
        });
        self.fuse + self.joints * joints + metal.sum::<f64>()
    }
}
