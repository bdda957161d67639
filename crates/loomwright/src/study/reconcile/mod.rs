//! Measured against planned: what every reading should be, which joint or cable explains what it is, and what to do.

mod reading;
mod segment;
mod walk;

pub use reading::{Inside, Measured, Point, Reading, Surface};
pub use segment::{Seen, Segment, Verdict};
pub use walk::{Round, Stop, Why, walk};
