//! The outline of a surface, and the room that it has for openings.
//!
//! The outline is cut upright at every corner into slabs; in each, straight edges lie one above the other, so that
//! what is free at a height follows from their ends.

use crate::geometry::tolerance::{COINCIDENT_M, SAME_M};
use crate::geometry::{Point, Polygon, Ring};

/// The outline of a surface: x from the left as seen from outside, y up, origin at the lower left of its box.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Shape {
    outline: Polygon,
    /// Length of its box.
    pub length_m: f64,
    /// Height of its box.
    pub highest_m: f64,
    slabs: Vec<Slab>,
}

/// The measured sides of a surface: straight bottom, upright ends, a top of one or two straight pieces.
#[allow(clippy::struct_field_names, reason = "every field carries its unit")]
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Sides {
    pub length_m: f64,
    /// Height at the left end.
    pub left_m: f64,
    /// Height at the right end.
    pub right_m: f64,
    /// Height of the apex in the middle, above both ends.
    pub peak_m: Option<f64>,
}

impl Sides {
    /// The shape that they measure.
    pub fn shape(self) -> Shape {
        let mut ring: Ring = vec![[0.0, 0.0], [self.length_m, 0.0]];
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
        Shape::of_ring(ring)
    }
}

/// What lies between two upright lines through neighbouring corners.
#[derive(Clone, Debug, PartialEq)]
struct Slab {
    from_m: f64,
    to_m: f64,
    /// From the lowest up.
    spans: Vec<Span>,
}

/// A piece of the surface in a slab: heights of its bottom and top at both ends, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Span {
    bottom: [f64; 2],
    top: [f64; 2],
}

impl Shape {
    /// The shape of a ring that does not cross itself.
    pub fn of_ring(ring: Ring) -> Self {
        let outline = Polygon::from_ring(ring);
        let (length_m, highest_m) = outline.bounds().map_or((0.0, 0.0), |bounds| (bounds.max_x, bounds.max_y));
        let slabs = slabs_of(outline.rings.first().map_or(&[], Vec::as_slice));
        Self { outline, length_m, highest_m, slabs }
    }

    /// Its outline.
    pub fn outline(&self) -> &Polygon {
        &self.outline
    }

    /// Length of all its edges.
    pub fn perimeter_m(&self) -> f64 {
        let ring = self.outline.rings.first().map_or(&[][..], Vec::as_slice);
        edges_of(ring).map(|[a, b]| (b[0] - a[0]).hypot(b[1] - a[1])).sum()
    }

    /// The lowest part of the top over a stretch.
    pub fn room_over_m(&self, from_m: f64, to_m: f64) -> f64 {
        let over = |slab: &Slab| -> Option<f64> {
            let (from_m, to_m) = (from_m.max(slab.from_m), to_m.min(slab.to_m));
            let top = slab.spans.last()?.top;
            let at = |x: f64| between(top, (x - slab.from_m) / (slab.to_m - slab.from_m));
            (to_m - from_m > COINCIDENT_M).then(|| at(from_m).min(at(to_m)))
        };
        self.slabs.iter().filter_map(over).fold(self.highest_m, f64::min)
    }

    /// The most room under the top over a stretch of a width, wherever it lies; none over more than its length.
    pub fn most_room_m(&self, width_m: f64) -> f64 {
        let has_room = |head_m: f64, tolerance_m: f64| {
            let tops = |slab: &Slab| -> Vec<(f64, f64)> {
                slab.spans
                    .last()
                    .and_then(|span| slab.reach(&[], &[span.top], head_m, tolerance_m))
                    .into_iter()
                    .collect()
            };
            joined(self.slabs.iter().flat_map(tops)).iter().any(|(from_m, to_m)| to_m - from_m >= width_m - SAME_M)
        };
        if has_room(self.highest_m, COINCIDENT_M) {
            return self.highest_m;
        }
        let (mut enough_m, mut too_high_m) = (SAME_M, self.highest_m);
        if !has_room(enough_m, 0.0) {
            return 0.0;
        }
        loop {
            let middle_m = f64::midpoint(enough_m, too_high_m);
            if middle_m <= enough_m || middle_m >= too_high_m {
                return enough_m;
            }
            if has_room(middle_m, 0.0) {
                enough_m = middle_m;
            } else {
                too_high_m = middle_m;
            }
        }
    }

