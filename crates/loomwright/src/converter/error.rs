//! What can keep a converter from being computed.

use crate::quantity::{ElectricCurrent, ElectricPotential, Power, Ratio, significant};
use thiserror::Error;
use uom::si::ratio::percent;

/// Nothing can be said of the converter.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ConverterError {
    /// A value outside what is accepted, or no finite number.
    #[error("{what} of {} {unit}: {accepted}", significant(*given, 9))]
    OutOfRange {
        /// What the value is.
        what: &'static str,
        /// The value as given.
        given: f64,
        /// Its unit.
        unit: &'static str,
        /// What is accepted.
        accepted: &'static str,
    },
    /// Too few different outputs among the points.
    #[error("{given} points do not fix a loss curve: it needs three different outputs, 1 % of rated output apart")]
    TooFewPoints {
        /// How many points were given.
        given: usize,
    },
    /// An empty table.
    #[error("a table of efficiencies has one point or more; none was given")]
    EmptyTable,
    /// Outputs of a table that do not rise.
    #[error(
        "the outputs of a table rise: {} W is followed by {} W", significant(*before_w, 9), significant(*after_w, 9)
    )]
    Order {
        /// An output.
        before_w: f64,
        /// The one after it.
        after_w: f64,
    },
    /// The input would fall, or stay, while the output rises.
    #[error(
        "between outputs of {} W and {} W the input would not rise: no converter does that",
        significant(*before_w, 9),
        significant(*after_w, 9)
    )]
    Falling {
        /// The smaller output.
        before_w: f64,
        /// The larger output.
        after_w: f64,
    },
    /// An output above the last point of a table.
    #[error(
        "{} W lies above the last point of the table, {} W: nothing is known there",
        significant(*given_w, 9),
        significant(*last_w, 9)
    )]
    AboveTable {
        /// The output as given.
        given_w: f64,
        /// The last output of the table.
        last_w: f64,
    },
    /// It would lose no less at rest than at rated output.
    #[error(
        "a no-load power of {} W is not below the loss at rated output, which is {} W at that efficiency",
        significant(*given_w, 9),
        significant(*loss_w, 9)
    )]
    NoLoad {
        /// The no-load power as given.
        given_w: f64,
        /// The whole loss at rated output.
        loss_w: f64,
    },
    /// A derating without a rated output.
    #[error("a derating with temperature needs a rated output: give its output power or its output current")]
    NothingToDerate,
    /// More heat than the surface sheds at a bearable temperature.
    #[error(
        "{} W through {} m² heats the air inside by more than {most_k} K: it needs a larger box or air from outside",
        significant(*heat_w, 6),
        significant(*surface_m2, 6)
    )]
    TooHot {
        /// The heat.
        heat_w: f64,
        /// The surface that sheds it.
        surface_m2: f64,
        /// The largest rise that is computed.
        most_k: f64,
    },
}

/// Refuses a value that is no finite number or does not hold.
pub(super) fn check(
    what: &'static str,
    given: f64,
    unit: &'static str,
    accepted: &'static str,
    holds: bool,
) -> Result<(), ConverterError> {
    if holds && given.is_finite() { Ok(()) } else { Err(ConverterError::OutOfRange { what, given, unit, accepted }) }
}

pub(super) fn rated(power: Power) -> Result<(), ConverterError> {
    check("a rated output", power.value, "W", "above 0 W", power.value > 0.0)
}

/// A power of nothing or more.
pub(super) fn power(what: &'static str, power: Power) -> Result<(), ConverterError> {
    check(what, power.value, "W", "0 W or more", power.value >= 0.0)
}

pub(super) fn current(what: &'static str, current: ElectricCurrent) -> Result<(), ConverterError> {
    check(what, current.value, "A", "0 A or more", current.value >= 0.0)
}

/// A voltage above nothing.
pub(super) fn voltage(what: &'static str, voltage: ElectricPotential) -> Result<(), ConverterError> {
    check(what, voltage.value, "V", "above 0 V", voltage.value > 0.0)
}

/// An efficiency of a data sheet: at the smallest outputs it may be a few per cent.
pub(super) fn efficiency(efficiency: Ratio) -> Result<(), ConverterError> {
    let holds = (0.01..1.0).contains(&efficiency.value);
    check("an efficiency", efficiency.get::<percent>(), "%", "1 % or more and below 100 %", holds)
}
