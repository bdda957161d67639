//! TOML to rows.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::quoted;
use super::row::{COLUMNS, Cell, Mistake, Row, SHOWN};
use crate::names::hint;
use crate::text::limits::MOST_BROKEN;

/// Keys at the top that count for every reading that does not say otherwise.
const DEFAULTS: [&str; 3] = ["case", "ambient", "date"];

fn wrong(span: Range<usize>, key: &'static str, message: String) -> Mistake {
    Mistake { span, key, message }
}

/// The rows of `[[readings]]`, and what stands at the top for all of them.
pub(super) fn rows(text: &str, mistakes: &mut Vec<Mistake>) -> (Vec<Row>, Option<Row>) {
    let (table, broken) = DeTable::parse_recoverable(text);
    let message = |error: &toml::de::Error| error.message().to_owned();
    mistakes
        .extend(broken.iter().take(MOST_BROKEN).map(|error| wrong(error.span().unwrap_or(0..0), "", message(error))));
    let starts: Vec<usize> = std::iter::once(0)
        .chain(text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1))
        .collect();
    let line = |at: usize| starts.partition_point(|start| *start <= at).max(1);
    let table = table.get_ref();
    let format = table.get("format");
    if format.and_then(|value| value.get_ref().as_integer()).is_none_or(|number| number.as_str() != "1") {
        let span = format.map_or(0..0, Spanned::span);
        mistakes.push(wrong(span, "format", "a readings file starts with format = 1".to_owned()));
    }
    let (mut rows, mut top) = (Vec::new(), Row::new(1, 0..0));
    for (name, value) in table.iter() {
        let given: &str = name.get_ref();
        match given {
            "format" => {}
            "readings" => match value.get_ref().as_array() {
                Some(items) => {
                    for item in items {
                        match item.get_ref().as_table() {
                            Some(entry) => rows.push(row(line(item.span().start), item.span(), entry, mistakes)),
                            None => mistakes.push(wrong(item.span(), "readings", FORM.to_owned())),
                        }
                    }
                }
                None => mistakes.push(wrong(value.span(), "readings", FORM.to_owned())),
            },
            key if DEFAULTS.contains(&key) => cell(&mut top, key, value, mistakes),
            _ => {
                let known = ["format", "case", "ambient", "date", "readings"];
                mistakes.push(unknown(name.span(), given, "a readings file", &known));
            }
        }
    }
    (rows, Some(top))
}

const FORM: &str = "a reading is [[readings]] with its keys below, at least quantity, at and value";

fn unknown(span: Range<usize>, given: &str, what: &str, known: &[&'static str]) -> Mistake {
    let hint = hint(given, known);
    let message = format!("{} is no key of {what}{hint}; known: {}", quoted(given), known.join(", "));
    wrong(span, "", message)
}

fn row(line: usize, span: Range<usize>, table: &DeTable<'_>, mistakes: &mut Vec<Mistake>) -> Row {
    let mut row = Row::new(line, span);
    for (name, value) in table.iter() {
        let given: &str = name.get_ref();
        if SHOWN.contains(&given) {
            continue;
        }
        if COLUMNS.contains(&given) {
            cell(&mut row, given, value, mistakes);
        } else {
            mistakes.push(unknown(name.span(), given, "a reading", &COLUMNS));
        }
    }
    row
}

/// Writes a value into its cell; a date may stand without quotes.
fn cell(row: &mut Row, key: &str, value: &Spanned<DeValue<'_>>, mistakes: &mut Vec<Mistake>) {
    let column = COLUMNS.iter().find(|column| **column == key).copied().unwrap_or_default();
    let bare = value.get_ref().as_datetime().filter(|_| key == "date").map(ToString::to_string);
    let text = value.get_ref().as_str().map(|text| text.trim().to_owned()).or(bare);
    match text {
        Some(text) => {
            if let Some(slot) = row.slot(key) {
                *slot = Cell { text, span: value.span() };
            }
        }
        None => {
            let example = match key {
                "value" => " with its unit, for example \"12.63 V\"",
                "ambient" => " with its unit, for example \"21 °C\"",
                "accuracy" => ", for example \"0.5 % + 2 digits\"",
                _ => "",
            };
            let found = value.get_ref().type_str();
            // What was not readable is no empty cell: its reading must not pass for one that was not measured.
            row.spoilt = true;
            mistakes.push(wrong(
                value.span(),
                column,
                format!("{key} is written as text{example}; this is of type {found}"),
            ));
        }
    }
}
