//! Values with their last digit, and how far an instrument may be off.

use crate::data::tables::{constants, instrument_classes};
use crate::names::{hint, named};
use crate::quantity::{
    ElectricCurrent, ElectricPotential, FromText, Power, QuantityError, Ratio, ThermodynamicTemperature, in_celsius,
    significant,
};
use crate::text::quoted;
use uom::si::thermodynamic_temperature::kelvin;

named! {
    /// What can be measured.
    Kind, "quantity", {
        /// Voltage of one place over another.
        Voltage => "voltage",
        /// Current in a run.
        Current => "current",
        /// Temperature of a place.
        Temperature => "temperature",
        /// Power that an inverter gives.
        Power => "power",
    }
}

impl Kind {
    /// The unit of messages.
    fn unit(self) -> &'static str {
        match self {
            Self::Voltage => "V",
            Self::Current => "A",
            Self::Temperature => "°C",
            Self::Power => "W",
        }
    }

    /// An accepted value.
    fn example(self) -> &'static str {
        match self {
            Self::Voltage => "12.63 V",
            Self::Current => "41.5 A",
            Self::Temperature => "38 °C",
            Self::Power => "650 W",
        }
    }

    /// Whether such a value can be, and the accepted range.
    pub(super) fn possible(self, value: &Number) -> (bool, String) {
        let (shown, low, high) = match self {
            Self::Voltage => (value.si, -constants::READING_MOST_V, constants::READING_MOST_V),
            Self::Current => (value.si, -constants::READING_MOST_A, constants::READING_MOST_A),
            Self::Temperature => (value.degrees(), constants::READING_COLDEST_C, constants::READING_HOTTEST_C),
            Self::Power => (value.si, 0.0, constants::READING_MOST_W),
        };
        let unit = self.unit();
        ((low..=high).contains(&shown), format!("{low} {unit} to {high} {unit}"))
    }
}

/// A value and what one step of its last digit is worth, in volts, amperes, kelvin or watts.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Number {
    pub(super) si: f64,
    digit: f64,
}

impl Number {
    fn degrees(&self) -> f64 {
        in_celsius(ThermodynamicTemperature::new::<kelvin>(self.si))
    }
}

fn si(kind: Kind, text: &str) -> Result<f64, QuantityError> {
    Ok(match kind {
        Kind::Voltage => ElectricPotential::from_text(text)?.value,
        Kind::Current => ElectricCurrent::from_text(text)?.value,
        Kind::Temperature => ThermodynamicTemperature::from_text(text)?.value,
        Kind::Power => Power::from_text(text)?.value,
    })
}

/// A value with its unit.
pub(super) fn number(kind: Kind, text: &str) -> Result<Number, String> {
    let value = si(kind, text).map_err(|error| told(kind, text, &error))?;
    let form = || format!("{} is no {kind}; write for example {:?}", quoted(text), kind.example());
    let (power, unit) = last_digit(text).ok_or_else(form)?;
    let worth = difference(kind, &format!("1e{power} {unit}"), unit).filter(|worth| worth.is_finite());
    Ok(Number { si: value, digit: worth.ok_or_else(form)? })
}

/// What is wrong with a value, with what should have been written instead.
fn told(kind: Kind, text: &str, error: &QuantityError) -> String {
    let given = quoted(text);
    match error {
        QuantityError::BareNumber { .. } => {
            let unit = kind.unit();
            format!(
                "{given} has no unit; write a {kind} with its unit, for example {}",
                quoted(&format!("{text} {unit}"))
            )
        }
        QuantityError::Comma { .. } => {
            let pointed = text.replacen(',', ".", 1);
            let meant = if si(kind, &pointed).is_ok() { pointed } else { kind.example().to_owned() };
            format!("{given} has a comma; decimals are written with a point: write {}", quoted(&meant))
        }
        QuantityError::WrongKind { found, .. } => {
            format!("{given} is {found}; a {kind} is needed here, for example {:?}", kind.example())
        }
        QuantityError::NotFinite { .. } => {
            format!("{given} is not a finite number; a {kind} is needed, for example {:?}", kind.example())
        }
        QuantityError::NotANumber { .. } => {
            format!("{given} does not start with a number; a {kind} is needed, for example {:?}", kind.example())
        }
        other => other.to_string(),
    }
}

/// The power of ten of the last digit that is written, and the unit.
fn last_digit(text: &str) -> Option<(i32, &str)> {
    let unsigned = text.trim().trim_start_matches(['+', '-', '−']);
    let length = unsigned.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(unsigned.len());
    let (digits, rest) = unsigned.split_at_checked(length)?;
    let decimals = digits.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let decimals = i32::try_from(decimals).ok()?;
    let exponent = rest.strip_prefix(['e', 'E']).and_then(|rest| {
        let length = rest.find(|letter: char| !letter.is_ascii_digit() && !"+-".contains(letter)).unwrap_or(rest.len());
        let (exponent, unit) = rest.split_at_checked(length)?;
        Some((exponent.parse::<i32>().ok()?, unit))
    });
    let (exponent, unit) = exponent.unwrap_or((0, rest));
    Some((exponent.checked_sub(decimals)?, unit.trim()))
}

/// An amount as a difference: of temperatures, the zero of the scale drops out.
fn difference(kind: Kind, text: &str, unit: &str) -> Option<f64> {
    Some(si(kind, text).ok()? - si(kind, &format!("0 {unit}")).ok()?)
}

