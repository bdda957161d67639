//! The typed, resolved, immutable plan of a whole system, and its operating cases.
//!
//! Everything refers by index; names are kept for people. [`crate::text`] builds it from a plan file;
//! another program may build it itself.

mod bonding;
mod case;
mod change;
mod device;
mod diary;
mod existing;
mod limits;
mod run;
mod typical;
mod zone;

pub use crate::fitting::{Terminal, TerminalKind};
pub use crate::source::Chemistry;
pub use bonding::{Bonding, CaseBond};
pub use case::{BatteryState, Case, Engine};
pub use change::Change;
pub use device::{
    Alternator, Battery, Converter, ConverterKind, DeviceRef, Function, Link, LinkKind, Load, LoadKind, Node, NodeId,
    Regulation,
};
pub use diary::{Array, ClockSpan, Days, Location, Spell, Stay, Usage};
pub use existing::{Existing, Part, State};
pub use limits::Bound;
pub use run::{ConductorChoice, Cut, FuseChoice, Laying, Leg, Loom, Run, Segment};
pub use typical::TypicalLoad;
pub use zone::{Explosive, Zone, ZoneKind};

use crate::data::Source;
use crate::data::tables::constants;
use crate::practice::{Limit, Override, Practice};
use crate::protection::{Device, Sheet};
use crate::quantity::{ElectricPotential, Length, ThermodynamicTemperature, celsius};
use crate::source::solar::Strings;

crate::names::named! {
    /// What the system is installed in.
    Place, "place", {
        /// A road vehicle.
        Vehicle => "vehicle",
        /// A boat.
        Boat => "boat",
        /// A cabin or hut: it does not move.
        Cabin => "cabin",
    }
}

/// A value that the plan does not state and that a result rests on.
#[derive(Clone, Debug)]
pub struct PlanAssumption {
    /// What it is about.
    pub subject: String,
    /// The assumption in words.
    pub text: String,
    /// Where its value comes from.
    pub source: &'static Source,
}

/// A whole system, resolved.
#[derive(Clone, Debug)]
pub struct Installation {
    /// Its name.
    pub name: String,
    /// What it is installed in.
    pub place: Place,
    /// The rule set.
    pub practice: Practice,
    /// Limits that the plan sets otherwise than its practice.
    pub limits: Vec<Override>,
    /// Nominal voltage of the main system.
    pub system_voltage: ElectricPotential,
    /// Zones by index.
    pub zones: Vec<Zone>,
    /// Protective devices by their makers' sheets, by index.
    pub fuses: Vec<Sheet>,
    /// Kinds of terminals by their makers' manuals, by index.
    pub terminals: Vec<TerminalKind>,
    /// Looms by index.
    pub looms: Vec<Loom>,
    /// Electrical nodes: terminals of devices and busbars, joined where the plan says so.
    pub nodes: Vec<Node>,
    /// The chassis or hull, when anything is joined to it.
    pub chassis: Option<NodeId>,
    /// How negatives and chassis are meant to be joined, when stated; [`Installation::bonding`] infers the rest.
    pub stated_bonding: Option<Bonding>,
    /// Batteries.
    pub batteries: Vec<Battery>,
    /// Alternators.
    pub alternators: Vec<Alternator>,
    /// Chargers, inverters, controllers and buck converters.
    pub converters: Vec<Converter>,
    /// Solar arrays on those controllers whose modules are stated.
    pub arrays: Vec<Array>,
    /// Loads.
    pub loads: Vec<Load>,
    /// Isolators, shunts, relays, diodes and other joints in line.
    pub links: Vec<Link>,
    /// Runs of one conductor each; a two-wire circuit gives two.
    pub runs: Vec<Run>,
    /// Operating cases.
    pub cases: Vec<Case>,
    /// Places to stay at.
    pub places: Vec<Location>,
    /// Stays there, in order of their dates.
    pub stays: Vec<Stay>,
    /// Parts of an earlier system: what of it stays, and what goes and is no more in the rest of the plan.
    pub existing: Vec<Existing>,
    /// What the plan does not state.
    pub assumptions: Vec<PlanAssumption>,
}

