//! Whether a roof slope can be filled: its vent channel.

use super::assign::Assigned;
use crate::framing::depth_of;
use crate::model::{Surface, SurfaceKind};

/// Why a roof slope is not counted of which nobody said how it is vented.
pub const VENT_GAP_NOT_GIVEN: &str = "vent gap not given";
/// Why a roof slope is not counted whose vent channel takes all of its depth.
pub const VENT_GAP_TAKES_ALL: &str = "vent gap takes all of the depth";

/// Why a framed roof slope cannot be filled; `None` where it can, and for all other surfaces.
///
/// # Source
/// IRC R806.3 asks for at least 1 in. between insulation and roof sheathing where the roof is vented, from memory.
pub fn reason_against_roof(surface: &Surface, assigned: &Assigned<'_>) -> Option<&'static str> {
    let enclosure = &assigned.layout.enclosure;
    match (surface.kind, enclosure.vent_gap_m, &enclosure.unvented) {
        (SurfaceKind::Roof, Some(gap_m), _) => {
            let (depth_m, _) = depth_of(surface, &assigned.framing);
            (gap_m >= depth_m).then_some(VENT_GAP_TAKES_ALL)
        }
        (SurfaceKind::Roof, None, None) => Some(VENT_GAP_NOT_GIVEN),
        (SurfaceKind::Roof, None, Some(_)) => None,
        (SurfaceKind::Wall | SurfaceKind::Ceiling | SurfaceKind::Floor, _, _) => None,
    }
}
