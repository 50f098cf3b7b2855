//! Spaces, what each is, and their boundaries.

use super::class::Class;
use super::exposure::{Between, between, is_external};
use super::file::File;
use super::record::Record;
use super::relations::Relations;
use super::text::decode;
use crate::model::{Exposure, SpaceUse, space_use};
use rayon::prelude::*;
use std::collections::HashMap;

/// The spaces of a model.
#[derive(Debug, Default)]
pub struct Spaces {
    /// Each space, in the order of the file.
    pub list: Vec<(u64, SpaceUse)>,
    by_id: HashMap<u64, SpaceUse>,
}

impl Spaces {
    /// Reads them.
    pub fn read(file: &File<'_>, relations: &Relations) -> Self {
        let ids: Vec<u64> = file.of_class(Class::Space).collect();
        let list: Vec<(u64, SpaceUse)> =
            ids.par_iter().filter_map(|id| Some((*id, use_of(file, relations, *id)?))).collect();
        let by_id = list.iter().copied().collect();
        Self { list, by_id }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Whether one of them is unheated.
    pub fn has_unheated(&self) -> bool {
        self.list.iter().any(|(_, is)| *is == SpaceUse::Unheated)
    }
}

/// What a space is; `None` for one that stands for a floor area or for several rooms.
///
/// # Source
/// ISO 16739-1:2024, `IfcSpaceTypeEnum` and `Pset_SpaceCommon` (from memory).
fn use_of(file: &File<'_>, relations: &Relations, id: u64) -> Option<SpaceUse> {
    let record = file.record(id).ok()?;
    if record.says(9, "GFA") || record.says(8, "COMPLEX") {
        return None;
    }
    let sets = relations.properties.get(&id).into_iter().flatten();
    let is_outdoors =
        record.says(9, "EXTERNAL") || sets.into_iter().find_map(|set| is_external(file, *set)) == Some(true);
    if is_outdoors {
        return Some(SpaceUse::Outdoors);
    }
    if record.says(9, "PARKING") {
        return Some(SpaceUse::Unheated);
    }
    // Name, long name and kind, as `12`, `Double garage` and `Parking`.
    let names = [2, 7, 4].map(|index| record.string(index).map(|raw| decode(raw).text).unwrap_or_default());
    Some(space_use(&names.join(" / ")))
}

/// What a boundary says of its element.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Internal,
    External,
    NotSaid,
}

/// One face of an element towards a space.
#[derive(Clone, Copy, Debug)]
struct Boundary {
    space: u64,
    is: SpaceUse,
    side: Side,
}

/// The boundaries of spaces, by element.
#[derive(Debug, Default)]
pub struct Boundaries {
    by_element: HashMap<u64, Vec<Boundary>>,
    /// Whether any says that it is external: some programs write all as internal.
    tells: bool,
}

impl Boundaries {
    /// Reads them; one that cannot be read says nothing.
    pub fn read(file: &File<'_>, spaces: &Spaces) -> Self {
        let ids: Vec<u64> = file.of_class(Class::RelSpaceBoundary).collect();
        let read: Vec<Option<(u64, Boundary)>> = ids.par_iter().map(|id| boundary(file, spaces, *id)).collect();
        let mut boundaries = Self::default();
        for (element, boundary) in read.into_iter().flatten() {
            boundaries.tells |= boundary.side == Side::External;
            boundaries.by_element.entry(element).or_default().push(boundary);
        }
        boundaries
    }

    /// What stands on both sides of an element, of which the first of `ids` that has boundaries speaks.
    ///
    /// A wall whose boundaries are all internal is inner. What lies needs a room on both sides for that: a ceiling
    /// under an attic without a space is internal to most programs.
    pub fn between(&self, mut ids: impl Iterator<Item = u64>, is_wall: bool) -> Option<Between> {
        let seen = ids.find_map(|id| self.by_element.get(&id))?;
        let has = |is: SpaceUse| seen.iter().any(|boundary| boundary.is == is);
        let is_external = |boundary: &&Boundary| boundary.side == Side::External;
        if seen.iter().filter(is_external).any(|boundary| boundary.is == SpaceUse::Room) {
            return Some(Between::RoomAnd(Exposure::Exterior));
        }
        let beyond = [SpaceUse::Unheated, SpaceUse::Outdoors].into_iter().find(|is| has(*is));
        match (has(SpaceUse::Room), beyond) {
            (true, Some(beyond)) => return Some(between(SpaceUse::Room, beyond)),
            (false, Some(_)) if seen.iter().any(|boundary| is_external(&boundary)) => return Some(Between::NoRoom),
            _ => {}
        }
        let first = seen.first()?.space;
        let is_inner = seen.iter().all(|boundary| boundary.is == SpaceUse::Room && boundary.side == Side::Internal);
        let is_between = is_wall || seen.iter().any(|boundary| boundary.space != first);
        (self.tells && is_inner && is_between).then_some(Between::RoomAnd(Exposure::Interior))
    }
}

fn boundary(file: &File<'_>, spaces: &Spaces, id: u64) -> Option<(u64, Boundary)> {
    let record = file.record(id).ok()?;
    if record.says(7, "VIRTUAL") {
        return None;
    }
    let space = record.optional_reference(4)?;
    let is = match spaces.by_id.get(&space) {
        Some(is) => *is,
        None if file.record(space).ok()?.is("IFCEXTERNALSPATIALELEMENT") => SpaceUse::Outdoors,
        None => return None,
    };
    Some((record.optional_reference(5)?, Boundary { space, is, side: side(&record) }))
}

/// # Source
/// ISO 16739-1:2024, `IfcInternalOrExternalEnum`: earth, water and another building are external too (from memory).
fn side(record: &Record<'_>) -> Side {
    match record.enumeration(8).map(<[u8]>::to_ascii_uppercase).as_deref() {
        Some(b"INTERNAL") => Side::Internal,
        Some(b"EXTERNAL" | b"EXTERNAL_EARTH" | b"EXTERNAL_WATER" | b"EXTERNAL_FIRE") => Side::External,
        _ => Side::NotSaid,
    }
}
