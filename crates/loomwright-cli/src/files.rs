//! Files that are written: new ones only, whole or not at all; and what is written as comma-separated values.

use std::io::Write as _;
use std::path::Path;

use crate::Refusal;

/// Writes a file that must not exist; `instead` says what else somebody could do.
pub(crate) fn write_new(path: &Path, bytes: &[u8], instead: &str) -> Result<(), Refusal> {
    // `create_new` makes "does not exist" and "create" one step, so nothing is ever overwritten.
    let created = std::fs::OpenOptions::new().write(true).create_new(true).open(path);
    let written = created.and_then(|mut file| {
        // What could not be written whole is taken away again: it is ours.
        file.write_all(bytes).and_then(|()| file.flush()).inspect_err(|_| drop(std::fs::remove_file(path)))
    });
    written.map_err(|error| match error.kind() {
        std::io::ErrorKind::AlreadyExists => {
            Refusal::Message(format!("{} exists and is left as it is; give another name, {instead}", path.display()))
        }
        _ => Refusal::Message(format!("{} could not be written: {error}", path.display())),
    })
}

/// Comma-separated values (RFC 4180): a head, and rows of as many cells.
pub(crate) fn separated<'a>(
    head: impl Iterator<Item = &'a str>,
    rows: impl Iterator<Item = Vec<String>>,
) -> Result<String, Refusal> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let failed = |error: &dyn std::fmt::Display| Refusal::Message(format!("the values could not be written: {error}"));
    writer.write_record(head).map_err(|error| failed(&error))?;
    for row in rows {
        writer.write_record(row).map_err(|error| failed(&error))?;
    }
    let bytes = writer.into_inner().map_err(|error| failed(&error))?;
    String::from_utf8(bytes).map_err(|error| failed(&error))
}

/// A text that no spreadsheet takes for a formula: names come from plans, which may come from anybody.
pub(crate) fn harmless(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text.to_owned() }
}
