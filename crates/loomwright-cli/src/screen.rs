//! Small pictures for a screen: margins as bars, state of charge as a strip. Nothing of them goes into a pipe or file.

use anstyle::Style;
use loomwright::study::forecast::BankRecord;
use loomwright::study::judge::CheckRecord;

use crate::layout::{cut, number, signal_style};

/// Whether what is printed is looked at on a screen that takes small pictures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Screen {
    /// Pictures help there.
    Pictures,
    /// A pipe, a file, or somebody who wants none.
    Plain,
}

/// Bars are this long for a margin of 2 and more.
const BAR: usize = 24;
/// Checks that have bars.
const MOST_BARS: usize = 15;
/// Those with more margin have none.
const AMPLE: f64 = 1.5;
/// Marks of a strip.
const STRIP: usize = 64;

/// Eighths of a column, from left to right.
const EIGHTHS: [char; 8] = ['▏', '▎', '▍', '▌', '▋', '▊', '▉', '█'];
/// Eighths of a line, upwards.
const HEIGHTS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// A whole number up to a most.
fn whole(value: f64, most: usize) -> usize {
    format!("{:.0}", value.max(0.0)).parse::<usize>().unwrap_or(most).min(most)
}

/// A bar for a margin between 0 and 2, with the place of 1 marked where the bar does not reach it.
fn bar(margin: f64) -> String {
    let eighths = whole(margin.clamp(0.0, 2.0) / 2.0 * 8.0 * 24.0, 8 * BAR);
    let mut bar: Vec<char> = vec!['█'; eighths / 8];
    bar.extend((eighths % 8).checked_sub(1).and_then(|eighth| EIGHTHS.get(eighth)));
    bar.resize(BAR, ' ');
    if let Some(one) = bar.get_mut(BAR / 2).filter(|one| **one == ' ') {
        *one = '│';
    }
    bar.into_iter().collect::<String>().trim_end().to_owned()
}

/// The narrowest checks as bars.
pub(crate) fn margins(checks: &[CheckRecord]) -> String {
    // What fails or passes alike stands in one line.
    let mut narrow: Vec<(&CheckRecord, usize)> = Vec::new();
    for check in checks.iter().filter(|check| check.margin < AMPLE) {
        let alike = |(first, _): &&mut (&CheckRecord, usize)| {
            first.rule == check.rule && number(first.margin, 3) == number(check.margin, 3)
        };
        match narrow.last_mut().filter(|last| alike(last)) {
            Some((_, count)) => *count += 1,
            None => narrow.push((check, 1)),
        }
    }
    narrow.truncate(MOST_BARS);
    let mut out = format!("\nMargins, least first ({} 1 just passes, full bar 2 and more)\n", "│");
    for (check, count) in &narrow {
        let style = check.signal.map_or_else(Style::new, signal_style);
        let others = if *count > 1 { format!(" ×{count}") } else { String::new() };
        let name = cut(&format!("{}, {}", check.subject, check.rule), 42 - others.chars().count()) + &others;
        out.push_str(&format!("  {name:<42} {:>6} {style}{}{style:#}\n", number(check.margin, 3), bar(check.margin)));
    }
    let more = checks.len() - narrow.iter().map(|(_, count)| count).sum::<usize>();
    if more > 0 {
        out.push_str(&format!("  and {more} more checks; `loomwright draw PLAN margins` shows all\n"));
    }
    out
}

/// The state of charge of a bank over its stay: in each mark the lowest of its time, and below what has no more to give.
pub(crate) fn charge(bank: &BankRecord) -> String {
    let charges: Vec<f64> = if bank.steps.is_empty() {
        bank.days.iter().map(|day| day.lowest_charge).collect()
    } else {
        bank.steps.iter().map(|step| step.charge).collect()
    };
    let marks = charges.len().min(STRIP);
    let (mut strip, mut short) = (String::new(), String::new());
    for mark in 0..marks {
        let (from, to) = (mark * charges.len() / marks, (mark + 1) * charges.len() / marks);
        let lowest = charges.get(from..to).unwrap_or_default().iter().copied().fold(1.0, f64::min);
        strip.extend(HEIGHTS.get(whole(lowest.clamp(0.0, 1.0) * 7.0, 7)));
        short.push(if lowest <= bank.floor * (1.0 + 1e-9) { '^' } else { ' ' });
    }
    let mut out = format!("    {:10} {strip}\n", "strip");
    if short.contains('^') {
        out.push_str(&format!("    {:10} {}\n", "at floor", short.trim_end()));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_as_long_as_its_margin_and_marks_one() {
        assert_eq!(bar(0.0), format!("{}│", " ".repeat(12)));
        assert_eq!(bar(0.5), format!("{}{}│", "█".repeat(6), " ".repeat(6)));
        assert_eq!(bar(1.0), format!("{}│", "█".repeat(12)));
        assert_eq!(bar(40.0), "█".repeat(24));
        assert_eq!(bar(1.0 / 96.0), format!("▏{}│", " ".repeat(11)));
    }
}
