//! Curves, as runs of points. Arcs become chords whose area is exactly that of the arc.

mod arc;
mod offset;
mod spline;

pub use arc::{Conic, chords_of, turn_between, unit_arc, whole_chords};
pub use offset::beside;

use super::context::Context;
use super::placement::{direction, point};
use super::record::{Record, parse_number, parse_reference, type_of, untyped};
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Point, Vector};
use arc::arc_through;
use spline::Spline;
use std::f64::consts::TAU;

/// Deeper than this no curve is made of others.
const DEEPEST: usize = 32;

/// A run of points along a curve; those of a plane curve have no z.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Run {
    /// The points, in metres.
    pub points: Vec<Vector>,
    /// Whether arcs were turned into chords.
    pub has_arcs: bool,
}

impl Run {
    /// A run of straight pieces.
    pub fn straight(points: Vec<Vector>) -> Self {
        Self { points, has_arcs: false }
    }

    fn append(&mut self, other: Self) {
        self.has_arcs |= other.has_arcs;
        for point in other.points {
            if !self.points.last().is_some_and(|last| near(last, &point)) {
                self.points.push(point);
            }
        }
    }

    /// The run in its plane, as a closed ring: repeated points go, and a last point that is the first.
    pub fn into_ring(self) -> Vec<Point> {
        let mut ring: Vec<Vector> = Vec::with_capacity(self.points.len());
        for point in self.points {
            if !ring.last().is_some_and(|last| near(last, &point)) {
                ring.push(point);
            }
        }
        while let [first, .., last] = ring.as_slice()
            && near(first, last)
        {
            ring.pop();
        }
        ring.iter().map(|p| [p.x, p.y]).collect()
    }
}

fn near(a: &Vector, b: &Vector) -> bool {
    (a - b).norm() < COINCIDENT_M / 10.0
}

/// The points of a curve, from its start to its end.
///
/// # Errors
/// A curve that cannot be used, or of a class that is not measured.
pub fn curve(context: &Context<'_>, from: u64, id: u64, depth: usize) -> Result<Run, Trouble> {
    let record = context.file.follow(from, id)?;
    if depth > DEEPEST {
        return Err(Trouble::new(Code::CircularReference, id, format!("curves are nested too deep at #{id}")));
    }
    match record.class().as_ref() {
        "IFCPOLYLINE" => polyline(context, &record),
        "IFCINDEXEDPOLYCURVE" => indexed(context, &record),
        "IFCCOMPOSITECURVE" | "IFC2DCOMPOSITECURVE" => composite(context, &record, depth),
        "IFCTRIMMEDCURVE" => trimmed(context, &record),
        "IFCCIRCLE" | "IFCELLIPSE" => Ok(Conic::read(context, &record)?.arc(0.0, TAU)),
        "IFCBSPLINECURVEWITHKNOTS"
        | "IFCRATIONALBSPLINECURVEWITHKNOTS"
        | "IFCBEZIERCURVE"
        | "IFCRATIONALBEZIERCURVE" => {
            let spline = Spline::read(context, &record)?;
            let (start, end) = spline.range();
            Ok(spline.run(start, end))
        }
        "IFCOFFSETCURVE2D" => offset::offset(context, &record, depth),
        // A curve on surfaces: what it is in space comes first.
        "IFCSURFACECURVE" | "IFCINTERSECTIONCURVE" | "IFCSEAMCURVE" => {
            curve(context, id, record.reference(0, "curve in space")?, depth + 1)
        }
        class => Err(Trouble::new(Code::BodyNotMeasured, id, format!("curves of class {class} are not measured"))),
    }
}

fn polyline(context: &Context<'_>, record: &Record<'_>) -> Result<Run, Trouble> {
    let points = record.references(0, "points")?;
    let read = |&id: &u64| point(context.file, record.id, id, context.length_m);
    Ok(Run::straight(points.iter().map(read).collect::<Result<_, _>>()?))
}

fn indexed(context: &Context<'_>, record: &Record<'_>) -> Result<Run, Trouble> {
    let list = context.file.follow(record.id, record.reference(0, "points")?)?;
    let coordinates = list.number_lists(0, "coordinates")?;
    let scaled = |at: &Vec<f64>| match at.as_slice() {
        [x, y] => Ok(Vector::new(*x, *y, 0.0) * context.length_m),
        [x, y, z, ..] => Ok(Vector::new(*x, *y, *z) * context.length_m),
        _ => Err(list.trouble("a point has fewer than 2 coordinates")),
    };
    let points: Vec<Vector> = coordinates.iter().map(scaled).collect::<Result<_, _>>()?;
    if record.raw(1).is_none() {
        return Ok(Run::straight(points));
    }
    let mut run = Run::default();
    for segment in record.list(1, "segments")? {
        let at = |index: &f64| {
            let found = position(*index).and_then(|index| points.get(index));
            found.copied().ok_or_else(|| record.trouble(format!("index {index} of {} points", points.len())))
        };
        let indices = record.numbers_of(untyped(segment), "segment")?;
        let corners: Vec<Vector> = indices.iter().map(at).collect::<Result<_, _>>()?;
        match (type_of(segment).eq_ignore_ascii_case(b"IFCARCINDEX"), corners.as_slice()) {
            (true, [a, b, c]) => run.append(arc_through(*a, *b, *c)),
            (true, _) => return Err(record.trouble("an arc has other than 3 points")),
            (false, _) => run.append(Run::straight(corners)),
        }
    }
    Ok(run)
}

