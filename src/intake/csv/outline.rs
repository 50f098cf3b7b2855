//! The outline of a surface from its measured sides, and the room under its top.

use crate::geometry::{Point, Polygon, tolerance::COINCIDENT_M};

/// The measured shape of a surface: straight bottom, upright ends, a top of one or two straight pieces.
#[allow(clippy::struct_field_names, reason = "every field carries its unit")]
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shape {
    pub length_m: f64,
    /// Height at the left end.
    pub left_m: f64,
    /// Height at the right end.
    pub right_m: f64,
    /// Height of the apex in the middle, above both ends.
    pub peak_m: Option<f64>,
}

impl Shape {
    /// Its outline: x from the left as seen from outside, y up.
    pub fn outline(&self) -> Polygon {
        let mut ring: Vec<Point> = vec![[0.0, 0.0], [self.length_m, 0.0]];
        // An end of no height is a corner, not an edge.
        if self.right_m > COINCIDENT_M {
            ring.push([self.length_m, self.right_m]);
        }
        if let Some(peak_m) = self.peak_m {
            ring.push([self.length_m / 2.0, peak_m]);
        }
        if self.left_m > COINCIDENT_M {
            ring.push([0.0, self.left_m]);
        }
        Polygon::from_ring(ring)
    }

    /// Largest height.
    pub fn highest_m(&self) -> f64 {
        self.peak_m.unwrap_or(self.left_m.max(self.right_m))
    }

    /// Height of the top at a distance from the left end.
    pub fn top_m(&self, x: f64) -> f64 {
        let share = (x / self.length_m).clamp(0.0, 1.0);
        match self.peak_m {
            Some(peak) if share < 0.5 => self.left_m + (peak - self.left_m) * share * 2.0,
            Some(peak) => self.right_m + (peak - self.right_m) * (1.0 - share) * 2.0,
            None => self.left_m + (self.right_m - self.left_m) * share,
        }
    }

    /// The lowest part of the top over a stretch. The top is nowhere hollow, so that its ends tell.
    pub fn room_over_m(&self, from_m: f64, to_m: f64) -> f64 {
        self.top_m(from_m).min(self.top_m(to_m))
    }

    /// The most room over a stretch of a width, wherever it lies.
    pub fn most_room_m(&self, width_m: f64) -> f64 {
        let last = (self.length_m - width_m).max(0.0);
        let middle = (self.length_m - width_m).max(0.0) / 2.0;
        [0.0, middle, last].into_iter().map(|from| self.room_over_m(from, from + width_m)).fold(0.0, f64::max)
    }

    /// The stretch over which the top is at least so high; `None` where it is so nowhere.
    pub fn reach_of(&self, head_m: f64) -> Option<(f64, f64)> {
        let middle = self.length_m / 2.0;
        let cross = |low: f64, high: f64, run: f64| run * (head_m - low) / (high - low);
        let enough = |height: f64| height >= head_m - COINCIDENT_M;
        match self.peak_m {
            Some(peak) if !enough(peak) => None,
            Some(peak) => {
                let from = if enough(self.left_m) { 0.0 } else { cross(self.left_m, peak, middle).min(middle) };
                let to = if enough(self.right_m) { 0.0 } else { cross(self.right_m, peak, middle).min(middle) };
                Some((from, self.length_m - to))
            }
            None => match (enough(self.left_m), enough(self.right_m)) {
                (true, true) => Some((0.0, self.length_m)),
                (true, false) => Some((0.0, self.length_m - cross(self.right_m, self.left_m, self.length_m))),
                (false, true) => Some((cross(self.left_m, self.right_m, self.length_m), self.length_m)),
                (false, false) => None,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GABLE: Shape = Shape { length_m: 8.0, left_m: 2.0, right_m: 2.0, peak_m: Some(4.0) };
    const RAKED: Shape = Shape { length_m: 6.0, left_m: 2.0, right_m: 5.0, peak_m: None };

    // Area of a trapezoid: mean height times length; of a gable: rectangle and triangle (geometry).
    #[test]
    fn outlines_have_the_area_of_their_figure() {
        assert!((GABLE.outline().area_m2() - 24.0).abs() < 1e-12);
        assert!((RAKED.outline().area_m2() - 21.0).abs() < 1e-12);
        let triangle = Shape { left_m: 0.0, right_m: 0.0, ..GABLE };
        assert_eq!(triangle.outline().rings[0].len(), 3);
        assert!((triangle.outline().area_m2() - 16.0).abs() < 1e-12);
    }

    #[test]
    fn the_room_under_a_sloped_top_is_known() {
        assert!((GABLE.top_m(2.0) - 3.0).abs() < 1e-12);
        assert_eq!(GABLE.reach_of(3.0), Some((2.0, 6.0)));
        assert_eq!(GABLE.reach_of(4.5), None);
        assert_eq!(RAKED.reach_of(3.0), Some((2.0, 6.0)));
        assert!((GABLE.most_room_m(2.0) - 3.5).abs() < 1e-12);
        assert!((RAKED.most_room_m(2.0) - 4.0).abs() < 1e-12);
    }
}
