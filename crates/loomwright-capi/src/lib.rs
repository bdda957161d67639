//! The C interface in three layers: scalar functions (numbers in, one number out through a pointer), structs for one
//! circuit and for arrays of them, handles for plans and reports. Every function returns a status.
//!
//! This is the only crate with `unsafe`; each block says why it is sound. Units stand in the parameter
//! names. No panic crosses the border, and no NaN is a signal.
#![allow(unsafe_code, reason = "a C interface takes pointers")]
#![deny(unsafe_op_in_unsafe_fn)]

mod border;
mod codes;
mod energy;
mod fittings;
mod fuses;
mod joints;
mod measured;
mod pictures;
mod plans;
mod scalar;
mod sizing;
mod studies;
#[cfg(test)]
mod tests;

pub use border::{lw_abi_version, lw_last_message, lw_status, lw_status_text, lw_version};
pub use codes::{
    lw_chemistry, lw_installation, lw_kind, lw_material, lw_picture, lw_practice, lw_readings_form, lw_size,
};
pub use energy::*;
pub use fittings::{lw_conduit_fill, lw_pin_resistance, lw_torque_least, lw_torque_most};
pub use fuses::{lw_fuse_family, lw_fuse_rating, lw_opening_earliest, lw_opening_latest};
pub use joints::*;
pub use measured::*;
pub use pictures::*;
pub use plans::{
    lw_mistake, lw_mistake_at, lw_mistake_count, lw_mistake_text, lw_plan, lw_plan_check, lw_plan_free, lw_plan_read,
    lw_report, lw_report_count, lw_report_free, lw_report_json, lw_report_number, lw_report_text,
};
pub use scalar::{
    lw_ampacity, lw_conductor_temperature, lw_converter_input_current, lw_drop, lw_gauge_area, lw_gauge_for_area,
    lw_resistance, lw_withstand_time,
};
pub use sizing::*;
pub use studies::{lw_plan_compare, lw_plan_forecast, lw_plan_schedule, lw_plan_tolerance};
