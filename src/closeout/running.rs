//! The running check: how far the bags so far should have gone.

use super::bays::name;
use super::contract::RunningCheck;
use crate::intake::log::{Entry, What};
use crate::takeoff::SurfaceTakeoff;

/// One check a row of a zone, in the order of the rows. Bays are taken in the order of the takeoff.
pub(super) fn checks(zone: &str, parts: &[&SurfaceTakeoff], rows: &[&Entry], bag_kg: f64) -> Vec<RunningCheck> {
    let bays = in_order(parts);
    let promised_kg: f64 = bays.iter().map(|(_, mass_kg)| mass_kg).sum();
    let (mut bags, mut mass_kg) = (0.0, 0.0);
    let mut all = Vec::new();
    for entry in rows {
        let What::Blown { bags: more, mass_kg: weighed_kg, .. } = &entry.what else { continue };
        bags += more;
        mass_kg += more * bag_kg + weighed_kg;
        let mut used_kg = 0.0;
        let full: Vec<&(String, f64)> = bays
            .iter()
            .take_while(|(_, bay_kg)| {
                used_kg += bay_kg;
                used_kg <= mass_kg * (1.0 + 1e-9)
            })
            .collect();
        all.push(RunningCheck {
            r#where: entry.place.to_string(),
            date: entry.date.map(|date| date.to_string()),
            zone: zone.to_owned(),
            bags_exact: bags,
            mass_kg,
            promised_kg,
            bays_filled: u64::try_from(full.len()).unwrap_or(u64::MAX),
            bays: u64::try_from(bays.len()).unwrap_or(u64::MAX),
            up_to: full.last().map(|(bay, _)| bay.clone()),
        });
    }
    all
}

/// Bays with their masses; of several surfaces alike, one after the other.
fn in_order(parts: &[&SurfaceTakeoff]) -> Vec<(String, f64)> {
    let of = |surface: &SurfaceTakeoff| {
        let name = name(surface);
        let one: Vec<(String, f64)> =
            surface.bays.iter().map(|bay| (format!("{name} bay {}", bay.id), bay.mass_kg)).collect();
        vec![one; usize::try_from(surface.count.clamp(1, 1000)).unwrap_or(1)].concat()
    };
    parts.iter().flat_map(|surface| of(surface)).collect()
}
