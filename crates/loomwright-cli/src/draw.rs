//! `loomwright draw`: a picture of a plan.

use std::io::Write;
use std::path::Path;

use loomwright::study::forecast::{Options, forecast};
use loomwright_draw::{Wanted, picture};

use crate::args::{DrawArguments, Format};
use crate::{Answer, Exit, Refusal, files, plans, readings};

/// The picture as printed or written; a plan that does not hold is a finding.
pub(crate) fn answer(arguments: &DrawArguments, errors: &mut dyn Write) -> Answer {
    let kind = arguments.picture;
    if kind.needs_readings() == arguments.readings.is_empty() {
        let message = if kind.needs_readings() {
            format!("the picture {} needs readings: add --readings with a file of them", kind.name())
        } else {
            format!("--readings goes with the pictures joints and readings, not with {}", kind.name())
        };
        return Err(Refusal::Message(message));
    }
    readings::one_input(&arguments.plan, &arguments.readings)?;
    let judgement = plans::judged(&arguments.plan, Format::Text)?;
    let told = match arguments.readings.as_slice() {
        [] => None,
        paths => Some(readings::told(&judgement, paths, Format::Text, errors)?),
    };
    let options = Options {
        stay: arguments.stay.as_deref(),
        samples: arguments.samples,
        threads: std::thread::available_parallelism().map_or(1, usize::from),
        series: true,
        ..Options::default()
    };
    let stays = kind.needs_forecast().then(|| forecast(&judgement, &options)).transpose();
    let stays = stays.map_err(|error| Refusal::Message(error.to_string()))?.map(|found| found.record(&options));
    let wanted = Wanted { kind, of: arguments.of.as_deref(), stay: arguments.stay.as_deref() };
    let drawn = picture(&judgement, &wanted, stays.as_ref(), told.as_ref().map(|told| &told.record))
        .map_err(|error| Refusal::Message(error.to_string()))?;
    let exit = if judgement.holds() { Exit::Holds } else { Exit::Findings };
    written(arguments.output.as_deref(), drawn.svg(), exit)
}

/// A text on standard output, or as a new file.
pub(crate) fn written(path: Option<&Path>, text: String, exit: Exit) -> Answer {
    let Some(path) = path else { return Ok((exit, text)) };
    files::write_new(path, text.as_bytes(), "or none to print it")?;
    Ok((exit, format!("wrote {}\n", files::shown(path))))
}
