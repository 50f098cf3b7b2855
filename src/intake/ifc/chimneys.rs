//! Chimneys that stand as bodies of their own: what they take from a floor, ceiling or roof that they pass through.

use super::body::body;
use super::by_x::{ByX, corners_of};
use super::class::Class;
use super::context::Context;
use super::element::Element;
use super::file::File;
use super::members::world_box_of;
use super::openings::{Found, Host};
use super::placement::Chain;
use super::relations::Relations;
use super::trouble::Trouble;
use super::units::Units;
use crate::finding::Code;
use crate::geometry::{Polygon, Solid, difference, intersection, total_area_m2, union};
use crate::model::{Opening, OpeningKind, opening_use};
use crate::source::Source;
use rayon::prelude::*;

/// A chimney that takes less than this only touches, in square metres.
const NOTHING_M2: f64 = 1e-3;
/// An opening covers a chimney where it leaves less than this share of it.
const COVERED_SHARE: f64 = 0.05;

/// The chimneys of a model, by their boxes.
#[derive(Debug)]
pub struct Chimneys {
    by_x: ByX<Element>,
}

impl Chimneys {
    /// None.
    pub const fn none() -> Self {
        Self { by_x: ByX::none() }
    }

    /// Finds them; one without a body that can be read takes nothing.
    pub fn read(file: &File<'_>, relations: &Relations, units: &Units) -> Self {
        let ids: Vec<u64> = file.of_class(Class::Chimney).collect();
        let boxed = |id: &u64| {
            let (element, _) = Element::read(file, relations, Class::Chimney, *id).ok()?;
            Some((world_box_of(file, units, *id)?, element))
        };
        Self { by_x: ByX::of(ids.par_iter().filter_map(boxed).collect()) }
    }

    /// Cuts those that pass through an element out of what its openings left, before it is moved to its origin.
    pub fn cut_out_of(&self, context: &Context<'_>, host: &Host<'_>, solid: &Solid, found: &mut Found) {
        if self.by_x.is_empty() {
            return;
        }
        let Some(around) = corners_of(solid, &host.chain.world()) else { return };
        let mut near: Vec<&Element> = self.by_x.near(around).collect();
        near.sort_by_key(|chimney| chimney.entity);
        for chimney in near {
            match section_of(context, host, chimney) {
                Ok(section) => take(context, host, chimney, &section, found),
                Err(trouble) => found.troubles.push(trouble),
            }
        }
    }
}

/// What a chimney takes of the plane of an element: its flues as well.
fn section_of(context: &Context<'_>, host: &Host<'_>, chimney: &Element) -> Result<Vec<Polygon>, Trouble> {
    let id = chimney.entity;
    let chain = Chain::read(context.file, chimney.placement.map(|placement| (id, placement)), context.length_m);
    let no_body = || Trouble::new(Code::NoBody, id, "the chimney has no body");
    let solid = body(context, id, chimney.shape.ok_or_else(no_body)?, &chain.seen_from(host.chain))?;
    let section = host.section(&solid).map_err(|_| {
        Trouble::new(Code::BodyOpen, id, "the chimney's body is not closed; nothing is deducted for it")
    })?;
    Ok(union(&section.iter().map(Polygon::without_holes).collect::<Vec<_>>()))
}

fn take(context: &Context<'_>, host: &Host<'_>, chimney: &Element, section: &[Polygon], found: &mut Found) {
    let inside = intersection(section, &found.gross);
    let whole_m2 = total_area_m2(&inside);
    if whole_m2 < NOTHING_M2 {
        return;
    }
    let name = [chimney.name.as_deref(), chimney.type_name.as_deref()].into_iter().flatten().collect::<Vec<_>>();
    let flue = opening_use(&format!("chimney / {}", name.join(" / "))).1;
    for opening in &mut found.openings {
        let is_its =
            opening.kind == OpeningKind::Other && total_area_m2(&intersection(&opening.outline, &inside)) >= NOTHING_M2;
        if is_its {
            (opening.kind, opening.flue) = (OpeningKind::Chimney, flue);
        }
    }
    let taken: Vec<Polygon> = found.openings.iter().flat_map(|opening| opening.outline.iter().cloned()).collect();
    let outline = difference(&inside, &taken);
    let area_m2 = total_area_m2(&outline);
    if area_m2 < NOTHING_M2.max(COVERED_SHARE * whole_m2) {
        return;
    }
    let message = format!(
        "the chimney `{}` passes through it without an opening: {area_m2:.3} m2 are cut out for it",
        chimney.name.as_deref().unwrap_or(&chimney.global_id)
    );
    found.troubles.push(Trouble::note(Code::ChimneyWithoutOpening, host.element.entity, message));
    found.openings.push(Opening {
        id: chimney.global_id.clone(),
        name: chimney.name.clone(),
        kind: OpeningKind::Chimney,
        source: Some(Source::of_entity(context.file.path(), chimney.entity)),
        area_m2,
        flue,
        clearance_m: None,
        outline,
    });
}
