//! One run whose conductor and fuse are known: stretch by stretch, each with its own way of lying and its own air.

mod through;
mod told;

pub(super) use told::Warm;

use super::{Design, company};
use crate::conductor::Conductor;
use crate::heat::{Duty, HeatError, HeatPath, Lay, Model, Transient};
use crate::installation::{ConductorChoice, FuseChoice, Installation, NodeId, Run};
use crate::practice::{TableCap, table_cap};
use crate::protection::{Device, Fuse};
use crate::quantity::{ElectricCurrent, ElectricalResistance, Length, ThermodynamicTemperature, celsius};

/// One stretch of a run with its heat path.
#[derive(Clone, Debug)]
struct Stretch {
    length: Length,
    lay: Lay,
    /// What the practice's table leaves of the model's ampacity: 1 or less.
    capped: f64,
    path: Result<HeatPath, HeatError>,
    ambient: ThermodynamicTemperature,
    /// The insulation class; at the ends of a run not above what the terminal there may reach.
    limit: ThermodynamicTemperature,
}

/// A run whose conductor and fuse are known, ready to be solved and judged.
#[derive(Clone, Debug)]
pub struct RunModel {
    /// The conductor.
    pub conductor: Conductor,
    /// The fuse at its source end.
    pub fuse: Option<Fuse>,
    /// The limit in the stretch that governs: insulation class, at the ends also the terminal.
    pub limit: ThermodynamicTemperature,
    /// What the conductor may carry continuously in its hottest stretch; `None` when no model gives it.
    pub ampacity: Option<ElectricCurrent>,
    /// Whether a practice's table, not the heat model, set the ampacity.
    pub table_governs: bool,
    /// The zone that governs.
    pub hottest_zone: usize,
    /// The way it lies there.
    pub method: crate::heat::Installation,
    /// The model that says what it may carry there; `None` when none does.
    pub model: Option<Model>,
    /// Conductors around and bore of the first conduit that is too small for them.
    pub too_tight: Option<(Length, Length)>,
    /// Air at the fuse.
    pub fuse_ambient: ThermodynamicTemperature,
    insulation: ThermodynamicTemperature,
    /// The stretch that governs, among `stretches`.
    governing: usize,
    stretches: Vec<Stretch>,
    /// The joint at each end.
    ends: [ElectricalResistance; 2],
    /// Those and the fuse with its holder.
    fixed: ElectricalResistance,
}

/// How hot the terminals of a node may get.
pub(super) fn terminal_limit(installation: &Installation, node: NodeId) -> ThermodynamicTemperature {
    let stated = installation.nodes.get(node.0).and_then(|node| node.terminal.temperature);
    stated.unwrap_or_else(|| installation.terminal_limit().value)
}

/// The joint at each end of a run, with their reducing pins as hot as the terminals may get.
fn joints(installation: &Installation, run: &Run, conductor: &Conductor) -> [ElectricalResistance; 2] {
    let at = |(end, node): (usize, NodeId)| {
        let pin = run.pin(end, conductor);
        let terminal = installation.nodes.get(node.0).map(|node| node.terminal_for(conductor, pin)).unwrap_or_default();
        let pin = pin.map(|pin| pin.resistance(terminal_limit(installation, node)));
        terminal.joint() + pin.unwrap_or_default()
    };
    [(0, run.from), (1, run.to)].map(at)
}

