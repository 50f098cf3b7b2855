//! Where the densities, tables and bags come from that bear on the figures.

use super::SurfaceTakeoff;
use super::by_label::closed_use;
use super::plan::Plan;
use crate::fill::{ClosedUse, FillUse};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::job::{FillChoice, Job};
use crate::model::Assumption;

/// Of every fill that something is filled with.
pub(super) fn of_fills(surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>], job: &Job) -> Vec<Assumption> {
    let mut all = Vec::new();
    for (index, fill) in job.fills.iter().enumerate() {
        let is_own = |plan: &Plan<'_>| plan.is_counted() && plan.assigned.as_ref().is_some_and(|a| a.fill == index);
        let own = surfaces.iter().zip(plans).filter(|(_, plan)| is_own(plan)).map(|(surface, _)| surface);
        all.extend(of_fill(fill, &own.collect::<Vec<_>>()));
    }
    all
}

fn of_fill(fill: &FillChoice, surfaces: &[&SurfaceTakeoff]) -> Vec<Assumption> {
    if surfaces.is_empty() {
        return Vec::new();
    }
    let mut all = Vec::new();
    let by_rules = || surfaces.iter().filter(|surface| surface.label.is_none());
    if by_rules().any(|surface| surface.r#use == Some(FillUse::OpenBlown)) {
        all.extend(fill.open_source.clone());
    }
    let closed: Vec<(ClosedUse, f64)> = by_rules()
        .filter(|surface| surface.r#use == Some(FillUse::ClosedCavity))
        .filter_map(|surface| Some((closed_use(surface.kind, surface.method?), surface.filled_depth_m()?)))
        .collect();
    all.extend(of_closed(fill, &closed));
    all.extend(of_labels(fill, surfaces));
    let mut open = surfaces.iter().filter_map(|surface| surface.open_blown.as_ref());
    if open.any(|open| open.settling_fraction.is_some()) {
        all.extend(fill.settling_source.clone());
    }
    all.extend(fill.order_sources.iter().cloned());
    all
}

fn of_closed(fill: &FillChoice, closed: &[(ClosedUse, f64)]) -> Vec<Assumption> {
    let mut all = Vec::new();
    let has_own = |closed_use: ClosedUse| fill.use_sources.iter().any(|(own, _)| *own == closed_use);
    let by_depth: Vec<f64> =
        closed.iter().filter(|(closed_use, _)| !has_own(*closed_use)).map(|(_, depth_m)| *depth_m).collect();
    let least_step_m = fill.rules.steps.iter().map(|step| step.from_m).reduce(f64::min);
    let is_deep = |depth_m: &f64| least_step_m.is_some_and(|from_m| *depth_m >= from_m - COINCIDENT_M);
    if by_depth.iter().any(|depth_m| !is_deep(depth_m)) {
        all.push(fill.density_source.clone());
    }
    if by_depth.iter().any(is_deep) {
        all.extend(fill.step_sources.iter().cloned());
    }
    let used = fill.use_sources.iter().filter(|(own, _)| closed.iter().any(|(closed_use, _)| closed_use == own));
    all.extend(used.map(|(_, source)| source.clone()));
    all
}

fn of_labels(fill: &FillChoice, surfaces: &[&SurfaceTakeoff]) -> Vec<Assumption> {
    let of = |surface: &&SurfaceTakeoff| {
        let label = surface.label.as_ref()?;
        let fill_use = match surface.r#use? {
            FillUse::OpenBlown => "open-blown",
            FillUse::ClosedCavity => "closed cavity",
        };
        Some(Assumption {
            key: format!("fill.{}.coverage", fill.rules.name),
            value: format!("{fill_use}, {}", label.basis),
            unit: String::new(),
            source: label.source.clone(),
        })
    };
    surfaces.iter().filter_map(of).collect()
}
