//! What an upgrade finds in place: parts that stay and parts that go.

use super::runs::stated_conductor;
use crate::installation::{Cut, Existing, FuseChoice, Part, State};
use crate::quantity::Length;
use crate::text::entry::{Entry, File, Value};
use crate::text::resolve::Names;

fn state(entry: &Entry) -> Option<State> {
    entry.choice("existing")
}

pub(super) fn is_removed(entry: &Entry) -> bool {
    state(entry) == Some(State::Removed)
}

/// Every existing part in the order of the plan: what stays, then what goes.
pub(super) fn existing(
    file: &File<'_>,
    removed: &[Entry],
    defaults: Option<&Entry>,
    names: &mut Names<'_>,
) -> Vec<Existing> {
    let mut found = Vec::new();
    for entry in file.entries.iter().filter(|entry| state(entry) == Some(State::Kept)) {
        let is_wire = matches!(entry.section, "circuits" | "runs");
        if is_wire && !matches!(entry.get("conductor").map(|at| &at.value), Some(Value::Size(_))) {
            names.refuse(
                entry,
                "existing",
                "a conductor that is there has a size: add for example conductor = \"16 mm2\"",
            );
        }
        let Ok(part) = entry.section.parse::<Part>() else { continue };
        found.push(Existing { part, name: entry.name.clone(), state: State::Kept, freed: None, fuse: None });
    }
    for entry in removed {
        let Ok(part) = entry.section.parse::<Part>() else { continue };
        // A circuit that returns by the chassis has one conductor.
        let legs = if entry.section == "circuits" && entry.text("return").is_none_or(|at| at.value != "chassis") {
            2.0
        } else {
            1.0
        };
        let freed =
            stated_conductor(entry, defaults).zip(cut_length(entry)).map(|(size, length)| (size, length * legs));
        let fuse = match entry.fuse("fuse") {
            Some(FuseChoice::Fixed(fuse)) => Some(fuse),
            _ => None,
        };
        found.push(Existing { part, name: entry.name.clone(), state: State::Removed, freed, fuse });
    }
    found
}

fn cut_length(entry: &Entry) -> Option<Length> {
    let Value::Route(stretches) = &entry.get("route")?.value else { return None };
    let route = stretches.iter().fold(Length::default(), |sum, stretch| sum + stretch.length);
    Some(Cut::default().of(route))
}
