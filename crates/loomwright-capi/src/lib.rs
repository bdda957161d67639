//! The C interface: numbers in, one number out through a pointer, a status returned.
//!
//! This is the only crate with `unsafe`; each block says why it is sound. Units stand in the parameter
//! names. No panic crosses the border, and no NaN is a signal.
#![allow(unsafe_code, reason = "a C interface takes pointers")]
#![deny(unsafe_op_in_unsafe_fn)]

mod border;
mod scalar;

pub use border::{lw_abi_version, lw_last_message, lw_status, lw_status_text, lw_version};
pub use scalar::{lw_drop, lw_material, lw_resistance};
