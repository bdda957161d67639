//! What a layout is made of: sections in chains, chains on bars.

use super::graph::Part;
use super::labels::Label;
use super::symbols::Sign;

/// Height of the name above a bar.
pub(super) const NAME: f64 = 23.0;
/// From one stretch of a bar to what is above the next.
pub(super) const BETWEEN: f64 = 16.0;

/// What a section of a chain is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Form {
    /// A conductor with what protects it.
    Run,
    /// A device in line.
    Inline,
    /// A device at the end.
    End,
    /// A bar that only one way leads through or to.
    Dot,
    /// An end that goes on elsewhere; whether what it bears comes from there.
    Mark(bool),
    /// Text alone.
    Text,
}

/// One symbol of a chain with its text.
#[derive(Clone, Debug)]
pub(super) struct Section {
    /// What its first line names.
    pub(super) part: Option<Part>,
    pub(super) form: Form,
    pub(super) sign: Sign,
    /// Whether it starts where the chain starts.
    pub(super) forward: bool,
    pub(super) label: Label,
    pub(super) height: f64,
}

/// What hangs on a bar by one line.
#[derive(Clone, Debug)]
pub(super) struct Chain {
    pub(super) sections: Vec<Section>,
    /// The bar that it ends at.
    pub(super) bar: Option<Bar>,
    /// The width of its box.
    pub(super) width: f64,
    /// From the bar that it hangs on to the one that it ends at, or to its end.
    pub(super) length: f64,
    /// The height of its box.
    pub(super) height: f64,
}

/// One stretch of a bar.
#[derive(Clone, Debug, Default)]
pub(super) struct Row {
    pub(super) label: Label,
    /// What hangs above it, from the left.
    pub(super) ups: Vec<Chain>,
    /// What hangs below it.
    pub(super) downs: Vec<Chain>,
    /// Where the boxes above begin.
    pub(super) up_start: f64,
    /// Where the boxes below begin.
    pub(super) down_start: f64,
    /// How far the boxes above are lifted, for the name.
    pub(super) lift: f64,
    pub(super) above: f64,
    pub(super) below: f64,
}

/// A vertex with three or more connections, in one stretch or several.
#[derive(Clone, Debug)]
pub(super) struct Bar {
    pub(super) vertex: usize,
    /// Whether it is seen: only a root may be a mere point of a line.
    pub(super) drawn: bool,
    /// Whether a line enters it from the bar before.
    pub(super) entered: bool,
    pub(super) rows: Vec<Row>,
    pub(super) width: f64,
    /// The number of its first stretch: more than 1 where it goes on from another sheet.
    pub(super) first: usize,
}

impl Bar {
    /// What stands above its first stretch.
    pub(super) fn above(&self) -> f64 {
        self.rows.first().map_or(0.0, |row| row.above).max(if self.drawn { NAME } else { 0.0 })
    }

    /// From its first stretch to the end of everything beyond it.
    pub(super) fn height(&self) -> f64 {
        let rows = self.rows.iter().enumerate();
        rows.map(|(index, row)| row.below + if index > 0 { BETWEEN + row.above } else { 0.0 }).sum()
    }
}