/// The place of an index that counts from 1.
pub fn position(index: f64) -> Option<usize> {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked to be a whole number in range")]
    let place = ((1.0..=4e9).contains(&index) && index.fract() == 0.0).then(|| index as usize - 1);
    place
}

fn composite(context: &Context<'_>, record: &Record<'_>, depth: usize) -> Result<Run, Trouble> {
    let mut run = Run::default();
    for id in record.references(0, "segments")? {
        let segment = context.file.follow(record.id, id)?;
        if !segment.is("IFCCOMPOSITECURVESEGMENT") && !segment.is("IFCREPARAMETRISEDCOMPOSITECURVESEGMENT") {
            let message = format!("curves made of pieces of class {} are not measured", segment.class());
            return Err(Trouble::new(Code::BodyNotMeasured, id, message));
        }
        let mut piece = curve(context, id, segment.reference(2, "parent curve")?, depth + 1)?;
        if segment.logical(1) == Some(false) {
            piece.points.reverse();
        }
        run.append(piece);
    }
    Ok(run)
}

fn trimmed(context: &Context<'_>, record: &Record<'_>) -> Result<Run, Trouble> {
    let basis = context.file.follow(record.id, record.reference(0, "basis curve")?)?;
    let trims = [Trim::read(context, record, 1)?, Trim::read(context, record, 2)?];
    let forward = record.logical(3) != Some(false);
    let no_trim = || record.trouble("a trim is neither a point nor a parameter");
    match basis.class().as_ref() {
        "IFCLINE" => line(context, record, &basis, &trims),
        "IFCCIRCLE" | "IFCELLIPSE" => {
            let conic = Conic::read(context, &basis)?;
            let prefers_points = record.says(4, "CARTESIAN");
            let angle = |trim: &Trim| match (trim.point, trim.parameter) {
                (Some(point), None) => Some(conic.angle_of(&point)),
                (Some(point), _) if prefers_points => Some(conic.angle_of(&point)),
                (_, Some(parameter)) => Some(parameter * context.angle_rad),
                (None, None) => None,
            };
            let [start, end] = &trims;
            let (start, end) = (angle(start).ok_or_else(no_trim)?, angle(end).ok_or_else(no_trim)?);
            Ok(conic.arc(start, turn_between(start, end, forward)))
        }
        "IFCBSPLINECURVEWITHKNOTS" | "IFCRATIONALBSPLINECURVEWITHKNOTS" => {
            let [Some(start), Some(end)] = trims.each_ref().map(|trim| trim.parameter) else {
                let message = "splines that are trimmed by points alone are not measured";
                return Err(Trouble::new(Code::BodyNotMeasured, record.id, message));
            };
            let spline = Spline::read(context, &basis)?;
            let (low, high) = spline.range();
            Ok(spline.run(start.clamp(low, high), end.clamp(low, high)))
        }
        class => Err(Trouble::new(
            Code::BodyNotMeasured,
            basis.id,
            format!("trimmed curves of class {class} are not measured"),
        )),
    }
}

fn line(context: &Context<'_>, record: &Record<'_>, basis: &Record<'_>, trims: &[Trim; 2]) -> Result<Run, Trouble> {
    let start = point(context.file, basis.id, basis.reference(0, "point")?, context.length_m)?;
    let vector = context.file.follow(basis.id, basis.reference(1, "direction")?)?;
    let way = direction(context.file, vector.id, vector.reference(0, "orientation")?)?;
    let magnitude_m = vector.number(1, "magnitude")? * context.length_m;
    let at = |trim: &Trim| match (trim.point, trim.parameter) {
        (Some(point), _) => Some(point),
        (None, Some(t)) => Some(start + way * (magnitude_m * t)),
        (None, None) => None,
    };
    let ends: Option<Vec<Vector>> = trims.iter().map(at).collect();
    Ok(Run::straight(ends.ok_or_else(|| record.trouble("a trim is neither a point nor a parameter"))?))
}

/// One end of a trimmed curve.
struct Trim {
    point: Option<Vector>,
    parameter: Option<f64>,
}

impl Trim {
    fn read(context: &Context<'_>, record: &Record<'_>, index: usize) -> Result<Self, Trouble> {
        let mut trim = Self { point: None, parameter: None };
        for item in record.list(index, "trim")? {
            match parse_reference(item) {
                Some(id) => trim.point = Some(point(context.file, record.id, id, context.length_m)?),
                None => trim.parameter = parse_number(untyped(item)),
            }
        }
        Ok(trim)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn indices_count_from_1() {
        assert_eq!([1.0, 7.0].map(position), [Some(0), Some(6)]);
        assert_eq!([0.0, -1.0, 1.5, 1e300].map(position), [None; 4]);
    }
}
