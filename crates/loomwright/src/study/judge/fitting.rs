//! Which fuse does all that is asked of it: the fault it breaks, the starts it sits out, the conductor its holder takes.

use super::Judgement;
use super::faults::Fault;
use super::operate::CaseResult;
use super::paths::Ways;
use crate::data::tables::constants;
use crate::installation::{DeviceRef, Installation};
use crate::network::Part;
use crate::protection::{Band, Fuse, Selection};
use crate::quantity::{Area, ElectricCurrent, Ratio, ThermodynamicTemperature, Time};
use uom::si::ratio::ratio;

/// The run whose fuse cuts such a fault short on every battery's way to the fuse of a run, if there is one.
pub(super) fn backed_up(installation: &Installation, ways: &Ways, run: usize, fault: ElectricCurrent) -> Option<usize> {
    let from = installation.runs.get(run)?.from;
    let mut by = None;
    for battery in installation.batteries.iter().filter(|battery| ways.reaches(battery.nodes[0], from)) {
        let way = ways.between(battery.nodes[0], from);
        let strong = way.into_iter().filter(|at| *at != run).find_map(|at| {
            let other = installation.runs.get(at)?;
            let device = installation.device(at)?;
            let highest = ways.highest_voltage(installation, other.from);
            let breaks = device.breaks(highest).is_some_and(|(breaks, _)| breaks >= fault);
            (device.fuse.family.limits_current() && breaks).then_some(at)
        });
        by = Some(strong?);
    }
    by
}

/// What a fuse of a run has to do besides carrying its load.
pub(super) struct Asked<'a> {
    /// The current that it carries.
    pub(super) carried: ElectricCurrent,
    /// The least rating.
    pub(super) least: ElectricCurrent,
    /// The air around it.
    pub(super) ambient: ThermodynamicTemperature,
    /// The fault that it breaks, or is backed up against.
    pub(super) fault: Option<&'a Fault>,
    /// The starts that it sits out.
    pub(super) starts: &'a [Start],
    /// The conductor that its holder takes.
    pub(super) area: Area,
}

/// The smallest fuse of the first families that does it all. What none does is given up: the holder first, then the starts,
/// and the fault last.
pub(super) fn fitting(plan: &Installation, ways: &Ways, run: usize, asked: &Asked<'_>) -> Option<Fuse> {
    let highest = ways.highest_voltage(plan, plan.runs.get(run)?.from);
    let backed = asked.fault.is_none_or(|fault| backed_up(plan, ways, run, fault.highest).is_some());
    let breaks = |fuse: &Fuse| {
        let breaks = |fault: &Fault| fuse.family.breaks(highest).is_some_and(|(breaks, _)| breaks >= fault.highest);
        backed || asked.fault.is_some_and(breaks)
    };
    let sits_out = |fuse: &Fuse| {
        let share = fuse.family.rerating(asked.ambient).unwrap_or_else(|| Ratio::new::<ratio>(1.0));
        Band::of(fuse).map(|band| band.rerated(share)).is_some_and(|band| {
            asked.starts.iter().all(|start| {
                band.fastest(start.current).is_none_or(|fastest| fastest * start.fatigue().0 >= start.lasts)
            })
        })
    };
    let holds = |fuse: &Fuse| {
        fuse.family.holder().is_none_or(|holder| {
            let carries = holder.carries.is_none_or(|carries| carries >= asked.carried);
            carries && holder.largest >= asked.area * (1.0 - 1e-9)
        })
    };
    let selection = Selection::new(highest, asked.ambient);
    let smallest = |fits: &dyn Fn(&Fuse) -> bool| selection.smallest(asked.carried, asked.least, fits);
    smallest(&|fuse| breaks(fuse) && sits_out(fuse) && holds(fuse))
        .or_else(|| smallest(&|fuse| breaks(fuse) && sits_out(fuse)))
        .or_else(|| smallest(&breaks))
        .or_else(|| smallest(&|_| true))
}

impl Judgement {
    /// The smallest fuse for a run that carries a current and does the rest of what is asked of it.
    pub(crate) fn fitting_fuse(
        &self,
        run: usize,
        carried: ElectricCurrent,
        ambient: ThermodynamicTemperature,
    ) -> Option<Fuse> {
        let started = starts(&self.installation, &self.ways, &self.cases, run);
        let asked = Asked {
            carried,
            least: ElectricCurrent::default(),
            ambient,
            fault: self.faults.get(run).and_then(Option::as_ref),
            starts: &started,
            area: self.models.get(run)?.conductor.area,
        };
        fitting(&self.installation, &self.ways, run, &asked)
    }
}

/// A start that flows through a run.
#[derive(Clone, Copy, Debug)]
pub(super) struct Start {
    /// Its case.
    pub(super) case: usize,
    /// The current in the run.
    pub(super) current: ElectricCurrent,
    /// How long it flows.
    pub(super) lasts: Time,
    /// Whether it comes in every cycle of its load, not just now and then.
    pub(super) cyclic: bool,
    /// Whether the run lies on the way to the load or back from it.
    pub(super) passes: bool,
}

impl Start {
    /// The share of its melting I²t that a link bears as often as this start comes over the years, and how often that is.
    pub(super) fn fatigue(&self) -> (f64, &'static str) {
        if self.cyclic {
            (constants::PULSE_SHARE_CYCLIC, "100 000 times, once in every cycle")
        } else {
            (constants::PULSE_SHARE, "10 000 times over the years")
        }
    }
}

/// The starts that flow through a run.
pub(super) fn starts(installation: &Installation, ways: &Ways, cases: &[CaseResult], run: usize) -> Vec<Start> {
    let settled = cases.iter().filter(|case| case.point.is_some());
    let found = settled.filter_map(|case| {
        let starting = installation.cases.get(case.case)?.starting?;
        let load = installation.loads.get(starting)?;
        let part = Part::Device(DeviceRef::Load(starting));
        // A fuller battery than the case's lets all of the stated inrush flow.
        let drawn = case.demands.iter().find(|(found, _)| *found == part);
        let drawn = drawn.map_or(ElectricCurrent::default(), |(_, current)| *current);
        let more =
            load.inrush.filter(|inrush| *inrush > drawn).map_or(ElectricCurrent::default(), |inrush| inrush - drawn);
        let nodes = load.nodes?;
        let source = ways.feeding(installation, DeviceRef::Load(starting), nodes)?;
        let flows = case.run_currents.get(run)?.abs();
        let between = |side: usize| Some(ways.between(*source.get(side)?, *nodes.get(side)?).contains(&run));
        let on_way = [0, 1].into_iter().filter_map(between).any(|on_way| on_way);
        Some(Start {
            case: case.case,
            current: if on_way { flows + more } else { flows },
            lasts: load.start_time,
            cyclic: load.cycle.is_some(),
            passes: on_way,
        })
    });
    found.collect()
}
