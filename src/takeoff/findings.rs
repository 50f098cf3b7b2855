//! Findings over all surfaces: one each, with how many and how much.

use super::by_label::closed_use;
use super::fill_findings;
use super::plan::Plan;
use super::roofs::{self, GIVE_VENT_GAP};
use super::sum::total;
use super::words::{area, gross_m2, labels, mass, place, small_area, surfaces as how_many, types};
use super::{FillTakeoff, SurfaceTakeoff};
use crate::bays::TOO_NARROW;
use crate::fill::{FillUse, NearStep, near_step};
use crate::finding::{Code, Finding};
use crate::job::{ExposureAsked, GivenHeat, Job, LayerHeatRule, MASONRY, NOT_KNOWN, Rule, VENT_GAP_NOT_GIVEN};
use crate::model::{Building, Exposure, FramingInPart, Subject, Surface, SurfaceKind};
use crate::source::Place;
use crate::units::UnitSystem;

/// Less of what was asked for than this is little.
const LITTLE: f64 = 0.10;
const GIVE_FRAMING: &str = "give it with `--frame \"2x6 @ 16 in\"`, with `--frame \"NAME*: 2x6 @ 16 in\"`, or as an \
                            assembly in the job file";

/// Collects them.
pub(super) fn summarise(
    building: &Building,
    surfaces: &[SurfaceTakeoff],
    fills: &[FillTakeoff],
    plans: &[Plan<'_>],
    job: &Job,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(little_counted(surfaces, plans));
    findings.extend(framing_unknown(surfaces));
    findings.extend(FramingInPart::ALL.into_iter().filter_map(|part| framing_in_part(surfaces, part)));
    findings.extend(roofs::findings(surfaces, plans));
    findings.extend(exposure_unknown(surfaces, job));
    findings.extend(corners(building, surfaces, plans));
    findings.extend(narrow_gaps(surfaces));
    findings.extend(near_steps(surfaces, plans, job));
    findings.extend(fill_findings::findings(&building.surfaces, surfaces, plans, job));
    findings.extend(bag_unknown(fills));
    findings.extend(fill_findings::odd_bags(fills, job));
    findings.extend(fill_findings::machine(fills, job));
    findings.extend(super::retrofit::findings(building, surfaces, plans, job));
    findings.extend(super::misfits::findings(surfaces, plans, job));
    findings.extend(rules_unused(plans, job));
    findings.extend(layer_heat_unused(building, job));
    findings
}

fn little_counted(surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>]) -> Option<Finding> {
    if surfaces.is_empty() {
        return None;
    }
    let asked: Vec<&SurfaceTakeoff> = surfaces.iter().zip(plans).filter(|(_, p)| p.is_asked).map(|(s, _)| s).collect();
    let counted: Vec<&SurfaceTakeoff> = surfaces.iter().filter(|s| s.counted).collect();
    let (asked_m2, counted_m2) = (gross_m2(&asked), gross_m2(&counted));
    let message = if asked.is_empty() {
        let all: Vec<&SurfaceTakeoff> = surfaces.iter().collect();
        format!(
            "nothing is counted: none of {} with {} has an exposure that is asked for; `--exposure all` takes them all, \
             or say in the job file's `[exposure]` which are exterior",
            how_many(&all),
            area(gross_m2(&all))
        )
    } else if counted.is_empty() {
        format!("nothing is counted of {} with {}: {}", how_many(&asked), area(asked_m2), give(&asked))
    } else if counted_m2 < LITTLE * asked_m2 {
        format!("only {} of {} are counted: for the rest {}", area(counted_m2), area(asked_m2), give(&asked))
    } else {
        return None;
    };
    Some(Finding::warning(Code::LittleCounted, &first_input(surfaces), message))
}

/// What to give so that more is counted.
fn give(asked: &[&SurfaceTakeoff]) -> String {
    let missing = |surface: &&&SurfaceTakeoff| !surface.counted;
    if asked.iter().filter(missing).all(|surface| surface.reason.as_deref() == Some(VENT_GAP_NOT_GIVEN)) {
        return format!("these are roof slopes of which nothing says how they are vented: {GIVE_VENT_GAP}");
    }
    let is_solid = |surface: &&&SurfaceTakeoff| surface.reason.as_deref() == Some(MASONRY);
    let solid: Vec<&SurfaceTakeoff> = asked.iter().filter(is_solid).copied().collect();
    if solid.is_empty() {
        return GIVE_FRAMING.to_owned();
    }
    format!(
        "{GIVE_FRAMING}; {} with {} are masonry or concrete, in which no cavity is invented and which only a `--frame` \
         with a pattern or an assembly frames",
        how_many(&solid),
        area(gross_m2(&solid))
    )
}

fn first_input(surfaces: &[SurfaceTakeoff]) -> Place {
    surfaces.first().map_or_else(Place::default, |surface| Place::input(&surface.source.input))
}

/// The place of the only surface, else the input of the first.
fn place_of(surfaces: &[&SurfaceTakeoff]) -> Place {
    match surfaces {
        [only] => place(only),
        [first, ..] => Place::input(&first.source.input),
        [] => Place::default(),
    }
}

