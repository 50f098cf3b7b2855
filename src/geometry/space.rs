//! Points and frames in space, in metres.

use nalgebra::{Matrix3, Vector3};

/// A point or a direction in space.
pub type Vector = Vector3<f64>;

/// An affine frame: `p` in the frame is `matrix * p + origin` outside it.
///
/// The matrix may scale and mirror, as mapped items do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Axes, as columns.
    pub matrix: Matrix3<f64>,
    /// Origin.
    pub origin: Vector,
}

impl Default for Frame {
    fn default() -> Self {
        Self::identity()
    }
}

impl Frame {
    /// The frame that changes nothing.
    pub fn identity() -> Self {
        Self { matrix: Matrix3::identity(), origin: Vector::zeros() }
    }

    /// A frame from its origin and axes.
    pub fn from_axes(origin: Vector, x: Vector, y: Vector, z: Vector) -> Self {
        Self { matrix: Matrix3::from_columns(&[x, y, z]), origin }
    }

    /// A point of the frame, outside it.
    pub fn point(&self, p: &Vector) -> Vector {
        self.matrix * p + self.origin
    }

    /// A point of the frame's x-y plane, outside it.
    pub fn plane_point(&self, p: &[f64; 2]) -> Vector {
        self.matrix.column(0) * p[0] + self.matrix.column(1) * p[1] + self.origin
    }

    /// A direction of the frame, outside it.
    pub fn direction(&self, d: &Vector) -> Vector {
        self.matrix * d
    }

    /// `inner`, a frame within this one, seen from outside.
    pub fn compose(&self, inner: &Self) -> Self {
        Self { matrix: self.matrix * inner.matrix, origin: self.point(&inner.origin) }
    }

    /// The frame that undoes this one; `None` where it flattens space.
    pub fn inverse(&self) -> Option<Self> {
        let matrix = self.matrix.try_inverse()?;
        Some(Self { matrix, origin: -(matrix * self.origin) })
    }

    /// A normal of the frame, outside it: stays at right angles to its plane under scale and mirror.
    pub fn normal(&self, n: &Vector) -> Option<Vector> {
        (self.matrix.try_inverse()?.transpose() * n).try_normalize(0.0)
    }
}
