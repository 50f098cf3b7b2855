//! Depth of the cavity.

use super::Framing;
use super::lay_out::place_of;
use crate::finding::{Code, Finding};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::{Surface, SurfaceKind};

/// A layer and a member that differ by no more than this are the same, in metres.
const SAME_DEPTH_M: f64 = 0.003;

/// Depth of the cavity of a surface in metres, and what is odd about it.
///
/// A measured depth wins. Else it is the dressed depth of the framing, or the thickness of the
/// cavity layer where that is smaller; the finding says when these two differ by over 3 mm. Without such a layer no cavity
/// of a wall is deeper than its body; a roof or a floor may be drawn by its covering alone, and keeps the dressed depth.
pub fn depth_of(surface: &Surface, framing: &Framing) -> (f64, Option<Finding>) {
    let usable = |depth: &f64| depth.is_finite() && *depth > 0.0;
    if let Some(measured) = surface.measured_depth_m.filter(usable) {
        return (measured, has_no_room(surface, framing, measured, "the measured depth"));
    }
    let dressed = framing.depth_m;
    let layer = surface.cavity_layer.and_then(|index| surface.layers.get(index));
    let Some(layer) = layer.filter(|layer| usable(&layer.thickness_m)) else { return within_body(surface, framing) };
    let depth = dressed.min(layer.thickness_m);
    let no_room = has_no_room(surface, framing, depth, &format!("the cavity layer `{}`", layer.material));
    let finding = ((layer.thickness_m - dressed).abs() > SAME_DEPTH_M).then(|| {
        let message = format!(
            "the cavity layer `{}` is {:.1} mm thick but `{}` is {:.1} mm deep: the smaller of the two is used{}; name the \
             framing that stands in this layer, or give the measured depth",
            layer.material,
            layer.thickness_m * 1000.0,
            framing.text,
            dressed * 1000.0,
            if depth < dressed { what_gives(framing) } else { "" }
        );
        Finding::warning(Code::DepthMismatch, &place_of(surface), message)
    });
    (depth, no_room.or(finding))
}

/// The dressed depth, or the thickness of a wall's body where that is smaller.
fn within_body(surface: &Surface, framing: &Framing) -> (f64, Option<Finding>) {
    let dressed_m = framing.depth_m;
    let body_m = surface.thickness_m.filter(|thickness_m| *thickness_m > 0.0 && *thickness_m < dressed_m);
    let Some(body_m) = body_m.filter(|_| surface.kind != SurfaceKind::Ceiling) else { return (dressed_m, None) };
    let is_wall = surface.kind == SurfaceKind::Wall;
    let depth_m = if is_wall { body_m } else { dressed_m };
    let no_room = has_no_room(surface, framing, depth_m, "the thickness of the body");
    let finding = (dressed_m - body_m > SAME_DEPTH_M).then(|| {
        let used = if is_wall {
            format!("no cavity is deeper than its wall, and the smaller of the two is used{}", what_gives(framing))
        } else {
            "it may be the covering alone, and the depth of the framing is used".to_owned()
        };
        let message = format!(
            "the body is {:.1} mm thick but `{}` is {:.1} mm deep: {used}; name the framing that stands in it, or give the \
             measured depth",
            body_m * 1000.0,
            framing.text,
            dressed_m * 1000.0,
        );
        Finding::warning(Code::DepthMismatch, &place_of(surface), message)
    });
    (depth_m, no_room.or(finding))
}

/// Which part of the framing takes the difference; nothing to say where it is one solid member.
fn what_gives(framing: &Framing) -> &'static str {
    let is_apart = framing.rows.iter().all(|row| row.from_moves == row.to_moves);
    match framing.rows.len() {
        0 | 1 => "",
        _ if is_apart => ", and the room between the two rows of studs takes the difference",
        _ => ", and the part between the faces that keep their sizes takes the difference",
    }
}

/// A cavity that is too shallow for the parts of its framing.
fn has_no_room(surface: &Surface, framing: &Framing, depth_m: f64, what: &str) -> Option<Finding> {
    let least_m = framing.least_depth_m();
    (depth_m < least_m - COINCIDENT_M).then(|| {
        let message = format!(
            "{what} is {:.1} mm, but the parts of `{}` take {:.1} mm without what lies between them: they are laid out as \
             running into each other; check the depth, or name the framing that stands in this cavity",
            depth_m * 1000.0,
            framing.text,
            least_m * 1000.0
        );
        Finding::warning(Code::DepthMismatch, &place_of(surface), message)
    })
}
