//! Readings from files: joined, with every line that cannot be used told at its place.

use std::io::Write;
use std::path::{Path, PathBuf};

use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{FileRecord, ReconcileRecord, Reconciliation, reconcile};
use loomwright::text::{LARGEST_READINGS, read_readings};

use crate::args::Format;
use crate::layout::wrapped;
use crate::{Refusal, plans};

/// Readings of all files, explained together.
pub(crate) struct Told {
    /// What was found.
    pub(crate) found: Reconciliation,
    /// The same as plain data, with every refused line and with its files.
    pub(crate) record: ReconcileRecord,
}

impl Told {
    /// Whether every line was used.
    pub(crate) fn complete(&self) -> bool {
        let zeroed = self.record.days.iter().all(|day| day.clamp_zero.is_none());
        self.record.refused.is_empty() && self.record.left_out() == 0 && zeroed
    }
}

/// Standard input is read once.
pub(crate) fn one_input(plan: &Path, readings: &[PathBuf]) -> Result<(), Refusal> {
    let all = readings.iter().map(PathBuf::as_path).chain([plan]);
    if all.filter(|path| *path == Path::new("-")).count() > 1 {
        return Err(Refusal::Message("only one of plan and readings can be standard input".to_owned()));
    }
    Ok(())
}

/// Reads and explains the readings of some files; the lines that cannot be read are told on `errors`, the others used.
pub(crate) fn told(
    judgement: &Judgement,
    paths: &[PathBuf],
    format: Format,
    errors: &mut dyn Write,
) -> Result<Told, Refusal> {
    let (mut readings, mut refused, mut files, mut report) = (Vec::new(), Vec::new(), Vec::new(), String::new());
    let mut before = 0;
    for path in paths {
        let text = plans::read(path, LARGEST_READINGS)?;
        let name = plans::called(path);
        let read = read_readings(&text, &judgement.installation);
        if !read.refused.is_empty() {
            report.push_str(&plans::annotated(&text, &name, &read.refused));
            let count = read.refused.len();
            let mistakes = if count == 1 { "one mistake".to_owned() } else { format!("{count} mistakes") };
            let rest = match read.readings.len() {
                0 => "no reading of it can be used".to_owned(),
                1 => "its other reading is used".to_owned(),
                others => format!("its other {others} readings are used"),
            };
            report.push_str(&wrapped(&format!("{mistakes} in {name}; {rest}"), "", ""));
            report.push('\n');
        }
        refused.extend(read.refused.into_iter().map(|mut error| {
            error.line += before;
            error
        }));
        readings.extend(read.readings.into_iter().map(|mut reading| {
            reading.line += before;
            reading
        }));
        let lines = text.lines().count().max(1);
        files.push(FileRecord { name, first_line: before + 1, last_line: before + lines });
        before += lines;
    }
    if readings.is_empty() && refused.is_empty() {
        let message = "no value stands in these readings: fill in the column `value`, or the key of that name in TOML";
        return Err(Refusal::Message(message.to_owned()));
    }
    let used = reconcile(judgement, &readings).map_err(|error| Refusal::Message(error.to_string()))?;
    let mut record = used.record(judgement);
    record.refuse(used.unused(judgement, &readings));
    record.refuse(refused);
    let nothing = record.days.iter().all(|day| day.readings.is_empty() && day.temperatures.is_empty());
    if paths.len() > 1 {
        record.in_files(files);
    }
    if nothing {
        for one in record.refused.iter().filter(|one| one.column.is_none()) {
            report.push_str(&wrapped(&format!("line {}: {}", one.line, one.reason), "error: ", "       "));
            report.push('\n');
        }
        if format == Format::Json {
            let refused = record.refused.iter().map(|one| {
                serde_json::json!({ "line": one.line, "column": one.column, "key": one.key, "message": one.reason })
            });
            let refused: Vec<_> = refused.collect();
            report = format!("{:#}\n", serde_json::json!({ "format": 1, "errors": refused }));
        } else {
            report.push_str("no reading can be used\n");
        }
        return Err(Refusal::Report(report));
    }
    // JSON has them in its result.
    if format == Format::Text {
        let _ = errors.write_all(report.as_bytes());
    }
    Ok(Told { found: used, record })
}
