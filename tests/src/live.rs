//! Stored outside values made again by the outside tool.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::table::{Row, parse, read};

/// What `tests/live/<script>` prints now. Python is named by `LOOMWRIGHT_PYTHON`, else `target/venv`.
pub fn printed(script: &str, arguments: &[&str]) -> String {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    let python =
        std::env::var_os("LOOMWRIGHT_PYTHON").map_or_else(|| tests.join("../target/venv/bin/python"), PathBuf::from);
    let output = Command::new(&python)
        .arg(tests.join("live").join(script))
        .args(arguments)
        .output()
        .unwrap_or_else(|error| panic!("{}: {error}; set LOOMWRIGHT_PYTHON", python.display()));
    assert!(output.status.success(), "{script}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("the script prints UTF-8")
}

/// The rows that `tests/live/<script>` prints now.
pub fn fresh(script: &str) -> Vec<Row> {
    parse(&printed(script, &[]))
}

/// Asserts that the fresh numbers of every column are the stored ones within 0.01 %, which another release of the
/// tool may move by, and returns the fresh rows for the engine to be held against.
pub fn fresh_as_stored(script: &str, file: &str, columns: &[&str]) -> Vec<Row> {
    let (fresh, stored) = (fresh(script), read(file));
    assert_eq!(fresh.len(), stored.len(), "{script}");
    for (now, then) in fresh.iter().zip(&stored) {
        for column in columns {
            assert!(crate::within(now.number(column), then.number(column), 1e-4), "{column}: {now:?} was {then:?}");
        }
    }
    fresh
}
