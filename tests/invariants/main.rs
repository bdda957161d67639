//! What must hold for every input, and of the source itself.

mod heating;
mod hostile_input;
mod measured;
mod repository;
mod security;
mod size_map;
mod sizing;