fn framing_unknown(surfaces: &[SurfaceTakeoff]) -> Option<Finding> {
    let unknown: Vec<&SurfaceTakeoff> = surfaces.iter().filter(|s| s.reason.as_deref() == Some(NOT_KNOWN)).collect();
    if unknown.is_empty() {
        return None;
    }
    let message = format!(
        "the framing of {} with {} is not known, so they are not counted ({}): {GIVE_FRAMING}",
        how_many(&unknown),
        area(gross_m2(&unknown)),
        types(&unknown)
    );
    Some(Finding::warning(Code::FramingUnknown, &place_of(&unknown), message))
}

fn framing_in_part(surfaces: &[SurfaceTakeoff], part: FramingInPart) -> Option<Finding> {
    let of_part: Vec<&SurfaceTakeoff> =
        surfaces.iter().filter(|surface| surface.reason.as_deref() == Some(part.reason())).collect();
    let message = format!(
        "not counted: {} with {} ({}): {}",
        how_many(&of_part),
        area(gross_m2(&of_part)),
        labels(&of_part),
        part.help()
    );
    (!of_part.is_empty()).then(|| Finding::warning(Code::FramingUnknown, &place_of(&of_part), message))
}

fn exposure_unknown(surfaces: &[SurfaceTakeoff], job: &Job) -> Option<Finding> {
    let unknown: Vec<&SurfaceTakeoff> = surfaces.iter().filter(|s| s.exposure == Exposure::Unknown).collect();
    if unknown.is_empty() {
        return None;
    }
    let outcome = match job.exposure {
        ExposureAsked::All => "they are taken as asked for, with `--exposure all`",
        ExposureAsked::Exterior | ExposureAsked::Interior => {
            "they are not counted; `--exposure all` takes them, or say in the job file's `[exposure]` which are exterior"
        }
    };
    let message = format!(
        "nothing says whether {} with {} are exterior ({}): {outcome}",
        how_many(&unknown),
        area(gross_m2(&unknown)),
        types(&unknown)
    );
    Some(Finding::warning(Code::ExposureUnknown, &place_of(&unknown), message))
}

fn corners(building: &Building, surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>]) -> Option<Finding> {
    let is_framed = |surface: &Surface, plan: &Plan<'_>| {
        let takes_models = plan.assigned.as_ref().is_some_and(|assigned| assigned.layout.frame_junctions);
        surface.corner_posts > 0
            || surface.partition_junctions > 0
            || surface.junctions.iter().any(|junction| takes_models || junction.source.is_none())
    };
    let without: Vec<(&Surface, &SurfaceTakeoff)> = building
        .surfaces
        .iter()
        .zip(surfaces)
        .zip(plans)
        .filter(|((surface, takeoff), plan)| {
            takeoff.counted
                && surface.kind == SurfaceKind::Wall
                && !takeoff.outline_m.is_empty()
                && !is_framed(surface, plan)
        })
        .map(|(pair, _)| pair)
        .collect();
    if without.is_empty() {
        return None;
    }
    let of_model = if without.iter().any(|(surface, _)| !surface.junctions.is_empty()) {
        ", and `frame_junctions = true` under `[layout]` in the job file frames in those that the model says"
    } else {
        ""
    };
    let without: Vec<&SurfaceTakeoff> = without.into_iter().map(|(_, takeoff)| takeoff).collect();
    let message = format!(
        "{} with {} include no corner posts and no partition junctions, which take room from the bays: \
         `corners` and `partitions` give them, in a sheet or in a `[[surface]]` of the job file{of_model}",
        how_many(&without),
        area(gross_m2(&without))
    );
    Some(Finding::note(Code::CornersNotIncluded, &place_of(&without), message))
}

fn narrow_gaps(surfaces: &[SurfaceTakeoff]) -> Option<Finding> {
    let gaps = |surface: &SurfaceTakeoff| -> Vec<f64> {
        let narrow = surface.left_out.iter().filter(|piece| surface.counted && piece.reason == TOO_NARROW);
        narrow.map(|piece| piece.area_m2 * f64::from(surface.count)).collect()
    };
    let with: Vec<&SurfaceTakeoff> = surfaces.iter().filter(|surface| !gaps(surface).is_empty()).collect();
    if with.is_empty() {
        return None;
    }
    let message = format!(
        "gaps narrower than the filling tube stay empty in {} ({}): {} in all; `tube_width` under `[layout]` in the job \
         file sets the tube",
        how_many(&with),
        types(&with),
        small_area(total(with.iter().flat_map(|surface| gaps(surface))))
    );
    Some(Finding::note(Code::GapTooNarrow, &place_of(&with), message))
}

