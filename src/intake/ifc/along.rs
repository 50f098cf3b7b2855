//! Profiles swept along a straight line that is given as a curve.

use super::context::Context;
use super::pipe::directrix;
use super::placement::{direction, position as placed_at};
use super::profile::profile;
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Extrusion, Frame, Solid, Vector};

/// Points nearer to a straight line than this lie on it, in metres.
const STRAIGHT_M: f64 = 1e-6;

/// `IfcFixedReferenceSweptAreaSolid` and `IfcSurfaceCurveSweptAreaSolid` along a straight line: an extrusion.
///
/// The profile stands across the line, its x towards the fixed reference, or along the normal of the reference surface
/// (ISO 10303-42, `surface_curve_swept_area_solid`; `IfcFixedReferenceSweptAreaSolid` of ISO 16739-1).
///
/// # Errors
/// A line that bends, a reference along it, or a reference surface that is no plane.
pub fn along_line(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let outline = profile(context, record.id, record.reference(0, "profile")?)?;
    let placed = match record.optional_reference(1) {
        Some(id) => frame.compose(&placed_at(context, record.id, id)?),
        None => *frame,
    };
    let points = directrix(context, record, 2)?;
    let bends = || {
        let message = format!("bodies of class {} along a line that bends are not measured", record.class());
        Trouble::new(Code::BodyNotMeasured, record.id, message)
    };
    let (first, last) = points.first().zip(points.last()).ok_or_else(bends)?;
    let sweep = last - first;
    let z = sweep.try_normalize(STRAIGHT_M).ok_or_else(bends)?;
    let off_m = points.iter().map(|p| (p - first).cross(&z).norm()).fold(0.0, f64::max);
    if off_m > STRAIGHT_M {
        return Err(bends());
    }
    let reference = reference(context, record)?;
    let x = (reference - z * z.dot(&reference)).try_normalize(1e-6);
    let x = x.ok_or_else(|| record.trouble("the reference of the body runs along its line"))?;
    let own = placed.compose(&Frame::from_axes(*first, x, z.cross(&x), z));
    let sweep = placed.direction(&sweep);
    Ok(Solid::Extrusion(Extrusion { rings: outline.rings, frame: own, sweep, has_arcs: outline.has_arcs }))
}

/// What the profile's x looks to.
fn reference(context: &Context<'_>, record: &Record<'_>) -> Result<Vector, Trouble> {
    let id = record.reference(5, "reference")?;
    if record.is("IFCFIXEDREFERENCESWEPTAREASOLID") {
        return direction(context.file, record.id, id);
    }
    let surface = context.file.follow(record.id, id)?;
    if !surface.is("IFCPLANE") {
        let message = format!("bodies swept along a line on {} are not measured", surface.class());
        return Err(Trouble::new(Code::BodyNotMeasured, surface.id, message));
    }
    let plane = placed_at(context, surface.id, surface.reference(0, "position")?)?;
    Ok(plane.matrix.column(2).into_owned())
}
