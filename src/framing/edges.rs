//! The edges of an outline: where plates lie and where the ends are.

use super::edge::{Edge, Face, Side};
use super::site::Site;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Point, Polygon, Ring, clip_by_half_plane};
use std::slice;

/// A band reaches no further below (above) its edge than this many times its thickness; only edges
/// steeper than 75 degrees are touched by it.
const DEEPEST_BAND: f64 = 4.0;

/// The bands that plates of a thickness take along all edges that look up (or down), not yet cut to the outline.
///
/// A band is cut plumb at its ends. Where two edges meet in a corner that sticks out, the wedge
/// between the plumb cut and the meeting point of the two shifted edges is plate too.
pub(super) fn plate_bands(site: &Site, face: Face, thickness: f64) -> Vec<Polygon> {
    let mut bands = Vec::new();
    if thickness <= 0.0 {
        return bands;
    }
    for ring in site.outline.iter().flat_map(|polygon| &polygon.rings) {
        let edges = edges_of(ring);
        for (edge, next) in edges.iter().zip(edges.iter().cycle().skip(1)) {
            if edge.face() != face {
                continue;
            }
            bands.push(site.clipped(&band(edge, thickness)));
            if next.face() == face && edge.run() * next.rise() - edge.rise() * next.run() > 0.0 {
                bands.push(site.clipped(&wedge(edge, next, thickness)));
            }
        }
    }
    bands.retain(|band| band.area_m2() > 0.0);
    bands
}

/// The upright sides that are at least `shortest` long, and the two ends of every piece that ends in a point.
pub(super) fn sides(site: &Site, shortest: f64) -> Vec<Side> {
    let mut sides = Vec::new();
    for polygon in &site.outline {
        let first = sides.len();
        for edge in polygon.rings.iter().flat_map(edges_of) {
            if edge.face() == Face::Side {
                sides.extend(edge.side(shortest));
            }
        }
        let points = || polygon.rings.iter().flatten();
        let leftmost = points().min_by(|a, b| a[0].total_cmp(&b[0]));
        let rightmost = points().max_by(|a, b| a[0].total_cmp(&b[0]));
        for (point, is_left_end) in [(leftmost, true), (rightmost, false)] {
            let Some(&[x, y]) = point else { continue };
            let stands = |side: &Side| side.is_left_end == is_left_end && (side.x - x).abs() < COINCIDENT_M;
            if !sides.iter().skip(first).any(stands) {
                sides.push(Side { x, y, is_left_end });
            }
        }
    }
    sides
}

fn edges_of(ring: &Ring) -> Vec<Edge> {
    let pairs = ring.iter().zip(ring.iter().cycle().skip(1));
    pairs.map(|(from, to)| Edge { from: *from, to: *to }).filter(|e| e.length() > 0.0).collect()
}

fn band(edge: &Edge, thickness: f64) -> Ring {
    let step = edge.plumb(thickness);
    let shifted = |p: Point| [p[0], p[1] + step];
    let ring = vec![edge.from, edge.to, shifted(edge.to), shifted(edge.from)];
    not_too_deep(&ring, edge.face(), &[edge.from, edge.to], thickness)
}

fn wedge(edge: &Edge, next: &Edge, thickness: f64) -> Ring {
    let (n1, n2) = (edge.inward(), next.inward());
    let spread = (1.0 + n1[0] * n2[0] + n1[1] * n2[1]) / thickness;
    let [x, y] = edge.to;
    let ring = vec![
        [x, y + edge.plumb(thickness)],
        [x + (n1[0] + n2[0]) / spread, y + (n1[1] + n2[1]) / spread],
        [x, y + next.plumb(thickness)],
    ];
    if ring.iter().flatten().all(|v| v.is_finite()) {
        not_too_deep(&ring, edge.face(), &[edge.from, edge.to, next.to], thickness)
    } else {
        Ring::new()
    }
}

fn not_too_deep(ring: &Ring, face: Face, ends: &[Point], thickness: f64) -> Ring {
    let sign = if face == Face::Top { -1.0 } else { 1.0 };
    let limit = ends.iter().map(|p| sign * p[1]).fold(f64::NEG_INFINITY, f64::max) + DEEPEST_BAND * thickness;
    // What is clipped is convex, and stays in one piece.
    clip_by_half_plane(slice::from_ref(ring), [0.0, sign], limit).pop().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{difference, total_area_m2};

    fn top_band_area(ring: Ring, thickness: f64) -> f64 {
        let site = Site::of(&[Polygon::from_ring(ring)]).unwrap();
        let bands = plate_bands(&site, Face::Top, thickness);
        total_area_m2(&difference(&bands, &site.outside))
    }

    // By hand: a rake over 3 m that rises 4 m (3-4-5 triangle, 5 m long), plates 0.1 m thick, cut
    // plumb at both ends: a parallelogram 3 m wide and 0.1 * 5 / 3 m high.
    #[test]
    fn a_rake_is_a_parallelogram() {
        let area = top_band_area(vec![[0.0, 0.0], [3.0, 0.0], [3.0, 6.0], [0.0, 2.0]], 0.1);
        assert!((area - 3.0 * 0.1 * 5.0 / 3.0).abs() < 1e-12);
    }

    // By hand: 2 m of level top, then a slope down over 4 m by 3 m (5 m long), plates 0.2 m. Level
    // band 2 * 0.2; sloped band 4 * 0.2 * 5 / 4; and the wedge left of the corner: its upright side is
    // 0.25 - 0.2 = 0.05 m and the slope crosses it in 0.05 / 0.75 m: area 0.05 * 0.05 / 0.75 / 2.
    #[test]
    fn a_corner_of_unequal_slopes_has_its_wedge() {
        let area = top_band_area(vec![[0.0, 0.0], [6.0, 0.0], [6.0, 1.0], [2.0, 4.0], [0.0, 4.0]], 0.2);
        let by_hand = 2.0 * 0.2 + 4.0 * 0.25 + 0.05 * (0.05 / 0.75) / 2.0;
        assert!((area - by_hand).abs() < 1e-12, "{area} {by_hand}");
    }

    #[test]
    fn a_step_gives_three_sides() {
        let ring = vec![[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [2.0, 3.0], [2.0, 2.0], [0.0, 2.0]];
        let site = Site::of(&[Polygon::from_ring(ring)]).unwrap();
        let mut found: Vec<(f64, bool)> = sides(&site, 0.04).iter().map(|s| (s.x, s.is_left_end)).collect();
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert_eq!(found, [(0.0, true), (2.0, true), (4.0, false)]);
    }

    #[test]
    fn a_gable_that_ends_in_points_still_has_two_ends() {
        let site = Site::of(&[Polygon::from_ring(vec![[0.0, 0.0], [4.0, 0.0], [2.0, 3.0]])]).unwrap();
        assert_eq!(sides(&site, 0.04).len(), 2);
    }
}
