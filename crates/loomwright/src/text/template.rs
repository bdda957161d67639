//! An annotated plan to start from, from the key table.

use std::fmt::Write as _;

use super::keys::SECTIONS;

/// A small working plan, followed by every section and key with its meaning, commented out.
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
    out
}

const START: &str = include_str!("../../examples/lamp.toml");
