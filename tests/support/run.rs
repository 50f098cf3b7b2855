//! Runs of the binary, with a limit in time.

use serde_json::Value;
use std::fs::File;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// What a run left behind.
pub struct Outcome {
    /// Exit status; `None` when a signal ended it.
    pub status: Option<i32>,
    /// Text on standard error, its lines joined: see [`unfolded`].
    pub stderr: String,
    /// Whether it was stopped because its time was over.
    pub timed_out: bool,
    /// What it saved, as text; `None` where it saved nothing.
    pub saved: Option<String>,
}

/// Messages with each line that runs on joined to the one before: where they break depends on how long the paths in them
/// are, and so on the place of the checkout.
pub fn unfolded(messages: &str) -> String {
    let mut out = String::with_capacity(messages.len());
    for line in messages.lines() {
        match line.strip_prefix("  ") {
            Some(rest) if !out.is_empty() => {
                out.push(' ');
                out.push_str(rest.trim_start());
            }
            _ => {
                if !out.is_empty() {
                    out.push('\n');
                }
                out.push_str(line);
            }
        }
    }
    out
}

/// `takeoff INPUT… --save x.json` with further arguments, stopped when it takes longer than `limit`.
pub fn takeoff(inputs: &[&Path], arguments: &[&str], limit: Duration) -> Outcome {
    let directory = tempfile::tempdir().expect("a temporary directory");
    let saved = directory.path().join("takeoff.json");
    let stderr = directory.path().join("stderr.txt");
    let mut child = Command::new(env!("CARGO_BIN_EXE_cavitally"))
        .arg("takeoff")
        .args(inputs)
        .args(arguments)
        .arg("--save")
        .arg(&saved)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(File::create(&stderr).expect("a file for standard error"))
        .spawn()
        .expect("the binary starts");
    let started = Instant::now();
    let mut timed_out = false;
    let status = loop {
        if let Some(status) = child.try_wait().expect("the binary can be waited for") {
            break status.code();
        }
        if started.elapsed() > limit {
            timed_out = true;
            child.kill().expect("the binary can be stopped");
            break child.wait().expect("the binary ends").code();
        }
        std::thread::sleep(Duration::from_millis(2));
    };
    let text = |path: &Path| std::fs::read(path).map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
    Outcome { status, stderr: unfolded(&text(&stderr).unwrap_or_default()), timed_out, saved: text(&saved).ok() }
}

/// The saved takeoff of a run that must succeed.
#[track_caller]
pub fn saved_takeoff(inputs: &[&Path], arguments: &[&str]) -> Value {
    let outcome = takeoff(inputs, arguments, Duration::from_mins(2));
    assert_eq!(outcome.status, Some(0), "takeoff of {inputs:?} ended badly:\n{}", outcome.stderr);
    let saved = outcome.saved.unwrap_or_else(|| panic!("takeoff of {inputs:?} saved nothing:\n{}", outcome.stderr));
    serde_json::from_str(&saved).unwrap_or_else(|error| panic!("takeoff of {inputs:?} saved no JSON: {error}"))
}

/// The surfaces of a saved takeoff.
#[track_caller]
pub fn surfaces(takeoff: &Value) -> &[Value] {
    takeoff["surfaces"].as_array().expect("a takeoff has surfaces")
}

/// A number of a saved takeoff.
#[track_caller]
pub fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("`{key}` is {} and not a number", value[key]))
}

/// Text of a saved takeoff; empty where there is none.
pub fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or_default()
}
