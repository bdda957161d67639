//! Tables of the page.

use loomwright::study::schedule::{Cell, Sheet};
use maud::{Markup, html};

use crate::style::SMALL;
use crate::text::{plain, width};

/// A cell: text, or a number that stands at the right.
pub(super) enum Told {
    Text(String),
    Number(String),
}

impl Told {
    /// A number with three digits, or a dash.
    pub(super) fn three(value: Option<f64>) -> Self {
        Self::Number(value.map_or_else(|| "–".to_owned(), |value| plain(value, 3)))
    }
}

impl<T: Into<String>> From<T> for Told {
    fn from(text: T) -> Self {
        Self::Text(text.into())
    }
}

/// The room that a table has on paper, at the size of small text.
const PAPER: f64 = 700.0;

/// Columns of longer text than this are at least so wide, lest a browser gives a column one word a line while another
/// takes all the room: 6 em, as the style sheet has it.
const TEXT: f64 = 6.0 * SMALL;

/// Whether texts of a column are long enough to be broken into lines.
fn long(at: usize, rows: &[Vec<Told>]) -> bool {
    rows.iter().filter_map(|row| row.get(at)).any(|cell| matches!(cell, Told::Text(text) if width(text, SMALL) > TEXT))
}

/// What a table takes side by side: the longest piece of each column that does not break; with room to read, no less than
/// [`TEXT`] where there is much text, and whole cells where there is little.
fn takes(heads: &[&str], rows: &[Vec<Told>], roomy: bool) -> f64 {
    let longest = |text: &str| text.split([' ', '-']).map(|piece| width(piece, SMALL)).fold(0.0, f64::max);
    let column = |(at, head): (usize, &&str)| {
        let long = long(at, rows);
        let cells = rows.iter().filter_map(|row| row.get(at)).map(|cell| match cell {
            Told::Text(text) if long || !roomy => longest(text),
            Told::Text(text) | Told::Number(text) => width(text, SMALL),
        });
        let least = if long && roomy { TEXT } else { 0.0 };
        cells.fold(longest(head).max(least), f64::max) + 8.0
    };
    heads.iter().enumerate().map(column).sum()
}

/// A table under a caption. A head that begins with `#` is over numbers. Where it is too wide for paper, its rows become
/// paragraphs there, in which every cell has its head before it.
pub(super) fn table(caption: &str, heads: &[&str], rows: &[Vec<Told>]) -> Markup {
    let wide = takes(heads, rows, false) > PAPER;
    // A table that just fits keeps no cell from being broken.
    let roomy = wide || takes(heads, rows, true) <= PAPER;
    let long: Vec<bool> = (0..heads.len()).map(|at| long(at, rows)).collect();
    let long = |at: usize| long.get(at).copied().unwrap_or(false);
    let keep = |text: &str, at: usize| (roomy && !long(at) && text.contains([' ', '-'])).then_some("keep");
    let head = |at: usize| wide.then(|| heads.get(at).map_or("", |head| head.trim_start_matches('#')));
    html! {
        div class="scroll" tabindex="0" role="group" aria-label=(caption) {
            table class={ "sorts" @if wide { " wide" } } {
                caption { (caption) }
                thead { tr {
                    @for (at, head) in heads.iter().enumerate() {
                        @if let Some(head) = head.strip_prefix('#') { th scope="col" class="num" { (head) } }
                        @else { th scope="col" class=[(roomy && long(at)).then_some("text")] { (head) } }
                    }
                } }
                tbody {
                    @for row in rows { tr {
                        @for (at, cell) in row.iter().enumerate() {
                            @match cell {
                                Told::Text(text) if at == 0 => { th scope="row" class=[keep(text, at)] { (text) } }
                                Told::Text(text) => { td class=[keep(text, at)] data-head=[head(at)] { (text) } }
                                Told::Number(text) => { td class="num" data-head=[head(at)] { (text) } }
                            }
                        }
                    } }
                }
            }
        }
    }
}

/// A sheet of the schedule with its notes; columns in which nothing stands are left out.
pub(super) fn sheet<N>(title: &str, sheet: &Sheet<N>) -> Markup {
    // The size says the area already, to people.
    let shown: Vec<usize> = (0..sheet.columns.len())
        .filter(|at| sheet.columns.get(*at).is_some_and(|column| column.key != "csa_mm2"))
        .filter(|at| sheet.rows.iter().any(|row| row.get(*at).is_some_and(|cell| *cell != Cell::Empty)))
        .collect();
    let numbers = |at: usize| sheet.rows.iter().any(|row| matches!(row.get(at), Some(Cell::Number(_))));
    let heads: Vec<String> = shown
        .iter()
        .filter_map(|at| sheet.columns.get(*at).map(|column| (at, column)))
        .map(|(at, column)| if numbers(*at) { format!("#{}", column.head()) } else { column.head() })
        .collect();
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    let cell = |row: &Vec<Cell>, at: &usize| match row.get(*at) {
        Some(Cell::Text(text)) => Told::Text(text.clone()),
        Some(Cell::Number(value)) => Told::three(Some(*value)),
        Some(Cell::Empty) | None => Told::Text(String::new()),
    };
    let rows: Vec<Vec<Told>> = sheet.rows.iter().map(|row| shown.iter().map(|at| cell(row, at)).collect()).collect();
    html! {
        @if sheet.rows.is_empty() { h3 { (title) } p class="quiet" { "None." } }
        @else { (table(title, &heads, &rows)) }
        (notes(&sheet.notes))
    }
}

/// A list of sentences.
pub(super) fn notes<T: AsRef<str>>(notes: &[T]) -> Markup {
    html! {
        @if !notes.is_empty() { ul class="notes" { @for note in notes { li { (note.as_ref()) } } } }
    }
}
