//! Polygons moved outwards.

use super::overlay::union;
use super::polygon::signed_area_m2;
use super::{Point, Polygon, Ring};

/// A corner sharper than this many distances from its mitred point is cut off.
const LONGEST_MITRE: f64 = 4.0;

/// What lies inside the outer ring of a polygon or within a distance of it, corners mitred; holes are filled.
pub fn outset(polygon: &Polygon, distance_m: f64) -> Vec<Polygon> {
    let Some(outer) = polygon.rings.first() else { return Vec::new() };
    let mut ring: Ring = outer.clone();
    ring.dedup();
    if signed_area_m2(&ring) < 0.0 {
        ring.reverse();
    }
    let mut pieces = vec![Polygon::from_ring(ring.clone())];
    if distance_m > 0.0 {
        let point = |index: usize| ring.get(index % ring.len()).copied().unwrap_or_default();
        for index in 0..ring.len() {
            let (a, b, c) = (point(index), point(index + 1), point(index + 2));
            let (Some(n1), Some(n2)) = (outward(a, b), outward(b, c)) else { continue };
            pieces.push(Polygon::from_ring(vec![a, b, moved(b, n1, distance_m), moved(a, n1, distance_m)]));
            if n1[0] * n2[1] - n1[1] * n2[0] > 0.0 {
                pieces.push(Polygon::from_ring(corner(b, n1, n2, distance_m)));
            }
        }
    }
    union(&pieces).iter().map(Polygon::without_holes).collect()
}

/// What an outward corner adds between the strips of its two edges.
fn corner(at: Point, n1: Point, n2: Point, distance_m: f64) -> Ring {
    let spread = 1.0 + n1[0] * n2[0] + n1[1] * n2[1];
    let mut ring = vec![at, moved(at, n1, distance_m)];
    if (2.0 / spread).sqrt() <= LONGEST_MITRE {
        ring.push(moved(at, [n1[0] + n2[0], n1[1] + n2[1]], distance_m / spread));
    }
    ring.push(moved(at, n2, distance_m));
    ring
}

fn moved(p: Point, direction: Point, by: f64) -> Point {
    [p[0] + direction[0] * by, p[1] + direction[1] * by]
}

/// Unit normal to the right of an edge; `None` where it has no length.
fn outward(a: Point, b: Point) -> Option<Point> {
    let (run, rise) = (b[0] - a[0], b[1] - a[1]);
    let length = run.hypot(rise);
    (length > 0.0).then(|| [rise / length, -run / length])
}

#[cfg(test)]
mod tests {
    use super::super::total_area_m2;
    use super::*;

    // By hand: a rectangle grows on every side; a letter L of three squares of 1 m has 8 m of edges, five
    // corners that stick out and one that does not: 3 + 8 r + (5 - 1) r2.
    #[test]
    fn areas_by_hand() {
        let area = |polygon: &Polygon, by: f64| total_area_m2(&outset(polygon, by));
        assert!((area(&Polygon::rectangle(1.0, 1.0, 3.0, 2.0), 0.5) - 3.0 * 2.0).abs() < 1e-9);
        let letter = vec![[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [1.0, 1.0], [1.0, 2.0], [0.0, 2.0]];
        assert!((area(&Polygon::from_ring(letter), 0.25) - (3.0 + 2.0 + 4.0 * 0.0625)).abs() < 1e-9);
        assert!((area(&Polygon::rectangle(0.0, 0.0, 1.0, 1.0), 0.0) - 1.0).abs() < 1e-12);
    }

    // By hand: a triangle whose point is sharper than a mitre goes is cut off there.
    #[test]
    fn a_needle_is_cut_off() {
        let needle = Polygon::from_ring(vec![[0.0, -0.1], [10.0, 0.0], [0.0, 0.1]]);
        let grown = outset(&needle, 0.5);
        let reach = grown[0].bounds().unwrap().max_x;
        assert!(reach < 10.1, "{reach}");
    }
}
