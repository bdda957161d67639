//! The `loomwright` command.
#![forbid(unsafe_code)]

use std::process::ExitCode;

fn main() -> ExitCode {
    let mut out = anstream::stdout().lock();
    let mut errors = anstream::stderr().lock();
    loomwright_cli::run(std::env::args_os(), &mut out, &mut errors).into()
}
