//! A plane that sections are taken in, with its own axes.

use super::Point;
use super::space::Vector;

/// A plane with an x and a y axis in it; all three vectors have length 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Where x and y are 0.
    pub origin: Vector,
    /// The x axis.
    pub x: Vector,
    /// The y axis.
    pub y: Vector,
    /// The normal.
    pub normal: Vector,
}

impl Plane {
    /// The same plane, moved along its normal.
    pub fn moved(&self, distance_m: f64) -> Self {
        Self { origin: self.origin + self.normal * distance_m, ..*self }
    }

    /// Distance of a point along the normal.
    pub fn height(&self, p: &Vector) -> f64 {
        self.normal.dot(&(p - self.origin))
    }

    /// A point seen along the normal.
    pub fn project(&self, p: &Vector) -> Point {
        let d = p - self.origin;
        [self.x.dot(&d), self.y.dot(&d)]
    }

    /// A direction seen along the normal.
    pub fn project_direction(&self, d: &Vector) -> Point {
        [self.x.dot(d), self.y.dot(d)]
    }
}
