//! How hot a conductor gets, and what it may carry: candidates, not policy.
//!
//! Steady: [`HeatPath`] follows the heat from the metal to still air for every way of lying
//! ([`Installation`]), by up to three models; the most cautious decides. [`Transient`] follows it through
//! time, [`withstand`] says what no lost heat leaves, and [`DamageCurve`] how long each current may flow.
//! [`joint_heat`] says how hot a joint gets that its cables cool, and [`spot_temperature`] its contact spots.

mod air;
mod annulus;
mod chain;
mod damage;
mod duty;
mod error;
mod joint;
mod lay;
mod models;
mod path;
mod radial;
mod shedding;
mod spot;
mod table;
mod transient;
mod withstand;

pub use air::{Air, air};
pub(crate) use chain::{GRAVITY, STEFAN_BOLTZMANN};
pub use damage::{DamageCurve, DamageFloor, OverloadLimits, Reached};
pub use duty::Duty;
pub use error::HeatError;
pub use joint::{JointHeat, fin_conductance, joint_heat, resistance_at_rise};
pub use lay::{Installation, Lay, Others};
pub use path::{Balance, HeatPath, Model};
pub use spot::{ContactMetal, contact_voltage, spot_temperature};
pub use table::{group_factor, group_factor_source};
pub use transient::{Moment, Pulse, Transient};
pub use withstand::{Withstand, withstand};
