//! Pictures and the report of Loomwright's results: text of SVG and HTML, nothing else.
//!
//! Everything that is drawn stands in a result of the engine; nothing is computed here but where it goes on the page.
#![forbid(unsafe_code)]
#![cfg_attr(
    test,
    allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, clippy::as_conversions)
)]

mod chart;
mod diagram;
mod picture;
mod style;
mod tags;
pub mod text;

pub use diagram::diagram;
pub use picture::Picture;
