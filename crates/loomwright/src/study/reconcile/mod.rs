//! Measured against planned: what every reading should be, which joint or cable explains what it is, and what to do.
//!
//! All readings of a day are explained together, each weighed by its instrument: resistances above the plan's, shared by all
//! cases, and what the plan knows only roughly, such as what a load draws. What no plant gives is named as a gross error and
//! left out. An instrument's limits count as a rectangle; intervals are of 95 %, by the law that the sum then has.
//!
//! ```
//! use loomwright::study::{judge::judge, reconcile::{Verdict, reconcile}};
//! use loomwright::text::{read_plan, read_readings};
//! let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
//! let judgement = judge(&plan)?;
//! let read = read_readings(
//!     "case,quantity,at,against,value,accuracy,ambient\n\
//!      full-load-low-battery,voltage,house.+,board,480 mV,0.5 % + 0.1 mV,20 °C\n\
//!      full-load-low-battery,current,feed,,0.83 A,2 % + 0.01 A,20 °C\n",
//!     &judgement.installation,
//! );
//! let found = reconcile(&judgement, &read.readings)?;
//! assert_eq!(found.verdict(), Verdict::Remake); // half a volt at less than an ampere
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod day;
mod devices;
mod efficiency;
mod fit;
mod gross;
mod model;
mod next;
mod pieces;
mod probe;
mod reading;
mod record;
mod segment;
mod standing;
mod system;
mod thermal;
mod verdict;
mod walk;

pub use day::{ReadingResult, Refused};
pub use devices::{DeviceResult, Found};
pub use gross::Slip;
pub use next::Next;
pub use pieces::{Growth, SegmentResult};
pub use reading::{Inside, Measured, Point, Reading, Surface};
pub use record::{
    DayRecord, DeviceFoundRecord, FileRecord, NumbersRecord, ReadingRecord, ReconcileRecord, RefusedRecord,
    SegmentRecord, TemperatureRecord,
};
pub use segment::{Seen, Segment, Verdict};
pub use thermal::Warm;
pub use verdict::Warmth;
pub use walk::{Round, Stop, Why, walk};

use std::collections::BTreeMap;

use jiff::civil::Date;
use thiserror::Error;

use crate::network::NetworkError;
use crate::quantity::ElectricCurrent;
use crate::study::judge::Judgement;

/// Most readings that are explained together.
pub const MOST_READINGS: usize = 5_000;

/// Why readings could not be compared with a plan at all.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ReconcileError {
    /// Too many of them.
    #[error("{0} readings; at most {MOST_READINGS} are explained together")]
    TooMany(usize),
    /// The network of a case could not be computed.
    #[error("the network of a case cannot be computed with these readings: {0}")]
    Network(#[from] NetworkError),
}

/// What the readings of one day tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    /// The day; `None` for readings without a date.
    pub date: Option<Date>,
    /// Every reading, with what was planned and what explains all of them, in the order of the file.
    pub readings: Vec<ReadingResult>,
    /// Every piece of a way of which something is told, worst first.
    pub segments: Vec<SegmentResult>,
    /// What is told of devices.
    pub devices: Vec<DeviceResult>,
    /// Every temperature.
    pub warm: Vec<Warm>,
    /// By how much the clamp showed too much everywhere, with half the width of that interval, where it did.
    pub clamp_zero: Option<[ElectricCurrent; 2]>,
    /// Segments of which no reading tells anything.
    pub untold: Vec<Segment>,
}

/// Readings beside their plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Reconciliation {
    /// Name of the plan.
    pub name: String,
    /// Day by day, those without a date first.
    pub days: Vec<Day>,
    /// Readings that could not be used, with the reason.
    pub refused: Vec<Refused>,
    /// What was not said and had to be assumed.
    pub assumptions: Vec<String>,
}

/// Explains readings by the plan that they were taken from.
///
/// ```
/// use loomwright::study::{judge::judge, reconcile::reconcile};
/// let text = include_str!("../../../examples/lamp.toml");
/// let judgement = judge(&loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?)?;
/// assert!(reconcile(&judgement, &[])?.days.is_empty()); // nothing measured, nothing told
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`ReconcileError`] when there are too many, or a network cannot be computed.
pub fn reconcile(judgement: &Judgement, readings: &[Reading]) -> Result<Reconciliation, ReconcileError> {
    if readings.len() > MOST_READINGS {
        return Err(ReconcileError::TooMany(readings.len()));
    }
    let mut days: BTreeMap<Option<Date>, Vec<&Reading>> = BTreeMap::new();
    for reading in readings {
        days.entry(reading.date).or_default().push(reading);
    }
    let mut found = Reconciliation {
        name: judgement.installation.name.clone(),
        days: Vec::new(),
        refused: Vec::new(),
        assumptions: day::assumptions(readings),
    };
    for (date, mut readings) in days {
        // Of two that contradict each other and nothing else, the rounding of sums would name one or the other.
        readings.sort_by_key(|reading| reading.line);
        let mut day = day::explain(judgement, date, &readings, &mut found.refused)?;
        pieces::grown(&mut day, &found.days);
        found.days.push(day);
    }
    Ok(found)
}
