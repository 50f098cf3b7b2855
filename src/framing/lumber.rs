//! Nominal sizes of sawn lumber and what is left of them when dressed.

use crate::units::INCH_M;

/// Nominal size and dressed size, in inches.
///
/// # Source
/// American Softwood Lumber Standard PS 20, minimum dressed dry sizes (19 % moisture or less) of
/// boards, dimension lumber and timbers up to nominal 16.
const DRESSED_IN: [(f64, f64); 11] = [
    (1.0, 0.75),
    (2.0, 1.5),
    (3.0, 2.5),
    (4.0, 3.5),
    (5.0, 4.5),
    (6.0, 5.5),
    (8.0, 7.25),
    (10.0, 9.25),
    (12.0, 11.25),
    (14.0, 13.25),
    (16.0, 15.25),
];

/// Dressed size of a nominal one, in metres; `None` where the standard has no such size.
///
/// # Source
/// PS 20, dry.
pub fn dressed_m(nominal_in: f64) -> Option<f64> {
    let same = |&&(nominal, _): &&(f64, f64)| (nominal - nominal_in).abs() < 1e-9;
    DRESSED_IN.iter().find(same).map(|(_, dressed_in)| dressed_in * INCH_M)
}

/// The nominal sizes, as people write them.
pub(super) fn known_sizes() -> String {
    DRESSED_IN.iter().map(|(nominal, _)| nominal.to_string()).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    // Source: PS 20, dry, as tabulated: 2 -> 1 1/2, 6 -> 5 1/2, 8 -> 7 1/4, 12 -> 11 1/4.
    #[test]
    fn two_by_lumber_is_dressed() {
        for (nominal, inches) in [(2.0, 1.5), (4.0, 3.5), (6.0, 5.5), (8.0, 7.25), (10.0, 9.25), (12.0, 11.25)] {
            let dressed = dressed_m(nominal).unwrap();
            assert!((dressed - inches * 0.0254).abs() < 1e-12);
        }
    }

    #[test]
    fn a_size_that_no_one_saws_is_unknown() {
        assert_eq!(dressed_m(7.0), None);
        assert_eq!(dressed_m(0.0), None);
    }
}
