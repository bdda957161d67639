//! What holds of the source itself: the order of the engine's rooms, and that generated files have not drifted.

use std::path::{Path, PathBuf};
use std::process::Command;

/// A room may use only rooms above it.
const ROOMS: [&str; 16] = [
    "names",
    "straight",
    "data",
    "quantity",
    "finding",
    "conductor",
    "heat",
    "protection",
    "converter",
    "source",
    "fitting",
    "practice",
    "installation",
    "network",
    "study",
    "text",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").canonicalize().unwrap()
}

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

fn place(room: &str) -> Option<usize> {
    ROOMS.iter().position(|known| *known == room)
}

/// The rooms that a source names, by `use crate::room` or a path in the text, comments left out.
fn rooms_named(source: &str) -> Vec<String> {
    let code = source.lines().map(|line| line.split("//").next().unwrap_or_default()).collect::<Vec<_>>().join("\n");
    let after = code.split("crate::").skip(1);
    after
        .map(|rest| rest.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect())
        .filter(|name: &String| !name.is_empty())
        .collect()
}

#[test]
fn rooms_use_only_rooms_above_them() {
    let source = root().join("crates/loomwright/src");
    let mut files = Vec::new();
    rust_files(&source, &mut files);
    let (mut broken, mut seen) = (Vec::new(), 0);
    for path in &files {
        let inside = path.strip_prefix(&source).unwrap();
        let first = inside.iter().next().unwrap().to_str().unwrap();
        let room = first.trim_end_matches(".rs");
        if room == "lib" {
            continue;
        }
        let text = std::fs::read_to_string(path).unwrap();
        let Some(own) = place(room) else { panic!("{} lies in no known room", inside.display()) };
        assert!(!text.contains("use crate::{"), "{}: name the room in each `use crate::room`", inside.display());
        for used in rooms_named(&text) {
            match place(&used) {
                Some(other) if other <= own => seen += 1,
                // A macro or item at the crate's root would hide a room; there are none.
                _ => broken.push(format!("{}: {room} uses {used}", inside.display())),
            }
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
    assert!(seen > 100 && files.len() > 40, "{seen} uses in {} files: has the layout changed?", files.len());
}

/// `xtask` writes the data tables; what is committed must be what it would write.
#[test]
fn generated_files_have_not_drifted() {
    let output = Command::new(env!("CARGO"))
        .args(["run", "--quiet", "--package", "xtask", "--", "all", "--check"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
}

/// Licences under which all may be passed on with ours.
const PERMISSIVE: [&str; 10] = [
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Whether one of the alternatives of a licence expression is permissive in all its parts.
fn permits(licence: &str) -> bool {
    let plain = licence.replace('/', " OR ").replace(['(', ')'], "");
    plain.split(" AND ").all(|part| part.split(" OR ").any(|one| PERMISSIVE.contains(&one.trim())))
}

#[test]
fn licences_permit_passing_on() {
    assert!(permits("(MIT OR Apache-2.0) AND Unicode-3.0") && permits("Unlicense/MIT"));
    assert!(!permits("GPL-3.0-only") && !permits("MIT AND GPL-3.0-only") && !permits(""));
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let told: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages = told["packages"].as_array().unwrap();
    // Those without a source are our own.
    let foreign: Vec<_> = packages.iter().filter(|package| package["source"].is_string()).collect();
    assert!(foreign.len() > 50);
    for package in foreign {
        let name = package["name"].as_str().unwrap();
        let licence = package["license"].as_str().unwrap_or_default();
        // cbindgen writes the C header, and is part of nothing that is passed on.
        assert!(permits(licence) || name == "cbindgen", "{name}: {licence:?}");
    }
}
