//! What to buy, cut, crimp, tighten, label and set: a judged plan as sheets of rows.
//!
//! ```
//! use loomwright::study::{judge::judge, schedule::{SheetName, schedule}};
//! use loomwright::text::read_plan;
//! let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
//! let schedule = schedule(&judge(&plan)?);
//! let cables = schedule.sheet(SheetName::Cables);
//! assert_eq!(cables.rows.len(), 4);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod cables;
mod ends;
mod fuses;
mod labels;
mod loads;
mod materials;
mod settings;
mod terminals;

use serde_json::{Map, Value, json};

use crate::names::named;
use crate::study::cable::round9;
use crate::study::judge::Judgement;

pub(in crate::study) use cables::supports;
pub(in crate::study) use labels::Labels;
pub(crate) use materials::{Material, freed, of_runs};
pub(in crate::study) use terminals::{Tightened, joined};

named! {
    /// The sheets of a schedule.
    SheetName, "sheet", {
        /// Every conductor: what to cut and what goes on its ends.
        Cables => "cables",
        /// Every fuse and breaker.
        Fuses => "fuses",
        /// Every terminal in order of work, with its torque.
        Terminals => "terminals",
        /// What to buy, grouped.
        Materials => "materials",
        /// What to print on both ends of every conductor.
        Labels => "labels",
        /// What to set in chargers, controllers, inverters and buck converters.
        Settings => "settings",
        /// Every load.
        Loads => "loads",
    }
}

impl SheetName {
    /// Its title.
    pub fn title(self) -> &'static str {
        match self {
            Self::Cables => "Cable schedule",
            Self::Fuses => "Fuse schedule",
            Self::Terminals => "Terminals and torques, in order of work",
            Self::Materials => "Materials",
            Self::Labels => "Labels",
            Self::Settings => "Settings",
            Self::Loads => "Loads",
        }
    }
}

/// A column of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its key in JSON, with the unit in it.
    pub key: &'static str,
    /// Its title for people.
    pub title: &'static str,
    /// The unit of its numbers; empty where it has none.
    pub unit: &'static str,
}

impl Column {
    /// The title with the unit, for the head of a table.
    pub fn head(&self) -> String {
        [self.title, self.unit].iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(" ")
    }
}

/// What stands in one place of a sheet. Numbers are in the unit that the column's key names.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing: it does not apply, or is to be filled in by hand.
    Empty,
    /// A text.
    Text(String),
    /// A number, in the unit of the column.
    Number(f64),
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        if text.is_empty() { Self::Empty } else { Self::Text(text) }
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        text.to_owned().into()
    }
}

impl From<f64> for Cell {
    fn from(number: f64) -> Self {
        if number.is_finite() { Self::Number(round9(number)) } else { Self::Empty }
    }
}

impl<T: Into<Cell>> From<Option<T>> for Cell {
    fn from(cell: Option<T>) -> Self {
        cell.map_or(Self::Empty, Into::into)
    }
}

/// A sheet: rows of cells under columns. Those of a schedule have a name of [`SheetName`], others their title.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet<N = SheetName> {
    /// Which one it is.
    pub name: N,
    /// Its columns.
    pub columns: &'static [Column],
    /// Its rows, as long as the columns.
    pub rows: Vec<Vec<Cell>>,
    /// What must be read with it.
    pub notes: Vec<String>,
}

/// All sheets of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Schedule {
    /// Name of the plan.
    pub name: String,
    /// Its practice.
    pub practice: &'static str,
    /// Whether the plan holds: nobody should build one that does not.
    pub holds: bool,
    /// Every sheet, in the order of [`SheetName::ALL`].
    pub sheets: Vec<Sheet>,
}

/// The schedule of a judged plan.
///
/// Numbers are stable: conductors are numbered in the order of the plan, `R01` for single runs, `C01+` and `C01-` for the
/// legs of circuits, and a fuse carries the number of its run behind an `F`.
///
/// ```
/// use loomwright::study::{judge::judge, schedule::{SheetName, schedule}};
/// let text = include_str!("../../../examples/lamp.toml");
/// let schedule = schedule(&judge(&loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?)?);
/// assert!(schedule.holds && schedule.sheets.len() == SheetName::ALL.len());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn schedule(judgement: &Judgement) -> Schedule {
    let labels = Labels::of(&judgement.installation);
    let sheet = |name: &SheetName| match name {
        SheetName::Cables => cables::sheet(judgement, &labels),
        SheetName::Fuses => fuses::sheet(judgement, &labels),
        SheetName::Terminals => terminals::sheet(judgement, &labels),
        SheetName::Materials => materials::sheet(judgement),
        SheetName::Labels => labels::sheet(judgement, &labels),
        SheetName::Settings => settings::sheet(judgement),
        SheetName::Loads => loads::sheet(judgement, &labels),
    };
    Schedule {
        name: judgement.installation.name.clone(),
        practice: judgement.installation.practice.name(),
        holds: judgement.holds(),
        sheets: SheetName::ALL.iter().map(sheet).collect(),
    }
}

impl Schedule {
    /// One of its sheets; an empty one, which a schedule made here never lacks, if it were not there.
    pub fn sheet(&self, name: SheetName) -> Sheet {
        let found = self.sheets.iter().find(|sheet| sheet.name == name).cloned();
        found.unwrap_or(Sheet { name, columns: &[], rows: Vec::new(), notes: Vec::new() })
    }

    /// The schedule as JSON: every sheet a list of objects, by the keys of its columns.
    pub fn record(&self) -> Value {
        let of = |sheet: &Sheet| Value::Array(sheet.rows.iter().map(|row| object(sheet.columns, row)).collect());
        let sheets: Map<String, Value> =
            self.sheets.iter().map(|sheet| (sheet.name.name().to_owned(), of(sheet))).collect();
        let notes: Map<String, Value> =
            self.sheets.iter().map(|sheet| (sheet.name.name().to_owned(), json!(sheet.notes))).collect();
        json!({
            "format": 1,
            "engine_version": env!("CARGO_PKG_VERSION"),
            "name": self.name,
            "practice": self.practice,
            "verdict": if self.holds { "holds" } else { "does-not-hold" },
            "sheets": sheets,
            "notes": notes,
        })
    }
}

/// A row as an object, by the keys of the columns; empty cells are left out.
pub(in crate::study) fn object(columns: &[Column], row: &[Cell]) -> Value {
    let entry = |(column, cell): (&Column, &Cell)| {
        let value = match cell {
            Cell::Empty => return None,
            Cell::Text(text) => json!(text),
            Cell::Number(number) => json!(number),
        };
        Some((column.key.to_owned(), value))
    };
    Value::Object(columns.iter().zip(row).filter_map(entry).collect())
}

/// Columns from keys and titles.
macro_rules! columns {
    ($($key:literal: $title:literal $(/ $unit:literal)?),+ $(,)?) => {
        &[$(crate::study::schedule::Column { key: $key, title: $title, unit: concat!($($unit)?) }),+]
    };
}
pub(in crate::study) use columns;
