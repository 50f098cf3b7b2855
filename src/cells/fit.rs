//! Whether a value fits the surface that it is for.

use super::Misread;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Point};
use crate::model::{DoNotFill, DoNotFillExtent, Extent, FloorBand, Surface, SurfaceKind};
use crate::units::display::both_ways;

/// Deeper than any cavity (m).
const DEEPEST_M: f64 = 1.0;
/// Higher than any heel of a roof truss (m).
const HIGHEST_HEEL_M: f64 = 2.0;

/// The room that a surface has for places on it; one of which only the area is known has none.
#[allow(clippy::struct_field_names, reason = "every field carries its unit")]
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Length of its box.
    pub length_m: f64,
    /// Height of its box.
    pub highest_m: f64,
    /// Length of all its edges.
    pub around_m: f64,
}

impl Room {
    /// The room of a surface; `None` where only its area is known.
    pub fn of(surface: &Surface) -> Option<Self> {
        let Extent::Outline(outline) = &surface.extent else { return None };
        let bounds = Bounds::of_polygons(outline)?;
        let length = |[a, b]: [Point; 2]| (b[0] - a[0]).hypot(b[1] - a[1]);
        let outer = outline.iter().filter_map(|polygon| polygon.rings.first());
        let edges = outer.flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| [*a, *b]));
        Some(Self { length_m: bounds.max_x, highest_m: bounds.max_y, around_m: edges.map(length).sum() })
    }
}

/// Stretches that stay empty lie on the surface.
pub fn stretches_fit(parts: &[DoNotFill], room: Option<Room>) -> Vec<Misread> {
    let fault = |part: &DoNotFill| {
        let DoNotFillExtent::Stretch { to_m, .. } = part.extent else { return None };
        match room {
            Some(room) if to_m > room.length_m + COINCIDENT_M => Some(Misread::new(
                format!("the stretch ends at {}, and the surface at {}", both_ways(to_m), both_ways(room.length_m)),
                "measure the stretch from the surface's left end",
            )),
            Some(_) => None,
            None => Some(Misread::new(
                "a stretch cannot be found on a surface of which only the area is known",
                "give length and height, or write `all: REASON`",
            )),
        }
    };
    parts.iter().filter_map(fault).collect()
}

/// Places of `corners` or `partitions` are on walls.
///
/// # Errors
/// Any other kind.
pub fn places_have_walls(key: &str, kind: SurfaceKind) -> Result<(), Misread> {
    walls_alone(kind, || format!("places of {key} are for walls alone"))
}

/// The length that a place is on.
///
/// # Errors
/// A surface without one.
pub fn places_have_room(room: Option<Room>) -> Result<f64, Misread> {
    room.map(|room| room.length_m).ok_or_else(|| {
        Misread::new(
            "a place cannot be found on a surface of which only the area is known",
            "give length and height, or write how many there are, such as `2`",
        )
    })
}

/// Partitions meet a wall where it is.
///
/// # Errors
/// One beyond its end.
pub fn partitions_fit(places_m: &[f64], length_m: f64) -> Result<(), Misread> {
    match places_m.iter().max_by(|a, b| a.total_cmp(b)) {
        Some(&beyond_m) if beyond_m > length_m + COINCIDENT_M => Err(Misread::new(
            format!(
                "a partition meets the wall at {}, and the wall ends at {}",
                both_ways(beyond_m),
                both_ways(length_m)
            ),
            "measure from the wall's left end, as seen from outside",
        )),
        Some(_) | None => Ok(()),
    }
}

/// Floors run into walls.
///
/// # Errors
/// Any other kind.
pub fn floors_have_walls(kind: SurfaceKind) -> Result<(), Misread> {
    walls_alone(kind, || "the structure of floors runs into walls alone".to_owned())
}

/// Floors run into a wall below its top.
///
/// # Errors
/// One above it, and a surface without a height.
pub fn floors_fit(bands: &[FloorBand], room: Option<Room>) -> Result<(), Misread> {
    let Some(Room { highest_m, .. }) = room else {
        return Err(Misread::new(
            "a height cannot be found on a surface of which only the area is known",
            "give length and height, or leave the cell empty",
        ));
    };
    match bands.iter().find(|band| band.to_m > highest_m + COINCIDENT_M) {
        Some(band) => Err(Misread::new(
            format!(
                "a floor's structure ends at {}, and the wall is {} high",
                both_ways(band.to_m),
                both_ways(highest_m)
            ),
            super::floor_bands::HELP,
        )),
        None => Ok(()),
    }
}

/// What bounds an attic's fill is for ceilings.
///
/// # Errors
/// Any other kind.
pub fn ceilings_alone(key: &str, kind: SurfaceKind) -> Result<(), Misread> {
    if kind == SurfaceKind::Ceiling {
        return Ok(());
    }
    let message = format!("`{key}` is for ceilings under an attic");
    Err(Misread::new(message, "leave the cell empty, or write `ceiling` as the kind"))
}

/// The eaves are no longer than all edges.
///
/// # Errors
/// Longer ones.
pub fn eaves_fit(length_m: f64, room: Option<Room>) -> Result<(), Misread> {
    match room {
        Some(Room { around_m, .. }) if length_m > around_m + COINCIDENT_M => Err(Misread::new(
            format!(
                "the eaves are {} long, and all edges of the ceiling together {}",
                both_ways(length_m),
                both_ways(around_m)
            ),
            "write the length of the ceiling's edges that lie under eaves, such as `2 x 28 ft` as `56 ft`",
        )),
        Some(_) | None => Ok(()),
    }
}

/// A heel is as high as one may be.
///
/// # Errors
/// A higher one.
pub fn heel_is_likely(heel_m: f64) -> Result<(), Misread> {
    if heel_m <= HIGHEST_HEEL_M {
        return Ok(());
    }
    Err(Misread::new(
        format!("a heel of {} is higher than any roof has", both_ways(heel_m)),
        "measure from the top of the ceiling to the underside of the roof deck above its outer edge, such as `5 1/2 in`",
    ))
}

/// A cavity is as deep as one may be.
///
/// # Errors
/// A deeper one.
pub fn depth_is_likely(depth_m: f64) -> Result<(), Misread> {
    if depth_m <= DEEPEST_M {
        return Ok(());
    }
    let message = format!("a depth of {} is more than any cavity has", both_ways(depth_m));
    Err(Misread::new(message, "check the unit: a 2x6 wall is `5 1/2 in` deep"))
}

fn walls_alone(kind: SurfaceKind, message: impl Fn() -> String) -> Result<(), Misread> {
    if kind == SurfaceKind::Wall {
        return Ok(());
    }
    Err(Misread::new(message(), "leave the cell empty, or write `wall` as the kind"))
}
