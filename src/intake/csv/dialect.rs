//! What stands around the rows of a sheet: its delimiter, and titles above the headings.

use super::columns::Columns;
use super::field::Field;
use super::page::shortened;
use super::sheet::MOST_COLUMNS;
use super::split::{Cell, Record, split};
use crate::finding::{Code, Finding};
use crate::source::Place;

/// Rows of titles that may stand above the headings.
const MOST_TITLES: usize = 20;

/// The delimiter under which the most headings are known, then under which there are the most cells.
pub(super) fn delimiter_of(text: &str) -> char {
    let mut lines = text.lines().filter(|line| !line.trim().is_empty()).take(MOST_TITLES + 1);
    let first = lines.clone().next().unwrap_or_default();
    let is_heading = |line: &&str| [',', ';', '\t'].iter().any(|delimiter| is_headings(&cells_of(line, *delimiter)));
    let mut heading = lines.find(is_heading).unwrap_or(first);
    if let Some(named) = first.trim().strip_prefix("sep=").and_then(|rest| rest.chars().next())
        && matches!(named, ',' | ';')
    {
        return named;
    }
    heading = heading.trim_end_matches(['\r', '\n']);
    let score = |delimiter: char| {
        let cells = cells_of(heading, delimiter);
        (Columns::of(&cells).known_count(), cells.len())
    };
    let mut best = (',', score(','));
    for delimiter in [';', '\t'] {
        let next = score(delimiter);
        if next > best.1 {
            best = (delimiter, next);
        }
    }
    best.0
}

/// The cells of a line of headings.
fn cells_of(line: &str, delimiter: char) -> Vec<Cell> {
    let mut cells = split(line, delimiter).into_iter().next().map(|record| record.cells).unwrap_or_default();
    cells.truncate(MOST_COLUMNS);
    cells
}

/// Whether a row that does not stand first is the headings for certain.
fn is_headings(cells: &[Cell]) -> bool {
    let columns = Columns::of(cells.get(..MOST_COLUMNS.min(cells.len())).unwrap_or_default());
    columns.has(Field::Id) && columns.has(Field::Kind) && columns.known_count() >= 3
}

/// How many rows of titles stand above the headings; each is named in a finding.
pub(super) fn titles_above(path: &str, records: &[Record], findings: &mut Vec<Finding>) -> usize {
    let Some(first) = records.first() else { return 0 };
    if Columns::of(first.cells.get(..MOST_COLUMNS.min(first.cells.len())).unwrap_or_default()).known_count() > 1 {
        return 0;
    }
    let titles = records.iter().take(MOST_TITLES + 1).position(|record| is_headings(&record.cells)).unwrap_or(0);
    for title in records.iter().take(titles) {
        let words: Vec<&str> =
            title.cells.iter().map(|cell| cell.value.trim()).filter(|word| !word.is_empty()).collect();
        let message = shortened(format!("the row `{}` stands above the headings and was skipped", words.join(", ")));
        findings.push(Finding::note(Code::RowDoubt, &Place::line(path, title.line), message));
    }
    titles
}

/// Some spreadsheets write `sep=;` above the headings.
pub(super) fn is_separator_line(record: &Record) -> bool {
    record.cells.first().is_some_and(|cell| cell.value.trim().starts_with("sep="))
}
