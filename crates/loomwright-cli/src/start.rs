//! `loomwright new` and `loomwright schema`.

use std::io::Write as _;
use std::path::Path;

use loomwright::text::{annotated_plan, plan_schema};

use crate::args::SchemaOf;
use crate::{Answer, Exit, Refusal};

/// An annotated plan, to a file that must not exist or to standard output.
pub(crate) fn new(file: Option<&Path>) -> Answer {
    let plan = annotated_plan();
    let Some(path) = file.filter(|path| *path != Path::new("-")) else { return Ok((Exit::Holds, plan)) };
    // `create_new` makes "does not exist" and "create" one step, so nothing is ever overwritten.
    let written = std::fs::OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)
        .and_then(|mut file| file.write_all(plan.as_bytes()));
    match written {
        Ok(()) => {
            Ok((Exit::Holds, format!("wrote {}\ncheck it with: loomwright check {}\n", path.display(), path.display())))
        }
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => Err(Refusal::Message(format!(
            "{} exists and is left as it is; give another name, or none to print the plan",
            path.display()
        ))),
        Err(error) => Err(Refusal::Message(format!("{} could not be written: {error}", path.display()))),
    }
}

/// The JSON Schema of a plan or of a report.
pub(crate) fn schema(what: SchemaOf) -> Answer {
    let schema = match what {
        SchemaOf::Plan => plan_schema(),
        SchemaOf::Check => loomwright::study::judge::report_schema(),
    };
    let text = serde_json::to_string_pretty(&schema).map_err(|error| Refusal::Message(error.to_string()))?;
    Ok((Exit::Holds, text + "\n"))
}
