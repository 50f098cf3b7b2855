//! Thickness and mass of open-blown fill by arithmetic: what a label's table would say, for want of one.

use crate::units::SQUARE_FOOT_M2;

/// Area that one depth marker serves.
///
/// # Source
/// IECC R303.1.1.1 and IRC N1101.10.1.1: one marker for each 300 ft2, from memory.
const MARKER_AREA_M2: f64 = 300.0 * SQUARE_FOOT_M2;
/// What an area may be over whole markers without starting another: a hundred-millionth of one.
const WHOLE: f64 = 1e-8;

/// Initial installed thickness, from the settled one and the settling fraction `s` of the initial thickness:
/// `t / (1 - s)`, and not `t (1 + s)`, which leaves too little.
///
/// `settling_fraction` is at least nought and less than one.
pub fn initial_thickness_m(settled_m: f64, settling_fraction: f64) -> f64 {
    settled_m / (1.0 - settling_fraction)
}

/// Settled thickness that a resistance takes at a conductivity: an estimate, since the resistance of loose fill is not
/// its thickness times a figure per inch (16 CFR 460.20).
pub fn settled_thickness_m(r_m2k_w: f64, conductivity_w_mk: f64) -> f64 {
    r_m2k_w * conductivity_w_mk
}

/// Depth markers of an area: one for each started 300 ft2, at least one.
pub fn depth_markers(area_m2: f64) -> u64 {
    let markers = (area_m2 / MARKER_AREA_M2 - WHOLE).ceil().max(1.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number of at least one")]
    let count = markers as u64;
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settling_is_a_share_of_the_initial_thickness() {
        // 16.20 in. settled at 20 % is 20.25 in. and not 19.44
        assert!((initial_thickness_m(16.2, 0.20) - 20.25).abs() < 1e-12);
        assert!((initial_thickness_m(8.4, 0.0) - 8.4).abs() < 1e-12);
    }

    #[test]
    fn each_started_300_square_feet_have_a_marker() {
        let markers = |area_ft2: f64| depth_markers(area_ft2 * SQUARE_FOOT_M2);
        assert_eq!([markers(10.0), markers(300.0), markers(300.1), markers(1200.0)], [1, 1, 2, 4]);
    }
}
