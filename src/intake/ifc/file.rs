//! An exchange file in memory: its records by instance name and by class, its schema and its places.

use super::bytes::{behind_name, column_at, line_at, to_u64};
use super::class::Class;
use super::record::{Record, items_of, string_of};
use super::scan::{FormError, Scan, scan};
use super::text::decode;
use super::trouble::Trouble;
use crate::finding::{Code, Finding};
use crate::refusal::{Excerpt, Refusal};
use crate::source::Place;
use rayon::prelude::*;

/// Schemas that are read, as `FILE_SCHEMA` names them.
pub const SCHEMAS: [&str; 3] = ["IFC2X3", "IFC4", "IFC4X3"];

/// Bytes between two known line numbers.
const STRIDE: usize = 1 << 20;

/// An exchange file in memory.
#[derive(Debug)]
pub struct File<'a> {
    path: &'a str,
    bytes: &'a [u8],
    scan: Scan,
    /// Schema, in capitals, as the header names it; `None` without a header.
    pub schema: Option<String>,
    /// Lines before each stride.
    lines: Vec<u64>,
}

impl<'a> File<'a> {
    /// Scans a file.
    ///
    /// # Errors
    /// A breach of the form, or a schema that is not read.
    pub fn open(path: &'a str, bytes: &'a [u8]) -> Result<Self, Refusal> {
        let start = if bytes.starts_with(b"\xef\xbb\xbf") { 3 } else { 0 };
        let (scan, lines) = rayon::join(|| scan(bytes, start), || lines_before(bytes));
        let scan = scan.map_err(|error| form_refusal(path, bytes, &error))?;
        let schema = schema_of(bytes.get(scan.header.0..scan.header.1).unwrap_or_default());
        if let Some(name) = &schema
            && !SCHEMAS.iter().any(|known| is_schema(name, known))
        {
            return Err(Refusal::new(
                Place::input(path),
                format!("schema `{name}` is not read; IFC2X3, IFC4 and IFC4X3 are"),
                "ask for an export as IFC4 Reference View or IFC2X3 Coordination View",
            ));
        }
        Ok(Self { path, bytes, scan, schema, lines })
    }

    /// Path, as it was given.
    pub fn path(&self) -> &'a str {
        self.path
    }

    /// Instance names of a class, in the order of the file.
    pub fn of_class(&self, class: Class) -> impl Iterator<Item = u64> + '_ {
        self.scan.by_class.iter().filter(move |(found, _)| *found == class).map(|(_, id)| *id)
    }

    /// Every indexed record, in the order of the file.
    pub fn indexed(&self) -> &[(Class, u64)] {
        &self.scan.by_class
    }

    /// A record, decoded.
    ///
    /// # Errors
    /// Where the file does not hold it.
    pub fn record(&self, id: u64) -> Result<Record<'a>, Trouble> {
        let missing = || Trouble::new(Code::DanglingReference, id, format!("#{id} is not in the file"));
        let record = self.scan.index.start(id).and_then(|start| self.bytes.get(start..));
        let body = record.and_then(behind_name).ok_or_else(missing)?;
        Ok(Record::split(id, body))
    }

    /// A record that another one refers to; the trouble of a missing one names both.
    ///
    /// # Errors
    /// Where the file does not hold it.
    pub fn follow(&self, from: u64, id: u64) -> Result<Record<'a>, Trouble> {
        self.record(id).map_err(|trouble| match self.scan.index.start(id) {
            None => Trouble::new(
                Code::DanglingReference,
                from,
                format!("#{from} refers to #{id}, which is not in the file"),
            ),
            Some(_) => trouble,
        })
    }

    /// Where the records of the last data section end, and the largest instance name.
    pub fn end(&self) -> (usize, u64) {
        (self.scan.data_end, self.scan.index.largest())
    }

    /// A record as it stands in the file, to the end of its last line or so many bytes.
    pub fn text_of(&self, id: u64, most: usize) -> Option<String> {
        let start = self.scan.index.start(id)?;
        let rest = self.bytes.get(start..)?;
        let shown = rest.get(..most).unwrap_or(rest);
        let ends = memchr::memchr_iter(b';', shown);
        let is_end = |at: &usize| shown.get(at + 1).is_none_or(|next| matches!(next, b'\n' | b'\r' | b' ' | b'#'));
        let whole = ends.filter(is_end).map(|at| at + 1).next();
        let text = String::from_utf8_lossy(shown.get(..whole.unwrap_or(shown.len())).unwrap_or_default());
        let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        Some(if whole.is_some() { line } else { format!("{line} …") })
    }

    /// The line of a record, counted from 1.
    pub fn line(&self, id: u64) -> Option<u64> {
        let start = self.scan.index.start(id)?;
        let stride = start / STRIDE;
        let from = stride * STRIDE;
        let within = line_at(self.bytes.get(from..).unwrap_or_default(), to_u64(start - from));
        Some(self.lines.get(stride).copied().unwrap_or(0) + within)
    }

    /// The place of a record.
    pub fn place(&self, entity: u64, global_id: Option<&str>) -> Place {
        Place {
            input: self.path.to_owned(),
            line: self.line(entity),
            column: None,
            entity: Some(entity),
            id: global_id.map(str::to_owned),
        }
    }

    /// Findings about the form of the file as a whole.
    pub fn form_findings(&self) -> Vec<Finding> {
        let place = |error: &FormError| Place::line(self.path, line_at(self.bytes, error.offset as u64));
        let mut findings: Vec<Finding> = self
            .scan
            .doubts
            .iter()
            .map(|doubt| Finding::warning(Code::FileForm, &place(doubt), doubt.message.clone()))
            .collect();
        if self.schema.is_none() {
            let message = "no FILE_SCHEMA in the header; the file is read as IFC4";
            findings.push(Finding::warning(Code::SchemaDoubt, &Place::input(self.path), message));
        }
        findings
    }

    /// Whether the file follows a schema; a file without one is read as IFC4.
    pub fn is_schema(&self, known: &str) -> bool {
        is_schema(self.schema.as_deref().unwrap_or("IFC4"), known)
    }
}

