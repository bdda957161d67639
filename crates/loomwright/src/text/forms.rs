//! Values of the key table's forms from their texts.

use std::ops::Range;

use toml::Spanned;
use toml::de::DeValue;

use super::entry::{At, GateAt, Stretch, Value};
use super::keys::Key;
use super::limits::{LONGEST_LISTED, MOST_ENTRIES};
use crate::fitting::Thread;
use crate::heat::{Duty, Installation};
use crate::installation::FuseChoice;
use crate::names::hint;
use crate::protection::ProtectionError;
use crate::quantity::{CrossSection, ElectricCurrent, FromText, Length, Ratio, Time};

pub(super) fn choice(text: &str, known: &[&'static str], key: &str) -> Result<(), String> {
    if known.contains(&text) {
        return Ok(());
    }
    let hint = hint(text, known);
    let article = if key.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
    Err(format!("{text:?} is not {article} {key}{hint}; known: {}", known.join(", ")))
}

pub(super) fn list(key: &Key, value: &Spanned<DeValue<'_>>) -> Result<Vec<At<String>>, (Range<usize>, String)> {
    let Some(items) = value.get_ref().as_array() else {
        return Err((value.span(), format!("{} is a list of texts, for example {}", key.name, key.example)));
    };
    if items.len() > MOST_ENTRIES {
        return Err((value.span(), format!("{} has at most {MOST_ENTRIES} entries", key.name)));
    }
    let mut texts = Vec::new();
    for item in items {
        match item.get_ref().as_str() {
            Some(text) if text.chars().count() > LONGEST_LISTED => {
                return Err((item.span(), format!("each of {} has at most {LONGEST_LISTED} characters", key.name)));
            }
            Some(text) => texts.push(At { value: text.to_owned(), span: item.span() }),
            None => return Err((item.span(), format!("{} is a list of texts, for example {}", key.name, key.example))),
        }
    }
    Ok(texts)
}

/// A date that stands without quotes, as TOML has it.
pub(super) fn dated(value: &Spanned<DeValue<'_>>) -> Option<String> {
    value.get_ref().as_datetime().map(ToString::to_string)
}

/// One text or more, each read by itself.
pub(super) fn each<T>(
    key: &Key,
    value: &Spanned<DeValue<'_>>,
    mut read: impl FnMut(&str) -> Result<T, String>,
) -> Result<Vec<At<T>>, (Range<usize>, String)> {
    let texts = list(key, value)?;
    if texts.is_empty() {
        return Err((value.span(), format!("{} has one entry or more, for example {}", key.name, key.example)));
    }
    let one = |text: At<String>| match read(&text.value) {
        Ok(value) => Ok(At { value, span: text.span }),
        Err(message) => Err((text.span, message)),
    };
    texts.into_iter().map(one).collect()
}

/// Twelve quantities, January first.
pub(super) fn twelve<T: FromText>(key: &Key, value: &Spanned<DeValue<'_>>) -> Result<[T; 12], (Range<usize>, String)> {
    let read = each(key, value, |text| T::from_text(text).map_err(|error| error.to_string()))?;
    let count = read.len();
    let months: Result<[At<T>; 12], _> = read.try_into();
    let months = months
        .map_err(|_| (value.span(), format!("{} has twelve entries, January first; these are {count}", key.name)))?;
    Ok(months.map(|at| at.value))
}

/// `25 %`, or `30 s in 10 min`.
pub(super) fn duty(text: &str) -> Result<(Ratio, Option<Duty>), String> {
    if !text.contains(" in ") {
        return Ratio::from_text(text).map(|share| (share, None)).map_err(|error| error.to_string());
    }
    let cycle: Duty = text.parse().map_err(|error: crate::heat::HeatError| error.to_string())?;
    Ok((cycle.factor(), Some(cycle)))
}

/// `2 m in cabin`, `2 m in cabin, surface` or `2 m in cabin with roof-loom`.
pub(super) fn stretch(text: At<String>) -> Result<Stretch, (Range<usize>, String)> {
    // The last one: the length may be in inches.
    let Some((length, zone)) = text.value.rsplit_once(" in ") else {
        let message = format!("{:?} is not a stretch; write length and zone, for example \"2 m in cabin\"", text.value);
        return Err((text.span, message));
    };
    let length = Length::from_text(length).map_err(|error| (text.span.clone(), error.to_string()))?;
    if length.value <= 0.0 || length.value > 1000.0 {
        return Err((text.span, "a stretch is longer than 0 m and at most 1000 m".into()));
    }
    let (place, loom) = zone.split_once(" with ").map_or((zone, None), |(place, loom)| (place, Some(loom)));
    if place.trim_end().ends_with(" with") {
        return Err((text.span.clone(), "with which loom? for example \"2 m in cabin with roof-loom\"".into()));
    }
    let (zone, method) = place.split_once(',').map_or((place, None), |(zone, method)| (zone, Some(method)));
    let at = |value: &str| At { value: value.trim().to_owned(), span: text.span.clone() };
    if (method.is_some() && loom.is_some()) || loom.is_some_and(|loom| loom.contains(',')) {
        return Err((text.span.clone(), "a stretch with a loom lies as the loom does; leave out how".into()));
    }
    let method =
        method.map(|method| method.parse::<Installation>().map_err(|error| (text.span.clone(), error.to_string())));
    Ok(Stretch { length, zone: at(zone), method: method.transpose()?, loom: loom.map(at) })
}

/// `93 % at 50 %`: the share of rated output, and the efficiency there.
pub(super) fn efficiency_point(text: At<String>) -> Result<(Ratio, Ratio), (Range<usize>, String)> {
    let Some((efficiency, share)) = text.value.split_once(" at ") else {
        let message = format!(
            "{:?} is not an efficiency point; write efficiency and share of rated output, for example \"93 % at 50 %\"",
            text.value
        );
        return Err((text.span, message));
    };
    let read = |part: &str| Ratio::from_text(part).map_err(|error| (text.span.clone(), error.to_string()));
    Ok((read(share)?, read(efficiency)?))
}

/// `10 min at 135 %`, or `1 s at 400 A`.
pub(super) fn gate(text: At<String>) -> Result<(Time, GateAt), (Range<usize>, String)> {
    let wrong = |message: String| (text.span.clone(), message);
    let Some((time, at)) = text.value.split_once(" at ") else {
        let form = "write a time and a share of the rating or a current, for example \"10 min at 135 %\"";
        return Err(wrong(format!("{:?} is no opening time; {form}", text.value)));
    };
    let time = Time::from_text(time).map_err(|error| wrong(error.to_string()))?;
    let share = at.trim_end().ends_with('%');
    let place = if share {
        Ratio::from_text(at).map(GateAt::Share)
    } else {
        ElectricCurrent::from_text(at).map(GateAt::Current)
    };
    Ok((time, place.map_err(|error| wrong(error.to_string()))?))
}

/// `M8`, `16 mm2`, or what may be the name of one of `[terminals]`.
pub(super) fn terminal(text: &str) -> Result<Value, String> {
    if let Ok(thread) = text.parse::<Thread>() {
        return Ok(Value::Thread(thread));
    }
    match CrossSection::from_text(text) {
        Ok(size) => Ok(Value::Size(size)),
        Err(error) if text.trim_start().starts_with(|first: char| first.is_ascii_digit() || "+-.".contains(first)) => {
            Err(error.to_string())
        }
        Err(_) => Ok(Value::TerminalNamed(text.to_owned())),
    }
}

/// `auto`, `none`, `15 A blade-c`, or what may be the name of one of `[fuses]`.
pub(super) fn fuse(text: &str) -> Result<Value, String> {
    match text.trim() {
        "auto" => Ok(Value::Fuse(FuseChoice::Auto)),
        "none" => Ok(Value::Fuse(FuseChoice::None)),
        stated => match stated.parse() {
            Ok(fuse) => Ok(Value::Fuse(FuseChoice::Fixed(fuse))),
            Err(ProtectionError::NoFuse(_)) => Ok(Value::FuseNamed(stated.to_owned())),
            Err(error) => {
                // A name of one's own may be two words.
                let begins_with_number =
                    stated.starts_with(|first: char| first.is_ascii_digit() || "+-.".contains(first));
                if begins_with_number { Err(error.to_string()) } else { Ok(Value::FuseNamed(stated.to_owned())) }
            }
        },
    }
}
