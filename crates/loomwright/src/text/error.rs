//! One mistake in a plan file.

use std::cmp::Ordering;
use std::ops::Range;

use serde::Serialize;
use thiserror::Error;

use super::limits::{LONGEST_KEY, LONGEST_MISTAKE, MOST_MISTAKES};

/// A mistake, where it is, and what would be accepted.
#[derive(Clone, Debug, PartialEq, Eq, Error, Serialize)]
#[error("line {line}, column {column}: {key}: {message}")]
pub struct PlanError {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// Place in bytes.
    #[serde(skip)]
    pub span: Range<usize>,
    /// The key in dotted form, such as `loads.lamp.current`; empty for the file.
    pub key: String,
    /// What is wrong, with an accepted form and the nearest known name.
    pub message: String,
}

/// A text that ends after so many characters.
fn cut(text: String, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((end, _)) => text.get(..end).unwrap_or_default().to_owned() + "…",
        None => text,
    }
}

impl PlanError {
    /// Adds a mistake to those of its text, or, once there are enough, that there are more.
    pub(super) fn add(
        all: &mut Vec<Self>,
        text: &str,
        span: Range<usize>,
        key: impl Into<String>,
        message: impl Into<String>,
    ) {
        match all.len().cmp(&MOST_MISTAKES) {
            Ordering::Less => all.push(Self::new(text, span, key, message)),
            Ordering::Equal => {
                let message = "more mistakes from here on are not told one by one; mend the others first";
                all.push(Self::new(text, span, "", message));
            }
            Ordering::Greater => {}
        }
    }

    pub(super) fn new(text: &str, span: Range<usize>, key: impl Into<String>, message: impl Into<String>) -> Self {
        let before = text.get(..span.start).unwrap_or(text);
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        Self {
            line: before.matches('\n').count() + 1,
            column: before.get(line_start..).map_or(0, |part| part.chars().count()) + 1,
            span,
            key: cut(key.into(), LONGEST_KEY),
            message: cut(message.into(), LONGEST_MISTAKE),
        }
    }
}
