//! What can be wrong with a fuse that is asked for.

use thiserror::Error;

/// The fuse does not exist.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ProtectionError {
    /// Text that names no fuse.
    #[error("{0:?} is not a fuse; write rating and family, for example \"15 A blade-c\"")]
    NoFuse(String),
    /// A rating that cannot be read.
    #[error(transparent)]
    Quantity(#[from] crate::quantity::QuantityError),
    /// A family that does not exist.
    #[error(transparent)]
    Unknown(#[from] crate::names::UnknownName),
    /// Gates that make no band.
    #[error("the gate at {at_a} A makes no time-current band: {why}")]
    Gates {
        /// Current of the gate.
        at_a: f64,
        /// What is wrong.
        why: &'static str,
    },
    /// Edges that cross.
    #[error("at {at_a} A the earliest opening comes after the latest")]
    Crossing {
        /// The current.
        at_a: f64,
    },
    /// A rating that the family is not made in.
    #[error("{rating_a} A is not a rating of {family}; its ratings: {known}")]
    NoSuchRating {
        /// The rating asked for.
        rating_a: f64,
        /// The family.
        family: &'static str,
        /// Its ratings.
        known: String,
    },
}
