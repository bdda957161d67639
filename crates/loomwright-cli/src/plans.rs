//! Plans from files: read, built and judged, every mistake at its place.

use std::io::Read as _;
use std::path::Path;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use loomwright::source::solar::Weather;
use loomwright::study::judge::{Judgement, judge};
use loomwright::text::{LARGEST_PLAN, LARGEST_WEATHER, PlanError, deceptive, read_plan, read_weather};

use crate::args::Format;
use crate::layout::wrapped;
use crate::{Answer, Refusal, files};

/// A file as text, or standard input; one that has no end is read no further than `most`.
pub(crate) fn read(path: &Path, most: usize) -> Result<String, Refusal> {
    let name = called(path);
    let unreadable = |error: std::io::Error| Refusal::Message(format!("{name} could not be read: {error}"));
    let mut bytes = Vec::new();
    // One byte more than is accepted tells that there is too much, without reading it all.
    let enough = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    if path == Path::new("-") {
        std::io::stdin().lock().take(enough).read_to_end(&mut bytes).map_err(unreadable)?;
    } else {
        std::fs::File::open(path).and_then(|file| file.take(enough).read_to_end(&mut bytes)).map_err(unreadable)?;
    }
    if bytes.len() > most {
        return Err(Refusal::Message(format!("{name} has more than {most} bytes, which is the most that is read")));
    }
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        Refusal::Message(format!("{name} is not UTF-8 text: the byte at {at} does not belong"))
    })
}

/// A plan as judged, without remedies.
pub(crate) fn judged(path: &Path, format: Format) -> Result<Judgement, Refusal> {
    let text = read(path, LARGEST_PLAN)?;
    let plan = read_plan(&text).map_err(|errors| mistakes(&text, &called(path), &errors, format))?;
    judge(&plan).map_err(|error| Refusal::Message(error.to_string()))
}

/// What a file is called in messages.
pub(crate) fn called(path: &Path) -> String {
    if path == Path::new("-") { "standard input".to_owned() } else { files::shown(path) }
}

/// Measured weather.
pub(crate) fn weather(path: &Path, format: Format) -> Result<Weather, Refusal> {
    let text = read(path, LARGEST_WEATHER)?;
    read_weather(&text).map_err(|errors| mistakes(&text, &called(path), &errors, format))
}

/// An answer whose refusals are JSON too, for whoever asks for JSON.
pub(crate) fn as_asked(format: Format, answer: Answer) -> Answer {
    answer.map_err(|refusal| match (refusal, format) {
        (Refusal::Message(message), Format::Json) => {
            let report = serde_json::json!({ "format": 1, "errors": [{ "message": message }] });
            Refusal::Report(format!("{report:#}\n"))
        }
        (refusal, _) => refusal,
    })
}

/// A record as JSON text.
pub(crate) fn json(record: &impl serde::Serialize) -> Result<String, Refusal> {
    Ok(serde_json::to_string_pretty(record).map_err(|error| Refusal::Message(error.to_string()))? + "\n")
}

/// Every mistake of a plan file at its place.
fn mistakes(text: &str, name: &str, errors: &[PlanError], format: Format) -> Refusal {
    if format == Format::Json {
        let report = serde_json::json!({ "format": 1, "errors": errors });
        return Refusal::Report(format!("{report:#}\n"));
    }
    let mut out = annotated(text, name, errors);
    let count = errors.len();
    let mistakes = if count == 1 { "one mistake" } else { "mistakes" };
    let all = if count == 1 {
        format!("{mistakes} in {name}; nothing was judged")
    } else {
        format!("{count} {mistakes} in {name}; nothing was judged")
    };
    out.push_str(&all);
    out.push('\n');
    Refusal::Report(out)
}

/// Every mistake of a text in its line.
pub(crate) fn annotated(text: &str, name: &str, errors: &[PlanError]) -> String {
    let renderer = Renderer::styled();
    let mut out = String::new();
    for error in errors {
        let start = error.span.start.min(text.len());
        let end = error.span.end.clamp(start, text.len());
        let snippet =
            Snippet::source(text).line_start(1).path(name).annotation(AnnotationKind::Primary.span(start..end));
        let title =
            if error.key.is_empty() { error.message.clone() } else { format!("{}: {}", error.key, error.message) };
        let title = wrapped(&title, "       ", "       ").replace("\n       ", "\n").trim_start().to_owned();
        let group = Group::with_title(Level::ERROR.primary_title(title)).element(snippet);
        out.push_str(&renderer.render(&[group]));
        out.push('\n');
    }
    // The renderer replaces most of what a terminal would obey, but not the second set of control characters.
    out.chars()
        .map(|letter| if deceptive(letter) && !['\n', '\u{1b}'].contains(&letter) { '\u{fffd}' } else { letter })
        .collect()
}
