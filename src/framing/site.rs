//! The ground that framing is laid out on: the outline of a surface, its box, and vertical cuts through it.

use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Polygon, Ring, clip_by_half_plane, difference, union};

/// The outline of a surface, made ready.
pub(super) struct Site {
    /// Pieces: outer rings counter-clockwise, holes clockwise.
    pub(super) outline: Vec<Polygon>,
    /// The box around all pieces.
    pub(super) bounds: Bounds,
    /// What of the box is not outline.
    pub(super) outside: Vec<Polygon>,
}

impl Site {
    /// Makes an outline ready; `None` where it has no extent.
    pub(super) fn of(outline: &[Polygon]) -> Option<Self> {
        let mut outline: Vec<Polygon> = outline.iter().map(oriented).collect();
        if outline.len() > 1 {
            outline = union(&outline);
        }
        let bounds = Bounds::of_polygons(&outline)?;
        let finite = [bounds.min_x, bounds.min_y, bounds.max_x, bounds.max_y].iter().all(|v| v.is_finite());
        if !finite || bounds.width_m() < COINCIDENT_M || bounds.height_m() < COINCIDENT_M {
            return None;
        }
        let outside =
            if is_its_box(&outline, &bounds) { Vec::new() } else { difference(&[polygon_of(&bounds)], &outline) };
        Some(Self { outline, bounds, outside })
    }

    /// An upright rectangle, cut off at the box; `None` where nothing is left of it.
    pub(super) fn rectangle(&self, x: [f64; 2], y: [f64; 2]) -> Option<Bounds> {
        let cut = Bounds {
            min_x: x[0].max(self.bounds.min_x),
            max_x: x[1].min(self.bounds.max_x),
            min_y: y[0].max(self.bounds.min_y),
            max_y: y[1].min(self.bounds.max_y),
        };
        (cut.width_m() > 0.0 && cut.height_m() > 0.0).then_some(cut)
    }

    /// The part of a ring inside the box.
    pub(super) fn clipped(&self, ring: &Ring) -> Polygon {
        let b = &self.bounds;
        let sides = [([-1.0, 0.0], -b.min_x), ([1.0, 0.0], b.max_x), ([0.0, -1.0], -b.min_y), ([0.0, 1.0], b.max_y)];
        let whole = vec![ring.clone()];
        let mut cut = sides.iter().fold(whole, |rings, (normal, limit)| clip_by_half_plane(&rings, *normal, *limit));
        // Members are convex, and stay in one piece.
        Polygon::from_ring(cut.pop().unwrap_or_default())
    }

    /// The stretch of the outline along the vertical at `x` that holds `y`, or is nearest to it.
    pub(super) fn run_at(&self, x: f64, y: f64) -> Option<[f64; 2]> {
        let away = |run: &[f64; 2]| (run[0] - y).max(y - run[1]).max(0.0);
        self.runs_at(x).into_iter().min_by(|a, b| away(a).total_cmp(&away(b)))
    }

    /// The same for a vertical that may run along an upright edge: of the stretches on both sides of it, from the lower
    /// bottom to the higher top, so that the last digit of `x` decides nothing.
    pub(super) fn run_about(&self, x: f64, y: f64) -> Option<[f64; 2]> {
        let sides = [self.run_at(x - COINCIDENT_M, y), self.run_at(x + COINCIDENT_M, y)];
        sides.into_iter().flatten().reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
    }

    /// Reach of an upright member at `x` through the run nearest to `y`: up to halfway towards the
    /// runs above and below it, so that a slope over the member's width cuts it and nothing else does.
    pub(super) fn reach_at(&self, x: f64, y: f64) -> [f64; 2] {
        let mut reach = [self.bounds.min_y, self.bounds.max_y];
        let runs = self.runs_at(x);
        if runs.len() < 2 {
            return reach;
        }
        if let Some(own) = self.run_at(x, y) {
            for other in runs {
                if other[1] <= own[0] {
                    reach[0] = reach[0].max(f64::midpoint(other[1], own[0]));
                }
                if other[0] >= own[1] {
                    reach[1] = reach[1].min(f64::midpoint(own[1], other[0]));
                }
            }
        }
        reach
    }

    /// All stretches of the outline along the vertical at `x`, from below.
    pub(super) fn runs_at(&self, x: f64) -> Vec<[f64; 2]> {
        let mut crossings = Vec::new();
        for ring in self.outline.iter().flat_map(|polygon| &polygon.rings) {
            for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                if (a[0] <= x) != (b[0] <= x) {
                    crossings.push(a[1] + (x - a[0]) / (b[0] - a[0]) * (b[1] - a[1]));
                }
            }
        }
        crossings.sort_by(f64::total_cmp);
        crossings.chunks_exact(2).filter_map(|pair| <[f64; 2]>::try_from(pair).ok()).collect()
    }
}

/// The same polygon with its outer ring counter-clockwise and its holes clockwise.
pub(crate) fn oriented(polygon: &Polygon) -> Polygon {
    let mut rings: Vec<Ring> = polygon.rings.iter().flat_map(|ring| Polygon::from_ring(ring.clone()).rings).collect();
    rings.iter_mut().skip(1).for_each(|hole| hole.reverse());
    Polygon { rings }
}

/// A box as a polygon.
pub(crate) fn polygon_of(bounds: &Bounds) -> Polygon {
    Polygon::rectangle(bounds.min_x, bounds.min_y, bounds.max_x, bounds.max_y)
}

/// Whether two boxes share more than an edge.
pub(super) fn overlap(a: &Bounds, b: &Bounds) -> bool {
    a.max_x.min(b.max_x) - a.min_x.max(b.min_x) > COINCIDENT_M
        && a.max_y.min(b.max_y) - a.min_y.max(b.min_y) > COINCIDENT_M
}

fn is_its_box(outline: &[Polygon], bounds: &Bounds) -> bool {
    let [polygon] = outline else { return false };
    let [ring] = polygon.rings.as_slice() else { return false };
    let box_rings = polygon_of(bounds).rings;
    ring.len() == 4 && box_rings.iter().flatten().all(|corner| ring.contains(corner))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A letter C, open to the right: two arms, joined at the left.
    fn letter_c() -> Site {
        let ring = vec![[0.0, 0.0], [3.0, 0.0], [3.0, 1.0], [1.0, 1.0], [1.0, 2.0], [3.0, 2.0], [3.0, 3.0], [0.0, 3.0]];
        Site::of(&[Polygon::from_ring(ring)]).unwrap()
    }

    #[test]
    fn a_vertical_cut_finds_both_arms() {
        let site = letter_c();
        assert_eq!(site.run_at(2.0, 0.2), Some([0.0, 1.0]));
        assert_eq!(site.run_at(2.0, 2.9), Some([2.0, 3.0]));
        assert_eq!(site.run_at(0.5, 2.9), Some([0.0, 3.0]));
        assert_eq!(site.reach_at(2.0, 0.2), [0.0, 1.5]);
    }

    #[test]
    fn a_clockwise_outline_is_turned() {
        let clockwise = Polygon { rings: vec![vec![[0.0, 0.0], [0.0, 2.0], [3.0, 2.0], [3.0, 0.0]]] };
        let site = Site::of(&[clockwise]).unwrap();
        assert!(site.outside.is_empty());
        assert_eq!(site.outline[0].rings[0].len(), 4);
        assert_eq!(oriented(&site.outline[0]), site.outline[0]);
    }
}
