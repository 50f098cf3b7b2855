//! Rounded corners.

use crate::geometry::Vector;
use crate::intake::ifc::curve::{unit_arc, whole_chords};
use std::f64::consts::PI;

/// How far a chord of a fillet turns at most, in radians: 2 degrees.
///
/// Fixed, whatever the radius, so that profiles of one kind have the same number of points.
const WIDEST: f64 = PI / 90.0;
/// Room that rounding may take, in metres.
const ROUNDING_M: f64 = 1e-9;

/// A run of corners, each with the radius of its fillet, as points; the chords keep the area of the arcs.
///
/// The first and last corner of an open run stay sharp. `None` where the fillets do not fit between their corners.
pub fn rounded(corners: &[(Vector, f64)], closed: bool) -> Option<Vec<Vector>> {
    let n = corners.len();
    let corner = |i: usize| corners.get(i % n.max(1));
    let end = |i: usize| !closed && (i == 0 || i + 1 == n);
    let setback = |i: usize| -> Option<f64> {
        let (p, radius) = corner(i)?;
        if *radius <= 0.0 || end(i % n) {
            return Some(0.0);
        }
        Some(radius * Bend::at(&corner(i + n - 1)?.0, p, &corner(i + 1)?.0)?.setback)
    };
    let edges = if closed { n } else { n.saturating_sub(1) };
    for i in 0..edges {
        let length = (corner(i + 1)?.0 - corner(i)?.0).norm();
        if setback(i)? + setback(i + 1)? > length + ROUNDING_M {
            return None;
        }
    }
    let mut points = Vec::with_capacity(n);
    for i in 0..n {
        let (p, radius) = corner(i)?;
        let bend = Bend::at(&corner(i + n - 1)?.0, p, &corner(i + 1)?.0);
        match bend {
            Some(bend) if *radius > 0.0 && !end(i) && bend.turn > 1e-6 => points.extend(bend.arc(p, *radius)),
            _ => points.push(*p),
        }
    }
    Some(points)
}

/// How a run turns at a corner.
struct Bend {
    /// Towards the corner before, of length 1.
    back: Vector,
    /// Towards the centre of the fillet, of length 1.
    inward: Vector,
    /// How far the run turns, in radians.
    turn: f64,
    /// Distance from the corner to where its fillet begins, for a radius of 1.
    setback: f64,
    /// Distance from the corner to the centre, for a radius of 1.
    to_centre: f64,
}

impl Bend {
    fn at(before: &Vector, p: &Vector, after: &Vector) -> Option<Self> {
        let (back, ahead) = ((before - p).try_normalize(0.0)?, (after - p).try_normalize(0.0)?);
        let cosine = back.dot(&ahead);
        let (half_sine, half_cosine) =
            (f64::midpoint(1.0, -cosine).max(0.0).sqrt(), f64::midpoint(1.0, cosine).max(0.0).sqrt());
        if half_sine < 1e-6 {
            return None;
        }
        let turn = PI - 2.0 * half_sine.atan2(half_cosine);
        let inward = (back + ahead).try_normalize(1e-12).unwrap_or_else(Vector::zeros);
        Some(Self { back, inward, turn, setback: half_cosine / half_sine, to_centre: 1.0 / half_sine })
    }

    fn arc(&self, p: &Vector, radius: f64) -> Vec<Vector> {
        let centre = p + self.inward * (radius * self.to_centre);
        let start = p + self.back * (radius * self.setback);
        let (x, y) = (start - centre, -self.back * radius);
        let unit = unit_arc(0.0, self.turn, whole_chords(self.turn / WIDEST));
        unit.into_iter().map(|[along, across]| centre + x * along + y * across).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Polygon;

    fn square(radius: f64) -> Option<f64> {
        let corners = [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]].map(|[x, y]| (Vector::new(x, y, 0.0), radius));
        let ring = rounded(&corners, true)?.iter().map(|p| [p.x, p.y]).collect();
        Some(Polygon::from_ring(ring).area_m2())
    }

    #[test]
    fn a_fillet_takes_its_share_of_a_square() {
        // A corner of radius r loses r^2 (1 - pi / 4).
        assert!((square(0.3).unwrap() - (4.0 - 4.0 * 0.09 * (1.0 - PI / 4.0))).abs() < 1e-12);
        assert!((square(1.0).unwrap() - PI).abs() < 1e-12, "at half the side a disc is left");
        assert_eq!(square(1.01), None);
    }
}
