//! Outlines whose points lie in another plane than the profile's own.
//!
//! The standard gives a profile's curve two dimensions. Some programs write three and stand a wall's
//! elevation upright in its own frame; the outline then lies in the plane of its points.

use super::{Outline, check};
use crate::geometry::{Frame, Point, Vector};
use crate::intake::ifc::context::Context;
use crate::intake::ifc::curve::curve;
use crate::intake::ifc::trouble::Trouble;

/// Points nearer to the profile's plane than this lie in it, in metres.
const FLAT_M: f64 = 1e-9;
/// Farthest that a point may stand off the plane of the others, in metres.
const STAND_OFF_M: f64 = 1e-6;

/// The outline of an arbitrary profile that leaves its plane, and the frame that it lies in.
///
/// `None` for every other profile: it is read as the standard has it.
///
/// # Errors
/// Points that lie in no one plane.
pub fn spatial(context: &Context<'_>, from: u64, id: u64) -> Result<Option<(Outline, Frame)>, Trouble> {
    let record = context.file.follow(from, id)?;
    if !record.is("IFCARBITRARYCLOSEDPROFILEDEF") {
        return Ok(None);
    }
    let run = curve(context, id, record.reference(2, "outer curve")?, 0)?;
    if run.points.iter().all(|point| point.z.abs() < FLAT_M) {
        return Ok(None);
    }
    let no_plane = || record.trouble("the points of the outline lie in no one plane");
    let origin = *run.points.first().ok_or_else(no_plane)?;
    let normal = newell(&run.points).try_normalize(1e-12).ok_or_else(no_plane)?;
    if run.points.iter().any(|point| normal.dot(&(point - origin)).abs() > STAND_OFF_M) {
        return Err(no_plane());
    }
    let along = if normal.z.abs() < 0.9 { Vector::z().cross(&normal) } else { Vector::x() - normal * normal.x };
    let along = along.normalize();
    let up = normal.cross(&along);
    let flat = |point: &Vector| -> Point { [along.dot(&(point - origin)), up.dot(&(point - origin))] };
    let mut ring: Vec<Point> = run.points.iter().map(flat).collect();
    if ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    let outline = Outline { rings: vec![ring], has_arcs: run.has_arcs };
    check(&record, &outline)?;
    Ok(Some((outline, Frame::from_axes(origin, along, up, normal))))
}

/// Twice the area of a closed run along its normal.
fn newell(points: &[Vector]) -> Vector {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a.cross(b)).sum()
}
