//! What can be wrong with a conductor that is asked for.

use thiserror::Error;

/// The conductor does not exist.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum ConductorError {
    /// No table gives this material in this kind.
    #[error("{kind} is not made of {material}; possible: {possible}")]
    MaterialNotInKind {
        /// The conductor kind.
        kind: &'static str,
        /// The material asked for.
        material: &'static str,
        /// The materials of that kind.
        possible: String,
    },
    /// The size does not stand in the kind's series.
    #[error("{size} is not a size of {kind} in {material}; nearest sizes: {nearest}")]
    NoSuchSize {
        /// The size asked for.
        size: String,
        /// The conductor kind.
        kind: &'static str,
        /// The material.
        material: &'static str,
        /// The sizes above and below.
        nearest: String,
    },
}
