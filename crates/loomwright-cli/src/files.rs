//! Files that are written: new ones only, whole or not at all; and what is written as comma-separated values.

use std::fs::File;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use loomwright::text::deceptive;

use crate::Refusal;

/// Writes a file that must not exist; `instead` says what else somebody could do.
///
/// Written beside it under another name and then given its own, so that whoever finds a file under that name finds it whole.
pub(crate) fn write_new(path: &Path, bytes: &[u8], instead: &str) -> Result<(), Refusal> {
    let written = beside(path).and_then(|(part, mut file)| {
        let written = file.write_all(bytes).and_then(|()| file.sync_all()).and_then(|()| named(&part, path));
        // Ours, and of no use any more.
        drop(std::fs::remove_file(&part));
        written
    });
    let shown = shown(path);
    written.map_err(|error| match error.kind() {
        std::io::ErrorKind::AlreadyExists => {
            Refusal::Message(format!("{shown} exists and is left as it is; give another name, {instead}"))
        }
        _ => Refusal::Message(format!("{shown} could not be written: {error}")),
    })
}

/// A new file in the folder of another.
fn beside(path: &Path) -> std::io::Result<(PathBuf, File)> {
    // Said before anything is written; that nothing is overwritten is held by `named`.
    if path.symlink_metadata().is_ok() {
        return Err(std::io::ErrorKind::AlreadyExists.into());
    }
    let mut number = 0;
    loop {
        let part = path.with_file_name(format!(".loomwright-{}-{number}.part", std::process::id()));
        match File::options().write(true).create_new(true).open(&part) {
            // Left by a process of the same number that was ended.
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists && number < 100 => number += 1,
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {
                return Err(std::io::Error::other(format!("{} is in the way", shown(&part))));
            }
            Err(error) => return Err(error),
            Ok(file) => return Ok((part, file)),
        }
    }
}

/// Gives a whole file its name, which nothing has yet: a second name is refused where one exists, in one step.
fn named(part: &Path, path: &Path) -> std::io::Result<()> {
    match std::fs::hard_link(part, path) {
        Err(error) if error.kind() != std::io::ErrorKind::AlreadyExists => {
            // A disk without second names, such as a memory card: the name is taken first, then the file put in its place.
            File::options().write(true).create_new(true).open(path)?;
            std::fs::rename(part, path).inspect_err(|_| drop(std::fs::remove_file(path)))
        }
        linked => linked,
    }
}

/// A path in messages: its name may come from anybody, and a terminal would obey what it holds.
pub(crate) fn shown(path: &Path) -> String {
    path.display().to_string().chars().map(|letter| if deceptive(letter) { '\u{fffd}' } else { letter }).collect()
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
