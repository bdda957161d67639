//! A run's fuses and conductor through time, as a picture draws them.

use serde::Serialize;

use super::fitting::starts;
use super::{Judgement, Overcurrent, RunModel};
use crate::protection::Band;
use crate::quantity::{ElectricCurrent, Ratio};
use crate::study::cable::round9;
use crate::study::curve::{BearsRecord, OpensRecord, bears, through};
use uom::si::ratio::ratio;

/// What protects a run, what its conductor bears and what starts flow through it, all over current.
#[derive(Clone, Debug, Serialize)]
pub struct ThroughTimeRecord {
    /// The run.
    pub run: String,
    /// Its conductor as people say it.
    pub conductor: String,
    /// The fuses that protect it, the largest first. Where several feed it together, the last entry is the bound of all of
    /// them over the current in the run: that is what it is judged by.
    pub fuses: Vec<FuseThroughTime>,
    /// How long its conductor bears a current where it comes closest, as warm before as its load makes it; null for good.
    pub bears: Vec<BearsRecord>,
    /// What it may carry continuously.
    pub ampacity_a: Option<f64>,
    /// The current it is judged at.
    pub load_a: f64,
    /// Starts of loads that draw through it.
    pub starts: Vec<StartRecord>,
    /// The highest fault current through its fuses, with a reserve of 1.25.
    pub fault_highest_a: Option<f64>,
    /// The lowest fault current on which they still have to open.
    pub fault_lowest_a: Option<f64>,
    /// What the conductor bears over the latest opening, the least over all currents, or a bound that is more than 1.1; null
    /// where it bears all of them for good, or times are not at hand.
    pub time_margin: Option<f64>,
    /// The current there.
    pub closest_at_a: Option<f64>,
}

/// When a fuse opens.
#[derive(Clone, Debug, Serialize)]
pub struct FuseThroughTime {
    /// Rating and family, and whose it is where it is not the run's own.
    pub name: String,
    /// Its times; empty where none are at hand. The latest are those of its reference air, the earliest those of the air
    /// around it, as the rules take them.
    pub opens: Vec<OpensRecord>,
    /// Beyond this current the latest is a bound only; null where it holds at any.
    pub known_up_to_a: Option<f64>,
    /// Whether its earliest openings are at hand.
    pub fastest_known: bool,
}

/// A start.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StartRecord {
    /// The load that starts.
    pub load: String,
    /// What then flows in the run, with all of the load's inrush.
    pub current_a: f64,
    /// How long.
    pub time_s: f64,
}

/// Where a picture starts, as a share of the least current at which anything happens.
const BEGIN: f64 = 0.8;
/// How far it goes at least, as a multiple of that.
const SPAN: f64 = 10.0;

/// A fuse with its edges: the latest as overcurrents are judged, the earliest as starts are.
struct Edges {
    name: String,
    latest: Option<Band>,
    earliest: Option<Band>,
}

impl Edges {
    fn record(&self, currents: &[ElectricCurrent]) -> FuseThroughTime {
        let seconds = |time: Option<crate::quantity::Time>| time.map(|time| round9(time.value));
        let opens = self.latest.iter().flat_map(|latest| {
            currents.iter().map(|current| {
                let fastest = self.earliest.as_ref().and_then(|band| band.fastest(*current));
                OpensRecord {
                    current_a: round9(current.value),
                    fastest_s: seconds(fastest),
                    slowest_s: seconds(latest.slowest(*current)),
                }
            })
        });
        FuseThroughTime {
            name: self.name.clone(),
            opens: opens.collect(),
            known_up_to_a: self.latest.as_ref().and_then(Band::known_up_to).map(|known| round9(known.value)),
            fastest_known: self.earliest.as_ref().is_some_and(Band::knows_fastest),
        }
    }
}

