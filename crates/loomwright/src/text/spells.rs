//! Times of day, months, dates and spells from text.

use jiff::civil::{Date, Weekday};
use uom::si::time::{hour, minute};

use super::quoted;
use crate::installation::{ClockSpan, Days, Spell};
use crate::names::hint;
use crate::quantity::Time;

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

const WEEKDAYS: [(&str, Weekday); 7] = [
    ("monday", Weekday::Monday),
    ("tuesday", Weekday::Tuesday),
    ("wednesday", Weekday::Wednesday),
    ("thursday", Weekday::Thursday),
    ("friday", Weekday::Friday),
    ("saturday", Weekday::Saturday),
    ("sunday", Weekday::Sunday),
];

/// `07:30`, and `24:00` where a day may end.
fn clock(text: &str) -> Result<Time, String> {
    let wrong = || format!("{} is no time of day; write for example \"07:30\"", quoted(text.trim()));
    let (hours, minutes) = text.trim().split_once(':').ok_or_else(wrong)?;
    let digits = |part: &str| (1..=2).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
    if !(digits(hours) && digits(minutes) && minutes.len() == 2) {
        return Err(wrong());
    }
    let [hours, minutes]: [f64; 2] = [hours.parse().map_err(|_| wrong())?, minutes.parse().map_err(|_| wrong())?];
    if minutes > 59.0 || 60.0 * hours + minutes > 1440.0 {
        return Err(wrong());
    }
    Ok(Time::new::<hour>(hours) + Time::new::<minute>(minutes))
}

/// `07:00 to 09:30`, `22:00 to 06:00` over midnight, or `all day`.
pub(super) fn span(text: &str) -> Result<ClockSpan, String> {
    if text.trim() == "all day" {
        return Ok(ClockSpan::day());
    }
    let form = "write for example \"07:00 to 09:30\", or \"all day\"";
    let (from, to) =
        text.split_once(" to ").ok_or_else(|| format!("{} is no part of a day; {form}", quoted(text.trim())))?;
    let span = ClockSpan { from: clock(from)?, to: clock(to)? };
    if span.from == span.to || span.from.get::<hour>() >= 24.0 {
        return Err(format!("{} lasts no time; {form}", quoted(text.trim())));
    }
    Ok(span)
}

/// A span, and the days that it is on: `08:00 to 09:30 on monday, friday`, or `… on 2026-11-05`; every day when not said.
pub(super) fn spell(text: &str) -> Result<Spell, String> {
    let (part, on) = text.split_once(" on ").map_or((text, None), |(part, on)| (part, Some(on)));
    let span = span(part)?;
    let Some(on) = on else { return Ok(Spell { span, on: Days::Every }) };
    let names: Vec<&str> = on.split(',').map(str::trim).collect();
    if names.iter().all(|name| name.starts_with(|first: char| first.is_ascii_digit())) {
        let dates = names.into_iter().map(date).collect::<Result<_, _>>()?;
        return Ok(Spell { span, on: Days::Dates(dates) });
    }
    let known = WEEKDAYS.map(|(name, _)| name);
    let days = names.into_iter().map(|name| {
        let found = WEEKDAYS.iter().find(|(known, _)| *known == name).map(|(_, day)| *day);
        found.ok_or_else(|| {
            let hint = hint(name, &known);
            format!(
                "{} is no day of the week{hint}; write for example \"on monday, friday\" or \"on 2026-11-05\"",
                quoted(name.trim())
            )
        })
    });
    Ok(Spell { span, on: Days::Weekdays(days.collect::<Result<_, _>>()?) })
}

/// `2026-11-02`.
pub(super) fn date(text: &str) -> Result<Date, String> {
    let date: Date = text.trim().parse().map_err(|_| {
        format!("{} is no date; write year, month and day, for example \"2026-11-02\"", quoted(text.trim()))
    })?;
    if !(2011..=2099).contains(&date.year()) {
        return Err(format!("{} is outside 2011 to 2099", quoted(text.trim())));
    }
    Ok(date)
}

/// `july`, or `october to march` over the turn of the year.
pub(super) fn months(text: &str, into: &mut [bool; 12]) -> Result<(), String> {
    let place = |name: &str| {
        MONTHS.iter().position(|month| *month == name.trim()).ok_or_else(|| {
            let hint = hint(name.trim(), &MONTHS);
            format!("{} is no month{hint}; write for example \"october to march\" or \"july\"", quoted(name.trim()))
        })
    };
    let (first, last) = text.split_once(" to ").unwrap_or((text, text));
    let (first, last) = (place(first)?, place(last)?);
    let count = (last + 12 - first) % 12 + 1;
    for (month, used) in into.iter_mut().enumerate() {
        *used |= (month + 12 - first) % 12 < count;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spells_are_read_aloud() {
        let night = span("22:00 to 06:00").unwrap();
        assert!(night.over_midnight() && night.length().get::<hour>() == 8.0);
        assert_eq!(span("all day").unwrap().length().get::<hour>(), 24.0);
        assert!(
            matches!(spell("08:00 to 09:30 on monday, friday").unwrap().on, Days::Weekdays(days) if days.len() == 2)
        );
        assert!(matches!(spell("8:00 to 24:00 on 2026-11-05").unwrap().on, Days::Dates(days) if days.len() == 1));
        let mut winter = [false; 12];
        months("october to march", &mut winter).unwrap();
        assert_eq!(winter.map(u8::from), [1, 1, 1, 0, 0, 0, 0, 0, 0, 1, 1, 1]);
    }

    #[test]
    fn nonsense_is_told_with_an_example() {
        for (text, says) in [
            ("7 to 9", "no time of day"),
            ("25:00 to 26:00", "no time of day"),
            ("09:00", "no part of a day"),
            ("09:00 to 09:00", "lasts no time"),
            ("9:5 to 10:00", "no time of day"),
            ("24:00 to 02:00", "lasts no time"),
        ] {
            let told = span(text).unwrap_err();
            assert!(told.contains(says) && told.contains("for example"), "{text}: {told}");
        }
        assert!(spell("08:00 to 09:00 on mondey").unwrap_err().contains("did you mean \"monday\""));
        assert!(date("2026-02-30").is_err() && date("1999-01-01").is_err());
        assert!(months("octobre", &mut [false; 12]).unwrap_err().contains("did you mean \"october\""));
    }
}
