//! Every value that the inputs did not give and that bears on the figures.

use super::measure::Seen;
use super::plan::Plan;
use super::{BayTakeoff, SurfaceTakeoff};
use crate::fill::FillMethod;
use crate::job::{Assigned, Filling, Job, Rule, SET, When};
use crate::model::{Assumption, Building, Exposure, Extent, JunctionKind, Surface, SurfaceKind};

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
        if counted.iter().any(|(surface, plan)| bears(*when, surface, plan, job)) {
            all.push(assumption.clone());
        }
    }
    all.extend(super::fill_sources::of_fills(surfaces, plans, job));
    if !counted.is_empty() {
        all.extend(job.order.sources.iter().cloned());
        // The side that the crew sees changes no figure: the default is said on the crew sheet alone.
        all.extend(job.crew.source.iter().cloned());
        all.extend(job.tolerances.sources.iter().cloned());
    }
    all.extend(filling(job, &counted, surfaces));
    all.extend(seen.iter().flat_map(|seen| seen.assumptions.iter().cloned()));
    for assumption in all.iter_mut().filter(|assumption| job.set_keys.contains(&assumption.key)) {
        SET.clone_into(&mut assumption.source);
    }
    once(all)
}

/// Whether a default of the layout bears on a counted surface.
fn bears(when: When, surface: &Surface, plan: &Plan<'_>, job: &Job) -> bool {
    let is_laid_out = matches!(surface.extent, Extent::Outline(_));
    let has = |kind: JunctionKind| surface.junctions.iter().any(|junction| junction.kind == kind);
    let has_partition = surface.partition_junctions > 0 || has(JunctionKind::Partition);
    let is_framed = |pick: &dyn Fn(&Assigned<'_>) -> bool| plan.assigned.as_ref().is_some_and(pick);
    match when {
        When::FireBoard => {
            let has_boards = |assigned: &Assigned<'_>| assigned.framing.has_fire_boards(assigned.layout);
            is_laid_out && surface.kind == SurfaceKind::Wall && is_framed(&has_boards)
        }
        When::PartitionInRows => {
            is_laid_out && has_partition && is_framed(&|assigned| assigned.framing.has_parallel_rows())
        }
        When::LaidOut => is_laid_out,
        When::Rim => plan.is_rim_behind_band(surface, job),
        When::Opening => is_laid_out && !surface.openings.is_empty(),
        When::Corner => is_laid_out && (surface.corner_posts > 0 || has(JunctionKind::Corner)),
        When::Roof => is_laid_out && surface.kind == SurfaceKind::Roof,
        When::Partition => is_laid_out && has_partition,
        When::Junction => is_laid_out && surface.junctions.iter().any(|junction| junction.source.is_some()),
        When::FloorBand => is_laid_out && !surface.floor_bands.is_empty(),
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
    for (index, assembly) in job.built_in.iter().enumerate() {
        if is_used(Rule::BuiltIn(index)) {
            all.extend(assembly.sources.iter().cloned());
        }
    }
    for (index, frame) in job.frames.iter().enumerate() {
        if is_used(Rule::Frame(index)) {
            all.extend(frame.assembly.iter().flat_map(|assembly| assembly.sources.iter().cloned()));
            let key = frame.pattern.as_ref().map_or("framing".to_owned(), |p| format!("framing of `{}`", p.text()));
            let (value, unit) = (frame.framing.text.clone(), String::new());
            all.push(Assumption { key, value, unit, source: "--frame".to_owned() });
        }
    }
    all
}

/// How bays are filled, where the assembly does not say, and where the holes go.
fn filling(job: &Job, counted: &[(&Surface, &Plan<'_>)], takeoffs: &[SurfaceTakeoff]) -> Vec<Assumption> {
    let is_wide = |bay: &BayTakeoff| bay.width_m.is_some_and(|width_m| width_m > job.filling.holes.hole_spacing_m);
    let mut all = Vec::new();
    let fillings = counted.iter().filter_map(|(surface, plan)| Some(job.filling_of(surface, plan.assigned.as_ref()?)));
    let fillings: Vec<Filling<'_>> = fillings.collect();
    for method in FillMethod::ALL {
        let own: Vec<&Filling<'_>> = fillings.iter().filter(|filling| filling.method == method).collect();
        if own.is_empty() {
            continue;
        }
        all.extend(own.iter().filter_map(|filling| filling.method_source()).map(|source| Assumption {
            key: "filling.method".to_owned(),
            value: method.word().to_owned(),
            unit: String::new(),
            source: source.to_owned(),
        }));
        let has_wide_bays = takeoffs.iter().any(|one| one.method == Some(method) && one.bays.iter().any(is_wide));
        let is_own_bulge = own.iter().all(|filling| !filling.is_bulge_of_job);
        let sources = job.filling.sources_of(method, has_wide_bays).into_iter();
        let bears = |source: &&Assumption| !(is_own_bulge && source.key == "filling.netting_bulge");
        all.extend(sources.filter(bears).cloned());
    }
    all
}

fn once(all: Vec<Assumption>) -> Vec<Assumption> {
    let mut seen = std::collections::BTreeSet::new();
    let key = |a: &Assumption| (a.key.clone(), a.value.clone(), a.unit.clone(), a.source.clone());
    all.into_iter().filter(|assumption| seen.insert(key(assumption))).collect()
}
