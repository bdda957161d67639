//! Devices: what is joined by the runs.

use super::{CaseBond, Usage};
use crate::conductor::Conductor;
use crate::converter::{Derating, Losses};
use crate::fitting::{Pin, Terminal};
use crate::heat::Duty;
use crate::names::named;
use crate::quantity::{
    Capacitance, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio, Time,
};
use crate::source::{AlternatorCurve, Chemistry, SensingRelay, Storage};

/// A node by its index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(pub usize);

/// A point where things are joined.
#[derive(Clone, Debug)]
pub struct Node {
    /// Its name, such as `service.+` or `negative bar`.
    pub name: String,
    /// What conductors meet here.
    pub terminal: Terminal,
    /// A second kind of terminals on the same bar, such as small screws beside large studs.
    pub second_terminal: Option<Terminal>,
    /// The zone it stands in, when stated.
    pub zone: Option<usize>,
    /// Rated current of a busbar, when stated.
    pub rating: Option<ElectricCurrent>,
    /// Whether what stands here is ignition-protected.
    pub ignition_protected: bool,
}

impl Node {
    /// The terminal that a conductor, with its pin where it has one, goes into: the first kind that takes it.
    pub fn terminal_for(&self, conductor: &Conductor, pin: Option<Pin>) -> Terminal {
        let takes = |terminal: &Terminal| terminal.refuses(conductor, pin).is_none();
        self.second_terminal.filter(|second| !takes(&self.terminal) && takes(second)).unwrap_or(self.terminal)
    }
}

/// A device by its kind and index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DeviceRef {
    /// A battery.
    Battery(usize),
    /// An alternator.
    Alternator(usize),
    /// A converter.
    Converter(usize),
    /// A load.
    Load(usize),
}

/// A battery.
#[derive(Clone, Debug)]
pub struct Battery {
    /// Its name.
    pub name: String,
    /// Positive and negative terminal.
    pub nodes: [NodeId; 2],
    /// Its chemistry.
    pub chemistry: Chemistry,
    /// Rated capacity.
    pub capacity: ElectricCharge,
    /// Nominal voltage.
    pub nominal: ElectricPotential,
    /// Internal resistance, as it stands against a load.
    pub resistance: ElectricalResistance,
    /// Its ohmic part (1 kHz), which limits a short circuit: never more than the internal resistance.
    pub ohmic: ElectricalResistance,
    /// Voltage at rest: low, resting, full.
    pub at_rest: [ElectricPotential; 3],
    /// Highest charge voltage.
    pub charge_voltage: ElectricPotential,
    /// Most current that its protection or maker permits, in and out.
    pub current_limit: Option<ElectricCurrent>,
    /// How it stores charge.
    pub storage: Storage,
    /// Largest charge current, when stated.
    pub charge_limit: Option<ElectricCurrent>,
    /// Whether something stops its charge below 0 °C, when stated.
    pub stops_in_frost: Option<bool>,
    /// Year in which it was new.
    pub installed: Option<u16>,
}

named! {
    /// How an alternator is regulated.
    Regulation, "regulation", {
        /// To a fixed voltage.
        Fixed => "fixed",
        /// By the engine's control unit, up and down with driving.
        Variable => "variable",
    }
}

/// An alternator.
#[derive(Clone, Debug)]
pub struct Alternator {
    /// Its name.
    pub name: String,
    /// Positive and negative terminal.
    pub nodes: [NodeId; 2],
    /// Rated output.
    pub rating: ElectricCurrent,
    /// What it can deliver hot, at cruising speed.
    pub hot_output: ElectricCurrent,
    /// What it can deliver hot, at idle.
    pub idle_output: ElectricCurrent,
    /// Hot output against speed, through the two; `None` when they are no alternator's.
    pub curve: Option<AlternatorCurve>,
    /// Regulated voltage.
    pub voltage: ElectricPotential,
    /// How it is regulated.
    pub regulation: Regulation,
    /// Whether its own diodes clip a load dump.
    pub suppressed: bool,
}

named! {
    /// The kind of a converter.
    ConverterKind, "kind of converter", {
        /// From one battery to another.
        DcDcCharger => "dc-dc-charger",
        /// From direct to alternating current.
        Inverter => "inverter",
        /// From a solar array to a battery.
        SolarController => "solar-controller",
        /// From one system voltage to a lower one.
        Buck => "buck",
        /// From the shore supply to a battery.
        ShoreCharger => "shore-charger",
    }
}

