//! From where a surface is seen whole in its model.

use super::SurfaceTakeoff;
use crate::geometry::Bounds;
use crate::model::SurfaceKind;

/// How far off one stands for each metre of the larger side: more than enough for a view of 60 degrees.
const STEPS_BACK: f64 = 1.5;
/// And so much more, in metres.
const CLEAR_M: f64 = 2.0;

/// A place and a direction to look in, in the world of the model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sight {
    /// Where the eye is, in metres.
    pub from_m: [f64; 3],
    /// Where it looks; of length one.
    pub direction: [f64; 3],
    /// What is up in the picture; at right angles to the direction.
    pub up: [f64; 3],
}

/// Where to stand: before a wall on the side that its outline is seen from, above all else. `None` where nobody says where
/// the surface stands.
pub fn sight_of(surface: &SurfaceTakeoff) -> Option<Sight> {
    let (plan_m, level_m) = (surface.plan_m.as_ref()?, surface.level_m?);
    match (surface.kind, plan_m.as_slice()) {
        (SurfaceKind::Wall, [a, b]) => before(surface, (*a, *b), level_m),
        _ => above(plan_m, level_m),
    }
}

fn before(surface: &SurfaceTakeoff, (a, b): ([f64; 2], [f64; 2]), level_m: f64) -> Option<Sight> {
    let length_m = (b[0] - a[0]).hypot(b[1] - a[1]);
    let height_m = Bounds::of(surface.outline_m.iter().flatten())?.height_m();
    if length_m <= 0.0 {
        return None;
    }
    // Whoever has the wall's left end at the left looks a quarter turn to the left of its run.
    let (x, y) = (-(b[1] - a[1]) / length_m, (b[0] - a[0]) / length_m);
    let back_m = length_m.max(height_m) * STEPS_BACK + CLEAR_M;
    let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
    Some(Sight {
        from_m: [middle[0] - x * back_m, middle[1] - y * back_m, level_m + height_m / 2.0],
        direction: [x, y, 0.0],
        up: [0.0, 0.0, 1.0],
    })
}

fn above(plan_m: &[[f64; 2]], level_m: f64) -> Option<Sight> {
    let bounds = Bounds::of(plan_m)?;
    let back_m = bounds.width_m().max(bounds.height_m()) * STEPS_BACK + CLEAR_M;
    let middle = [f64::midpoint(bounds.min_x, bounds.max_x), f64::midpoint(bounds.min_y, bounds.max_y)];
    Some(Sight { from_m: [middle[0], middle[1], level_m + back_m], direction: [0.0, 0.0, -1.0], up: [0.0, 1.0, 0.0] })
}
