//! Text to number and unit.

use super::QuantityError;
use super::units::{ALL, Kind, Unit};

/// Folds the spellings of symbols that look alike: Ω, µ, superscript two and the minus sign.
pub(super) fn plain(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for letter in text.trim().chars() {
        match letter {
            'Ω' | '\u{2126}' => folded.push_str("ohm"),
            'µ' | 'μ' => folded.push('u'),
            '²' => folded.push('2'),
            '−' => folded.push('-'),
            '\u{a0}' | '\u{202f}' | '\u{2009}' => folded.push(' '),
            other => folded.push(other),
        }
    }
    folded
}

/// Length in bytes of the number that `text` starts with; an `e` counts only before a digit.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let at = |index: usize| bytes.get(index).copied().unwrap_or(b' ');
    let mut end = 0;
    if matches!(at(end), b'+' | b'-') {
        end += 1;
    }
    while at(end).is_ascii_digit() || at(end) == b'.' {
        end += 1;
    }
    if matches!(at(end), b'e' | b'E') {
        let sign = usize::from(matches!(at(end + 1), b'+' | b'-'));
        if at(end + 1 + sign).is_ascii_digit() {
            end += 1 + sign;
            while at(end).is_ascii_digit() {
                end += 1;
            }
        }
    }
    end
}

/// Finds a unit by its exact spelling, else by case-blind spelling unless a prefix would change meaning.
///
/// `40a` and `12v` are plain, but `5 Mohm` must never pass for 5 mΩ.
fn find_unit<'a>(units: &'a [Unit], spelled: &str) -> Option<&'a Unit> {
    let exact = units.iter().find(|unit| unit.spellings.iter().any(|known| plain(known) == spelled));
    exact.or_else(|| {
        let prefix_at_stake = spelled.starts_with(['M', 'm']);
        let blind = |unit: &&Unit| unit.spellings.iter().any(|known| plain(known).eq_ignore_ascii_case(spelled));
        if prefix_at_stake { None } else { units.iter().find(blind) }
    })
}

fn nearest(kind: &Kind, spelled: &str) -> Option<&'static str> {
    kind.units
        .iter()
        .flat_map(|unit| unit.spellings)
        .map(|known| (strsim::damerau_levenshtein(&plain(known).to_lowercase(), &spelled.to_lowercase()), *known))
        .filter(|(distance, known)| *distance * 2 <= known.chars().count().max(2))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, known)| known)
}

/// Reads `text` as a quantity of `kind`, in SI base units.
pub(super) fn parse(text: &str, kind: &'static Kind) -> Result<f64, QuantityError> {
    let (article, example) = (kind.article, kind.example);
    // Errors quote the text; a hostile megabyte is cut.
    let given: String = text.trim().chars().take(60).collect();
    let folded = plain(text);
    if folded.is_empty() {
        return Err(QuantityError::Empty { article, example });
    }
    if folded.len() > 200 {
        return Err(QuantityError::NotANumber { given, article, example });
    }
    let (digits, rest) = folded.split_at(number_length(&folded));
    let unit = rest.trim();
    let lower = folded.trim_start_matches(['+', '-']).to_ascii_lowercase();
    if lower.starts_with("nan") || (lower.starts_with("inf") && !lower.starts_with("inc")) {
        return Err(QuantityError::NotFinite { given, article, example });
    }
    if unit.starts_with(',') {
        return Err(QuantityError::Comma { given, example });
    }
    let Ok(number) = digits.parse::<f64>() else {
        return Err(QuantityError::NotANumber { given, article, example });
    };
    if unit.is_empty() {
        return Err(QuantityError::BareNumber { given, article, example });
    }
    let Some(found) = find_unit(kind.units, unit) else {
        let other = ALL.iter().find(|other| find_unit(other.units, unit).is_some());
        return Err(match other {
            Some(other) => QuantityError::WrongKind { given, found: other.article, article, example },
            None if is_gauge(unit) => QuantityError::WrongKind { given, found: "a conductor gauge", article, example },
            None => QuantityError::UnknownUnit {
                given,
                unit: unit.chars().take(30).collect(),
                quantity: kind.name,
                nearest: nearest(kind, unit),
                known: kind
                    .units
                    .iter()
                    .filter_map(|unit| unit.spellings.first().copied())
                    .collect::<Vec<_>>()
                    .join(", "),
            },
        });
    };
    let value = number * found.factor + found.offset;
    if value.is_finite() { Ok(value) } else { Err(QuantityError::NotFinite { given, article, example }) }
}

pub(super) fn is_gauge(unit: &str) -> bool {
    unit.eq_ignore_ascii_case("awg") || unit.eq_ignore_ascii_case("sae") || unit.to_ascii_lowercase().ends_with(" awg")
}
