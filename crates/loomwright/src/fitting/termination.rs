//! What goes on the end of a conductor.

use super::{Lug, Pin, Thread};
use crate::conductor::Conductor;
use crate::data::tables::ferrules;
use crate::quantity::{Area, Length, ToText, in_mm2};
use uom::si::length::millimeter;

/// What goes on the end of a conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Termination {
    /// A crimp lug.
    Lug(Lug),
    /// No lug is made for this conductor and stud.
    NoLug(Area, Thread),
    /// An end ferrule of that cross-section.
    Ferrule(Area),
    /// A reducing pin.
    Pin(Pin),
    /// Nothing: solid or stranded conductors, and flexible ones above the largest ferrule.
    Bare,
    /// The plan does not say what terminal it is.
    Unstated,
}

fn row_of(area: Area) -> Option<&'static ferrules::Ferrules> {
    ferrules::ROWS.iter().find(|row| in_mm2(area) <= row.csa_mm2 * (1.0 + 1e-9))
}

/// Usual length of the tube of an end ferrule for a conductor; `None` above the largest. The insulation is stripped so far,
/// where the terminal does not say.
///
/// ```
/// use loomwright::{fitting::ferrule_length, quantity::mm2};
/// assert_eq!(ferrule_length(mm2(1.5)).map(|length| (length.value * 1e3).round()), Some(10.0)); // of 8, 10, 12 and 18 mm
/// assert_eq!(ferrule_length(mm2(16.0)).map(|length| (length.value * 1e3).round()), Some(12.0)); // of 12 and 18 mm
/// assert!(ferrule_length(mm2(300.0)).is_none());
/// ```
pub fn ferrule_length(area: Area) -> Option<Length> {
    // Some terminals need ten millimetres, few take much more (common practice, no source).
    let lengths = row_of(area)?.lengths_mm_list;
    let usual = lengths.iter().find(|length| **length >= 10.0).or(lengths.last());
    usual.copied().map(Length::new::<millimeter>)
}

impl Termination {
    /// The ferrule for a flexible conductor, or nothing above the largest.
    pub(super) fn ferrule(conductor: &Conductor) -> Self {
        row_of(conductor.area).map_or(Self::Bare, |row| Self::Ferrule(crate::quantity::mm2(row.csa_mm2)))
    }

    /// The termination in words.
    pub fn words(&self) -> String {
        match self {
            Self::Lug(lug) => lug.words(),
            Self::NoLug(area, thread) => format!("no lug made: {} on {}", area.to_text(), thread.name()),
            Self::Ferrule(area) => format!("ferrule {}", area.to_text()),
            Self::Pin(pin) => pin.words(),
            Self::Bare => "bare, not tinned".to_owned(),
            Self::Unstated => "by the terminal".to_owned(),
        }
    }
}
