//! Bays that follow one another, are alike and stand at one spacing: a line for all of them.

use super::BayStep;
use crate::takeoff::{BayTakeoff, SurfaceTakeoff};

/// Lengths that differ by less are the same, in metres.
const SAME_M: f64 = 1e-4;
/// Masses that differ by less are the same, in kilograms.
const SAME_KG: f64 = 1e-4;

/// Bays that are alike, in the order in which they are filled.
#[derive(Clone, Debug, PartialEq)]
pub struct BayRun<'s> {
    /// The first step.
    pub first: &'s BayStep,
    /// The last one; the first where it is alone.
    pub last: &'s BayStep,
    /// How many.
    pub number: usize,
    /// From the left edge of one to that of the next, in metres; nought where there is but one.
    pub spacing_m: f64,
    /// Mass of all of them, in kilograms.
    pub mass_kg: f64,
}

/// Steps of a surface in runs.
pub fn bay_runs<'s>(steps: &'s [BayStep], surface: &SurfaceTakeoff) -> Vec<BayRun<'s>> {
    let mut runs: Vec<BayRun<'s>> = Vec::new();
    for step in steps {
        let Some(bay) = surface.bays.get(step.bay) else { continue };
        match runs.last_mut() {
            Some(run) if goes_on(run, step, bay, surface) => {
                run.spacing_m = spacing_m(run.last, step).unwrap_or_default();
                run.last = step;
                run.number += 1;
                run.mass_kg += bay.mass_kg;
            }
            _ => runs.push(BayRun { first: step, last: step, number: 1, spacing_m: 0.0, mass_kg: bay.mass_kg }),
        }
    }
    runs
}

/// Whether a bay is the next of a run.
fn goes_on(run: &BayRun<'_>, step: &BayStep, bay: &BayTakeoff, surface: &SurfaceTakeoff) -> bool {
    let near = |a: Option<f64>, b: Option<f64>| a.zip(b).is_some_and(|(a, b)| (a - b).abs() < SAME_M);
    let Some(last) = surface.bays.get(run.last.bay) else { return false };
    let is_beside = run.last.bay.abs_diff(step.bay) == 1;
    let at_spacing = run.number == 1 || near(spacing_m(run.last, step), Some(run.spacing_m));
    let moves_on = spacing_m(run.last, step).is_some_and(|spacing_m| spacing_m > SAME_M);
    let is_alike = near(last.width_m, bay.width_m)
        && near(last.height_m, bay.height_m)
        && last.holes == bay.holes
        && (last.mass_kg - bay.mass_kg).abs() < SAME_KG;
    is_beside && is_alike && moves_on && at_spacing
}

fn spacing_m(one: &BayStep, next: &BayStep) -> Option<f64> {
    Some(next.from_left_m? - one.from_left_m?)
}
