//! How sure the masses are, and what that rests on.

use super::plan::Plan;
use super::sum::total;
use super::{RangeInputTakeoff, RangeTakeoff, SurfaceTakeoff};
use crate::fill::FillUse;
use crate::geometry::{Bounds, Polygon};
use crate::job::{FillChoice, Tolerances};
use crate::order::{Bags, combined, count_bags, range_of};
use std::collections::BTreeMap;

/// Inputs that are named.
const NAMED: usize = 10;
/// Tolerances are two standard deviations.
const DEVIATIONS: f64 = 2.0;

/// What an input's standard uncertainty changes of the mass, in kilograms.
struct Change {
    what: String,
    mass_kg: f64,
}

/// Range of the mass of a fill, and of its order where there is one; `None` where nothing is filled.
///
/// First order: each input is moved by its standard uncertainty, all others stay. Depth, length and height are inputs of
/// each surface; the spacing is one of each assembly; density and bag are one of the fill.
pub(super) fn range(
    surfaces: &[(&SurfaceTakeoff, &Plan<'_>)],
    fill: &FillChoice,
    (bag_kg, bags): (Option<f64>, Option<&Bags>),
    tolerances: &Tolerances,
) -> Option<RangeTakeoff> {
    let mass_kg = total(surfaces.iter().filter_map(|(surface, _)| surface.mass_kg));
    if mass_kg <= 0.0 {
        return None;
    }
    let name = &fill.rules.name;
    let common = |what: String, share: f64| Change { what, mass_kg: mass_kg * share / DEVIATIONS };
    let mut changes = vec![common(format!("density of {name}"), tolerances.density_share)];
    if bag_kg.is_some() {
        changes.push(common(format!("mass of a bag of {name}"), tolerances.bag_share));
    }
    changes.extend(surfaces.iter().flat_map(|(surface, _)| of_surface(surface, tolerances)));
    changes.extend(of_spacings(surfaces, tolerances));
    let standard_kg = combined(changes.iter().map(|change| change.mass_kg));
    let range = range_of(standard_kg / mass_kg, tolerances.confidence_share)?;
    changes.sort_by(|a, b| b.mass_kg.abs().total_cmp(&a.mass_kg.abs()));
    let order = |ratio: f64| Some(count_bags(mass_kg * ratio, bags.and(bag_kg)?, fill.allowance)?.order);
    Some(RangeTakeoff {
        confidence_share: tolerances.confidence_share,
        least_kg: mass_kg * range.least_ratio,
        most_kg: mass_kg * range.most_ratio,
        least_bags: order(range.least_ratio),
        most_bags: order(range.most_ratio),
        inputs: changes
            .iter()
            .take(NAMED)
            .map(|change| RangeInputTakeoff {
                what: change.what.clone(),
                change_kg: change.mass_kg.abs(),
                variance_share: (change.mass_kg / standard_kg).powi(2),
            })
            .collect(),
    })
}

fn bounds(surface: &SurfaceTakeoff) -> Option<Bounds> {
    Polygon { rings: surface.outline_m.clone() }.bounds()
}

/// Sides of a surface of one, in metres: of its outline, else of a square of its area.
fn sides_m(surface: &SurfaceTakeoff) -> (f64, f64) {
    let one_m2 = surface.gross_area_m2 / f64::from(surface.count.max(1));
    match bounds(surface) {
        Some(bounds) if bounds.width_m() > 0.0 => (bounds.width_m(), one_m2 / bounds.width_m()),
        _ => (one_m2.max(0.0).sqrt(), one_m2.max(0.0).sqrt()),
    }
}

/// Depth, length and height of one surface. Open-blown fill is levelled to its thickness, whose error is that of the density.
fn of_surface(surface: &SurfaceTakeoff, tolerances: &Tolerances) -> Vec<Change> {
    let (Some(mass_kg), Some(depth_m), Some(density_kg_m3)) =
        (surface.mass_kg, surface.filled_depth_m(), surface.density_kg_m3)
    else {
        return Vec::new();
    };
    let of = |what: &str, mass_kg: f64| Change { what: format!("{what} of {}", surface.label()), mass_kg };
    let count = f64::from(surface.count);
    let (length_m, height_m) = sides_m(surface);
    // What a longer or higher surface gains is framed like the rest.
    let per_m2_kg = density_kg_m3 * depth_m * (1.0 - surface.framing_fraction.unwrap_or(0.0)).max(0.0) * count;
    let standard_m = tolerances.length_m / DEVIATIONS;
    let mut changes =
        vec![of("length", per_m2_kg * height_m * standard_m), of("height", per_m2_kg * length_m * standard_m)];
    if surface.r#use == Some(FillUse::ClosedCavity) && depth_m > 0.0 {
        changes.push(of("depth", mass_kg * tolerances.depth_m / DEVIATIONS / depth_m));
    }
    changes
}

/// Spacing of each assembly: over a length there are as many members as spacings, so that the area they take goes with its inverse.
fn of_spacings(surfaces: &[(&SurfaceTakeoff, &Plan<'_>)], tolerances: &Tolerances) -> Vec<Change> {
    let mut by_assembly: BTreeMap<&str, f64> = BTreeMap::new();
    for (surface, plan) in surfaces {
        let (Some(words), Some(assigned)) = (surface.assembly.as_deref(), plan.assigned.as_ref()) else { continue };
        let (Some(density_kg_m3), Some(depth_m)) = (surface.density_kg_m3, surface.filled_depth_m()) else { continue };
        let net_m2 = surface.gross_area_m2 - surface.opening_area_m2;
        let rows = assigned.framing.rows.iter().filter(|row| row.spacing_m > 0.0);
        let change_kg = total(rows.map(|row| {
            let row_m = (row.to_m.min(depth_m) - row.from_m).max(0.0);
            density_kg_m3 * net_m2 * row_m * row.member_width_m * row.solid_share / row.spacing_m.powi(2)
        }));
        *by_assembly.entry(words).or_insert(0.0) += change_kg * tolerances.spacing_m / DEVIATIONS;
    }
    by_assembly.into_iter().map(|(words, mass_kg)| Change { what: format!("spacing in {words}"), mass_kg }).collect()
}
