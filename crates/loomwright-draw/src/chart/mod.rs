//! What all charts share: axes, lines and bands over them, and the key below.

mod axes;
mod backend;
mod marks;

pub(crate) use axes::{Axis, Chart, Scale};
pub(crate) use marks::{Key, Sample, area, line, marker, steps};
