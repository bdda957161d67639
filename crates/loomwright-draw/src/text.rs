//! How wide a text comes out, without a font at hand: on the wide side, so that nothing overlaps whatever the reader's
//! machine draws it with.

/// Advance of a letter in a wide sans-serif face, in em.
fn advance(letter: char) -> f64 {
    match letter {
        'i' | 'j' | 'l' | 'I' | '\'' | '|' | '.' | ',' | ':' | ';' | '!' => 0.33,
        ' ' | 'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '/' | '-' | '‐' | '·' | '°' => 0.41,
        '0'..='9' | 'a'..='h' | 'k' | 'n'..='q' | 's' | 'u' | 'v' | 'x'..='z' | '–' => 0.635,
        'A'..='H' | 'J'..='L' | 'N'..='P' | 'R'..='V' | 'X'..='Z' | '²' | '³' => 0.72,
        'm' | 'w' | 'M' | 'W' | 'Q' | '%' | '+' | '=' | '−' | '×' | '…' | '≥' | '≤' | '→' | 'Ω' => 0.98,
        // What we do not know may be as wide as it is high.
        other if other.is_ascii() => 0.84,
        _ => 1.0,
    }
}

/// The width of a text set at a font size, in the units of that size: an upper bound.
pub(crate) fn width(text: &str, size: f64) -> f64 {
    text.chars().map(advance).sum::<f64>() * size
}

/// A text cut to a width, with an ellipsis where something is left out.
pub(crate) fn fitted(text: &str, size: f64, room: f64) -> String {
    if width(text, size) <= room {
        return text.to_owned();
    }
    let mut kept = String::new();
    let mut used = width("…", size);
    for letter in text.chars() {
        used += advance(letter) * size;
        if used > room {
            break;
        }
        kept.push(letter);
    }
    kept.truncate(kept.trim_end().len());
    kept.push('…');
    kept
}

/// A number for people: so many significant digits, zeros kept, no exponent; a dash for what is no number.
///
/// ```
/// assert_eq!(loomwright_draw::text::number(0.05, 3), "0.0500");
/// assert_eq!(loomwright_draw::text::number(f64::NAN, 3), "–");
/// ```
pub fn number(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".into() } else { "–".into() };
    }
    let rounded: f64 = format!("{value:.*e}", digits.saturating_sub(1)).parse().unwrap_or(value);
    let mut decimals = 0;
    let mut reach = 10_f64.powi(i32::try_from(digits).unwrap_or(4) - 1);
    while rounded.abs() < reach && decimals < 6 {
        reach /= 10.0;
        decimals += 1;
    }
    format!("{rounded:.decimals$}")
}

/// The same without zeros at the end.
///
/// ```
/// assert_eq!(loomwright_draw::text::plain(0.05, 3), "0.05");
/// ```
pub fn plain(value: f64, digits: usize) -> String {
    let text = number(value, digits);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// What a number is divided by, and the prefix that its unit then has: large ones in thousands or millions.
pub(crate) fn prefix(value: f64) -> (f64, &'static str) {
    match value.abs() {
        great if great >= 1e6 => (1e6, "M"),
        great if great >= 1e5 => (1e3, "k"),
        _ => (1.0, ""),
    }
}

/// The rows of names that begin and are as wide as said, in order of their place: each in the first row where it stands clear of the
/// one before it; and how many rows that takes.
pub(crate) fn staggered(names: impl IntoIterator<Item = (f64, f64)>) -> (Vec<usize>, usize) {
    // By row, where its last name ends.
    let mut ends: Vec<f64> = Vec::new();
    let rows = names.into_iter().map(|(start, wide)| {
        let row = ends.iter().position(|end| *end + 8.0 < start).unwrap_or(ends.len());
        match ends.get_mut(row) {
            Some(end) => *end = start + wide,
            None => ends.push(start + wide),
        }
        row
    });
    let rows: Vec<usize> = rows.collect();
    (rows, ends.len())
}

/// A coordinate: tenths are enough, and the same bytes everywhere.
pub(crate) fn px(value: f64) -> String {
    let tenths = (value * 10.0).round() / 10.0;
    // No negative zero.
    if tenths == 0.0 { "0".to_owned() } else { format!("{tenths}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_cut_to_its_room_and_never_wider() {
        for room in [20.0, 40.0, 80.0, 160.0] {
            let text = fitted("vaccine-refrigerator in the rear", 11.0, room);
            assert!(width(&text, 11.0) <= room, "{text} in {room}");
        }
        assert_eq!(fitted("lamp", 11.0, 100.0), "lamp");
    }

    #[test]
    fn large_numbers_have_a_prefix() {
        assert_eq!([prefix(-7.68e7), prefix(2.7e5), prefix(12_500.0)], [(1e6, "M"), (1e3, "k"), (1.0, "")]);
    }

    #[test]
    fn names_that_touch_stand_in_rows() {
        let names = [(0.0, 50.0), (40.0, 50.0), (60.0, 50.0), (99.0, 10.0)];
        assert_eq!(staggered(names), (vec![0, 1, 0, 1], 2));
    }

    #[test]
    fn coordinates_have_one_form() {
        assert_eq!([px(-0.04), px(1.0), px(2.55), px(-3.21)], ["0", "1", "2.6", "-3.2"]);
    }
}
