//! The mains side of inverters: what protects from electric shock there.
//!
//! A residual-current device sees a fault only as current that does not come back through it, and without a bond of the
//! neutral behind the inverter a first fault drives none. Without either, mains that float are safe for one appliance alone.

use super::super::plain;
use crate::data::Confidence;
use crate::finding::{Finding, Signal};
use crate::installation::{ConverterKind, Installation};

const CITATION: &str = "IEC 60364-4-41, 411.3.3, 411.4 and 413.3; IEC 60364-7-721 (from memory)";
const BY_WHOM: &str = "local codes decide, and a licensed electrician does it";

pub(super) fn findings(plan: &Installation) -> Vec<Finding> {
    let shore = plan.converters.iter().any(|one| one.kind == ConverterKind::ShoreCharger);
    let mut found = Vec::new();
    for (index, inverter) in plan.converters.iter().enumerate().filter(|(_, one)| one.kind == ConverterKind::Inverter) {
        let mut tell = |rule: &'static str, signal: Signal, message: String| {
            let mut finding = plain(rule, &inverter.name, signal, format!("{message}; {BY_WHOM}"), CITATION);
            finding.confidence = Confidence::Memory;
            found.push(finding);
        };
        let appliances = plan.loads.iter().filter(|load| load.inverter == Some(index)).count();
        match (inverter.rcd, inverter.neutral_bond) {
            (None, bond) => {
                let (also, is) = if bond.is_none() { (" and neutral_bond", "are") } else { ("", "is") };
                tell("residual-current", Signal::Caution, format!("cannot be judged: rcd{also} of its mains side {is} not stated"));
            }
            // A fault to a case then drives what the inverter can give, which opens nothing in time.
            (Some(false), Some(true)) => tell(
                "residual-current",
                Signal::Danger,
                "its neutral is bonded and there is no residual-current device: an inverter seldom gives enough current to \
                 open a breaker, so a live case stays live; fit one of 30 mA"
                    .to_owned(),
            ),
            (Some(false), Some(false)) if appliances <= 1 => tell(
                "residual-current",
                Signal::Caution,
                "its mains float and have no residual-current device: safe for one appliance at a time only, of which the \
                 plan cannot tell"
                    .to_owned(),
            ),
            (Some(false), _) => tell(
                "residual-current",
                Signal::Warning,
                "there is no residual-current device on its mains side: fit one of 30 mA, with the neutral bonded before it"
                    .to_owned(),
            ),
            (Some(true), None) => {
                tell("neutral-bond", Signal::Caution, "cannot be judged: neutral_bond of its mains side is not stated".to_owned());
            }
            (Some(true), Some(false)) => tell(
                "neutral-bond",
                Signal::Warning,
                "its neutral is not bonded: a first fault drives no current to the protective conductor, and the \
                 residual-current device never opens; bond the neutral before it"
                    .to_owned(),
            ),
            (Some(true), Some(true)) => {}
        }
        if shore && inverter.neutral_bond == Some(true) {
            tell(
                "neutral-bond",
                Signal::Caution,
                "its neutral is bonded, and so is that of the shore: the two may never be joined, so its bond opens when \
                 shore supplies the same sockets, or its sockets are its own"
                    .to_owned(),
            );
        }
    }
    found
}
