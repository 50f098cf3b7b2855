//! Laid-out framing beside published fractions.

use super::sum::total;
use super::{FramingComparison, PublishedFraction, SurfaceTakeoff};
use crate::job::Job;
use crate::model::{Extent, Surface, SurfaceKind};

/// Published framing fractions of wood-framed walls with studs at 16 in.
const PUBLISHED: [(f64, &str); 2] =
    [(0.23, "WAC 51-11-1005: .19 + .04"), (0.25, "ASHRAE 90.1 A3.4: .21 + .04, from memory")];

/// Compares the walls that were laid out; `None` where there is none.
pub(super) fn compare(surfaces: &[Surface], takeoffs: &[SurfaceTakeoff], job: &Job) -> Option<FramingComparison> {
    let is_laid_out = |surface: &Surface, takeoff: &SurfaceTakeoff| {
        surface.kind == SurfaceKind::Wall && takeoff.counted && matches!(surface.extent, Extent::Outline(_))
    };
    let walls: Vec<&SurfaceTakeoff> = surfaces
        .iter()
        .zip(takeoffs)
        .filter(|(surface, takeoff)| is_laid_out(surface, takeoff))
        .map(|(_, takeoff)| takeoff)
        .collect();
    let net_m2 = total(walls.iter().map(|wall| net_m2(wall)));
    if net_m2 <= 0.0 {
        return None;
    }
    Some(FramingComparison {
        laid_out_fraction: total(walls.iter().map(|wall| wall.member_area_m2)) / net_m2,
        mass_kg: total(walls.iter().filter_map(|wall| wall.mass_kg)),
        published: PUBLISHED.iter().map(|(fraction, source)| published(*fraction, source, &walls, job)).collect(),
    })
}

fn net_m2(wall: &SurfaceTakeoff) -> f64 {
    wall.gross_area_m2 - wall.opening_area_m2
}

fn published(fraction: f64, source: &str, walls: &[&SurfaceTakeoff], job: &Job) -> PublishedFraction {
    let mass_kg = |wall: &SurfaceTakeoff| -> f64 {
        let bays_m2 = (net_m2(wall) * (1.0 - fraction) - wall.left_out_area_m2).max(0.0);
        bays_m2 * wall.depth_m.unwrap_or(0.0) * wall.density_kg_m3.unwrap_or(0.0)
    };
    let bag_kg = |wall: &SurfaceTakeoff| -> Option<f64> {
        job.fills.iter().find(|fill| Some(&fill.rules.name) == wall.fill.as_ref()).and_then(|fill| fill.bag_kg)
    };
    // Missing as soon as one of the fills has no bag.
    let differences: Option<Vec<f64>> =
        walls.iter().map(|wall| Some((mass_kg(wall) - wall.mass_kg.unwrap_or(0.0)) / bag_kg(wall)?)).collect();
    PublishedFraction {
        fraction,
        source: source.to_owned(),
        mass_kg: total(walls.iter().map(|wall| mass_kg(wall))),
        bags_difference: differences.map(total),
    }
}
