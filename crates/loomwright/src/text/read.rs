//! TOML to entries by the key table, collecting every mistake.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::entry::{At, Entry, File, GateAt, Stretch, Value};
use super::keys::{Form, Key, SECTIONS, Section};
use super::{LARGEST_PLAN, PlanError, spells};
use crate::fitting::Thread;
use crate::heat::{Duty, Installation};
use crate::installation::FuseChoice;
use crate::names::nearest;
use crate::protection::ProtectionError;
use crate::quantity::{
    Angle, Capacitance, CrossSection, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance,
    Frequency, FromText, JouleIntegral, Length, Power, Ratio, ThermodynamicTemperature, Time, Torque,
};

/// Most entries of one section, and most values of one list.
const MOST: usize = 300;

/// Most mistakes told at once; a hostile file ends here.
pub(super) const MOST_ERRORS: usize = 100;

/// Reads what can be read; `None` when the file is no TOML at all.
pub(super) fn read(text: &str) -> (Option<File<'_>>, Vec<PlanError>) {
    if text.len() > LARGEST_PLAN {
        let message = format!("the file has {} bytes; at most {LARGEST_PLAN} are read", text.len());
        return (None, vec![PlanError::new(text, 0..0, "", message)]);
    }
    let (table, broken) = DeTable::parse_recoverable(text);
    let mut errors: Vec<PlanError> = broken
        .iter()
        .map(|error| PlanError::new(text, error.span().unwrap_or(0..0), "", error.message().to_owned()))
        .collect();
    // What was read beside a mistake of TOML itself is still held against the key table.
    let mut reader = Reader { text, errors: &mut errors, entries: Vec::new() };
    reader.file(table.get_ref());
    let entries = reader.entries;
    (Some(File { text, entries }), errors)
}

struct Reader<'a, 'e> {
    text: &'a str,
    errors: &'e mut Vec<PlanError>,
    entries: Vec<Entry>,
}

impl Reader<'_, '_> {
    fn error(&mut self, span: Range<usize>, key: impl Into<String>, message: impl Into<String>) {
        if self.errors.len() >= MOST_ERRORS {
            return;
        }
        self.errors.push(PlanError::new(self.text, span, key, message));
    }

    fn file(&mut self, table: &DeTable<'_>) {
        match table
            .get("format")
            .map(|value| (value.get_ref().as_integer().map(|number| number.as_str().to_owned()), value.span()))
        {
            Some((Some(number), _)) if number == "1" => {}
            Some((_, span)) => self.error(span, "format", "this release reads format = 1"),
            None => self.error(0..0, "format", "the file starts with format = 1"),
        }
        for (name, value) in table.iter() {
            let given: &str = name.get_ref();
            if given == "format" {
                continue;
            }
            let Some(section) = SECTIONS.iter().find(|section| section.name == given) else {
                let known: Vec<&'static str> = SECTIONS.iter().map(|section| section.name).collect();
                self.unknown(name.span(), given, "a section", given, &known);
                continue;
            };
            match value.get_ref().as_table() {
                Some(table) if section.named => self.named(section, table),
                Some(table) => self.entry(section, "", name.span(), table),
                None => self.error(value.span(), section.name, format!("[{}] is a table", section.name)),
            }
        }
        if !table.iter().any(|(name, _)| AsRef::<str>::as_ref(name.get_ref()) == "plan") {
            self.error(0..0, "plan", "the section [plan] with name, place and system_voltage is needed");
        }
    }

