//! Plan files: text to typed values and back. The only room that knows text formats.
//!
//! One key table ([`keys`](self)) drives the reader, the JSON Schema and the annotated plan to start from.
//!
//! ```
//! let plan = loomwright::text::read_plan(include_str!("../../examples/lamp.toml"));
//! assert!(plan.is_ok());
//! let broken = loomwright::text::read_plan("format = 1\n[plan]\nname = 3").unwrap_err();
//! assert!(broken.iter().any(|error| (error.line, error.column) == (3, 8)));
//! ```

mod build;
mod entry;
mod error;
mod forms;
mod keys;
mod limits;
mod read;
mod readings;
mod resolve;
mod schema;
mod spells;
mod template;
mod weather;

pub use error::PlanError;
pub use limits::{LARGEST_PLAN, LARGEST_READINGS, LARGEST_WEATHER};
pub use readings::{ReadReadings, TemplateForm, read_readings, readings_template};
pub use schema::plan_schema;
pub use template::annotated_plan;
pub use weather::read_weather;

use crate::installation::Installation;

/// What no name or text of a plan may hold: control characters, which a terminal would obey; marks that turn the direction of
/// what stands beside them, so that somebody would read another plan than is judged; and what is no character.
///
/// ```
/// use loomwright::text::deceptive;
/// assert!(deceptive('\u{1b}') && deceptive('\u{202e}') && !deceptive('é'));
/// ```
pub fn deceptive(letter: char) -> bool {
    letter.is_control() || matches!(letter, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{fffe}' | '\u{ffff}')
}

/// A text in quotes, cut when it is long.
fn quoted(text: &str) -> String {
    format!("{:?}", text.chars().take(60).collect::<String>())
}

/// Reads a plan.
///
/// ```
/// use loomwright::text::read_plan;
/// let text = include_str!("../../examples/lamp.toml");
/// assert_eq!(read_plan(text).map(|plan| plan.runs.len()).ok(), Some(4)); // two single runs, two legs of a circuit
/// let errors = read_plan(&text.replace("\"10 W\"", "\"10\"")).err().ok_or("a bare number is refused")?;
/// assert_eq!((errors.len(), errors[0].key.as_str()), (1, "loads.lamp.power"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// Every mistake of the file, in order of place, each with line, column, key and what would be accepted.
pub fn read_plan(text: &str) -> Result<Installation, Vec<PlanError>> {
    let (file, mut errors) = read::read(text);
    let built = file.and_then(|file| build::build(&file, &mut errors));
    errors.sort_by_key(|error| error.span.start);
    errors.dedup();
    match built {
        Some(installation) if errors.is_empty() => Ok(installation),
        _ => Err(errors),
    }
}
