//! Booleans of polygons. The only file that names the boolean engine.
//!
//! The engine snaps to a grid of 64-bit integers over the box of its operands, which closes a
//! balance to about 1e-15; its default grid of 32 bits does not reach 1e-9.

use super::solid::Operation;
use super::tolerance::NEGLIGIBLE_AREA_M2;
use super::{Point, Polygon, Ring};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::overlay::FloatOverlay;

/// What lies in any of the polygons, as polygons that do not overlap.
pub fn union(polygons: &[Polygon]) -> Vec<Polygon> {
    run(polygons, &[], OverlayRule::Subject, FillRule::NonZero)
}

/// What lies inside an odd number of the rings, whichever way they run.
pub fn union_even_odd(rings: &[Ring]) -> Vec<Polygon> {
    shapes(FloatOverlay::<Point, i64>::from_subj(&settled(rings)).overlay(OverlayRule::Subject, FillRule::EvenOdd))
}

/// Rings under the even-odd rule, whichever way they run.
pub type Rings = Vec<Ring>;

/// Joins, meets or takes away two regions of rings, each under the even-odd rule.
pub(super) fn combine_even_odd(first: &Rings, second: &Rings, operation: Operation) -> Rings {
    let rule = match operation {
        Operation::Difference => OverlayRule::Difference,
        Operation::Intersection => OverlayRule::Intersect,
        Operation::Union => OverlayRule::Union,
    };
    let (first, second) = (settled(first), settled(second));
    let shapes = FloatOverlay::<Point, i64>::from_subj_and_clip(&first, &second).overlay(rule, FillRule::EvenOdd);
    shapes.into_iter().flatten().collect()
}

/// Steps in a metre that the corners of sections are settled to, 2^40: about a thousand of them make a nanometre.
const STEPS: f64 = 1_099_511_627_776.0;

/// The rings with corners that differ by rounding alone made one.
///
/// Two cuts of one edge leave slivers a few bits wide and metres long, which the engine splits into
/// thousands of pieces.
fn settled(rings: &[Ring]) -> Rings {
    let settle = |part: f64| (part * STEPS).round() / STEPS;
    let settled = rings.iter().map(|ring| {
        let mut ring: Ring = ring.iter().map(|[x, y]| [settle(*x), settle(*y)]).collect();
        ring.dedup();
        ring
    });
    settled.filter(|ring| ring.len() > 2).collect()
}

/// What lies in `subject` and not in `clip`.
pub fn difference(subject: &[Polygon], clip: &[Polygon]) -> Vec<Polygon> {
    if clip.is_empty() {
        return subject.to_vec();
    }
    run(subject, clip, OverlayRule::Difference, FillRule::NonZero)
}

/// What lies in both.
pub fn intersection(subject: &[Polygon], clip: &[Polygon]) -> Vec<Polygon> {
    if subject.is_empty() || clip.is_empty() {
        return Vec::new();
    }
    run(subject, clip, OverlayRule::Intersect, FillRule::NonZero)
}

fn run(subject: &[Polygon], clip: &[Polygon], rule: OverlayRule, fill: FillRule) -> Vec<Polygon> {
    let rings = |polygons: &[Polygon]| -> Vec<Vec<Ring>> { polygons.iter().map(|p| p.rings.clone()).collect() };
    shapes(FloatOverlay::<Point, i64>::from_subj_and_clip(&rings(subject), &rings(clip)).overlay(rule, fill))
}

fn shapes(shapes: Vec<Vec<Vec<Point>>>) -> Vec<Polygon> {
    shapes.into_iter().map(|rings| Polygon { rings }).filter(|polygon| polygon.area_m2() > NEGLIGIBLE_AREA_M2).collect()
}

#[cfg(test)]
mod tests {
    use super::super::total_area_m2;
    use super::*;

    #[test]
    fn difference_and_intersection_add_up_to_the_whole() {
        let wall = [Polygon::rectangle(0.0, 0.0, 7.3, 2.7)];
        let holes = [Polygon::rectangle(1.1, 0.9, 2.2, 2.1), Polygon::rectangle(1.9, 1.0, 3.05, 2.9)];
        let inside = total_area_m2(&intersection(&wall, &holes));
        let rest = total_area_m2(&difference(&wall, &holes));
        assert!((inside + rest - 7.3 * 2.7).abs() < 1e-12);
    }

    #[test]
    fn even_odd_fills_nested_rings_by_turns() {
        let ring = |a: f64, b: f64| vec![[a, a], [b, a], [b, b], [a, b]];
        let shapes = union_even_odd(&[ring(0.0, 4.0), ring(1.0, 3.0)]);
        assert_eq!(shapes.len(), 1);
        assert!((total_area_m2(&shapes) - 12.0).abs() < 1e-12);
    }
}
