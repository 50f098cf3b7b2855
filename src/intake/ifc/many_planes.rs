//! Bodies that lie and have several planes, as roofs in one piece do: one surface a plane.
//!
//! The surface of a plane is its upper face; its thickness, the distance to the parallel face below.

use super::axes::{Axes, pitch_deg};
use super::context::Context;
use super::element::Element;
use super::layers::Layers;
use super::openings::{Cut, Host, openings_of};
use super::placement::Chain;
use super::plate::{section_trouble, surface};
use super::relations::Relations;
use super::shape::has_cuts;
use super::stack;
use super::standing::standing;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{
    Face, FacesSeen, Plane, Polygon, Solid, Vector, intersection, section, total_area_m2, union, union_even_odd,
};
use crate::model::{Surface, SurfaceKind};

/// A face steeper than this, 88.9 degrees, belongs to no roof or ceiling: the cosine of its pitch. The lowest facets of
/// a barrel roof come near to upright.
const STEEPEST: f64 = 0.02;
/// Faces whose normals differ by less than this, as 1 less the cosine, are parallel.
const PARALLEL: f64 = 1e-6;
/// Faces that lie this close along their normal are in one plane, in metres.
const ONE_PLANE_M: f64 = 1e-3;
/// No roof, floor or ceiling is thicker than this, in metres.
const THICKEST_M: f64 = 1.5;
/// A plane without a face below it counts when it has this share of the largest one.
const LARGE_SHARE: f64 = 0.1;
/// Most faces of a body of several planes: each is held against all.
const MOST_FACES: usize = 20_000;
/// How far below its face a plane is cut, where a body has cuts, in metres.
const BELOW_M: f64 = 2e-6;

/// A plane of the body, seen from above.
struct Slope {
    normal: Vector,
    offset_m: f64,
    faces: Vec<Face>,
    thickness_m: Option<f64>,
}

/// Measures a body of several planes, which are those of its shape: see [`shape`](super::shape).
///
/// # Errors
/// Where it has no face that looks up.
pub fn measure(
    context: &Context<'_>,
    relations: &Relations,
    element: &Element,
    kind: SurfaceKind,
    (solid, shape, chain, layers): (&Solid, &Solid, &Chain, &Layers),
) -> Result<Vec<Surface>, Trouble> {
    let world_up = chain.world().inverse().map_or_else(Vector::z, |world| world.direction(&Vector::z()));
    let faces: Vec<Face> = shape.base().iter().flat_map(|piece| piece.faces()).collect();
    if faces.len() > MOST_FACES {
        let message = format!("the body is folded and has {} faces; at most {MOST_FACES} are measured", faces.len());
        return Err(Trouble::new(Code::BodyNotMeasured, element.entity, message));
    }
    let slopes = keep_large(context, element, slopes(&faces, &world_up));
    if slopes.is_empty() {
        return Err(Trouble::new(Code::BodyDegenerate, element.entity, "the body has no face that looks up"));
    }
    let mut surfaces = Vec::new();
    for slope in &slopes {
        let axes = axes_of(slope, &world_up);
        let region = region_of(element, solid, slope, &axes)?;
        if total_area_m2(&region) <= 0.0 {
            continue;
        }
        let at_m = f64::midpoint(axes.low_m, axes.high_m);
        let cut = Cut::Flat { plane: &axes.plane(at_m), low_m: axes.low_m, high_m: axes.high_m };
        let host = Host { element, chain, cut, lying: Some(solid) };
        let found = openings_of(context, relations, &host, &region);
        // An opening that misses one plane may be in another: only odd ones within a plane are noted.
        let odd = found.troubles.iter().filter(|trouble| trouble.code != Code::OpeningMissesElement);
        odd.for_each(|trouble| context.note(trouble.clone()));
        let mut laid = stack::lay(context, element, layers, &axes);
        laid.at_m = at_m;
        let standing = standing(chain, &axes.plane(axes.high_m), found.origin, &found.gross, kind);
        let mut surface = surface(context, element, kind, &axes, laid, found);
        surface.part = u32::try_from(surfaces.len()).unwrap_or(u32::MAX);
        surface.standing = standing;
        surface.thickness_m = slope.thickness_m;
        surface.pitch_deg = Some(pitch_deg(&slope.normal, &world_up));
        surfaces.push(surface);
    }
    note_missed_openings(context, relations, element, &surfaces);
    Ok(surfaces)
}

