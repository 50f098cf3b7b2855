//! What lies on the other side of elements: as the model says, else by its space boundaries, else by its spaces.

use super::class::Class;
use super::file::File;
use super::record::{Record, enumeration_of, logical_of, parse_number, string_of, untyped};
use super::relations::Relations;
use super::sides::Sides;
use super::spaces::{Boundaries, Spaces};
use super::text::decode;
use super::units::Units;
use crate::finding::{Code, Finding};
use crate::model::{Exposure, SpaceUse};
use crate::source::Place;
use rayon::prelude::*;
use std::collections::HashMap;

/// What lies on the other side, by element.
#[derive(Debug, Default)]
pub struct Exposures {
    known: HashMap<u64, Exposure>,
    /// How that was found out, where the model does not say.
    pub findings: Vec<Finding>,
}

/// What stands on both sides of an element.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Between {
    /// It bounds a heated room, with this on the other side.
    RoomAnd(Exposure),
    /// It bounds no heated room: the outer wall of a garage, a garden wall.
    NoRoom,
}

/// A room on one side, and open ground on the other.
const OUTER: Between = Between::RoomAnd(Exposure::Exterior);

/// How it was found out what stands on both sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Boundaries,
    Geometry,
}

type Found = (u64, Way, Option<Between>);

impl Exposures {
    /// Finds out what lies on the other side of each element, in the order of what is most to be trusted.
    pub fn read(file: &File<'_>, relations: &Relations, units: &Units, elements: &[(Class, u64)]) -> Self {
        let said: Vec<Option<bool>> = elements.par_iter().map(|(_, id)| said_external(file, relations, *id)).collect();
        let unsaid: Vec<u64> =
            elements.iter().zip(&said).filter(|(_, said)| said.is_none()).map(|((_, id), _)| *id).collect();
        let odd = not_understood(file, relations, &unsaid);
        let spaces = Spaces::read(file, relations);
        let is_needed = !spaces.is_empty() && (said.contains(&None) || spaces.has_unheated());
        if !is_needed {
            let known = elements.iter().zip(&said).filter_map(|((_, id), said)| Some((*id, of_said((*said)?))));
            return Self { known: known.collect(), findings: odd.into_iter().collect() };
        }
        let boundaries = Boundaries::read(file, &spaces);
        // What is said to be internal is looked at all the same where it may part a room from a garage.
        let is_asked = |class: Class, said: Option<bool>| match said {
            None => is_part_of_envelope(class),
            Some(false) => spaces.has_unheated() && is_wall(class),
            Some(true) => false,
        };
        let bounded: Vec<Option<Between>> = elements
            .par_iter()
            .zip(&said)
            .map(|((class, id), said)| {
                let wholes = relations.wholes_of(*id).unwrap_or_default();
                let ids = std::iter::once(*id).chain(wholes);
                is_asked(*class, *said).then(|| boundaries.between(ids, is_wall(*class))).flatten()
            })
            .collect();
        // Boundaries tell outdoors from indoors; which of several spaces lies on which side, only geometry does.
        let is_open = |index: usize, (class, said): (Class, Option<bool>)| {
            let bounded = bounded.get(index).copied().flatten();
            is_asked(class, said)
                && is_wall(class)
                && (bounded.is_none() || spaces.has_unheated())
                && bounded != Some(OUTER)
        };
        let open: Vec<bool> =
            elements.iter().zip(&said).enumerate().map(|(i, ((c, _), s))| is_open(i, (*c, *s))).collect();
        let sides = if open.contains(&true) {
            Sides::read(file, relations, units, &spaces, elements)
        } else {
            Sides::default()
        };
        let found: Vec<Found> = elements
            .par_iter()
            .zip(open.par_iter().zip(&bounded))
            .map(|((_, id), (open, bounded))| match (if *open { sides.between(*id) } else { None }, bounded) {
                // A boundary that is said to be internal does not face open ground, whatever the spaces look like.
                (Some(OUTER), Some(bounded)) => (*id, Way::Boundaries, Some(*bounded)),
                (Some(between), _) => (*id, Way::Geometry, Some(between)),
                (None, bounded) => (*id, Way::Boundaries, *bounded),
            })
            .collect();
        let mut exposures = Self::of(file, &said, &found);
        exposures.findings.extend(odd);
        exposures
    }

