//! Curves that run beside another at a distance.

use super::arc::Conic;
use super::{Run, curve};
use crate::finding::Code;
use crate::geometry::Vector;
use crate::intake::ifc::context::Context;
use crate::intake::ifc::record::Record;
use crate::intake::ifc::trouble::Trouble;
use std::f64::consts::TAU;

/// `IfcOffsetCurve2D` of a circle, exactly, or of straight pieces, with mitred corners.
///
/// # Source
/// ISO 10303-42, `offset_curve_2d`: a distance over 0 lies to the left of the curve.
///
/// # Errors
/// A curve beside any other, or one whose distance leaves nothing.
pub fn offset(context: &Context<'_>, record: &Record<'_>, depth: usize) -> Result<Run, Trouble> {
    let basis = context.file.follow(record.id, record.reference(0, "basis curve")?)?;
    let distance_m = record.number(1, "distance")? * context.length_m;
    if basis.is("IFCCIRCLE") {
        let conic = Conic::read(context, &basis)?;
        let radius_m = conic.radii[0] - distance_m;
        if radius_m <= 0.0 {
            return Err(record.trouble("the distance is larger than the radius of the circle"));
        }
        return Ok(Conic { radii: [radius_m; 2], ..conic }.arc(0.0, TAU));
    }
    let run = curve(context, record.id, basis.id, depth + 1)?;
    if run.has_arcs {
        let message = format!("curves beside a curve of class {} are not measured", basis.class());
        return Err(Trouble::new(Code::BodyNotMeasured, record.id, message));
    }
    beside(&run.points, distance_m).ok_or_else(|| record.trouble("the curve turns back on itself"))
}

/// The run at a distance to the left of straight pieces in a plane; `None` where they turn back on themselves.
pub fn beside(points: &[Vector], distance_m: f64) -> Option<Run> {
    let mut points = points.to_vec();
    points.dedup_by(|a, b| (*a - *b).norm() < 1e-9);
    let closed = points.len() > 3 && points.first().zip(points.last()).is_some_and(|(a, b)| (a - b).norm() < 1e-9);
    let ways: Vec<Vector> =
        points.windows(2).filter_map(|pair| (pair.last()? - pair.first()?).try_normalize(0.0)).collect();
    let before = |i: usize| match (i, closed) {
        (0, true) => ways.last(),
        (0, false) => ways.first(),
        _ => ways.get(i - 1),
    };
    let after = |i: usize| ways.get(i).or_else(|| if closed { ways.first() } else { ways.last() });
    let moved = points.iter().enumerate().map(|(i, point)| {
        let (a, b) = (before(i)?, after(i)?);
        let left = |way: &Vector| Vector::new(-way.y, way.x, 0.0);
        // The corner lies on both lines: along the sum of their left sides.
        let sum = left(a) + left(b);
        let reach = 1.0 + a.dot(b);
        (reach > 1e-6).then(|| point + sum * (distance_m / reach))
    });
    Some(Run::straight(moved.collect::<Option<Vec<_>>>()?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Polygon;

    #[test]
    fn a_square_shrinks_to_its_left() {
        let square = [[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0], [0.0, 0.0]].map(|[x, y]| Vector::new(x, y, 0.0));
        let area = |distance| Polygon::from_ring(beside(&square, distance).unwrap().into_ring()).area_m2();
        assert!((area(0.5) - 9.0).abs() < 1e-12);
        assert!((area(-0.5) - 25.0).abs() < 1e-12);
    }

    #[test]
    fn an_open_run_keeps_square_ends() {
        let bend = [[0.0, 0.0], [4.0, 0.0], [4.0, 4.0]].map(|[x, y]| Vector::new(x, y, 0.0));
        let run = beside(&bend, 1.0).unwrap();
        let due = [[0.0, 1.0], [3.0, 1.0], [3.0, 4.0]].map(|[x, y]| Vector::new(x, y, 0.0));
        assert!(run.points.iter().zip(due).all(|(p, d)| (p - d).norm() < 1e-12));
    }
}
