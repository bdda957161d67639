//! What a day asks, where and when: places, stays, spells of driving and of shore power, arrays.

use jiff::civil::{Date, Weekday};

use crate::data::Source;
use crate::quantity::{ElectricCurrent, Power, Ratio, ThermodynamicTemperature, Time};
use crate::source::solar::{Climate, Mount, Plane, Site, Strings};

/// A place where a system stays.
#[derive(Clone, Debug)]
pub struct Location {
    /// Its name.
    pub name: String,
    /// Where it is.
    pub site: Site,
    /// How far its clocks are ahead of universal time; summer time is not followed.
    pub clock: Time,
    /// How bright and warm its months are, when stated.
    pub climate: Option<Climate>,
    /// Where that comes from, when it is one of ours.
    pub climate_source: Option<&'static Source>,
}

/// A part of the day, from one time after midnight to another; over midnight when the second is not later.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClockSpan {
    /// Its start after midnight.
    pub from: Time,
    /// Its end after midnight.
    pub to: Time,
}

const DAY_S: f64 = 86_400.0;

impl ClockSpan {
    /// The whole day.
    pub fn day() -> Self {
        let zero = Time::default();
        Self { from: zero, to: zero }
    }

    /// How long it is.
    ///
    /// ```
    /// use loomwright::{installation::ClockSpan, quantity::{FromText, Time}};
    /// let night = ClockSpan { from: Time::from_text("22 h")?, to: Time::from_text("6 h")? };
    /// assert!(night.over_midnight() && (night.length().value / 3600.0 - 8.0).abs() < 1e-9);
    /// assert!((ClockSpan::day().length().value / 3600.0 - 24.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn length(&self) -> Time {
        let seconds = (self.to - self.from).value;
        Time::new::<uom::si::time::second>(if seconds > 0.0 { seconds } else { seconds + DAY_S })
    }

    /// Whether it runs over midnight.
    pub fn over_midnight(&self) -> bool {
        self.to <= self.from && self.to.value > 0.0
    }

    /// The parts of a day that belong to it when it begins on that day, and on the day before.
    fn parts(&self) -> [Option<[f64; 2]>; 2] {
        let (from, to) = (self.from.value, self.to.value);
        if to > from { [Some([from, to]), None] } else { [Some([from, DAY_S]), (to > 0.0).then_some([0.0, to])] }
    }

    /// How long it overlaps a part of a day, where it began on that day, and where it began the day before.
    ///
    /// ```
    /// use loomwright::{installation::ClockSpan, quantity::{FromText, Time}};
    /// let night = ClockSpan { from: Time::from_text("22 h")?, to: Time::from_text("6 h")? };
    /// let [same, before] = night.overlap(Time::from_text("4 h")?, Time::from_text("23 h")?).map(|part| part.value / 3600.0);
    /// assert!((same - 1.0).abs() < 1e-9 && (before - 2.0).abs() < 1e-9); // 22 h to 23 h, and 4 h to 6 h of the night before
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn overlap(&self, start: Time, end: Time) -> [Time; 2] {
        self.parts().map(|part| {
            let seconds = part.map_or(0.0, |[from, to]| (to.min(end.value) - from.max(start.value)).max(0.0));
            Time::new::<uom::si::time::second>(seconds)
        })
    }
}

/// On which days something is.
#[derive(Clone, Debug, PartialEq)]
pub enum Days {
    /// Every day.
    Every,
    /// On these days of the week.
    Weekdays(Vec<Weekday>),
    /// On these dates.
    Dates(Vec<Date>),
}

impl Days {
    /// Whether a date is one of them.
    pub fn contains(&self, date: Date) -> bool {
        match self {
            Self::Every => true,
            Self::Weekdays(days) => days.contains(&date.weekday()),
            Self::Dates(dates) => dates.contains(&date),
        }
    }
}

/// Something that lasts for a part of some days.
#[derive(Clone, Debug, PartialEq)]
pub struct Spell {
    /// Which part.
    pub span: ClockSpan,
    /// Which days; a spell over midnight belongs to the day on which it begins.
    pub on: Days,
}

impl Spell {
    /// How long it overlaps a part of a date.
    pub fn overlap(&self, date: Date, start: Time, end: Time) -> Time {
        let [same, before] = self.span.overlap(start, end);
        let mut sum = Time::default();
        if self.on.contains(date) {
            sum += same;
        }
        if before.value > 0.0 && date.yesterday().is_ok_and(|yesterday| self.on.contains(yesterday)) {
            sum += before;
        }
        sum
    }
}

/// A stay at a place.
#[derive(Clone, Debug)]
pub struct Stay {
    /// Its name.
    pub name: String,
    /// Where, by index into [`super::Installation::places`].
    pub place: usize,
    /// Its first day.
    pub from: Date,
    /// Its last day.
    pub to: Date,
    /// When the engine runs.
    pub driving: Vec<Spell>,
    /// When shore power is connected.
    pub shore: Vec<Spell>,
    /// The loads that run in it, by index; all of them when not stated.
    pub loads: Option<Vec<usize>>,
    /// The share of a drive at idle.
    pub idle_share: Ratio,
    /// State of charge of every battery at its beginning; as full as they are charged when not stated.
    pub start_charge: Option<Ratio>,
    /// Temperature of the batteries; the air of the month when not stated.
    pub battery_temperature: Option<ThermodynamicTemperature>,
}

impl Stay {
    /// How many days it has.
    pub fn days(&self) -> u32 {
        let days = self.from.until(self.to).map_or(0, |span| span.get_days());
        u32::try_from(days + 1).unwrap_or(0)
    }
}

/// When a load runs, and what it takes when it does not.
#[derive(Clone, Debug, PartialEq)]
pub struct Usage {
    /// The parts of the day in which it runs; the whole day when not stated.
    pub hours: Vec<ClockSpan>,
    /// The months in which it is used, January first.
    pub months: [bool; 12],
    /// The share of those hours that it runs.
    pub share: Ratio,
    /// What it takes when it does not run.
    pub standby: Power,
}

/// A solar array on a controller.
#[derive(Clone, Debug)]
pub struct Array {
    /// Its name.
    pub name: String,
    /// The solar controller, by index into the converters.
    pub controller: usize,
    /// Its modules.
    pub strings: Strings,
    /// How it lies.
    pub plane: Plane,
    /// How it is mounted.
    pub mount: Mount,
    /// Share of its light that other things take.
    pub shading: Ratio,
    /// Share of its light that dirt takes.
    pub soiling: Ratio,
    /// The fuse in each string, when stated.
    pub string_fuse: Option<ElectricCurrent>,
}
