//! Solids as models give them: swept outlines, faces, half-spaces, and booleans of these.
//!
//! Nothing is meshed and nothing is combined in space; see [`section`](super::section()).

use super::face::Face;
use super::space::{Frame, Vector};
use super::{Point, Ring};

/// A solid in space, in metres.
#[derive(Clone, Debug, PartialEq)]
pub enum Solid {
    /// An outline swept along a straight line.
    Extrusion(Extrusion),
    /// A body bounded by plane faces.
    Faces(FaceBody),
    /// Everything on one side of a plane.
    HalfSpace(HalfSpace),
    /// The part of a half-space that lies within an endless prism.
    BoundedHalfSpace {
        /// The half-space.
        half_space: HalfSpace,
        /// Outline of the prism in the frame's x-y plane, even-odd; the prism runs along z both ways.
        rings: Vec<Ring>,
        /// The frame of the outline.
        frame: Frame,
    },
    /// A first solid, and others that are taken from it, joined to it or met with it, in turn.
    Chain {
        /// What it begins with.
        first: Box<Solid>,
        /// What follows.
        steps: Vec<(Operation, Solid)>,
    },
    /// Several solids side by side.
    Union(Vec<Solid>),
}

/// What a step of a chain does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operation {
    /// Take away.
    Difference,
    /// Keep what both have.
    Intersection,
    /// Join.
    Union,
}

/// An outline swept along a straight line.
#[derive(Clone, Debug, PartialEq)]
pub struct Extrusion {
    /// Outline in the frame's x-y plane, even-odd.
    pub rings: Vec<Ring>,
    /// The frame of the outline.
    pub frame: Frame,
    /// The way that the outline is swept, outside the frame.
    pub sweep: Vector,
    /// Whether the outline holds arcs, given as chords.
    pub has_arcs: bool,
}

/// A body bounded by plane faces: each face is a list of loops, each loop a list of corners.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceBody {
    /// The corners.
    pub corners: Vec<Vector>,
    /// Per face its loops, as indices into `corners`.
    pub faces: Vec<Vec<Vec<usize>>>,
}

/// Everything on the side of a plane that its normal points away from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HalfSpace {
    /// A point of the plane.
    pub origin: Vector,
    /// The plane's normal, pointing out of the material.
    pub normal: Vector,
}

/// A flat piece of a solid's surface, as a vector of its area along its normal.
pub type AreaVector = Vector;

impl Solid {
    /// The solid that a chain begins with, for the shape without its cuts.
    pub fn base(&self) -> Vec<&Solid> {
        match self {
            Self::Chain { first, steps } => {
                let joined = steps.iter().filter(|(operation, _)| *operation == Operation::Union);
                first.base().into_iter().chain(joined.flat_map(|(_, solid)| solid.base())).collect()
            }
            Self::Union(solids) => solids.iter().flat_map(Self::base).collect(),
            other => vec![other],
        }
    }

    /// Calls `visit` with every corner of the solid's pieces; half-spaces have none.
    pub fn for_each_corner(&self, visit: &mut impl FnMut(Vector)) {
        match self {
            Self::Extrusion(extrusion) => {
                for point in extrusion.rings.iter().flatten() {
                    let start = extrusion.frame.plane_point(point);
                    visit(start);
                    visit(start + extrusion.sweep);
                }
            }
            Self::Faces(body) => body.corners.iter().for_each(|corner| visit(*corner)),
            Self::HalfSpace(_) | Self::BoundedHalfSpace { .. } => {}
            Self::Chain { first, steps } => {
                first.for_each_corner(visit);
                for (_, solid) in steps {
                    solid.for_each_corner(visit);
                }
            }
            Self::Union(solids) => solids.iter().for_each(|solid| solid.for_each_corner(visit)),
        }
    }

    /// Calls `visit` with the area vector of every flat piece of the surface.
    pub fn for_each_face(&self, visit: &mut impl FnMut(AreaVector)) {
        match self {
            Self::Extrusion(extrusion) => extrusion.for_each_face(visit),
            Self::Faces(body) => body.faces.iter().for_each(|face| visit(body.face_area(face))),
            Self::HalfSpace(_) | Self::BoundedHalfSpace { .. } => {}
            Self::Chain { first, .. } => first.for_each_face(visit),
            Self::Union(solids) => solids.iter().for_each(|solid| solid.for_each_face(visit)),
        }
    }

    /// The flat faces of an extrusion or a body of faces; none for the others.
    pub fn faces(&self) -> Vec<Face> {
        match self {
            Self::Extrusion(extrusion) => extrusion.faces(),
            Self::Faces(body) => body.faces.iter().map(|face| body.face(face)).collect(),
            _ => Vec::new(),
        }
    }

