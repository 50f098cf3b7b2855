//! What the model says becomes of elements: those that will be demolished are not filled.

use super::exposure::property_sets;
use super::file::File;
use super::record::{enumeration_of, items_of, string_of, untyped};
use super::relations::Relations;
use crate::finding::{Code, Finding};
use crate::model::Surface;
use crate::source::Place;

/// Elements that are named in a finding.
const NAMED: usize = 5;

/// Whether `Status` of a `Pset_…Common` of an element says that it will be demolished (`PEnum_ElementStatus`, ISO 16739-1).
pub fn is_demolished(file: &File<'_>, relations: &Relations, id: u64) -> bool {
    property_sets(file, relations, id).any(|set| says_demolish(file, set).unwrap_or(false))
}

fn says_demolish(file: &File<'_>, set: u64) -> Option<bool> {
    let set = file.record(set).ok()?;
    let name = set.string(2)?;
    if !(set.is("IFCPROPERTYSET") && name.starts_with(b"Pset_") && name.ends_with(b"Common")) {
        return None;
    }
    let is_status = |id: &u64| file.record(*id).is_ok_and(|property| property.string(0) == Some(b"Status"));
    let status = set.references(4, "properties").ok()?.into_iter().find(is_status)?;
    let property = file.record(status).ok()?;
    // One value, or a list of those that are taken from an enumeration.
    let raw = property.raw(2)?;
    let says = |value: &[u8]| {
        let word = string_of(value).or_else(|| enumeration_of(untyped(value))).unwrap_or_default();
        word.to_ascii_uppercase().starts_with(b"DEMOLISH")
    };
    Some(if raw.first() == Some(&b'(') { items_of(raw).any(says) } else { says(raw) })
}

/// Which elements will be demolished: they are not counted.
pub fn demolished(file: &File<'_>, surfaces: &[Surface]) -> Option<Finding> {
    let gone: Vec<&Surface> = surfaces.iter().filter(|one| one.is_demolished && one.part == 0).collect();
    let first = gone.first()?;
    let names: Vec<String> =
        gone.iter().take(NAMED).map(|one| format!("`{}`", one.name.as_deref().unwrap_or(&one.id))).collect();
    let more = gone.len().saturating_sub(NAMED);
    let message = format!(
        "the model says that {} will be demolished, by their `Status`: {}{}; not counted",
        if gone.len() == 1 { "1 element".to_owned() } else { format!("{} elements", gone.len()) },
        names.join(", "),
        if more > 0 { format!(" and {more} more") } else { String::new() }
    );
    let place = Place { id: Some(first.id.clone()), ..Place::input(file.path()) };
    Some(Finding::note(Code::ToBeDemolished, &place, message))
}