/// An error of an instrument, in words.
pub(super) fn interval(kind: Kind, error: f64) -> String {
    let unit = if kind == Kind::Temperature { "K" } else { kind.unit() };
    format!("{} {unit}", significant(error, 2))
}

/// The usual instrument of a quantity: the first in the table.
pub(super) fn usual(kind: Kind) -> &'static str {
    instrument_classes::ROWS.iter().find(|row| row.quantity == kind.name()).map_or("", |row| row.name)
}

/// The names of the instruments of a quantity.
pub(super) fn classes(kind: Kind) -> Vec<&'static str> {
    instrument_classes::ROWS.iter().filter(|row| row.quantity == kind.name()).map(|row| row.name).collect()
}

/// The largest error of an instrument of this accuracy at a value, never less than half of the last digit.
pub(super) fn within(kind: Kind, value: &Number, accuracy: &str) -> Result<f64, String> {
    let accuracy = accuracy.trim();
    let read = match instrument_classes::ROWS.iter().find(|row| row.quantity == kind.name() && row.name == accuracy) {
        Some(row) => {
            let parts = [
                row.share_ratio * share_of(kind, value),
                row.digits * value.digit,
                row.amount_a.or(row.amount_k).unwrap_or_default(),
            ];
            if row.combine == "larger" { parts.into_iter().fold(0.0, f64::max) } else { parts.into_iter().sum() }
        }
        None => stated(kind, value, accuracy)?,
    };
    let least = read.max(value.digit / 2.0);
    if least > 0.0 && least.is_finite() {
        Ok(least)
    } else {
        Err(format!("{} leaves no error at all; {}", quoted(accuracy), form(kind)))
    }
}

/// What a share counts of: of a temperature, degrees Celsius.
fn share_of(kind: Kind, value: &Number) -> f64 {
    if kind == Kind::Temperature { value.degrees().abs() } else { value.si.abs() }
}

fn form(kind: Kind) -> String {
    let amount = match kind {
        Kind::Voltage => "±2 mV",
        Kind::Current => "±0.3 A",
        Kind::Temperature => "±1.5 K",
        Kind::Power => "±5 W",
    };
    format!("write for example \"0.5 % + 2 digits\", {amount:?}, or an instrument: {}", classes(kind).join(", "))
}

/// An accuracy that is no name: a sum of shares, digits and amounts, or a class index and what it is of.
fn stated(kind: Kind, value: &Number, accuracy: &str) -> Result<f64, String> {
    let given = || quoted(accuracy);
    if let Some(of) = accuracy.strip_prefix("class ") {
        return class_index(kind, of).ok_or_else(|| {
            let most = constants::CLASS_INDEX_MOST;
            format!(
                "{} is no class index; write it up to {most} with the full scale, for example \"class 1.5 of 100 {}\"",
                given(),
                kind.unit()
            )
        });
    }
    let sum = ["±", "+-", "+/-"].iter().find_map(|sign| accuracy.strip_prefix(sign)).unwrap_or(accuracy);
    if !sum.trim_start().starts_with(|letter: char| letter.is_ascii_digit() || ".,-−+".contains(letter)) {
        let known = classes(kind);
        if let Some(row) = instrument_classes::ROWS.iter().find(|row| row.name == accuracy) {
            return Err(format!("{} measures a {}, not a {kind}; {}", given(), row.quantity, form(kind)));
        }
        let hint = hint(accuracy, &known);
        return Err(format!("{} is no accuracy{hint}; {}", given(), form(kind)));
    }
    if sum.contains(',') {
        return Err(format!("{} has a comma; decimals are written with a point; {}", given(), form(kind)));
    }
    let mut total = 0.0;
    for part in sum.split('+') {
        let part = part.trim();
        let amount = part_of(kind, value, part).filter(|amount| amount.is_finite() && *amount >= 0.0);
        total += amount
            .ok_or_else(|| format!("{} in {} is no part of an accuracy; {}", quoted(part), given(), form(kind)))?;
    }
    Ok(total)
}

/// One part of a sum.
fn part_of(kind: Kind, value: &Number, part: &str) -> Option<f64> {
    let part = ["of reading", "rdg"].iter().find_map(|end| part.strip_suffix(end)).unwrap_or(part).trim();
    if part.ends_with('%') || part.ends_with("cent") {
        let share = Ratio::from_text(part).ok()?.value;
        return (share <= constants::READING_MOST_SHARE).then(|| share * share_of(kind, value));
    }
    let digits = ["digits", "digit", "dgts", "dgt", "counts", "count"].iter().find_map(|end| part.strip_suffix(end));
    if let Some(digits) = digits {
        let count: f64 = digits.trim().parse().ok()?;
        return (count <= constants::READING_MOST_DIGITS).then_some(count * value.digit);
    }
    let (_, unit) = last_digit(part)?;
    difference(kind, part, unit)
}

/// `1.5 of 100 A`: per cent of full scale.
fn class_index(kind: Kind, text: &str) -> Option<f64> {
    let (index, scale) = text.split_once(" of ")?;
    let index: f64 = index.trim().parse().ok()?;
    let (_, unit) = last_digit(scale)?;
    let scale = difference(kind, scale, unit)?.abs();
    (index > 0.0 && index <= constants::CLASS_INDEX_MOST).then_some(index / 100.0 * scale)
}
