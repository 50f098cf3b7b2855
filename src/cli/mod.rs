//! The command line: arguments in, an exit status out.
//!
//! Data goes to standard output, all else to standard error.
//! Invariant: reads arguments and files and prints; every figure comes from the stages before it.

mod args;
mod audit;
mod closeout;
mod explain;
mod options;
mod papers;
mod progress;
mod rig;
mod schema;
mod start;
mod takeoff;
mod terminal;
mod variants;
mod write;

use crate::refusal::Refusal;
use args::{Args, Command};
use clap::Parser;
use std::ffi::OsString;

pub use args::command;

/// Done.
const DONE: u8 = 0;
/// Done, with findings that `--strict` does not let pass, or with a claim or a place that falls short.
const FELL_SHORT: u8 = 1;
/// An input or an argument that cannot be used, or a file that cannot be written.
const UNUSABLE: u8 = 2;

/// Runs the program; returns its exit status.
///
/// 0: done. 1: done, but a claim, a place or a rig fell short, or `--strict` and a finding of severity warning or error. 2: the input cannot
/// be used, the arguments are wrong, or a file cannot be written; then no output file is left.
pub fn run(args: impl IntoIterator<Item = OsString>) -> u8 {
    let args = match Args::try_parse_from(args) {
        Ok(args) => args,
        Err(error) => return usage(&error),
    };
    let done = match args.command {
        Command::Takeoff(args) => takeoff::run(&args),
        Command::Rig(args) => rig::run(&args),
        Command::Explain(args) => explain::run(&args),
        Command::Audit(args) => audit::run(&args),
        Command::Closeout(args) => closeout::run(&args),
        Command::Start(args) => start::run(&args),
        Command::Schema(args) => schema::run(&args),
    };
    match done {
        Ok(status) => status,
        Err(refusals) => {
            terminal::say(&crate::report::render_refusals(&refusals));
            UNUSABLE
        }
    }
}

/// Help and version are data; anything else is a wrong argument.
fn usage(error: &clap::Error) -> u8 {
    let text = error.render().to_string();
    if error.use_stderr() {
        terminal::say(&text);
        return UNUSABLE;
    }
    match terminal::print(text.as_bytes()) {
        Ok(()) => DONE,
        Err(refusal) => {
            terminal::say(&crate::report::render_refusals(&[*refusal]));
            UNUSABLE
        }
    }
}

/// What a command comes to: an exit status, or all that stands in its way.
type Done = Result<u8, Vec<Refusal>>;
