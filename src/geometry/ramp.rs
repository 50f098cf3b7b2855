//! Exact integrals over polygons of what a slope leaves above it.

use super::polygon::signed_area_m2;
use super::{Point, Polygon};

/// A height that changes with the distance from a line: at a point `p` the distance is `normal . p - offset`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ramp {
    /// Direction of the distance, of length one.
    pub normal: Point,
    /// What is taken off it, in metres.
    pub offset: f64,
    /// Height on the line, in metres.
    pub at_line: f64,
    /// What it gains over a metre of distance; not negative.
    pub rise_per_run: f64,
}

impl Ramp {
    /// Distance of a point from the line, in metres.
    pub fn distance(&self, point: &Point) -> f64 {
        self.normal[0] * point[0] + self.normal[1] * point[1] - self.offset
    }

    /// Volume over a polygon between two heights that lies above the ramp, in cubic metres.
    ///
    /// What is missing at a distance is linear between two breaks, so that its integral over the distance is a
    /// square there. By Green's theorem the volume is the sum of that over the edges, which Simpson's rule gives exactly
    /// between the breaks: nothing is cut, and nothing is sampled.
    pub fn above(&self, polygon: &Polygon, from: f64, to: f64) -> f64 {
        let height = to - from;
        if height <= 0.0 || !height.is_finite() {
            return 0.0;
        }
        let missing = Missing { short: to - self.at_line, rise_per_run: self.rise_per_run, height };
        let of_ring = |(index, ring): (usize, &super::Ring)| {
            // Rings count by what they hold, whichever way they run.
            let turn = signed_area_m2(ring).signum() * if index == 0 { 1.0 } else { -1.0 };
            let edges = ring.iter().zip(ring.iter().cycle().skip(1));
            turn * edges.map(|(a, b)| self.over_edge(&missing, a, b)).sum::<f64>()
        };
        polygon.rings.iter().enumerate().map(of_ring).sum::<f64>().max(0.0)
    }

    /// Integral of the primitive along an edge, over what runs across the ramp.
    fn over_edge(&self, missing: &Missing, a: &Point, b: &Point) -> f64 {
        let across = self.normal[0] * (b[1] - a[1]) - self.normal[1] * (b[0] - a[0]);
        let (from, to) = (self.distance(a), self.distance(b));
        let inside = |at: f64| ((at - from) / (to - from)).clamp(0.0, 1.0);
        let mut breaks = [0.0, 1.0, 1.0, 1.0];
        if (to - from).abs() > f64::EPSILON {
            let [full, none] = missing.breaks().map(inside);
            breaks = [0.0, full.min(none), full.max(none), 1.0];
        }
        let at = |t: f64| missing.primitive(from + t * (to - from));
        let simpson = |pair: &[f64]| match pair {
            &[t, u] => (u - t) / 6.0 * (at(t) + 4.0 * at(f64::midpoint(t, u)) + at(u)),
            _ => 0.0,
        };
        across * breaks.windows(2).map(simpson).sum::<f64>()
    }
}

/// What is missing at a distance: `short - rise_per_run * distance`, but not less than nothing and not more than the height.
struct Missing {
    short: f64,
    rise_per_run: f64,
    height: f64,
}

impl Missing {
    /// Distances up to which all is missing, and from which nothing is.
    fn breaks(&self) -> [f64; 2] {
        let at = |short: f64| if self.rise_per_run > 0.0 { short / self.rise_per_run } else { 0.0 };
        [at(self.short - self.height), at(self.short)]
    }

