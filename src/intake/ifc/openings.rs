//! Openings of an element: what each takes from the gross section, and those that take nothing.

use super::body::{body, extent, reference_body};
use super::context::Context;
use super::element::{Element, lying_kind, opening_kind};
use super::loose::{Stands, in_notch, seen_of, standing};
use super::placement::Chain;
use super::record::Record;
use super::relations::Relations;
use super::text::decode;
use super::trouble::Trouble;
use super::unrolled::{Strip, unrolled_section};
use crate::finding::Code;
use crate::geometry::{
    Bounds, Plane, Point, Polygon, SectionError, Solid, difference, intersection, section, total_area_m2, union,
};
use crate::model::{Opening, OpeningKind};
use crate::source::Source;

/// An opening that takes less than this takes nothing, in square metres.
const NOTHING_M2: f64 = 1e-7;
/// Two ranges that overlap by less than this only touch, in metres.
const TOUCHING_M: f64 = 1e-6;
/// A share of an opening in a notch from which it is worth a finding.
const NOTCH_SHARE: f64 = 0.05;

/// How an element is cut.
pub enum Cut<'a> {
    /// By one plane, through a body that reaches so far along the plane's normal.
    Flat {
        /// The plane.
        plane: &'a Plane,
        /// Lower end of the body along the normal, in metres.
        low_m: f64,
        /// Upper end.
        high_m: f64,
    },
    /// Along a curved or bent wall.
    Unrolled(&'a [Strip]),
}

/// The element that openings are cut into.
pub struct Host<'a> {
    /// The element.
    pub element: &'a Element,
    /// Its placement.
    pub chain: &'a Chain,
    /// How it is cut.
    pub cut: Cut<'a>,
    /// The body of a floor, ceiling or roof, which chimneys may pass through.
    pub lying: Option<&'a Solid>,
}

impl Host<'_> {
    /// What the cut takes of a solid in the element's frame.
    pub fn section(&self, solid: &Solid) -> Result<Vec<Polygon>, SectionError> {
        match &self.cut {
            Cut::Flat { plane, .. } => section(solid, plane),
            Cut::Unrolled(strips) => unrolled_section(solid, strips),
        }
    }
}

/// Gross outline and openings, moved so that the lower left of the outline's box is the origin.
pub struct Found {
    /// Outline with the openings filled.
    pub gross: Vec<Polygon>,
    /// The openings; they do not overlap.
    pub openings: Vec<Opening>,
    /// Where the surface's origin lies in the axes of the plane.
    pub origin: Point,
    /// What was odd.
    pub troubles: Vec<Trouble>,
}

/// Finds the openings of an element whose section without them is `region`.
pub fn openings_of(context: &Context<'_>, relations: &Relations, host: &Host<'_>, region: &[Polygon]) -> Found {
    let gross = if region.iter().any(|polygon| polygon.rings.len() > 1) {
        union(&region.iter().map(Polygon::without_holes).collect::<Vec<_>>())
    } else {
        region.to_vec()
    };
    let mut found = Found { gross, openings: Vec::new(), origin: [0.0, 0.0], troubles: Vec::new() };
    let mut taken: Vec<Polygon> = Vec::new();
    for &id in relations.openings.get(&host.element.entity).into_iter().flatten() {
        match opening(context, relations, host, id, (&found.gross, region), &taken) {
            Ok((Some(opening), trouble)) => {
                taken.extend(opening.outline.iter().cloned());
                found.openings.push(opening);
                found.troubles.extend(trouble);
            }
            Ok((None, trouble)) => found.troubles.extend(trouble),
            Err(trouble) => found.troubles.push(trouble),
        }
    }
    for id in inherited(relations, host.element.entity) {
        // One that misses this part may lie in another.
        if let Ok((Some(opening), _)) = opening(context, relations, host, id, (&found.gross, region), &taken) {
            taken.extend(opening.outline.iter().cloned());
            found.openings.push(opening);
        }
    }
    own_holes(host, region, &taken, &mut found);
    if let Some(solid) = host.lying {
        context.chimneys.cut_out_of(context, host, solid, &mut found);
    }
    let solid_there = difference(region, &outlines(&found.openings));
    found.troubles.extend(context.fillings.note_in(context, host, &found.gross, &solid_there));
    if total_area_m2(&found.gross) - found.openings.iter().map(|o| o.area_m2).sum::<f64>() < NOTHING_M2 {
        let message = "the openings take the whole wall";
        found.troubles.push(Trouble::new(Code::OpeningTakesAll, host.element.entity, message));
    }
    move_to_origin(&mut found);
    found
}

