//! Making polygons that touch share their points.
//!
//! A boolean leaves the corner of one polygon on a slanted edge of its neighbour only to the last
//! digit. A later boolean would then see a slit between the two, of no area, that joins what they
//! part.

use super::tolerance::SAME_M;
use super::{Point, Polygon, Ring};

/// The same polygons, layer by layer, with points that coincide made equal, and with every point
/// that lies on an edge of another made a point of that edge.
pub fn welded(layers: &[&[Polygon]]) -> Vec<Vec<Polygon>> {
    welded_within(layers, SAME_M)
}

/// The same with a tolerance in metres, for outlines that somebody else drew.
pub fn welded_within(layers: &[&[Polygon]], same_m: f64) -> Vec<Vec<Polygon>> {
    let all = layers.iter().flat_map(|layer| layer.iter()).flat_map(|polygon| polygon.rings.iter().flatten());
    let points = distinct(all, same_m);
    let weld = |polygon: &Polygon| Polygon {
        rings: polygon.rings.iter().map(|ring| weld_ring(ring, &points, same_m)).collect(),
    };
    layers.iter().map(|layer| layer.iter().map(weld).filter(|polygon| !polygon.rings.is_empty()).collect()).collect()
}

/// The points without those that coincide with an earlier one, from the left.
fn distinct<'a>(points: impl Iterator<Item = &'a Point>, same_m: f64) -> Vec<Point> {
    let mut sorted: Vec<Point> = points.copied().collect();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let mut kept: Vec<Point> = Vec::with_capacity(sorted.len());
    for point in sorted {
        let near = kept.iter().rev().take_while(|other| point[0] - other[0] <= same_m);
        if !near.into_iter().any(|other| (point[1] - other[1]).abs() <= same_m) {
            kept.push(point);
        }
    }
    kept
}

fn weld_ring(ring: &Ring, points: &[Point], same_m: f64) -> Ring {
    let same: Ring = ring.iter().map(|point| representative(*point, points, same_m)).collect();
    let mut welded = Ring::with_capacity(same.len());
    for (from, to) in same.iter().zip(same.iter().cycle().skip(1)) {
        welded.push(*from);
        let mut between: Vec<(f64, Point)> = near_x(points, from[0].min(to[0]), from[0].max(to[0]), same_m)
            .iter()
            .filter_map(|point| along(*from, *to, *point, same_m).map(|t| (t, *point)))
            .collect();
        between.sort_by(|a, b| a.0.total_cmp(&b.0));
        welded.extend(between.into_iter().map(|(_, point)| point));
    }
    welded.dedup();
    welded
}

fn representative(point: Point, points: &[Point], same_m: f64) -> Point {
    let mut near =
        near_x(points, point[0], point[0], same_m).iter().filter(|other| (point[1] - other[1]).abs() <= same_m);
    near.next().copied().unwrap_or(point)
}

/// The points between two places along x, with tolerance.
fn near_x(points: &[Point], from: f64, to: f64, same_m: f64) -> &[Point] {
    let first = points.partition_point(|point| point[0] < from - same_m);
    let end = points.partition_point(|point| point[0] <= to + same_m);
    points.get(first..end).unwrap_or_default()
}

/// How far along an edge a point lies on it, in metres; `None` for its ends and for a point beside it.
fn along(from: Point, to: Point, point: Point, same_m: f64) -> Option<f64> {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let (px, py) = (point[0] - from[0], point[1] - from[1]);
    let length = dx.hypot(dy);
    let t = (px * dx + py * dy) / length;
    let is_on = (px * dy - py * dx).abs() <= same_m * length;
    (is_on && t > same_m && t < length - same_m).then_some(t)
}

#[cfg(test)]
mod tests {
    use super::super::{difference, total_area_m2};
    use super::*;

    #[test]
    fn a_point_on_a_slanted_edge_becomes_a_point_of_it() {
        let slope = Polygon::from_ring(vec![[0.0, 0.0], [3.0, 1.0], [0.0, 1.0]]);
        let x = 0.7;
        let post = Polygon::from_ring(vec![[x, -1.0], [x + 0.1, -1.0], [x + 0.1, (x + 0.1) / 3.0], [x, x / 3.0]]);
        let welded = welded(&[std::slice::from_ref(&slope), std::slice::from_ref(&post)]);
        assert_eq!(welded[0][0].rings[0].len(), 5);
        assert_eq!(welded[1][0].rings[0].len(), 4);
        let below = Polygon::from_ring(vec![[0.0, -1.0], [3.0, -1.0], [3.0, 1.0], [0.0, 0.0]]);
        assert_eq!(difference(&[below], &welded.concat()).len(), 2);
    }

    #[test]
    fn points_a_rounding_apart_become_one() {
        let left = Polygon::rectangle(0.0, 0.0, 0.1 + 0.2, 1.0);
        let right = Polygon::rectangle(0.3, 0.0, 1.0, 1.0);
        let welded = welded(&[&[left, right]]);
        assert_eq!(welded[0][0].rings[0][1], welded[0][1].rings[0][0]);
        assert!((total_area_m2(&welded[0]) - 1.0).abs() < 1e-9);
    }
}
