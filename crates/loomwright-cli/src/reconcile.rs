//! `loomwright reconcile`: measured against planned.

use std::io::Write;

use loomwright::study::reconcile::{DayRecord, ReadingRecord, ReconcileRecord, RefusedRecord, SegmentRecord};
use loomwright::text::readings_template;

use crate::args::{Format, ReconcileArguments};
use crate::layout::{cut, listed, number, table_with_gap, wrapped};
use crate::readings::Told;
use crate::{Answer, Exit, commission, plans, readings};

/// The answer as printed; what must be remade, or could not be used, is a finding.
pub(crate) fn answer(arguments: &ReconcileArguments, errors: &mut dyn Write) -> Answer {
    plans::as_asked(arguments.format, answered(arguments, errors))
}

fn answered(arguments: &ReconcileArguments, errors: &mut dyn Write) -> Answer {
    readings::one_input(&arguments.plan, &arguments.readings)?;
    let judgement = plans::judged(&arguments.plan, arguments.format)?;
    if let Some(form) = arguments.template {
        return Ok((Exit::Holds, readings_template(&judgement, form)));
    }
    let told = readings::told(&judgement, &arguments.readings, arguments.format, errors)?;
    if arguments.record {
        return commission::answer(judgement, &told, arguments.format);
    }
    let text = match arguments.format {
        Format::Text => printed(&told.record, arguments.all),
        Format::Json => plans::json(&told.record)?,
    };
    Ok((exit(&told), text))
}

/// How a comparison ends.
pub(crate) fn exit(told: &Told) -> Exit {
    if told.record.verdict != "remake" && told.complete() { Exit::Holds } else { Exit::Findings }
}

/// A count with its noun.
fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

/// What the worst verdict asks for.
fn asked(verdict: &str) -> &'static str {
    match verdict {
        "remake" => "REMAKE what is named below before it is loaded again",
        "watch" => "watch what is named below: measure it again soon",
        "not-told" => "nothing bad is found, but not everything is told",
        _ => "what was measured is as planned",
    }
}

/// The verdict in one sentence, with what was read.
pub(crate) fn headed(record: &ReconcileRecord) -> String {
    let read: usize = record.days.iter().map(|day| day.readings.len() + day.temperatures.len()).sum();
    let mut out = format!("{}: {}.", record.name, asked(record.verdict));
    out.push_str(&format!(" {}", counted(read, "reading", "readings")));
    if record.days.len() > 1 {
        out.push_str(&format!(" of {} days", record.days.len()));
    }
    out.push_str(&format!(
        ", {} left out, {} refused (practice {}).",
        record.left_out(),
        counted(record.refused.len(), "line", "lines"),
        record.practice
    ));
    let mut out = wrapped(&out, "", "") + "\n";
    if record.plan_verdict != "holds" {
        let text = "The plan itself DOES NOT HOLD: as planned is not good here; see `check`.";
        out.push_str(&wrapped(text, "", ""));
        out.push('\n');
    }
    if !record.files.is_empty() {
        let files = record.files.iter().map(|file| format!("{} {} to {}", file.name, file.first_line, file.last_line));
        let text = format!("Lines count on from file to file: {}.", files.collect::<Vec<_>>().join("; "));
        out.push_str(&wrapped(&text, "", ""));
        out.push('\n');
    }
    out
}

fn printed(record: &ReconcileRecord, all: bool) -> String {
    let mut out = headed(record);
    days(record, all, &mut out);
    taken(record, &mut out);
    listed("Cautions", "! ", &record.cautions, &mut out);
    out
}

/// Every day with what it tells, the latest first.
pub(crate) fn days(record: &ReconcileRecord, all: bool, out: &mut String) {
    let one = record.days.len() == 1;
    for day in record.days.iter().rev() {
        match (&day.date, one) {
            (Some(date), _) => out.push_str(&format!("\nMeasured on {date}\n")),
            (None, false) => out.push_str("\nMeasured on a day that is not told\n"),
            (None, true) => {}
        }
        told(day, all, out);
    }
}

/// What was refused, what was assumed, and how doubt is counted.
pub(crate) fn taken(record: &ReconcileRecord, out: &mut String) {
    listed("Refused", "- ", record.refused.iter().map(refused), out);
    listed("Taken for granted", "- ", record.assumptions.iter().map(String::as_str).chain([record.noise_law]), out);
}

/// Line of a reading, and of which file.
fn line(line: usize, file: Option<&String>, line_in_file: Option<usize>) -> String {
    match (file, line_in_file) {
        (Some(file), Some(own)) => format!("line {line} ({file}, line {own})"),
        _ => format!("line {line}"),
    }
}

fn refused(one: &RefusedRecord) -> String {
    let at = line(one.line, one.file.as_ref(), one.line_in_file);
    let key = if one.key.is_empty() { String::new() } else { format!("{}: ", one.key) };
    // What would be accepted was told with the line itself.
    let told = one.column.and_then(|_| one.reason.split_once("; ")).map_or(one.reason.as_str(), |(told, _)| told);
    format!("{at}: {key}{told}")
}

