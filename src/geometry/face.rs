//! Flat faces in space, by their loops.

use super::plane::Plane;
use super::solid::{AreaVector, edges};
use super::space::Vector;
use super::{Bounds, Point, Ring};

/// A flat face: its loops, under the even-odd rule, whichever way they run.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// Corners of each loop.
    pub loops: Vec<Vec<Vector>>,
}

impl Face {
    /// Area along the normal; loops other than the outer one are holes.
    pub fn area_vector(&self) -> AreaVector {
        let outer = self.outer_area();
        let size = outer.norm();
        let holes = self.loops.iter().map(|ring| loop_area(ring).norm()).sum::<f64>() - size;
        if size > 0.0 { outer * ((size - holes).max(0.0) / size) } else { outer }
    }

    /// The normal, of length 1; `None` for a face without area.
    pub fn normal(&self) -> Option<Vector> {
        self.outer_area().try_normalize(1e-12)
    }

    /// Area of the outer loop, which is the largest: a file may give the loops in any order, and name none as outer.
    fn outer_area(&self) -> AreaVector {
        let areas = self.loops.iter().map(|ring| loop_area(ring));
        areas.reduce(|outer, area| if area.norm() > outer.norm() { area } else { outer }).unwrap_or_default()
    }

    /// Height of the face's plane along its normal.
    pub fn height_along(&self, normal: &Vector) -> f64 {
        let points = self.loops.iter().flatten();
        let count = points.clone().count().max(1);
        #[allow(clippy::cast_precision_loss, reason = "a face has far fewer corners than 2^52")]
        let mean = points.map(|point| normal.dot(point)).sum::<f64>() / count as f64;
        mean
    }

    /// The loops as rings in a plane's axes.
    pub fn projected(&self, plane: &Plane) -> Vec<Ring> {
        self.loops.iter().map(|ring| ring.iter().map(|corner| plane.project(corner)).collect()).collect()
    }

    /// A point within the face; `None` for a face without area or seen edge on along `up`.
    pub fn inner_point(&self, up: &Vector) -> Option<Vector> {
        let view = view_along(up);
        let rings = self.projected(&view);
        let mut levels: Vec<f64> = rings.iter().flatten().map(|p| p[1]).collect();
        levels.sort_by(f64::total_cmp);
        levels.dedup();
        // Half-way between two corners' levels no corner can lie on the line; the widest piece is the safest.
        let lines =
            levels.windows(2).filter_map(|pair| if let [a, b] = pair { Some(f64::midpoint(*a, *b)) } else { None });
        let best = lines.flat_map(|y| pieces(&rings, y)).max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
        let point = view.origin + view.x * f64::midpoint(best.0, best.1) + view.y * best.2;
        let height = self.height_over_plane(&point, up)?;
        Some(point + up * height)
    }

    /// How far above a point, along `up`, the face lies; `None` where it does not lie above or below it.
    pub fn height_over(&self, point: &Vector, up: &Vector) -> Option<f64> {
        let view = view_along(up);
        let [x, y] = view.project(point);
        let crossings = self.projected(&view).iter().map(|ring| crossings_right(ring, [x, y])).sum::<usize>();
        if crossings % 2 == 0 {
            return None;
        }
        self.height_over_plane(point, up)
    }

    fn height_over_plane(&self, point: &Vector, up: &Vector) -> Option<f64> {
        let normal = self.normal()?;
        let rise = normal.dot(up);
        (rise.abs() > 1e-9).then(|| (self.height_along(&normal) - normal.dot(point)) / rise)
    }
}

/// Many faces seen along one direction, so that those over a point are found fast.
pub struct FacesSeen<'a> {
    up: Vector,
    view: Plane,
    seen: Vec<(&'a Face, Vec<Ring>, Option<Bounds>)>,
}

