//! Sources: batteries, banks of them, alternators, and what holds a voltage up to a limit.
//!
//! ```
//! use loomwright::quantity::{ElectricPotential, FromText, Ratio, celsius};
//! use loomwright::source::Chemistry;
//! // A lithium iron phosphate block half full stands at 13.06 V; a flooded one at 12.24 V.
//! let half = |chemistry: Chemistry| chemistry.open_voltage(Ratio::from(0.5), celsius(25.0)).map(|volts| volts.value);
//! assert!((half(Chemistry::LithiumIronPhosphate)? - 13.064).abs() < 1e-3);
//! assert!((half(Chemistry::Flooded)? - 12.24).abs() < 2e-3);
//! # Ok::<(), loomwright::source::SourceError>(())
//! ```

mod alternator;
mod bank;
mod battery;
mod one_way;
mod short_circuit;
pub mod solar;
mod storage;

pub use alternator::{AlternatorCurve, Speed, per_minute, regulated};
pub use bank::{Behind, parallel, series, shares};
pub(crate) use battery::as_lead;
pub use battery::{Chemistry, SourceError};
pub use one_way::{OneWay, SensingRelay};
pub use short_circuit::ShortCircuit;
pub use storage::{ChargeWindow, Storage, peukert_exponent};
