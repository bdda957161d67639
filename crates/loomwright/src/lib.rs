//! Loomwright: sizes and verifies extra-low-voltage DC wiring.
#![forbid(unsafe_code)]
#![cfg_attr(
    test,
    allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, clippy::as_conversions)
)]

pub mod conductor;
pub mod data;
pub mod finding;
pub mod heat;
mod names;
pub mod practice;
pub mod protection;
pub mod quantity;
pub mod study;