fn slopes(faces: &[Face], world_up: &Vector) -> Vec<Slope> {
    let mut slopes: Vec<Slope> = Vec::new();
    let seen = FacesSeen::along(faces, world_up);
    for (index, face) in faces.iter().enumerate() {
        let Some(normal) = face.normal().filter(|normal| normal.dot(world_up).abs() >= STEEPEST) else { continue };
        let normal = normal * normal.dot(world_up).signum();
        if !is_upper(&seen, face, index, world_up) {
            continue;
        }
        let offset_m = face.height_along(&normal);
        let same = |slope: &&mut Slope| {
            slope.normal.dot(&normal) > 1.0 - PARALLEL && (slope.offset_m - offset_m).abs() < ONE_PLANE_M
        };
        match slopes.iter_mut().find(same) {
            Some(slope) => slope.faces.push(face.clone()),
            None => slopes.push(Slope { normal, offset_m, faces: vec![face.clone()], thickness_m: None }),
        }
    }
    for slope in &mut slopes {
        slope.thickness_m = thickness(slope, faces);
    }
    slopes
}

/// Whether an even number of faces lies above a face: then the outside does.
///
/// Counting faces needs no direction from the file, which surface models often give at random.
fn is_upper(seen: &FacesSeen<'_>, face: &Face, index: usize, world_up: &Vector) -> bool {
    let Some(point) = face.inner_point(world_up) else { return false };
    seen.over(&point).filter(|(other, height)| *other != index && *height > 1e-7).count() % 2 == 0
}

/// Distance to the nearest parallel face below that a slope's faces stand over.
fn thickness(slope: &Slope, faces: &[Face]) -> Option<f64> {
    let points: Vec<Vector> = slope.faces.iter().filter_map(|face| face.inner_point(&slope.normal)).collect();
    let below = faces.iter().filter(|face| face.normal().is_some_and(|n| n.dot(&slope.normal).abs() > 1.0 - PARALLEL));
    let distances = below.filter_map(|face| {
        let heights = points.iter().filter_map(|point| face.height_over(point, &slope.normal));
        heights.map(|height| -height).filter(|depth| *depth > ONE_PLANE_M && *depth < THICKEST_M).reduce(f64::min)
    });
    distances.reduce(f64::min)
}

/// Leaves out edges and other small faces, and says so.
fn keep_large(context: &Context<'_>, element: &Element, slopes: Vec<Slope>) -> Vec<Slope> {
    // A dome without an inner side has no edges to tell from its facets.
    if slopes.iter().all(|slope| slope.thickness_m.is_none()) {
        return slopes;
    }
    let area = |slope: &Slope| slope.faces.iter().map(|face| face.area_vector().norm()).sum::<f64>();
    let largest_m2 = slopes.iter().map(area).fold(0.0, f64::max);
    let counts = |slope: &Slope| slope.thickness_m.is_some() || area(slope) >= LARGE_SHARE * largest_m2;
    let (kept, small): (Vec<Slope>, Vec<Slope>) = slopes.into_iter().partition(counts);
    if !small.is_empty() {
        let (count, area_m2) = (small.len(), small.iter().map(area).sum::<f64>());
        let message =
            format!("{count} edges and small faces that look up ({area_m2:.3} m2) are no slopes and are left out");
        context.note(Trouble::new(Code::BodyDegenerate, element.entity, message));
    }
    kept
}

fn axes_of(slope: &Slope, world_up: &Vector) -> Axes {
    let through = slope.normal;
    let up = (world_up - through * through.dot(world_up)).try_normalize(1e-9);
    let level = || (Vector::x() - through * through.x).try_normalize(1e-6).unwrap_or_else(Vector::y);
    let along = up.map_or_else(level, |up| up.cross(&through));
    let thickness_m = slope.thickness_m.unwrap_or(0.0);
    let sides_m2 = 2.0 * slope.faces.iter().map(|face| face.area_vector().norm()).sum::<f64>();
    Axes {
        along,
        up: through.cross(&along),
        through,
        world_up: *world_up,
        low_m: slope.offset_m - thickness_m,
        high_m: slope.offset_m,
        sides_m2,
        face_share: 1.0,
    }
}

/// The faces of a slope in its plane, less what the body's cuts take from them.
fn region_of(element: &Element, solid: &Solid, slope: &Slope, axes: &Axes) -> Result<Vec<Polygon>, Trouble> {
    let plane: Plane = axes.plane(slope.offset_m);
    let flat = |face: &Face| union_even_odd(&face.projected(&plane));
    let region = union(&slope.faces.iter().flat_map(flat).collect::<Vec<_>>());
    if !has_cuts(solid) {
        return Ok(region);
    }
    let cut = section(solid, &plane.moved(-BELOW_M)).map_err(|error| section_trouble(element, error))?;
    Ok(intersection(&region, &cut))
}

fn note_missed_openings(context: &Context<'_>, relations: &Relations, element: &Element, surfaces: &[Surface]) {
    for &id in relations.openings.get(&element.entity).into_iter().flatten() {
        let entity = format!("#{id}");
        let taken = surfaces.iter().flat_map(|surface| &surface.openings);
        let found =
            taken.filter_map(|opening| opening.source.as_ref()?.entity.as_ref()).any(|source| *source == entity);
        if !found {
            let message =
                format!("the opening #{id} takes nothing from any plane of the body; check its place in the model");
            context.note(Trouble::new(Code::OpeningMissesElement, id, message));
        }
    }
}
