//! Text to records and cells that know their place (RFC 4180, read with tolerance).
//!
//! A cell keeps the bytes that it stands on, so that a message can show them; that is why the
//! splitting is done here. Line ends are CR LF, LF or CR.

use std::ops::Range;

/// One cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Cell {
    /// Its text, quotation marks taken off.
    pub value: String,
    /// Its bytes in the text.
    pub span: Range<usize>,
    /// Line that it begins on, counted from 1.
    pub line: u64,
    /// First byte of that line.
    pub line_start: usize,
    /// What is wrong with its quotation marks.
    pub fault: Option<QuoteFault>,
}

/// What may be wrong with the quotation marks of a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum QuoteFault {
    /// The closing mark is missing; the cell takes the rest of the file.
    Open,
    /// Text follows the closing mark.
    TextBehind,
}

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Record {
    /// Line that it begins on, counted from 1.
    pub line: u64,
    /// Its cells.
    pub cells: Vec<Cell>,
}

impl Record {
    /// Whether nothing stands in it.
    pub fn is_blank(&self) -> bool {
        self.cells.iter().all(|cell| cell.value.trim().is_empty() && cell.fault.is_none())
    }
}

/// Splits a text into its records, blank ones left out.
pub(super) fn split(text: &str, delimiter: char) -> Vec<Record> {
    let mut splitter = Splitter { text, delimiter, at: 0, line: 1, line_start: 0 };
    let mut records = Vec::new();
    while splitter.at < text.len() {
        let record = splitter.record();
        if !record.is_blank() {
            records.push(record);
        }
    }
    records
}

struct Splitter<'t> {
    text: &'t str,
    delimiter: char,
    at: usize,
    line: u64,
    line_start: usize,
}

impl Splitter<'_> {
    fn peek(&self) -> Option<char> {
        self.text.get(self.at..)?.chars().next()
    }

    fn rest_starts_with(&self, what: &str) -> bool {
        self.text.get(self.at..).is_some_and(|rest| rest.starts_with(what))
    }

    /// Takes one line end, counting it.
    fn take_line_end(&mut self) {
        self.at += if self.rest_starts_with("\r\n") { 2 } else { 1 };
        self.line += 1;
        self.line_start = self.at;
    }

    fn record(&mut self) -> Record {
        let line = self.line;
        let mut cells = Vec::new();
        loop {
            cells.push(self.cell());
            match self.peek() {
                Some(c) if c == self.delimiter => self.at += c.len_utf8(),
                Some(_) => {
                    self.take_line_end();
                    return Record { line, cells };
                }
                None => return Record { line, cells },
            }
        }
    }

    fn cell(&mut self) -> Cell {
        let (start, line, line_start) = (self.at, self.line, self.line_start);
        let rest = self.text.get(start..).unwrap_or_default();
        let blanks = rest.len() - rest.trim_start_matches(' ').len();
        let (value, fault) = if rest.get(blanks..).is_some_and(|r| r.starts_with('"')) {
            self.at += blanks + 1;
            self.quoted()
        } else {
            (self.plain(), None)
        };
        Cell { value, span: start..self.at, line, line_start, fault }
    }

    /// Up to the next delimiter or line end.
    fn plain(&mut self) -> String {
        let rest = self.text.get(self.at..).unwrap_or_default();
        let len = rest.find([self.delimiter, '\n', '\r']).unwrap_or(rest.len());
        self.at += len;
        rest.get(..len).unwrap_or_default().to_owned()
    }

    fn quoted(&mut self) -> (String, Option<QuoteFault>) {
        let mut value = String::new();
        loop {
            match self.peek() {
                None => return (value, Some(QuoteFault::Open)),
                Some('"') if self.rest_starts_with("\"\"") => {
                    value.push('"');
                    self.at += 2;
                }
                Some('"') => {
                    self.at += 1;
                    let behind = self.plain();
                    let is_text = !behind.trim().is_empty();
                    if is_text {
                        value.push('"');
                        value.push_str(&behind);
                    }
                    return (value, is_text.then_some(QuoteFault::TextBehind));
                }
                Some('\n' | '\r') => {
                    value.push('\n');
                    self.take_line_end();
                }
                Some(c) => {
                    value.push(c);
                    self.at += c.len_utf8();
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn values(text: &str) -> Vec<Vec<String>> {
        split(text, ',').into_iter().map(|r| r.cells.into_iter().map(|c| c.value).collect()).collect()
    }

    // RFC 4180 section 2: quoted cells hold delimiters, line ends and doubled quotation marks.
    #[test]
    fn quoted_cells_follow_the_rfc() {
        let rows = values("a,\"b,1\",\"c\r\n2\",\"8'-1\"\"\"\r\n\r\n,\nx, \"y\" ,8'-1\"\r");
        assert_eq!(rows, [vec!["a", "b,1", "c\n2", "8'-1\""], vec!["x", "y", "8'-1\""]]);
    }

    #[test]
    fn cells_know_their_line_and_bytes() {
        let records = split("a,\"b\r\nc\"\nd,ef", ',');
        let last = &records[1].cells[1];
        assert_eq!((last.line, last.line_start, last.span.clone()), (3, 9, 11..13));
    }

    #[test]
    fn faults_of_quotation_marks_are_kept() {
        assert_eq!(split("\"a\" b,c", ',')[0].cells[0].fault, Some(QuoteFault::TextBehind));
        assert_eq!(split("\"a,c\nd", ',')[0].cells[0].fault, Some(QuoteFault::Open));
    }

    proptest! {
        // The `csv` crate writes; what it wrote must be read back as it was.
        #[test]
        fn what_another_library_writes_is_read_back(
            rows in proptest::collection::vec(proptest::collection::vec("[a-z0-9\"',; \n½-]{0,6}x", 3), 1..5)
        ) {
            let mut writer = csv::WriterBuilder::new().quote_style(csv::QuoteStyle::Always).from_writer(Vec::new());
            for row in &rows {
                writer.write_record(row).unwrap();
            }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            prop_assert_eq!(values(&text), rows);
        }
    }
}
