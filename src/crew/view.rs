//! From which side a surface is drawn, and whether the crew sees it the other way round.

use crate::geometry::Point;
use crate::job::SeenFrom;
use crate::model::{Exposure, SurfaceKind};
use crate::takeoff::SurfaceTakeoff;

/// Where along a wall its two sides are looked at, as shares of its length.
const PLACES: [f64; 5] = [0.13, 0.31, 0.5, 0.69, 0.87];

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
/// model's wall is given from the right of its line in plan, and whether that is outside the other walls tell.
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
    let (mut outside, mut inside) = (0, 0);
    for share in PLACES {
        let from = [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
        let right = [b[1] - a[1], a[0] - b[0]];
        let met = |way: Point| {
            let others = outer.iter().filter(|other| other.id != surface.id);
            others.map(|other| crossings(other, from, way)).sum::<usize>() % 2
        };
        // An even number of outer walls stands between a place and the outdoors.
        match (met(right), met([-right[0], -right[1]])) {
            (0, 1) => outside += 1,
            (1, 0) => inside += 1,
            _ => {}
        }
    }
    match outside.cmp(&inside) {
        std::cmp::Ordering::Greater => View::Outside,
        std::cmp::Ordering::Less => View::Inside,
        std::cmp::Ordering::Equal => View::OneSide,
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