fn joined(lines: &[usize]) -> String {
    const SHOWN: usize = 8;
    let shown: Vec<String> = lines.iter().take(SHOWN).map(usize::to_string).collect();
    let more = lines.len().saturating_sub(SHOWN);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    let word = if lines.len() == 1 { "line" } else { "lines" };
    format!("{word} {}{more}", shown.join(", "))
}

fn segment(one: &SegmentRecord) -> String {
    let mut text = format!("{} {}: {}", one.verdict, one.name, one.reason);
    // A growth that decides stands in the reason.
    let told = |since: &&String| !one.reason.contains(since.as_str());
    if let (Some(growth), Some(within), Some(since)) =
        (one.growth_mohm, one.growth_within_mohm, one.since.as_ref().filter(told))
    {
        let than = if growth < 0.0 { "less" } else { "more" };
        let (growth, within) = (number(growth.abs(), 3), number(within, 2));
        text.push_str(&format!("; {growth} ± {within} mΩ {than} than on {since}"));
    }
    if !one.lines.is_empty() {
        text.push_str(&format!(" [{}]", joined(&one.lines)));
    }
    text
}

fn told(day: &DayRecord, all: bool, out: &mut String) {
    let shown = |one: &&SegmentRecord| all || one.verdict != "as-planned";
    let as_planned = day.segments.iter().filter(|one| one.verdict == "as-planned").count();
    let head = "\nJoints and cables, worst first\n";
    if !(day.segments.is_empty() && day.untold.is_empty()) {
        out.push_str(head);
    }
    for one in day.segments.iter().filter(shown) {
        out.push_str(&wrapped(&segment(one), "", "  "));
        out.push('\n');
        if let Some(next) = &one.next {
            out.push_str(&wrapped(next, "  next: ", "    "));
            out.push('\n');
        }
    }
    if as_planned > 0 && !all {
        let text = format!("{} as planned; --all lists them", counted(as_planned, "piece is", "pieces are"));
        out.push_str(&format!("{text}\n"));
    }
    if !day.untold.is_empty() {
        let text = format!("{} told by no reading", counted(day.untold.len(), "piece is", "pieces are"));
        out.push_str(&wrapped(&text, "", ""));
        out.push('\n');
    }
    let devices = day
        .devices
        .iter()
        .map(|one| format!("{} {} ({}): {}", one.verdict, one.device, one.cases.join(", "), one.reason));
    listed("Devices", "- ", devices, out);
    let warm = day
        .temperatures
        .iter()
        .map(|one| format!("{} {} ({}): {} [line {}]", one.verdict, one.at, one.case, one.reason, one.line));
    listed("Temperatures", "- ", warm, out);
    let left = day.readings.iter().filter_map(|one| {
        let at = line(one.line, one.file.as_ref(), one.line_in_file);
        Some(format!("{at}, {} {}: {}", one.quantity, place(one), one.left_out.as_ref()?))
    });
    listed("Left out", "- ", left.chain(day.clamp_zero.clone()), out);
    if !day.readings.is_empty() {
        out.push_str("\nReadings (= agrees with the plan, x left out)\n");
        let rows = day.readings.iter().map(reading).collect();
        out.push_str(&table_with_gap(&["where", "line", "measured", "planned", "explained", "unit", ""], rows, 1));
    }
}

fn place(one: &ReadingRecord) -> String {
    one.against.as_ref().map_or_else(|| one.at.clone(), |against| format!("{} over {against}", one.at))
}

/// The decimals that a doubt leaves.
fn decimals(within: f64) -> usize {
    let mut places = 0;
    let mut step = 1.0;
    while within < 3.0 * step && places < 6 {
        step /= 10.0;
        places += 1;
    }
    places
}

fn reading(one: &ReadingRecord) -> Vec<String> {
    let mark = match (&one.left_out, one.fits) {
        (Some(_), _) => "x",
        (None, true) => "=",
        (None, false) => "",
    };
    let Some(numbers) = one.numbers else { return vec![place(one), one.line.to_string()] };
    let ([measured, within, planned, tolerance, explained, _], unit) = numbers.all();
    let small = unit == "V" && measured.abs().max(planned.abs()) < 1.0;
    let (factor, unit) = if small { (1e3, "mV") } else { (1.0, unit) };
    let show = |value: f64, within: f64| {
        let (value, within) = (value * factor, within * factor);
        let places = decimals(within);
        format!("{value:.places$} ± {within:.places$}")
    };
    let places = decimals(within * factor);
    vec![
        cut(&place(one), 33),
        one.line.to_string(),
        show(measured, within),
        show(planned, tolerance),
        format!("{:.places$}", explained * factor),
        unit.to_owned(),
        mark.to_owned(),
    ]
}
