//! The question: one circuit, with what was left unsaid left open.

use crate::conductor::{Kind, Material};
use crate::heat::{Duty, Installation};
use crate::practice::Practice;
use crate::quantity::{
    CrossSection, ElectricCurrent, ElectricPotential, ElectricalResistance, FromText, Length, Power, QuantityError,
    Ratio, ThermodynamicTemperature, ToText,
};

/// What the circuit must carry.
#[derive(Clone, Copy, Debug)]
pub enum Load {
    /// A continuous current.
    Current(ElectricCurrent),
    /// A constant power: the current is highest at the lowest voltage at which the load still works.
    Power {
        /// The power at the load's terminals.
        power: Power,
        /// The lowest voltage at the load's terminals.
        lowest_voltage: ElectricPotential,
    },
}

/// How much voltage may be lost between source and load.
#[derive(Clone, Copy, Debug)]
pub enum DropLimit {
    /// A share of the system voltage.
    Share(Ratio),
    /// An absolute voltage.
    Absolute(ElectricPotential),
}

impl FromText for DropLimit {
    fn from_text(text: &str) -> Result<Self, QuantityError> {
        match ElectricPotential::from_text(text) {
            Ok(voltage) => Ok(Self::Absolute(voltage)),
            Err(_) => Ratio::from_text(text).map(Self::Share).map_err(|error| match error {
                QuantityError::WrongKind { given, found, .. } => {
                    QuantityError::WrongKind { given, found, article: "a percentage or a voltage", example: "3 %" }
                }
                other => other,
            }),
        }
    }
}

impl ToText for DropLimit {
    fn to_text(&self) -> String {
        match self {
            Self::Share(share) => share.to_text(),
            Self::Absolute(voltage) => voltage.to_text(),
        }
    }
}

/// How the current comes back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReturnPath {
    /// A second conductor of the same size and length.
    Conductor,
    /// The vehicle's chassis, with the resistance of the whole return path when it is known.
    Chassis(Option<ElectricalResistance>),
}

/// The joints in the circuit, both legs together, besides the one fuse with its holder.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Joints {
    /// Lugs on studs; four when not stated.
    pub lugs: Option<u16>,
    /// Screw cage terminals.
    pub screw_cages: u16,
    /// Isolators (battery switches).
    pub isolators: u16,
}

/// One circuit to size; `None` is *not stated* and takes a default that the result lists.
#[derive(Clone, Copy, Debug)]
pub struct CableQuery {
    /// What it must carry, continuously: above 0, at most 5000 A.
    pub load: Load,
    /// One-way conductor length as installed: 1 mm to 1 km.
    pub length: Length,
    /// System voltage: 5 V to 60 V, nominal.
    pub voltage: ElectricPotential,
    /// Permitted drop: above 0, below half the system voltage. Default 3 %.
    pub drop: Option<DropLimit>,
    /// Hottest air around the cable: −40 °C to 200 °C. Default 40 °C.
    pub ambient: Option<ThermodynamicTemperature>,
    /// Insulation class: 40 °C to 250 °C. Default by kind.
    pub insulation: Option<ThermodynamicTemperature>,
    /// Conductor kind. Default IEC 60228 class 5.
    pub kind: Option<Kind>,
    /// Conductor material. Default copper.
    pub material: Option<Material>,
    /// How the conductor lies. Default enclosed.
    pub installation: Option<Installation>,
    /// Loaded conductors laid together in bundle or conduit, both legs counted: 1 to 40. Default the legs of
    /// this circuit.
    pub together: Option<u16>,
    /// Bore of the conduit: 3 mm to 500 mm. Default one filled to 40 %.
    pub bore: Option<Length>,
    /// The part of the time that the current flows. Default without pause.
    pub duty: Option<Duty>,
    /// How the current comes back. Default a second conductor.
    pub return_path: Option<ReturnPath>,
    /// Joints in the circuit. Default four lugs.
    pub joints: Option<Joints>,
    /// The largest conductor that the terminals accept. Default no limit.
    pub terminal_size: Option<CrossSection>,
    /// How hot the terminals may get: 40 °C to 250 °C. Default by practice, 75 °C.
    pub terminal_temperature: Option<ThermodynamicTemperature>,
    /// The rule set. Default general.
    pub practice: Option<Practice>,
}

impl CableQuery {
    /// A circuit with everything but the essentials left unsaid.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length};
    /// use loomwright::study::cable::{CableQuery, Load};
    /// let load = Load::Current(ElectricCurrent::from_text("10 A")?);
    /// let query = CableQuery::new(load, Length::from_text("3 m")?, ElectricPotential::from_text("12 V")?);
    /// assert!(query.practice.is_none() && query.ambient.is_none()); // defaults hold where nothing is said
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(load: Load, length: Length, voltage: ElectricPotential) -> Self {
        Self {
            load,
            length,
            voltage,
            drop: None,
            ambient: None,
            insulation: None,
            kind: None,
            material: None,
            installation: None,
            together: None,
            bore: None,
            duty: None,
            return_path: None,
            joints: None,
            terminal_size: None,
            terminal_temperature: None,
            practice: None,
        }
    }
}
