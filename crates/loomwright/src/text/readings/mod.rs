//! Readings files, as comma-separated values or TOML: what was measured, and a template from the plan to fill in.

#[expect(unreachable_pub, reason = "the macro of names makes public enums; this one stays inside")]
mod instrument;
mod lines;
mod places;
mod row;
mod same;
mod tables;
mod template;

pub use template::{TemplateForm, readings_template};

use super::limits::{LARGEST_READINGS, MOST_MISTAKES, MOST_READINGS};
use super::{PlanError, quoted};
use crate::installation::Installation;
use crate::study::reconcile::{Reading, RefusedRecord};
use places::Places;
use row::{Carried, Mistake};

/// What a readings file says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReadReadings {
    /// What could be used, in the order of the file.
    pub readings: Vec<Reading>,
    /// What was refused, in order of place: each with line, column, what was given and what would be accepted. A line that is
    /// refused is no reading; every other one still is.
    pub refused: Vec<PlanError>,
}

impl From<PlanError> for RefusedRecord {
    fn from(error: PlanError) -> Self {
        let (column, key) = (Some(error.column), error.key);
        Self { line: error.line, column, key, reason: error.message, ..Self::default() }
    }
}

/// Reads readings of a plan: comma-separated values, or TOML where the first line that says something has a `=` or is a
/// table; good lines are used and every bad one is told.
///
/// Comma-separated values have a head with the names of their columns in any order, of which `quantity`, `at` and `value`
/// are needed: `case, quantity, at, against, value, accuracy, ambient, date, surface, note`; `step`, `expected` and `why` are
/// for people. Commas, semicolons or tabulators part the cells, as the head does; lines that begin with # are passed over.
/// In TOML they are the keys of `[[readings]]` behind `format = 1`, with `case`, `date` and `ambient` at the top for all that
/// do not say otherwise.
///
/// - An empty `value` was not measured. An empty `case` or `date` is that of the line above; a plan of one case needs none.
/// - `voltage` of `at` over `against`: terminals and busbars, `RUN@start`, `RUN@fuse` or `RUN@end`; or, without `against`,
///   of a device's positive over its negative, such as `service` or `charger.out`, or across an isolator or shunt.
/// - `current` of a run, positive from its start to its end; a circuit's is that of its positive leg.
/// - `temperature` of a terminal or place in a run; `power` that an inverter gives.
/// - `accuracy` such as `0.5 % + 2 digits`, `±2 mV`, `class 1.5 of 100 A` or the name of a usual instrument, such as
///   `multimeter`; the usual one is assumed, and said to be, where it is missing. Digits count as the value is written.
/// - `surface` of a temperature: `probe`, `tape`, `paint`, `bare`, `emissivity 0.9`; bare metal where nothing is said.
///
/// Readings of one place, case and date that exclude each other are both refused. At most 5000 lines are read.
///
/// ```
/// use loomwright::text::{read_plan, read_readings};
/// let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let file = "case,quantity,at,value,accuracy\nparked-night,voltage,house,12.71 V,multimeter\n,voltage,lamp,\"12,6 V\",\n";
/// let read = read_readings(file, &plan);
/// assert_eq!(read.readings.len(), 1);
/// assert_eq!(read.refused[0].line, 3);
/// assert!(read.refused[0].message.contains("write \"12.6 V\""));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn read_readings(text: &str, plan: &Installation) -> ReadReadings {
    let refuse =
        |message: String| ReadReadings { readings: Vec::new(), refused: vec![PlanError::new(text, 0..0, "", message)] };
    if text.len() > LARGEST_READINGS {
        return refuse(format!("the file has {} bytes; at most {LARGEST_READINGS} are read", text.len()));
    }
    let Some(first) = lines::first(text) else {
        return refuse(format!("the file says nothing; it begins with a head such as {}", lines::HEAD));
    };
    let mut mistakes = Vec::new();
    let (rows, defaults) = if lines::is_toml(text, first) {
        tables::rows(text, &mut mistakes)
    } else {
        (lines::rows(text, first, &mut mistakes), None)
    };
    let places = Places::of(plan);
    let mut carried = Carried::new(defaults.as_ref());
    let mut readings = Vec::new();
    if let Some(row) = rows.get(MOST_READINGS) {
        let message = format!("at most {MOST_READINGS} lines are read; put the rest into a file of its own");
        mistakes.push(Mistake { span: row.span.clone(), key: "", message });
    }
    for row in rows.into_iter().take(MOST_READINGS) {
        match row.reading(&mut carried, &places) {
            Ok(Some(reading)) => readings.push((reading, row)),
            Ok(None) => {}
            Err(wrong) => mistakes.extend(wrong),
        }
    }
    let readings = same::consistent(readings, &mut mistakes);
    ReadReadings { readings, refused: told(text, mistakes) }
}

/// The mistakes in order of place; of very many, the rest by their number.
fn told(text: &str, mut mistakes: Vec<Mistake>) -> Vec<PlanError> {
    mistakes.sort_by_key(|mistake| mistake.span.start);
    let most = MOST_MISTAKES;
    let rest = mistakes.len().saturating_sub(most);
    let next = mistakes.get(most).map(|mistake| mistake.span.clone());
    let first = mistakes.into_iter().take(most);
    let mut told: Vec<PlanError> =
        first.map(|mistake| PlanError::new(text, mistake.span, mistake.key, mistake.message)).collect();
    if let Some(span) = next {
        let message = format!("{rest} more mistakes from here on are not told one by one; mend those above first");
        told.push(PlanError::new(text, span, "", message));
    }
    told
}

/// What a spreadsheet takes for a formula or for its own mark of a text.
const COMPUTED: [char; 5] = ['=', '+', '-', '@', '\''];

/// A cell that no spreadsheet takes for a formula: names come from plans, which may come from anybody.
fn harmless(text: &str) -> String {
    if text.starts_with(COMPUTED) { format!("'{text}") } else { text.to_owned() }
}

/// What such a cell means.
fn meant(text: &str) -> &str {
    text.strip_prefix('\'').filter(|rest| rest.starts_with(COMPUTED)).unwrap_or(text)
}

#[cfg(test)]
mod tests;
