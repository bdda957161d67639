//! TOML to entries by the key table, collecting every mistake.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::entry::{At, Entry, File, Value};
use super::forms::{choice, dated, duty, each, efficiency_point, fuse, gate, list, stretch, terminal, twelve};
use super::keys::{Form, Key, SECTIONS, Section};
use super::limits::{LARGEST_PLAN, LONGEST_NAME, LONGEST_TEXT, MOST_BATTERIES, MOST_ENTRIES};
use super::{PlanError, deceptive, spells};
use crate::names::hint;
use crate::quantity::{
    Angle, Capacitance, CrossSection, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance,
    Frequency, FromText, JouleIntegral, Length, Power, Ratio, ThermodynamicTemperature, Time, Torque,
};

/// Reads what can be read; `None` when the file is no TOML at all.
pub(super) fn read(text: &str) -> (Option<File<'_>>, Vec<PlanError>) {
    if text.len() > LARGEST_PLAN {
        let message = format!("the file has {} bytes; at most {LARGEST_PLAN} are read", text.len());
        return (None, vec![PlanError::new(text, 0..0, "", message)]);
    }
    let (table, broken) = DeTable::parse_recoverable(text);
    let mut errors = Vec::new();
    for error in broken {
        PlanError::add(&mut errors, text, error.span().unwrap_or(0..0), "", error.message());
    }
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
        PlanError::add(self.errors, self.text, span, key, message);
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
        let hint = hint(given, known);
        self.error(span, key, format!("{given:?} is not {what}{hint}; known: {}", known.join(", ")));
    }

    fn named(&mut self, section: &'static Section, table: &DeTable<'_>) {
        let most = if section.name == "batteries" { MOST_BATTERIES } else { MOST_ENTRIES };
        for (count, (name, value)) in table.iter().enumerate() {
            let given: &str = name.get_ref();
            let key = format!("{}.{given}", section.name);
            if count >= most {
                self.error(name.span(), section.name, format!("at most {most} entries of [{}] are read", section.name));
                break;
            }
            if given.is_empty()
                || given == "chassis"
                || given.contains(['.', '+'])
                || given.contains(deceptive)
                || given.chars().count() > LONGEST_NAME
            {
                let message = format!(
                    "a name has 1 to {LONGEST_NAME} characters, no dot, plus, control character or mark of direction, and is not chassis"
                );
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
                if text.contains(deceptive) {
                    Err(wrong("no control characters or marks of direction in a text".into()))
                } else if text.chars().count() > LONGEST_TEXT {
                    Err(wrong(format!("at most {LONGEST_TEXT} characters")))
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
