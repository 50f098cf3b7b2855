//! Tessellated face sets.

use super::context::Context;
use super::corners::Corners;
use super::curve::position;
use super::record::{Record, parse_reference};
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{FaceBody, Frame, Solid, Vector};

/// `IfcTriangulatedFaceSet`.
pub fn triangulated(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let (corners, at) = point_list(context, record, frame)?;
    let triangles = record.number_lists(3, "coordinate indices")?;
    let faces = triangles.iter().map(|triangle| Ok(vec![indexed(record, triangle, &at)?]));
    let faces = faces.collect::<Result<Vec<_>, Trouble>>()?;
    finish(record, corners, faces)
}

/// `IfcPolygonalFaceSet`.
pub fn polygonal(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let (corners, at) = point_list(context, record, frame)?;
    // The point index, where there is one, stands between a face's index and the list of points.
    let through = match record.raw(3).and_then(|raw| (raw.first() == Some(&b'(')).then_some(())) {
        Some(()) => {
            let indices = record.numbers(3, "point indices")?;
            Some(indexed(record, &indices, &at)?)
        }
        None => None,
    };
    let at = through.unwrap_or(at);
    let mut faces = Vec::new();
    for item in record.list(2, "faces")? {
        let id = parse_reference(item).ok_or_else(|| record.trouble("a face is not a reference"))?;
        let face = context.file.follow(record.id, id)?;
        let mut loops = vec![indexed(&face, &face.numbers(0, "coordinate indices")?, &at)?];
        if face.raw(1).is_some() {
            for inner in face.number_lists(1, "inner coordinate indices")? {
                loops.push(indexed(&face, &inner, &at)?);
            }
        }
        faces.push(loops);
    }
    finish(record, corners, faces)
}

/// The corners of a point list, and the corner of each of its points.
fn point_list(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<(Corners, Vec<usize>), Trouble> {
    let list = context.file.follow(record.id, record.reference(0, "coordinates")?)?;
    let mut corners = Corners::default();
    let mut at = Vec::new();
    for point in list.number_lists(0, "coordinates")? {
        let &[x, y, z] = point.as_slice() else {
            return Err(list.trouble(format!("a point has {} coordinates, 3 are due", point.len())));
        };
        at.push(corners.add(frame.point(&(Vector::new(x, y, z) * context.length_m))));
    }
    Ok((corners, at))
}

fn indexed(record: &Record<'_>, indices: &[f64], at: &[usize]) -> Result<Vec<usize>, Trouble> {
    let find = |index: &f64| {
        let found = position(*index).and_then(|place| at.get(place)).copied();
        found.ok_or_else(|| record.trouble(format!("index {index} of {} points; indices start at 1", at.len())))
    };
    indices.iter().map(find).collect()
}

fn finish(record: &Record<'_>, corners: Corners, faces: Vec<Vec<Vec<usize>>>) -> Result<Solid, Trouble> {
    if faces.is_empty() {
        return Err(Trouble::new(Code::NoBody, record.id, "the body has no faces"));
    }
    Ok(Solid::Faces(FaceBody { corners: corners.into_places(), faces }))
}
