//! B-spline and Bezier curves as points.
//!
//! # Source
//! de Boor's recursion (C. de Boor, A Practical Guide to Splines, 1978, chapter X); parametrisation: ISO 10303-42, `b_spline_curve`.

use super::Run;
use crate::geometry::Vector;
use crate::intake::ifc::context::Context;
use crate::intake::ifc::placement::point;
use crate::intake::ifc::record::Record;
use crate::intake::ifc::trouble::Trouble;
use nalgebra::Vector4;

/// Farthest that a chord may stand off the curve, in metres.
const STAND_OFF_M: f64 = 1e-6;
/// Pieces that each stretch between knots is cut into at first.
const FIRST_PIECES: u32 = 4;
/// How often a piece is halved at most.
const MOST_HALVINGS: u32 = 10;
/// Most points of one curve; past these no piece is halved.
const MOST_POINTS: usize = 200_000;
/// Highest degree, and most knots.
const LIMITS: (usize, usize) = (32, 100_000);

/// A B-spline curve; weights make of each point four numbers.
pub struct Spline {
    degree: usize,
    knots: Vec<f64>,
    points: Vec<Vector4<f64>>,
}

impl Spline {
    /// Reads an `IfcBSplineCurveWithKnots`, rational or not, or an `IfcBezierCurve` of IFC2X3.
    ///
    /// # Errors
    /// Where degree, points, weights and knots do not fit together.
    pub fn read(context: &Context<'_>, record: &Record<'_>) -> Result<Self, Trouble> {
        let degree = whole(record.number(0, "degree")?).filter(|degree| (1..=LIMITS.0).contains(degree));
        let degree = degree.ok_or_else(|| record.trouble("the degree is not a whole number from 1 to 32"))?;
        let ids = record.references(1, "control points")?;
        let weights_at = match record.class().as_ref() {
            "IFCRATIONALBSPLINECURVEWITHKNOTS" => Some(8),
            "IFCRATIONALBEZIERCURVE" => Some(5),
            _ => None,
        };
        let weights = match weights_at {
            Some(index) => record.numbers(index, "weights")?,
            None => vec![1.0; ids.len()],
        };
        if weights.len() != ids.len() || weights.iter().any(|weight| *weight <= 0.0) {
            return Err(record.trouble("a weight over 0 is due for each control point"));
        }
        let weighted = |(id, weight): (&u64, &f64)| -> Result<Vector4<f64>, Trouble> {
            let p = point(context.file, record.id, *id, context.length_m)? * *weight;
            Ok(Vector4::new(p.x, p.y, p.z, *weight))
        };
        let points = ids.iter().zip(&weights).map(weighted).collect::<Result<Vec<_>, _>>()?;
        let knots = if record.class().ends_with("BEZIERCURVE") {
            bezier_knots(degree, points.len())
        } else {
            repeated_knots(record)?
        };
        let rising = knots.windows(2).all(|pair| pair.first() <= pair.last());
        if points.len() <= degree || knots.len() != points.len() + degree + 1 || !rising {
            let message = format!(
                "{} knots for {} control points of degree {degree}; their number plus degree plus 1 are due, rising",
                knots.len(),
                points.len()
            );
            return Err(record.trouble(message));
        }
        Ok(Self { degree, knots, points })
    }

    fn knot(&self, index: usize) -> f64 {
        self.knots.get(index).copied().unwrap_or(0.0)
    }

    /// The parameters of its ends.
    pub fn range(&self) -> (f64, f64) {
        (self.knot(self.degree), self.knot(self.points.len()))
    }

    /// The point at a parameter, by de Boor's recursion.
    fn at(&self, t: f64) -> Vector {
        let last = self.points.len() - 1;
        // The last stretch that begins at or before t and is not empty.
        let below = self.knots.partition_point(|knot| *knot <= t);
        let mut span = below.saturating_sub(1).clamp(self.degree, last);
        while span > self.degree && self.knot(span) >= self.knot(span + 1) {
            span -= 1;
        }
        let mut work: Vec<Vector4<f64>> =
            (0..=self.degree).filter_map(|i| self.points.get(span - self.degree + i).copied()).collect();
        for round in 1..=self.degree {
            for i in (round..=self.degree).rev() {
                let (low, high) = (self.knot(span - self.degree + i), self.knot(span + 1 + i - round));
                let share = if high > low { (t - low) / (high - low) } else { 0.0 };
                let (Some(before), Some(here)) = (work.get(i - 1).copied(), work.get(i).copied()) else { continue };
                if let Some(slot) = work.get_mut(i) {
                    *slot = before * (1.0 - share) + here * share;
                }
            }
        }
        let found = work.last().copied().unwrap_or_else(Vector4::zeros);
        found.xyz() / if found.w == 0.0 { 1.0 } else { found.w }
    }

