//! Laid-out framing beside published fractions.

use super::plan::Plan;
use super::published::{PUBLISHED, Published};
use super::sum::total;
use super::{FramingComparison, PublishedFraction, SurfaceTakeoff};
use crate::fill::FillMethod;
use crate::framing::RowRun;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::job::Job;
use crate::model::{Extent, Surface, SurfaceKind};

/// Laid-out surfaces of one kind and spacing.
struct Group<'t> {
    kind: SurfaceKind,
    spacing_m: Option<f64>,
    surfaces: Vec<&'t SurfaceTakeoff>,
}

/// Compares what was laid out, by kind and spacing; surfaces blown open have fill above their framing
/// and are not compared, nor is sheet metal with fractions of timber.
pub(super) fn compare(
    surfaces: &[Surface],
    takeoffs: &[SurfaceTakeoff],
    plans: &[Plan<'_>],
    job: &Job,
) -> Vec<FramingComparison> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    for ((surface, takeoff), plan) in surfaces.iter().zip(takeoffs).zip(plans) {
        let is_metal = plan.assigned.as_ref().is_some_and(|assigned| assigned.framing.is_sheet_metal());
        if is_metal || !is_compared(surface, takeoff) {
            continue;
        }
        let spacing_m = spacing_m(plan);
        let is_same = |group: &&mut Group<'_>| group.kind == takeoff.kind && is_close(group.spacing_m, spacing_m);
        match groups.iter_mut().find(is_same) {
            Some(group) => group.surfaces.push(takeoff),
            None => groups.push(Group { kind: takeoff.kind, spacing_m, surfaces: vec![takeoff] }),
        }
    }
    groups.sort_by_key(|group| group.kind);
    groups.iter().map(|group| compare_one(group, job)).collect()
}

/// Framing as a fraction of gross less openings, by volume, over all that was laid out and is not blown open.
pub(super) fn job_fraction(surfaces: &[Surface], takeoffs: &[SurfaceTakeoff]) -> Option<f64> {
    let compared = || surfaces.iter().zip(takeoffs).filter(|(surface, takeoff)| is_compared(surface, takeoff));
    let net_m3 = |takeoff: &SurfaceTakeoff| net_m2(takeoff) * takeoff.depth_m.unwrap_or(0.0);
    let whole_m3 = total(compared().map(|(_, takeoff)| net_m3(takeoff)));
    let member_m3 = total(compared().map(|(_, takeoff)| takeoff.member_volume_m3.unwrap_or(0.0)));
    (whole_m3 > 0.0).then(|| member_m3 / whole_m3)
}

fn is_compared(surface: &Surface, takeoff: &SurfaceTakeoff) -> bool {
    takeoff.counted
        && matches!(surface.extent, Extent::Outline(_))
        && takeoff.method != Some(FillMethod::Open)
        && net_m2(takeoff) > 0.0
}

fn net_m2(surface: &SurfaceTakeoff) -> f64 {
    surface.gross_area_m2 - surface.opening_area_m2
}

/// Spacing of the members that run up; `None` where the model gives each of them.
fn spacing_m(plan: &Plan<'_>) -> Option<f64> {
    let rows = &plan.assigned.as_ref()?.framing.rows;
    rows.iter().find(|row| row.run == RowRun::Up && row.spacing_m > 0.0).map(|row| row.spacing_m)
}

fn is_close(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= COINCIDENT_M,
        (None, None) => true,
        (Some(_), None) | (None, Some(_)) => false,
    }
}

fn compare_one(group: &Group<'_>, job: &Job) -> FramingComparison {
    let whole_m2 = total(group.surfaces.iter().map(|surface| net_m2(surface)));
    let framed_m2 = group.surfaces.iter().map(|surface| surface.framing_fraction.unwrap_or(0.0) * net_m2(surface));
    let mut fitting: Vec<&Published> = PUBLISHED.iter().filter(|one| one.kind == group.kind).collect();
    fitting.sort_by_key(|one| !one.is_for(group.spacing_m));
    FramingComparison {
        kind: group.kind,
        spacing_m: group.spacing_m,
        net_area_m2: whole_m2,
        laid_out_fraction: total(framed_m2) / whole_m2,
        mass_kg: total(group.surfaces.iter().filter_map(|surface| surface.mass_kg)),
        published: fitting.into_iter().map(|one| published(one, group, job)).collect(),
    }
}

fn published(one: &Published, group: &Group<'_>, job: &Job) -> PublishedFraction {
    let bag_kg = |surface: &SurfaceTakeoff| -> Option<f64> {
        job.fills.iter().find(|fill| Some(&fill.rules.name) == surface.fill.as_ref()).and_then(|fill| fill.bag_kg)
    };
    let difference_kg = |s: &SurfaceTakeoff| mass_kg(s, one.fraction) - s.mass_kg.unwrap_or(0.0);
    // Missing as soon as one of the fills has no bag.
    let differences: Option<Vec<f64>> = group.surfaces.iter().map(|s| Some(difference_kg(s) / bag_kg(s)?)).collect();
    PublishedFraction {
        fraction: one.fraction,
        spacing_m: one.spacing_m,
        applies: one.is_for(group.spacing_m),
        source: one.source.to_owned(),
        confidence: one.confidence,
        mass_kg: total(group.surfaces.iter().map(|s| mass_kg(s, one.fraction))),
        bags_difference: differences.map(total),
    }
}

/// Mass of a surface if its framing took a fraction: its bays' area is another, what is in a square
/// metre of them, less what stays empty there, is the same.
fn mass_kg(surface: &SurfaceTakeoff, fraction: f64) -> f64 {
    let bays_m2 = (net_m2(surface) * (1.0 - fraction) - surface.left_out_area_m2).max(0.0);
    let depth_m = surface.depth_m.unwrap_or(0.0) + surface.netting_bulge_m.unwrap_or(0.0);
    let density_kg_m3 = surface.density_kg_m3.unwrap_or(0.0);
    bays_m2 * depth_m * density_kg_m3 * filled_share(surface)
}

/// Share of the volume between the framing of the bays that is filled.
fn filled_share(surface: &SurfaceTakeoff) -> f64 {
    let empty_m3 = total(surface.bays.iter().map(|bay| bay.empty_m3));
    let filled_m3 = total(surface.bays.iter().map(|bay| bay.volume_m3));
    if empty_m3 > 0.0 { filled_m3 / (filled_m3 + empty_m3) } else { 1.0 }
}
