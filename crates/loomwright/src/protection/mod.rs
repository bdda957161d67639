//! Protective devices, fuse-links and circuit breakers: families as data, what they carry, and whether they protect a
//! conductor.
//!
//! Families are rows of `data/fuse_families.csv`; adding one needs no code.

mod band;
mod coordination;
mod device;
mod error;
mod family;
mod select;

pub use band::{Band, Gate};
pub use coordination::{Least, discrimination, least_ratio};
pub use device::{Device, Sheet};
pub use error::ProtectionError;
pub use family::{Family, Holder, Reset, families};
pub use select::{Fuse, OVERLOAD_FACTOR, Selection, law_allows, overload_margins, protection_margins};
