//! Places in the job file, and refusals at them.

use crate::model::FileRead;
use crate::refusal::{Excerpt, Refusal};
use crate::source::Place;
use crate::units::parse_length;
use std::ops::Range;
use std::path::{Path, PathBuf};
use toml::Spanned;

/// More plates, studs or rows side by side than this is a slip, not framing.
const MOST_PIECES: u32 = 10;

/// The text of a job file, and what is wrong with it.
pub(super) struct Reader<'a> {
    path: &'a str,
    text: &'a str,
    /// What is wrong, in the order in which it was found.
    pub refusals: Vec<Refusal>,
    /// Files that it names and that were read.
    pub sources: Vec<FileRead>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(path: &'a str, text: &'a str) -> Self {
        Self { path, text, refusals: Vec::new(), sources: Vec::new() }
    }

    /// Notes that a part of the file cannot be used.
    pub(super) fn refuse(&mut self, span: Range<usize>, message: impl Into<String>, help: impl Into<String>) {
        let refusal = self.refusal(span, message, help);
        self.refusals.push(refusal);
    }

    /// A refusal at a part of the file.
    pub(super) fn refusal(&self, span: Range<usize>, message: impl Into<String>, help: impl Into<String>) -> Refusal {
        let before = self.text.get(..span.start).unwrap_or(self.text);
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line_end =
            self.text.get(line_start..).and_then(|rest| rest.find('\n')).map_or(self.text.len(), |n| line_start + n);
        let line = self.text.get(line_start..line_end).unwrap_or_default().trim_end_matches('\r');
        let place = self.place(span.start);
        let from = (span.start - line_start.min(span.start)).min(line.len());
        let to = span.end.saturating_sub(line_start).clamp(from, line.len());
        let excerpt = Excerpt { text: line.to_owned(), from, to };
        Refusal::new(place, message, help).with_excerpt(excerpt)
    }

    /// A path that the file gives, from its own folder.
    pub(super) fn beside(&self, path: &str) -> PathBuf {
        Path::new(self.path).parent().unwrap_or(Path::new("")).join(path)
    }

    /// The line and column of a byte.
    pub(super) fn place(&self, at: usize) -> Place {
        let before = self.text.get(..at).unwrap_or(self.text);
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let column = before.get(line_start..).unwrap_or_default().chars().count() + 1;
        Place {
            line: Some(1 + before.matches('\n').count() as u64),
            column: Some(column as u64),
            ..Place::input(self.path)
        }
    }

    /// Reads a length with its unit, in metres; more than zero.
    pub(super) fn length_m(&mut self, text: &Spanned<String>) -> Option<f64> {
        let refused = match parse_length(text.get_ref(), None, false) {
            Ok(length_m) if length_m > 0.0 => return Some(length_m),
            Ok(_) => (format!("`{}` must be more than zero", text.get_ref().trim()), String::new()),
            Err(error) => (error.message, error.help),
        };
        self.refuse(text.span(), refused.0, refused.1);
        None
    }

    /// Reads a number of plates or studs side by side.
    pub(super) fn pieces(&mut self, key: &str, count: Option<&Spanned<u32>>) -> Option<u32> {
        let count = count?;
        if *count.get_ref() > MOST_PIECES {
            let message = format!("`{key}` is {}: expected 0 to {MOST_PIECES}", count.get_ref());
            self.refuse(count.span(), message, "");
        }
        Some(*count.get_ref())
    }

    /// Reads one of some words, each with its meaning.
    pub(super) fn word<T: Copy>(&mut self, key: &str, text: &Spanned<String>, words: &[(&str, T)]) -> Option<T> {
        let given = text.get_ref().trim().to_lowercase();
        let found = words.iter().find(|(word, _)| *word == given).map(|(_, meaning)| *meaning);
        if found.is_none() {
            let known: Vec<String> = words.iter().map(|(word, _)| format!("`{word}`")).collect();
            let message = format!("`{key}` cannot be `{}`", text.get_ref().trim());
            self.refuse(text.span(), message, format!("write {}", known.join(" or ")));
        }
        found
    }

    /// Reads a quantity, and refuses it with the reader's own words.
    pub(super) fn quantity<T>(
        &mut self,
        text: &Spanned<String>,
        parse: impl Fn(&str) -> Result<T, String>,
    ) -> Option<T> {
        parse(text.get_ref()).map_err(|message| self.refuse(text.span(), message, "")).ok()
    }
}
