//! How hot a conductor gets, and what it may carry: candidates, not policy.
//!
//! Two installations so far: [`Installation::FreeAir`] from first principles, and
//! [`Installation::Enclosed`], the cautious default, from the IEC 60364-5-52 method B table.

mod air;
mod cylinder;
mod enclosed;
mod error;
mod path;

pub use air::{Air, air};
pub(crate) use cylinder::Near;
pub use error::HeatError;
pub use path::{Balance, HeatPath, Installation, group_factor, group_factor_source};