    /// The stretches over which all between two heights lies within the outline, from the left.
    pub fn free_stretches(&self, sill_m: f64, head_m: f64) -> Vec<(f64, f64)> {
        joined(self.slabs.iter().flat_map(|slab| slab.free(sill_m, head_m)))
    }

    /// Whether a box lies within the outline.
    pub fn holds_box(&self, from: Point, to: Point) -> bool {
        let within = |(from_m, to_m): &(f64, f64)| *from_m <= from[0] + COINCIDENT_M && *to_m >= to[0] - COINCIDENT_M;
        self.free_stretches(from[1], to[1]).iter().any(within)
    }
}

impl Slab {
    fn free(&self, sill_m: f64, head_m: f64) -> Vec<(f64, f64)> {
        let reach = |span: &Span| {
            let below = [sill_m - span.bottom[0], sill_m - span.bottom[1]];
            self.reach(&[below], &[span.top], head_m, COINCIDENT_M)
        };
        self.spans.iter().filter_map(reach).collect()
    }

    /// Where in the slab all of `margins` are zero or more and all of `tops` at least at `head_m`.
    fn reach(&self, margins: &[[f64; 2]], tops: &[[f64; 2]], head_m: f64, tolerance_m: f64) -> Option<(f64, f64)> {
        let above = tops.iter().map(|top| [top[0] - head_m, top[1] - head_m]);
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for [left, right] in margins.iter().copied().chain(above) {
            // A crossing is where it is; only an end that is reached but for rounding counts as reached.
            let crossing = || (left / (left - right)).clamp(0.0, 1.0);
            match (left >= -tolerance_m, right >= -tolerance_m) {
                (true, true) => {}
                (true, false) => to = to.min(crossing()),
                (false, true) => from = from.max(crossing()),
                (false, false) => return None,
            }
        }
        let at = |share: f64| between([self.from_m, self.to_m], share);
        (from <= to).then(|| (at(from), at(to)))
    }
}

/// Between two values; each end exactly itself.
fn between([from, to]: [f64; 2], share: f64) -> f64 {
    let share = share.clamp(0.0, 1.0);
    if share < 0.5 { from + (to - from) * share } else { to - (to - from) * (1.0 - share) }
}

/// Stretches that touch made one.
fn joined(stretches: impl Iterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for (from_m, to_m) in stretches {
        match joined.last_mut() {
            Some(last) if from_m - last.1 <= SAME_M => last.1 = last.1.max(to_m),
            _ => joined.push((from_m, to_m)),
        }
    }
    joined
}

fn edges_of(ring: &[Point]) -> impl Iterator<Item = [Point; 2]> + '_ {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| [*a, *b])
}

fn slabs_of(ring: &[Point]) -> Vec<Slab> {
    let mut stops: Vec<f64> = ring.iter().map(|point| point[0]).collect();
    stops.sort_by(f64::total_cmp);
    stops.dedup_by(|next, kept| *next - *kept <= SAME_M);
    let slab = |pair: &[f64]| match pair {
        &[from_m, to_m] => Some(Slab { from_m, to_m, spans: spans_of(ring, from_m, to_m) }),
        _ => None,
    };
    stops.windows(2).filter_map(slab).collect()
}

