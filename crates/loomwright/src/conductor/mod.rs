//! Conductors: what they are made of, in which sizes they come, and their resistance at temperature.

mod error;
mod geometry;
mod kind;
mod material;
mod series;

pub use error::ConductorError;
pub use kind::Kind;
pub use material::{Material, MaterialData};
pub(crate) use series::material_not_in_kind;
pub use series::{Conductor, find, series};
