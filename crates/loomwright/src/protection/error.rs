//! What can be wrong with a fuse that is asked for.

use thiserror::Error;

/// The fuse does not exist.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ProtectionError {
    /// A family name that is not known.
    #[error("{given:?} is not a {what}{}; known: {known}", nearest.map(|name| format!(", did you mean {name:?}?")).unwrap_or_default())]
    UnknownName {
        /// What kind of name was needed.
        what: &'static str,
        /// The text as given.
        given: String,
        /// The nearest known name, when one is near.
        nearest: Option<&'static str>,
        /// All known names.
        known: String,
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
