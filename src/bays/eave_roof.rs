//! The roof above a ceiling: which eave each point of it lies under, and what room that leaves.

use crate::geometry::tolerance::{COINCIDENT_M, NEGLIGIBLE_AREA_M2};
use crate::geometry::{
    Bounds, Point, Polygon, Ramp, Ring, clip_by_half_plane, difference, intersection, total_area_m2,
};

/// Edges whose directions differ by less run straight on.
const STRAIGHT: f64 = 1e-6;

/// The underside of a roof above a ceiling, as far as it leaves less room than is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct EaveRoof {
    slopes: Vec<EaveSlope>,
}

/// What rises from one edge of the ceiling.
#[derive(Clone, Debug, PartialEq)]
struct EaveSlope {
    ramp: Ramp,
    outline: Vec<Polygon>,
    bounds: Bounds,
}

/// How the roof rises inside its eaves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pitched {
    /// Room above the outer edge, in metres.
    pub(super) at_edge_m: f64,
    /// What it gains over a metre.
    pub(super) rise_per_run: f64,
    /// How far in the roof matters, in metres.
    pub(super) reach_m: f64,
}

/// An edge of a ceiling, with its neighbours.
struct Edge {
    from: Point,
    to: Point,
    along: Point,
    is_eave: bool,
}

/// A slope before the others are held against it.
struct Raw {
    ramp: Ramp,
    ring: Ring,
    bounds: Bounds,
}

impl EaveRoof {
    /// The roof over an outline whose edges lie under eaves where `is_eave` says so.
    ///
    /// The slope of an eave reaches inwards from its edge. Where two eaves meet, their slopes end on the line that halves
    /// the corner; beside an edge that is no eave a slope ends at that edge, or, where the outline turns inwards, at right
    /// angles to its own. Of two slopes over one point the lower one counts.
    pub(super) fn over(outline: &[Polygon], is_eave: impl Fn(Point, Point) -> bool, rise: Pitched) -> Self {
        let raw: Vec<Raw> = outline.iter().flat_map(|polygon| raw_slopes(polygon, &is_eave, rise)).collect();
        let lowest = |(index, slope): (usize, &Raw)| {
            let others = raw.iter().enumerate().filter(|(other, _)| *other != index);
            let lower: Vec<Polygon> =
                others.filter_map(|(other, lower)| where_lower(lower, slope, other < index)).collect();
            let own = [Polygon::from_ring(slope.ring.clone())];
            let outline = difference(&own, &lower);
            let bounds = Bounds::of_polygons(&outline)?;
            Some(EaveSlope { ramp: slope.ramp, outline, bounds })
        };
        Self { slopes: raw.iter().enumerate().filter_map(lowest).collect() }
    }

    /// Volume over a shape between two heights that lies above the roof, in cubic metres.
    pub fn above_m3(&self, shape: &[Polygon], from_m: f64, to_m: f64) -> f64 {
        let of_slope = |slope: &EaveSlope| {
            let under = slope.under(shape);
            under.iter().map(|piece| slope.ramp.above(piece, from_m, to_m)).sum::<f64>()
        };
        self.slopes.iter().map(of_slope).sum()
    }

    /// Area of a shape over which the roof leaves less room than is asked for, in square metres.
    pub(super) fn shallow_m2(&self, shape: &[Polygon]) -> f64 {
        self.slopes.iter().map(|slope| total_area_m2(&slope.under(shape))).sum()
    }
}

impl EaveSlope {
    fn under(&self, shape: &[Polygon]) -> Vec<Polygon> {
        match Bounds::of_polygons(shape) {
            Some(bounds) if bounds.overlaps(&self.bounds) => intersection(shape, &self.outline),
            Some(_) | None => Vec::new(),
        }
    }
}

/// The slopes from the edges of one polygon's outer ring.
fn raw_slopes(polygon: &Polygon, is_eave: &impl Fn(Point, Point) -> bool, rise: Pitched) -> Vec<Raw> {
    let outer = Polygon::from_ring(polygon.rings.first().cloned().unwrap_or_default());
    let Some(size) = outer.bounds() else { return Vec::new() };
    let size_m = size.width_m().hypot(size.height_m());
    let edges: Vec<Edge> = outer.rings.iter().flat_map(|ring| edges_of(ring, is_eave)).collect();
    let around = edges.iter().cycle();
    let before = around.clone().skip(edges.len().saturating_sub(1));
    let threes = before.zip(&edges).zip(around.skip(1));
    threes.filter_map(|((before, edge), after)| edge.slope([before, after], rise, size_m)).collect()
}

