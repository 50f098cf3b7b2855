//! Exact sections of solids by a plane.
//!
//! Cutting commutes with booleans, so every operand is cut on its own, in f64, and only booleans of
//! plane outlines follow. A region is a list of rings under the even-odd rule until it is finished.

use super::face_section::section_of_faces;
use super::overlay::{Rings, combine_even_odd, union_even_odd};
use super::plane::Plane;
use super::solid::{Extrusion, HalfSpace, Operation, Solid, edges};
use super::space::{Frame, Vector};
use super::{Bounds, Point, Polygon, Ring, clip_by_half_plane};

/// Below this share of its length, a sweep's rise against the plane counts as none.
const LEVEL_SHARE: f64 = 1e-10;

/// Why a section cannot be taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SectionError {
    /// A body of faces has a gap where the plane cuts it.
    Open,
    /// A half-space stands where a bounded solid is due.
    Unbounded,
}

/// The section of a solid by a plane, in the plane's own axes.
///
/// # Errors
/// See [`SectionError`].
pub fn section(solid: &Solid, plane: &Plane) -> Result<Vec<Polygon>, SectionError> {
    Ok(finish(&rings_of(solid, plane)?))
}

fn finish(rings: &Rings) -> Vec<Polygon> {
    match rings.as_slice() {
        [] => Vec::new(),
        [ring] if is_convex(ring) => vec![Polygon::from_ring(ring.clone())],
        _ => union_even_odd(rings),
    }
}

fn rings_of(solid: &Solid, plane: &Plane) -> Result<Rings, SectionError> {
    match solid {
        Solid::Extrusion(extrusion) => Ok(section_of_extrusion(extrusion, plane)),
        Solid::Faces(body) => section_of_faces(body, plane).ok_or(SectionError::Open),
        Solid::HalfSpace(_) | Solid::BoundedHalfSpace { .. } => Err(SectionError::Unbounded),
        Solid::Chain { first, steps } => {
            let mut region = rings_of(first, plane)?;
            for (operation, operand) in steps {
                if region.is_empty() && *operation != Operation::Union {
                    break;
                }
                region = apply(region, *operation, operand, plane)?;
            }
            Ok(region)
        }
        Solid::Union(solids) => {
            let mut region = Rings::new();
            for solid in solids {
                region = join(region, rings_of(solid, plane)?);
            }
            Ok(region)
        }
    }
}

fn join(region: Rings, other: Rings) -> Rings {
    match (region.is_empty(), other.is_empty()) {
        (true, _) => other,
        (_, true) => region,
        _ => combine_even_odd(&region, &other, Operation::Union),
    }
}

fn apply(region: Rings, operation: Operation, operand: &Solid, plane: &Plane) -> Result<Rings, SectionError> {
    let other = match (operation, operand) {
        (Operation::Difference, Solid::HalfSpace(half_space)) => {
            return Ok(clip(region, &half_plane(half_space, plane).complement()));
        }
        (Operation::Intersection, Solid::HalfSpace(half_space)) => {
            return Ok(clip(region, &half_plane(half_space, plane)));
        }
        (Operation::Difference | Operation::Intersection, Solid::BoundedHalfSpace { half_space, rings, frame }) => {
            let prism = section_of_prism(rings, frame, plane, &region);
            clip(prism, &half_plane(half_space, plane))
        }
        _ => rings_of(operand, plane)?,
    };
    Ok(match (operation, other.is_empty()) {
        (Operation::Difference, true) => region,
        (Operation::Intersection, true) => Rings::new(),
        (Operation::Union, _) => join(region, other),
        _ if apart(&region, &other) && operation == Operation::Difference => region,
        _ => combine_even_odd(&region, &other, operation),
    })
}

/// Whether the boxes of two regions do not touch, so that neither takes from the other.
fn apart(a: &Rings, b: &Rings) -> bool {
    match (Bounds::of(a.iter().flatten()), Bounds::of(b.iter().flatten())) {
        (Some(a), Some(b)) => a.max_x < b.min_x || b.max_x < a.min_x || a.max_y < b.min_y || b.max_y < a.min_y,
        _ => true,
    }
}

/// A half-plane `normal . point <= limit`; a normal of 0 means all or nothing.
struct HalfPlane {
    normal: Point,
    limit: f64,
    /// Whether the bounding plane itself belongs to it: to one side only, where the section lies in that plane.
    is_closed: bool,
}

impl HalfPlane {
    fn complement(&self) -> Self {
        Self { normal: [-self.normal[0], -self.normal[1]], limit: -self.limit, is_closed: !self.is_closed }
    }
}

fn half_plane(half_space: &HalfSpace, plane: &Plane) -> HalfPlane {
    let [a, b] = plane.project_direction(&half_space.normal);
    let limit = half_space.normal.dot(&(half_space.origin - plane.origin));
    let normal = if a.hypot(b) < LEVEL_SHARE { [0.0, 0.0] } else { [a, b] };
    HalfPlane { normal, limit, is_closed: true }
}

fn clip(region: Rings, half_plane: &HalfPlane) -> Rings {
    if half_plane.normal == [0.0, 0.0] {
        let keeps = half_plane.limit > 0.0 || (half_plane.is_closed && half_plane.limit >= 0.0);
        return if keeps { region } else { Rings::new() };
    }
    clip_by_half_plane(&region, half_plane.normal, half_plane.limit)
}

fn section_of_extrusion(extrusion: &Extrusion, plane: &Plane) -> Rings {
    let Extrusion { rings, frame, sweep, .. } = extrusion;
    let rise = plane.normal.dot(sweep);
    if rise.abs() <= LEVEL_SHARE * sweep.norm() {
        let sweep = plane.project_direction(sweep);
        return chords(rings, frame, plane)
            .into_iter()
            .map(|[a, b]| vec![a, b, [b[0] + sweep[0], b[1] + sweep[1]], [a[0] + sweep[0], a[1] + sweep[1]]])
            .collect();
    }
    where_met(rings, frame, sweep, plane, [0.0, 1.0])
}

