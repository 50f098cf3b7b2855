//! The takeoff as JSON.

use crate::takeoff::Takeoff;
use rayon::prelude::*;
use serde::Serialize;
use serde_json::ser::{CompactFormatter, Formatter, PrettyFormatter, Serializer};
use std::io;

/// Surfaces that are rendered as one piece of work.
const TOGETHER: usize = 256;

/// The takeoff as JSON, the small things (members, bays, rings) one a line.
///
/// # Errors
/// None that a takeoff can bring about; the writer's error is passed on all the same.
pub fn render_json(takeoff: &Takeoff) -> io::Result<Vec<u8>> {
    Ok(json_pieces(takeoff)?.concat())
}

/// The same in pieces, one behind the other: surfaces are rendered several at once.
///
/// # Errors
/// As [`render_json`].
pub(super) fn json_pieces(takeoff: &Takeoff) -> io::Result<Vec<Vec<u8>>> {
    // No field can be left out here: the compiler asks for every one, and for a use of each.
    let Takeoff {
        format,
        version,
        project,
        exposure_asked,
        inputs,
        job_files,
        assumptions,
        surfaces,
        fills,
        labour,
        left_in_machine_kg,
        crew_seen_from,
        cautions,
        holes,
        framing_fraction,
        framing,
        types,
        balance,
        left_out_elements,
        findings,
    } = takeoff;
    let mut head = Fields::begin()?;
    head.add("format", format)?;
    head.add("version", version)?;
    head.add("project", project)?;
    head.add("exposure_asked", exposure_asked)?;
    head.add("inputs", inputs)?;
    head.add("job_files", job_files)?;
    head.add("assumptions", assumptions)?;
    head.key("surfaces")?;
    if surfaces.is_empty() {
        head.value(surfaces)?;
    }
    let mut tail = head.split();
    tail.add("fills", fills)?;
    tail.add("labour", labour)?;
    tail.add("left_in_machine_kg", left_in_machine_kg)?;
    tail.add("crew_seen_from", crew_seen_from)?;
    tail.add("cautions", cautions)?;
    tail.add("holes", holes)?;
    tail.add("framing_fraction", framing_fraction)?;
    tail.add("framing", framing)?;
    tail.add("types", types)?;
    tail.add("balance", balance)?;
    tail.add("left_out_elements", left_out_elements)?;
    tail.add("findings", findings)?;
    let mut pieces = vec![head.out];
    pieces.extend(list_pieces(surfaces, &head.formatter)?);
    pieces.push(tail.end()?);
    Ok(pieces)
}

/// A list within the whole, in pieces; none where it is empty.
fn list_pieces<T: Serialize + Sync>(list: &[T], formatter: &Shallow) -> io::Result<Vec<Vec<u8>>> {
    let mut within = formatter.clone();
    let (mut begin, mut end) = (Vec::new(), Vec::new());
    within.begin_array(&mut begin)?;
    let render = |(index, together): (usize, &[T])| -> io::Result<Vec<u8>> {
        let mut out = if index == 0 { begin.clone() } else { Vec::new() };
        for (place, one) in together.iter().enumerate() {
            let mut formatter = within.clone();
            formatter.begin_array_value(&mut out, index + place == 0)?;
            one.serialize(&mut Serializer::with_formatter(&mut out, formatter)).map_err(io::Error::from)?;
        }
        Ok(out)
    };
    let rendered: Vec<io::Result<Vec<u8>>> = list.par_chunks(TOGETHER).enumerate().map(render).collect();
    let mut pieces: Vec<Vec<u8>> = rendered.into_iter().collect::<io::Result<_>>()?;
    if let Some(last) = pieces.last_mut() {
        within.end_array_value(&mut end)?;
        within.end_array(&mut end)?;
        last.append(&mut end);
    }
    Ok(pieces)
}

/// The fields of the outermost object.
struct Fields {
    out: Vec<u8>,
    formatter: Shallow,
    is_first: bool,
}

impl Fields {
    fn begin() -> io::Result<Self> {
        let mut fields = Self { out: Vec::new(), formatter: Shallow::default(), is_first: true };
        fields.formatter.begin_object(&mut fields.out)?;
        Ok(fields)
    }

    fn add(&mut self, name: &str, value: &impl Serialize) -> io::Result<()> {
        self.key(name)?;
        self.value(value)
    }

    fn key(&mut self, name: &str) -> io::Result<()> {
        self.formatter.begin_object_key(&mut self.out, std::mem::replace(&mut self.is_first, false))?;
        name.serialize(&mut Serializer::new(&mut self.out)).map_err(io::Error::from)?;
        self.formatter.end_object_key(&mut self.out)?;
        self.formatter.begin_object_value(&mut self.out)
    }

    fn value(&mut self, value: &impl Serialize) -> io::Result<()> {
        let within = self.formatter.clone();
        value.serialize(&mut Serializer::with_formatter(&mut self.out, within)).map_err(io::Error::from)?;
        self.formatter.end_object_value(&mut self.out)
    }

    /// What follows a value that is rendered elsewhere.
    fn split(&self) -> Self {
        let mut formatter = self.formatter.clone();
        // Nothing is written at the end of a value; the formatter only learns that there was one.
        let _ = formatter.end_object_value(&mut Vec::new());
        Self { out: Vec::new(), formatter, is_first: false }
    }

    fn end(mut self) -> io::Result<Vec<u8>> {
        self.formatter.end_object(&mut self.out)?;
        self.out.push(b'\n');
        Ok(self.out)
    }
}

/// Indents down to a level and writes what lies deeper on one line.
#[derive(Clone, Default)]
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
    use crate::job::Job;
    use crate::model::{Building, Extent, Surface, SurfaceKind};
    use crate::source::Source;

    #[test]
    fn pieces_give_what_one_pass_gives() {
        for count in [0_usize, 1, TOGETHER, TOGETHER + 1] {
            let surface = |n: usize| {
                Surface::new(n.to_string(), Source::of_line("a.csv", 2), SurfaceKind::Wall, Extent::AreaM2(9.5))
            };
            let building = Building { surfaces: (0..count).map(surface).collect(), ..Building::default() };
            let takeoff = crate::takeoff::build(&building, &Job::default()).unwrap();
            let mut one = Vec::new();
            takeoff.serialize(&mut Serializer::with_formatter(&mut one, Shallow::default())).unwrap();
            one.push(b'\n');
            assert!(render_json(&takeoff).unwrap() == one, "{count}");
        }
    }

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
