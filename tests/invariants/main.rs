//! What must hold for every input, and of the source itself.

mod alike;
mod draft;
mod heating;
mod hostile_input;
mod measured;
mod order;
mod remedies;
mod repository;
mod safety;
mod security;
mod size_map;
mod sizing;
mod studies;
mod through_time;
