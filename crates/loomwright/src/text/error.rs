//! One mistake in a plan file.

use std::ops::Range;

use serde::Serialize;
use thiserror::Error;

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

impl PlanError {
    pub(super) fn new(text: &str, span: Range<usize>, key: impl Into<String>, message: impl Into<String>) -> Self {
        let before = text.get(..span.start).unwrap_or(text);
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        Self {
            line: before.matches('\n').count() + 1,
            column: before.get(line_start..).map_or(0, |part| part.chars().count()) + 1,
            span,
            key: key.into(),
            message: message.into(),
        }
    }
}
