//! Files that are written: new ones only, whole or not at all.

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
