//! From metres in a surface's plane to pixels on paper.

use super::WIDTH_PX;
use crate::geometry::{Bounds, Point};

/// Least scale: a bay between studs at 16 in. keeps room for a line of text.
const LEAST_PX_PER_M: f64 = 40.0;
/// Greatest scale, of small surfaces.
const MOST_PX_PER_M: f64 = 110.0;
/// Height that a drawing keeps to where its scale allows.
const HEIGHT_PX: f64 = 400.0;
/// Room for dimensions on both sides.
pub(super) const SIDE_PX: f64 = 34.0;

/// How a stretch of a surface is laid on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scale {
    /// Where the stretch begins, from the left as it is drawn, in metres.
    pub from_m: f64,
    /// Where it ends.
    pub to_m: f64,
    /// Length of the whole surface.
    pub length_m: f64,
    /// Its height.
    pub height_m: f64,
    /// Pixels a metre.
    pub px_per_m: f64,
    /// Whether left and right are exchanged.
    pub is_mirrored: bool,
}

impl Scale {
    /// Stretches that fit on paper side by side, from the left: one, where the surface is not too long for it.
    pub fn stretches(bounds: &Bounds, is_mirrored: bool) -> Vec<Self> {
        let room_px = WIDTH_PX - 2.0 * SIDE_PX;
        let (length_m, height_m) = (bounds.max_x, bounds.max_y);
        let fitting = (room_px / length_m).min(HEIGHT_PX / height_m);
        let least = LEAST_PX_PER_M.min((room_px / length_m).max(LEAST_PX_PER_M));
        let px_per_m = fitting.max(least).min(MOST_PX_PER_M);
        let number = (length_m * px_per_m / room_px - 1e-9).ceil().clamp(1.0, 1000.0);
        let stretch_m = length_m / number;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 1000")]
        let number = number as u32;
        let one = |index: u32| Self {
            from_m: f64::from(index) * stretch_m,
            to_m: f64::from(index + 1) * stretch_m,
            length_m,
            height_m,
            px_per_m,
            is_mirrored,
        };
        (0..number).map(one).collect()
    }

    /// A point on paper, from the upper left of the stretch.
    pub fn at(&self, [x, y]: Point) -> Point {
        [(self.along_m(x) - self.from_m) * self.px_per_m, (self.height_m - y) * self.px_per_m]
    }

    /// A place along the surface, from the left as it is drawn.
    pub fn along_m(&self, x: f64) -> f64 {
        if self.is_mirrored { self.length_m - x } else { x }
    }

    /// Width of the stretch on paper.
    pub fn width_px(&self) -> f64 {
        (self.to_m - self.from_m) * self.px_per_m
    }

    /// Height of the stretch on paper.
    pub fn height_px(&self) -> f64 {
        self.height_m * self.px_per_m
    }

    /// Whether the middle of a box shows in the stretch: of all stretches in one.
    pub fn shows_middle(&self, bounds: &Bounds) -> bool {
        let middle_m = self.along_m(f64::midpoint(bounds.min_x, bounds.max_x));
        self.from_m <= middle_m && (middle_m < self.to_m || self.to_m > self.length_m - 1e-6)
    }

    /// Whether a box shows in the stretch.
    pub fn shows(&self, bounds: &Bounds) -> bool {
        let (a, b) = (self.along_m(bounds.min_x), self.along_m(bounds.max_x));
        a.min(b) < self.to_m && a.max(b) > self.from_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_wall_takes_several_stretches_that_make_the_whole() {
        let of =
            |length_m: f64| Scale::stretches(&Bounds { min_x: 0.0, min_y: 0.0, max_x: length_m, max_y: 2.5 }, false);
        assert_eq!(of(4.0).len(), 1);
        let long = of(40.0);
        assert!(long.len() == 3 && long.iter().all(|one| one.width_px() <= WIDTH_PX - 2.0 * SIDE_PX + 1e-6));
        assert!(long.windows(2).all(|pair| (pair[0].to_m - pair[1].from_m).abs() < 1e-9));
        assert!((long[2].to_m - 40.0).abs() < 1e-9);
    }
}
