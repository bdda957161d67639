//! `loomwright new` and `loomwright schema`.

use std::path::Path;

use loomwright::text::{annotated_plan, plan_schema};

use crate::args::SchemaOf;
use crate::{Answer, Exit, Refusal, files};

/// An annotated plan, to a file that must not exist or to standard output.
pub(crate) fn new(file: Option<&Path>) -> Answer {
    let plan = annotated_plan();
    let Some(path) = file.filter(|path| *path != Path::new("-")) else { return Ok((Exit::Holds, plan)) };
    files::write_new(path, plan.as_bytes(), "or none to print the plan")?;
    Ok((Exit::Holds, format!("wrote {}\ncheck it with: loomwright check {}\n", files::shown(path), files::shown(path))))
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

/// The manual's page on a verb, or on the whole command.
pub(crate) fn manual(verb: Option<&str>) -> Answer {
    let mut whole = crate::command();
    // Only then do verbs know the command they belong to.
    whole.build();
    let subject = match verb {
        None => whole,
        Some(verb) => match whole.find_subcommand(verb) {
            Some(found) => found.clone(),
            // Refused in the words of a command line that begins with it, the nearest verb among them.
            None => match whole.try_get_matches_from(["loomwright", verb]) {
                Err(error) => return Err(Refusal::Report(error.render().to_string())),
                Ok(_) => return Err(Refusal::Message(format!("there is no verb {verb:?}"))),
            },
        },
    };
    let mut page = Vec::new();
    clap_mangen::Man::new(subject).render(&mut page).map_err(|error| Refusal::Message(error.to_string()))?;
    Ok((Exit::Holds, String::from_utf8_lossy(&page).into_owned()))
}
