//! Converters: what they take for what they give, where they stop, and the heat that they leave.
//!
//! Physics without policy: [`Losses`] (fitted, typical or flat) and [`EfficiencyTable`] say what a converter loses,
//! [`Weighting`] condenses a curve to one efficiency, [`Limits`] says what binds, [`LockOut`] whether it stays on at
//! the end of a feeder, [`Precharge`] what closing onto its input capacitors does, [`free_surface`] and [`Enclosure`]
//! how hot it gets, and [`Comparison`] what a better one saves.

mod comparison;
mod error;
mod fit;
mod least_squares;
mod limits;
mod lock_out;
mod losses;
mod ripple;
mod surface;
mod table;
mod weighting;

pub use comparison::{Comparison, Running, Usage};
pub use error::ConverterError;
pub use fit::{Fit, Residual};
pub use limits::{Binding, Conditions, Derating, Limits, Operation};
pub use lock_out::{Behaviour, LockOut, OnFeeder};
pub use losses::{LossError, Losses, PerPower};
pub use ripple::{Precharge, ripple_rms};
pub use surface::{Enclosure, SurfaceHeat, free_surface, surface_heat};
pub use table::EfficiencyTable;
pub use weighting::Weighting;