fn near_steps(surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>], job: &Job) -> Vec<Finding> {
    // One group a fill and depth, in the order in which they are first met.
    let mut groups: Vec<(usize, f64, NearStep, Vec<&SurfaceTakeoff>)> = Vec::new();
    let is_closed = |surface: &SurfaceTakeoff| surface.r#use == Some(FillUse::ClosedCavity);
    for (surface, plan) in surfaces.iter().zip(plans).filter(|(surface, _)| is_closed(surface)) {
        let by_rules = surface.method.filter(|_| surface.label.is_none());
        let (Some(fill), Some(depth_m), Some(method)) =
            (plan.assigned.as_ref().map(|a| a.fill), surface.filled_depth_m(), by_rules)
        else {
            continue;
        };
        let closed_use = closed_use(surface.kind, method);
        let Some(step) = job.fills.get(fill).and_then(|fill| near_step(&fill.rules, closed_use, depth_m)) else {
            continue;
        };
        match groups.iter_mut().find(|(f, d, _, _)| *f == fill && d.total_cmp(&depth_m).is_eq()) {
            Some((_, _, _, group)) => group.push(surface),
            None => groups.push((fill, depth_m, step, vec![surface])),
        }
    }
    groups
        .iter()
        .filter_map(|(fill, depth_m, step, group)| near_step_finding(job, *fill, *depth_m, *step, group))
        .collect()
}

fn near_step_finding(
    job: &Job,
    fill: usize,
    depth_m: f64,
    step: NearStep,
    group: &[&SurfaceTakeoff],
) -> Option<Finding> {
    let rules = &job.fills.get(fill)?.rules;
    let volume_m3 = total(group.iter().filter_map(|surface| surface.bay_volume_m3));
    let density =
        |kg_m3: f64| format!("{} ({})", UnitSystem::Us.show_density(kg_m3), UnitSystem::Si.show_density(kg_m3));
    let message = format!(
        "a depth of {} ({}), of {}, is close to {}, where the density of `{}` changes: {} at {} as taken, {} at {}",
        UnitSystem::Us.show_section(depth_m),
        UnitSystem::Si.show_section(depth_m),
        how_many(group),
        UnitSystem::Us.show_section(step.step_m),
        rules.name,
        mass(volume_m3 * step.used_kg_m3),
        density(step.used_kg_m3),
        mass(volume_m3 * step.other_kg_m3),
        density(step.other_kg_m3)
    );
    Some(Finding::note(Code::DepthNearStep, &place_of(group), message))
}

fn bag_unknown(fills: &[FillTakeoff]) -> Vec<Finding> {
    let message = |fill: &FillTakeoff| {
        format!(
            "no bag is known for `{}`, so there is no order: give the minimum net weight on its label with \
             `--bag \"25 lb\"`, or as `bag` under `[fill.{}]` in the job file",
            fill.name, fill.name
        )
    };
    let without = fills.iter().filter(|fill| fill.bag_kg.is_none() && fill.estimate.is_none());
    without.map(|fill| Finding::note(Code::BagUnknown, &Place::default(), message(fill))).collect()
}

/// What the job file says of layers that no model has; sheets have none.
fn layer_heat_unused(building: &Building, job: &Job) -> Vec<Finding> {
    let layered = || building.surfaces.iter().filter(|surface| !surface.layers.is_empty());
    let is_used = |rule: &LayerHeatRule| {
        layered().any(|surface| {
            let layers = surface.layers.iter().map(|layer| layer.material.as_str());
            rule.pattern.fits(&Subject::of(surface, surface.exposure), layers)
        })
    };
    let message = |rule: &LayerHeatRule| {
        let GivenHeat { value, unit, .. } = &rule.given;
        format!("the `[[layer]]` that says `{value} {unit}` fits no layer")
    };
    let unused = job.layer_heat.iter().filter(|rule| layered().next().is_some() && !is_used(rule));
    unused.map(|rule| Finding::note(Code::RuleUnused, &Place::input(&job.path), message(rule))).collect()
}

fn rules_unused(plans: &[Plan<'_>], job: &Job) -> Vec<Finding> {
    let is_used = |rule: Rule| plans.iter().any(|plan| plan.assigned.as_ref().is_some_and(|a| a.rule == rule));
    let mut findings = Vec::new();
    for (index, frame) in job.frames.iter().enumerate() {
        if !is_used(Rule::Frame(index)) {
            let message = format!("`{}` frames no surface", frame.text);
            findings.push(Finding::warning(Code::RuleUnused, &Place::input("--frame"), message));
        }
    }
    let in_job = Place::input(&job.path);
    for (index, assembly) in job.assemblies.iter().enumerate() {
        let is_named =
            || job.frames.iter().any(|frame| frame.assembly.as_ref().is_some_and(|a| a.name == assembly.name));
        if !is_used(Rule::Assembly(index)) && !is_named() {
            let message = format!("the assembly `{}` frames no surface", assembly.name);
            findings.push(Finding::note(Code::RuleUnused, &in_job, message));
        }
    }
    for (index, rule) in job.exposure_rules.iter().enumerate() {
        if !plans.iter().any(|plan| plan.exposure_rule == Some(index)) {
            let message = format!("the pattern `{}` under `[exposure]` fits no surface", rule.pattern.text());
            findings.push(Finding::note(Code::RuleUnused, &in_job, message));
        }
    }
    findings
}
