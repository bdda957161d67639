//! All sheets of a schedule in one spreadsheet workbook.

use loomwright::study::schedule::{Cell, Schedule, Sheet};
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Workbook, XlsxError};

/// Narrowest and widest column, in characters.
const WIDTHS: [usize; 2] = [6, 46];

/// The workbook's bytes: the same for the same schedule, so no clock is asked.
pub(crate) fn workbook(schedule: &Schedule) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let created = ExcelDateTime::from_ymd(2000, 1, 1)?;
    book.set_properties(&DocProperties::new().set_title(&schedule.name).set_creation_datetime(&created));
    let head = Format::new().set_bold().set_border_bottom(FormatBorder::Thin).set_text_wrap();
    let plain = Format::new().set_align(FormatAlign::Top).set_text_wrap();
    for sheet in &schedule.sheets {
        let page = book.add_worksheet().set_name(sheet.name.name())?;
        page.set_landscape().set_print_fit_to_pages(1, 0).set_freeze_panes(3, 0)?;
        page.write_string(0, 0, format!("{}: {}", schedule.name, sheet.name.title()))?;
        let state = if schedule.holds { "the plan holds" } else { "THE PLAN DOES NOT HOLD: do not build it" };
        page.write_string(1, 0, format!("{state} (practice {})", schedule.practice))?;
        for (column, width) in (0_u16..).zip(widths(sheet)) {
            page.set_column_width(column, width)?;
        }
        for (column, of) in (0_u16..).zip(sheet.columns) {
            page.write_string_with_format(2, column, of.head(), &head)?;
        }
        let mut line = 3_u32;
        for row in &sheet.rows {
            for (column, cell) in (0_u16..).zip(row) {
                match cell {
                    Cell::Empty => page.write_blank(line, column, &plain)?,
                    // Texts are written as texts, never as formulas.
                    Cell::Text(text) => page.write_string_with_format(line, column, text, &plain)?,
                    Cell::Number(value) => page.write_number_with_format(line, column, *value, &plain)?,
                };
            }
            line += 1;
        }
        for note in sheet.notes.iter().map(String::as_str).chain(loomwright::study::cautions().iter().copied()) {
            line += 1;
            page.write_string(line, 0, note)?;
        }
    }
    book.save_to_buffer()
}

/// Width of every column by what stands in it.
fn widths(sheet: &Sheet) -> Vec<f64> {
    let wide = |cell: &Cell| match cell {
        Cell::Empty => 0,
        Cell::Text(text) => text.chars().count(),
        Cell::Number(_) => 8,
    };
    let column = |index: usize| {
        let cells = sheet.rows.iter().filter_map(|row| row.get(index)).map(wide).max().unwrap_or_default();
        let wanted = cells.max(sheet.columns.get(index).map_or(0, |column| column.head().chars().count()));
        let [least, most] = WIDTHS;
        f64::from(u32::try_from(wanted.clamp(least, most)).unwrap_or_default()) + 1.0
    };
    (0..sheet.columns.len()).map(column).collect()
}
