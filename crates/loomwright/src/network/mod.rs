//! Nodes, branches, sources and demands, and the operating point they settle at, or that none exists.
//!
//! ```
//! use loomwright::network::{Branch, Demand, Network, Outcome, Source, solve};
//! use loomwright::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, FromText};
//! // A battery of 12.6 V and 10 mΩ, 30 mΩ of cable, a load of 20 A: 12.6 V − 20 A · 40 mΩ = 11.8 V.
//! let network = Network {
//!     nodes: 3,
//!     sources: vec![Source::new(
//!         [1, 0],
//!         ElectricPotential::from_text("12.6 V")?,
//!         ElectricalResistance::from_text("10 mohm")?,
//!     )],
//!     branches: vec![Branch::new([1, 2], ElectricalResistance::from_text("30 mohm")?)],
//!     demands: vec![Demand::current([2, 0], ElectricCurrent::from_text("20 A")?)],
//!     ..Network::default()
//! };
//! let Outcome::Point(point) = solve(&network)? else { panic!("an operating point exists") };
//! assert!((point.between([2, 0]).value - 11.8).abs() < 1e-9);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod elements;
mod factor;
mod islands;
mod lower;
mod margin;
mod order;
mod parts;
mod point;
mod response;
mod solver;
mod states;

pub use elements::{Branch, Converter, Demand, DemandKind, Network, NetworkError, Relay, Source};
pub(crate) use islands::islands;
pub use lower::{
    Lowered, Part, delivers, input_power, inverter_output, joined, load_power, lock_out_current, lower, runs_in,
};
pub use point::{ConverterPoint, NoOperatingPoint, OperatingPoint, Outcome, Workbench, operating_point, solve};
pub use response::{Response, shares};
pub use solver::{DemandState, SourceState};

#[cfg(test)]
mod tests;
