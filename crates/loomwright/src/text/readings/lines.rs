//! Comma-separated values to rows, a line at a time: a quote that is never closed spoils its own line only.

use std::ops::Range;

use super::row::{COLUMNS, Cell, Mistake, Row, SHOWN};
use super::{meant, quoted};
use crate::names::hint;

/// A head to start from.
pub(super) const HEAD: &str = "case,quantity,at,against,value,accuracy,ambient,date,surface,note";
const MARK: &str = "\u{feff}";

/// Whether a line says nothing. A spreadsheet puts a comment with commas into quotes.
fn is_comment(line: &str) -> bool {
    let line = line.trim().trim_start_matches('"');
    line.is_empty() || line.starts_with('#') || line.chars().all(|letter| ",;\t\" ".contains(letter))
}

/// Every line with its number and where it begins, without its end and without a byte-order mark.
fn lines(text: &str) -> impl Iterator<Item = (usize, usize, &str)> {
    let mut next = 0;
    text.split('\n').enumerate().map(move |(number, line)| {
        let start = next;
        next += line.len() + 1;
        let bare = line.strip_prefix(MARK).filter(|_| number == 0).unwrap_or(line);
        (number + 1, start + line.len() - bare.len(), bare.trim_end_matches('\r'))
    })
}

/// Where the first line that says something begins.
pub(super) fn first(text: &str) -> Option<usize> {
    lines(text).find(|(_, _, line)| !is_comment(line)).map(|(_, start, _)| start)
}

/// Whether the first line that says something is one of TOML: a table, or a key with its value.
pub(super) fn is_toml(text: &str, first: usize) -> bool {
    let line = text.get(first..).and_then(|rest| rest.lines().next()).unwrap_or_default().trim_start();
    let key = line.split_once('=').map(|(key, _)| key);
    line.starts_with('[') || key.is_some_and(|key| !key.contains([',', ';', '\t']))
}

/// The places of the cells of a line, in bytes of the line, and whether the last quote is closed.
fn cells(line: &str, delimiter: u8) -> (Vec<Range<usize>>, bool) {
    let (mut found, mut start, mut within) = (Vec::new(), 0, false);
    for (at, byte) in line.bytes().enumerate() {
        if byte == b'"' && (within || at == start) {
            within = !within;
        } else if byte == b'"' && line.as_bytes().get(start) == Some(&b'"') {
            // The second of two within quotes, which stand for one.
            within = true;
        } else if byte == delimiter && !within {
            found.push(start..at);
            start = at + 1;
        }
    }
    found.push(start..line.len());
    (found, !within)
}

/// The cells of a line with their places in the file.
fn split(line: &str, start: usize, delimiter: u8) -> Result<Vec<Cell>, String> {
    let (places, closed) = cells(line, delimiter);
    if !closed {
        return Err("a quote is opened and not closed in this line; write a quote within quotes twice".to_owned());
    }
    let mut reader = csv::ReaderBuilder::new();
    reader.delimiter(delimiter).has_headers(false).flexible(true).trim(csv::Trim::All).buffer_capacity(1024);
    let record = reader.from_reader(line.as_bytes()).into_records().next();
    let record = record.and_then(Result::ok).ok_or("this line could not be read")?;
    let cell = |(index, text): (usize, &str)| {
        let place = places.get(index).cloned().unwrap_or(line.len()..line.len());
        // Spaces before a cell are not its place.
        let blank = line.get(place.clone()).map_or(0, |part| part.len() - part.trim_start().len());
        Cell { text: meant(text).to_owned(), span: start + place.start + blank..start + place.end }
    };
    Ok(record.iter().enumerate().map(cell).collect())
}