    /// The curve from one parameter to another, as points whose chords stand off it by at most 0.001 mm.
    pub fn run(&self, from: f64, to: f64) -> Run {
        let (low, high) = (from.min(to), from.max(to));
        let mut stops = vec![low];
        stops.extend(self.knots.iter().copied().filter(|knot| *knot > low && *knot < high));
        stops.push(high);
        stops.dedup();
        let mut points = vec![self.at(low)];
        for pair in stops.windows(2) {
            let &[a, b] = pair else { continue };
            for piece in 0..FIRST_PIECES {
                let at = |i: u32| a + (b - a) * f64::from(i) / f64::from(FIRST_PIECES);
                self.halve(at(piece), at(piece + 1), MOST_HALVINGS, &mut points);
            }
        }
        if from > to {
            points.reverse();
        }
        Run { points, has_arcs: true }
    }

    /// Appends the points from after `a` up to `b`.
    fn halve(&self, a: f64, b: f64, left: u32, points: &mut Vec<Vector>) {
        let middle = f64::midpoint(a, b);
        let (start, end) = (self.at(a), self.at(b));
        let off = [0.25, 0.5, 0.75].map(|share| distance_to_chord(&self.at(a + (b - a) * share), &start, &end));
        if left > 0 && points.len() < MOST_POINTS && off.iter().any(|off| *off > STAND_OFF_M) {
            self.halve(a, middle, left - 1, points);
            self.halve(middle, b, left - 1, points);
        } else {
            points.push(end);
        }
    }
}

fn distance_to_chord(p: &Vector, start: &Vector, end: &Vector) -> f64 {
    match (end - start).try_normalize(1e-12) {
        Some(way) => (p - start).cross(&way).norm(),
        None => (p - start).norm(),
    }
}

/// Knots of a chain of Bezier arcs: each a stretch of 1, joined where arcs meet.
fn bezier_knots(degree: usize, points: usize) -> Vec<f64> {
    let arcs = u32::try_from(points.saturating_sub(1) / degree).unwrap_or(0);
    let joints = (0..=arcs).flat_map(|joint| std::iter::repeat_n(f64::from(joint), degree));
    std::iter::once(0.0).chain(joints).chain([f64::from(arcs)]).collect()
}

fn repeated_knots(record: &Record<'_>) -> Result<Vec<f64>, Trouble> {
    let (counts, knots) = (record.numbers(5, "knot multiplicities")?, record.numbers(6, "knots")?);
    if counts.len() != knots.len() {
        return Err(record.trouble(format!("{} multiplicities for {} knots", counts.len(), knots.len())));
    }
    let mut all = Vec::new();
    for (count, knot) in counts.iter().zip(knots) {
        let count = whole(*count).filter(|count| *count <= LIMITS.0 + 1 && all.len() < LIMITS.1);
        let count = count.ok_or_else(|| record.trouble("a knot multiplicity is not a whole number from 0 to 33"))?;
        all.extend(std::iter::repeat_n(knot, count));
    }
    Ok(all)
}

fn whole(number: f64) -> Option<usize> {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked to be a whole number in range")]
    let whole = ((0.0..=1e6).contains(&number) && number.fract() == 0.0).then_some(number as usize);
    whole
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_1_SQRT_2;

    #[test]
    fn a_rational_spline_of_degree_2_is_a_quarter_of_a_circle() {
        // Weights 1, cos 45 degrees, 1: the standard form of a right-angled arc (Piegl and Tiller, The NURBS Book, 1997, 7.3).
        let weighted = |x: f64, y: f64, w: f64| Vector4::new(x * w, y * w, 0.0, w);
        let points = vec![weighted(1.0, 0.0, 1.0), weighted(1.0, 1.0, FRAC_1_SQRT_2), weighted(0.0, 1.0, 1.0)];
        let spline = Spline { degree: 2, knots: vec![0.0, 0.0, 0.0, 1.0, 1.0, 1.0], points };
        let run = spline.run(0.0, 1.0);
        assert!(run.points.len() > 100);
        assert!(run.points.iter().all(|p| (p.norm() - 1.0).abs() < 1e-14));
        assert!(run.points.windows(2).all(|pair| (pair[0] + pair[1]).norm() / 2.0 > 1.0 - STAND_OFF_M));
    }

    #[test]
    fn two_bezier_arcs_meet_at_their_shared_point() {
        let plain = |x: f64, y: f64| Vector4::new(x, y, 0.0, 1.0);
        let points = vec![plain(0.0, 0.0), plain(1.0, 2.0), plain(2.0, 0.0), plain(3.0, -2.0), plain(4.0, 0.0)];
        let spline = Spline { degree: 2, knots: bezier_knots(2, points.len()), points };
        assert_eq!(spline.range(), (0.0, 2.0));
        // By hand: a quarter of the end points plus half of the middle one.
        assert!((spline.at(0.5) - Vector::new(1.0, 1.0, 0.0)).norm() < 1e-14);
        assert!((spline.at(1.0) - Vector::new(2.0, 0.0, 0.0)).norm() < 1e-14);
        assert!((spline.at(1.5) - Vector::new(3.0, -1.0, 0.0)).norm() < 1e-14);
        assert!((spline.at(2.0) - Vector::new(4.0, 0.0, 0.0)).norm() < 1e-14);
    }
}
