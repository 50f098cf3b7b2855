//! Arcs of circles and ellipses as chords.

use super::Run;
use crate::geometry::{Frame, Point, Vector};
use crate::intake::ifc::context::Context;
use crate::intake::ifc::placement;
use crate::intake::ifc::record::Record;
use crate::intake::ifc::trouble::Trouble;
use std::f64::consts::{PI, TAU};

/// Farthest that a chord may stand off its arc, in metres.
const STAND_OFF_M: f64 = 1e-5;

/// How many chords an arc needs so that none stands off it by more than 0.01 mm, and none turns by more than 10 degrees.
pub fn chords_of(turn: f64, radius_m: f64) -> u32 {
    let widest = (8.0 * STAND_OFF_M / radius_m).sqrt().min(PI / 18.0);
    whole_chords(turn.abs() / widest)
}

/// The whole number of chords, between 2 and 20,000; rounding in a turn does not make one more.
pub fn whole_chords(chords: f64) -> u32 {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 2 and 20,000")]
    let whole = (chords - 1e-6).ceil().clamp(2.0, 20_000.0) as u32;
    whole
}

/// An arc of radius 1 as points whose chords enclose, with the centre, exactly the arc's area.
///
/// The ends stay on the arc; the points between stand off it by as much as the chords cut away.
/// With n chords of angle t, inner radius r solves (n - 2) r^2 sin t + 2 r sin t = n t, or r = n t / (2 sin t) for n = 2.
/// In a whole turn all points stand off.
pub fn unit_arc(start: f64, turn: f64, chords: u32) -> Vec<Point> {
    let whole = (turn.abs() - TAU).abs() < 1e-12;
    arc_points(start, turn, chords, whole)
}

/// The same; where a turn is whole every point stands off, and it ends where it begins, to the last bit.
fn arc_points(start: f64, turn: f64, chords: u32, whole: bool) -> Vec<Point> {
    let n = f64::from(chords);
    let step = turn / n;
    let (sine, due) = (step.abs().sin(), n * step.abs());
    let inner =
        if chords == 2 { due / (2.0 * sine) } else { ((1.0 + (n - 2.0) * due / sine).sqrt() - 1.0) / (n - 2.0) };
    let everywhere = (step.abs() / sine).sqrt();
    let radius = |i: u32| match (whole, i == 0 || i == chords) {
        (true, _) => everywhere,
        (false, true) => 1.0,
        (false, false) => inner,
    };
    (0..=chords)
        .map(|i| {
            let angle = if whole && i == chords { start } else { start + step * f64::from(i) };
            [angle.cos() * radius(i), angle.sin() * radius(i)]
        })
        .collect()
}

/// The arc from `a` to `c` that passes through `b`; three points on a line give the line.
pub fn arc_through(a: Vector, b: Vector, c: Vector) -> Run {
    let straight = Run::straight(vec![a, c]);
    let (Some(x), normal) = ((c - a).try_normalize(1e-12), (b - a).cross(&(c - a))) else { return straight };
    if 2.0 * normal.norm() < 1e-12 {
        return straight;
    }
    let Some(z) = normal.try_normalize(0.0) else { return straight };
    let frame = Frame::from_axes(a, x, z.cross(&x), z);
    let flat = |p: &Vector| [x.dot(&(p - a)), z.cross(&x).dot(&(p - a))];
    let mut points: Vec<Vector> = flat_arc(flat(&b), flat(&c)).iter().map(|point| frame.plane_point(point)).collect();
    // The ends as the file gives them, to the last bit.
    if let [first, .., last] = points.as_mut_slice() {
        (*first, *last) = (a, c);
    }
    Run { points, has_arcs: true }
}

/// The arc from the origin through `b` to `c`.
fn flat_arc(b: Point, c: Point) -> Vec<Point> {
    let twice = 2.0 * (b[0] * c[1] - b[1] * c[0]);
    let (bb, cc) = (b[0] * b[0] + b[1] * b[1], c[0] * c[0] + c[1] * c[1]);
    let centre = [(c[1] * bb - b[1] * cc) / twice, (b[0] * cc - c[0] * bb) / twice];
    let radius_m = centre[0].hypot(centre[1]);
    let angle = |p: Point| (p[1] - centre[1]).atan2(p[0] - centre[0]);
    let (start, end) = (angle([0.0, 0.0]), angle(c));
    // Counter-clockwise when b lies to the right of the way from the origin to c.
    let turn = if twice > 0.0 { (end - start).rem_euclid(TAU) } else { -(start - end).rem_euclid(TAU) };
    let place = |[x, y]: [f64; 2]| [centre[0] + x * radius_m, centre[1] + y * radius_m];
    unit_arc(start, turn, chords_of(turn, radius_m)).into_iter().map(place).collect()
}

