//! Unit-safe quantities, and their text forms.
//!
//! Quantities are `uom` types over `f64` in SI base units; [`uom`] is re-exported because its major
//! version is part of this crate's interface. Quantities that `uom` has no name for are defined here.
//!
//! ```
//! use loomwright::quantity::{ElectricCurrent, FromText, ToText};
//! let current = ElectricCurrent::from_text("40A")?;
//! assert_eq!(current.to_text(), "40 A");
//! assert!(ElectricCurrent::from_text("40").is_err()); // a bare number is refused
//! # Ok::<(), loomwright::quantity::QuantityError>(())
//! ```

mod error;
mod gauge;
mod parse;
mod text;
mod units;

pub use error::QuantityError;
pub use gauge::{CrossSection, Gauge};
pub use text::{FromText, ToText};
pub(crate) use text::{round_significant, significant};
pub use uom;
pub use uom::si::f64::{
    Angle, Area, Capacitance, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance,
    ElectricalResistivity, Energy, Frequency, HeatFluxDensity, HeatTransfer, Length, LinearPowerDensity, Mass,
    MassDensity, Power, RadiantExposure, Ratio, TemperatureInterval, ThermalConductance, ThermalConductivity,
    ThermodynamicTemperature, Time, Torque, Velocity, VolumetricHeatCapacity,
};

use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{N2, N3, P1, P2, Z0};

/// Resistance per length of conductor, Ω/m.
pub type LineResistance = Quantity<ISQ<P1, P1, N3, N2, Z0, Z0, Z0>, SI<f64>, f64>;

/// Joule integral I²t, A²s: what heats a conductor or melts a fuse before heat can leave.
pub type JouleIntegral = Quantity<ISQ<Z0, Z0, P1, P2, Z0, Z0, Z0>, SI<f64>, f64>;

/// Heat that a metre of cable sheds per kelvin, W/(m·K): it has the dimension of a conductivity.
pub type LineConductance = ThermalConductivity;

/// A temperature from degrees Celsius.
///
/// ```
/// use loomwright::quantity::{celsius, in_celsius};
/// assert!((in_celsius(celsius(40.0)) - 40.0).abs() < 1e-9);
/// ```
pub fn celsius(degrees: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<uom::si::thermodynamic_temperature::degree_celsius>(degrees)
}

/// A temperature in degrees Celsius.
///
/// ```
/// use loomwright::quantity::{ThermodynamicTemperature, in_celsius, uom::si::thermodynamic_temperature::kelvin};
/// assert!((in_celsius(ThermodynamicTemperature::new::<kelvin>(373.15)) - 100.0).abs() < 1e-9);
/// ```
pub fn in_celsius(temperature: ThermodynamicTemperature) -> f64 {
    temperature.get::<uom::si::thermodynamic_temperature::degree_celsius>()
}

/// The difference of two temperatures, `hotter − colder`; negative when they are the other way round.
///
/// `uom` keeps temperatures and differences apart and has no subtraction between them.
///
/// ```
/// use loomwright::quantity::{celsius, rise};
/// assert!((rise(celsius(70.0), celsius(30.0)).value - 40.0).abs() < 1e-9);
/// assert!((rise(celsius(30.0), celsius(70.0)).value + 40.0).abs() < 1e-9);
/// ```
pub fn rise(hotter: ThermodynamicTemperature, colder: ThermodynamicTemperature) -> TemperatureInterval {
    TemperatureInterval::new::<uom::si::temperature_interval::kelvin>(hotter.value - colder.value)
}

/// Resistance per length from ohms per kilometre.
///
/// ```
/// use loomwright::quantity::{FromText, Length, ohm_per_km};
/// let resistance = ohm_per_km(1.15) * Length::from_text("100 m")?;
/// assert!((resistance.value - 0.115).abs() < 1e-12); // 16 mm² of class 2 by IEC 60228
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn ohm_per_km(value: f64) -> LineResistance {
    ElectricalResistance::new::<uom::si::electrical_resistance::ohm>(value)
        / Length::new::<uom::si::length::kilometer>(1.0)
}

/// Resistance per length in ohms per kilometre, the usual unit of conductor tables.
///
/// ```
/// use loomwright::quantity::{FromText, LineResistance, in_ohm_per_km};
/// assert!((in_ohm_per_km(LineResistance::from_text("2 mohm/m")?) - 2.0).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn in_ohm_per_km(resistance: LineResistance) -> f64 {
    resistance.value * 1e3
}

/// An angle from degrees.
///
/// ```
/// assert!((loomwright::quantity::degrees(180.0).value - std::f64::consts::PI).abs() < 1e-12);
/// ```
pub fn degrees(value: f64) -> Angle {
    Angle::new::<uom::si::angle::degree>(value)
}

/// An angle in degrees.
///
/// ```
/// use loomwright::quantity::{Angle, FromText, in_degrees};
/// assert!((in_degrees(Angle::from_text("0.5 rad")?) - 28.6479).abs() < 1e-4); // 90°/π
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn in_degrees(angle: Angle) -> f64 {
    angle.get::<uom::si::angle::degree>()
}

/// A cross-sectional area from square millimetres.
///
/// ```
/// use loomwright::quantity::{Area, FromText, mm2};
/// assert!(((mm2(150.0) / Area::from_text("1.5 cm2")?).value - 1.0).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn mm2(value: f64) -> Area {
    Area::new::<uom::si::area::square_millimeter>(value)
}

/// A cross-sectional area in square millimetres.
///
/// ```
/// use loomwright::quantity::{Area, FromText, in_mm2};
/// assert!((in_mm2(Area::from_text("1 kcmil")?) - 0.506707).abs() < 1e-6); // π/4 · 25.4 mm² · 25.4/1000
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn in_mm2(area: Area) -> f64 {
    area.value * 1e6
}

/// One circular mil, the area of a circle one thousandth of an inch across, in square metres.
pub(crate) const CIRCULAR_MIL_M2: f64 = std::f64::consts::FRAC_PI_4 * 25.4e-6 * 25.4e-6;
/// One foot in metres, exact.
pub(crate) const FOOT_M: f64 = 0.3048;