fn edges_of(ring: &Ring, is_eave: &impl Fn(Point, Point) -> bool) -> Vec<Edge> {
    let pairs = ring.iter().zip(ring.iter().cycle().skip(1));
    let edge = |(&from, &to): (&Point, &Point)| {
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        let length = dx.hypot(dy);
        (length > 0.0).then(|| Edge { from, to, along: [dx / length, dy / length], is_eave: is_eave(from, to) })
    };
    pairs.filter_map(edge).collect()
}

impl Edge {
    /// What lies to the left of its direction is inside.
    fn inwards(&self) -> Point {
        [-self.along[1], self.along[0]]
    }

    /// What rises from it, between its neighbours and as far in as the roof matters.
    fn slope(&self, [before, after]: [&Self; 2], rise: Pitched, size_m: f64) -> Option<Raw> {
        if !self.is_eave {
            return None;
        }
        let (normal, reach_m) = (self.inwards(), rise.reach_m.min(size_m));
        let corner = |at: Point, past: f64, in_m: f64| {
            [at[0] + self.along[0] * past + normal[0] * in_m, at[1] + self.along[1] * past + normal[1] * in_m]
        };
        let ring = vec![
            corner(self.from, -size_m, 0.0),
            corner(self.to, size_m, 0.0),
            corner(self.to, size_m, reach_m),
            corner(self.from, -size_m, reach_m),
        ];
        let mut rings = vec![ring];
        for (away, at) in [(self.end_before(before), self.from), (self.end_after(after), self.to)] {
            rings = clip_by_half_plane(&rings, away, away[0] * at[0] + away[1] * at[1]);
        }
        let ring = rings.into_iter().next()?;
        let bounds = Bounds::of(&ring)?;
        let offset = normal[0] * self.from[0] + normal[1] * self.from[1];
        let ramp = Ramp { normal, offset, at_line: rise.at_edge_m, rise_per_run: rise.rise_per_run };
        Some(Raw { ramp, ring, bounds })
    }

    /// Which way leads out of the slope at its start.
    fn end_before(&self, before: &Self) -> Point {
        if before.is_eave {
            let [x, y] = halves(before, self);
            [-y, x]
        } else if turns_out(before, self) {
            before.inwards().map(|part| -part)
        } else {
            self.along.map(|part| -part)
        }
    }

    /// Which way leads out of the slope at its end.
    fn end_after(&self, after: &Self) -> Point {
        if after.is_eave {
            let [x, y] = halves(self, after);
            [y, -x]
        } else if turns_out(self, after) {
            after.inwards().map(|part| -part)
        } else {
            self.along
        }
    }
}

/// Direction of the line that halves the corner between two edges, inwards.
fn halves(one: &Edge, next: &Edge) -> Point {
    let (a, b) = (one.inwards(), next.inwards());
    [a[0] + b[0], a[1] + b[1]]
}

/// Whether the corner between two edges sticks out.
fn turns_out(one: &Edge, next: &Edge) -> bool {
    one.along[0] * next.along[1] - one.along[1] * next.along[0] > STRAIGHT
}

