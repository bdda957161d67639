//! Arguments of what is asked of one circuit: a cable, and curves through time.

use clap::{Args, ValueEnum};
use loomwright::conductor::{Kind, Material};
use loomwright::heat::{Duty, Installation};
use loomwright::practice::Practice;
use loomwright::protection::Fuse;
use loomwright::quantity::{
    CrossSection, ElectricCurrent, ElectricPotential, ElectricalResistance, Length, Power, ThermodynamicTemperature,
};
use loomwright::study::cable::DropLimit;

use super::{name, quantity};

/// The form of what has a picture too.
#[derive(Clone, Copy, PartialEq, ValueEnum)]
pub(crate) enum PictureFormat {
    /// For people
    Text,
    /// For programs; keys carry their unit
    Json,
    /// A picture
    Svg,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
pub(crate) enum Return {
    /// A second conductor
    Conductor,
    /// The vehicle's chassis
    Chassis,
}

#[derive(Args)]
#[command(
    after_help = "Example:\n  loomwright curve --fuse '200A class-t' --fuse '60A blade-e' --conductor 16mm2 --load 45A"
)]
pub(crate) struct CurveArguments {
    /// A fuse, such as '60A blade-e'; again for the next one towards the load
    #[arg(long = "fuse", value_name = "FUSE", required = true, value_parser = name::<Fuse>)]
    pub(crate) fuses: Vec<Fuse>,

    /// The conductor behind them, such as 16mm2 or 6AWG
    #[arg(long, value_name = "SIZE", value_parser = quantity::<CrossSection>, allow_hyphen_values = true)]
    pub(crate) conductor: Option<CrossSection>,

    /// Conductor kind: iec-2, iec-5, iec-6, iso-6722, awg or sae
    #[arg(long, value_name = "KIND", value_parser = name::<Kind>, requires = "conductor")]
    pub(crate) kind: Option<Kind>,

    /// Conductor material: copper, tinned-copper, aluminium or copper-clad-aluminium
    #[arg(long, value_name = "MATERIAL", value_parser = name::<Material>, requires = "conductor")]
    pub(crate) material: Option<Material>,

    /// Insulation class, such as 105C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, requires = "conductor", allow_hyphen_values = true)]
    pub(crate) insulation: Option<ThermodynamicTemperature>,

    /// How hot the terminals may get, such as 75C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, requires = "conductor", allow_hyphen_values = true)]
    pub(crate) terminal_temperature: Option<ThermodynamicTemperature>,

    /// How the conductor lies, as for cable
    #[arg(long, value_name = "INSTALLATION", value_parser = name::<Installation>, requires = "conductor")]
    pub(crate) install: Option<Installation>,

    /// What the conductor carries before the overcurrent, such as 45A
    #[arg(long, value_name = "CURRENT", value_parser = quantity::<ElectricCurrent>, requires = "conductor", allow_hyphen_values = true)]
    pub(crate) load: Option<ElectricCurrent>,

    /// Air around fuses and conductor, such as 40C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, allow_hyphen_values = true)]
    pub(crate) ambient: Option<ThermodynamicTemperature>,

    /// The highest fault current, such as 3kA
    #[arg(long, value_name = "CURRENT", value_parser = quantity::<ElectricCurrent>, allow_hyphen_values = true)]
    pub(crate) fault: Option<ElectricCurrent>,

    /// Form of the result; svg is a picture
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: PictureFormat,
}

#[derive(Args)]
#[group(skip)]
#[command(group = clap::ArgGroup::new("load").required(true))]
#[command(after_help = "Every quantity carries its unit: 40A, 5.5m, 18ft, 12V, 3%, 40C, 104F, 16mm2, 6AWG, 2.1mohm.\n\
The length is one way; both legs are computed. What is not stated takes a\ncautious default, and the result lists it.\n\n\
Example:\n  loomwright cable --current 40A --length 5.5m --voltage 12V")]
pub(crate) struct CableArguments {
    /// Continuous current of the circuit, such as 40A
    #[arg(long, value_name = "CURRENT", value_parser = quantity::<ElectricCurrent>, allow_hyphen_values = true)]
    #[arg(group = "load", conflicts_with = "lowest_voltage")]
    pub(crate) current: Option<ElectricCurrent>,