/// Where the plane meets an outline that is swept across it, from one share of the sweep to another.
///
/// How far along the sweep the plane is met is affine over the outline, so that the outline is clipped
/// to the shares before it is carried to the plane: nothing is ever far from the body.
fn where_met(rings: &Rings, frame: &Frame, sweep: &Vector, plane: &Plane, [low, high]: [f64; 2]) -> Rings {
    let rise = plane.normal.dot(sweep);
    let ([a, b], at_origin) = height_over(frame, plane);
    let started = clip_by_half_plane(rings, [a / rise, b / rise], -at_origin / rise - low);
    let ended = clip_by_half_plane(&started, [-a / rise, -b / rise], high + at_origin / rise);
    ended.iter().map(|ring| ring.iter().map(|point| along(point, frame, sweep, rise, plane)).collect()).collect()
}

/// How far a prism must be swept to pass all of a region's box, with room to spare.
fn shares_over(frame: &Frame, plane: &Plane, bounds: &Bounds, reach: f64) -> Option<[f64; 2]> {
    let inverse = frame.inverse()?;
    let spare = reach / frame.matrix.column(2).norm();
    let corners = [
        [bounds.min_x, bounds.min_y],
        [bounds.max_x, bounds.min_y],
        [bounds.max_x, bounds.max_y],
        [bounds.min_x, bounds.max_y],
    ];
    let shares = corners.map(|[x, y]| inverse.point(&(plane.origin + plane.x * x + plane.y * y)).z);
    let low = shares.into_iter().fold(f64::MAX, f64::min) - spare;
    let high = shares.into_iter().fold(f64::MIN, f64::max) + spare;
    Some([low, high])
}

/// The section of an endless prism, as far as `region` reaches.
fn section_of_prism(rings: &Rings, frame: &Frame, plane: &Plane, region: &Rings) -> Rings {
    let way = frame.matrix.column(2).into_owned();
    let Some(bounds) = Bounds::of(region.iter().flatten()) else { return Rings::new() };
    let reach = bounds.width_m() + bounds.height_m() + 1.0;
    if plane.normal.dot(&way).abs() > LEVEL_SHARE * way.norm() {
        let shares = shares_over(frame, plane, &bounds, reach);
        return shares.map_or_else(Rings::new, |shares| where_met(rings, frame, &way, plane, shares));
    }
    let way = plane.project_direction(&way);
    let length = way[0].hypot(way[1]);
    if length <= 0.0 {
        return Rings::new();
    }
    let way = [way[0] / length, way[1] / length];
    let middle = [f64::midpoint(bounds.min_x, bounds.max_x), f64::midpoint(bounds.min_y, bounds.max_y)];
    chords(rings, frame, plane)
        .into_iter()
        .map(|ends| {
            // Each side of the strip is cut off level with the region, so that the strip stays close to it.
            let [a, b] = ends.map(|p| {
                let back = way[0] * (middle[0] - p[0]) + way[1] * (middle[1] - p[1]);
                [p[0] + way[0] * back, p[1] + way[1] * back]
            });
            let far = |p: Point, side: f64| [p[0] + side * reach * way[0], p[1] + side * reach * way[1]];
            vec![far(a, -1.0), far(b, -1.0), far(b, 1.0), far(a, 1.0)]
        })
        .collect()
}

/// Height of the frame's x-y plane over the section plane: slopes along x and y, and at the origin.
fn height_over(frame: &Frame, plane: &Plane) -> (Point, f64) {
    let slope = |column: usize| plane.normal.dot(&frame.matrix.column(column));
    ([slope(0), slope(1)], plane.height(&frame.origin))
}

fn along(point: &Point, frame: &Frame, sweep: &Vector, rise: f64, plane: &Plane) -> Point {
    let start = frame.plane_point(point);
    plane.project(&(start - sweep * (plane.height(&start) / rise)))
}

/// The pieces of an outline that lie on the section plane, as pairs of points in the plane's axes.
fn chords(rings: &Rings, frame: &Frame, plane: &Plane) -> Vec<[Point; 2]> {
    let ([a, b], at_origin) = height_over(frame, plane);
    let height = |p: &Point| a * p[0] + b * p[1] + at_origin;
    // Along the line where the outline's plane meets the section plane.
    let position = |p: &Point| a * p[1] - b * p[0];
    let mut crossings: Vec<(f64, Point)> = Vec::new();
    for (p, q) in rings.iter().flat_map(|ring| edges(ring)) {
        let (hp, hq) = (height(p), height(q));
        if (hp >= 0.0) != (hq >= 0.0) {
            let t = hp / (hp - hq);
            let crossing = [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
            crossings.push((position(&crossing), plane.project(&frame.plane_point(&crossing))));
        }
    }
    crossings.sort_by(|x, y| x.0.total_cmp(&y.0));
    let pairs = crossings.chunks_exact(2);
    pairs.filter_map(|pair| if let [(_, p), (_, q)] = pair { Some([*p, *q]) } else { None }).collect()
}

/// Whether a ring turns one way only, so that no boolean is needed to make a polygon of it.
fn is_convex(ring: &Ring) -> bool {
    let turns = edges(ring).zip(ring.iter().cycle().skip(2)).map(|((a, b), c)| {
        let turn = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
        if turn > 0.0 { 1 } else { -1 }
    });
    let total: i32 = turns.sum();
    // A pentagram turns one way as well; an outline of four corners cannot.
    ring.len() <= 4 && total.unsigned_abs() as usize == ring.len()
}
