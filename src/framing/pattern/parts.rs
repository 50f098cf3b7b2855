//! Parts of framing from the outer face inwards, and what they make together.

use super::FramingTextError;
use super::frame::{Frame, read_frame};
use super::size::read_size;
use super::text::{read_dividers, read_length, read_spacing, refused, refused_for};
use crate::framing::{Framing, MemberRow, RowRun};
use crate::model::Assumption;

/// Deepest framing of several parts, in metres.
const DEEPEST_M: f64 = 1.5;
const DOUBLE: &str = "`2x4 @ 16 in + gap 4 in + 2x4 @ 16 in`";
const STRAPPED: &str = "`2x6 @ 16 in + strapping 2x2 @ 24 in`";

/// One part.
pub(super) enum Part {
    /// Members and their plates.
    Frame(Frame),
    /// Room between two frames.
    Gap { text: String, depth_m: f64 },
    /// Members across the others.
    Strapping(Frame),
    /// A cavity that is not filled.
    Service { text: String },
    /// Dividers of no thickness.
    Dividers { text: String, every_m: f64 },
}

impl Part {
    fn text(&self) -> &str {
        match self {
            Self::Frame(frame) | Self::Strapping(frame) => &frame.text,
            Self::Gap { text, .. } | Self::Service { text } | Self::Dividers { text, .. } => text,
        }
    }
}

/// Splits at every `+` that is not the sign of a number.
pub(super) fn split(text: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut rest = text;
    let mut from = 0;
    while let Some(at) = rest.get(from..).and_then(|tail| tail.find('+')).map(|at| from + at) {
        let (before, after) = (rest.get(..at).unwrap_or_default(), rest.get(at + 1..).unwrap_or_default());
        if before.trim_end().ends_with(['@', 'x']) {
            from = at + 1;
        } else {
            parts.push(before.trim());
            (rest, from) = (after, 0);
        }
    }
    parts.push(rest.trim());
    parts
}

/// Reads one part.
pub(super) fn read(text: &str) -> Result<Part, FramingTextError> {
    let (word, rest) = text.split_once(' ').unwrap_or((text, ""));
    match word {
        "gap" | "space" => read_gap(rest),
        "strapping" | "straps" | "strap" | "battens" | "furring" => Ok(Part::Strapping(read_across(rest)?)),
        "service" => {
            let rest = rest.strip_prefix("cavity ").unwrap_or(rest);
            let own = read_sawn(rest, "`2x6 @ 16 in + service 2x3 @ 24 in`")?;
            Ok(Part::Service { text: format!("service {}", own.text) })
        }
        "divider" | "dividers" => {
            let every = read_dividers(rest.trim_start_matches('@').trim())?;
            Ok(Part::Dividers { text: format!("dividers @ {}", every.text), every_m: every.metres })
        }
        _ => match text.strip_suffix(" gap") {
            Some(gap) => read_gap(gap),
            None => Ok(Part::Frame(read_frame(text)?)),
        },
    }
}

fn read_gap(text: &str) -> Result<Part, FramingTextError> {
    let is_nought = text.trim_start_matches(['0', '.']).starts_with([' ', 'i', 'm', 'c', 'f', '"', '\'']);
    if is_nought && text.starts_with(['0', '.']) {
        return Ok(Part::Gap { text: "gap 0 in".to_owned(), depth_m: 0.0 });
    }
    let depth = read_length(text, "gap").map_err(|error| refused_for(error.message, DOUBLE))?;
    Ok(Part::Gap { text: format!("gap {}", depth.text), depth_m: depth.metres })
}

/// A size and a spacing.
fn read_sawn(text: &str, example: &str) -> Result<Frame, FramingTextError> {
    let Some((size, spacing)) = text.split_once('@') else {
        return Err(refused_for(format!("`{text}` is not a size, one `@` and a spacing"), example));
    };
    let size = read_size(size.trim())?;
    let spacing = read_spacing(spacing.trim(), size.width_m, &size.text)?;
    let text = format!("{} @ {}", size.text, spacing.text);
    let rows = vec![MemberRow::solid(size.width_m, size.depth_m, spacing.metres)];
    Ok(Frame { text, depth_m: size.depth_m, rows, assumptions: Vec::new() })
}