    fn of(file: &File<'_>, said: &[Option<bool>], found: &[Found]) -> Self {
        let mut exposures = Self::default();
        for (said, (id, _, between)) in said.iter().zip(found) {
            let exposure = match (said, between) {
                (Some(said), _) => of_said(*said),
                (None, Some(Between::RoomAnd(exposure))) => *exposure,
                (None, _) => Exposure::Unknown,
            };
            exposures.known.insert(*id, exposure);
        }
        let open: Vec<&Found> =
            said.iter().zip(found).filter(|(said, _)| said.is_none()).map(|(_, found)| found).collect();
        let place = Place::input(file.path());
        exposures.findings.extend(by_boundaries(&open, &place));
        exposures.findings.extend(by_geometry(&open, &place));
        exposures.findings.extend(no_room(&open, &place));
        exposures.findings.extend(contradicted(file, said, found));
        exposures
    }

    /// What lies on the other side of an element.
    pub fn of_element(&self, id: u64) -> Exposure {
        self.known.get(&id).copied().unwrap_or(Exposure::Unknown)
    }
}

fn of_said(is_external: bool) -> Exposure {
    if is_external { Exposure::Exterior } else { Exposure::Interior }
}

/// Whether elements of a class are walls.
pub fn is_wall(class: Class) -> bool {
    matches!(class, Class::Wall | Class::WallStandardCase | Class::WallElementedCase)
}

fn is_part_of_envelope(class: Class) -> bool {
    is_wall(class) || matches!(class, Class::Slab | Class::Roof | Class::Covering)
}

/// `IsExternal` of the `Pset_…Common` of the element, else of its type, else of a whole that it is part of.
fn said_external(file: &File<'_>, relations: &Relations, id: u64) -> Option<bool> {
    let wholes = relations.wholes_of(id).unwrap_or_default();
    std::iter::once(id)
        .chain(wholes)
        .find_map(|id| property_sets(file, relations, id).find_map(|set| is_external(file, set)))
}

/// Property sets of an element, then those of its type.
pub fn property_sets(file: &File<'_>, relations: &Relations, id: u64) -> impl Iterator<Item = u64> {
    let own: Vec<u64> = relations.properties.get(&id).cloned().unwrap_or_default();
    let kind = relations.types.get(&id).and_then(|kind| file.record(*kind).ok());
    let of_type = kind.filter(|kind| kind.raw(5).is_some()).and_then(|kind| kind.references(5, "property sets").ok());
    own.into_iter().chain(of_type.unwrap_or_default())
}

/// `IsExternal` of a property set named `Pset_…Common`; `None` also where it cannot be understood.
pub fn is_external(file: &File<'_>, set: u64) -> Option<bool> {
    truth_of(external_value(file, set)?)
}

/// The value of `IsExternal` as it stands in a property set named `Pset_…Common`.
fn external_value<'f>(file: &File<'f>, set: u64) -> Option<&'f [u8]> {
    let set: Record<'_> = file.record(set).ok()?;
    let name = set.string(2)?;
    let is_common = name.starts_with(b"Pset_") && name.ends_with(b"Common");
    if !(set.is("IFCPROPERTYSET") && is_common) {
        return None;
    }
    let properties = set.references(4, "properties").ok()?;
    properties.into_iter().find_map(|id| {
        let property = file.record(id).ok()?;
        if property.string(0)? != b"IsExternal" {
            return None;
        }
        property.raw(2)
    })
}

/// A truth as the standard has it, or as programs write it: a text such as `TRUE` or `Yes`, a number 1 or 0.
fn truth_of(raw: &[u8]) -> Option<bool> {
    if let Some(truth) = logical_of(raw) {
        return Some(truth);
    }
    let word = match string_of(raw) {
        Some(text) => decode(text).text.trim().to_lowercase(),
        None => parse_number(untyped(raw))?.to_string(),
    };
    match word.as_str() {
        "true" | "yes" | "t" | "y" | "1" | ".t." => Some(true),
        "false" | "no" | "f" | "n" | "0" | ".f." => Some(false),
        _ => None,
    }
}

