//! Density by use and by depth.

use super::{ClosedUse, FillRules};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::units::INCH_M;

/// How close to a step a depth is worth a note, in metres: a quarter of an inch, what lumber
/// shrinks and tapes differ by (common practice, no source).
const NEAR_STEP_M: f64 = 0.25 * INCH_M;

/// A depth close to a step in density, and the density on the other side of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NearStep {
    /// Depth at which the density changes, in metres.
    pub step_m: f64,
    /// Density that is used, in kilograms per cubic metre.
    pub used_kg_m3: f64,
    /// Density on the other side of the step.
    pub other_kg_m3: f64,
}

/// Installed density for a closed bay of a depth: that of its use where the rules have one, else that of its depth.
///
/// # Source
/// 3.5 lb/ft3 for walls and about 4 lb/ft3 for very deep bays: common practice, no source. The lower
/// figure is also the minimum of the US Standard Work Specifications, 4.1103.1.
pub fn density_kg_m3(rules: &FillRules, closed_use: ClosedUse, depth_m: f64) -> f64 {
    rules.of_use_kg_m3(closed_use).unwrap_or_else(|| by_depth_kg_m3(rules, depth_m))
}

/// The density of the deepest step that a depth reaches.
fn by_depth_kg_m3(rules: &FillRules, depth_m: f64) -> f64 {
    let reached = rules.steps.iter().rev().find(|step| depth_m >= step.from_m - COINCIDENT_M);
    reached.map_or(rules.density_kg_m3, |step| step.density_kg_m3)
}

/// Both densities, where a depth is within a quarter of an inch of a step.
pub fn near_step(rules: &FillRules, closed_use: ClosedUse, depth_m: f64) -> Option<NearStep> {
    if rules.of_use_kg_m3(closed_use).is_some() {
        return None;
    }
    let is_near = |from_m: f64| (depth_m - from_m).abs() <= NEAR_STEP_M + COINCIDENT_M;
    let step = rules.steps.iter().find(|step| is_near(step.from_m))?;
    let below_kg_m3 = by_depth_kg_m3(rules, step.from_m - 2.0 * COINCIDENT_M);
    let (used_kg_m3, other_kg_m3) = if depth_m >= step.from_m - COINCIDENT_M {
        (step.density_kg_m3, below_kg_m3)
    } else {
        (below_kg_m3, step.density_kg_m3)
    };
    let differs = used_kg_m3.total_cmp(&other_kg_m3).is_ne();
    differs.then_some(NearStep { step_m: step.from_m, used_kg_m3, other_kg_m3 })
}

#[cfg(test)]
mod tests {
    use super::super::DepthStep;
    use super::*;

    fn rules() -> FillRules {
        FillRules {
            name: "cellulose".to_owned(),
            density_kg_m3: 56.0,
            steps: vec![DepthStep { from_m: 9.25 * INCH_M, density_kg_m3: 64.0 }],
            netted_kg_m3: None,
            sloped_kg_m3: None,
            open_density_kg_m3: None,
        }
    }

    #[test]
    fn a_dressed_2x10_is_deep_and_a_2x8_is_not() {
        // 9 1/4 in. as a sum of feet and inches, which may miss the last digit
        assert!((density_kg_m3(&rules(), ClosedUse::Plain, 0.75 * 0.3048 + 0.25 * INCH_M) - 64.0).abs() < 1e-12);
        assert!((density_kg_m3(&rules(), ClosedUse::Plain, 9.25 * INCH_M - 2e-6) - 56.0).abs() < 1e-12);
        assert!((density_kg_m3(&rules(), ClosedUse::Plain, 7.25 * INCH_M) - 56.0).abs() < 1e-12);
    }

    #[test]
    fn only_a_depth_close_to_the_step_is_near_it() {
        let near = |rules: &FillRules, depth_in: f64| {
            near_step(rules, ClosedUse::Plain, depth_in * INCH_M).map(|near| (near.used_kg_m3, near.other_kg_m3))
        };
        assert_eq!(near(&rules(), 9.0), Some((56.0, 64.0)));
        assert_eq!(near(&rules(), 9.5), Some((64.0, 56.0)));
        assert_eq!(near(&rules(), 8.9), None);
        let flat = vec![DepthStep { from_m: 9.25 * INCH_M, density_kg_m3: 56.0 }];
        assert_eq!(near(&FillRules { steps: flat, ..rules() }, 9.25), None);
    }

    #[test]
    fn a_density_of_a_use_wins_over_that_of_the_depth() {
        let rules = FillRules { netted_kg_m3: Some(50.0), sloped_kg_m3: Some(60.0), ..rules() };
        let of = |closed_use| density_kg_m3(&rules, closed_use, 0.3);
        assert_eq!([of(ClosedUse::Plain), of(ClosedUse::Netted), of(ClosedUse::Sloped)], [64.0, 50.0, 60.0]);
        assert_eq!(near_step(&rules, ClosedUse::Netted, 9.25 * INCH_M), None);
    }
}