fn spans_of(ring: &[Point], from_m: f64, to_m: f64) -> Vec<Span> {
    let mut edges: Vec<[f64; 2]> = edges_of(ring)
        .map(|[a, b]| if a[0] <= b[0] { [a, b] } else { [b, a] })
        .filter(|[a, b]| b[0] - a[0] > SAME_M && a[0] <= from_m + SAME_M && b[0] >= to_m - SAME_M)
        .map(|[a, b]| {
            let height = |x: f64| between([a[1], b[1]], (x - a[0]) / (b[0] - a[0]));
            [height(from_m), height(to_m)]
        })
        .collect();
    edges.sort_by(|a, b| (a[0] + a[1]).total_cmp(&(b[0] + b[1])));
    let span = |pair: &[[f64; 2]]| match pair {
        &[bottom, top] => Some(Span { bottom, top }),
        _ => None,
    };
    edges.chunks_exact(2).filter_map(span).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const GABLE: Sides = Sides { length_m: 8.0, left_m: 2.0, right_m: 2.0, peak_m: Some(4.0) };
    const RAKED: Sides = Sides { length_m: 6.0, left_m: 2.0, right_m: 5.0, peak_m: None };

    // Area of a trapezoid: mean height times length; of a gable: rectangle and triangle (geometry).
    #[test]
    fn outlines_have_the_area_of_their_figure() {
        assert!((GABLE.shape().outline().area_m2() - 24.0).abs() < 1e-12);
        assert!((RAKED.shape().outline().area_m2() - 21.0).abs() < 1e-12);
        let triangle = Sides { left_m: 0.0, right_m: 0.0, ..GABLE }.shape();
        assert_eq!(triangle.outline().rings[0].len(), 3);
        assert!((triangle.outline().area_m2() - 16.0).abs() < 1e-12);
        // A right triangle of 3 by 4 has a third side of 5 (geometry).
        let triangle = Shape::of_ring(vec![[0.0, 0.0], [3.0, 0.0], [0.0, 4.0]]);
        assert!((triangle.perimeter_m() - 12.0).abs() < 1e-12);
    }

    #[test]
    fn the_room_under_a_sloped_top_is_known() {
        let (gable, raked) = (GABLE.shape(), RAKED.shape());
        assert!((gable.room_over_m(2.0, 4.0) - 3.0).abs() < 1e-12);
        assert_eq!(gable.free_stretches(0.0, 3.0), [(2.0, 6.0)]);
        assert!(gable.free_stretches(0.0, 4.5).is_empty());
        assert_eq!(raked.free_stretches(0.0, 3.0), [(2.0, 6.0)]);
        assert!((gable.most_room_m(2.0) - 3.5).abs() < 1e-9);
        assert!((raked.most_room_m(2.0) - 4.0).abs() < 1e-9);
        assert!((raked.most_room_m(6.0) - 2.0).abs() < 1e-9);
        assert_eq!(raked.most_room_m(6.5), 0.0);
    }

    /// A wall of 6 by 3 that a stair cuts off below, from (2, 0) up to (6, 2), with a step in its top at 4.
    fn stair_wall() -> Shape {
        Shape::of_ring(vec![[0.0, 0.0], [2.0, 0.0], [6.0, 2.0], [6.0, 3.0], [4.0, 3.0], [4.0, 2.5], [0.0, 2.5]])
    }

    // The stair is at 1 above x = 4 and at 1.5 above x = 5 (a slope of one half).
    #[test]
    fn the_room_above_a_sloped_bottom_is_known() {
        let wall = stair_wall();
        assert_eq!(wall.free_stretches(1.0, 2.0), [(0.0, 4.0)]);
        assert_eq!(wall.free_stretches(1.5, 2.8), [(4.0, 5.0)]);
        assert_eq!(wall.free_stretches(0.0, 2.5), [(0.0, 2.0)]);
        assert!(wall.holds_box([3.0, 1.5], [5.0, 2.5]));
        assert!(!wall.holds_box([3.0, 1.4], [5.0, 2.5]));
        assert!(!wall.holds_box([3.0, 1.5], [5.0, 2.6]));
        assert_eq!((wall.room_over_m(3.0, 5.0), wall.room_over_m(4.0, 5.0)), (2.5, 3.0));
        assert_eq!((wall.most_room_m(2.0), wall.most_room_m(2.1)), (3.0, 2.5));
    }

    // A U has nothing between its arms.
    #[test]
    fn a_hollow_outline_has_no_room_in_its_hollow() {
        let u = Shape::of_ring(vec![
            [0.0, 0.0],
            [5.0, 0.0],
            [5.0, 4.0],
            [4.0, 4.0],
            [4.0, 1.0],
            [1.0, 1.0],
            [1.0, 4.0],
            [0.0, 4.0],
        ]);
        assert_eq!(u.free_stretches(0.0, 1.0), [(0.0, 5.0)]);
        assert_eq!(u.free_stretches(0.5, 2.0), [(0.0, 1.0), (4.0, 5.0)]);
        assert_eq!((u.length_m, u.highest_m), (5.0, 4.0));
    }
}
