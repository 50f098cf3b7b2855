//! Every value that the inputs did not give and that bears on the figures.

use super::SurfaceTakeoff;
use super::measure::Seen;
use super::plan::Plan;
use crate::fill::density_kg_m3;
use crate::job::{FillChoice, Job, Rule, When};
use crate::model::{Assumption, Building, Exposure, Extent, Surface};

/// Collects them: of the intake, of the layout, of the fills; each once.
pub(super) fn collect(
    building: &Building,
    surfaces: &[SurfaceTakeoff],
    seen: &[Seen],
    plans: &[Plan<'_>],
    job: &Job,
) -> Vec<Assumption> {
    let counted: Vec<(&Surface, &Plan<'_>)> =
        building.surfaces.iter().zip(plans).filter(|(_, plan)| plan.is_counted()).collect();
    let mut all = building.assumptions.clone();
    all.extend(exposure(job, plans));
    all.extend(framing(job, &counted));
    for (when, assumption) in &job.layout.sources {
        if counted.iter().any(|(surface, _)| bears(*when, surface)) {
            all.push(assumption.clone());
        }
    }
    for (index, fill) in job.fills.iter().enumerate() {
        let depths: Vec<f64> = surfaces
            .iter()
            .zip(plans)
            .filter(|(_, plan)| plan.is_counted() && plan.assigned.as_ref().is_some_and(|a| a.fill == index))
            .filter_map(|(surface, _)| surface.depth_m)
            .collect();
        all.extend(of_fill(fill, &depths));
    }
    all.extend(seen.iter().flat_map(|seen| seen.assumptions.iter().cloned()));
    once(all)
}

/// Whether a default of the layout bears on a counted surface.
fn bears(when: When, surface: &Surface) -> bool {
    let is_laid_out = matches!(surface.extent, Extent::Outline(_));
    match when {
        When::LaidOut => is_laid_out,
        When::Opening => is_laid_out && !surface.openings.is_empty(),
        When::Corner => is_laid_out && surface.corner_posts > 0,
        When::Partition => is_laid_out && surface.partition_junctions > 0,
        When::Floor => is_laid_out && !surface.floor_bands.is_empty(),
    }
}

fn exposure(job: &Job, plans: &[Plan<'_>]) -> Vec<Assumption> {
    if plans.is_empty() {
        return Vec::new();
    }
    let value = match job.exposure {
        crate::job::ExposureAsked::Exterior => "exterior and unconditioned",
        crate::job::ExposureAsked::All => "all",
        crate::job::ExposureAsked::Interior => "interior",
    };
    let asked = Assumption {
        key: "exposure.count".to_owned(),
        value: value.to_owned(),
        unit: String::new(),
        source: job.exposure_source.clone(),
    };
    let by_rule = job
        .exposure_rules
        .iter()
        .enumerate()
        .filter(|(index, _)| plans.iter().any(|plan| plan.exposure_rule == Some(*index)));
    let rules = by_rule.map(|(_, rule)| Assumption {
        key: format!("exposure of `{}`", rule.pattern.text()),
        value: exposure_word(rule.exposure).to_owned(),
        unit: String::new(),
        source: "job file".to_owned(),
    });
    std::iter::once(asked).chain(rules).collect()
}

fn exposure_word(exposure: Exposure) -> &'static str {
    match exposure {
        Exposure::Exterior => "exterior",
        Exposure::Unconditioned => "unconditioned",
        Exposure::Interior => "interior",
        Exposure::Unknown => "unknown",
    }
}

fn framing(job: &Job, counted: &[(&Surface, &Plan<'_>)]) -> Vec<Assumption> {
    let is_used = |rule: Rule| counted.iter().any(|(_, plan)| plan.assigned.as_ref().is_some_and(|a| a.rule == rule));
    let mut all = Vec::new();
    for (index, assembly) in job.assemblies.iter().enumerate() {
        if is_used(Rule::Assembly(index)) {
            all.extend(assembly.sources.iter().cloned());
        }
    }
    for (index, frame) in job.frames.iter().enumerate() {
        if is_used(Rule::Frame(index)) {
            let key = frame.pattern.as_ref().map_or("framing".to_owned(), |p| format!("framing of `{}`", p.text()));
            let (value, unit) = (frame.framing.text.clone(), String::new());
            all.push(Assumption { key, value, unit, source: "--frame".to_owned() });
        }
    }
    all
}

fn of_fill(fill: &FillChoice, depths_m: &[f64]) -> Vec<Assumption> {
    if depths_m.is_empty() {
        return Vec::new();
    }
    let is_deep = |depth_m: &f64| {
        let rules = &fill.rules;
        density_kg_m3(rules, *depth_m).total_cmp(&rules.density_kg_m3).is_ne()
    };
    let mut all = Vec::new();
    if !depths_m.iter().all(is_deep) {
        all.push(fill.density_source.clone());
    }
    if depths_m.iter().any(is_deep) {
        all.extend(fill.deep_sources.iter().cloned());
    }
    all.extend(fill.order_sources.iter().cloned());
    all
}

fn once(all: Vec<Assumption>) -> Vec<Assumption> {
    let mut seen = std::collections::BTreeSet::new();
    let key = |a: &Assumption| (a.key.clone(), a.value.clone(), a.unit.clone(), a.source.clone());
    all.into_iter().filter(|assumption| seen.insert(key(assumption))).collect()
}
