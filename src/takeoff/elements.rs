//! Sums over the surfaces of one element of a model.

use super::{SurfaceTakeoff, Takeoff};

/// What an element comes to: the sum of its counted surfaces.
#[derive(Clone, Debug, PartialEq)]
pub struct ElementTakeoff {
    /// Its instance name, without the `#`.
    pub entity: u64,
    /// Its `GlobalId`.
    pub id: String,
    /// Framing in words, each once.
    pub assembly: String,
    /// Fills, each once.
    pub fill: String,
    /// Area with the openings filled.
    pub gross_area_m2: f64,
    /// What the openings take.
    pub opening_area_m2: f64,
    /// What the members take.
    pub member_area_m2: f64,
    /// What the bays hold.
    pub bay_area_m2: f64,
    /// What is left out.
    pub left_out_area_m2: f64,
    /// What is filled.
    pub bay_volume_m3: f64,
    /// Mass of the fill, allowance not included.
    pub mass_kg: f64,
    /// Depth that is filled, where it is one.
    pub depth_m: Option<f64>,
    /// Installed density; of several the mean by volume. `None` where nothing is filled.
    pub density_kg_m3: Option<f64>,
    /// Members as a fraction of gross less openings, by volume; `None` where nothing is left beside the openings.
    pub framing_fraction: Option<f64>,
    /// How many bays.
    pub bays: u64,
}

/// Elements with a counted surface, in the order of the surfaces.
pub fn add_up_by_element(takeoff: &Takeoff) -> Vec<ElementTakeoff> {
    let mut groups: Vec<(u64, Vec<&SurfaceTakeoff>)> = Vec::new();
    let mut places = std::collections::HashMap::new();
    for surface in takeoff.surfaces.iter().filter(|surface| surface.counted) {
        let entity = surface.source.entity.as_ref().and_then(|entity| entity.strip_prefix('#')?.parse().ok());
        let Some(entity) = entity else { continue };
        let place = *places.entry(entity).or_insert_with(|| {
            groups.push((entity, Vec::new()));
            groups.len() - 1
        });
        if let Some((_, own)) = groups.get_mut(place) {
            own.push(surface);
        }
    }
    groups.iter().filter_map(|(entity, own)| element(*entity, own)).collect()
}

fn element(entity: u64, surfaces: &[&SurfaceTakeoff]) -> Option<ElementTakeoff> {
    let first = surfaces.first()?;
    let sum = |value: fn(&SurfaceTakeoff) -> f64| surfaces.iter().fold(0.0, |sum, surface| sum + value(surface));
    let (bay_volume_m3, mass_kg) = (sum(|s| s.bay_volume_m3.unwrap_or(0.0)), sum(|s| s.mass_kg.unwrap_or(0.0)));
    let net_m3 = sum(|s| (s.gross_area_m2 - s.opening_area_m2) * s.depth_m.unwrap_or(0.0));
    // A mean of equal densities would differ from them in its last digit.
    let densities = |other: &&SurfaceTakeoff| other.density_kg_m3 == first.density_kg_m3;
    let mean = (bay_volume_m3 > 0.0).then(|| mass_kg / bay_volume_m3);
    let is_one_depth = surfaces.iter().all(|surface| surface.depth_m == first.depth_m);
    Some(ElementTakeoff {
        entity,
        id: first.id.clone(),
        assembly: each_once(surfaces.iter().filter_map(|surface| surface.assembly.as_deref())),
        fill: each_once(surfaces.iter().filter_map(|surface| surface.fill.as_deref())),
        gross_area_m2: sum(|s| s.gross_area_m2),
        opening_area_m2: sum(|s| s.opening_area_m2),
        member_area_m2: sum(|s| s.member_area_m2),
        bay_area_m2: sum(|s| s.bay_area_m2),
        left_out_area_m2: sum(|s| s.left_out_area_m2),
        bay_volume_m3,
        mass_kg,
        depth_m: first.depth_m.filter(|_| is_one_depth),
        density_kg_m3: if surfaces.iter().all(densities) { first.density_kg_m3 } else { mean },
        framing_fraction: (net_m3 > 0.0).then(|| sum(|s| s.member_volume_m3.unwrap_or(0.0)) / net_m3),
        bays: surfaces.iter().map(|surface| surface.bays.len() as u64 * u64::from(surface.count)).sum(),
    })
}

fn each_once<'t>(texts: impl Iterator<Item = &'t str>) -> String {
    let mut seen: Vec<&str> = Vec::new();
    for text in texts {
        if !seen.contains(&text) {
            seen.push(text);
        }
    }
    seen.join("; ")
}
