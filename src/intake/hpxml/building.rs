//! A building of what an HPXML file says: areas, framing by size and spacing, and openings by area.

use super::document::Document;
use super::part::{Hole, Part};
use crate::model::{Building, Exposure, Extent, Opening, Surface, SurfaceKind};
use crate::source::{Place, Source};
use crate::tally::LeftOutElement;

/// The building.
pub(super) fn building(document: &Document<'_>, parts: &[Part]) -> Building {
    let mut building = Building::default();
    for part in parts {
        let source = source(document.path, &part.place);
        let reason = match (part.unframed, &part.area) {
            (Some(reason), _) => Some(reason),
            (None, None) => Some("the file gives it no area"),
            (None, Some((_, area))) if openings_m2(part) > area.si => Some("its openings are larger than itself"),
            _ => None,
        };
        match (reason, &part.area) {
            (None, Some((_, area))) => building.surfaces.push(surface(part, source, area.si)),
            (reason, _) => building.left_out.push(LeftOutElement {
                id: part.id.clone(),
                class: part.class.clone(),
                name: None,
                reason: reason.unwrap_or("the file gives it no area").to_owned(),
                source,
            }),
        }
    }
    building
}

fn openings_m2(part: &Part) -> f64 {
    part.openings.iter().map(|hole| hole.area_m2).sum()
}

fn source(path: &str, place: &Place) -> Source {
    Source { input: path.to_owned(), line: place.line, entity: None }
}

fn surface(part: &Part, source: Source, area_m2: f64) -> Surface {
    let pitch_deg = match part.kind {
        SurfaceKind::Wall => Some(90.0),
        SurfaceKind::Roof => part.pitch_deg,
        SurfaceKind::Ceiling | SurfaceKind::Floor => Some(0.0),
    };
    let openings = part.openings.iter().map(|hole| opening(hole, &source)).collect();
    Surface {
        type_name: Some(part.class.clone()),
        assembly: framing(part),
        exposure: match part.sides.exposure {
            Exposure::Unknown if part.class == "RimJoist" => Exposure::Exterior,
            other => other,
        },
        pitch_deg,
        openings,
        framing_fraction: part.studs.factor.as_ref().map(|(_, factor)| factor.si),
        framing_in_part: part.lacking,
        ..Surface::new(part.id.clone(), source, part.kind, Extent::AreaM2(area_m2))
    }
}

fn opening(hole: &Hole, source: &Source) -> Opening {
    Opening {
        id: hole.id.clone(),
        name: None,
        kind: hole.kind,
        source: Some(Source { line: hole.place.line, ..source.clone() }),
        area_m2: hole.area_m2,
        flue: None,
        clearance_m: None,
        outline: Vec::new(),
    }
}

/// Framing as it is written in a sheet: `2x6 @ 16 in`; of wood alone, since steel needs its designator, and none where the file
/// gives it in part.
fn framing(part: &Part) -> Option<String> {
    let is_whole = !part.studs.is_metal && part.lacking.is_none();
    let size = part.studs.size.as_deref().filter(|_| is_whole)?;
    Some(format!("{size} @ {} in", part.studs.spacing.as_deref()?))
}
