//! What can keep a temperature or an ampacity from being computed.

use thiserror::Error;

/// No temperature or ampacity can be given.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum HeatError {
    /// The conductor may get no hotter than the air around it is.
    #[error(
        "no current is permissible: the conductor limit of {limit_c:.1} °C is not above the ambient of {ambient_c:.1} °C"
    )]
    LimitBelowAmbient {
        /// The conductor's limit.
        limit_c: f64,
        /// The ambient temperature.
        ambient_c: f64,
    },
    /// The current heats the conductor beyond every insulation, or without end.
    #[error("{current_a:.1} A heats the conductor beyond {ceiling_c:.0} °C; it has no steady temperature of use")]
    TooHot {
        /// The current.
        current_a: f64,
        /// The highest temperature considered.
        ceiling_c: f64,
    },
    /// The size stands outside the table that the installation rests on.
    #[error(
        "{csa_mm2:.3} mm² lies outside the enclosed-installation table, which runs from {least_mm2} to {most_mm2} mm²"
    )]
    OutsideTable {
        /// The size.
        csa_mm2: f64,
        /// The table's smallest size.
        least_mm2: f64,
        /// The table's largest size.
        most_mm2: f64,
    },
    /// More circuits together than the table of grouping factors holds.
    #[error("{circuits} circuits together are more than the {most} that the table of grouping factors holds")]
    Grouping {
        /// The circuits.
        circuits: u16,
        /// The table's last row.
        most: f64,
    },
    /// A number of conductors that is not counted with.
    #[error("{together} conductors together: 1 to {most} are computed, the conductor itself included")]
    Together {
        /// The number given.
        together: u16,
        /// The largest that is accepted.
        most: u16,
    },
    /// The conduit is smaller than its contents.
    #[error(
        "a conduit with a bore of {bore_mm:.1} mm does not hold its contents: {conductors} conductors need at least {contents_mm:.1} mm"
    )]
    Conduit {
        /// The bore.
        bore_mm: f64,
        /// The diameter of the circle around the contents.
        contents_mm: f64,
        /// How many conductors.
        conductors: u32,
    },
    /// A model without numbers for the installation.
    #[error("the model {model} does not bear on this installation")]
    NoModel {
        /// The model.
        model: &'static str,
    },
    /// A temperature outside what the air properties cover.
    #[error("an ambient of {ambient_c:.1} °C is outside −60 to 200 °C")]
    Ambient {
        /// The ambient temperature.
        ambient_c: f64,
    },
    /// A current that is negative or no finite number.
    #[error("a current of {current_a} A is not a finite number of 0 A or more")]
    Current {
        /// The current.
        current_a: f64,
    },
    /// A joint's resistance that is negative or no finite number.
    #[error("a joint of {resistance_mohm} mΩ: a finite number of 0 mΩ or more is computed")]
    Joint {
        /// The resistance.
        resistance_mohm: f64,
    },
    /// A joint that no cable leaves: nothing that is counted here cools it.
    #[error("no cable leaves the joint, so nothing that is counted cools it; name at least one")]
    NoCable,
    /// A voltage across a contact that is negative or no finite number.
    #[error("{volts} V across a contact: a finite number from 0 to {most} V is computed")]
    Contact {
        /// The voltage.
        volts: f64,
        /// The highest that is accepted.
        most: f64,
    },
    /// A duty cycle that cannot be read.
    #[error("{given:?} is not a duty: {reason}; for example \"30 s in 10 min\"")]
    Duty {
        /// The text as given.
        given: String,
        /// What is wrong with it.
        reason: String,
    },
    /// A duration that is negative, zero or no finite number, or an on-time longer than its period.
    #[error("{what} of {given_s} s: {accepted}")]
    Duration {
        /// Which duration.
        what: &'static str,
        /// Its value.
        given_s: f64,
        /// What is accepted.
        accepted: String,
    },
}
