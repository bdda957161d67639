//! What the outside checks share: reading reference tables, short quantities, error reports.
#![forbid(unsafe_code)]

mod circuit;
#[cfg(feature = "live")]
pub mod live;
mod report;
mod sampling;
mod table;
mod tally;
mod worst;

pub use circuit::{amperes, chosen_as, conductor, metres, volts};
pub use report::{Compared, compare, free_air_ampacity};
pub use sampling::{sampling, sampling_each};
pub use table::{Row, parse, read, text_of};
pub use tally::{apart, compared, within};
pub use worst::Worst;

/// The Rust code of the README, compiled and run as documentation tests.
#[cfg(doctest)]
#[doc = include_str!("../../README.md")]
pub struct Readme;
