//! Booleans of polygons. The only file that names the boolean engine.
//!
//! The engine snaps to a grid of 64-bit integers over the box of its operands, which closes a
//! balance to about 1e-15; its default grid of 32 bits does not reach 1e-9.

use super::solid::Operation;
use super::tolerance::NEGLIGIBLE_AREA_M2;
use super::{Point, Polygon, Ring, upright, welded};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::overlay::FloatOverlay;

/// What lies in any of the polygons, as polygons that do not overlap.
pub fn union(polygons: &[Polygon]) -> Vec<Polygon> {
    run(polygons, &[], Operation::Union)
}

/// What lies inside an odd number of the rings, whichever way they run.
pub fn union_even_odd(rings: &[Ring]) -> Vec<Polygon> {
    shapes(FloatOverlay::<Point, i64>::from_subj(&settled(rings)).overlay(OverlayRule::Subject, FillRule::EvenOdd))
}

/// Rings under the even-odd rule, whichever way they run.
pub type Rings = Vec<Ring>;

/// Joins, meets or takes away two regions of rings, each under the even-odd rule.
pub(super) fn combine_even_odd(first: &Rings, second: &Rings, operation: Operation) -> Rings {
    let (first, second) = (settled(first), settled(second));
    let mut overlay = FloatOverlay::<Point, i64>::from_subj_and_clip(&first, &second);
    let shapes = overlay.overlay(rule_of(operation), FillRule::EvenOdd);
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
    run(subject, clip, Operation::Difference)
}

/// What lies in both.
pub fn intersection(subject: &[Polygon], clip: &[Polygon]) -> Vec<Polygon> {
    if subject.is_empty() || clip.is_empty() {
        return Vec::new();
    }
    run(subject, clip, Operation::Intersection)
}

fn run(subject: &[Polygon], clip: &[Polygon], operation: Operation) -> Vec<Polygon> {
    if let Some(polygons) = upright::combine(subject, clip, operation) {
        return polygons.into_iter().filter(|polygon| polygon.area_m2() > NEGLIGIBLE_AREA_M2).collect();
    }
    slanted(subject, clip, operation)
}

/// The same by the engine, for polygons of any shape.
///
/// They are welded first: where several have the same slanted edge but for rounding, the engine splits
/// the slivers between them without end.
fn slanted(subject: &[Polygon], clip: &[Polygon], operation: Operation) -> Vec<Polygon> {
    let rings = |polygons: &Vec<Polygon>| -> Vec<Vec<Ring>> { polygons.iter().map(|p| p.rings.clone()).collect() };
    let welded = welded(&[subject, clip]);
    let (subject, clip) = (welded.first().map(rings).unwrap_or_default(), welded.get(1).map(rings).unwrap_or_default());
    shapes(
        FloatOverlay::<Point, i64>::from_subj_and_clip(&subject, &clip).overlay(rule_of(operation), FillRule::NonZero),
    )
}

fn rule_of(operation: Operation) -> OverlayRule {
    match operation {
        Operation::Difference => OverlayRule::Difference,
        Operation::Intersection => OverlayRule::Intersect,
        Operation::Union => OverlayRule::Union,
    }
}

fn shapes(shapes: Vec<Vec<Vec<Point>>>) -> Vec<Polygon> {
    shapes.into_iter().map(|rings| Polygon { rings }).filter(|polygon| polygon.area_m2() > NEGLIGIBLE_AREA_M2).collect()
}

#[cfg(test)]
mod tests {
    use super::super::total_area_m2;
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn difference_and_intersection_add_up_to_the_whole() {
        let wall = [Polygon::rectangle(0.0, 0.0, 7.3, 2.7)];
        let holes = [Polygon::rectangle(1.1, 0.9, 2.2, 2.1), Polygon::rectangle(1.9, 1.0, 3.05, 2.9)];
        let inside = total_area_m2(&intersection(&wall, &holes));
        let rest = total_area_m2(&difference(&wall, &holes));
        assert!((inside + rest - 7.3 * 2.7).abs() < 1e-12);
    }

    fn boxes() -> impl Strategy<Value = Vec<Polygon>> {
        let one = [0_u8..20, 0..20, 1..9, 1..9];
        let polygon = |[x, y, w, h]: [u8; 4]| {
            let tenths = |n: u8| f64::from(n) * 0.1;
            Polygon::rectangle(tenths(x), tenths(y), tenths(x) + tenths(w), tenths(y) + tenths(h))
        };
        proptest::collection::vec(one.prop_map(polygon), 1..9)
    }

    proptest! {
        // The grid of upright outlines against the engine, which knows nothing of it: the same region. The engine now and
        // then keeps pieces that meet in a corner as one.
        #[test]
        fn upright_outlines_combine_as_the_engine_combines_them(a in boxes(), b in boxes()) {
            for operation in [Operation::Union, Operation::Intersection, Operation::Difference] {
                let (found, due) = (run(&a, &b, operation), slanted(&a, &b, operation));
                prop_assert!((total_area_m2(&found) - total_area_m2(&due)).abs() < 1e-12);
                prop_assert!(total_area_m2(&slanted(&found, &due, Operation::Difference)) < 1e-12);
                prop_assert!(total_area_m2(&slanted(&due, &found, Operation::Difference)) < 1e-12);
                prop_assert!(found.iter().all(|piece| super::super::polygon::signed_area_m2(&piece.rings[0]) > 0.0));
                // Once more, from what came out: holes and bent outlines go in.
                let rest = total_area_m2(&run(&b, &found, Operation::Difference));
                prop_assert!((rest - total_area_m2(&slanted(&b, &due, Operation::Difference))).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn even_odd_fills_nested_rings_by_turns() {
        let ring = |a: f64, b: f64| vec![[a, a], [b, a], [b, b], [a, b]];
        let shapes = union_even_odd(&[ring(0.0, 4.0), ring(1.0, 3.0)]);
        assert_eq!(shapes.len(), 1);
        assert!((total_area_m2(&shapes) - 12.0).abs() < 1e-12);
    }
}
