//! Density by depth.

use super::FillRules;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::units::INCH_M;

/// How close to the step a depth is worth a note, in metres: a quarter of an inch, what lumber
/// shrinks and tapes differ by (common practice, no source).
const NEAR_STEP_M: f64 = 0.25 * INCH_M;

/// A depth close to the step in density, and the density on the other side of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NearStep {
    /// Density that is used, in kilograms per cubic metre.
    pub used_kg_m3: f64,
    /// Density on the other side of the step.
    pub other_kg_m3: f64,
}

/// Installed density for a bay of a depth.
///
/// # Source
/// 3.5 lb/ft3 for walls and about 4 lb/ft3 for very deep bays: common practice, no source. The lower
/// figure is also the minimum of the US Standard Work Specifications, 4.1103.1.
pub fn density_kg_m3(rules: &FillRules, depth_m: f64) -> f64 {
    if is_deep(rules, depth_m) { rules.deep_density_kg_m3 } else { rules.density_kg_m3 }
}

/// Both densities, where a depth is within a quarter of an inch of the step.
pub fn near_step(rules: &FillRules, depth_m: f64) -> Option<NearStep> {
    let is_near = (depth_m - rules.deep_from_m).abs() <= NEAR_STEP_M + COINCIDENT_M;
    let differs = rules.density_kg_m3.total_cmp(&rules.deep_density_kg_m3).is_ne();
    let (used_kg_m3, other_kg_m3) = if is_deep(rules, depth_m) {
        (rules.deep_density_kg_m3, rules.density_kg_m3)
    } else {
        (rules.density_kg_m3, rules.deep_density_kg_m3)
    };
    (is_near && differs).then_some(NearStep { used_kg_m3, other_kg_m3 })
}

fn is_deep(rules: &FillRules, depth_m: f64) -> bool {
    depth_m >= rules.deep_from_m - COINCIDENT_M
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rules() -> FillRules {
        FillRules {
            name: "cellulose".to_owned(),
            density_kg_m3: 56.0,
            deep_density_kg_m3: 64.0,
            deep_from_m: 9.25 * INCH_M,
            open_density_kg_m3: 24.0,
        }
    }

    #[test]
    fn a_dressed_2x10_is_deep_and_a_2x8_is_not() {
        // 9 1/4 in. as a sum of feet and inches, which may miss the last digit
        assert!((density_kg_m3(&rules(), 0.75 * 0.3048 + 0.25 * INCH_M) - 64.0).abs() < 1e-12);
        assert!((density_kg_m3(&rules(), 9.25 * INCH_M - 2e-6) - 56.0).abs() < 1e-12);
        assert!((density_kg_m3(&rules(), 7.25 * INCH_M) - 56.0).abs() < 1e-12);
    }

    #[test]
    fn only_a_depth_close_to_the_step_is_near_it() {
        assert_eq!(near_step(&rules(), 9.0 * INCH_M), Some(NearStep { used_kg_m3: 56.0, other_kg_m3: 64.0 }));
        assert_eq!(near_step(&rules(), 9.5 * INCH_M), Some(NearStep { used_kg_m3: 64.0, other_kg_m3: 56.0 }));
        assert_eq!(near_step(&rules(), 8.9 * INCH_M), None);
        assert_eq!(near_step(&FillRules { deep_density_kg_m3: 56.0, ..rules() }, 9.25 * INCH_M), None);
    }
}
