//! Words that findings share.

use super::SurfaceTakeoff;
use super::sum::total;
use crate::model::SurfaceKind;
use crate::source::Place;
use crate::units::UnitSystem;
pub(super) use crate::units::display::{area_both_ways as area, small_area_both_ways as small_area};
use std::collections::BTreeSet;

/// A mass both ways.
pub(super) fn mass(mass_kg: f64) -> String {
    format!("{} ({})", UnitSystem::Us.show_mass(mass_kg), UnitSystem::Si.show_mass(mass_kg))
}

/// How many surfaces: `1 wall`, `12 surfaces`. A wall that is cut at floors is one, in however many pieces.
pub(super) fn surfaces(surfaces: &[&SurfaceTakeoff]) -> String {
    let mut cut_walls = BTreeSet::new();
    let mut count = 0_u64;
    for surface in surfaces {
        let is_piece = surface.kind == SurfaceKind::Wall && surface.part > 0;
        if !is_piece || cut_walls.insert((&surface.source.input, &surface.id)) {
            count += u64::from(surface.count);
        }
    }
    let first = surfaces.first().map(|surface| surface.kind);
    let all_alike = surfaces.iter().all(|surface| Some(surface.kind) == first);
    let noun = match first.filter(|_| all_alike) {
        Some(SurfaceKind::Wall) => "wall",
        Some(SurfaceKind::Ceiling) => "ceiling",
        Some(SurfaceKind::Roof) => "roof slope",
        Some(SurfaceKind::Floor) => "floor",
        None => "surface",
    };
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}

/// Sum of the gross areas.
pub(super) fn gross_m2(surfaces: &[&SurfaceTakeoff]) -> f64 {
    total(surfaces.iter().map(|surface| surface.gross_area_m2))
}

/// Names of the types, or of the surfaces where they have none: the first few, each once.
pub(super) fn types(surfaces: &[&SurfaceTakeoff]) -> String {
    listed(surfaces.iter().map(|surface| surface.r#type.as_deref().unwrap_or_else(|| surface.label())))
}

/// Names of the surfaces: the first few, each once.
pub(super) fn labels(surfaces: &[&SurfaceTakeoff]) -> String {
    listed(surfaces.iter().map(|surface| surface.label()))
}

fn listed<'a>(all: impl Iterator<Item = &'a str>) -> String {
    const SHOWN: usize = 3;
    let mut names: Vec<&str> = Vec::new();
    for name in all {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let shown: Vec<String> = names.iter().take(SHOWN).map(|name| format!("`{name}`")).collect();
    match names.len() {
        0..=SHOWN => shown.join(", "),
        more => format!("{} and {} more", shown.join(", "), more - SHOWN),
    }
}

/// Place of a surface in its input.
pub(super) fn place(surface: &SurfaceTakeoff) -> Place {
    let entity = surface.source.entity.as_deref().and_then(|name| name.trim_start_matches('#').parse().ok());
    Place { line: surface.source.line, entity, id: Some(surface.id.clone()), ..Place::input(&surface.source.input) }
}
