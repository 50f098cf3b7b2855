//! One edge of an outline.

use crate::geometry::Point;
use crate::geometry::tolerance::COINCIDENT_M;

/// An edge within this slope of plumb is a side and carries no plate.
const SIDE_RUN_PER_RISE: f64 = 0.01;

/// Which way an edge looks, from inside the outline.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Face {
    /// Up: the outline lies below it.
    Top,
    /// Down: the outline lies above it.
    Bottom,
    /// Sideways.
    Side,
}

/// An upright side of the outline.
#[derive(Clone, Copy)]
pub(super) struct Side {
    /// Where it stands.
    pub(super) x: f64,
    /// Middle of its height.
    pub(super) y: f64,
    /// Whether the outline lies to its right.
    pub(super) is_left_end: bool,
}

/// An edge of an oriented ring: what is inside lies to its left.
pub(super) struct Edge {
    pub(super) from: Point,
    pub(super) to: Point,
}

impl Edge {
    pub(super) fn run(&self) -> f64 {
        self.to[0] - self.from[0]
    }

    pub(super) fn rise(&self) -> f64 {
        self.to[1] - self.from[1]
    }

    pub(super) fn length(&self) -> f64 {
        self.run().hypot(self.rise())
    }

    /// Unit vector from its beginning to its end.
    pub(super) fn along(&self) -> Point {
        [self.run() / self.length(), self.rise() / self.length()]
    }

    /// Unit normal into the outline, which lies to the left of its edges.
    pub(super) fn inward(&self) -> Point {
        [-self.rise() / self.length(), self.run() / self.length()]
    }

    /// Step along y, towards the inside, that is `thickness` at right angles to the edge.
    pub(super) fn plumb(&self, thickness: f64) -> f64 {
        thickness * self.length() / self.run()
    }

    /// Which way it looks.
    pub(super) fn face(&self) -> Face {
        if self.run().abs() <= (SIDE_RUN_PER_RISE * self.rise().abs()).max(COINCIDENT_M) {
            Face::Side
        } else if self.run() < 0.0 {
            Face::Top
        } else {
            Face::Bottom
        }
    }

    /// The upright side that it is; `None` where it is not longer than `shortest`.
    pub(super) fn side(&self, shortest: f64) -> Option<Side> {
        let is_left_end = self.rise() < 0.0;
        let x = if is_left_end { self.from[0].min(self.to[0]) } else { self.from[0].max(self.to[0]) };
        let y = f64::midpoint(self.from[1], self.to[1]);
        (self.length() > shortest).then_some(Side { x, y, is_left_end })
    }
}
