//! Loomwright: sizes and verifies the extra-low-voltage DC wiring of vehicles, boats and cabins.
//!
//! Pure computation: no input or output, no clock, no globals. Each room is one physical subject and uses
//! only rooms above it:
//!
//! - [`data`]: sourced tables; [`quantity`]: unit-safe types and their text; [`finding`]: what a judgement says
//! - [`conductor`]: materials, sizes, resistance; [`heat`]: temperatures and ampacity; [`protection`]: fuses
//! - [`converter`]: losses and limits; [`source`]: batteries, alternators; [`network`]: the operating point
//! - [`practice`]: rule sets; [`study`]: what users ask, such as [`study::cable`]
//!
//! A result is a computation, not an approval: local codes and licensed practice come first.
#![forbid(unsafe_code)]
#![cfg_attr(
    test,
    allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, clippy::as_conversions)
)]

pub mod conductor;
pub mod converter;
pub mod data;
pub mod finding;
pub mod fitting;
pub mod heat;
pub mod installation;
mod names;
pub mod network;
pub mod practice;
pub mod protection;
pub mod quantity;
pub mod source;
mod straight;
pub mod study;
pub mod text;

pub use names::UnknownName;
