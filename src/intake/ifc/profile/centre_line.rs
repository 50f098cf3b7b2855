//! Profiles of one thickness about a line, as sheet metal and thin walls have.

use super::{Outline, size};
use crate::finding::Code;
use crate::geometry::Vector;
use crate::intake::ifc::context::Context;
use crate::intake::ifc::curve::{Run, beside, curve};
use crate::intake::ifc::record::Record;
use crate::intake::ifc::trouble::Trouble;

/// `IfcCenterLineProfileDef` about straight pieces: mitred corners, square ends; a closed line gives a ring.
///
/// # Errors
/// A line with arcs, or one that turns back on itself.
pub fn centre_line(context: &Context<'_>, record: &Record<'_>) -> Result<Outline, Trouble> {
    let run = curve(context, record.id, record.reference(2, "centre line")?, 0)?;
    if run.has_arcs {
        let message = "profiles about a line with arcs are not measured";
        return Err(Trouble::new(Code::BodyNotMeasured, record.id, message));
    }
    let half_m = size(context, record, 3, "thickness")? / 2.0;
    outline(&run.points, half_m).ok_or_else(|| record.trouble("the centre line turns back on itself"))
}

fn outline(points: &[Vector], half_m: f64) -> Option<Outline> {
    let (left, right) = (beside(points, half_m)?, beside(points, -half_m)?);
    let is_closed = points.len() > 3 && points.first().zip(points.last()).is_some_and(|(a, b)| (a - b).norm() < 1e-9);
    let rings = if is_closed {
        vec![left.into_ring(), right.into_ring()]
    } else {
        let back = right.points.into_iter().rev();
        vec![Run::straight(left.points.into_iter().chain(back).collect()).into_ring()]
    };
    Some(Outline { rings, has_arcs: false })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{total_area_m2, union_even_odd};

    fn area_m2(points: &[[f64; 2]]) -> f64 {
        let points: Vec<Vector> = points.iter().map(|[x, y]| Vector::new(*x, *y, 0.0)).collect();
        total_area_m2(&union_even_odd(&outline(&points, 0.15).expect("an outline").rings))
    }

    #[test]
    fn its_area_is_the_length_of_the_line_by_its_thickness() {
        assert!((area_m2(&[[0.0, 0.0], [5.0, 0.0]]) - 5.0 * 0.3).abs() < 1e-9);
        // At a mitred corner what one leg gains outside it loses inside.
        assert!((area_m2(&[[0.0, 0.0], [5.0, 0.0], [5.0, 4.0]]) - 9.0 * 0.3).abs() < 1e-9);
        assert!((area_m2(&[[0.0, 0.0], [5.0, 0.0], [5.0, 4.0], [0.0, 4.0], [0.0, 0.0]]) - 18.0 * 0.3).abs() < 1e-9);
    }
}
