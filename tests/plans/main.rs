//! Whole plans: read, judged, mended, followed through time and measured.

mod arrays;
mod bonding;
mod charging;
mod checks;
mod closed_forms;
mod conditions;
mod dangers;
mod devices;
mod failing;
mod faults;
mod fitting;
mod forecast;
mod forecast_input;
mod forecast_parts;
mod forecast_sizes;
mod heating;
mod inspect;
mod lowered;
mod mutants;
mod openings;
mod pictures;
mod pitfalls;
mod random;
mod readings;
mod readings_examples;
mod recomputed;
mod reconcile;
mod schedule;
mod sources;
mod ten_mistakes;
mod tolerance;
mod upgrade;
mod working;

use loomwright_tests::{stays, support};
