//! Rings and polygons, their area and their bounds.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A point in a surface's plane, `[x, y]` in metres.
pub type Point = [f64; 2];

/// A closed ring of points; the last is joined to the first and is not repeated.
pub type Ring = Vec<Point>;

/// A polygon: the outer ring counter-clockwise, then its holes clockwise.
///
/// Serialised as a list of rings `[[[x, y], …], …]` in metres.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct Polygon {
    /// Outer ring first, then holes.
    pub rings: Vec<Ring>,
}

/// The box around some points, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Smallest x.
    pub min_x: f64,
    /// Smallest y.
    pub min_y: f64,
    /// Largest x.
    pub max_x: f64,
    /// Largest y.
    pub max_y: f64,
}

impl Bounds {
    /// The box around all points; `None` where there are none.
    pub fn of<'a>(points: impl IntoIterator<Item = &'a Point>) -> Option<Self> {
        points.into_iter().fold(None, |bounds: Option<Self>, &[x, y]| {
            Some(match bounds {
                None => Self { min_x: x, min_y: y, max_x: x, max_y: y },
                Some(b) => {
                    Self { min_x: b.min_x.min(x), min_y: b.min_y.min(y), max_x: b.max_x.max(x), max_y: b.max_y.max(y) }
                }
            })
        })
    }

    /// The box around all polygons; `None` where there are none.
    pub fn of_polygons(polygons: &[Polygon]) -> Option<Self> {
        Self::of(polygons.iter().flat_map(|p| p.rings.iter().flatten()))
    }

    /// Size along x.
    pub fn width_m(&self) -> f64 {
        self.max_x - self.min_x
    }

    /// Size along y.
    pub fn height_m(&self) -> f64 {
        self.max_y - self.min_y
    }

    /// Whether two boxes share an area.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.min_x < other.max_x && other.min_x < self.max_x && self.min_y < other.max_y && other.min_y < self.max_y
    }
}

impl Polygon {
    /// A polygon without holes, turned counter-clockwise.
    pub fn from_ring(mut ring: Ring) -> Self {
        if signed_area_m2(&ring) < 0.0 {
            ring.reverse();
        }
        Self { rings: vec![ring] }
    }

    /// An upright rectangle between two corners.
    pub fn rectangle(min_x: f64, min_y: f64, max_x: f64, max_y: f64) -> Self {
        Self { rings: vec![vec![[min_x, min_y], [max_x, min_y], [max_x, max_y], [min_x, max_y]]] }
    }

    /// Area of the outer ring less its holes, never negative.
    pub fn area_m2(&self) -> f64 {
        let mut rings = self.rings.iter().map(|ring| signed_area_m2(ring).abs());
        let outer = rings.next().unwrap_or(0.0);
        (outer - rings.sum::<f64>()).max(0.0)
    }

    /// The box around it; `None` for a polygon without points.
    pub fn bounds(&self) -> Option<Bounds> {
        Bounds::of(self.rings.iter().flatten())
    }

    /// The same polygon, moved.
    pub fn translated(&self, dx: f64, dy: f64) -> Self {
        let moved = |ring: &Ring| ring.iter().map(|[x, y]| [x + dx, y + dy]).collect();
        Self { rings: self.rings.iter().map(moved).collect() }
    }

    /// The polygon without its holes.
    pub fn without_holes(&self) -> Self {
        Self { rings: self.rings.iter().take(1).cloned().collect() }
    }
}

/// Sum of the areas.
pub fn total_area_m2(polygons: &[Polygon]) -> f64 {
    polygons.iter().map(Polygon::area_m2).sum()
}

/// Area of a ring, positive when it runs counter-clockwise.
///
/// Taken about its first point, so that a ring far from the origin keeps its digits.
pub(crate) fn signed_area_m2(ring: &[Point]) -> f64 {
    let Some((&[x0, y0], rest)) = ring.split_first() else { return 0.0 };
    let twice: f64 = rest
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] => Some((a[0] - x0) * (b[1] - y0) - (b[0] - x0) * (a[1] - y0)),
            _ => None,
        })
        .sum();
    twice / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn area_keeps_its_digits_far_from_the_origin() {
        let far = Polygon::rectangle(1e7, 1e7, 1e7 + 2.5, 1e7 + 4.0);
        assert!((far.area_m2() - 10.0).abs() < 1e-8);
    }

    #[test]
    fn holes_are_taken_out_whatever_their_direction() {
        let mut wall = Polygon::rectangle(0.0, 0.0, 4.0, 3.0);
        wall.rings.push(vec![[1.0, 1.0], [2.0, 1.0], [2.0, 2.0], [1.0, 2.0]]);
        assert!((wall.area_m2() - 11.0).abs() < 1e-12);
    }
}