impl RunModel {
    /// The model of a run with this conductor and fuse.
    ///
    /// `loads` are the currents that all runs are judged at, which heat the looms they lie in.
    pub(super) fn new(
        installation: &Installation,
        index: usize,
        run: &Run,
        conductor: Conductor,
        fuse: Option<Fuse>,
        loads: &[ElectricCurrent],
    ) -> Self {
        let lower_of =
            |one: ThermodynamicTemperature, other: ThermodynamicTemperature| if other < one { other } else { one };
        let route = run.route();
        let scale = if route.value > 0.0 { (run.cut_length() / route).value } else { 1.0 };
        let mut stretches = Vec::with_capacity(run.segments.len());
        let (mut ampacity, mut hottest_zone, mut table_governs) = (None, 0, false);
        let (mut governing, mut governing_stretch) = (run.insulation, 0);
        let (mut method, mut governing_model, mut too_tight) = (run.method, None, None);
        let last = run.segments.len().saturating_sub(1);
        for (number, segment) in run.segments.iter().enumerate() {
            let Some(zone) = installation.zones.get(segment.zone) else { continue };
            let mut limit = run.insulation;
            if number == 0 {
                limit = lower_of(limit, terminal_limit(installation, run.from));
            }
            if number == last {
                limit = lower_of(limit, terminal_limit(installation, run.to));
            }
            let mut lay = company::lay(installation, index, run, segment, loads);
            let tight = company::too_tight(&lay, &conductor);
            if let Some((contents, _)) = tight {
                // The finding says so; what it would carry is told for the smallest conduit that holds it.
                lay.bore = Some(contents);
                too_tight = too_tight.or(tight);
            }
            let path = HeatPath::new(&conductor, &lay, zone.hottest);
            let model = path.as_ref().ok().map(|path| path.ampacity(limit).unwrap_or_default());
            let table = table_cap(installation.practice, &conductor, &lay, run.insulation, zone.hottest);
            let (here, capped) = match (model, table) {
                (Some(model), TableCap::Capped(cap)) if cap.ampacity < model => (Some(cap.ampacity), true),
                (model, _) => (model, false),
            };
            let stricter = match (here, ampacity) {
                (_, None) => stretches.is_empty(),
                (Some(here), Some(so_far)) => here < so_far,
                (None, Some(_)) => true,
            };
            if stricter {
                (ampacity, hottest_zone, table_governs) = (here, segment.zone, capped);
                (governing, governing_stretch, method) = (limit, stretches.len(), lay.installation);
                governing_model = path.as_ref().ok().and_then(|path| path.governing(limit));
            }
            let share = match (here, model) {
                (Some(here), Some(model)) if model.value > 0.0 => (here / model).value,
                _ => 1.0,
            };
            let length = segment.length * scale;
            stretches.push(Stretch { length, lay, capped: share, path, ambient: zone.hottest, limit });
        }
        let ambient_of =
            |zone: Option<usize>| zone.and_then(|zone| installation.zones.get(zone)).map(|zone| zone.hottest);
        let fuse_zone = installation
            .nodes
            .get(run.from.0)
            .and_then(|node| node.zone)
            .or(run.segments.first().map(|segment| segment.zone));
        let fuse_resistance = fuse.map_or(ElectricalResistance::default(), |fuse| {
            let sheet = run.sheet.and_then(|sheet| installation.fuses.get(sheet));
            Device { fuse, sheet }.drop() / fuse.rating
        });
        let ends = joints(installation, run, &conductor);
        Self {
            conductor,
            fuse,
            limit: governing,
            ampacity,
            table_governs,
            hottest_zone,
            method,
            model: governing_model,
            too_tight,
            insulation: run.insulation,
            governing: governing_stretch,
            fuse_ambient: ambient_of(fuse_zone).unwrap_or_else(|| celsius(40.0)),
            stretches,
            ends,
            fixed: ends[0] + ends[1] + fuse_resistance,
        }
    }

    /// Whether another run of the same conductor lies just as this one does, so that both heat alike.
    pub(super) fn heats_as(&self, other: &Self) -> bool {
        let alike = |(one, other): (&Stretch, &Stretch)| {
            one.lay == other.lay && one.ambient == other.ambient && one.limit == other.limit
        };
        self.conductor == other.conductor
            && self.insulation == other.insulation
            && self.stretches.len() == other.stretches.len()
            && self.stretches.iter().zip(&other.stretches).all(alike)
    }

    fn length(&self) -> Length {
        self.stretches.iter().fold(Length::default(), |sum, stretch| sum + stretch.length)
    }

    /// Resistance of the cold conductor alone, for the largest fault: nothing at the joints, nothing in the fuse.
    pub(super) fn cold(&self, coldest: ThermodynamicTemperature) -> ElectricalResistance {
        self.conductor.resistance_at(coldest) * self.length()
    }

    /// Its resistance as hot as its insulation permits, joints and fuse included, for the least fault.
    pub(super) fn hot(&self) -> ElectricalResistance {
        self.fixed + self.conductor.resistance_at(self.insulation) * self.length()
    }

    /// Joints at both ends, without the fuse and with it.
    pub(crate) fn joints(&self) -> [ElectricalResistance; 2] {
        [self.ends[0] + self.ends[1], self.fixed]
    }

    /// How many stretches it has.
    pub(super) fn stretches(&self) -> usize {
        self.stretches.len()
    }

    /// The joint at its start (0) or end (1).
    pub(crate) fn joint(&self, end: usize) -> ElectricalResistance {
        self.ends.get(end).copied().unwrap_or_default()
    }

    /// The heat path of its first (0) or last (1) stretch: the cable that cools the joint there. `None` where no
    /// model gives it.
    pub(crate) fn end_path(&self, end: usize) -> Option<&HeatPath> {
        let stretch = if end == 0 { self.stretches.first() } else { self.stretches.last() };
        stretch?.path.as_ref().ok()
    }

