//! One circuit sized right: the smallest standard conductor and fuse that satisfy everything at once.
//!
//! ```
//! use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length, in_mm2};
//! use loomwright::study::cable::{CableQuery, Load, size};
//! let query = CableQuery::new(
//!     Load::Current(ElectricCurrent::from_text("40 A")?),
//!     Length::from_text("5.5 m")?, // one way
//!     ElectricPotential::from_text("12 V")?,
//! );
//! let sized = size(&query)?;
//! let chosen = sized.chosen.ok_or("nothing passes")?;
//! assert_eq!(in_mm2(chosen.conductor.area).round(), 50.0);
//! assert!(chosen.longest_run >= query.length);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod assumption;
mod candidate;
mod circuit;
mod error;
mod findings;
mod heat_steps;
mod map;
mod margin;
mod query;
mod record;
mod remedies;
mod search;
mod working;

pub use assumption::Assumption;
pub use candidate::{Candidate, OperatingPoint};
pub use circuit::Circuit;
pub use error::CableError;
pub(crate) use heat_steps::{Laid, duty_step, resistance, resistance_source, table_step, withstand_step};
pub use map::{SizeLineRecord, SizeMapRecord, size_map};
pub use margin::{Check, Margin};
pub use query::{CableQuery, DropLimit, Joints, Load, ReturnPath};
pub(crate) use record::round9;
pub use record::{AmpacityRecord, AssumptionRecord, CableRecord, CandidateRecord, FuseRecord, MarginRecord};
pub use search::{Sizing, size};
pub use working::Step;
pub(crate) use working::{FUSE, RESISTANCE, fuse_numbers, n};
