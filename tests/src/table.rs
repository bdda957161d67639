//! Reference tables: CSV with `#` lines that name source, edition and confidence.

use std::collections::HashMap;

use crate::support::text_of;

/// One row of a reference table by column name.
#[derive(Clone, Debug)]
pub struct Row(HashMap<String, String>);

impl Row {
    /// The text in a column.
    pub fn text(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column:?}"))
    }

    /// The number in a column; `None` where the table leaves the cell blank.
    pub fn maybe(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        (!text.is_empty()).then(|| text.parse().unwrap_or_else(|_| panic!("{column}: {text:?} is no number")))
    }

    /// The number in a column that no row leaves blank.
    pub fn number(&self, column: &str) -> f64 {
        self.maybe(column).unwrap_or_else(|| panic!("{column} is blank"))
    }

    /// Whether the row is written from memory: then it may agree with ours only because both were remembered.
    pub fn is_memory(&self) -> bool {
        self.text("confidence").starts_with("memory")
    }
}

/// Reads a table that carries its source in `#` lines above the column names.
pub fn parse(text: &str) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader.deserialize().map(|row| Row(row.expect("every row has the columns of the head"))).collect()
}

/// Reads a file under `tests/reference`, and holds it to naming its source.
pub fn read(file: &str) -> Vec<Row> {
    let text = text_of(&format!("tests/reference/{file}"));
    assert!(text.starts_with("# source:"), "{file} does not name its source");
    let rows = parse(&text);
    assert!(!rows.is_empty(), "{file} has no rows");
    rows
}
