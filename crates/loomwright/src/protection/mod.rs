//! Fuses: families as data, what they carry, and whether they protect a conductor.
//!
//! Families are rows of `data/fuse_families.csv`; adding one needs no code.

mod band;
mod coordination;
mod error;
mod family;
mod select;

pub use band::{Band, Gate};
pub use coordination::{Least, discrimination, least_ratio};
pub use error::ProtectionError;
pub use family::{Family, families};
pub use select::{Fuse, OVERLOAD_FACTOR, Selection, law_allows, protection_margins};