/// A converter.
#[derive(Clone, Debug)]
pub struct Converter {
    /// Its name.
    pub name: String,
    /// Its kind.
    pub kind: ConverterKind,
    /// Direct-current input, positive and negative; none for a shore charger.
    pub input: Option<[NodeId; 2]>,
    /// Direct-current output, positive and negative; none for an inverter.
    pub output: Option<[NodeId; 2]>,
    /// Output current setting.
    pub output_current: Option<ElectricCurrent>,
    /// Output voltage: charge voltage, or the regulated voltage of a buck converter.
    pub output_voltage: ElectricPotential,
    /// Rated output power of an inverter.
    pub output_power: Option<Power>,
    /// Limit of its input current.
    pub input_limit: Option<ElectricCurrent>,
    /// What it takes for what it gives.
    pub losses: Losses,
    /// The input voltage at which it locks out.
    pub lock_out: Option<ElectricPotential>,
    /// The input voltage at which it starts again.
    pub restart: Option<ElectricPotential>,
    /// Short-circuit current and operating voltage of the array on a solar controller.
    pub array: Option<(ElectricCurrent, ElectricPotential)>,
    /// Highest input voltage of a solar controller, when stated.
    pub array_limit: Option<ElectricPotential>,
    /// Whether a solar controller finds the array's best voltage.
    pub tracks: bool,
    /// Float voltage, when stated.
    pub float_voltage: Option<ElectricPotential>,
    /// Equalisation voltage, where it equalises.
    pub equalise_voltage: Option<ElectricPotential>,
    /// Change of its charge voltages with each kelvin of its battery, when stated.
    pub voltage_per_kelvin: Option<ElectricPotential>,
    /// Whether it is told that the engine runs, by ignition or a D+ signal.
    pub running_signal: bool,
    /// Capacitance of its input, when stated.
    pub input_capacitance: Option<Capacitance>,
    /// Whether its input capacitors are charged through a resistor before it is switched on.
    pub pre_charge: bool,
    /// How its output falls in warm air.
    pub derating: Option<Derating>,
    /// Whether a solar controller holds its output voltage without a battery.
    pub holds_alone: bool,
    /// Whether its input and output are apart inside.
    pub isolated: bool,
    /// The conductor from its case to the chassis or bonding bar, when stated.
    pub case_bond: Option<CaseBond>,
    /// Whether an inverter's mains side has a residual-current device, when stated.
    pub rcd: Option<bool>,
    /// Whether an inverter's neutral is joined to its protective conductor, when stated.
    pub neutral_bond: Option<bool>,
}

named! {
    /// What a circuit is for, which sets its drop limit.
    Function, "function", {
        /// Anything else.
        General => "general",
        /// Navigation lights and instruments.
        Navigation => "navigation",
        /// Bilge pumps and blowers.
        Bilge => "bilge",
        /// Feeders of boards and busbars.
        Feeder => "feeder",
        /// Outputs of chargers.
        Charging => "charging",
        /// Inverters.
        Inverter => "inverter",
        /// Solar arrays.
        Solar => "solar",
    }
}

/// What a load draws.
#[derive(Clone, Copy, Debug)]
pub enum LoadKind {
    /// A constant current.
    Current(ElectricCurrent),
    /// A constant power.
    Power(Power),
    /// A constant resistance.
    Resistance(ElectricalResistance),
}

/// A load.
#[derive(Clone, Debug)]
pub struct Load {
    /// Its name.
    pub name: String,
    /// Positive and negative terminal; none when it hangs on an inverter.
    pub nodes: Option<[NodeId; 2]>,
    /// The inverter that feeds it.
    pub inverter: Option<usize>,
    /// What it draws.
    pub kind: LoadKind,
    /// What it draws in the moment of starting.
    pub inrush: Option<ElectricCurrent>,
    /// How long it starts.
    pub start_time: Time,
    /// The lowest voltage at which it works.
    pub lowest_voltage: Option<ElectricPotential>,
    /// What it is for.
    pub function: Function,
    /// Nominal voltage of the system it hangs on.
    pub nominal: ElectricPotential,
    /// Whether it runs with the engine off, driving, and on shore power.
    pub runs_when: [bool; 3],
    /// The share of time that it runs: it counts in what an alternator is asked for over hours. Conductors and
    /// fuses carry the full current, but for the conductors of its own circuit when its cycle is known.
    pub duty: Ratio,
    /// How long it runs in every period.
    pub cycle: Option<Duty>,
    /// When it runs over days and months.
    pub usage: Usage,
    /// Whether it must not lose its supply when something opens.
    pub keep_powered: bool,
}

named! {
    /// The kind of a two-terminal device in line.
    LinkKind, "kind of link", {
        /// An isolator (battery switch).
        Isolator => "isolator",
        /// A shunt.
        Shunt => "shunt",
        /// A relay.
        Relay => "relay",
        /// A one-way splitter's diode.
        Diode => "diode",
        /// Any other joint.
        Joint => "joint",
    }
}

/// A two-terminal device in line.
#[derive(Clone, Debug)]
pub struct Link {
    /// Its name.
    pub name: String,
    /// Its kind.
    pub kind: LinkKind,
    /// Its two terminals.
    pub nodes: [NodeId; 2],
    /// Its resistance.
    pub resistance: ElectricalResistance,
    /// Its constant drop, from the first terminal to the second (diodes).
    pub drop: ElectricPotential,
    /// Rated current.
    pub rating: Option<ElectricCurrent>,
    /// Whether it is closed with the engine off, driving, and on shore power.
    pub closed_when: [bool; 3],
    /// When a relay that senses a voltage closes and opens again.
    pub senses: Option<SensingRelay>,
}
