//! Where a plane surface stands in the world, so that what meets it can be found.

use super::axes::Axes;
use super::by_x::{Corners, box_around};
use super::placement::Chain;
use crate::geometry::{Bounds, Frame, Plane, Point, Polygon, Vector};

/// A surface leans, or lies askew, from this far off upright or level, as 1 less the cosine: about 2.6 degrees.
const ASKEW: f64 = 1e-3;

/// A plane surface in the world: x along it, y up in its plane, both from its origin, and z through it.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Its element.
    pub entity: u64,
    /// Length of its box along x, in metres.
    pub length_m: f64,
    /// Height of its box along y, in metres.
    pub height_m: f64,
    /// Where its body begins along z, in metres.
    pub low_m: f64,
    /// Where its body ends along z, in metres.
    pub high_m: f64,
    /// From the surface into the world.
    world: Frame,
    /// The way back.
    inward: Frame,
}

impl Placed {
    /// Places a surface, whose outline begins at `origin` in its plane; `None` where it has no extent.
    pub fn of(
        entity: u64,
        chain: &Chain,
        axes: &Axes,
        plane: &Plane,
        origin: Point,
        gross: &[Polygon],
    ) -> Option<Self> {
        let bounds = Bounds::of_polygons(gross)?;
        let from = axes.along * origin[0] + axes.up * origin[1];
        let own = Frame::from_axes(from, plane.x, plane.y, plane.normal);
        let world = chain.world().compose(&own);
        Some(Self {
            entity,
            length_m: bounds.width_m(),
            height_m: bounds.height_m(),
            low_m: axes.low_m,
            high_m: axes.high_m,
            inward: world.inverse()?,
            world,
        })
    }

    /// Whether it stands upright, as walls do.
    pub fn is_upright(&self) -> bool {
        self.world.direction(&Vector::y()).z > 1.0 - ASKEW
    }

    /// Whether it lies level, as floors do.
    pub fn is_level(&self) -> bool {
        self.world.direction(&Vector::z()).z > 1.0 - ASKEW
    }

    /// A point of it in the world.
    pub fn out(&self, x: f64, y: f64, z: f64) -> Vector {
        self.world.point(&Vector::new(x, y, z))
    }

    /// A point of the world as this surface sees it.
    pub fn seen(&self, point: &Vector) -> Vector {
        self.inward.point(point)
    }

    /// The box around its body in the world, so much larger on all sides.
    pub fn corners(&self, more_m: f64) -> Option<Corners> {
        let sides = [(0.0, self.low_m), (0.0, self.high_m), (self.length_m, self.low_m), (self.length_m, self.high_m)];
        let points = sides.into_iter().flat_map(|(x, z)| [self.out(x, 0.0, z), self.out(x, self.height_m, z)]);
        let more = Vector::repeat(more_m);
        box_around(points).map(|(low, high)| (low - more, high + more))
    }

    /// Its x axis in the world.
    pub fn along(&self) -> Vector {
        self.world.matrix.column(0).into_owned()
    }

    /// Its z axis in the world.
    pub fn through(&self) -> Vector {
        self.world.matrix.column(2).into_owned()
    }

    /// Middle of its thickness along z.
    pub fn middle_m(&self) -> f64 {
        f64::midpoint(self.low_m, self.high_m)
    }
}
