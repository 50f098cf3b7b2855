//! What each fill comes to: volume, mass, bags, reach and staging.

use super::plan::Plan;
use super::sum::total;
use super::{EstimateTakeoff, FillTakeoff, StageTakeoff, SurfaceTakeoff};
use crate::fill::FillUse;
use crate::job::{FillChoice, Job};
use crate::model::SurfaceKind;
use crate::order::{count_bags, stage_bags};

/// Adds up the fills that something is filled with, in the order of the job.
///
/// Open-blown fill without a label's coverage table is an entry of its own, without bags.
pub(super) fn add_up(surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>], job: &Job) -> Vec<FillTakeoff> {
    let is_idle = |plan: &Plan<'_>| plan.is_asked && !plan.is_counted();
    let idle: Vec<&SurfaceTakeoff> =
        surfaces.iter().zip(plans).filter(|(_, plan)| is_idle(plan)).map(|(surface, _)| surface).collect();
    let mut all = Vec::new();
    for (index, fill) in job.fills.iter().enumerate() {
        let is_own = |plan: &Plan<'_>| plan.is_counted() && plan.assigned.as_ref().is_some_and(|a| a.fill == index);
        let own = surfaces.iter().zip(plans).filter(|(_, plan)| is_own(plan)).map(|(surface, _)| surface);
        let (estimated, ordered): (Vec<_>, Vec<_>) = own.partition(|surface| is_estimate(surface));
        all.extend((!ordered.is_empty()).then(|| add_up_one(fill, &ordered, &idle, None)));
        let estimate = estimate_of(fill, &estimated);
        all.extend((!estimated.is_empty()).then(|| add_up_one(fill, &estimated, &idle, estimate)));
    }
    all
}

/// Whether nobody but the label can say what a surface takes, and its table is not given.
fn is_estimate(surface: &SurfaceTakeoff) -> bool {
    surface.r#use == Some(FillUse::OpenBlown) && surface.label.is_none()
}

fn estimate_of(fill: &FillChoice, surfaces: &[&SurfaceTakeoff]) -> Option<EstimateTakeoff> {
    let volume_m3 = total(surfaces.iter().filter_map(|surface| surface.bay_volume_m3));
    let mass_kg = total(surfaces.iter().filter_map(|surface| surface.mass_kg));
    let range = fill.open_range_kg_m3.as_ref();
    let of = |density: Option<f64>| density.map_or(mass_kg, |density| volume_m3 * density);
    (!surfaces.is_empty()).then(|| EstimateTakeoff {
        least_kg: of(range.map(|range| range.least_kg_m3)),
        most_kg: of(range.map(|range| range.most_kg_m3)),
        source: range.map_or_else(String::new, |range| range.source.clone()),
    })
}

fn add_up_one(
    fill: &FillChoice,
    surfaces: &[&SurfaceTakeoff],
    idle: &[&SurfaceTakeoff],
    estimate: Option<EstimateTakeoff>,
) -> FillTakeoff {
    let sum = |value: fn(&SurfaceTakeoff) -> Option<f64>| total(surfaces.iter().filter_map(|s| value(s)));
    let mass_kg = sum(|s| s.mass_kg);
    let bag_kg = fill.bag_kg.filter(|_| estimate.is_none());
    let bags = bag_kg.and_then(|bag_kg| count_bags(mass_kg, bag_kg, fill.allowance));
    let mut kinds: Vec<SurfaceKind> = surfaces.iter().map(|s| s.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let counted_area_m2 = sum(|s| Some(s.gross_area_m2));
    let idle_area_m2 = total(idle.iter().filter(|s| kinds.contains(&s.kind)).map(|s| s.gross_area_m2));
    FillTakeoff {
        name: fill.rules.name.clone(),
        volume_m3: sum(|s| s.bay_volume_m3),
        mass_kg,
        estimate,
        bag_kg: fill.bag_kg,
        bags_exact: bags.map(|bags| bags.exact),
        allowance: fill.allowance,
        bags_order: bags.map(|bags| bags.order),
        counted_area_m2,
        asked_area_m2: counted_area_m2 + idle_area_m2,
        kinds,
        staging: stage(surfaces, bags.map(|bags| bags.order)),
    }
}

/// Places in the order in which they are first met.
fn stage(surfaces: &[&SurfaceTakeoff], order: Option<u64>) -> Vec<StageTakeoff> {
    let mut stages: Vec<StageTakeoff> = Vec::new();
    for surface in surfaces {
        let mass_kg = surface.mass_kg.unwrap_or(0.0);
        match stages.iter_mut().find(|stage| stage.storey == surface.storey && stage.zone == surface.zone) {
            Some(stage) => stage.mass_kg += mass_kg,
            None => stages.push(StageTakeoff {
                storey: surface.storey.clone(),
                zone: surface.zone.clone(),
                mass_kg,
                bags: None,
            }),
        }
    }
    if stages.iter().all(|stage| stage.storey.is_none() && stage.zone.is_none()) {
        return Vec::new();
    }
    if let Some(order) = order {
        let masses_kg: Vec<f64> = stages.iter().map(|stage| stage.mass_kg).collect();
        for (stage, bags) in stages.iter_mut().zip(stage_bags(order, &masses_kg)) {
            stage.bags = Some(bags);
        }
    }
    stages
}
