//! What the checks share: plans and what is found of them, reference tables, short quantities, sums by hand, error reports.
#![forbid(unsafe_code)]

pub mod by_hand;
mod circuit;
#[cfg(feature = "live")]
pub mod live;
mod report;
mod sampling;
pub mod stays;
pub mod support;
mod table;
mod tally;
mod worst;

pub use circuit::{amperes, chosen_as, conductor, metres, volts, watts};
pub use report::{Compared, compare, free_air_ampacity};
pub use sampling::{sampling, sampling_each};
pub use table::{Row, parse, read};
pub use tally::{apart, close, compared, within};
pub use worst::Worst;

/// The Rust code of the README, compiled and run as documentation tests.
#[cfg(doctest)]
#[doc = include_str!("../../README.md")]
pub struct Readme;
