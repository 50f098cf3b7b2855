//! Discs swept along a curve: bars, pipes, handrails.

use super::context::Context;
use super::curve::{Run, curve, unit_arc};
use super::loft::{Section, loft};
use super::profile::rounded;
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Frame, Solid, Vector};
use std::f64::consts::TAU;

/// Chords of the disc.
const CHORDS: u32 = 90;
/// Points of the directrix closer than this are one, in metres.
const SAME_M: f64 = 1e-9;

/// `IfcSweptDiskSolid`, also `Polygonal`: straight pieces of exact section, mitred where the directrix bends; along arcs
/// the directrix itself stands off by at most 0.01 mm.
///
/// # Errors
/// A directrix or radius that cannot be used, or a bend tighter than its mitre.
pub fn pipe(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let degenerate = |message: &str| Trouble::new(Code::BodyDegenerate, record.id, message);
    let radius_m = record.number(1, "radius")? * context.length_m;
    let inner_m = record.optional_number(2, "inner radius")?.unwrap_or(0.0) * context.length_m;
    if radius_m <= 0.0 || inner_m < 0.0 || inner_m >= radius_m {
        return Err(degenerate("a radius over 0 is due, and an inner one below it"));
    }
    let mut points = directrix(context, record, 0)?;
    points.dedup_by(|a, b| (*a - *b).norm() < SAME_M);
    if record.is("IFCSWEPTDISKSOLIDPOLYGONAL") {
        let fillet_m = record.optional_number(5, "fillet radius")?.unwrap_or(0.0) * context.length_m;
        let corners: Vec<(Vector, f64)> = points.iter().map(|p| (*p, fillet_m)).collect();
        let no_room = || degenerate("the fillets do not fit between the corners of the directrix");
        points = rounded(&corners, false).ok_or_else(no_room)?;
    }
    let sections = mitred(&points, &[radius_m, inner_m]);
    let sections = sections.ok_or_else(|| degenerate("the directrix has no length, or turns back on itself"))?;
    let placed = |section: Section| -> Section {
        section.iter().map(|ring| ring.iter().map(|p| frame.point(p)).collect()).collect()
    };
    Ok(Solid::Faces(loft(&sections.into_iter().map(placed).collect::<Vec<_>>(), false)))
}

/// The points of the directrix, which stands at a place among the arguments, its trims fourth and fifth; these count
/// straight pieces, others are named.
pub fn directrix(context: &Context<'_>, record: &Record<'_>, place: usize) -> Result<Vec<Vector>, Trouble> {
    let id = record.reference(place, "directrix")?;
    let class = context.file.follow(record.id, id)?.class();
    let Run { points, has_arcs } = curve(context, record.id, id, 0)?;
    let (start, end) = (record.optional_number(3, "start")?, record.optional_number(4, "end")?);
    if start.is_none() && end.is_none() {
        return Ok(points);
    }
    let counts_pieces = !has_arcs && (class == "IFCPOLYLINE" || class == "IFCINDEXEDPOLYCURVE");
    let last = f64::from(u32::try_from(points.len().saturating_sub(1)).unwrap_or(0));
    let (start, end) = (start.unwrap_or(0.0), end.unwrap_or(last));
    if counts_pieces {
        return Ok(trimmed(&points, start.clamp(0.0, last), end.clamp(0.0, last)));
    }
    if start != 0.0 {
        let message = format!("bodies along a part of a curve of class {class} are not measured");
        return Err(Trouble::new(Code::BodyNotMeasured, record.id, message));
    }
    // The parameter of a curve with arcs depends on how each of its pieces counts; most exports name its end.
    let message = format!("the end parameter {end} of a body along {class} is not read; the whole curve is taken");
    context.note(Trouble::new(Code::RecordUnusable, record.id, message));
    Ok(points)
}

/// The part of straight pieces between two parameters that count them.
fn trimmed(points: &[Vector], start: f64, end: f64) -> Vec<Vector> {
    let mut kept = Vec::new();
    for (i, pair) in points.windows(2).enumerate() {
        let &[a, b] = pair else { continue };
        let from = f64::from(u32::try_from(i).unwrap_or(u32::MAX));
        let (low, high) = ((start - from).max(0.0), (end - from).min(1.0));
        if low < high {
            kept.extend([a + (b - a) * low, a + (b - a) * high]);
        }
    }
    kept
}

/// Rings about the directrix, each in the plane that halves its bend.
fn mitred(points: &[Vector], radii: &[f64; 2]) -> Option<Vec<Section>> {
    let ways: Vec<Vector> =
        points.windows(2).map(|pair| (pair.last()? - pair.first()?).try_normalize(0.0)).collect::<Option<_>>()?;
    let first = *ways.first()?;
    let x = first.cross(&if first.z.abs() < 0.9 { Vector::z() } else { Vector::x() }).try_normalize(0.0)?;
    let y = first.cross(&x);
    let start = points.first()?;
    let unit = unit_arc(0.0, TAU, CHORDS);
    let ring = |radius: f64| unit.iter().skip(1).map(|[a, b]| start + (x * *a + y * *b) * radius).collect::<Vec<_>>();
    // The inner ring runs the other way round, as voids do.
    let mut section: Section = vec![ring(radii[0])];
    if radii[1] > 0.0 {
        section.push(ring(radii[1]).into_iter().rev().collect());
    }
    let mut sections = vec![section.clone()];
    for (i, way) in ways.iter().enumerate() {
        let (at, next) = (points.get(i + 1)?, ways.get(i + 1).unwrap_or(way));
        let normal = way + next;
        let reach = normal.dot(way);
        if reach < 1e-3 {
            return None;
        }
        for p in section.iter_mut().flatten() {
            *p += way * (normal.dot(&(at - *p)) / reach);
        }
        sections.push(section.clone());
    }
    Some(sections)
}
