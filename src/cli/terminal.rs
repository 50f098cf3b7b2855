//! Standard output and standard error. The only file that prints.

use crate::refusal::Refusal;
use crate::source::Place;
use std::io::{ErrorKind, Write};

/// Columns of the terminal that standard output goes to; 80 where it goes elsewhere.
pub(super) fn width() -> usize {
    let size = terminal_size::terminal_size_of(std::io::stdout());
    size.map_or(80, |(width, _)| usize::from(width.0))
}

/// Writes data to standard output. A reader that closes early is no error.
///
/// # Errors
/// Standard output cannot be written.
pub(super) fn print(data: &[u8]) -> Result<(), Box<Refusal>> {
    let mut out = std::io::stdout().lock();
    match out.write_all(data).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            let message = format!("cannot be written: {error}");
            Err(Box::new(Refusal::new(Place::input("standard output"), message, "")))
        }
        _ => Ok(()),
    }
}

/// Writes findings and progress to standard error; there is nowhere to report that this did not work.
pub(super) fn say(text: &str) {
    let mut err = std::io::stderr().lock();
    let _ = err.write_all(text.as_bytes()).and_then(|()| err.flush());
}
