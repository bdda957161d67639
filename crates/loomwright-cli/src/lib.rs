//! The `loomwright` command as a function, so that it can be run without a process.
//!
//! Arguments in, engine call, text or JSON out: everything is computed in the `loomwright` crate through
//! its public interface.
#![forbid(unsafe_code)]

mod args;
mod cable;
mod check;
mod commission;
mod compare;
mod curve;
mod draw;
mod files;
mod forecast;
mod inspect;
mod layout;
mod plans;
mod readings;
mod reconcile;
mod report;
mod schedule;
mod screen;
mod start;
mod tolerance;
mod workbook;

pub use screen::Screen;

use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;

use clap::{CommandFactory, Parser};

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// Everything holds.
    Holds,
    /// There are findings of `warning` or `danger`.
    Findings,
    /// The input could not be used.
    Unusable,
}

/// Why a command line gave no result.
pub(crate) enum Refusal {
    /// In a sentence.
    Message(String),
    /// In a report of its own, such as the mistakes of a plan file with their places.
    Report(String),
}

/// A result: how the run ends, and what it prints.
pub(crate) type Answer = Result<(Exit, String), Refusal>;

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        match exit {
            Exit::Holds => Self::from(0),
            Exit::Findings => Self::from(1),
            Exit::Unusable => Self::from(2),
        }
    }
}

/// The command line's definition, from which completions and the man page are made.
pub fn command() -> clap::Command {
    args::Arguments::command()
}

/// Runs one command line, the program's name first, writing results to `out`, with small pictures where that is a screen, and
/// errors to `errors`.
///
/// A reader that closes the pipe early is no error.
pub fn run(
    arguments: impl IntoIterator<Item = OsString>,
    screen: Screen,
    out: &mut dyn Write,
    errors: &mut dyn Write,
) -> Exit {
    let parsed = match args::Arguments::try_parse_from(arguments) {
        Ok(parsed) => parsed,
        Err(error) if error.use_stderr() => {
            let _ = write!(errors, "{}", layout::page(&error.render().ansi().to_string()));
            return Exit::Unusable;
        }
        Err(help) => {
            let _ = write!(out, "{}", help.render().ansi());
            return Exit::Holds;
        }
    };
    let answer = match parsed.verb {
        args::Verb::Cable(arguments) => cable::answer(&arguments).map_err(Refusal::Message),
        args::Verb::Check(arguments) => check::answer(&arguments, screen),
        args::Verb::Schedule(arguments) => schedule::answer(&arguments),
        args::Verb::Compare(arguments) => compare::answer(&arguments),
        args::Verb::Tolerance(arguments) => tolerance::answer(&arguments),
        args::Verb::Forecast(arguments) => forecast::answer(&arguments, screen),
        args::Verb::Reconcile(arguments) => reconcile::answer(&arguments, errors),
        args::Verb::Inspect(arguments) => inspect::answer(&arguments, errors),
        args::Verb::Curve(arguments) => curve::answer(&arguments).map_err(Refusal::Message),
        args::Verb::Draw(arguments) => draw::answer(&arguments, errors),
        args::Verb::Report(arguments) => report::answer(&arguments, errors),
        args::Verb::New { file } => start::new(file.as_deref()),
        args::Verb::Schema { what } => start::schema(what),
        args::Verb::Manual { verb } => start::manual(verb.as_deref()),
        args::Verb::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut command(), "loomwright", &mut script);
            Ok((Exit::Holds, String::from_utf8_lossy(&script).into_owned()))
        }
    };
    let (exit, text) = match answer {
        Ok(answer) => answer,
        Err(refusal) => {
            let text = match refusal {
                Refusal::Message(message) => layout::wrapped(&message, "error: ", "       ") + "\n",
                Refusal::Report(report) => report,
            };
            let _ = errors.write_all(text.as_bytes());
            return Exit::Unusable;
        }
    };
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            let _ = writeln!(errors, "error: the result could not be written: {error}");
            Exit::Unusable
        }
        _ => exit,
    }
}
