//! Helpers that the tests share: models by others, runs of the binary, near-equality.

pub mod exact_area;
pub mod random_wall;
pub mod run;
pub mod step_slabs;
pub mod step_writer;

use std::fs::OpenOptions;
use std::io::Write;
use std::path::PathBuf;

/// Asserts that two numbers are equal within a tolerance; the rest is the message.
macro_rules! assert_near {
    ($left:expr, $right:expr, $tolerance:expr $(,)?) => {
        $crate::support::check_near($left, $right, $tolerance, "")
    };
    ($left:expr, $right:expr, $tolerance:expr, $($message:tt)+) => {
        $crate::support::check_near($left, $right, $tolerance, &format!($($message)+))
    };
}
pub(crate) use assert_near;

#[track_caller]
pub fn check_near(left: f64, right: f64, tolerance: f64, message: &str) {
    let difference = (left - right).abs();
    assert!(difference <= tolerance, "{message}: {left} and {right} differ by {difference:e}, more than {tolerance:e}");
}

/// The directory with models by others, or `None` after a note that the test was skipped.
///
/// They are not part of the project; the environment variable `CAVITALLY_MODELS` says where they are.
pub fn models(test: &str) -> Option<PathBuf> {
    let Some(path) = std::env::var_os("CAVITALLY_MODELS") else {
        skip(test, "CAVITALLY_MODELS is not set");
        return None;
    };
    let path = PathBuf::from(path);
    assert!(path.is_dir(), "CAVITALLY_MODELS is set, but `{}` is not a directory", path.display());
    Some(path)
}

/// Says that a test, or a part of it, was skipped and why.
///
/// The harness hides what a passing test prints, so the line also goes to the file named by `CAVITALLY_SKIP_LOG`.
pub fn skip(test: &str, reason: &str) {
    let line = format!("skipped: {test}: {reason}\n");
    eprint!("{line}");
    if let Some(path) = std::env::var_os("CAVITALLY_SKIP_LOG") {
        let mut log = OpenOptions::new().create(true).append(true).open(&path).expect("the skip log can be opened");
        log.write_all(line.as_bytes()).expect("the skip log can be written");
    }
}

/// A file of the project.
pub fn project_file(path: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(path)
}