    fn unknown(&mut self, span: Range<usize>, key: &str, what: &str, given: &str, known: &[&'static str]) {
        let hint = nearest(given, known).map(|name| format!(", did you mean {name:?}?")).unwrap_or_default();
        self.error(span, key, format!("{given:?} is not {what}{hint}; known: {}", known.join(", ")));
    }

    fn named(&mut self, section: &'static Section, table: &DeTable<'_>) {
        for (count, (name, value)) in table.iter().enumerate() {
            let given: &str = name.get_ref();
            let key = format!("{}.{given}", section.name);
            if count >= MOST {
                self.error(name.span(), section.name, format!("at most {MOST} entries of one section are read"));
                break;
            }
            if given.is_empty()
                || given == "chassis"
                || given.contains(['.', '+'])
                || given.contains(char::is_control)
                || given.chars().count() > 40
            {
                let message = "a name has 1 to 40 characters, no dot, plus or control character, and is not chassis";
                self.error(name.span(), key, message);
                continue;
            }
            match value.get_ref().as_table() {
                Some(table) => self.entry(section, given, name.span(), table),
                None => {
                    let message = format!("write [{}.{given}] and its keys below", section.name);
                    self.error(value.span(), key, message);
                }
            }
        }
    }

    fn entry(&mut self, section: &'static Section, name: &str, span: Range<usize>, table: &DeTable<'_>) {
        let mut entry = Entry { section: section.name, name: name.to_owned(), span, values: Vec::new() };
        for (given, value) in table.iter() {
            let given_name: &str = given.get_ref();
            let Some(key) = section.keys.iter().find(|key| key.name == given_name) else {
                let known: Vec<&'static str> = section.keys.iter().map(|key| key.name).collect();
                let place = entry.key(given_name);
                self.unknown(given.span(), &place, &format!("a key of [{}]", section.name), given_name, &known);
                continue;
            };
            match self.value(key, value) {
                Ok(read) => entry.values.push((key.name, At { value: read, span: value.span() })),
                Err((span, message)) => {
                    let place = entry.key(key.name);
                    self.error(span, place, message);
                    // It was given, though wrongly: not missing.
                    continue;
                }
            }
        }
        for key in section.keys.iter().filter(|key| key.required && !table.contains_key(key.name)) {
            let place = entry.key(key.name);
            self.error(
                entry.span.clone(),
                place,
                format!("{} is needed: {}, for example {}", key.name, key.about, key.example),
            );
        }
        self.entries.push(entry);
    }

    /// One value in the form of its key.
    fn value(&self, key: &Key, value: &Spanned<DeValue<'_>>) -> Result<Value, (Range<usize>, String)> {
        let wrong = |message: String| (value.span(), message);
        let text = value.get_ref().as_str();
        let need_text = || {
            text.ok_or_else(|| {
                wrong(format!(
                    "{} is written as text, for example {}; this is of type {}",
                    key.name,
                    key.example,
                    value.get_ref().type_str()
                ))
            })
        };
        macro_rules! quantity {
            ($variant:ident, $type:ty) => {
                <$type>::from_text(need_text()?).map(Value::$variant).map_err(|error| wrong(error.to_string()))
            };
        }
        match key.form {
            Form::Text | Form::Node | Form::Device | Form::Reference => {
                let text = need_text()?;
                if text.contains(char::is_control) {
                    Err(wrong("no control characters in a text".into()))
                } else if text.chars().count() > 200 {
                    Err(wrong("at most 200 characters".into()))
                } else {
                    Ok(Value::Text(text.to_owned()))
                }
            }
            Form::Flag => value
                .get_ref()
                .as_bool()
                .map(Value::Flag)
                .ok_or_else(|| wrong(format!("{} is true or false, without quotes", key.name))),
            Form::Current => quantity!(Current, ElectricCurrent),
            Form::Voltage => quantity!(Voltage, ElectricPotential),
            Form::Resistance => quantity!(Resistance, ElectricalResistance),
            Form::Power => quantity!(Power, Power),
            Form::Charge => quantity!(Charge, ElectricCharge),
            Form::Temperature => quantity!(Temperature, ThermodynamicTemperature),
            Form::Ratio => quantity!(Ratio, Ratio),
            Form::Speed => quantity!(Speed, Frequency),
            Form::Length => quantity!(Length, Length),
            Form::Time => quantity!(Time, Time),
            Form::Duty => duty(need_text()?).map(Value::Duty).map_err(wrong),
            Form::Size => quantity!(Size, CrossSection),
            Form::SizeOrAuto if text == Some("auto") => Ok(Value::AutoSize),
            Form::SizeOrAuto => quantity!(Size, CrossSection),
            Form::Terminal => terminal(need_text()?).map_err(wrong),
            Form::Count => {
                let number = value.get_ref().as_integer().and_then(|number| number.as_str().parse().ok());
                let whole = number.filter(|number| (1..=20).contains(number)).map(Value::Count);
                whole.ok_or_else(|| {
                    wrong(format!("{} is a whole number from 1 to 20, for example {}", key.name, key.example))
                })
            }
            Form::Angle => quantity!(Angle, Angle),
            Form::Date => spells::date(&dated(value).map_or_else(|| need_text().map(str::to_owned), Ok)?)
                .map(Value::Date)
                .map_err(wrong),
            Form::Spans => Ok(Value::Spans(each(key, value, spells::span)?.into_iter().map(|at| at.value).collect())),
            Form::Spells => each(key, value, spells::spell).map(Value::Spells),
            Form::Months => {
                let mut found = [false; 12];
                each(key, value, |text| spells::months(text, &mut found))?;
                Ok(Value::Months(found))
            }
            Form::Irradiations => twelve(key, value).map(Value::Irradiations),
            Form::Temperatures => twelve(key, value).map(Value::Temperatures),
            Form::Torque => quantity!(Torque, Torque),
            Form::Fuse => fuse(need_text()?).map_err(wrong),
            Form::Joule => quantity!(Joule, JouleIntegral),
            Form::Capacitance => quantity!(Capacitance, Capacitance),
            Form::Gates => {
                let gates = list(key, value)?.into_iter().map(gate).collect::<Result<Vec<_>, _>>()?;
                if gates.is_empty() {
                    return Err(wrong(format!("{} are one time or more, for example {}", key.name, key.example)));
                }
                Ok(Value::Gates(gates))
            }
            Form::Choice(known) => {
                let text = need_text()?;
                choice(text, known, key.called()).map_err(wrong)?;
                Ok(Value::Text(text.to_owned()))
            }
            Form::Choices(known) => {
                let texts = list(key, value)?;
                for text in &texts {
                    choice(&text.value, known, key.called()).map_err(|message| (text.span.clone(), message))?;
                }
                Ok(Value::Texts(texts))
            }
            Form::References => list(key, value).map(Value::Texts),
            Form::Route => {
                let stretches = list(key, value)?;
                if stretches.is_empty() {
                    return Err(wrong(format!("a route has at least one stretch, for example {}", key.example)));
                }
                stretches.into_iter().map(stretch).collect::<Result<_, _>>().map(Value::Route)
            }
            Form::Efficiencies => {
                let points = list(key, value)?.into_iter().map(efficiency_point).collect::<Result<Vec<_>, _>>()?;
                if points.len() < 3 {
                    let message = format!("{} are three points or more, for example {}", key.name, key.example);
                    return Err(wrong(message));
                }
                Ok(Value::Efficiencies(points))
            }
        }
    }
}

fn choice(text: &str, known: &[&'static str], key: &str) -> Result<(), String> {
    if known.contains(&text) {
        return Ok(());
    }
    let hint = nearest(text, known).map(|name| format!(", did you mean {name:?}?")).unwrap_or_default();
    let article = if key.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
    Err(format!("{text:?} is not {article} {key}{hint}; known: {}", known.join(", ")))
}

fn list(key: &Key, value: &Spanned<DeValue<'_>>) -> Result<Vec<At<String>>, (Range<usize>, String)> {
    let Some(items) = value.get_ref().as_array() else {
        return Err((value.span(), format!("{} is a list of texts, for example {}", key.name, key.example)));
    };
    if items.len() > MOST {
        return Err((value.span(), format!("{} has at most {MOST} entries", key.name)));
    }
    let mut texts = Vec::new();
    for item in items {
        match item.get_ref().as_str() {
            Some(text) => texts.push(At { value: text.to_owned(), span: item.span() }),
            None => return Err((item.span(), format!("{} is a list of texts, for example {}", key.name, key.example))),
        }
    }
    Ok(texts)
}

/// A date that stands without quotes, as TOML has it.
fn dated(value: &Spanned<DeValue<'_>>) -> Option<String> {
    value.get_ref().as_datetime().map(ToString::to_string)
}

/// One text or more, each read by itself.
fn each<T>(
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
fn twelve<T: FromText>(key: &Key, value: &Spanned<DeValue<'_>>) -> Result<[T; 12], (Range<usize>, String)> {
    let read = each(key, value, |text| T::from_text(text).map_err(|error| error.to_string()))?;
    let count = read.len();
    let months: Result<[At<T>; 12], _> = read.try_into();
    let months = months
        .map_err(|_| (value.span(), format!("{} has twelve entries, January first; these are {count}", key.name)))?;
    Ok(months.map(|at| at.value))
}

/// `25 %`, or `30 s in 10 min`.
fn duty(text: &str) -> Result<(Ratio, Option<Duty>), String> {
    if !text.contains(" in ") {
        return Ratio::from_text(text).map(|share| (share, None)).map_err(|error| error.to_string());
    }
    let cycle: Duty = text.parse().map_err(|error: crate::heat::HeatError| error.to_string())?;
    Ok((cycle.factor(), Some(cycle)))
}

/// `2 m in cabin`, `2 m in cabin, surface` or `2 m in cabin with roof-loom`.
fn stretch(text: At<String>) -> Result<Stretch, (Range<usize>, String)> {
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
fn efficiency_point(text: At<String>) -> Result<(Ratio, Ratio), (Range<usize>, String)> {
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
fn gate(text: At<String>) -> Result<(Time, GateAt), (Range<usize>, String)> {
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
fn terminal(text: &str) -> Result<Value, String> {
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
fn fuse(text: &str) -> Result<Value, String> {
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
