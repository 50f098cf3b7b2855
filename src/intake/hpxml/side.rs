//! What lies on both sides of a surface, by the standard's words (`AdjacentTo`, HPXML 3.1 to 5.0).

use super::document::name;
use super::element::Element;
use crate::finding::{Code, Finding};
use crate::model::Exposure;
use crate::source::Place;

/// What lies on one side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Outdoors,
    Heated,
    Unheated,
    /// A basement of which the file does not say whether it is heated.
    Basement,
    NotSaid,
}

/// What lies on the other side of a surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sides {
    pub exposure: Exposure,
    /// Whether neither side is a heated room, as of the outer wall of a garage.
    pub bounds_no_room: bool,
}

/// Of the words for both sides. Either may stand first: a wall parts a garage from a room whichever of them the file calls inside.
pub(super) fn sides(element: &Element<'_, '_>) -> Sides {
    let is_roof = name(element.own) == "Roof";
    let is_outer = is_roof || name(element.own) == "RimJoist";
    let inside = match side(&element.text("InteriorAdjacentTo")) {
        // What stands in an enclosure bounds a room, unless the file says otherwise. A roof may be that of an attic.
        Side::NotSaid if !is_roof => Side::Heated,
        said => said,
    };
    let outside = match side(&element.text("ExteriorAdjacentTo")) {
        // A roof and a rim joist have the outdoors before them.
        Side::NotSaid if is_outer => Side::Outdoors,
        said => said,
    };
    let of = |exposure: Exposure| Sides { exposure, bounds_no_room: false };
    match (inside, outside) {
        (Side::NotSaid, _) | (_, Side::NotSaid) => of(Exposure::Unknown),
        (Side::Heated, Side::Heated) => of(Exposure::Interior),
        (Side::Heated, Side::Outdoors) | (Side::Outdoors, Side::Heated) => of(Exposure::Exterior),
        (Side::Heated, _) | (_, Side::Heated) => of(Exposure::Unconditioned),
        (Side::Basement, _) | (_, Side::Basement) => of(Exposure::Unknown),
        _ => Sides { exposure: Exposure::Interior, bounds_no_room: true },
    }
}

fn side(words: &str) -> Side {
    match words {
        "" | "other" => Side::NotSaid,
        "outside" | "ambient" | "ground" | "manufactured home underbelly" => Side::Outdoors,
        "conditioned space" | "living space" | "other heated space" => Side::Heated,
        "basement" => Side::Basement,
        text if text.starts_with("other housing unit") || text.ends_with("- conditioned") => Side::Heated,
        _ => Side::Unheated,
    }
}

/// Surfaces that bound no heated room, named once.
pub(super) fn no_room(listed: &str, count: usize, place: &Place) -> Finding {
    let verb = if count == 1 { "bounds" } else { "bound" };
    let message = format!(
        "{listed} {verb} no heated room by `InteriorAdjacentTo` and `ExteriorAdjacentTo`, as the outer wall of a garage does: \
         not taken as exterior; if such are to be filled, say so in the job file's `[exposure]`"
    );
    Finding::note(Code::OutsideEnvelope, place, message)
}
