//! The shape that an element's axes are taken from: its body before any cut, or after, where cuts make its sides.
//!
//! A wall under a roof keeps its two sides, whatever the roof takes from them. A plate that is cut out of a block between
//! two half-spaces has none until the cuts are made.

use super::axes::Axes;
use crate::geometry::{SectionError, Solid, boundary, section, total_area_m2};
use std::borrow::Cow;

/// How far within its sides a body is looked at, as a share of its thickness.
const WITHIN: f64 = 0.02;
/// Cuts that leave less than this share of a side make other sides. A gable keeps half of the block it is cut from.
const KEPT_SHARE: f64 = 0.4;

/// The shape of a body: itself, or its faces once cut where cuts take most of one of its sides; `None` where it has too many
/// planes to tell those.
///
/// # Errors
/// A body that is not closed where it is cut.
pub fn shape<'s>(solid: &'s Solid, axes: &Axes) -> Result<Option<Cow<'s, Solid>>, SectionError> {
    if !has_cuts(solid) {
        return Ok(Some(Cow::Borrowed(solid)));
    }
    let within_m = WITHIN * axes.thickness_m();
    for at_m in [axes.low_m + within_m, axes.high_m - within_m] {
        let left_m2 = total_area_m2(&section(solid, &axes.plane(at_m))?);
        if left_m2 < KEPT_SHARE * axes.sides_m2 / 2.0 {
            let Some(body) = boundary(solid)? else { return Ok(None) };
            let is_gone = body.faces.is_empty();
            return Ok(Some(if is_gone { Cow::Borrowed(solid) } else { Cow::Owned(Solid::Faces(body)) }));
        }
    }
    Ok(Some(Cow::Borrowed(solid)))
}

/// Whether anything is taken from a body, or met with it.
pub fn has_cuts(solid: &Solid) -> bool {
    match solid {
        Solid::Chain { .. } => true,
        Solid::Union(solids) => solids.iter().any(has_cuts),
        _ => false,
    }
}
