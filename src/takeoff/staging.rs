//! Where the bags of a fill are set down: by storey, zone or day, summing to the order.

use super::labour::hours_of;
use super::sum::total;
use super::{StageTakeoff, SurfaceTakeoff};
use crate::job::{FillChoice, OrderChoice, StageBy};
use crate::order::{split_by_days, stage_bags};

/// Places in the order in which they are first met; none where nothing tells them apart.
///
/// One crew blows one fill after the other: `before_h` are the hours of the fills before this one.
pub(super) fn stage(
    surfaces: &[&SurfaceTakeoff],
    fill: &FillChoice,
    choice: &OrderChoice,
    (order, before_h): (Option<u64>, f64),
) -> Vec<StageTakeoff> {
    let mut stages: Vec<StageTakeoff> = Vec::new();
    for (surface, shares) in surfaces.iter().zip(days_of(surfaces, fill, choice, before_h)) {
        let (storey, zone) = match choice.stage_by {
            StageBy::StoreyAndZone => (surface.storey.clone(), surface.zone.clone()),
            StageBy::Storey => (surface.storey.clone(), None),
            StageBy::Zone => (None, surface.zone.clone()),
            StageBy::Day => (None, None),
        };
        for (day, share) in shares {
            let mass_kg = surface.mass_kg.unwrap_or(0.0) * share;
            let is_same = |stage: &&mut StageTakeoff| stage.storey == storey && stage.zone == zone && stage.day == day;
            if let Some(stage) = stages.iter_mut().find(is_same) {
                stage.mass_kg += mass_kg;
            } else {
                let (storey, zone) = (storey.clone(), zone.clone());
                stages.push(StageTakeoff { storey, zone, day, mass_kg, bags: None });
            }
        }
    }
    if stages.iter().all(|stage| stage.storey.is_none() && stage.zone.is_none() && stage.day.is_none()) {
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

/// Shares of each surface's mass by day; one share of no day where days are not asked for, or no rate is known.
fn days_of(
    surfaces: &[&SurfaceTakeoff],
    fill: &FillChoice,
    choice: &OrderChoice,
    before_h: f64,
) -> Vec<Vec<(Option<u32>, f64)>> {
    let whole = vec![(None, 1.0)];
    let undivided = || vec![whole.clone(); surfaces.len()];
    let Some(labour) = choice.labour.as_ref().filter(|_| choice.stage_by == StageBy::Day) else { return undivided() };
    let hours_h: Vec<Option<f64>> = surfaces.iter().map(|surface| hours_of(surface, fill.allowance, labour)).collect();
    let own_h = hours_h.iter().map(|hours| hours.unwrap_or(0.0));
    let known_h: Vec<f64> = std::iter::once(before_h).chain(own_h).collect();
    let Some(split) = labour.day_h.and_then(|day_h| split_by_days(&known_h, day_h)) else { return undivided() };
    let share = |(days, hours_h): (Vec<(usize, f64)>, &Option<f64>)| match hours_h {
        Some(total_h) if *total_h > 0.0 => {
            days.into_iter().map(|(day, worked_h)| (u32::try_from(day + 1).ok(), worked_h / total_h)).collect()
        }
        _ => whole.clone(),
    };
    split.into_iter().skip(1).zip(&hours_h).map(share).collect()
}

/// Hours of a fill, as far as rates are given.
pub(super) fn worked_h(surfaces: &[&SurfaceTakeoff], fill: &FillChoice, choice: &OrderChoice) -> f64 {
    let Some(labour) = &choice.labour else { return 0.0 };
    total(surfaces.iter().filter_map(|surface| hours_of(surface, fill.allowance, labour)))
}
