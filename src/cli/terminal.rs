//! Standard output and standard error. The only file that prints.

use crate::refusal::Refusal;
use crate::source::Place;
use anstream::AutoStream;
use anstyle::{AnsiColor, Style};
use std::io::{ErrorKind, Write};

/// Headings of tables and derivations.
const HEADING: Style = Style::new().bold();
/// What stops the run.
const ERROR: Style = AnsiColor::Red.on_default().bold();
/// What may be off.
const WARNING: Style = AnsiColor::Yellow.on_default();
/// What is worth knowing, and how to mend things.
const NOTE: Style = AnsiColor::Cyan.on_default();

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
    written(std::io::stdout().lock(), data)
}

/// Writes a table to standard output, its headings set off where that is a terminal that wants it: not with `NO_COLOR`.
///
/// # Errors
/// Standard output cannot be written.
pub(super) fn print_table(text: &str) -> Result<(), Box<Refusal>> {
    written(AutoStream::auto(std::io::stdout()).lock(), set_off(text, heading).as_bytes())
}

fn written(mut out: impl Write, data: &[u8]) -> Result<(), Box<Refusal>> {
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
    let mut err = AutoStream::auto(std::io::stderr()).lock();
    let _ = err.write_all(set_off(text, severity).as_bytes()).and_then(|()| err.flush());
}

/// A text with the part of each line set off that a rule names, by its style and its length in bytes.
fn set_off(text: &str, rule: fn(&str) -> Option<(Style, usize)>) -> String {
    let mut out = String::with_capacity(text.len());
    for line in text.split_inclusive('\n') {
        match rule(line).and_then(|(style, end)| Some((style, line.split_at_checked(end)?))) {
            Some((style, (head, rest))) => out.push_str(&format!("{style}{head}{style:#}{rest}")),
            None => out.push_str(line),
        }
    }
    out
}

/// A line that is not indented begins a part of a table; one that ends in a full stop is a sentence.
fn heading(line: &str) -> Option<(Style, usize)> {
    let line = line.trim_end();
    let is_heading = line.starts_with(|c: char| !c.is_whitespace()) && line.len() <= 80 && !line.ends_with('.');
    is_heading.then_some((HEADING, line.len()))
}

/// The word that says how much a finding weighs, with its code.
fn severity(line: &str) -> Option<(Style, usize)> {
    let (style, word) = [(ERROR, "error"), (WARNING, "warning"), (NOTE, "note"), (NOTE, "help")]
        .into_iter()
        .find(|(_, word)| line.starts_with(word))?;
    match line.get(word.len()..)?.chars().next()? {
        ':' => Some((style, word.len())),
        '[' => Some((style, line.find(']')? + 1)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_are_set_off_and_sentences_are_not() {
        let text = "Takeoff of Sample\n\n  94 bags\nThese figures are estimates.\n";
        let expected = "\u{1b}[1mTakeoff of Sample\u{1b}[0m\n\n  94 bags\nThese figures are estimates.\n";
        assert_eq!(set_off(text, heading), expected);
    }

    #[test]
    fn severities_are_set_off_with_their_codes() {
        let text = "warning[row-doubt]: a.csv:3: odd\nerror: no\n --> a.csv:1\nnotes of somebody\n";
        let expected = "\u{1b}[33mwarning[row-doubt]\u{1b}[0m: a.csv:3: odd\n\u{1b}[1m\u{1b}[31merror\u{1b}[0m: no\n \
                        --> a.csv:1\nnotes of somebody\n";
        assert_eq!(set_off(text, severity), expected);
    }
}
