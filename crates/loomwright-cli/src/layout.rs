//! Text for 80 columns.

use anstyle::{AnsiColor, Style};
use comfy_table::{CellAlignment, ContentArrangement, Table};
use loomwright::finding::{Finding, Signal};
use loomwright::study::cable::AssumptionRecord;
pub(crate) use loomwright_draw::text::number;

pub(crate) const WIDTH: usize = 80;

/// Joins a number to its unit with a space that does not break, so that no line starts with a unit.
fn joined(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut after_digit = false;
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let unit_follows = letters.peek().is_some_and(|next| next.is_alphabetic() || matches!(next, '°' | '%' | '×'));
        out.push(if letter == ' ' && after_digit && unit_follows { '\u{a0}' } else { letter });
        after_digit = letter.is_ascii_digit();
    }
    out
}

/// Text wrapped to the page, with a first and a following indent.
pub(crate) fn wrapped(text: &str, first: &str, following: &str) -> String {
    let options = textwrap::Options::new(WIDTH)
        .initial_indent(first)
        .subsequent_indent(following)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
        .break_words(true);
    textwrap::fill(&joined(text), options).replace('\u{a0}', " ")
}

/// Breaks the lines that are too long for the page; colour codes do not count.
pub(crate) fn page(text: &str) -> String {
    text.lines().map(|line| wrapped(line, "", "       ") + "\n").collect()
}

/// A table without lines: first and last column left, the others right, every row indented.
pub(crate) fn table(head: &[&str], rows: Vec<Vec<String>>) -> String {
    table_with_gap(head, rows, 2)
}

/// As [`table`], with so many spaces between columns.
pub(crate) fn table_with_gap(head: &[&str], rows: Vec<Vec<String>>, gap: u16) -> String {
    let mut table = Table::new();
    table.load_preset(comfy_table::presets::NOTHING).set_content_arrangement(ContentArrangement::Disabled);
    table.set_header(head.to_vec());
    for row in rows {
        table.add_row(row);
    }
    let last = head.len().saturating_sub(1);
    for (index, column) in table.column_iter_mut().enumerate() {
        column.set_padding((if index == 0 { 2 } else { 0 }, gap));
        let left = index == 0 || index == last;
        column.set_cell_alignment(if left { CellAlignment::Left } else { CellAlignment::Right });
    }
    table.lines().map(|line| line.trim_end().to_owned() + "\n").collect()
}

/// Signal colours of ISO 3864: red, orange (bright red where a terminal has no orange), yellow, blue.
pub(crate) fn signal_style(signal: Signal) -> Style {
    let colour = match signal {
        Signal::Danger => AnsiColor::Red,
        Signal::Warning => AnsiColor::BrightRed,
        Signal::Caution => AnsiColor::Yellow,
        Signal::Notice => AnsiColor::Blue,
    };
    Style::new().bold().fg_color(Some(colour.into()))
}

/// A finding with its citation and remedies.
pub(crate) fn finding(finding: &Finding) -> String {
    let style = signal_style(finding.signal);
    let word = finding.signal.word();
    let case = finding.case.as_ref().map_or_else(String::new, |case| format!(" ({case})"));
    let body =
        format!("{word} {}, {}{case}: {} [{}]", finding.rule, finding.subject, finding.message, finding.citation);
    // The word is coloured after wrapping, so that colour never counts as width.
    let mut text = wrapped(&body, "", "  ").replacen(word, &format!("{style}{word}{style:#}"), 1);
    for remedy in &finding.remedies {
        text.push('\n');
        text.push_str(&wrapped(remedy, "  would pass: ", "    "));
    }
    text.push('\n');
    text
}

/// What a result takes for granted, each with its source.
pub(crate) fn assumed(assumptions: &[AssumptionRecord], out: &mut String) {
    for assumption in assumptions {
        out.push_str(&wrapped(&format!("{} [{}]", assumption.text, assumption.source), "- ", "  "));
        out.push('\n');
    }
}

/// A title and under it one line for each text, with a mark before it; nothing where there are none.
pub(crate) fn listed<T: AsRef<str>>(title: &str, mark: &str, texts: impl IntoIterator<Item = T>, out: &mut String) {
    let indent = " ".repeat(mark.chars().count());
    let mut head = format!("\n{title}\n");
    for text in texts {
        out.push_str(&std::mem::take(&mut head));
        out.push_str(&wrapped(text.as_ref(), mark, &indent));
        out.push('\n');
    }
}

/// What everybody should hear, at the end of every result.
pub(crate) fn cautions(out: &mut String) {
    out.push_str("\nCautions\n");
    for caution in loomwright::study::cautions() {
        out.push_str(&wrapped(caution, "! ", "  "));
        out.push('\n');
    }
}

/// As [`cautions`], with what whoever measures should not forget before them.
pub(crate) fn all_cautions(out: &mut String) {
    let all = loomwright::study::live_cautions().iter().chain(loomwright::study::cautions());
    listed("Cautions", "! ", all, out);
}

/// A number for people, rounded down: what is permitted must still be so when somebody takes it.
pub(crate) fn floor(value: f64, digits: i32) -> String {
    if value <= 0.0 || !value.is_finite() {
        return number(value, 3);
    }
    let mut step = 1.0;
    while value / step >= 10_f64.powi(digits) {
        step *= 10.0;
    }
    while value / step < 10_f64.powi(digits - 1) {
        step /= 10.0;
    }
    number((value / step * (1.0 + 1e-12)).floor() * step, 3)
}

/// A number as somebody gave it: four significant digits at most, no zeros added.
pub(crate) fn plain(value: f64) -> String {
    format!("{value:.3e}").parse::<f64>().unwrap_or(value).to_string()
}

/// A name cut to so many characters.
pub(crate) fn cut(name: &str, most: usize) -> String {
    if name.chars().count() <= most {
        return name.to_owned();
    }
    name.chars().take(most.saturating_sub(1)).chain(['…']).collect()
}