/// A circle or an ellipse.
pub struct Conic {
    /// Its centre and axes.
    pub frame: Frame,
    /// Its radii along them, in metres.
    pub radii: [f64; 2],
}

impl Conic {
    /// Reads an `IfcCircle` or `IfcEllipse`.
    ///
    /// # Errors
    /// Where its position or radius cannot be used.
    pub fn read(context: &Context<'_>, record: &Record<'_>) -> Result<Self, Trouble> {
        let frame = placement::position(context, record.id, record.reference(0, "position")?)?;
        let first = record.number(1, "radius")? * context.length_m;
        let second =
            if record.is("IFCELLIPSE") { record.number(2, "second semi-axis")? * context.length_m } else { first };
        if first <= 0.0 || second <= 0.0 {
            return Err(record.trouble("a radius is not over 0"));
        }
        Ok(Self { frame, radii: [first, second] })
    }

    /// The parameter of a point, in radians.
    pub fn angle_of(&self, p: &Vector) -> f64 {
        let d = p - self.frame.origin;
        let axis =
            |column: usize| self.frame.matrix.column(column).dot(&d) / self.radii.get(column).copied().unwrap_or(1.0);
        axis(1).atan2(axis(0))
    }

    /// The arc from a parameter, and how far it turns.
    pub fn arc(&self, start: f64, turn: f64) -> Run {
        self.run(&unit_arc(start, turn, self.chords(turn)))
    }

    /// The same, its ends on the curve even where it turns all the way round.
    pub fn arc_with_ends(&self, start: f64, turn: f64) -> Run {
        self.run(&arc_points(start, turn, self.chords(turn), false))
    }

    fn chords(&self, turn: f64) -> u32 {
        chords_of(turn, self.radii[0].max(self.radii[1]))
    }

    fn run(&self, unit: &[Point]) -> Run {
        let place = |[x, y]: &Point| self.frame.plane_point(&[x * self.radii[0], y * self.radii[1]]);
        Run { points: unit.iter().map(place).collect(), has_arcs: true }
    }
}

/// How far a conic turns from one parameter to another, the way that it runs or against it; a whole turn where they meet.
pub fn turn_between(start: f64, end: f64, forward: bool) -> f64 {
    let turn = if forward { end - start } else { start - end }.rem_euclid(TAU);
    let turn = if turn < 1e-9 || TAU - turn < 1e-9 { TAU } else { turn };
    if forward { turn } else { -turn }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Polygon;

    fn area(run: Run) -> f64 {
        Polygon::from_ring(run.into_ring()).area_m2()
    }

    fn at(x: f64, y: f64) -> Vector {
        Vector::new(x, y, 0.0)
    }

    #[test]
    fn chords_enclose_the_area_of_their_arc() {
        let half = area(arc_through(at(1.0, 0.0), at(0.0, 1.0), at(-1.0, 0.0)));
        assert!((half - PI / 2.0).abs() < 1e-12, "half a disc: {half}");
        let small = area(arc_through(at(1.0, 0.0), at(0.9_f64.cos(), 0.9_f64.sin()), at(1.8_f64.cos(), 1.8_f64.sin())));
        let segment = (1.8 - 1.8_f64.sin()) / 2.0;
        assert!((small - segment).abs() < 1e-12, "a segment of a disc: {small}");
    }

    #[test]
    fn an_arc_can_run_clockwise() {
        let run = arc_through(at(-1.0, 0.0), at(0.0, 1.0), at(1.0, 0.0));
        assert!(run.points.iter().all(|p| p.y > -1e-9));
    }

    #[test]
    fn an_arc_in_space_stays_in_the_plane_of_its_points() {
        let (a, b, c) = (Vector::new(0.0, 0.0, 1.0), Vector::new(0.0, 1.0, 2.0), Vector::new(0.0, 2.0, 1.0));
        let run = arc_through(a, b, c);
        assert_eq!((run.points.first(), run.points.last()), (Some(&a), Some(&c)));
        assert!(run.points.iter().all(|p| p.x.abs() < 1e-12 && p.z > 1.0 - 1e-9));
    }
}