    /// Its integral over the distance, up to a constant.
    fn primitive(&self, distance: f64) -> f64 {
        if self.rise_per_run <= 0.0 {
            return self.short.clamp(0.0, self.height) * distance;
        }
        let [full, none] = self.breaks();
        if distance >= none {
            0.0
        } else if distance >= full {
            let missing = self.short - self.rise_per_run * distance;
            -missing * missing / (2.0 * self.rise_per_run)
        } else {
            -self.height * (self.height / (2.0 * self.rise_per_run) + full - distance)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LEFT: Ramp = Ramp { normal: [1.0, 0.0], offset: 2.0, at_line: 1.0, rise_per_run: 0.5 };

    // By hand: from a height of 1 at x = 2 the ramp reaches 3 at x = 6. Between 0 and 3 over 10 x 4 m a triangle of
    // 2 x 4 / 2 is missing along 4 m; between 2 and 3 one of 1 wide for 2 m and a triangle of 1 x 2 / 2.
    #[test]
    fn what_lies_above_is_exact() {
        let strip = Polygon::rectangle(2.0, -1.0, 12.0, 3.0);
        assert!((LEFT.above(&strip, 0.0, 3.0) - 16.0).abs() < 1e-12);
        assert!((LEFT.above(&strip, 2.0, 3.0) - 4.0 * 3.0).abs() < 1e-12);
        assert_eq!(LEFT.above(&strip, 0.0, 0.5), 0.0);
        assert_eq!(LEFT.above(&strip, 3.0, 2.0), 0.0);
        let level = Ramp { rise_per_run: 0.0, ..LEFT };
        assert!((level.above(&strip, 0.0, 3.0) - 80.0).abs() < 1e-12);
    }

    // By hand: over the triangle (2,0) (6,0) (2,4) what is missing of 3 is 2 - (x - 2) / 2 on 6 - x: the sum of
    // (4 - u)^2 / 2 from 0 to 4 is 64 / 6. A hole of 1 x 1 in the middle of a strip takes what is above it.
    #[test]
    fn shapes_of_any_outline_and_holes_count() {
        let triangle = Polygon { rings: vec![vec![[2.0, 0.0], [2.0, 4.0], [6.0, 0.0]]] };
        assert!((LEFT.above(&triangle, 0.0, 3.0) - 64.0 / 6.0).abs() < 1e-12);
        let mut holed = Polygon::rectangle(2.0, -1.0, 12.0, 3.0);
        holed.rings.push(vec![[3.0, 0.0], [4.0, 0.0], [4.0, 1.0], [3.0, 1.0]]);
        assert!((LEFT.above(&holed, 0.0, 3.0) - (16.0 - 1.25)).abs() < 1e-12);
    }

    proptest::proptest! {
        // Two parts of a polygon have what the whole has, and so have two layers.
        #[test]
        fn parts_add_up(x in -3.0..9.0_f64, y in 0.2..3.8_f64, level in 0.0..4.0_f64, turn in 0.0..6.3_f64, rise in 0.0..2.0_f64) {
            let ramp = Ramp { normal: [turn.cos(), turn.sin()], offset: 0.3, at_line: 0.7, rise_per_run: rise };
            let quad = |a: Point, b: Point, c: Point, d: Point| Polygon::from_ring(vec![a, b, c, d]);
            let whole = quad([-3.0, 0.0], [9.0, 0.0], [9.0, 4.0], [-3.0, 4.0]);
            let left = quad([-3.0, 0.0], [x, 0.0], [x / 2.0 + 1.0, y + 0.2], [-3.0, 4.0]);
            let rest = Polygon { rings: vec![vec![[x, 0.0], [9.0, 0.0], [9.0, 4.0], [-3.0, 4.0], [x / 2.0 + 1.0, y + 0.2]]] };
            let above = |polygon: &Polygon, from: f64, to: f64| ramp.above(polygon, from, to);
            let all = above(&whole, 0.0, 4.0);
            proptest::prop_assert!((all - above(&left, 0.0, 4.0) - above(&rest, 0.0, 4.0)).abs() < 1e-9);
            proptest::prop_assert!((all - above(&whole, 0.0, level) - above(&whole, level, 4.0)).abs() < 1e-9);
        }
    }
}
