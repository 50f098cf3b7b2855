//! Whether a wall is thick enough to have a cavity.

use crate::model::{Surface, SurfaceKind};

/// Why a wall is not counted whose body has no room for a cavity.
const TOO_THIN: &str = "body thinner than 1 in.";

/// No framing is less deep than this, in metres: furring is 1 in. nominal, and a filling tube has to pass.
const LEAST_M: f64 = 0.0254;

/// Why a wall of so thin a body cannot be filled; `None` where it can, and for all other surfaces.
pub fn reason_against_thin_body(surface: &Surface) -> Option<&'static str> {
    let is_thin = surface.thickness_m.is_some_and(|thickness_m| thickness_m < LEAST_M);
    (surface.kind == SurfaceKind::Wall && is_thin && surface.measured_depth_m.is_none()).then_some(TOO_THIN)
}
