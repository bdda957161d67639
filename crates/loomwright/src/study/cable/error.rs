//! Why a circuit could not be computed at all.

use thiserror::Error;

use crate::conductor::ConductorError;
use crate::heat::HeatError;

/// The question could not be answered.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum CableError {
    /// A value outside what is accepted.
    #[error("{what} of {given} is not accepted; {accepted}")]
    OutOfRange {
        /// Which value.
        what: &'static str,
        /// The value as given.
        given: String,
        /// What is accepted.
        accepted: &'static str,
    },
    /// A solid conductor.
    #[error(
        "solid conductors ({kind}) are refused in anything that moves: vibration breaks them; use iec-2, iec-5 or iec-6"
    )]
    SolidConductor {
        /// The conductor kind.
        kind: &'static str,
    },
    /// A material that is no cable.
    #[error(
        "{material} is a chassis return, not a cable; use copper, tinned-copper, aluminium or copper-clad-aluminium"
    )]
    NotACable {
        /// The material.
        material: &'static str,
    },
    /// The conductor does not exist.
    #[error(transparent)]
    Conductor(#[from] ConductorError),
    /// The ambient leaves no room for any current.
    #[error(
        "no current is permissible: the air is {ambient}, insulation may reach {insulation} and terminals {terminal}; the lower of both must be above the air"
    )]
    NoCurrent {
        /// Hottest ambient.
        ambient: String,
        /// Insulation class.
        insulation: String,
        /// Terminal limit.
        terminal: String,
    },
    /// No temperature or ampacity can be given.
    #[error(transparent)]
    Heat(#[from] HeatError),
}