    /// Volume of an extrusion or a closed body of faces; 0 for the others.
    pub fn volume_m3(&self) -> f64 {
        match self {
            Self::Extrusion(extrusion) => extrusion.volume_m3(),
            Self::Faces(body) => body.volume_m3(),
            _ => 0.0,
        }
    }

    /// Whether any outline holds arcs.
    pub fn has_arcs(&self) -> bool {
        match self {
            Self::Extrusion(extrusion) => extrusion.has_arcs,
            Self::Chain { first, .. } => first.has_arcs(),
            Self::Union(solids) => solids.iter().any(Self::has_arcs),
            Self::Faces(_) | Self::HalfSpace(_) | Self::BoundedHalfSpace { .. } => false,
        }
    }
}

impl Extrusion {
    /// Area of the outline along its normal, outside the frame.
    fn cap(&self) -> AreaVector {
        // One ring needs no boolean; several may lie within or beside each other.
        let area_m2 = match self.rings.as_slice() {
            [ring] => super::polygon::signed_area_m2(ring).abs(),
            rings => super::total_area_m2(&super::union_even_odd(rings)),
        };
        self.frame.matrix.column(0).cross(&self.frame.matrix.column(1)) * area_m2
    }

    fn faces(&self) -> Vec<Face> {
        let start = |ring: &Ring| ring.iter().map(|p| self.frame.plane_point(p)).collect::<Vec<_>>();
        let loops: Vec<Vec<Vector>> = self.rings.iter().map(start).collect();
        let end = loops.iter().map(|ring| ring.iter().map(|p| p + self.sweep).collect()).collect();
        let side = |(a, b): (&Vector, &Vector)| Face { loops: vec![vec![*a, *b, b + self.sweep, a + self.sweep]] };
        let sides: Vec<Face> = loops.iter().flat_map(|ring| edges(ring)).map(side).collect();
        [Face { loops }, Face { loops: end }].into_iter().chain(sides).collect()
    }

    fn volume_m3(&self) -> f64 {
        self.cap().dot(&self.sweep).abs()
    }

    fn for_each_face(&self, visit: &mut impl FnMut(AreaVector)) {
        let cap = self.cap();
        visit(cap);
        visit(-cap);
        for ring in &self.rings {
            for (a, b) in edges(ring) {
                let edge = self.frame.direction(&Vector::new(b[0] - a[0], b[1] - a[1], 0.0));
                visit(edge.cross(&self.sweep));
            }
        }
    }
}

impl FaceBody {
    fn corner(&self, index: usize) -> Vector {
        self.corners.get(index).copied().unwrap_or_else(Vector::zeros)
    }

    fn face(&self, loops: &[Vec<usize>]) -> Face {
        Face { loops: loops.iter().map(|ring| ring.iter().map(|&i| self.corner(i)).collect()).collect() }
    }

    /// Area of a face along its normal.
    fn face_area(&self, face: &[Vec<usize>]) -> AreaVector {
        self.face(face).area_vector()
    }

    fn volume_m3(&self) -> f64 {
        let Some(first) = self.corners.first() else { return 0.0 };
        let sixth = |face: &Vec<Vec<usize>>| {
            let at = face.first().and_then(|ring| ring.first()).map_or(*first, |&i| self.corner(i));
            self.face_area(face).dot(&(at - first)) / 3.0
        };
        self.faces.iter().map(sixth).sum::<f64>().abs()
    }

    /// Number of edges that do not have a face on either side; 0 for a closed body.
    pub fn open_edges(&self) -> usize {
        let mut seen: Vec<(usize, usize)> = self
            .faces
            .iter()
            .flatten()
            .flat_map(|ring| edges(ring).map(|(a, b)| (*a.min(b), *a.max(b))))
            .filter(|(a, b)| a != b)
            .collect();
        seen.sort_unstable();
        seen.chunk_by(|a, b| a == b).filter(|same| same.len() % 2 == 1).count()
    }
}

/// The edges of a ring, the last one back to the first corner.
pub(super) fn edges<T>(ring: &[T]) -> impl Iterator<Item = (&T, &T)> {
    ring.iter().zip(ring.iter().cycle().skip(1))
}

/// The box of an outline's points, as the corners of a rectangle.
pub fn rectangle_ring(min: Point, max: Point) -> Ring {
    vec![[min[0], min[1]], [max[0], min[1]], [max[0], max[1]], [min[0], max[1]]]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn volume_counts_rings_beside_each_other_and_takes_voids_out() {
        let ring = |x: f64, half: f64| rectangle_ring([x - half, -half], [x + half, half]);
        let rings = vec![ring(0.0, 2.0), ring(0.0, 1.0), ring(10.0, 1.0)];
        let sweep = Vector::new(0.0, 0.0, 3.0);
        let solid = Solid::Extrusion(Extrusion { rings, frame: Frame::identity(), sweep, has_arcs: false });
        assert!((solid.volume_m3() - (16.0 - 4.0 + 4.0) * 3.0).abs() < 1e-12);
    }
}
