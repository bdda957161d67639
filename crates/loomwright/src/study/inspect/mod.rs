//! What to look at, tighten and measure in a system that exists, and how soon again; and in what order a new one is made live.
//!
//! ```
//! use loomwright::study::{inspect::inspect, judge::judge};
//! use loomwright::text::read_plan;
//! let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
//! let inspection = inspect(&judge(&plan)?, &[]);
//! assert!(inspection.items.iter().all(|item| !item.due.now && item.due.months >= 1));
//! assert_eq!(inspection.record()["format"], 1);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod energise;
mod interval;
mod rows;
mod trend;

pub use energise::{Energise, Step, Wiring, before_energising, steps_record, steps_sheet};
pub use interval::Due;
pub use trend::Trend;

use serde_json::{Value, json};

use crate::data::tables::constants;
use crate::names::named;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Torque, significant};
use crate::study::cable::round9;
use crate::study::judge::Judgement;
use crate::study::reconcile::{Seen, Segment};
use crate::study::schedule::{Cell, Sheet, columns, object};
use uom::si::electric_potential::millivolt;
use uom::si::electrical_resistance::milliohm;
use uom::si::torque::newton_meter;

named! {
    /// What is looked at.
    Inspected, "inspected part", {
        /// A terminal with all that it holds.
        Terminal => "terminal",
        /// A fuse or breaker with its holder.
        Fuse => "fuse",
        /// A conductor, its supports and glands.
        Cable => "cable",
        /// A battery.
        Battery => "battery",
        /// A charger, controller, inverter or buck converter.
        Converter => "converter",
        /// An isolator, relay, shunt or other device in line.
        Link => "link",
    }
}

/// What a part in good order drops, and when that can be measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Expected {
    /// Over one joint, fuse with holder or device in line.
    pub drop: ElectricPotential,
    /// At this current.
    pub current: ElectricCurrent,
    /// Which this operating case gives.
    pub case: String,
}

/// One part of the inspection.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is.
    pub what: Inspected,
    /// Its name in the plan; runs and fuses with the number of their label before it.
    pub name: String,
    /// For terminals, which group of the work they belong to.
    pub group: String,
    /// The segments whose readings tell of it.
    pub segments: Vec<Segment>,
    /// What to look at.
    pub look: String,
    /// Who says to what torque; empty where nothing is tightened.
    pub tighten: String,
    /// From what to what torque.
    pub torque: [Option<Torque>; 2],
    /// What to measure.
    pub expected: Option<Expected>,
    /// How soon.
    pub due: Due,
    /// How those of its segments have gone that were measured on several days.
    pub trends: Vec<Trend>,
}

/// The inspection of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Inspection {
    /// Name of the plan.
    pub name: String,
    /// Every part: terminals in order of work, then fuses, cables, batteries, converters, devices in line.
    pub items: Vec<Item>,
    /// The rule of the intervals in words, with its source.
    pub rule: String,
    /// What must be read with it.
    pub notes: Vec<String>,
}

/// What to inspect of a judged plan, knowing what earlier readings have told; `seen` may be empty and of several days.
///
/// Intervals are common practice without a source and said to be. The engine has no clock, so they count from the last day
/// on which a part was measured.
///
/// ```
/// use loomwright::study::{inspect::inspect, judge::judge};
/// let text = include_str!("../../../examples/lamp.toml");
/// let judgement = judge(&loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?)?;
/// let inspection = inspect(&judgement, &[]);
/// assert!(inspection.items.len() >= 8); // both ends of four conductors at the least
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn inspect(judgement: &Judgement, seen: &[Seen]) -> Inspection {
    Inspection {
        name: judgement.installation.name.clone(),
        items: rows::items(judgement, seen),
        rule: interval::rule(),
        notes: [
            "open isolators and take out the battery fuse before a cover comes off or a tool touches a stud; the battery's own posts \
             stay live",
            "retighten only with the supply off; a screw that has been at its torque is checked, not turned further",
            "mark every tightened screw with a line across screw and part: a broken line is a loose joint",
            "measure drops under load, at the current and in the case named; half the current gives half the drop",
            "days count from the last readings: what was never measured has none",
        ]
        .map(str::to_owned)
        .to_vec(),
    }
}