impl Judgement {
    /// The fuses of a run, by its index, against its conductor through time; `None` where no fuse protects it. Made when it
    /// is asked for.
    ///
    /// ```
    /// use loomwright::{study::judge::judge, text::read_plan};
    /// let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// let judgement = judge(&plan)?;
    /// assert!((0..plan.runs.len()).any(|run| judgement.through_time(run).is_some()));
    /// assert!(judgement.through_time(plan.runs.len()).is_none()); // no such run
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn through_time(&self, run: usize) -> Option<ThroughTimeRecord> {
        let through = self.overcurrents.get(run)?.as_ref()?;
        let model = self.models.get(run)?;
        let edges = self.edges(run, through);
        let damage = model.damage(through.band.as_ref(), through.up_to, through.before);
        let faults = through.feeding.iter().filter_map(|fuse| self.faults.get(*fuse)?.as_ref());
        let highest: f64 = faults.map(|fault| fault.highest.value).sum();
        let told_at = if let [one] = through.feeding.as_slice() { *one } else { run };
        let lowest = self.faults.get(told_at)?.as_ref().and_then(|fault| fault.lowest.as_ref());
        let least = through.least;
        let currents = currents(model, &edges, highest, least.map(|least| least.current.value));
        Some(ThroughTimeRecord {
            run: self.installation.runs.get(run)?.name.clone(),
            conductor: model.conductor.label(),
            fuses: edges.iter().map(|fuse| fuse.record(&currents)).collect(),
            bears: damage.map_or_else(Vec::new, |damage| bears(&damage, &currents)),
            ampacity_a: model.ampacity.map(|ampacity| round9(ampacity.value)),
            load_a: round9(self.design.get(run)?.current.value),
            starts: self.start_records(run),
            fault_highest_a: (highest > 0.0).then(|| round9(highest)),
            fault_lowest_a: lowest.map(|lowest| round9(lowest.current.value)),
            time_margin: least.map(|least| round9(least.ratio.get::<ratio>())),
            closest_at_a: least.map(|least| round9(least.current.value)),
        })
    }

    fn edges(&self, run: usize, through: &Overcurrent) -> Vec<Edges> {
        let each = through.feeding.iter().filter_map(|fuse| {
            let device = self.installation.device(*fuse)?;
            let latest = device.band();
            let share = device.fuse.family.rerating(self.models.get(*fuse)?.fuse_ambient);
            let share = share.unwrap_or_else(|| Ratio::new::<ratio>(1.0));
            let earliest = latest.as_ref().map(|band| band.rerated(share));
            Some(Edges { name: self.called(run, &[*fuse]), latest, earliest })
        });
        let mut edges: Vec<Edges> = each.collect();
        if through.feeding.len() > 1 {
            let name = self.called(run, &through.feeding);
            edges.push(Edges { name, latest: through.band.clone(), earliest: None });
        }
        edges
    }

    fn start_records(&self, run: usize) -> Vec<StartRecord> {
        let (plan, ways) = (&self.installation, &self.ways);
        let passing = starts(plan, ways, &self.cases, run).into_iter().filter(|start| start.passes);
        let record = |start: super::fitting::Start| {
            let load = plan.loads.get(plan.cases.get(start.case)?.starting?)?;
            Some(StartRecord {
                load: load.name.clone(),
                current_a: round9(start.current.value),
                time_s: round9(start.lasts.value),
            })
        };
        passing.filter_map(record).collect()
    }
}

/// Currents to tell: even steps, every turn of an edge, and where the two come closest.
fn currents(model: &RunModel, edges: &[Edges], highest: f64, closest: Option<f64>) -> Vec<ElectricCurrent> {
    let conventional = edges.iter().filter_map(|fuse| Some(fuse.latest.as_ref()?.conventional_current()?.value));
    let ampacity = model.ampacity.map(|ampacity| ampacity.value).filter(|ampacity| *ampacity > 0.0);
    let least = conventional.chain(ampacity).fold(f64::INFINITY, f64::min);
    let least = if least.is_finite() { least } else { 1.0 };
    let (from, to) = (BEGIN * least, highest.max(SPAN * least));
    let turns = edges.iter().flat_map(|fuse| {
        let latest = fuse.latest.iter().flat_map(Band::turns);
        latest.chain(fuse.earliest.iter().flat_map(Band::fast_turns)).map(|turn| turn.value)
    });
    through(from, to, turns.chain(closest))
}
