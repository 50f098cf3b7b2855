//! The takeoff as JSON.

use crate::takeoff::Takeoff;
use serde::Serialize;
use serde_json::ser::{CompactFormatter, Formatter, PrettyFormatter, Serializer};
use std::io;

/// The takeoff as JSON, the small things (members, bays, rings) one a line.
///
/// # Errors
/// None that a takeoff can bring about; the writer's error is passed on all the same.
pub fn render_json(takeoff: &Takeoff) -> io::Result<Vec<u8>> {
    let mut out = Vec::new();
    takeoff.serialize(&mut Serializer::with_formatter(&mut out, Shallow::default())).map_err(io::Error::from)?;
    out.push(b'\n');
    Ok(out)
}

/// Indents down to a level and writes what lies deeper on one line.
#[derive(Default)]
struct Shallow {
    depth: usize,
    pretty: PrettyFormatter<'static>,
}

/// Top, list of surfaces, surface, list of bays.
const DEEPEST: usize = 4;

impl Shallow {
    fn is_pretty(&self) -> bool {
        self.depth <= DEEPEST
    }
}

impl Formatter for Shallow {
    fn begin_array<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.depth += 1;
        if self.is_pretty() { self.pretty.begin_array(writer) } else { CompactFormatter.begin_array(writer) }
    }

    fn end_array<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        let is_pretty = self.is_pretty();
        self.depth -= 1;
        if is_pretty { self.pretty.end_array(writer) } else { CompactFormatter.end_array(writer) }
    }

    fn begin_array_value<W: ?Sized + io::Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        if self.is_pretty() {
            self.pretty.begin_array_value(writer, first)
        } else {
            CompactFormatter.begin_array_value(writer, first)
        }
    }

    fn end_array_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        if self.is_pretty() { self.pretty.end_array_value(writer) } else { Ok(()) }
    }

    fn begin_object<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.depth += 1;
        if self.is_pretty() { self.pretty.begin_object(writer) } else { CompactFormatter.begin_object(writer) }
    }

    fn end_object<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        let is_pretty = self.is_pretty();
        self.depth -= 1;
        if is_pretty { self.pretty.end_object(writer) } else { CompactFormatter.end_object(writer) }
    }

    fn begin_object_key<W: ?Sized + io::Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        if self.is_pretty() {
            self.pretty.begin_object_key(writer, first)
        } else {
            CompactFormatter.begin_object_key(writer, first)
        }
    }

    fn begin_object_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        if self.is_pretty() {
            self.pretty.begin_object_value(writer)
        } else {
            CompactFormatter.begin_object_value(writer)
        }
    }

    fn end_object_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        if self.is_pretty() { self.pretty.end_object_value(writer) } else { Ok(()) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_lies_deep_stands_on_one_line_and_reads_back() {
        let value = serde_json::json!({"a": [{"b": [{"c": [[1.5, 2.0]], "d": null}, {}], "e": []}], "f": {}});
        let mut out = Vec::new();
        value.serialize(&mut Serializer::with_formatter(&mut out, Shallow::default())).unwrap();
        let text = String::from_utf8(out).unwrap();
        assert!(text.contains("{\"c\":[[1.5,2.0]],\"d\":null}"), "{text}");
        assert_eq!(serde_json::from_str::<serde_json::Value>(&text).unwrap(), value);
    }
}