/// Values of `IsExternal` that are no truth: said once.
fn not_understood(file: &File<'_>, relations: &Relations, open: &[u64]) -> Option<Finding> {
    // `.U.` says that it is not known, and is understood.
    let is_unknown = |raw: &[u8]| matches!(enumeration_of(untyped(raw)), Some(b"U" | b"u"));
    let value = |id: &u64| {
        let mut values = property_sets(file, relations, *id).filter_map(|set| external_value(file, set));
        values.find(|raw| truth_of(raw).is_none() && !is_unknown(raw)).map(|raw| (*id, raw))
    };
    let odd: Vec<(u64, &[u8])> = open.par_iter().filter_map(value).collect();
    let (first, raw) = odd.first()?;
    let shown: String = String::from_utf8_lossy(raw).chars().take(40).collect();
    let message = format!(
        "`IsExternal` is `{shown}`{}, which is neither true nor false: it is not used; ask for `IFCBOOLEAN(.T.)` or `(.F.)`",
        if odd.len() > 1 { format!(" here, and as odd on {} more", odd.len() - 1) } else { String::new() }
    );
    Some(Finding::warning(Code::RecordUnusable, &file.place(*first, None), message))
}

/// `12 exterior, 3 interior`; `None` where nothing was found that way.
fn counts(open: &[&Found], way: Way) -> Option<String> {
    let count = |exposure: Exposure| {
        open.iter().filter(|(_, w, between)| *w == way && *between == Some(Between::RoomAnd(exposure))).count()
    };
    let counts = [
        (count(Exposure::Exterior), "exterior"),
        (count(Exposure::Unconditioned), "towards unheated rooms"),
        (count(Exposure::Interior), "interior"),
    ];
    let words: Vec<String> = counts.iter().filter(|(n, _)| *n > 0).map(|(n, word)| format!("{n} {word}")).collect();
    (!words.is_empty()).then(|| words.join(", "))
}

const CHECK: &str = "check them, or say so in the job file's `[exposure]`";

fn by_boundaries(open: &[&Found], place: &Place) -> Option<Finding> {
    let counts = counts(open, Way::Boundaries)?;
    let message = format!("elements without `IsExternal` are taken by the model's space boundaries: {counts}; {CHECK}");
    Some(Finding::note(Code::ExposureFromBoundaries, place, message))
}

fn by_geometry(open: &[&Found], place: &Place) -> Option<Finding> {
    let counts = counts(open, Way::Geometry)?;
    let message = format!(
        "walls without `IsExternal` are taken by the spaces that lie 0.3 m off their two sides, on one side only or on \
         both: {counts}; {CHECK}"
    );
    Some(Finding::note(Code::ExposureFromGeometry, place, message))
}

fn no_room(open: &[&Found], place: &Place) -> Option<Finding> {
    let count = open.iter().filter(|(_, _, between)| *between == Some(Between::NoRoom)).count();
    let message = format!(
        "{count} element{} no heated room, as the outer wall of a garage does: {} not taken as exterior; if such are to \
         be filled, say so in the job file's `[exposure]`",
        if count == 1 { " bounds" } else { "s bound" },
        if count == 1 { "it is" } else { "they are" }
    );
    (count > 0).then(|| Finding::note(Code::OutsideEnvelope, place, message))
}

/// Walls that are said to be internal but part a heated room from an unheated one.
fn contradicted(file: &File<'_>, said: &[Option<bool>], found: &[Found]) -> Option<Finding> {
    let unheated = Some(Between::RoomAnd(Exposure::Unconditioned));
    let walls: Vec<u64> = said
        .iter()
        .zip(found)
        .filter(|(said, (_, _, between))| **said == Some(false) && *between == unheated)
        .map(|(_, (id, _, _))| *id)
        .collect();
    let [first, ..] = walls.as_slice() else { return None };
    let message = format!(
        "{} wall{} internal but part{} a room from an unheated space: taken as interior and not counted; say \
         `unconditioned` in the job file's `[exposure]` to count such",
        walls.len(),
        if walls.len() == 1 { " is said to be" } else { "s are said to be" },
        if walls.len() == 1 { "s" } else { "" }
    );
    Some(Finding::warning(Code::ExposureContradicted, &file.place(*first, None), message))
}

/// What a space on each side makes of an element.
pub fn between(one: SpaceUse, other: SpaceUse) -> Between {
    match (one.min(other), one.max(other)) {
        (SpaceUse::Room, SpaceUse::Room) => Between::RoomAnd(Exposure::Interior),
        (SpaceUse::Room, SpaceUse::Unheated) => Between::RoomAnd(Exposure::Unconditioned),
        (SpaceUse::Room, SpaceUse::Outdoors) => Between::RoomAnd(Exposure::Exterior),
        _ => Between::NoRoom,
    }
}
