//! Sourced tables: every number the engine looks up, with the source it came from.
//!
//! The tables are CSV files in the crate's `data/` folder; `cargo run -p xtask -- data` validates them
//! and writes them as constants, so nothing is parsed at run time.

use serde::Serialize;

#[allow(dead_code, reason = "columns that only carry provenance stay beside their numbers")]
#[allow(clippy::approx_constant, reason = "a printed 3.14 Ω is not π")]
pub(crate) mod tables;

/// How far a value can be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Confidence {
    /// Read in the source, or in a page that reprints it.
    Published,
    /// Written down from memory: provisional until somebody reads it in the source.
    Memory,
    /// A custom of the trade that no source is known for.
    CommonPractice,
}

/// Where a number comes from.
#[derive(Debug, PartialEq, Eq, Serialize)]
pub struct Source {
    /// The row's key in `sources.toml`.
    pub id: &'static str,
    /// What the publication is.
    pub title: &'static str,
    /// Standard number or edition.
    pub edition: &'static str,
    /// Table, clause or section.
    pub section: &'static str,
    /// How far the value can be trusted.
    pub confidence: Confidence,
}

impl std::fmt::Display for Source {
    /// Edition and section, and what is not published said so.
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.confidence {
            Confidence::Published => write!(formatter, "{}, {}", self.edition, self.section),
            Confidence::Memory => write!(formatter, "{}, {} (from memory)", self.edition, self.section),
            Confidence::CommonPractice => formatter.write_str("common practice, no source"),
        }
    }
}

/// Every source of the engine, in order of id.
///
/// ```
/// assert!(loomwright::data::sources().iter().any(|source| source.edition == "IEC 60228:2004"));
/// ```
pub fn sources() -> &'static [&'static Source] {
    tables::sources::ALL
}
