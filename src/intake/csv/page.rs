//! A page of text: places in it, refusals of its cells, and the lines that are shown with them.

use super::split::{Cell, QuoteFault};
use crate::refusal::{Excerpt, Refusal};
use crate::source::Place;

/// A line that is longer than this is shown in part.
const EXCERPT_BYTES: usize = 400;
/// A message that is longer than this is cut.
const MESSAGE_CHARS: usize = 300;

/// A file's text.
pub(super) struct Page<'f> {
    pub path: &'f str,
    pub text: String,
}

impl Page<'_> {
    /// The place of a cell.
    pub fn place(&self, cell: &Cell, id: Option<&str>) -> Place {
        let blanks = self.text.get(cell.span.clone()).map_or(0, |raw| raw.len() - raw.trim_start_matches(' ').len());
        let before = self.text.get(cell.line_start..cell.span.start + blanks).unwrap_or_default();
        let column = u64::try_from(before.chars().count()).unwrap_or(u64::MAX).saturating_add(1);
        Place {
            input: self.path.to_owned(),
            line: Some(cell.line),
            column: Some(column),
            entity: None,
            id: id.map(str::to_owned),
        }
    }

    /// A refusal of a whole cell.
    pub fn at(&self, cell: &Cell, id: Option<&str>, message: String, help: &str) -> Refusal {
        Refusal::new(self.place(cell, id), shortened(message), help).with_excerpt(self.excerpt(cell, None))
    }

    /// A refusal of a cell whose quotation marks are at fault.
    pub fn quote_refusal(&self, cell: &Cell, id: Option<&str>) -> Refusal {
        let lines = cell.value.matches('\n').count();
        let message = match cell.fault {
            Some(QuoteFault::Open) if lines > 0 => {
                format!("a quoted cell is not closed and takes the {lines} lines below it")
            }
            Some(QuoteFault::Open) => "a quoted cell is not closed".to_owned(),
            Some(QuoteFault::TextBehind) | None => "text follows the quotation mark that closes a cell".to_owned(),
        };
        let help = "within quotation marks an inch mark is written twice: `\"8'-1 1/8\"\"\"`; or leave the marks out: `8'-1 1/8 in`";
        self.at(cell, id, message, help)
    }

    /// The line of a cell, with the cell or a part of its value marked.
    pub fn excerpt(&self, cell: &Cell, part: Option<&str>) -> Excerpt {
        let line = self.text.get(cell.line_start..).unwrap_or_default();
        let line = line.split(['\n', '\r']).next().unwrap_or_default();
        let (mut from, mut to) = (cell.span.start - cell.line_start, (cell.span.end - cell.line_start).min(line.len()));
        let raw = line.get(from..to).unwrap_or_default();
        if let Some((at, part)) =
            part.filter(|part| !part.is_empty()).and_then(|part| raw.find(part).map(|at| (at, part)))
        {
            from += at;
            to = from + part.len();
        }
        window(line, from, to)
    }
}

/// A message that quotes a very long cell is cut.
pub(super) fn shortened(message: String) -> String {
    match message.char_indices().nth(MESSAGE_CHARS) {
        Some((end, _)) => format!("{}…", message.get(..end).unwrap_or_default()),
        None => message,
    }
}

/// A line, or what of a very long one stands around a part of it.
fn window(line: &str, from: usize, to: usize) -> Excerpt {
    if line.len() <= EXCERPT_BYTES {
        return Excerpt { text: line.to_owned(), from, to };
    }
    let whole = |mut at: usize| {
        while !line.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = whole(from.saturating_sub(EXCERPT_BYTES / 4));
    let end = whole((start + EXCERPT_BYTES).min(line.len()));
    let text = line.get(start..end).unwrap_or_default().to_owned();
    Excerpt { from: from - start, to: whole(to.min(end)).max(from) - start, text }
}
