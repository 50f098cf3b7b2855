//! Curves in a plane, as runs of points. Arcs become chords whose area is exactly that of the arc.

use super::context::Context;
use super::placement::{self, direction, point};
use super::record::{Record, parse_number, parse_reference, type_of, untyped};
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Frame, Point};
use std::f64::consts::{PI, TAU};

/// Farthest that a chord may stand off its arc, in metres.
const STAND_OFF_M: f64 = 5e-5;
/// Deeper than this no curve is made of others.
const DEEPEST: usize = 32;

/// A run of points along a curve.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Run {
    /// The points, in metres.
    pub points: Vec<Point>,
    /// Whether arcs were turned into chords.
    pub has_arcs: bool,
}

impl Run {
    /// A run of straight pieces.
    pub fn straight(points: Vec<Point>) -> Self {
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

    /// The run as a closed ring: repeated points go, and a last point that is the first.
    pub fn into_ring(self) -> Vec<Point> {
        let mut ring: Vec<Point> = Vec::with_capacity(self.points.len());
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
        ring
    }
}

fn near(a: &Point, b: &Point) -> bool {
    (a[0] - b[0]).hypot(a[1] - b[1]) < COINCIDENT_M / 10.0
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
    match record.class().as_str() {
        "IFCPOLYLINE" => polyline(context, &record),
        "IFCINDEXEDPOLYCURVE" => indexed(context, &record),
        "IFCCOMPOSITECURVE" | "IFC2DCOMPOSITECURVE" => composite(context, &record, depth),
        "IFCTRIMMEDCURVE" => trimmed(context, &record),
        "IFCCIRCLE" | "IFCELLIPSE" => {
            let conic = Conic::read(context, &record)?;
            Ok(conic.arc(0.0, TAU))
        }
        class => Err(Trouble::new(Code::BodyNotMeasured, id, format!("curves of class {class} are not measured"))),
    }
}

fn polyline(context: &Context<'_>, record: &Record<'_>) -> Result<Run, Trouble> {
    let points = record.references(0, "points")?;
    let read = |&id: &u64| point(context.file, record.id, id, context.length_m).map(|p| [p.x, p.y]);
    Ok(Run::straight(points.iter().map(read).collect::<Result<_, _>>()?))
}

fn indexed(context: &Context<'_>, record: &Record<'_>) -> Result<Run, Trouble> {
    let list = context.file.follow(record.id, record.reference(0, "points")?)?;
    let coordinates = list.number_lists(0, "coordinates")?;
    let scaled = |at: &Vec<f64>| match at.as_slice() {
        [x, y, ..] => Ok([x * context.length_m, y * context.length_m]),
        _ => Err(list.trouble("a point has fewer than 2 coordinates")),
    };
    let points: Vec<Point> = coordinates.iter().map(scaled).collect::<Result<_, _>>()?;
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
        let corners: Vec<Point> = indices.iter().map(at).collect::<Result<_, _>>()?;
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
    let place = (index >= 1.0 && index <= 4e9 && index.fract() == 0.0).then_some(index as usize - 1);
    place
}

fn composite(context: &Context<'_>, record: &Record<'_>, depth: usize) -> Result<Run, Trouble> {
    let mut run = Run::default();
    for id in record.references(0, "segments")? {
        let segment = context.file.follow(record.id, id)?;
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
    match basis.class().as_str() {
        "IFCLINE" => line(context, record, &basis, &trims),
        "IFCCIRCLE" | "IFCELLIPSE" => {
            let conic = Conic::read(context, &basis)?;
            let prefers_points = record.says(4, "CARTESIAN");
            let angle = |trim: &Trim| match (trim.point, trim.parameter) {
                (Some(point), None) => Some(conic.angle_of(point)),
                (Some(point), _) if prefers_points => Some(conic.angle_of(point)),
                (_, Some(parameter)) => Some(parameter * context.angle_rad),
                (None, None) => None,
            };
            let no_trim = || record.trouble("a trim is neither a point nor a parameter");
            let [start, end] = &trims;
            let (start, end) = (angle(start).ok_or_else(no_trim)?, angle(end).ok_or_else(no_trim)?);
            let turn = if forward { end - start } else { start - end }.rem_euclid(TAU);
            let turn = if turn < 1e-12 { TAU } else { turn };
            Ok(conic.arc(start, if forward { turn } else { -turn }))
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
        (None, Some(t)) => Some([start.x + way.x * magnitude_m * t, start.y + way.y * magnitude_m * t]),
        (None, None) => None,
    };
    let ends: Option<Vec<Point>> = trims.iter().map(at).collect();
    Ok(Run::straight(ends.ok_or_else(|| record.trouble("a trim is neither a point nor a parameter"))?))
}

/// One end of a trimmed curve.
struct Trim {
    point: Option<Point>,
    parameter: Option<f64>,
}

impl Trim {
    fn read(context: &Context<'_>, record: &Record<'_>, index: usize) -> Result<Self, Trouble> {
        let mut trim = Self { point: None, parameter: None };
        for item in record.list(index, "trim")? {
            match parse_reference(item) {
                Some(id) => {
                    trim.point = Some(point(context.file, record.id, id, context.length_m).map(|p| [p.x, p.y])?);
                }
                None => trim.parameter = parse_number(untyped(item)),
            }
        }
        Ok(trim)
    }
}

/// A circle or an ellipse.
struct Conic {
    frame: Frame,
    radii: [f64; 2],
}

impl Conic {
    fn read(context: &Context<'_>, record: &Record<'_>) -> Result<Self, Trouble> {
        let frame = placement::position(context, record.id, record.reference(0, "position")?)?;
        let first = record.number(1, "radius")? * context.length_m;
        let second =
            if record.is("IFCELLIPSE") { record.number(2, "second semi-axis")? * context.length_m } else { first };
        if first <= 0.0 || second <= 0.0 {
            return Err(record.trouble("a radius is not over 0"));
        }
        Ok(Self { frame, radii: [first, second] })
    }

    fn angle_of(&self, p: Point) -> f64 {
        let d = [p[0] - self.frame.origin.x, p[1] - self.frame.origin.y];
        let axis = |column: usize| {
            let axis = self.frame.matrix.column(column);
            (d[0] * axis.x + d[1] * axis.y) / self.radii.get(column).copied().unwrap_or(1.0)
        };
        axis(1).atan2(axis(0))
    }

    fn arc(&self, start: f64, turn: f64) -> Run {
        let unit = unit_arc(start, turn, self.radii[0].max(self.radii[1]));
        let place = |[x, y]: [f64; 2]| {
            let p = self.frame.plane_point(&[x * self.radii[0], y * self.radii[1]]);
            [p.x, p.y]
        };
        Run { points: unit.into_iter().map(place).collect(), has_arcs: true }
    }
}

/// An arc of radius 1 as points whose chords enclose, with the centre, exactly the arc's area.
///
/// The ends stay on the arc; the points between stand off it by as much as the chords cut away.
/// With n chords of angle t, inner radius r solves (n - 2) r^2 sin t + 2 r sin t = n t, or r = n t / (2 sin t) for n = 2.
fn unit_arc(start: f64, turn: f64, radius_m: f64) -> Vec<Point> {
    let widest = (8.0 * STAND_OFF_M / radius_m).sqrt().min(PI / 18.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 2 and 20,000")]
    let chords = (turn.abs() / widest).ceil().clamp(2.0, 20_000.0) as u32;
    let n = f64::from(chords);
    let step = turn / n;
    let (sine, due) = (step.abs().sin(), n * step.abs());
    let inner =
        if chords == 2 { due / (2.0 * sine) } else { ((1.0 + (n - 2.0) * due / sine).sqrt() - 1.0) / (n - 2.0) };
    let whole = (turn.abs() - TAU).abs() < 1e-12;
    let everywhere = (step.abs() / sine).sqrt();
    let radius = |i: u32| match (whole, i == 0 || i == chords) {
        (true, _) => everywhere,
        (false, true) => 1.0,
        (false, false) => inner,
    };
    (0..=chords)
        .map(|i| {
            let angle = start + step * f64::from(i);
            [angle.cos() * radius(i), angle.sin() * radius(i)]
        })
        .collect()
}

/// The arc from `a` to `c` that passes through `b`; three points on a line give the line.
fn arc_through(a: Point, b: Point, c: Point) -> Run {
    let (bx, by) = (b[0] - a[0], b[1] - a[1]);
    let (cx, cy) = (c[0] - a[0], c[1] - a[1]);
    let twice = 2.0 * (bx * cy - by * cx);
    if twice.abs() < 1e-12 {
        return Run::straight(vec![a, c]);
    }
    let (bb, cc) = (bx * bx + by * by, cx * cx + cy * cy);
    let centre = [a[0] + (cy * bb - by * cc) / twice, a[1] + (bx * cc - cx * bb) / twice];
    let radius_m = (a[0] - centre[0]).hypot(a[1] - centre[1]);
    let angle = |p: Point| (p[1] - centre[1]).atan2(p[0] - centre[0]);
    // Counter-clockwise when b lies to the right of the way from a to c.
    let turn = if twice > 0.0 { (angle(c) - angle(a)).rem_euclid(TAU) } else { -(angle(a) - angle(c)).rem_euclid(TAU) };
    let place = |[x, y]: [f64; 2]| [centre[0] + x * radius_m, centre[1] + y * radius_m];
    Run { points: unit_arc(angle(a), turn, radius_m).into_iter().map(place).collect(), has_arcs: true }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Polygon;

    #[test]
    fn chords_enclose_the_area_of_their_arc() {
        let half = arc_through([1.0, 0.0], [0.0, 1.0], [-1.0, 0.0]);
        let area = Polygon::from_ring(half.points).area_m2();
        assert!((area - PI / 2.0).abs() < 1e-12, "half a disc: {area}");
        let small = arc_through([1.0, 0.0], [0.9_f64.cos(), 0.9_f64.sin()], [1.8_f64.cos(), 1.8_f64.sin()]);
        let segment = (1.8 - 1.8_f64.sin()) / 2.0;
        let area = Polygon::from_ring(small.points).area_m2();
        assert!((area - segment).abs() < 1e-12, "a segment of a disc: {area}");
    }

    #[test]
    fn an_arc_can_run_clockwise() {
        let run = arc_through([-1.0, 0.0], [0.0, 1.0], [1.0, 0.0]);
        assert!(run.points.iter().all(|p| p[1] > -1e-9));
    }
}
