//! What can be wrong with the text of a quantity.

use crate::names::did_you_mean;
use thiserror::Error;

/// The text could not be read as the quantity that is needed here.
///
/// Every variant says what was given and shows a form that is accepted.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum QuantityError {
    /// Nothing was given.
    #[error("{article} is needed, for example {example:?}; nothing was given")]
    Empty {
        /// The quantity with its article.
        article: &'static str,
        /// An accepted form.
        example: &'static str,
    },
    /// A number without a unit.
    #[error("{given:?} has no unit; write {article} with its unit, for example {example:?}")]
    BareNumber {
        /// The text as given.
        given: String,
        /// The quantity with its article.
        article: &'static str,
        /// An accepted form.
        example: &'static str,
    },
    /// A unit of another quantity.
    #[error("{given:?} is {found}; {article} is needed here, for example {example:?}")]
    WrongKind {
        /// The text as given.
        given: String,
        /// What the unit measures, with its article.
        found: &'static str,
        /// The quantity that is needed, with its article.
        article: &'static str,
        /// An accepted form.
        example: &'static str,
    },
    /// A unit that is not known.
    #[error("{unit:?} in {given:?} is not a unit of {quantity}{}; known: {known}", did_you_mean(*nearest))]
    UnknownUnit {
        /// The text as given.
        given: String,
        /// The unit as given.
        unit: String,
        /// The quantity that is needed.
        quantity: &'static str,
        /// The nearest unit of that quantity, when one is near.
        nearest: Option<&'static str>,
        /// The units of that quantity.
        known: String,
    },
    /// A comma where a decimal point belongs.
    #[error("{given:?} has a comma; write a decimal point and no thousands separator, for example {example:?}")]
    Comma {
        /// The text as given.
        given: String,
        /// An accepted form.
        example: &'static str,
    },
    /// Not-a-number or an infinity.
    #[error("{given:?} is not a finite number; {article} is needed, for example {example:?}")]
    NotFinite {
        /// The text as given.
        given: String,
        /// The quantity with its article.
        article: &'static str,
        /// An accepted form.
        example: &'static str,
    },
    /// No number where one was expected.
    #[error("{given:?} does not start with a number; {article} is needed, for example {example:?}")]
    NotANumber {
        /// The text as given.
        given: String,
        /// The quantity with its article.
        article: &'static str,
        /// An accepted form.
        example: &'static str,
    },
    /// A gauge number that is not made.
    #[error("{given:?} is not a gauge; gauges run from 4/0 over 1/0 and 1 to 40, for example \"6 AWG\"")]
    NoSuchGauge {
        /// The text as given.
        given: String,
    },
}