/// The part of a slope that lies lower than another; `None` where there is none. Of two in one plane, as on both sides of a
/// part that stands out, the first counts.
fn where_lower(lower: &Raw, other: &Raw, is_first: bool) -> Option<Polygon> {
    if !lower.bounds.overlaps(&other.bounds) {
        return None;
    }
    let (a, b) = (&lower.ramp, &other.ramp);
    let away = [a.normal[0] - b.normal[0], a.normal[1] - b.normal[1]];
    if away[0].hypot(away[1]) < STRAIGHT {
        // Side by side: the one that begins further in is the lower one all over.
        let further_m = a.offset - b.offset;
        let is_lower = if further_m.abs() < COINCIDENT_M { is_first } else { further_m > 0.0 };
        return is_lower.then(|| Polygon::from_ring(lower.ring.clone()));
    }
    let rings = clip_by_half_plane(std::slice::from_ref(&lower.ring), away, a.offset - b.offset);
    let polygon = Polygon::from_ring(rings.into_iter().next()?);
    (polygon.area_m2() > NEGLIGIBLE_AREA_M2).then_some(polygon)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rise(reach_m: f64) -> Pitched {
        Pitched { at_edge_m: 0.0, rise_per_run: 1.0, reach_m }
    }

    fn roof(ring: Ring, is_eave: impl Fn(Point, Point) -> bool, reach_m: f64) -> (EaveRoof, [Polygon; 1]) {
        let outline = [Polygon::from_ring(ring)];
        (EaveRoof::over(&outline, is_eave, rise(reach_m)), outline)
    }

    // By hand, 1:1 from nothing at the edges of 6 x 4: the roof is hipped, with a ridge 2 long at a height of 2: a prism of
    // 4 x 2 x 2 / 2 and a pyramid of 4 x 4 x 2 / 3 lie below it, of 6 x 4 x 2.
    #[test]
    fn four_eaves_make_a_hipped_roof() {
        let (roof, outline) = roof(vec![[0.0, 0.0], [6.0, 0.0], [6.0, 4.0], [0.0, 4.0]], |_, _| true, 9.0);
        assert!((roof.above_m3(&outline, 0.0, 2.0) - (48.0 - 8.0 - 32.0 / 3.0)).abs() < 1e-9);
        assert!((roof.shallow_m2(&outline) - 24.0).abs() < 1e-9);
    }

    // By hand: an L of two arms 2 wide, outer sides 5: its skeleton is that of two arms with a valley at the inner corner.
    // 0.5 inside the edge a ring is left: 16 - (a strip of .5 along 20 of edges less five corners of .25 and plus one).
    #[test]
    fn a_valley_lies_at_an_inner_corner() {
        let l = vec![[0.0, 0.0], [5.0, 0.0], [5.0, 2.0], [2.0, 2.0], [2.0, 5.0], [0.0, 5.0]];
        let (roof, outline) = roof(l, |_, _| true, 0.5);
        assert!((roof.shallow_m2(&outline) - (20.0 * 0.5 - 5.0 * 0.25 + 0.25)).abs() < 1e-9);
        // Missing of .5: .5^2 / 2 along 20, less and plus what corners share: the sum of d (.5 - d) twice over, .5^3 / 3 each.
        let shared = 0.125 / 3.0;
        assert!((roof.above_m3(&outline, 0.0, 0.5) - (20.0 * 0.125 - 5.0 * shared + shared)).abs() < 1e-9);
    }

    // By hand: the ends of a parallelogram lean; its level sides are eaves, whose slopes reach as far as the ends do.
    #[test]
    fn a_slope_ends_where_the_ceiling_does() {
        let level = |a: Point, b: Point| (a[1] - b[1]).abs() < 1e-9;
        let (roof, outline) = roof(vec![[0.0, 0.0], [6.0, 0.0], [8.0, 4.0], [2.0, 4.0]], level, 1.0);
        assert!((roof.shallow_m2(&outline) - 12.0).abs() < 1e-9);
        assert!((roof.above_m3(&outline, 0.0, 1.0) - 6.0).abs() < 1e-9);
    }

    // By hand: every point lies under one slope, so that the whole outline of 6 x 4 and 1 x 1 is under some, also behind the
    // part that stands out, where the slopes on both sides of it are one plane.
    #[test]
    fn no_point_lies_under_two_slopes() {
        let ring =
            vec![[0.0, 0.0], [2.5, 0.0], [2.5, -1.0], [3.5, -1.0], [3.5, 0.0], [6.0, 0.0], [6.0, 4.0], [0.0, 4.0]];
        let (roof, outline) = roof(ring, |_, _| true, 9.0);
        assert!((roof.shallow_m2(&outline) - 25.0).abs() < 1e-9, "{}", roof.shallow_m2(&outline));
    }

    // By hand: a strip narrower than twice the reach has its ridge in the middle.
    #[test]
    fn the_lower_slope_counts() {
        let level = |a: Point, b: Point| (a[1] - b[1]).abs() < 1e-9;
        let (roof, outline) = roof(vec![[0.0, 0.0], [3.0, 0.0], [3.0, 2.0], [0.0, 2.0]], level, 5.0);
        assert!((roof.above_m3(&outline, 0.0, 5.0) - 3.0 * (2.0 * 5.0 - 1.0)).abs() < 1e-9);
    }
}
