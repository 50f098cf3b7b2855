//! The document: parsed without document types, its version checked, its places known by line and column.

use super::element::text;
use super::scan::{MOST_ATTRIBUTES, Unread, unread};
use crate::refusal::Refusal;
use crate::source::Place;
use roxmltree::{Node, ParsingOptions};

/// Nodes beyond which no home is described.
const MOST_NODES: u32 = 2_000_000;

/// A document.
pub(super) struct Document<'t> {
    pub path: &'t str,
    text: &'t str,
    tree: roxmltree::Document<'t>,
    places: Places,
}

/// Where the lines of a text begin, and how many characters stand before each mark.
struct Places {
    lines: Vec<usize>,
    marks: Vec<usize>,
}

impl Places {
    fn of(text: &str) -> Self {
        let lines = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        let mut marks = vec![0];
        let mut count = 0;
        for chunk in text.as_bytes().chunks(MARK) {
            count += chunk.iter().filter(|byte| begins_character(**byte)).count();
            marks.push(count);
        }
        Self { lines, marks }
    }

    /// Characters before a byte.
    fn characters(&self, text: &str, at: usize) -> usize {
        let mark = at / MARK;
        let rest = text.as_bytes().get(mark * MARK..at).unwrap_or_default();
        self.marks.get(mark).copied().unwrap_or(0) + rest.iter().filter(|byte| begins_character(**byte)).count()
    }

    /// Line and column, both counted from 1.
    fn line_and_column(&self, text: &str, at: usize) -> (usize, usize) {
        let line = self.lines.partition_point(|start| *start <= at);
        let start = line.checked_sub(1).and_then(|index| self.lines.get(index)).copied().unwrap_or(0);
        (line.max(1), self.characters(text, at).saturating_sub(self.characters(text, start)) + 1)
    }
}

/// Whether a byte of UTF-8 is the first of its character.
fn begins_character(byte: u8) -> bool {
    byte & 0b1100_0000 != 0b1000_0000
}

/// Characters are counted from marks that stand so many bytes apart.
const MARK: usize = 4096;

/// Whether bytes are XML in UTF-16, which begins with a mark of the order of its bytes (XML 1.0, 4.3.3) and with `<`.
pub(super) fn is_utf16(bytes: &[u8]) -> bool {
    bytes.starts_with(b"\xff\xfe<\0") || bytes.starts_with(b"\xfe\xff\0<")
}

/// The text of a file.
pub(super) fn decode<'t>(path: &str, bytes: &'t [u8]) -> Result<&'t str, Box<Refusal>> {
    if is_utf16(bytes) {
        return Err(Box::new(Refusal::new(Place::input(path), "the file is in UTF-16", "save it as UTF-8")));
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    std::str::from_utf8(bytes).map_err(|_| {
        let message = "the file is not in UTF-8";
        Box::new(Refusal::new(Place::input(path), message, "save it in UTF-8"))
    })
}

impl<'t> Document<'t> {
    /// Parses a document and checks that it is HPXML of a version that is read.
    pub fn parse(path: &'t str, text: &'t str) -> Result<Self, Box<Refusal>> {
        let places = Places::of(text);
        let at = |byte: usize| place(path, places.line_and_column(text, byte));
        match unread(text) {
            Some(Unread::DocumentType(byte)) => return Err(document_type(at(byte))),
            Some(Unread::Attributes(byte)) => {
                let message = format!("an element has more than {MOST_ATTRIBUTES} attributes");
                return Err(Box::new(Refusal::new(at(byte), message, "no element of HPXML has so many")));
            }
            None => {}
        }
        let options = ParsingOptions { allow_dtd: false, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
        let tree = roxmltree::Document::parse_with_options(text, options).map_err(|error| {
            let at = error.pos();
            let place = Place { column: Some(u64::from(at.col)), ..Place::line(path, u64::from(at.row)) };
            match error {
                roxmltree::Error::DtdDetected => document_type(place),
                other => Box::new(Refusal::new(place, format!("the file is not well-formed XML: {other}"), "")),
            }
        })?;
        let document = Self { path, text, tree, places };
        document.check()?;
        Ok(document)
    }

    fn check(&self) -> Result<(), Box<Refusal>> {
        let root = self.root();
        if name(root) != "HPXML" {
            let message = format!("the root of the file is `{}`, and not `HPXML`", name(root));
            return Err(Box::new(Refusal::new(self.place(root), message, "give an HPXML file of version 3, 4 or 5")));
        }
        if !["3", "4", "5"].contains(&self.version().split('.').next().unwrap_or_default()) {
            let message = format!("the file is HPXML of version `{}`, and 3 to 5 are read", self.version());
            return Err(Box::new(Refusal::new(self.place(root), message, "convert it to a later version")));
        }
        Ok(())
    }

    pub fn root(&self) -> Node<'_, 't> {
        self.tree.root_element()
    }

    pub fn version(&self) -> &str {
        self.tree.root_element().attribute("schemaVersion").unwrap_or("")
    }

    /// Line and column of an element.
    pub fn place(&self, node: Node<'_, '_>) -> Place {
        place(self.path, self.places.line_and_column(self.text, node.range().start))
    }

    /// The building that is read: of several, the last that is a plan, else the last.
    pub fn building(&self) -> Option<Node<'_, 't>> {
        let buildings = || children(self.root(), "Building");
        let is_plan = |node: &Node<'_, '_>| {
            let event = child(*node, "ProjectStatus").and_then(|status| child(status, "EventType")).map(text);
            event.is_some_and(|event| event.contains("workscope"))
        };
        buildings().filter(is_plan).last().or_else(|| buildings().last())
    }

    /// All buildings but the one that is read.
    pub fn other_buildings(&self) -> Vec<Node<'_, 't>> {
        let own = self.building();
        children(self.root(), "Building").filter(|node| Some(*node) != own).collect()
    }

    /// The enclosure of the building that is read.
    pub fn enclosure(&self) -> Option<Node<'_, 't>> {
        child(child(self.building()?, "BuildingDetails")?, "Enclosure")
    }
}

fn place(path: &str, (line, column): (usize, usize)) -> Place {
    let number = |value: usize| u64::try_from(value).unwrap_or(u64::MAX);
    Place { column: Some(number(column)), ..Place::line(path, number(line)) }
}

fn document_type(place: Place) -> Box<Refusal> {
    Box::new(Refusal::new(
        place,
        "the file has a document type, which may hold entities: these are not read",
        "take `<!DOCTYPE …>` out; HPXML needs none",
    ))
}

/// Name of an element, without its namespace.
pub(super) fn name<'a>(node: Node<'a, '_>) -> &'a str {
    node.tag_name().name()
}

/// The first child of a name.
pub(super) fn child<'a, 't>(node: Node<'a, 't>, word: &str) -> Option<Node<'a, 't>> {
    node.children().find(|node| node.is_element() && node.tag_name().name() == word)
}

/// All children of a name.
pub(super) fn children<'a, 't, 'w>(
    node: Node<'a, 't>,
    word: &'w str,
) -> impl Iterator<Item = Node<'a, 't>> + use<'a, 't, 'w> {
    node.children().filter(move |node| node.is_element() && node.tag_name().name() == word)
}