    /// Constant power of the load instead, such as 1.2kW; goes with --lowest-voltage
    #[arg(long, value_name = "POWER", value_parser = quantity::<Power>, requires = "lowest_voltage", group = "load", allow_hyphen_values = true)]
    pub(crate) power: Option<Power>,

    /// Lowest voltage at which the load still takes that power, such as 10.5V
    #[arg(long, value_name = "VOLTAGE", value_parser = quantity::<ElectricPotential>, requires = "power", allow_hyphen_values = true)]
    pub(crate) lowest_voltage: Option<ElectricPotential>,

    /// One-way conductor length as installed, such as 5.5m or 18ft
    #[arg(long, value_name = "LENGTH", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub(crate) length: Length,

    /// System voltage, such as 12V
    #[arg(long, value_name = "VOLTAGE", value_parser = quantity::<ElectricPotential>, allow_hyphen_values = true)]
    pub(crate) voltage: ElectricPotential,

    /// Permitted drop, such as 3% or 0.15V
    #[arg(long, value_name = "DROP", value_parser = quantity::<DropLimit>, allow_hyphen_values = true)]
    pub(crate) drop: Option<DropLimit>,

    /// Hottest air around the cable, such as 40C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, allow_hyphen_values = true)]
    pub(crate) ambient: Option<ThermodynamicTemperature>,

    /// Insulation class, such as 105C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, allow_hyphen_values = true)]
    pub(crate) insulation: Option<ThermodynamicTemperature>,

    /// Conductor kind: iec-2, iec-5, iec-6, iso-6722, awg or sae
    #[arg(long, value_name = "KIND", value_parser = name::<Kind>)]
    pub(crate) kind: Option<Kind>,

    /// Conductor material: copper, tinned-copper, aluminium or copper-clad-aluminium
    #[arg(long, value_name = "MATERIAL", value_parser = name::<Material>)]
    pub(crate) material: Option<Material>,

    /// How the conductor lies: free-air, surface, bundle, conduit-plastic,
    /// conduit-metal, conduit-split, insulated or enclosed
    #[arg(long, value_name = "INSTALLATION", value_parser = name::<Installation>)]
    pub(crate) install: Option<Installation>,

    /// Loaded conductors laid together, both legs counted [default: the legs]
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub(crate) together: Option<u16>,

    /// Bore of the conduit, such as 25mm [default: filled to 40 %]
    #[arg(long, value_name = "LENGTH", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub(crate) bore: Option<Length>,

    /// The part of the time that the current flows, such as "30 s in 10 min"
    #[arg(long, value_name = "DUTY", value_parser = name::<Duty>, allow_hyphen_values = true)]
    pub(crate) duty: Option<Duty>,

    /// How the current comes back
    #[arg(long = "return", value_name = "PATH")]
    pub(crate) return_path: Option<Return>,

    /// Measured resistance of the whole chassis return, such as 3mohm
    #[arg(long, value_name = "RESISTANCE", value_parser = quantity::<ElectricalResistance>, allow_hyphen_values = true)]
    pub(crate) chassis_resistance: Option<ElectricalResistance>,

    /// Lugs on studs in the whole circuit [default: 4]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(..=100), allow_hyphen_values = true)]
    pub(crate) lugs: Option<u16>,

    /// Screw cage terminals in the whole circuit [default: 0]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(..=100), allow_hyphen_values = true)]
    pub(crate) screw_cages: Option<u16>,

    /// Isolators in the whole circuit [default: 0]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(..=100), allow_hyphen_values = true)]
    pub(crate) isolators: Option<u16>,

    /// Largest conductor that the terminals accept, such as 16mm2 or 6AWG
    #[arg(long, value_name = "SIZE", value_parser = quantity::<CrossSection>, allow_hyphen_values = true)]
    pub(crate) terminal: Option<CrossSection>,

    /// How hot the terminals may get, such as 75C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, allow_hyphen_values = true)]
    pub(crate) terminal_temperature: Option<ThermodynamicTemperature>,

    /// Rule set: general, iec-caravan, iso-small-craft, us-small-craft or na-recreational-vehicle
    #[arg(long, value_name = "PRACTICE", value_parser = name::<Practice>)]
    pub(crate) practice: Option<Practice>,

    /// Form of the result; svg is a picture
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: PictureFormat,

    /// Print the calculation: formula, numbers put in, result, source
    #[arg(long)]
    pub(crate) working: bool,
}
