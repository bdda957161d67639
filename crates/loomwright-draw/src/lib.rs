//! Pictures and the report of Loomwright's results: text of SVG and HTML, nothing else.
//!
//! Everything that is drawn stands in a result of the engine; nothing is computed here but where it goes on the page.
#![forbid(unsafe_code)]

mod chart;
mod picture;
mod style;
pub mod text;

pub use picture::Picture;
