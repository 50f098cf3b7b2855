//! Doors and windows that fill no opening: where one stands in an element, the model owes it an opening.

use super::body::{body, extent};
use super::by_x::ByX;
use super::class::Class;
use super::context::Context;
use super::file::File;
use super::members::world_box_of;
use super::openings::{Cut, Host};
use super::placement::Chain;
use super::record::Record;
use super::relations::Relations;
use super::trouble::Trouble;
use super::units::Units;
use crate::finding::Code;
use crate::geometry::{Bounds, Plane, Polygon, Solid, Vector, difference, intersection, total_area_m2};
use rayon::prelude::*;
use std::collections::HashSet;

/// A share of a door or window from which it stands where it is looked for.
const STANDS_SHARE: f64 = 0.5;

/// Doors and windows that fill no opening and are no part of a whole, by their boxes.
#[derive(Debug)]
pub struct LooseFillings {
    by_x: ByX<u64>,
}

impl LooseFillings {
    /// None.
    pub const fn none() -> Self {
        Self { by_x: ByX::none() }
    }

    /// Finds them. Those of a curtain wall are its parts.
    pub fn read(file: &File<'_>, relations: &Relations, units: &Units) -> Self {
        let filling: HashSet<u64> = relations.fillings.values().copied().collect();
        let is_loose = |id: &u64| !filling.contains(id) && !relations.wholes.contains_key(id);
        let all = [Class::Door, Class::Window].into_iter().flat_map(|class| file.of_class(class));
        let loose: Vec<u64> = all.filter(is_loose).collect();
        let boxed = |id: &u64| Some((world_box_of(file, units, *id)?, *id));
        Self { by_x: ByX::of(loose.par_iter().filter_map(boxed).collect()) }
    }

    /// Names those that stand in an element where nothing is cut out for them.
    pub fn note_in(
        &self,
        context: &Context<'_>,
        host: &Host<'_>,
        gross: &[Polygon],
        solid_there: &[Polygon],
    ) -> Vec<Trouble> {
        if self.by_x.is_empty() {
            return Vec::new();
        }
        let Some(around) = box_around(host, gross) else { return Vec::new() };
        let mut near: Vec<u64> = self.by_x.near(around).copied().collect();
        near.sort_unstable();
        let trouble = |id: u64| {
            let (record, seen) = seen_of(context, host, id)?;
            let named = if record.is("IFCDOOR") || record.is("IFCDOORSTANDARDCASE") { "door" } else { "window" };
            match standing(&seen, gross, solid_there)? {
                Stands::Wall => {
                    let message = format!(
                        "the {named} #{id} stands in it, but the model gives no opening there: nothing is deducted for it"
                    );
                    Some(Trouble::new(Code::OpeningNotGiven, host.element.entity, message))
                }
                Stands::Notch => Some(in_notch(host, &format!("the {named} #{id}"))),
                Stands::Hole => None,
            }
        };
        near.into_iter().filter_map(trouble).collect()
    }
}

/// Where a door or window stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// In what the body is made of.
    Wall,
    /// In a hole of the body, or in an opening.
    Hole,
    /// In a notch that is open to the edge.
    Notch,
}

/// Where an outline stands in an element: its gross outline, and what is left of that; `None` where it is elsewhere.
pub fn standing(seen: &[Polygon], gross: &[Polygon], solid_there: &[Polygon]) -> Option<Stands> {
    let least_m2 = STANDS_SHARE * total_area_m2(seen);
    let has = |region: &[Polygon]| total_area_m2(region) >= least_m2 && least_m2 > 0.0;
    let within = intersection(seen, gross);
    if has(&intersection(seen, solid_there)) {
        return Some(Stands::Wall);
    }
    if has(&within) {
        return Some(Stands::Hole);
    }
    let bounds = Bounds::of_polygons(gross)?;
    let around = [Polygon::rectangle(bounds.min_x, bounds.min_y, bounds.max_x, bounds.max_y)];
    has(&difference(&intersection(seen, &around), &within)).then_some(Stands::Notch)
}

/// What is said of a door or window over a notch.
pub fn in_notch(host: &Host<'_>, what: &str) -> Trouble {
    let message = format!("{what} stands in a notch of it, which the export cut out of its gross area");
    Trouble::new(Code::NotchAtOpening, host.element.entity, message)
}

/// A door or window, and the rectangle that it takes in the plane of an element that it stands in.
pub fn seen_of<'f>(context: &Context<'f>, host: &Host<'_>, id: u64) -> Option<(Record<'f>, Vec<Polygon>)> {
    let record = context.file.record(id).ok()?;
    let chain = Chain::read(context.file, record.optional_reference(5).map(|p| (id, p)), context.length_m);
    let solid = body(context, id, record.optional_reference(6)?, &chain.seen_from(host.chain)).ok()?;
    let Cut::Flat { plane, low_m, high_m } = host.cut else { return None };
    // One that stands beside the wall, as in a wall that meets it, has its middle there.
    let (low, high) = extent(&[&solid], &plane.normal)?;
    let middle = f64::midpoint(low, high);
    let rectangle = rectangle_of(plane, &solid)?;
    (middle > low_m && middle < high_m).then(|| (record, vec![rectangle]))
}

/// The rectangle around a solid, seen along the normal of a plane.
fn rectangle_of(plane: &Plane, solid: &Solid) -> Option<Polygon> {
    let along = |way: &Vector| {
        let (low, high) = extent(&[solid], way)?;
        let origin = way.dot(&plane.origin);
        Some((low - origin, high - origin))
    };
    let ((left, right), (low, high)) = (along(&plane.x)?, along(&plane.y)?);
    Some(Polygon::rectangle(left, low, right, high))
}

/// The box around an element in the world: its outline through its thickness.
fn box_around(host: &Host<'_>, gross: &[Polygon]) -> Option<(Vector, Vector)> {
    let Cut::Flat { plane, low_m, high_m } = host.cut else { return None };
    let bounds = Bounds::of_polygons(gross)?;
    let world = host.chain.world();
    let at_m = plane.normal.dot(&plane.origin);
    let mut around: Option<(Vector, Vector)> = None;
    for x in [bounds.min_x, bounds.max_x] {
        for y in [bounds.min_y, bounds.max_y] {
            for through_m in [low_m - at_m, high_m - at_m] {
                let place = plane.origin + plane.x * x + plane.y * y + plane.normal * through_m;
                let place = world.point(&place);
                around = Some(around.map_or((place, place), |(low, high)| (low.inf(&place), high.sup(&place))));
            }
        }
    }
    around
}
