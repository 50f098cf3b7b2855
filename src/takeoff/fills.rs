//! What each fill comes to: volume, mass, bags, reach and staging.

use super::plan::Plan;
use super::sum::total;
use super::{FillTakeoff, StageTakeoff, SurfaceTakeoff};
use crate::job::{FillChoice, Job};
use crate::model::SurfaceKind;
use crate::order::{count_bags, stage_bags};

/// Adds up the fills that something is filled with, in the order of the job.
pub(super) fn add_up(surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>], job: &Job) -> Vec<FillTakeoff> {
    let is_idle = |plan: &Plan<'_>| plan.is_asked && !plan.is_counted();
    let idle: Vec<&SurfaceTakeoff> =
        surfaces.iter().zip(plans).filter(|(_, plan)| is_idle(plan)).map(|(surface, _)| surface).collect();
    let of_fill = |index: usize| -> Vec<&SurfaceTakeoff> {
        let is_own = |plan: &Plan<'_>| plan.is_counted() && plan.assigned.as_ref().is_some_and(|a| a.fill == index);
        surfaces.iter().zip(plans).filter(|(_, plan)| is_own(plan)).map(|(surface, _)| surface).collect()
    };
    job.fills
        .iter()
        .enumerate()
        .map(|(index, fill)| (fill, of_fill(index)))
        .filter(|(_, surfaces)| !surfaces.is_empty())
        .map(|(fill, surfaces)| add_up_one(fill, &surfaces, &idle))
        .collect()
}

fn add_up_one(fill: &FillChoice, surfaces: &[&SurfaceTakeoff], idle: &[&SurfaceTakeoff]) -> FillTakeoff {
    let sum = |value: fn(&SurfaceTakeoff) -> Option<f64>| total(surfaces.iter().filter_map(|s| value(s)));
    let mass_kg = sum(|s| s.mass_kg);
    let bags = fill.bag_kg.and_then(|bag_kg| count_bags(mass_kg, bag_kg, fill.allowance));
    let mut kinds: Vec<SurfaceKind> = surfaces.iter().map(|s| s.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let counted_area_m2 = sum(|s| Some(s.gross_area_m2));
    let idle_area_m2 = total(idle.iter().filter(|s| kinds.contains(&s.kind)).map(|s| s.gross_area_m2));
    FillTakeoff {
        name: fill.rules.name.clone(),
        volume_m3: sum(|s| s.bay_volume_m3),
        mass_kg,
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