/// The rows below the head that begins at `first`.
pub(super) fn rows(text: &str, first: usize, mistakes: &mut Vec<Mistake>) -> Vec<Row> {
    let mut lines = lines(text).filter(|(_, start, line)| *start >= first && !is_comment(line));
    let Some((_, start, head)) = lines.next() else { return Vec::new() };
    let count = |delimiter: u8| cells(head, delimiter).0.len();
    // Of equals the first.
    let delimiter = [b'\t', b';', b','].into_iter().max_by_key(|delimiter| count(*delimiter)).unwrap_or(b',');
    let whole = start..start + head.len();
    let names = match split(head, start, delimiter) {
        Ok(names) => names,
        Err(message) => {
            mistakes.push(Mistake { span: whole, key: "", message });
            return Vec::new();
        }
    };
    let known: Vec<&'static str> = COLUMNS.iter().chain(&SHOWN).copied().collect();
    let named = |cell: &Cell| known.iter().find(|name| cell.text.eq_ignore_ascii_case(name)).copied();
    if !names.iter().any(|cell| named(cell).is_some()) {
        let message = format!(
            "the first line is the head with the names of the columns, for example {HEAD}; this one has none of them"
        );
        mistakes.push(Mistake { span: whole, key: "", message });
        return Vec::new();
    }
    let mut columns: Vec<Option<&'static str>> = Vec::new();
    for cell in &names {
        let column = named(cell);
        let message = match column {
            None if cell.text.is_empty() => None,
            None => {
                let (given, hint) = (quoted(&cell.text), hint(&cell.text, &known));
                Some(format!("{given} is no column of readings{hint}; known: {}", COLUMNS.join(", ")))
            }
            Some(name) if columns.contains(&column) => {
                Some(format!("the column {name} stands twice; the first counts"))
            }
            Some(_) => None,
        };
        columns.push(column.filter(|_| message.is_none()));
        mistakes.extend(message.map(|message| Mistake { span: cell.span.clone(), key: "", message }));
    }
    let missing: Vec<&str> =
        ["quantity", "at", "value"].into_iter().filter(|name| !columns.contains(&Some(name))).collect();
    if !missing.is_empty() {
        let message = format!("the head lacks {}; a head is for example {HEAD}", missing.join(" and "));
        mistakes.push(Mistake { span: whole, key: "", message });
        return Vec::new();
    }
    let mut rows = Vec::new();
    for (number, start, line) in lines {
        let row =
            split(line, start, delimiter).and_then(|cells| row(number, start..start + line.len(), cells, &columns));
        match row {
            Ok(row) => rows.push(row),
            Err(message) => mistakes.push(Mistake { span: start..start + line.len(), key: "", message }),
        }
    }
    rows
}

/// One line by the columns of the head.
fn row(line: usize, span: Range<usize>, cells: Vec<Cell>, columns: &[Option<&'static str>]) -> Result<Row, String> {
    let value = columns.iter().position(|column| *column == Some("value"));
    let parted = value.and_then(|value| parted(cells.get(value)?, cells.get(value + 1)?));
    if let Some([comma, point]) = parted {
        return Err(format!(
            "{comma} has a decimal comma, which makes two cells of it; decimals are written with a point: write {point}"
        ));
    }
    let full = cells.iter().rposition(|cell| !cell.text.is_empty()).map_or(0, |last| last + 1);
    if full > columns.len() {
        return Err(format!(
            "this line has {full} cells and the head {}; decimals are written with a point, 12.63 V and not 12,63 V, and a \
             text with a comma stands in quotes",
            columns.len()
        ));
    }
    let mut row = Row::new(line, span);
    for (column, cell) in columns.iter().zip(cells) {
        if let Some(slot) = column.and_then(|column| row.slot(column)) {
            *slot = cell;
        }
    }
    Ok(row)
}

/// A number that a decimal comma has made two cells of: as it was written, and as it should have been.
fn parted(whole: &Cell, rest: &Cell) -> Option<[String; 2]> {
    let digits = whole.text.trim_start_matches(['+', '-', '−']);
    let number = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
    let decimals = rest.text.bytes().take_while(u8::is_ascii_digit).count();
    // An accuracy such as `2 digits` or `1 %` may follow a number whose unit was forgotten.
    let unit = rest.text.get(decimals..).unwrap_or_default().trim();
    let is_unit = !unit.is_empty() && unit.chars().count() <= 3 && !unit.starts_with(['%', '.']);
    (number && decimals > 0 && is_unit).then(|| {
        let (whole, rest) = (&whole.text, &rest.text);
        [",", "."].map(|mark| quoted(&format!("{whole}{mark}{rest}")))
    })
}
