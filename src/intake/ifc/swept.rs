//! Profiles swept otherwise than along one line: tapered, and about an axis.

use super::context::Context;
use super::curve::{chords_of, unit_arc};
use super::loft::{Section, loft, oriented};
use super::placement::{direction, point, position};
use super::profile::{Outline, profile, spatial};
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Extrusion, Frame, Ring, Solid, Vector};
use std::f64::consts::TAU;

/// Closer than this a point lies on the axis, in metres.
const ON_AXIS_M: f64 = 1e-9;

/// `IfcExtrudedAreaSolid`.
///
/// # Errors
/// A profile, direction or depth that cannot be used.
pub fn extrusion(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    record.due(4)?;
    let id = record.reference(0, "profile")?;
    let placed = own_frame(context, record, frame)?;
    let sweep = sweep(context, record, &placed)?;
    let (outline, frame) = match spatial(context, record.id, id)? {
        Some((outline, plane)) => (outline, placed.compose(&plane)),
        None => (profile(context, record.id, id)?, placed),
    };
    Ok(Solid::Extrusion(Extrusion { rings: outline.rings, frame, sweep, has_arcs: outline.has_arcs }))
}

/// `IfcExtrudedAreaSolidTapered`: exact where both profiles have the same number of points.
///
/// # Errors
/// As for an extrusion, and where the profiles have different numbers of points.
pub fn tapered(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    record.due(5)?;
    let start = profile(context, record.id, record.reference(0, "profile")?)?;
    let end = profile(context, record.id, record.reference(4, "end profile")?)?;
    let counts = |outline: &Outline| outline.rings.iter().map(Vec::len).collect::<Vec<_>>();
    if counts(&start) != counts(&end) {
        let message = format!(
            "the body tapers from a profile of {} points to one of {}; such are not measured",
            counts(&start).iter().sum::<usize>(),
            counts(&end).iter().sum::<usize>()
        );
        return Err(Trouble::new(Code::BodyNotMeasured, record.id, message));
    }
    let placed = own_frame(context, record, frame)?;
    let sweep = sweep(context, record, &placed)?;
    let section = |outline: &Outline, along: Vector| -> Section {
        let place = |ring: &Ring| ring.iter().map(|p| placed.plane_point(p) + along).collect();
        oriented(&outline.rings).iter().map(place).collect()
    };
    Ok(Solid::Faces(loft(&[section(&start, Vector::zeros()), section(&end, sweep)], false)))
}

/// `IfcRevolvedAreaSolid`: angular steps whose chords keep the area of every section across the axis, and so the volume;
/// the surface stands off by at most 0.01 mm.
///
/// # Errors
/// A profile, axis or angle that cannot be used.
pub fn revolved(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    record.due(4)?;
    let outline = profile(context, record.id, record.reference(0, "profile")?)?;
    let placed = own_frame(context, record, frame)?;
    let axis = Axis::read(context, record.id, record.reference(2, "axis")?)?;
    let angle = record.number(3, "angle")? * context.angle_rad;
    if angle <= 0.0 || angle > TAU * (1.0 + 1e-9) {
        let message = format!("angle {}; one over 0, up to a whole turn, is due", record.number(3, "angle")?);
        return Err(Trouble::new(Code::BodyDegenerate, record.id, message));
    }
    let rings: Vec<Vec<Vector>> = oriented(&outline.rings)
        .iter()
        .map(|ring| ring.iter().map(|[x, y]| Vector::new(*x, *y, 0.0)).collect())
        .collect();
    let sides = rings.iter().flatten().map(|p| axis.side(p));
    let (low, high) = sides.fold((0.0_f64, 0.0_f64), |(low, high), side| (low.min(side), high.max(side)));
    if low < -ON_AXIS_M && high > ON_AXIS_M {
        return Err(Trouble::new(Code::BodyDegenerate, record.id, "the profile crosses the axis that it turns about"));
    }
    let radius_m = high.max(-low);
    if radius_m <= ON_AXIS_M {
        return Err(Trouble::new(Code::BodyDegenerate, record.id, "the profile lies on the axis that it turns about"));
    }
    let runs_round = angle > TAU * (1.0 - 1e-9);
    let turn = if runs_round { TAU } else { angle };
    let steps = unit_arc(0.0, turn, chords_of(turn, radius_m));
    let kept = if runs_round { steps.len() - 1 } else { steps.len() };
    let section = |step: &[f64; 2]| -> Section {
        rings.iter().map(|ring| ring.iter().map(|p| placed.point(&axis.turned(p, *step))).collect()).collect()
    };
    let sections: Vec<Section> = steps.iter().take(kept).map(section).collect();
    Ok(Solid::Faces(loft(&sections, runs_round)))
}

/// The frame of a swept solid's profile.
fn own_frame(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Frame, Trouble> {
    match record.optional_reference(1) {
        Some(id) => Ok(frame.compose(&position(context, record.id, id)?)),
        None => Ok(*frame),
    }
}

/// Direction and depth of an extrusion, outside its frame.
fn sweep(context: &Context<'_>, record: &Record<'_>, placed: &Frame) -> Result<Vector, Trouble> {
    let way = direction(context.file, record.id, record.reference(2, "direction")?)?;
    let depth_m = record.number(3, "depth")? * context.length_m;
    if depth_m <= 0.0 {
        let shown = record.number(3, "depth")?;
        return Err(Trouble::new(Code::BodyDegenerate, record.id, format!("depth {shown}; a length over 0 is due")));
    }
    Ok(placed.direction(&(way * depth_m)))
}

/// The axis of a revolution, in the frame of the profile.
struct Axis {
    origin: Vector,
    way: Vector,
}

impl Axis {
    fn read(context: &Context<'_>, from: u64, id: u64) -> Result<Self, Trouble> {
        let record = context.file.follow(from, id)?;
        if !record.is("IFCAXIS1PLACEMENT") {
            return Err(record.trouble(format!("{} is not an axis", record.class())));
        }
        let origin = point(context.file, id, record.reference(0, "location")?, context.length_m)?;
        let way = match record.optional_reference(1) {
            Some(way) => direction(context.file, id, way)?,
            None => Vector::z(),
        };
        if way.z.abs() > 1e-6 || origin.z.abs() > 1e-6 {
            let message = "the axis of the revolution does not lie in the plane of its profile";
            return Err(Trouble::new(Code::BodyDegenerate, id, message));
        }
        Ok(Self { origin, way })
    }

    /// Distance of a point of the profile from the axis: over 0 on one side, under 0 on the other.
    fn side(&self, p: &Vector) -> f64 {
        let d = p - self.origin;
        d.x * self.way.y - d.y * self.way.x
    }

    /// A point turned about the axis by the angle of a step, and as far from it as the step says.
    fn turned(&self, p: &Vector, [cosine, sine]: [f64; 2]) -> Vector {
        let along = self.way.dot(&(p - self.origin));
        let foot = self.origin + self.way * along;
        let out = p - foot;
        if out.norm() < ON_AXIS_M {
            return foot;
        }
        foot + out * cosine + self.way.cross(&out) * sine
    }
}
