//! The `loomwright` command.
#![forbid(unsafe_code)]

use std::process::ExitCode;

use loomwright_cli::Screen;

fn main() -> ExitCode {
    let mut out = anstream::stdout().lock();
    // Not locked: how far long work has come is told from other threads.
    let mut errors = anstream::stderr();
    // Neither into a pipe, nor for whoever says NO_COLOR.
    let plain = anstream::AutoStream::choice(&std::io::stdout()) == anstream::ColorChoice::Never;
    let screen = if plain { Screen::Plain } else { Screen::Pictures };
    loomwright_cli::run(std::env::args_os(), screen, &mut out, &mut errors).into()
}
