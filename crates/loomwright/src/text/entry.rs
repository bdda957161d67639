//! Values as read from a file, each with its place.

use std::ops::Range;

use jiff::civil::Date;

use crate::fitting::Thread;
use crate::heat::{Duty, Installation};
use crate::installation::{ClockSpan, FuseChoice, Spell};
use crate::quantity::{
    Angle, Capacitance, CrossSection, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance,
    Frequency, JouleIntegral, Length, Power, RadiantExposure, Ratio, ThermodynamicTemperature, Time, Torque,
};

/// A value with its place.
#[derive(Clone, Debug)]
pub(super) struct At<T> {
    pub(super) value: T,
    pub(super) span: Range<usize>,
}

/// A value in one of the forms of the key table.
#[derive(Clone, Debug)]
pub(super) enum Value {
    Text(String),
    Flag(bool),
    Current(ElectricCurrent),
    Voltage(ElectricPotential),
    Resistance(ElectricalResistance),
    Power(Power),
    Charge(ElectricCharge),
    Temperature(ThermodynamicTemperature),
    Ratio(Ratio),
    Speed(Frequency),
    Size(CrossSection),
    /// `auto`, where a size may stand.
    AutoSize,
    Fuse(FuseChoice),
    /// The name of one of `[fuses]`.
    FuseNamed(String),
    Joule(JouleIntegral),
    Torque(Torque),
    /// The thread of a stud, where a terminal may stand.
    Thread(Thread),
    /// The name of one of `[terminals]`.
    TerminalNamed(String),
    Count(u16),
    Capacitance(Capacitance),
    Gates(Vec<(Time, GateAt)>),
    Texts(Vec<At<String>>),
    Length(Length),
    Time(Time),
    /// Share of time, and the cycle when it is known.
    Duty((Ratio, Option<Duty>)),
    Route(Vec<Stretch>),
    Angle(Angle),
    Date(Date),
    Spans(Vec<ClockSpan>),
    Spells(Vec<At<Spell>>),
    Months([bool; 12]),
    Irradiations([RadiantExposure; 12]),
    Temperatures([ThermodynamicTemperature; 12]),
    /// Share of rated output, and efficiency there.
    Efficiencies(Vec<(Ratio, Ratio)>),
}

/// Where on the axis of currents a time is stated.
#[derive(Clone, Copy, Debug)]
pub(super) enum GateAt {
    /// At a share of the rating.
    Share(Ratio),
    /// At a current.
    Current(ElectricCurrent),
}

/// A stretch of a route.
#[derive(Clone, Debug)]
pub(super) struct Stretch {
    pub(super) length: Length,
    pub(super) zone: At<String>,
    pub(super) method: Option<Installation>,
    pub(super) loom: Option<At<String>>,
}

/// One table of the file: `[batteries.service]`, or `[plan]` with an empty name.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub(super) section: &'static str,
    pub(super) name: String,
    /// Place of its name.
    pub(super) span: Range<usize>,
    pub(super) values: Vec<(&'static str, At<Value>)>,
}

macro_rules! getters {
    ($($name:ident, $variant:ident, $type:ty;)+) => {$(
        pub(super) fn $name(&self, key: &str) -> Option<$type> {
            match &self.get(key)?.value {
                Value::$variant(value) => Some(value.clone()),
                _ => None,
            }
        }
    )+};
}

impl Entry {
    pub(super) fn get(&self, key: &str) -> Option<&At<Value>> {
        self.values.iter().find(|(name, _)| *name == key).map(|(_, value)| value)
    }

    /// Place of a key's value, or of the entry's name.
    pub(super) fn place(&self, key: &str) -> Range<usize> {
        self.get(key).map_or_else(|| self.span.clone(), |value| value.span.clone())
    }

    /// The dotted key, for messages.
    pub(super) fn key(&self, key: &str) -> String {
        [self.section, &self.name, key].iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(".")
    }

    getters! {
        current, Current, ElectricCurrent;
        voltage, Voltage, ElectricPotential;
        resistance, Resistance, ElectricalResistance;
        power, Power, Power;
        charge, Charge, ElectricCharge;
        temperature, Temperature, ThermodynamicTemperature;
        ratio, Ratio, Ratio;
        speed, Speed, Frequency;
        length, Length, Length;
        time, Time, Time;
        duty, Duty, (Ratio, Option<Duty>);
        efficiencies, Efficiencies, Vec<(Ratio, Ratio)>;
        size, Size, CrossSection;
        fuse, Fuse, FuseChoice;
        joule, Joule, JouleIntegral;
        torque, Torque, Torque;
        count, Count, u16;
        capacitance, Capacitance, Capacitance;
        gates, Gates, Vec<(Time, GateAt)>;
        angle, Angle, Angle;
        date, Date, Date;
        spans, Spans, Vec<ClockSpan>;
        spells, Spells, Vec<At<Spell>>;
        months, Months, [bool; 12];
        irradiations, Irradiations, [RadiantExposure; 12];
        temperatures, Temperatures, [ThermodynamicTemperature; 12];
    }

    pub(super) fn flag(&self, key: &str) -> bool {
        matches!(self.get(key).map(|value| &value.value), Some(Value::Flag(true)))
    }

    /// A flag, when it is stated.
    pub(super) fn stated_flag(&self, key: &str) -> Option<bool> {
        match self.get(key)?.value {
            Value::Flag(flag) => Some(flag),
            _ => None,
        }
    }

    pub(super) fn text(&self, key: &str) -> Option<At<&str>> {
        let at = self.get(key)?;
        match &at.value {
            Value::Text(text) => Some(At { value: text, span: at.span.clone() }),
            _ => None,
        }
    }

    pub(super) fn texts(&self, key: &str) -> Option<&[At<String>]> {
        match &self.get(key)?.value {
            Value::Texts(texts) => Some(texts),
            _ => None,
        }
    }

    /// A name of the key table's choices, as the enum it names.
    pub(super) fn choice<T: std::str::FromStr>(&self, key: &str) -> Option<T> {
        self.text(key)?.value.parse().ok()
    }
}

/// A whole file.
#[derive(Clone, Debug)]
pub(super) struct File<'a> {
    pub(super) text: &'a str,
    pub(super) entries: Vec<Entry>,
}

impl File<'_> {
    pub(super) fn of<'s>(&'s self, section: &'static str) -> impl Iterator<Item = &'s Entry> {
        self.entries.iter().filter(move |entry| entry.section == section)
    }
}