/// `IFC4X3_ADD2` is a stage of `IFC4X3`; `IFC4X1` is no stage of `IFC4`.
fn is_schema(name: &str, known: &str) -> bool {
    name == known || name.strip_prefix(known).is_some_and(|stage| stage.starts_with('_'))
}

/// How many lines end before each stride.
fn lines_before(bytes: &[u8]) -> Vec<u64> {
    // What stands behind a stride tells whether a CR at its end is followed by its LF.
    let ended = |stride: usize| line_at(bytes.get(stride * STRIDE..).unwrap_or_default(), to_u64(STRIDE)) - 1;
    let mut lines: Vec<u64> = (0..bytes.len().div_ceil(STRIDE)).into_par_iter().map(ended).collect();
    let mut before = 0;
    for count in &mut lines {
        before += std::mem::replace(count, before);
    }
    lines
}

fn schema_of(header: &[u8]) -> Option<String> {
    let upper = header.to_ascii_uppercase();
    let at = memchr::memmem::find(&upper, b"FILE_SCHEMA")?;
    let list = items_of(header.get(at..)?).next()?;
    let name = decode(string_of(items_of(list).next()?)?).text;
    Some(name.trim().to_ascii_uppercase())
}

fn form_refusal(path: &str, bytes: &[u8], error: &FormError) -> Refusal {
    let line = line_at(bytes, error.offset as u64);
    let column = column_at(bytes, error.offset);
    let place = Place { column: Some(column), ..Place::line(path, line) };
    let help = "the file is damaged or was cut off: export it again";
    Refusal::new(place, error.message.clone(), help).with_excerpt(excerpt(bytes, error.offset))
}

/// The line around an offset, cut to a window where it is very long.
fn excerpt(bytes: &[u8], offset: usize) -> Excerpt {
    const WINDOW: usize = 60;
    let offset = offset.min(bytes.len());
    let before = bytes.get(..offset).unwrap_or_default();
    let start = memchr::memrchr2(b'\n', b'\r', before).map_or(0, |at| at + 1).max(offset.saturating_sub(WINDOW));
    let rest = bytes.get(offset..).unwrap_or_default();
    let end = offset + memchr::memchr2(b'\n', b'\r', rest).unwrap_or(rest.len()).min(WINDOW);
    let lossy = |from, to| String::from_utf8_lossy(bytes.get(from..to).unwrap_or_default()).into_owned();
    let (head, tail) = (lossy(start, offset), lossy(offset, end));
    let width = tail.chars().next().map_or(0, char::len_utf8);
    Excerpt { from: head.len(), to: head.len() + width, text: head + &tail }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_that_ends_across_two_strides_is_counted_once() {
        let mut bytes = vec![b' '; STRIDE * 2];
        bytes.splice(STRIDE - 1..=STRIDE, *b"\r\n");
        assert_eq!(lines_before(&bytes), [0, 0]);
        bytes.splice(..5, *b"\n\r\r\n\n");
        bytes.push(b'x');
        assert_eq!(lines_before(&bytes), [0, 4, 5]);
    }
}
