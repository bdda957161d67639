//! The `loomwright` command.
#![forbid(unsafe_code)]

use std::process::ExitCode;

fn main() -> ExitCode {
    let mut out = anstream::stdout().lock();
    // Not locked: how far long work has come is told from other threads.
    let mut errors = anstream::stderr();
    loomwright_cli::run(std::env::args_os(), &mut out, &mut errors).into()
}
