//! Running the program.

use crate::support::run::unfolded;
use assert_cmd::cargo::cargo_bin;
use std::ffi::OsStr;
use std::path::PathBuf;
use std::process::{Command, Output};

/// A sample that the project keeps.
pub fn sample(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("samples").join(name)
}

/// One run of the program.
pub struct Run {
    command: Command,
}

/// What a run came to.
pub struct Outcome {
    pub status: i32,
    pub stdout: String,
    /// Its lines joined: see [`unfolded`].
    pub stderr: String,
}

impl Run {
    pub fn new(command: &str) -> Self {
        let mut program = Command::new(cargo_bin("cavitally"));
        program.current_dir(env!("CARGO_MANIFEST_DIR")).arg(command);
        Self { command: program }
    }

    pub fn arg(mut self, arg: impl AsRef<OsStr>) -> Self {
        self.command.arg(arg);
        self
    }

    pub fn args<A: AsRef<OsStr>>(mut self, args: impl IntoIterator<Item = A>) -> Self {
        self.command.args(args);
        self
    }

    pub fn outcome(&mut self) -> Outcome {
        let Output { status, stdout, stderr } = self.command.output().unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        // A run that a signal or a panic ended has no status of ours.
        Outcome { status: status.code().unwrap_or(-1), stdout: text(stdout), stderr: unfolded(&text(stderr)) }
    }

    /// Runs it and checks its exit status.
    pub fn status(&mut self, expected: i32) -> Outcome {
        let outcome = self.outcome();
        assert_eq!(outcome.status, expected, "stdout:\n{}\nstderr:\n{}", outcome.stdout, outcome.stderr);
        outcome
    }
}
