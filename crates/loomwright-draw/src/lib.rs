//! Pictures and the report of Loomwright's results: text of SVG and HTML, nothing else.
//!
//! Everything that is drawn stands in a result of the engine; nothing is computed here but where it goes on the page.
#![forbid(unsafe_code)]
#![cfg_attr(
    test,
    allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, clippy::as_conversions)
)]

mod charge;
mod chart;
mod diagram;
mod margins;
mod measured;
mod picture;
mod report;
mod rows;
mod sizes;
mod style;
mod tags;
pub mod text;
mod through_time;
mod uprights;
mod voltage;
mod wanted;

pub use charge::charge;
pub use diagram::{diagram, diagram_sheets};
pub use margins::{margins, temperatures};
pub use measured::{joints, readings};
pub use picture::Picture;
pub use report::report;
pub use sizes::sizes;
pub use through_time::{curves, through_time};
pub use voltage::voltage;
pub use wanted::{DrawError, Kind, Wanted, picture};
