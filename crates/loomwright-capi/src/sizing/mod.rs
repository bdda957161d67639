//! One circuit and arrays of circuits, in structs that may grow; and the same for a cell.

mod cells;
mod circuits;
mod query;
mod result;

pub use cells::{lw_longest_run, lw_smallest_size};
pub use circuits::{lw_size_circuit, lw_size_circuits};
pub use query::*;
pub use result::lw_circuit_result;

use loomwright::study::cable::{CableError, CableQuery};

use crate::border::{Failure, lw_status};

pub(crate) fn refused(error: &CableError) -> Failure {
    Failure::new(lw_status::LW_OUT_OF_RANGE, error.to_string())
}

/// The circuit that a caller asks about.
///
/// # Safety
/// `query` is null or points to a struct whose first field says how many bytes may be read.
pub(crate) unsafe fn query_at(query: *const lw_circuit_query) -> Result<CableQuery, Failure> {
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { query::read_query(query) }?.read()
}

/// A finite number: what is out of range is told by the engine, in its words.
fn finite(what: &str, value: f64) -> Result<f64, Failure> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{what} {value} is not a finite number")))
    }
}
