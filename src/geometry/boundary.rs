//! The faces that a solid has once its cuts are made.
//!
//! A plane of an operand bounds the solid where there is material on one side of it and none on the other: so sections a
//! hair below and above each plane tell its faces, without combining anything in space.

use super::overlay::difference;
use super::plane::Plane;
use super::section::{SectionError, section};
use super::solid::{FaceBody, Solid};
use super::space::Vector;
use super::{Face, Polygon, Ring};

/// How far beside a plane the sections are taken, in metres.
const ASIDE_M: f64 = 2e-6;
/// What is narrower than this, in metres, lies between the two sections of a slanting neighbour and is no face.
const SLIVER_M: f64 = 4e-5;
/// Normals whose cosine differs from 1 by less than this belong to parallel planes.
const PARALLEL: f64 = 1e-12;
/// Parallel planes closer than this are one, in metres.
const ONE_PLANE_M: f64 = 1e-7;
/// Most planes that are looked at: each takes two sections of the whole solid.
const MOST_PLANES: usize = 400;

/// The solid as faces that look outward, its cuts made; `None` where it has too many planes.
///
/// Corners lie within some micrometres of where edges meet, and are not shared between faces: for areas, normals and
/// extents, not for sections.
///
/// # Errors
/// See [`SectionError`].
pub fn boundary(solid: &Solid) -> Result<Option<FaceBody>, SectionError> {
    let mut planes = Vec::new();
    planes_of(solid, &mut planes);
    if planes.len() > MOST_PLANES {
        return Ok(None);
    }
    let mut body = FaceBody { corners: Vec::new(), faces: Vec::new() };
    for plane in &planes {
        let below = section(solid, &plane.moved(-ASIDE_M))?;
        let above = section(solid, &plane.moved(ASIDE_M))?;
        add(&mut body, plane, &difference(&below, &above), false);
        add(&mut body, plane, &difference(&above, &below), true);
    }
    Ok(Some(body))
}

fn add(body: &mut FaceBody, plane: &Plane, region: &[Polygon], is_turned: bool) {
    for polygon in region.iter().filter(|polygon| !is_sliver(polygon)) {
        let loops = polygon.rings.iter().map(|ring| {
            let from = body.corners.len();
            body.corners.extend(ring.iter().map(|[x, y]| plane.origin + plane.x * *x + plane.y * *y));
            let indices = from..body.corners.len();
            if is_turned { indices.rev().collect() } else { indices.collect() }
        });
        let loops = loops.collect();
        body.faces.push(loops);
    }
}

fn is_sliver(polygon: &Polygon) -> bool {
    let around_m: f64 = polygon.rings.iter().map(around_m).sum();
    2.0 * polygon.area_m2() < SLIVER_M * around_m
}

fn around_m(ring: &Ring) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1])).sum()
}

/// The planes of all operands, each once, whichever way it looks.
fn planes_of(solid: &Solid, planes: &mut Vec<Plane>) {
    match solid {
        Solid::Extrusion(_) | Solid::Faces(_) => {
            for face in solid.faces() {
                add_face(&face, planes);
            }
        }
        Solid::HalfSpace(half_space) => add_plane(half_space.origin, half_space.normal, planes),
        Solid::BoundedHalfSpace { half_space, rings, frame } => {
            add_plane(half_space.origin, half_space.normal, planes);
            let along = frame.direction(&Vector::z());
            for ring in rings {
                for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                    let (a, b) = (frame.plane_point(a), frame.plane_point(b));
                    add_plane(a, (b - a).cross(&along), planes);
                }
            }
        }
        Solid::Chain { first, steps } => {
            planes_of(first, planes);
            for (_, operand) in steps {
                planes_of(operand, planes);
            }
        }
        Solid::Union(solids) => {
            for piece in solids {
                planes_of(piece, planes);
            }
        }
    }
}

fn add_face(face: &Face, planes: &mut Vec<Plane>) {
    let first = face.loops.first().and_then(|corners| corners.first());
    if let (Some(normal), Some(first)) = (face.normal(), first) {
        add_plane(*first, normal, planes);
    }
}

fn add_plane(origin: Vector, normal: Vector, planes: &mut Vec<Plane>) {
    // The list is as long as it may be, and one over says so.
    if planes.len() > MOST_PLANES {
        return;
    }
    let Some(normal) = normal.try_normalize(1e-12) else { return };
    let is_known = planes
        .iter()
        .any(|plane| plane.normal.dot(&normal).abs() > 1.0 - PARALLEL && plane.height(&origin).abs() < ONE_PLANE_M);
    if is_known {
        return;
    }
    let aside = if normal.x.abs() < 0.9 { Vector::x() } else { Vector::y() };
    let Some(x) = (aside - normal * normal.dot(&aside)).try_normalize(1e-9) else { return };
    planes.push(Plane { origin, x, y: normal.cross(&x), normal });
}

#[cfg(test)]
mod tests {
    use super::super::solid::{Extrusion, HalfSpace, Operation, rectangle_ring};
    use super::super::space::Frame;
    use super::*;

    fn block(width_m: f64, depth_m: f64, height_m: f64) -> Solid {
        Solid::Extrusion(Extrusion {
            rings: vec![rectangle_ring([0.0, 0.0], [width_m, depth_m])],
            frame: Frame::identity(),
            sweep: Vector::new(0.0, 0.0, height_m),
            has_arcs: false,
        })
    }

    fn half_space(z_m: f64, normal: Vector) -> Solid {
        Solid::HalfSpace(HalfSpace { origin: Vector::new(0.0, 0.0, z_m), normal: normal.normalize() })
    }

    /// By hand: a prism of 4 by 2 m between two planes that rise by 1 in 1 along x, 1 m apart in height. Its two slopes
    /// are 2 x 4 sqrt(2) m2 each; its volume is 4 x 2 x 1 m3.
    #[test]
    fn what_is_cut_from_a_block_has_the_faces_of_the_cuts() {
        let slope = Vector::new(-1.0, 0.0, 1.0);
        let steps =
            vec![(Operation::Difference, half_space(1.0, -slope)), (Operation::Difference, half_space(0.0, slope))];
        let solid = Solid::Chain { first: Box::new(block(4.0, 2.0, 10.0)), steps };
        let body = boundary(&solid).unwrap().unwrap();
        let slopes: Vec<f64> = body
            .faces
            .iter()
            .map(|loops| Solid::Faces(FaceBody { corners: body.corners.clone(), faces: vec![loops.clone()] }))
            .flat_map(|face| face.faces())
            .filter(|face| face.normal().unwrap().dot(&slope.normalize()).abs() > 1.0 - 1e-9)
            .map(|face| face.area_vector().norm())
            .collect();
        assert_eq!(slopes.len(), 2, "{slopes:?}");
        assert!(slopes.iter().all(|area_m2| (area_m2 - 8.0 * 2.0_f64.sqrt()).abs() < 1e-4), "{slopes:?}");
        assert!((Solid::Faces(body).volume_m3() - 8.0).abs() < 1e-4);
    }

    #[test]
    fn a_block_without_cuts_keeps_its_six_faces() {
        let body = boundary(&block(3.0, 0.2, 2.5)).unwrap().unwrap();
        assert_eq!(body.faces.len(), 6);
        assert!((Solid::Faces(body).volume_m3() - 1.5).abs() < 1e-9);
    }
}
