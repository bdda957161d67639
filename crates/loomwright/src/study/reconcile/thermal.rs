//! Temperatures that were read, against what the plan expects at the current that flowed.
//! Numbers in this kernel are SI units, temperatures in °C.

use super::reading::{Measured, Point, Reading, Surface};
use super::segment::Verdict;
use super::verdict::design_current;
use crate::data::tables::constants;
use crate::heat::joint_heat;
use crate::installation::{Installation, NodeId};
use crate::quantity::{ElectricCurrent, TemperatureInterval, ThermodynamicTemperature, in_celsius, significant};
use crate::study::judge::Judgement;
use crate::study::reconcile::Segment;
use uom::si::temperature_interval::kelvin;

/// A temperature beside what was expected.
#[derive(Clone, Debug, PartialEq)]
pub struct Warm {
    /// Line of the reading.
    pub line: usize,
    /// Where it was read.
    pub at: String,
    /// The case.
    pub case: usize,
    /// What was read.
    pub measured: ThermodynamicTemperature,
    /// What the plan expects at the current that flowed and in the air that was; `None` where nothing says.
    pub expected: Option<ThermodynamicTemperature>,
    /// Current that flowed, and the one that it is judged at.
    pub current: ElectricCurrent,
    /// The current that the place is judged at.
    pub full: ElectricCurrent,
    /// Rise over the air at that current; `None` where it must not be carried over.
    pub at_full_load: Option<TemperatureInterval>,
    /// What is to be done.
    pub verdict: Verdict,
    /// Why, in words.
    pub reason: String,
}

/// The runs at a point, with the end that lies there.
fn runs(plan: &Installation, point: Point) -> Vec<(usize, usize)> {
    match point {
        Point::Run(run, super::reading::Inside::End) => vec![(run, 1)],
        Point::Run(run, _) => vec![(run, 0)],
        Point::Node(node) => {
            let at = |here: NodeId| here == node;
            let runs = plan.runs.iter().enumerate();
            runs.flat_map(|(index, run)| [at(run.from).then_some((index, 0)), at(run.to).then_some((index, 1))])
                .flatten()
                .collect()
        }
    }
}

/// A temperature reading judged; `currents` are those of all runs in its case, as read or as planned.
pub(super) fn warm(judgement: &Judgement, reading: &Reading, currents: &[f64]) -> Option<Warm> {
    let Measured::Temperature { at, value, within, surface } = reading.measured else { return None };
    let plan = &judgement.installation;
    let flows = |run: usize| currents.get(run).map_or(0.0, |current| current.abs());
    let here = runs(plan, at);
    let full_of = |run: usize| design_current(judgement, Segment::Cable(run)).value;
    // The run that warms the place most: by what flows over what it is judged at.
    let share = |run: usize| if full_of(run) > 0.0 { flows(run) / full_of(run) } else { 0.0 };
    let hottest = here.iter().copied().max_by(|one, other| share(one.0).total_cmp(&share(other.0)));
    let read = in_celsius(value);
    let degrees = significant(read, 3);
    let mut found = Warm {
        line: reading.line,
        at: at.name(plan),
        case: reading.case,
        measured: value,
        expected: None,
        current: ElectricCurrent::default(),
        full: ElectricCurrent::default(),
        at_full_load: None,
        verdict: Verdict::NotTold,
        reason: String::new(),
    };
    let low = constants::BARE_EMISSIVITY_HIGH;
    if surface == Surface::Bare || matches!(surface, Surface::Emissivity(emissivity) if emissivity.value <= low) {
        found.reason = format!(
            "{degrees} °C is not usable: bare metal has an emissivity of {} to {low} and looks cooler than it is; put tape on it \
             and read again, or use a contact probe",
            constants::BARE_EMISSIVITY_LOW
        );
        return Some(found);
    }
    let Some((run, end)) = hottest else {
        found.reason = format!("{degrees} °C: no run of the plan ends there, so nothing says what to expect");
        return Some(found);
    };
    let Some(model) = judgement.models.get(run) else { return Some(found) };
    let (current, full) = (flows(run), full_of(run));
    found.current = ElectricCurrent::new::<uom::si::electric_current::ampere>(current);
    found.full = ElectricCurrent::new::<uom::si::electric_current::ampere>(full);
    let Some(air) = reading.ambient.map(in_celsius) else {
        found.reason = format!("{degrees} °C says nothing without the temperature of the air beside it; give ambient");
        return Some(found);
    };
    let stretches: Vec<_> = model.stretches_at(found.current).collect();
    let stretch = if end == 0 { stretches.first() } else { stretches.last() };
    let Some((_, hot_air, reached)) = stretch else { return Some(found) };
    let joint = model.end_path(end).and_then(|path| joint_heat(model.joint(end), found.current, &[path]).ok());
    let planned = in_celsius(*reached) - in_celsius(*hot_air) + joint.map_or(0.0, |heat| heat.rise.value);
    found.expected = Some(crate::quantity::celsius(air + planned));
    let (rise, doubt) = (read - air, within.value + constants::READING_AMBIENT_K);
    let words = format!(
        "{degrees} °C at {} A in air of {} °C, expected {} °C",
        significant(current, 3),
        significant(air, 3),
        significant(air + planned, 3)
    );
    let loaded = full > 0.0 && current >= constants::THERMOGRAPHY_LEAST_LOAD * full;
    // What heats goes with the square of the current, and what cools gets better with the rise: the cautious side.
    let factor = if loaded { (full / current).powi(2).max(1.0) } else { 1.0 };
    let (at_full, over) = (rise * factor, (rise - planned) * factor);
    found.at_full_load = loaded.then(|| TemperatureInterval::new::<kelvin>(at_full));
    let limit = in_celsius(model.limit);
    let body = in_celsius(*hot_air) + at_full;
    let too_hot =
        over - doubt * factor > constants::JOINT_RISE_K || (body - doubt * factor > limit && over > doubt * factor);
    (found.verdict, found.reason) = if too_hot {
        let why = format!(
            "{words}: {} K more than planned at the {} A it is judged at; {} K over its surroundings are permitted, {limit} °C in \
             the hottest air",
            significant(over, 2),
            significant(full, 3),
            constants::JOINT_RISE_K
        );
        (Verdict::Remake, why)
    } else if !loaded {
        let least = significant(constants::THERMOGRAPHY_LEAST_LOAD * full, 3);
        (Verdict::NotTold, format!("{words}: read it again at {least} A or more; less says nothing about full load"))
    } else if over > doubt * factor && over > constants::WARM_WATCH_K {
        (Verdict::Watch, format!("{words}: {} K more than planned at full load", significant(over, 2)))
    } else {
        (Verdict::AsPlanned, words)
    };
    Some(found)
}
