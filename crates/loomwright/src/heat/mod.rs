//! How hot a conductor gets, and what it may carry: candidates, not policy.
//!
//! Steady: [`HeatPath`] follows the heat from the metal to still air for every way of lying
//! ([`Installation`]), by up to three models; the most cautious decides. [`Transient`] follows it through
//! time, [`withstand`] says what no lost heat leaves, and [`DamageCurve`] how long each current may flow.

mod air;
mod annulus;
mod chain;
mod damage;
mod duty;
mod error;
mod lay;
mod models;
mod path;
mod radial;
mod shedding;
mod table;
mod transient;
mod withstand;

pub use air::{Air, air};
pub(crate) use chain::{GRAVITY, STEFAN_BOLTZMANN};
pub use damage::{DamageCurve, DamageFloor, OverloadLimits, Reached};
pub use duty::Duty;
pub use error::HeatError;
pub use lay::{Installation, Lay, Others};
pub use path::{Balance, HeatPath, Model};
pub use table::{group_factor, group_factor_source};
pub use transient::{Moment, Pulse, Transient};
pub use withstand::{Withstand, withstand};
