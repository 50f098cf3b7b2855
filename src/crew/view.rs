//! From which side a surface is drawn, and whether the crew sees it the other way round.

use crate::geometry::Point;
use crate::job::SeenFrom;
use crate::model::{Exposure, SurfaceKind};
use crate::takeoff::SurfaceTakeoff;

/// Where along a wall its two sides are looked at, as shares of its length.
const PLACES: [f64; 5] = [0.13, 0.31, 0.5, 0.69, 0.87];
/// How far off its line: beyond the thickness of the walls that meet it, in metres.
const OFF_M: f64 = 0.5;

/// From where a drawing shows a surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// From outdoors, or from the unheated room.
    Outside,
    /// From the heated room.
    Inside,
    /// From above.
    Above,
    /// From below.
    Below,
    /// From one of its sides; which of them is outside is not known.
    OneSide,
}

impl View {
    /// How people read it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Outside => "seen from outside",
            Self::Inside => "seen from inside",
            Self::Above => "seen from above",
            Self::Below => "seen from below",
            Self::OneSide => "as the model draws it (which side is outside is not known)",
        }
    }

    /// Whether it shows what does not stand.
    pub fn is_lying(self) -> bool {
        matches!(self, Self::Above | Self::Below)
    }

    fn other(self) -> Self {
        match self {
            Self::Outside => Self::Inside,
            Self::Inside => Self::Outside,
            Self::Above => Self::Below,
            Self::Below => Self::Above,
            Self::OneSide => Self::OneSide,
        }
    }
}

/// What the crew should see.
fn wanted(kind: SurfaceKind, seen_from: SeenFrom) -> View {
    match (kind, seen_from) {
        (SurfaceKind::Wall, SeenFrom::Outside) => View::Outside,
        (SurfaceKind::Wall, SeenFrom::Inside) => View::Inside,
        (SurfaceKind::Floor, SeenFrom::Outside) | (SurfaceKind::Ceiling | SurfaceKind::Roof, SeenFrom::Inside) => {
            View::Below
        }
        (SurfaceKind::Floor, SeenFrom::Inside) | (SurfaceKind::Ceiling | SurfaceKind::Roof, SeenFrom::Outside) => {
            View::Above
        }
    }
}

/// What the crew sees, and whether that is the other way round than the outline is given.
pub(super) fn seen(given: View, kind: SurfaceKind, seen_from: SeenFrom) -> (View, bool) {
    let is_mirrored = given.other() == wanted(kind, seen_from);
    (if is_mirrored { given.other() } else { given }, is_mirrored)
}

/// From where the outline of a surface is given: of what does not stand from above; of a sheet's wall from outside. A
/// model's wall is given from the right of its line in plan, and whether that is outside the outer walls of its storey tell,
/// each of them once.
pub(super) fn given(surface: &SurfaceTakeoff, outer: &[&SurfaceTakeoff]) -> View {
    if surface.kind != SurfaceKind::Wall {
        return View::Above;
    }
    if surface.source.entity.is_none() {
        return View::Outside;
    }
    if !is_outer(surface) {
        return View::OneSide;
    }
    let Some([a, b]) = ends(surface) else { return View::OneSide };
    let length_m = (b[0] - a[0]).hypot(b[1] - a[1]);
    let along = [(b[0] - a[0]) / length_m, (b[1] - a[1]) / length_m];
    let right = [along[1], -along[0]];
    let (mut outside, mut inside) = (0, 0);
    for share in PLACES {
        let at = |off_m: f64| {
            [0, 1].map(|axis: usize| {
                let of = |point: &Point| point.get(axis).copied().unwrap_or(0.0);
                of(&a) + (of(&b) - of(&a)) * share + of(&right) * off_m
            })
        };
        let is_inside = |off_m: f64| is_enclosed(at(off_m), along, outer);
        match (is_inside(OFF_M), is_inside(-OFF_M)) {
            (Some(false), Some(true)) => outside += 1,
            (Some(true), Some(false)) => inside += 1,
            _ => {}
        }
    }
    match outside.cmp(&inside) {
        std::cmp::Ordering::Greater => View::Outside,
        std::cmp::Ordering::Less => View::Inside,
        std::cmp::Ordering::Equal => View::OneSide,
    }
}

/// Whether walls stand around a place: an odd number of them is met on the way out, whichever way that is. `None` where three
/// of four ways do not agree, as beside walls that stand by themselves.
fn is_enclosed(at: Point, along: Point, walls: &[&SurfaceTakeoff]) -> Option<bool> {
    let ways = [along, [-along[0], -along[1]], [along[1], -along[0]], [-along[1], along[0]]];
    let met = |way: &&Point| walls.iter().map(|wall| crossings(wall, at, **way)).sum::<usize>() % 2 == 1;
    match ways.iter().filter(met).count() {
        0 | 1 => Some(false),
        3 | 4 => Some(true),
        _ => None,
    }
}

/// Whether a wall has an outer side.
pub(super) fn is_outer(surface: &SurfaceTakeoff) -> bool {
    surface.kind == SurfaceKind::Wall && matches!(surface.exposure, Exposure::Exterior | Exposure::Unconditioned)
}

/// Both ends of a wall in plan.
pub(super) fn ends(surface: &SurfaceTakeoff) -> Option<[Point; 2]> {
    let plan = surface.plan_m.as_ref()?;
    Some([*plan.first()?, *plan.last()?])
}

/// How often a ray meets the line of a wall in plan.
fn crossings(wall: &SurfaceTakeoff, from: Point, way: Point) -> usize {
    let side = |p: &Point| way[0] * (p[1] - from[1]) - way[1] * (p[0] - from[0]);
    let ahead = |p: &Point| way[0] * (p[0] - from[0]) + way[1] * (p[1] - from[1]);
    let plan = wall.plan_m.as_deref().unwrap_or_default();
    let meets = |pair: &&[Point]| {
        let &&[a, b] = pair else { return false };
        let (left, right) = (side(&a), side(&b));
        if (left <= 0.0) == (right <= 0.0) {
            return false;
        }
        let share = left / (left - right);
        ahead(&a) + (ahead(&b) - ahead(&a)) * share > 0.0
    };
    plan.windows(2).filter(meets).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_crew_sees_what_is_given_or_its_mirror_image() {
        let of = |kind, given, from| seen(given, kind, from);
        assert_eq!(of(SurfaceKind::Wall, View::Outside, SeenFrom::Outside), (View::Outside, false));
        assert_eq!(of(SurfaceKind::Wall, View::Outside, SeenFrom::Inside), (View::Inside, true));
        assert_eq!(of(SurfaceKind::Wall, View::Inside, SeenFrom::Outside), (View::Outside, true));
        assert_eq!(of(SurfaceKind::Wall, View::OneSide, SeenFrom::Inside), (View::OneSide, false));
        assert_eq!(of(SurfaceKind::Ceiling, View::Above, SeenFrom::Outside), (View::Above, false));
        assert_eq!(of(SurfaceKind::Roof, View::Above, SeenFrom::Inside), (View::Below, true));
        assert_eq!(of(SurfaceKind::Floor, View::Above, SeenFrom::Outside), (View::Below, true));
        assert_eq!(of(SurfaceKind::Floor, View::Above, SeenFrom::Inside), (View::Above, false));
    }
}