    /// Length, air and conductor temperature of each stretch at a current, where it can be followed.
    pub(crate) fn stretches_at(
        &self,
        current: ElectricCurrent,
    ) -> impl Iterator<Item = (Length, ThermodynamicTemperature, ThermodynamicTemperature)> {
        let ceiling = celsius(250.0);
        self.stretches.iter().map(move |stretch| {
            let reached = match &stretch.path {
                Ok(path) => path.temperature(current.abs()).unwrap_or(ceiling),
                Err(_) if stretch.limit > stretch.ambient => stretch.limit,
                Err(_) => stretch.ambient,
            };
            (stretch.length, stretch.ambient, reached)
        })
    }

    /// Resistance of its conductor alone in a state.
    pub(super) fn metal(&self, state: &RunState) -> ElectricalResistance {
        state.resistance - self.fixed
    }

    /// Whether it carries its current only because that pauses: its temperature in a case that goes on is
    /// then never reached.
    pub(super) fn rests(&self, design: &Design) -> bool {
        design.duty.is_some() && self.ampacity.is_some_and(|ampacity| design.current > ampacity)
    }

    /// What the conductor may carry for a part of the time in its hottest stretch; `None` when no model gives it.
    pub(crate) fn duty_ampacity(&self, duty: &Duty) -> Option<ElectricCurrent> {
        let bears = |stretch: &Stretch| {
            let transient = Transient::new(&self.conductor, &stretch.lay, stretch.ambient).ok()?;
            let permitted = transient.permitted_current(duty, stretch.limit).unwrap_or_default();
            Some(permitted * stretch.capped)
        };
        let mut least: Option<ElectricCurrent> = None;
        for stretch in &self.stretches {
            let here = bears(stretch)?;
            least = Some(least.map_or(here, |least| if here < least { here } else { least }));
        }
        least
    }

    /// The highest temperature of a cycle that goes on, in its hottest stretch; `None` beyond what a model follows.
    pub(super) fn duty_peak(&self, duty: &Duty, current: ElectricCurrent) -> Option<ThermodynamicTemperature> {
        let peak = |stretch: &Stretch| {
            let transient = Transient::new(&self.conductor, &stretch.lay, stretch.ambient).ok()?;
            transient.settled_peak(duty, current).ok()
        };
        let mut hottest: Option<ThermodynamicTemperature> = None;
        for stretch in &self.stretches {
            let here = peak(stretch)?;
            hottest = Some(hottest.map_or(here, |hottest| if here > hottest { here } else { hottest }));
        }
        hottest
    }

    /// The run at a current, each stretch at its own temperature; a stretch beyond 250 °C counts with its
    /// resistance at 250 °C.
    pub(super) fn at(&self, current: ElectricCurrent) -> RunState {
        let ceiling = celsius(250.0);
        let mut state = RunState { resistance: self.fixed, hottest: None, too_hot: false, ends: [ceiling; 2] };
        for (number, stretch) in self.stretches.iter().enumerate() {
            let reached = match &stretch.path {
                Ok(path) => path.temperature(current.abs()).ok(),
                // No model for this size: the resistance at its limit is the cautious one.
                Err(_) => Some(if stretch.limit > stretch.ambient { stretch.limit } else { stretch.ambient }),
            };
            state.too_hot |= reached.is_none();
            let temperature = reached.unwrap_or(ceiling);
            state.resistance += self.conductor.resistance_at(temperature) * stretch.length;
            if state.hottest.is_none_or(|hottest| temperature > hottest) {
                state.hottest = Some(temperature);
            }
            if number == 0 {
                state.ends[0] = temperature;
            }
            state.ends[1] = temperature;
        }
        state
    }
}

/// A run at a current.
#[derive(Clone, Copy, Debug)]
pub struct RunState {
    /// Resistance of conductor, joints and fuse.
    pub resistance: ElectricalResistance,
    /// Hottest conductor temperature; 250 °C at most.
    pub hottest: Option<ThermodynamicTemperature>,
    /// Whether a stretch would pass 250 °C.
    pub too_hot: bool,
    /// Conductor temperature at both ends.
    pub ends: [ThermodynamicTemperature; 2],
}

/// The models of an installation whose every conductor and fuse is fixed; `loads` are the currents that the
/// runs are judged at, as far as they are known.
pub(super) fn models(installation: &Installation, loads: &[ElectricCurrent]) -> Vec<RunModel> {
    installation
        .runs
        .iter()
        .enumerate()
        .filter_map(|(index, run)| {
            let ConductorChoice::Fixed(conductor) = run.conductor else { return None };
            let fuse = match run.fuse {
                FuseChoice::Fixed(fuse) => Some(fuse),
                FuseChoice::Auto | FuseChoice::None => None,
            };
            Some(RunModel::new(installation, index, run, conductor, fuse, loads))
        })
        .collect()
}
