//! An annotated plan to start from, from the key table.

use std::fmt::Write as _;

use super::keys::SECTIONS;
use crate::installation::TypicalLoad;
use crate::quantity::ToText;

/// A small working plan, followed by every section and key with its meaning, commented out.
///
/// ```
/// use loomwright::text::{annotated_plan, read_plan};
/// assert!(read_plan(&annotated_plan()).is_ok()); // it works as it is
/// ```
pub fn annotated_plan() -> String {
    let mut out = String::from(START);
    out.push_str("\n# Every section and key there is. Remove the # to use a line.\n");
    for section in SECTIONS {
        let _ = write!(out, "\n# {}\n", section.about);
        let name = if section.named { ".NAME" } else { "" };
        let _ = writeln!(out, "# [{}{name}]", section.name);
        for key in section.keys {
            let needed = if key.required { "needed; " } else { "" };
            let _ = writeln!(out, "# {} = {}  # {needed}{}", key.name, key.example, key.about);
        }
    }
    out.push_str("\n# What loads typically take, for typical = \"NAME\"; read their plates.\n");
    for load in TypicalLoad::all() {
        let [low, high] = load.power().map(|power| power.to_text());
        let range = if low == high { high } else { format!("{low} to {high}") };
        let duty =
            if load.duty().value < 1.0 { format!(", {} of the time", load.duty().to_text()) } else { String::new() };
        let mains = if load.needs_mains() { ", on mains" } else { "" };
        let _ = writeln!(out, "# {}: {range}{duty}{mains} [{}]", load.name(), load.source());
    }
    out
}

const START: &str = include_str!("../../examples/lamp.toml");
