//! Why a quantity that a model states may differ from the one that is measured, where that is plain.

use super::quantities::{Measured, Stated, Subject};

/// Units of area that are mistaken for each other, in square metres: NIST SP 811, appendix B.8.
pub const AREAS: [(&str, f64); 5] =
    [("mm2", 1e-6), ("cm2", 1e-4), ("in2", 0.000_645_16), ("ft2", 0.092_903_04), ("m2", 1.0)];
/// The same of length.
const LENGTHS: [(&str, f64); 5] = [("mm", 1e-3), ("cm", 1e-2), ("in", 0.0254), ("ft", 0.3048), ("m", 1.0)];

/// Figures that differ by less than this share are taken for the same.
const SAME: f64 = 0.005;

/// A plain cause of the difference between a stated quantity and `figure`, in words.
pub fn cause(stated: &Stated, figure: f64, measured: &Measured) -> Option<String> {
    let value = stated.value();
    if let Some(unit) = other_unit(stated, figure) {
        return Some(format!("the number is in {unit}, its unit says otherwise"));
    }
    if !stated.is_area() {
        return None;
    }
    if let Some(unit) = other_unit(stated, measured.gross_m2).filter(|_| stated.subject == Subject::Net) {
        return Some(format!("the number is in {unit}, its unit says otherwise, and the openings are not taken out"));
    }
    let is = |other: f64| same(value, other);
    let plan = measured.plan_m2.map(|plan| plan - (measured.gross_m2 - measured.net_m2) * plan / measured.gross_m2);
    let known: [(bool, &str); 7] = [
        (stated.subject == Subject::Net && is(measured.gross_m2), "the openings are not taken out"),
        (stated.subject == Subject::Gross && is(measured.net_m2), "the openings are taken out"),
        (stated.subject == Subject::Plan && is(measured.gross_m2), "the area along the slope"),
        (
            stated.subject != Subject::Plan && (measured.plan_m2.is_some_and(is) || plan.is_some_and(is)),
            "the area seen from above",
        ),
        (whole_surface(measured).is_some_and(is), "the whole surface of the body, edges too"),
        (is(2.0 * measured.gross_m2) || is(2.0 * measured.net_m2), "both sides together"),
        (box_m2(measured).is_some_and(is), "length times height of the box around it"),
    ];
    known.into_iter().find(|(holds, _)| *holds).map(|(_, words)| words.to_owned())
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * b.abs()
}

/// The unit in which the number would be right, where the unit that is named is another.
fn other_unit(stated: &Stated, figure: f64) -> Option<&'static str> {
    let units = if stated.is_area() { AREAS } else { LENGTHS };
    let named = stated.unit.unwrap_or(1.0);
    units.into_iter().find(|(_, unit)| !same(named, *unit) && same(stated.number * unit, figure)).map(|(name, _)| name)
}

fn whole_surface(measured: &Measured) -> Option<f64> {
    Some(2.0 * measured.net_m2 + measured.edges_m * measured.thickness_m?)
}

fn box_m2(measured: &Measured) -> Option<f64> {
    measured.bounds.map(|bounds| bounds.width_m() * bounds.height_m())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Polygon;

    /// A wall of 5 m by 2.7 m, 0.3 m thick, with a window of 1 m by 1.2 m.
    fn wall() -> Measured {
        Measured {
            gross_m2: 13.5,
            net_m2: 12.3,
            plan_m2: None,
            thickness_m: Some(0.3),
            bounds: Polygon::rectangle(0.0, 0.0, 5.0, 2.7).bounds(),
            edges_m: 15.4 + 4.4,
        }
    }

    fn stated(subject: Subject, number: f64) -> Stated {
        Stated { name: "x".to_owned(), subject, number, unit: Some(1.0) }
    }

    // The kinds of slip are those that open models show; the figures are worked by hand.
    #[test]
    fn plain_causes_are_named() {
        let of = |subject, number, figure| cause(&stated(subject, number), figure, &wall()).unwrap_or_default();
        assert_eq!(of(Subject::Net, 13.5, 12.3), "the openings are not taken out");
        assert_eq!(of(Subject::Gross, 12.3, 13.5), "the openings are taken out");
        assert_eq!(of(Subject::Net, 12.3e6, 12.3), "the number is in mm2, its unit says otherwise");
        assert_eq!(
            of(Subject::Net, 13.5e6, 12.3),
            "the number is in mm2, its unit says otherwise, and the openings are not taken out"
        );
        assert_eq!(of(Subject::Gross, 145.312_790, 13.5), "the number is in ft2, its unit says otherwise");
        assert_eq!(of(Subject::Height, 2700.0, 2.7), "the number is in mm, its unit says otherwise");
        assert_eq!(of(Subject::Gross, 27.0, 13.5), "both sides together");
        // 2 x 12.3 + (15.4 + 4.4) x 0.3
        assert_eq!(of(Subject::Net, 30.54, 12.3), "the whole surface of the body, edges too");
        assert_eq!(of(Subject::Net, 17.0, 12.3), "");
    }

    #[test]
    fn a_slope_is_longer_than_its_plan() {
        // A roof of 10 m2 at 60 degrees: 5 m2 in plan.
        let roof = Measured { gross_m2: 10.0, net_m2: 10.0, plan_m2: Some(5.0), bounds: None, ..wall() };
        let of = |subject, number, figure| cause(&stated(subject, number), figure, &roof).unwrap_or_default();
        assert_eq!(of(Subject::Net, 5.0, 10.0), "the area seen from above");
        assert_eq!(of(Subject::Plan, 10.0, 5.0), "the area along the slope");
    }
}
