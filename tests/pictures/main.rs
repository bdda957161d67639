//! What is drawn, read back.

mod golden;
mod said;
mod screen;
mod sound;
mod svg;

use loomwright_tests::support;
