//! The order in which a crew walks: storey by storey from below, around each in plan.

use super::view::ends;
use crate::geometry::Point;
use crate::model::SurfaceKind;
use crate::takeoff::SurfaceTakeoff;

/// Most walls of a storey that are walked around in plan; more keep the order of the input.
const MOST_WALKED: usize = 4_000;

/// Indices of the counted surfaces in walking order.
pub(super) fn walk(surfaces: &[SurfaceTakeoff]) -> Vec<usize> {
    let mut storeys: Vec<Storey<'_>> = Vec::new();
    for (index, surface) in surfaces.iter().enumerate().filter(|(_, surface)| surface.counted) {
        match storeys.iter_mut().find(|storey| storey.name == surface.storey.as_deref()) {
            Some(storey) => storey.surfaces.push((index, surface)),
            None => storeys.push(Storey { name: surface.storey.as_deref(), surfaces: vec![(index, surface)] }),
        }
    }
    // Sheets say no levels: their storeys come as they are first met.
    if storeys.iter().all(|storey| storey.level_m().is_some()) {
        storeys.sort_by(|a, b| a.level_m().unwrap_or_default().total_cmp(&b.level_m().unwrap_or_default()));
    }
    storeys.iter().flat_map(Storey::walked).collect()
}

struct Storey<'t> {
    name: Option<&'t str>,
    surfaces: Vec<(usize, &'t SurfaceTakeoff)>,
}

impl Storey<'_> {
    fn level_m(&self) -> Option<f64> {
        self.surfaces.iter().filter_map(|(_, surface)| surface.level_m).reduce(f64::min)
    }

    /// Walls around the storey, then what lies, by kind.
    fn walked(&self) -> Vec<usize> {
        let of = |kind: SurfaceKind| self.surfaces.iter().filter(move |(_, surface)| surface.kind == kind);
        let placed: Vec<(usize, [Point; 2])> =
            of(SurfaceKind::Wall).filter_map(|(index, wall)| Some((*index, ends(wall)?))).collect();
        let all_are_placed = placed.len() == of(SurfaceKind::Wall).count();
        let mut order = if all_are_placed && placed.len() <= MOST_WALKED {
            around(placed)
        } else {
            of(SurfaceKind::Wall).map(|(index, _)| *index).collect()
        };
        for kind in [SurfaceKind::Floor, SurfaceKind::Ceiling, SurfaceKind::Roof] {
            order.extend(of(kind).map(|(index, _)| *index));
        }
        order
    }
}

/// From the first wall on, always to the wall that has an end nearest to where the last one ended.
fn around(mut left: Vec<(usize, [Point; 2])>) -> Vec<usize> {
    let mut order = Vec::with_capacity(left.len());
    let mut at: Option<Point> = None;
    while !left.is_empty() {
        let off = |ends: &[Point; 2]| {
            at.map_or(0.0, |at| ends.iter().map(|end| distance_m(*end, at)).fold(f64::INFINITY, f64::min))
        };
        let mut nearest = (0, f64::INFINITY);
        for (place, (_, ends)) in left.iter().enumerate() {
            let off_m = off(ends);
            // A hair farther is as near: then the order of the input decides.
            if off_m < nearest.1 - 1e-6 {
                nearest = (place, off_m);
            }
        }
        let (index, [start, end]) = left.remove(nearest.0);
        order.push(index);
        let ends_at_start = at.is_some_and(|at| distance_m(end, at) < distance_m(start, at));
        at = Some(if ends_at_start { start } else { end });
    }
    order
}

fn distance_m(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_leads_around_the_house() {
        let corners = [[0.0, 0.0], [8.0, 0.0], [8.0, 5.0], [0.0, 5.0]];
        let wall = |index: usize, a: usize, b: usize| (index, [corners[a], corners[b]]);
        // South, north, east and west as a model lists them, the north wall drawn the other way round.
        assert_eq!(around(vec![wall(0, 0, 1), wall(1, 3, 2), wall(2, 1, 2), wall(3, 3, 0)]), [0, 2, 1, 3]);
        assert_eq!(around(Vec::new()), [0_usize; 0]);
    }
}
