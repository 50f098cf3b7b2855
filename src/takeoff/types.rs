//! Surfaces by type.

use super::{SurfaceTakeoff, TypeTakeoff};
use crate::model::{Layer, Surface};

/// Groups the surfaces by type, kind and layers, in the order in which they are first met.
pub(super) fn group(surfaces: &[Surface], takeoffs: &[SurfaceTakeoff]) -> Vec<TypeTakeoff> {
    let mut types: Vec<TypeTakeoff> = Vec::new();
    // Most surfaces have the layers of the first of their type: their words need not be made again to see that.
    let mut firsts: Vec<&Surface> = Vec::new();
    for (surface, takeoff) in surfaces.iter().zip(takeoffs) {
        let is_alike = |first: &&Surface| {
            first.type_name == surface.type_name && first.kind == surface.kind && first.layers == surface.layers
        };
        let index = firsts.iter().position(is_alike).unwrap_or_else(|| index_of(&mut types, surface, takeoff));
        if firsts.len() < types.len() {
            firsts.push(surface);
        }
        if let Some(found) = types.get_mut(index) {
            add(found, takeoff);
        }
    }
    types
}

/// Place of the type of a surface; a new one where it is the first of its type.
fn index_of(types: &mut Vec<TypeTakeoff>, surface: &Surface, takeoff: &SurfaceTakeoff) -> usize {
    let layers: Vec<String> = surface.layers.iter().map(layer_words).collect();
    let is_same = |t: &TypeTakeoff| t.r#type == takeoff.r#type && t.kind == takeoff.kind && t.layers == layers;
    if let Some(index) = types.iter().position(is_same) {
        return index;
    }
    types.push(TypeTakeoff {
        r#type: takeoff.r#type.clone(),
        kind: takeoff.kind,
        layers,
        count: 0,
        gross_area_m2: 0.0,
        counted: 0,
        reasons: Vec::new(),
    });
    types.len() - 1
}

fn add(found: &mut TypeTakeoff, takeoff: &SurfaceTakeoff) {
    found.count = found.count.saturating_add(takeoff.count);
    found.gross_area_m2 += takeoff.gross_area_m2;
    if takeoff.counted {
        found.counted = found.counted.saturating_add(takeoff.count);
    }
    if let Some(reason) = &takeoff.reason
        && !found.reasons.contains(reason)
    {
        found.reasons.push(reason.clone());
    }
}

/// A layer in words: `gypsum board 12.7 mm`; only its name where the thickness is not known.
fn layer_words(layer: &Layer) -> String {
    let material = if layer.material.is_empty() { "unnamed" } else { &layer.material };
    if layer.thickness_m <= 0.0 {
        return material.to_owned();
    }
    let tenths = (layer.thickness_m * 10_000.0).round() / 10.0;
    format!("{material} {tenths} mm")
}
