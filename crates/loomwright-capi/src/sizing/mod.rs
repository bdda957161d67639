//! One circuit and arrays of circuits, in structs that may grow; and the same for a cell.

mod cells;
mod circuits;
mod query;
mod result;

pub use cells::{lw_longest_run, lw_smallest_size};
pub use circuits::{lw_size_circuit, lw_size_circuits};
pub use query::*;
pub use result::lw_circuit_result;

use loomwright::study::cable::CableError;

use crate::border::{Failure, lw_status};

fn refused(error: &CableError) -> Failure {
    Failure::new(lw_status::LW_OUT_OF_RANGE, error.to_string())
}

/// A finite number: what is out of range is told by the engine, in its words.
fn finite(what: &str, value: f64) -> Result<f64, Failure> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{what} {value} is not a finite number")))
    }
}