impl<'a> FacesSeen<'a> {
    /// The faces, seen along `up`.
    pub fn along(faces: &'a [Face], up: &Vector) -> Self {
        let view = view_along(up);
        let see = |face: &'a Face| {
            let rings = face.projected(&view);
            let bounds = Bounds::of(rings.iter().flatten());
            (face, rings, bounds)
        };
        Self { up: *up, view, seen: faces.iter().map(see).collect() }
    }

    /// Index of each face above or below a point, and its height over it.
    pub fn over(&self, point: &Vector) -> impl Iterator<Item = (usize, f64)> + '_ {
        let (point, [x, y]) = (*point, self.view.project(point));
        self.seen.iter().enumerate().filter_map(move |(index, (face, rings, bounds))| {
            let bounds = (*bounds)?;
            let near = x >= bounds.min_x && x <= bounds.max_x && y >= bounds.min_y && y <= bounds.max_y;
            if !near || rings.iter().map(|ring| crossings_right(ring, [x, y])).sum::<usize>() % 2 == 0 {
                return None;
            }
            Some((index, face.height_over_plane(&point, &self.up)?))
        })
    }
}

/// Half the sum of the cross products of a loop's corners (Newell).
fn loop_area(ring: &[Vector]) -> AreaVector {
    let Some(first) = ring.first() else { return Vector::zeros() };
    edges(ring).map(|(a, b)| (a - first).cross(&(b - first))).sum::<Vector>() / 2.0
}

fn view_along(up: &Vector) -> Plane {
    let aside = if up.x.abs() < 0.9 { Vector::x() } else { Vector::y() };
    let x = (aside - up * up.dot(&aside)).normalize();
    Plane { origin: Vector::zeros(), x, y: up.cross(&x), normal: *up }
}

/// The pieces of a level line that lie within rings: from, to, level.
fn pieces(rings: &[Ring], y: f64) -> Vec<(f64, f64, f64)> {
    let mut crossings: Vec<f64> = Vec::new();
    for (a, b) in rings.iter().flat_map(|ring| edges(ring)) {
        if (a[1] > y) != (b[1] > y) {
            crossings.push(a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
        }
    }
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).filter_map(|pair| if let [a, b] = pair { Some((*a, *b, y)) } else { None }).collect()
}

fn crossings_right(ring: &Ring, [x, y]: Point) -> usize {
    let crosses =
        |(a, b): &(&Point, &Point)| (a[1] > y) != (b[1] > y) && a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) > x;
    edges(ring).filter(crosses).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_inner_point_is_never_in_a_hole() {
        let ring = |a: f64, b: f64| {
            vec![Vector::new(a, a, 1.0), Vector::new(b, a, 1.0), Vector::new(b, b, 1.0), Vector::new(a, b, 1.0)]
        };
        let face = Face { loops: vec![ring(0.0, 10.0), ring(1.0, 9.0)] };
        let point = face.inner_point(&Vector::z()).expect("has area");
        let within = |low: f64, high: f64| (low..high).contains(&point.x) && (low..high).contains(&point.y);
        assert!(within(0.0, 10.0) && !within(1.0, 9.0));
        assert!((point.z - 1.0).abs() < 1e-12);
        assert!((face.area_vector().norm() - 36.0).abs() < 1e-12);
        assert_eq!(face.height_over(&Vector::new(5.0, 5.0, 0.0), &Vector::z()), None);
        assert_eq!(face.height_over(&Vector::new(0.5, 5.0, 0.0), &Vector::z()), Some(1.0));
    }

    #[test]
    fn a_hole_may_be_given_before_the_outline() {
        let ring = |points: [[f64; 2]; 4]| points.map(|[x, y]| Vector::new(x, y, 0.0)).to_vec();
        let outline = ring([[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0]]);
        let hole = ring([[1.0, 1.0], [1.0, 2.0], [2.0, 2.0], [2.0, 1.0]]);
        let face = Face { loops: vec![hole, outline] };
        // A rectangle of 4 m by 3 m less one of 1 m2, by hand; the hole runs the other way.
        assert!((face.area_vector() - Vector::z() * 11.0).norm() < 1e-12);
        assert_eq!(face.normal(), Some(Vector::z()));
    }
}