/// Straps: the lowest stands on the lower edge, the middles of all are a spacing apart.
fn read_across(text: &str) -> Result<Frame, FramingTextError> {
    let mut frame = read_sawn(text, STRAPPED)?;
    frame.text = format!("strapping {}", frame.text);
    for row in &mut frame.rows {
        row.run = RowRun::Across;
        row.shift_m = row.member_width_m / 2.0;
    }
    Ok(frame)
}

/// Puts the parts one behind the other.
///
/// In a cavity of another depth the first gap gives; without one, the first frame does. What stands
/// outwards of it keeps to the outer face, what stands inwards of it to the inner face.
pub(super) fn join(parts: Vec<Part>) -> Result<Framing, FramingTextError> {
    check_order(&parts)?;
    let text = parts.iter().map(Part::text).collect::<Vec<_>>().join(" + ");
    let is_gap = |part: &Part| matches!(part, Part::Gap { .. });
    let is_frame = |part: &Part| matches!(part, Part::Frame(_));
    let giving = parts.iter().position(is_gap).or_else(|| parts.iter().position(is_frame));
    let mut framing = Framing { text, depth_m: 0.0, rows: Vec::new(), dividers_every_m: None, assumptions: Vec::new() };
    for (index, part) in parts.into_iter().enumerate() {
        let moves = giving.filter(|giving| *giving != index).map(|giving| index > giving);
        match part {
            Part::Frame(frame) | Part::Strapping(frame) => place(&mut framing, frame, moves),
            Part::Gap { depth_m, .. } => framing.depth_m += depth_m,
            Part::Service { text } => framing.assumptions.push(Assumption {
                key: "framing.service cavity".to_owned(),
                value: format!("`{text}` is not filled and takes no depth of the cavity"),
                unit: String::new(),
                source: "the framing as written".to_owned(),
            }),
            Part::Dividers { every_m, .. } => framing.dividers_every_m = Some(every_m),
        }
    }
    if framing.depth_m > DEEPEST_M {
        let message = format!("`{}` is {:.2} m deep: no framing is that deep", framing.text, framing.depth_m);
        return Err(refused(message));
    }
    Ok(framing)
}

/// Puts a frame behind what is there; `moves` says whether all of it keeps to the inner face, or to the outer one.
fn place(framing: &mut Framing, frame: Frame, moves: Option<bool>) {
    let at_m = framing.depth_m;
    let frames_before = framing.rows.last().map_or(0, |row| row.frame + 1);
    framing.rows.extend(frame.rows.into_iter().map(|row| MemberRow {
        frame: frames_before + row.frame,
        from_m: at_m + row.from_m,
        to_m: at_m + row.to_m,
        from_moves: moves.unwrap_or(row.from_moves),
        to_moves: moves.unwrap_or(row.to_moves),
        ..row
    }));
    framing.depth_m = at_m + frame.depth_m;
    for assumption in frame.assumptions {
        if !framing.assumptions.contains(&assumption) {
            framing.assumptions.push(assumption);
        }
    }
}

fn check_order(parts: &[Part]) -> Result<(), FramingTextError> {
    let count = |wanted: fn(&Part) -> bool| parts.iter().filter(|part| wanted(part)).count();
    if count(|part| matches!(part, Part::Frame(_))) == 0 {
        return Err(refused("no part of this is a frame: a size, one `@` and a spacing were expected".to_owned()));
    }
    if count(|part| matches!(part, Part::Dividers { .. })) > 1 || count(|part| matches!(part, Part::Service { .. })) > 1
    {
        return Err(refused_for("dividers and a service cavity can stand once".to_owned(), "`... + dividers @ 8 ft`"));
    }
    let deep: Vec<&Part> =
        parts.iter().filter(|p| !matches!(p, Part::Dividers { .. } | Part::Service { .. })).collect();
    let is_gap = |part: Option<&&Part>| matches!(part, Some(Part::Gap { .. }));
    if is_gap(deep.first()) || is_gap(deep.last()) {
        return Err(refused_for("a gap stands between two frames".to_owned(), DOUBLE));
    }
    for pair in deep.windows(2) {
        match pair {
            [Part::Frame(one), Part::Frame(other)] => {
                let message = format!(
                    "`{}` and `{}` stand side by side: the gap between two frames was expected (`gap 0 in` where they touch)",
                    one.text, other.text
                );
                return Err(refused_for(message, DOUBLE));
            }
            [Part::Gap { .. }, Part::Gap { .. }] => {
                return Err(refused_for("two gaps follow each other".to_owned(), DOUBLE));
            }
            _ => {}
        }
    }
    Ok(())
}