fn milliohms(resistance: ElectricalResistance) -> f64 {
    resistance.get::<milliohm>()
}

/// The trend that tells most: the steepest of those that grow, else the steepest.
fn telling(trends: &[Trend]) -> Option<&Trend> {
    let steeper = |one: &&Trend, other: &&Trend| {
        one.grows.cmp(&other.grows).then(one.per_year.value.total_cmp(&other.per_year.value))
    };
    trends.iter().max_by(steeper)
}

fn in_words(trend: &Trend) -> String {
    let [slope, within] = [trend.per_year, trend.within].map(|one| significant(milliohms(one), 3));
    let reaches = trend.reaches.map_or_else(String::new, |date| format!(", at its limit about {date}"));
    let says = if trend.grows { "grows" } else { "no growth told" };
    format!("{}: {says}, {slope} ± {within} mΩ a year{reaches}", trend.name)
}

impl Inspection {
    /// The inspection as a sheet of cells, which text, CSV and JSON print alike.
    pub fn sheet(&self) -> Sheet<&'static str> {
        Sheet {
            name: "Inspection, in order of work",
            columns: columns![
                "part": "part", "name": "name", "group": "group", "due": "due", "months": "every" / "months", "look": "look at",
                "torque_nm": "torque" / "N m", "torque_most_nm": "up to" / "N m", "torque_by": "torque by",
                "expected_mv": "expected" / "mV", "at_a": "at" / "A", "case": "in case", "measured_mv": "measured" / "mV",
                "last": "last", "next": "next", "why": "why so soon", "growth": "growth",
            ],
            rows: self.items.iter().map(row).collect(),
            notes: self.notes.iter().cloned().chain([self.rule.clone()]).collect(),
        }
    }

    /// The inspection as JSON: rows by the keys of the columns.
    pub fn record(&self) -> Value {
        let sheet = self.sheet();
        let rows: Vec<Value> = sheet.rows.iter().map(|row| object(sheet.columns, row)).collect();
        let trends: Vec<Value> = self.items.iter().flat_map(|item| &item.trends).map(trend_record).collect();
        json!({
            "format": 1,
            "engine_version": env!("CARGO_PKG_VERSION"),
            "name": self.name,
            "rows": rows,
            "trends": trends,
            "rule": self.rule,
            "notes": self.notes,
        })
    }
}

fn trend_record(trend: &Trend) -> Value {
    let mohm = |resistance| round9(milliohms(resistance));
    let [from, to] = trend.days.map(|day| day.to_string());
    json!({
        "segment": trend.name,
        "from": from,
        "to": to,
        "readings": trend.readings,
        "growth_mohm_per_year": mohm(trend.per_year),
        "growth_within_mohm_per_year": mohm(trend.within),
        "excess_at_last_mohm": mohm(trend.at_last),
        "grows": trend.grows,
        "limit_mohm": trend.limit.map(mohm),
        "reaches": trend.reaches.map(|date| date.to_string()),
    })
}

fn row(item: &Item) -> Vec<Cell> {
    let due = match (item.due.now, item.due.first) {
        (true, _) => "now: remake".to_owned(),
        (_, true) => {
            format!(
                "first after {} month or {} h of running",
                constants::INSPECT_LEAST_MONTHS,
                constants::INSPECT_NEW_H
            )
        }
        _ => String::new(),
    };
    let [torque, torque_most] = item.torque.map(|torque| torque.map(|torque| torque.get::<newton_meter>()));
    let expected = item.expected.as_ref();
    vec![
        item.what.name().into(),
        item.name.as_str().into(),
        item.group.as_str().into(),
        due.into(),
        f64::from(item.due.months).into(),
        item.look.as_str().into(),
        torque.into(),
        torque_most.into(),
        item.tighten.as_str().into(),
        expected.map(|expected| expected.drop.get::<millivolt>()).into(),
        expected.map(|expected| expected.current.value).into(),
        expected.map(|expected| expected.case.as_str()).into(),
        Cell::Empty,
        item.due.last.map(|date| date.to_string()).into(),
        item.due.next.map(|date| date.to_string()).into(),
        item.due.reasons.join("; ").into(),
        telling(&item.trends).map(in_words).into(),
    ]
}
