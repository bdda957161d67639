//! `loomwright schedule`: sheets to build from.

use loomwright::study::judge::Judgement;
use loomwright::study::schedule::{Cell, Column, Schedule, Sheet, SheetName, schedule};
use loomwright_draw::text::plain;

use crate::args::{Format, ScheduleArguments, SheetFormat};
use crate::files::harmless;
use crate::layout::{WIDTH, cautions, table, wrapped};
use crate::{Answer, Exit, Refusal, files, plans, workbook};

/// The answer as printed; a plan that does not hold still gives its schedule, and says so.
pub(crate) fn answer(arguments: &ScheduleArguments) -> Answer {
    let format = if arguments.format == SheetFormat::Json { Format::Json } else { Format::Text };
    plans::as_asked(format, scheduled(arguments, format))
}

fn scheduled(arguments: &ScheduleArguments, format: Format) -> Answer {
    let judgement = plans::judged(&arguments.plan, format)?;
    let schedule = schedule(&judgement);
    let exit = if schedule.holds { Exit::Holds } else { Exit::Findings };
    if let Some(path) = &arguments.workbook {
        let bytes = workbook::workbook(&schedule).map_err(|error| Refusal::Message(error.to_string()))?;
        files::write_new(path, &bytes, "or none to print the sheets")?;
        return Ok((exit, format!("{}wrote {}\n", standing(&judgement, &schedule), files::shown(path))));
    }
    let text = match (arguments.format, arguments.sheet) {
        (SheetFormat::Json, None) => plans::json(&schedule.record())?,
        (SheetFormat::Json, Some(name)) => {
            let mut record = schedule.record();
            for key in ["sheets", "notes"] {
                if let Some(sheets) = record.get_mut(key).and_then(|sheets| sheets.as_object_mut()) {
                    sheets.retain(|sheet, _| sheet == name.name());
                }
            }
            plans::json(&record)?
        }
        (SheetFormat::Csv, Some(name)) => separated(&schedule.sheet(name))?,
        (SheetFormat::Csv, None) => {
            let message = format!("csv is one sheet: add --sheet with one of {}", SheetName::NAMES.join(", "));
            return Err(Refusal::Message(message));
        }
        (SheetFormat::Text, wanted) => {
            let mut out = standing(&judgement, &schedule);
            let chosen = schedule.sheets.iter().filter(|sheet| wanted.is_none_or(|wanted| sheet.name == wanted));
            chosen.for_each(|sheet| printed(sheet.name.title(), sheet, &mut out));
            cautions(&mut out);
            out
        }
    };
    Ok((exit, text))
}

/// Name of the plan, and that it must not be built where it does not hold.
fn standing(judgement: &Judgement, schedule: &Schedule) -> String {
    let failures = judgement.findings.iter().filter(|finding| finding.signal >= loomwright::finding::Signal::Warning);
    let state = if schedule.holds {
        "holds".to_owned()
    } else {
        let count = failures.count();
        let failures = if count == 1 { "one failure".to_owned() } else { format!("{count} failures") };
        format!("DOES NOT HOLD: {failures}; do not build it before `check` is clean")
    };
    wrapped(&format!("{}: {state} (practice {}).", schedule.name, schedule.practice), "", "") + "\n"
}

fn shown(cell: &Cell) -> String {
    match cell {
        Cell::Empty => "–".to_owned(),
        Cell::Text(text) => text.clone(),
        Cell::Number(value) => plain(*value, 3),
    }
}

/// As a table where that fits the page, else a paragraph for each row.
pub(crate) fn printed<N>(title: &str, sheet: &Sheet<N>, out: &mut String) {
    out.push_str(&format!("\n{title}\n"));
    if sheet.rows.is_empty() {
        out.push_str("  none\n");
    }
    let heads: Vec<String> = sheet.columns.iter().map(Column::head).collect();
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    let rows: Vec<Vec<String>> = sheet.rows.iter().map(|row| row.iter().map(shown).collect()).collect();
    let as_table = if rows.is_empty() { String::new() } else { table(&heads, rows) };
    if as_table.lines().all(|line| line.chars().count() <= WIDTH) {
        out.push_str(&as_table);
    } else {
        for row in &sheet.rows {
            // The size says the area already, to people.
            let filled = sheet.columns.iter().zip(row);
            let filled = filled.filter(|(column, cell)| **cell != Cell::Empty && column.key != "csa_mm2");
            let said: Vec<String> = filled
                .enumerate()
                .map(|(place, (column, cell))| {
                    let title = if place < 2 { "" } else { column.title };
                    let unit = if matches!(cell, Cell::Number(_)) { column.unit } else { "" };
                    [title, shown(cell).as_str(), unit]
                        .into_iter()
                        .filter(|part| !part.is_empty())
                        .collect::<Vec<_>>()
                        .join(" ")
                })
                .collect();
            let (head, rest) = said.split_at(said.len().min(2));
            out.push_str(&wrapped(&format!("{}: {}", head.join(" "), rest.join("; ")), "  ", "      "));
            out.push('\n');
        }
    }
    for note in &sheet.notes {
        out.push_str(&wrapped(note, "- ", "  "));
        out.push('\n');
    }
}

/// Comma-separated values under the keys of the columns.
pub(crate) fn separated<N>(sheet: &Sheet<N>) -> Result<String, Refusal> {
    let rows = sheet.rows.iter().map(|row| {
        let cells = row.iter().map(|cell| match cell {
            Cell::Empty => String::new(),
            Cell::Number(value) => value.to_string(),
            Cell::Text(text) => harmless(text),
        });
        cells.collect()
    });
    files::separated(sheet.columns.iter().map(|column| column.key), rows)
}
