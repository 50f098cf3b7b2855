//! Reading framing as people write it: `2x6 @ 24 in`, `2x4 @ 16 in + gap 4 in + 2x4 @ 24 in`.

mod flanged;
mod frame;
mod parts;
mod size;
mod steel;
#[cfg(test)]
mod tests;
mod text;

use super::Framing;
use std::fmt;
use thiserror::Error;

/// Framing text that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{message}")]
pub struct FramingTextError {
    /// What was found and what was expected.
    pub message: String,
    /// How to mend it, with an example.
    pub help: String,
}

impl fmt::Display for Framing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// Reads framing as people write it: parts from the outer face inwards (of a ceiling, roof or floor:
/// from its underside), joined by `+`.
///
/// - A **frame** is a size, `@` and a spacing with its unit (and `o.c.` if you like). The size is nominal
///   inches without a unit (`2x6`), actual millimetres, `cm` or `m` with it (`45x195 mm`), or actual inches
///   with `in actual` (`1.5 x 5.5 in actual`). The width in the surface's plane comes first; `flat` behind
///   the size lays a member on its wide face.
/// - `2x4 @ 16 in staggered on 2x6`: two rows on one plate. The spacing is that of each row, which is what
///   each face is fastened to; the second row stands half of it further on, so that a stud of one row or the
///   other comes every 8 in. here. Plates, end studs and what frames openings reach through the plate's depth.
/// - `362S162-54 @ 16 in`: steel studs by their designator; `362S162-54 punched @ 16 in` where punch-outs
///   leave one open cavity, else webs part bays.
/// - `I 11.875 in (flange 2.5 x 1.5 in, web 0.375 in) @ 16 in` and `PRI-40 11-7/8 in @ 16 in`: joists with
///   flanges; `truss 14 in (chords 3.5 x 1.5 in, webs 0.1) @ 24 in`: trusses with parallel chords, of which
///   `webs` is the solid share of the depth between them.
/// - `gap 4 in` between two frames: both have their own plates, and the gap takes what a measured depth
///   leaves.
/// - `strapping 2x2 @ 24 in` across the members: the room between straps is filled with the rest.
/// - `service 2x3 @ 24 in`: a cavity for pipes and wires that is not filled; it has no depth here.
/// - `dividers @ 8 ft`: upright dividers of no thickness, which part an open-sided cavity into bays.
///
/// # Errors
/// Says what cannot be read, with an example: no `@`, a size that no one saws, a number without a unit, a
/// spacing that is not wider than a member or beyond what is built, parts in an order that cannot be meant.
pub fn parse_framing(text: &str) -> Result<Framing, FramingTextError> {
    let tidy = text::tidied(text);
    let parts = parts::split(&tidy).into_iter().map(parts::read).collect::<Result<Vec<_>, _>>()?;
    parts::join(parts)
}
