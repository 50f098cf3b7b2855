//! Primitives of constructive solid geometry.

use super::context::Context;
use super::curve::unit_arc;
use super::loft::{Section, loft};
use super::placement::position;
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Extrusion, Frame, Ring, Solid, Vector, rectangle_ring};
use std::f64::consts::{PI, TAU};

/// Chords of a circle.
const CHORDS: u32 = 360;
/// Rings of a sphere from pole to pole, and chords of each.
const SPHERE: (u32, u32) = (90, 180);

/// `IfcBlock`: from a corner of its frame.
///
/// # Errors
/// A position or size that cannot be used.
pub fn block(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let placed = placed(context, record, frame)?;
    let (x, y, z) = (length(context, record, 1)?, length(context, record, 2)?, length(context, record, 3)?);
    let sweep = placed.direction(&Vector::new(0.0, 0.0, z));
    let rings = vec![rectangle_ring([0.0, 0.0], [x, y])];
    Ok(Solid::Extrusion(Extrusion { rings, frame: placed, sweep, has_arcs: false }))
}

/// `IfcRightCircularCylinder`: about z, from its foot.
///
/// # Errors
/// A position or size that cannot be used.
pub fn cylinder(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let placed = placed(context, record, frame)?;
    let (height, radius) = (length(context, record, 1)?, length(context, record, 2)?);
    let sweep = placed.direction(&Vector::new(0.0, 0.0, height));
    Ok(Solid::Extrusion(Extrusion { rings: vec![circle(radius)], frame: placed, sweep, has_arcs: true }))
}

/// `IfcRightCircularCone`: about z, from its foot to its tip. Sections across z are exact.
///
/// # Errors
/// A position or size that cannot be used.
pub fn cone(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let placed = placed(context, record, frame)?;
    let (height, radius) = (length(context, record, 1)?, length(context, record, 2)?);
    Ok(pointed(&placed, &circle(radius), Vector::new(0.0, 0.0, height)))
}

/// `IfcRectangularPyramid`: from a corner of its foot, its tip over the middle.
///
/// # Errors
/// A position or size that cannot be used.
pub fn pyramid(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let placed = placed(context, record, frame)?;
    let (x, y) = (length(context, record, 1)?, length(context, record, 2)?);
    let tip = Vector::new(x / 2.0, y / 2.0, length(context, record, 3)?);
    Ok(pointed(&placed, &rectangle_ring([0.0, 0.0], [x, y]), tip))
}

/// `IfcSphere`: facets of 2 degrees, of exactly the sphere's volume; they stand off it by at most 0.03 % of the radius.
///
/// # Errors
/// A position or size that cannot be used.
pub fn sphere(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let placed = placed(context, record, frame)?;
    let radius = length(context, record, 1)?;
    let (rings, chords) = SPHERE;
    let unit = unit_arc(0.0, TAU, chords);
    let step = PI / f64::from(rings);
    // Frusta between circles on the sphere, then all as much larger as their volume is short of 4/3 pi.
    let circles: Vec<(f64, f64)> =
        (0..=rings).map(|i| f64::from(i) * step).map(|angle| (angle.sin(), -angle.cos())).collect();
    let volume: f64 = circles
        .windows(2)
        .filter_map(|pair| if let &[(a, low), (b, high)] = pair { Some((a, b, high - low)) } else { None })
        .map(|(a, b, height)| PI / 3.0 * height * (a * a + a * b + b * b))
        .sum();
    let grown = radius * (4.0 / 3.0 * PI / volume).cbrt();
    let section = |(i, (out, up)): (usize, &(f64, f64))| -> Section {
        let is_pole = i == 0 || i + 1 == circles.len();
        let out = if is_pole { 0.0 } else { out * grown };
        vec![unit.iter().skip(1).map(|[x, y]| placed.point(&Vector::new(x * out, y * out, up * grown))).collect()]
    };
    let sections: Vec<Section> = circles.iter().enumerate().map(section).collect();
    Ok(Solid::Faces(loft(&sections, false)))
}

fn pointed(placed: &Frame, foot: &Ring, tip: Vector) -> Solid {
    let tip = vec![placed.point(&tip); foot.len()];
    let foot: Vec<Vector> = foot.iter().map(|p| placed.plane_point(p)).collect();
    Solid::Faces(loft(&[vec![foot], vec![tip]], false))
}

fn circle(radius: f64) -> Ring {
    unit_arc(0.0, TAU, CHORDS).iter().skip(1).map(|[x, y]| [x * radius, y * radius]).collect()
}

fn placed(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Frame, Trouble> {
    Ok(frame.compose(&position(context, record.id, record.reference(0, "position")?)?))
}

fn length(context: &Context<'_>, record: &Record<'_>, index: usize) -> Result<f64, Trouble> {
    let length_m = record.number(index, "size")? * context.length_m;
    if length_m <= 0.0 {
        let message = format!("a size of {} is not over 0", record.class());
        return Err(Trouble::new(Code::BodyDegenerate, record.id, message));
    }
    Ok(length_m)
}