fn outlines(openings: &[Opening]) -> Vec<Polygon> {
    openings.iter().flat_map(|opening| opening.outline.iter().cloned()).collect()
}

/// Openings of the wholes that an element is a part of: they go through the parts as well.
fn inherited(relations: &Relations, element: u64) -> Vec<u64> {
    let wholes = relations.wholes_of(element).unwrap_or_default();
    wholes.iter().filter_map(|whole| relations.openings.get(whole)).flatten().copied().collect()
}

/// Holes that the body itself has: the export cut them.
fn own_holes(host: &Host<'_>, region: &[Polygon], taken: &[Polygon], found: &mut Found) {
    if region.iter().all(|polygon| polygon.rings.len() == 1) {
        return;
    }
    let holes = difference(&difference(&found.gross, region), taken);
    for (index, hole) in holes.into_iter().enumerate() {
        found.openings.push(Opening {
            id: format!("{}-hole-{}", host.element.global_id, index + 1),
            name: None,
            kind: OpeningKind::Other,
            source: None,
            area_m2: hole.area_m2(),
            flue: None,
            clearance_m: None,
            outline: vec![hole],
        });
    }
}

type Taken = (Option<Opening>, Option<Trouble>);

fn opening(
    context: &Context<'_>,
    relations: &Relations,
    host: &Host<'_>,
    id: u64,
    (gross, region): (&[Polygon], &[Polygon]),
    taken: &[Polygon],
) -> Result<Taken, Trouble> {
    let record = context.file.record(id).map_err(|_| {
        let message = format!("the wall's opening #{id} is not in the file; nothing is deducted for it");
        Trouble::new(Code::DanglingReference, host.element.entity, message)
    })?;
    let chain = Chain::read(context.file, record.optional_reference(5).map(|p| (id, p)), context.length_m);
    let frame = chain.seen_from(host.chain);
    let no_body = || Trouble::new(Code::NoBody, id, "the opening has no body; nothing is deducted for it");
    let filling = relations.fillings.get(&id).copied();
    let shape = record.optional_reference(6);
    let solid = match shape.ok_or_else(no_body).and_then(|shape| body(context, id, shape, &frame)) {
        Ok(solid) => solid,
        Err(trouble) if trouble.code == Code::NoBody => {
            let solid = shape.and_then(|shape| reference_body(context, id, shape, &frame));
            let parts = (gross, region);
            return match solid.and_then(|solid| host.section(&solid).ok()) {
                Some(seen) => Ok(cut_already(context, host, &record, filling, (&seen, parts), taken)),
                None => without_body(context, host, filling, parts, (id, trouble)).map(|other| (None, other)),
            };
        }
        Err(trouble) => return Err(trouble),
    };
    let whole = host.section(&solid).map_err(|_| {
        Trouble::new(Code::BodyOpen, id, "the opening's body is not closed; nothing is deducted for it")
    })?;
    let inside = intersection(&whole, gross);
    let area_m2 = total_area_m2(&inside);
    if area_m2 < NOTHING_M2 {
        return Ok((None, nothing_taken(host, id, &solid, gross, relations.fillings.contains_key(&id))));
    }
    let outline = if taken.is_empty() { inside } else { difference(&inside, taken) };
    let trouble = notch(host, id, &whole, area_m2, gross, filling.is_some());
    Ok((Some(taken_out(context, host, &record, filling, outline)), trouble))
}

/// An opening by what it takes.
fn taken_out(
    context: &Context<'_>,
    host: &Host<'_>,
    record: &Record<'_>,
    filling: Option<u64>,
    outline: Vec<Polygon>,
) -> Opening {
    let global_id = record.string(0).map(|raw| decode(raw).text);
    let kind = opening_kind(context.file, filling);
    let (kind, flue) = match host.lying {
        Some(_) => lying_kind(context.file, kind, filling, record),
        None => (kind, None),
    };
    Opening {
        id: global_id.unwrap_or_else(|| format!("#{}", record.id)),
        name: record.string(2).map(|raw| decode(raw).text),
        kind,
        source: Some(Source::of_entity(context.file.path(), record.id)),
        area_m2: total_area_m2(&outline),
        flue,
        clearance_m: None,
        outline,
    }
}