impl Installation {
    /// The protective device of a run; `None` where there is none, or it is not chosen yet.
    ///
    /// ```
    /// use loomwright::{study::judge::judge, text::read_plan};
    /// let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// let feed = plan.runs.iter().position(|run| run.name == "feed").ok_or("it is there")?;
    /// let judged = judge(&plan)?.installation; // its fuse was left open
    /// assert!(judged.device(feed).is_some() && judged.device(plan.runs.len()).is_none());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn device(&self, run: usize) -> Option<Device<'_>> {
        let run = self.runs.get(run)?;
        let FuseChoice::Fixed(fuse) = run.fuse else { return None };
        Some(Device { fuse, sheet: run.sheet.and_then(|sheet| self.fuses.get(sheet)) })
    }

    /// The way that a run lies along one of its stretches.
    pub fn method(&self, run: &Run, segment: &Segment) -> crate::heat::Installation {
        let loom = segment.loom.and_then(|loom| self.looms.get(loom));
        loom.map(|loom| loom.method).or(segment.method).unwrap_or(run.method)
    }

    /// Whether a part of the plan is there already and stays.
    pub fn keeps(&self, part: Part, name: &str) -> bool {
        self.existing.iter().any(|one| one.state == State::Kept && one.part == part && one.name == name)
    }

    /// Whether a run, or the circuit that it is a leg of, is there already and stays.
    pub fn is_kept(&self, run: &Run) -> bool {
        let circuit = run.circuit.as_deref().is_some_and(|circuit| self.keeps(Part::Circuit, circuit));
        circuit || (run.circuit.is_none() && self.keeps(Part::Run, &run.name))
    }

    /// What is cited for the values of a terminal.
    pub fn terminal_citation(&self, terminal: &Terminal) -> String {
        let kind = terminal.kind.and_then(|kind| self.terminals.get(kind));
        kind.map_or_else(|| "the plan's terminal".to_owned(), TerminalKind::citation)
    }

    /// The farthest from one support of a run to the next that its practice permits: nearer beside a battery.
    pub fn support_spacing(&self, run: &Run) -> Option<Limit<Length>> {
        let at_battery = |one: &Battery| one.nodes.contains(&run.from) || one.nodes.contains(&run.to);
        self.practice.support_spacing(self.batteries.iter().any(at_battery))
    }

    /// Whether a node is a busbar or board: no terminal of a device, and not the chassis.
    ///
    /// ```
    /// use loomwright::{installation::NodeId, text::read_plan};
    /// let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// assert_eq!((0..plan.nodes.len()).filter(|node| plan.is_bar(NodeId(*node))).count(), 2); // board and negative bar
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn is_bar(&self, node: NodeId) -> bool {
        let batteries = self.batteries.iter().flat_map(|one| one.nodes);
        let alternators = self.alternators.iter().flat_map(|one| one.nodes);
        let ports = self.converters.iter().flat_map(|one| one.input.into_iter().chain(one.output).flatten());
        let loads = self.loads.iter().filter_map(|one| one.nodes).flatten();
        let links = self.links.iter().flat_map(|one| one.nodes);
        let mut terminals = batteries.chain(alternators).chain(ports).chain(loads).chain(links);
        self.chassis != Some(node) && !terminals.any(|terminal| terminal == node)
    }

    fn array_zone(&self, converter: usize) -> Option<&Zone> {
        let [positive, _] = self.array_terminals(converter)?;
        self.zones.get(self.nodes.get(positive.0)?.zone?)
    }

    /// The coldest air at the array of a solar controller: of the zone in which it stands, else −20 °C.
    pub fn array_coldest(&self, converter: usize) -> ThermodynamicTemperature {
        self.array_zone(converter).map_or_else(|| celsius(constants::COLDEST_C), |zone| zone.coldest)
    }

    /// The hottest air over the array of a solar controller: of the zone in which it stands, else 40 °C; a void under the
    /// roof is heated by the same sun and is not the air over it.
    pub fn array_hottest(&self, converter: usize) -> ThermodynamicTemperature {
        let zone = self.array_zone(converter).filter(|zone| zone.kind != ZoneKind::RoofVoid);
        zone.map_or_else(|| celsius(constants::AMBIENT_C), |zone| zone.hottest)
    }

    /// The least voltage at which the arrays of a solar controller work in full sun, hottest and in still air, and how hot
    /// their cells then are; `None` where their modules are not stated.
    pub fn array_when_hot(&self, converter: usize) -> Option<(ElectricPotential, ThermodynamicTemperature)> {
        let air = self.array_hottest(converter);
        let stated = self.arrays.iter().filter(|array| array.controller == converter);
        let hot = stated.map(|array| {
            let cell = Strings::hottest(array.mount, air);
            (array.strings.operating_voltage(cell), cell)
        });
        hot.reduce(|least, next| if next.0 < least.0 { next } else { least })
    }

    /// The highest voltage of the array of a solar controller, cold and unloaded: by its modules' plate, else 1.4 times its
    /// operating voltage.
    ///
    /// ```
    /// use loomwright::text::read_plan;
    /// let plan = read_plan(include_str!("../../examples/cabin.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// let controller = plan.converters.iter().position(|one| one.array.is_some()).ok_or("no array")?;
    /// assert!(plan.array_coldest(controller) < plan.array_hottest(controller));
    /// let open = plan.array_open_voltage(controller).ok_or("no module is stated")?;
    /// let (hot, _) = plan.array_when_hot(controller).ok_or("no module is stated")?;
    /// assert!(open > hot && plan.array_terminals(controller).is_some());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn array_open_voltage(&self, converter: usize) -> Option<ElectricPotential> {
        let coldest = self.array_coldest(converter);
        let stated = self.arrays.iter().filter(|array| array.controller == converter);
        let highest = stated.map(|array| array.strings.open_voltage(coldest)).reduce(ElectricPotential::max);
        let assumed = || Some(self.converters.get(converter)?.array?.1 * constants::ARRAY_OPEN_CIRCUIT);
        highest.or_else(assumed)
    }

    /// Where the array of a solar controller stands: the start of the circuit that ends at its input.
    pub fn array_terminals(&self, converter: usize) -> Option<[NodeId; 2]> {
        let input = self.converters.get(converter).filter(|converter| converter.array.is_some())?.input?;
        let positive = self.runs.iter().find(|run| run.to == input[0])?;
        let negative = self.runs.get(positive.twin?)?;
        Some([positive.from, negative.from])
    }
}
