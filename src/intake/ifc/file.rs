//! An exchange file in memory: its records by instance name and by class, its schema and its places.

use super::bytes::{behind_name, column_at, line_at};
use super::class::Class;
use super::record::{Record, split_list, string_of};
use super::scan::{FormError, Scan, Slot, scan};
use super::text::decode;
use super::trouble::Trouble;
use crate::finding::{Code, Finding};
use crate::refusal::{Excerpt, Refusal};
use crate::source::Place;
use std::sync::OnceLock;

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
    /// Index into the slots by instance name, where the names are dense; else empty.
    dense: Vec<u32>,
    /// Schema, in capitals, as the header names it; `None` without a header.
    pub schema: Option<String>,
    lines: OnceLock<Vec<u64>>,
}

impl<'a> File<'a> {
    /// Scans a file.
    ///
    /// # Errors
    /// A breach of the form, or a schema that is not read.
    pub fn open(path: &'a str, bytes: &'a [u8]) -> Result<Self, Refusal> {
        let start = if bytes.starts_with(b"\xef\xbb\xbf") { 3 } else { 0 };
        let scan = scan(bytes, start).map_err(|error| form_refusal(path, bytes, &error))?;
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
        let dense = dense_index(&scan.slots);
        Ok(Self { path, bytes, scan, dense, schema, lines: OnceLock::new() })
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

    fn slot(&self, id: u64) -> Option<&Slot> {
        if self.dense.is_empty() {
            let at = self.scan.slots.binary_search_by_key(&id, |slot| slot.id).ok()?;
            return self.scan.slots.get(at);
        }
        let at = *self.dense.get(usize::try_from(id).ok()?)?;
        self.scan.slots.get(usize::try_from(at).ok()?)
    }

    /// A record, decoded.
    ///
    /// # Errors
    /// Where the file does not hold it.
    pub fn record(&self, id: u64) -> Result<Record<'a>, Trouble> {
        let missing = || Trouble::new(Code::DanglingReference, id, format!("#{id} is not in the file"));
        let slot = self.slot(id).ok_or_else(missing)?;
        let start = usize::try_from(slot.start).ok().and_then(|from| self.bytes.get(from..));
        let body = start.and_then(behind_name).ok_or_else(missing)?;
        Ok(Record::split(id, body))
    }

    /// A record that another one refers to; the trouble of a missing one names both.
    ///
    /// # Errors
    /// Where the file does not hold it.
    pub fn follow(&self, from: u64, id: u64) -> Result<Record<'a>, Trouble> {
        self.record(id).map_err(|trouble| match self.slot(id) {
            None => Trouble::new(
                Code::DanglingReference,
                from,
                format!("#{from} refers to #{id}, which is not in the file"),
            ),
            Some(_) => trouble,
        })
    }

    /// The line of a record, counted from 1.
    pub fn line(&self, id: u64) -> Option<u64> {
        let start = self.slot(id)?.start;
        let lines = self.lines.get_or_init(|| {
            let mut lines = vec![0];
            for chunk in self.bytes.chunks(STRIDE) {
                let before = lines.last().copied().unwrap_or(0);
                lines.push(before + line_at(chunk, u64::MAX) - 1);
            }
            lines
        });
        let chunk = usize::try_from(start).ok()? / STRIDE;
        let from = chunk * STRIDE;
        let within = line_at(self.bytes.get(from..).unwrap_or_default(), start - from as u64);
        Some(lines.get(chunk).copied().unwrap_or(0) + within)
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

fn dense_index(slots: &[Slot]) -> Vec<u32> {
    let most = slots.last().map_or(0, |slot| slot.id);
    let Ok(most) = usize::try_from(most) else { return Vec::new() };
    // Instance names never size an array unless most of its places are used.
    if most / 4 > slots.len() || u32::try_from(slots.len()).is_err() {
        return Vec::new();
    }
    let mut dense = vec![u32::MAX; most + 1];
    for (at, slot) in slots.iter().enumerate() {
        if let (Ok(id), Ok(at)) = (usize::try_from(slot.id), u32::try_from(at))
            && let Some(place) = dense.get_mut(id)
        {
            *place = at;
        }
    }
    dense
}

fn schema_of(header: &[u8]) -> Option<String> {
    let upper = header.to_ascii_uppercase();
    let at = memchr::memmem::find(&upper, b"FILE_SCHEMA")?;
    let list = *split_list(header.get(at..)?).first()?;
    let name = decode(string_of(split_list(list).first()?)?).text;
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
