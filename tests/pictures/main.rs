//! What is drawn, read back.

mod golden;
mod said;
mod screen;
mod sound;
#[path = "../plans/support.rs"]
mod support;
mod svg;