/// An opening whose shape is for reference only (ISO 16739-1, `IfcOpeningElement`): the export has cut the body there, and
/// what it cut is the opening.
fn cut_already(
    context: &Context<'_>,
    host: &Host<'_>,
    record: &Record<'_>,
    filling: Option<u64>,
    (seen, (gross, region)): (&[Polygon], (&[Polygon], &[Polygon])),
    taken: &[Polygon],
) -> Taken {
    let holes = difference(&difference(gross, region), taken);
    let outline = intersection(seen, &holes);
    let inside_m2 = total_area_m2(&intersection(seen, gross));
    let trouble = notch(host, record.id, seen, inside_m2, gross, filling.is_some());
    if total_area_m2(&outline) >= NOTHING_M2 {
        return (Some(taken_out(context, host, record, filling, outline)), trouble);
    }
    let is_uncut = standing(seen, gross, region) == Some(Stands::Wall);
    let uncut = || {
        let message =
            "the opening has a shape for reference only, but the body is not cut there: nothing is deducted for it";
        Trouble::new(Code::NoBody, record.id, message)
    };
    (None, trouble.or_else(|| is_uncut.then(uncut)))
}

/// What is odd about an opening without any shape, by where the door or window in it stands.
///
/// # Errors
/// What else is odd about it, where that does not tell.
fn without_body(
    context: &Context<'_>,
    host: &Host<'_>,
    filling: Option<u64>,
    (gross, region): (&[Polygon], &[Polygon]),
    (id, trouble): (u64, Trouble),
) -> Result<Option<Trouble>, Trouble> {
    let seen = filling.and_then(|filling| seen_of(context, host, filling));
    match seen.and_then(|(_, seen)| standing(&seen, gross, region)) {
        Some(Stands::Hole) => Ok(None),
        Some(Stands::Notch) => Ok(Some(in_notch(host, &format!("what fills the opening #{id}")))),
        Some(Stands::Wall) | None => Err(trouble),
    }
}

/// Why an opening takes nothing: a recess is in order, an opening beside the wall is not.
fn nothing_taken(host: &Host<'_>, id: u64, solid: &Solid, gross: &[Polygon], is_filled: bool) -> Option<Trouble> {
    let misses = |how: &str| {
        let message = format!("the opening #{id} {how}: nothing is deducted for it; check its place in the model");
        Some(Trouble::new(Code::OpeningMissesElement, id, message))
    };
    let Cut::Flat { plane, low_m, high_m } = host.cut else { return misses("does not reach the middle of the wall") };
    let Some((low, high)) = extent(&[solid], &plane.normal) else { return misses("has no extent") };
    let (low, high) = (low.max(low_m), high.min(high_m));
    if high - low <= TOUCHING_M {
        return misses("lies beside the wall or only touches it");
    }
    let origin_m = plane.normal.dot(&plane.origin);
    let within = plane.moved(f64::midpoint(low, high) - origin_m);
    let there = section(solid, &within).map_or(0.0, |region| total_area_m2(&intersection(&region, gross)));
    match (there < NOTHING_M2, is_filled) {
        (true, _) => misses("lies beside the wall"),
        (false, true) => misses("holds a door or window but does not reach the plane of the cavity"),
        (false, false) => None,
    }
}

/// A door or window over a notch that the export cut out of the body: that part stays cut out of gross.
fn notch(
    host: &Host<'_>,
    id: u64,
    whole: &[Polygon],
    inside_m2: f64,
    gross: &[Polygon],
    is_filled: bool,
) -> Option<Trouble> {
    let whole_m2 = total_area_m2(whole);
    if !is_filled || whole_m2 - inside_m2 < NOTCH_SHARE * whole_m2 {
        return None;
    }
    let bounds = Bounds::of_polygons(gross)?;
    let bounding = [Polygon::rectangle(bounds.min_x, bounds.min_y, bounds.max_x, bounds.max_y)];
    let in_notch_m2 = total_area_m2(&intersection(whole, &bounding)) - inside_m2;
    (in_notch_m2 > NOTCH_SHARE * whole_m2).then(|| {
        let message = format!(
            "{in_notch_m2:.2} m2 of the opening #{id} lies in a notch of wall #{}, which the export cut out of its gross area",
            host.element.entity
        );
        Trouble::new(Code::NotchAtOpening, id, message)
    })
}

fn move_to_origin(found: &mut Found) {
    let Some(bounds) = Bounds::of_polygons(&found.gross) else { return };
    found.origin = [bounds.min_x, bounds.min_y];
    let moved = |polygon: &Polygon| polygon.translated(-bounds.min_x, -bounds.min_y);
    found.gross = found.gross.iter().map(moved).collect();
    for opening in &mut found.openings {
        opening.outline = opening.outline.iter().map(moved).collect();
    }
}
