//! Which elements are measured, and as what kind of surface.

use super::body::has_body;
use super::class::Class;
use super::element::Element;
use super::file::File;
use super::record::Record;
use super::relations::Relations;
use super::text::decode;
use crate::model::SurfaceKind;
use std::collections::HashSet;

/// What becomes of an element.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// It is measured as a surface of this kind.
    Surface(SurfaceKind),
    /// It is measured by its parts.
    Whole,
    /// It is named and left out, for this reason.
    LeftOut(String),
}

/// Place of `PredefinedType` among the arguments of slabs, roofs and coverings, in every schema that is read.
const PREDEFINED_TYPE: usize = 8;
/// Its place among those of their types, whose `ElementType` stands before it.
const PREDEFINED_OF_TYPE: usize = 9;
/// Place of the words that say what `USERDEFINED` means: `ObjectType` of an element, `ElementType` of a type.
const OBJECT_TYPE: usize = 4;
const ELEMENT_TYPE: usize = 8;

/// The role of an element of a class that is read.
pub fn role(file: &File<'_>, relations: &Relations, class: Class, element: &Element, record: &Record<'_>) -> Role {
    let predefined = predefined_type(file, relations, element, record);
    if let Some(whole) = measured_whole(file, relations, element) {
        return Role::LeftOut(format!("a part of #{whole}, which is measured whole"));
    }
    let has_body = element.shape.is_some_and(|shape| has_body(file, shape));
    if !has_body && has_measured_parts(file, relations, element.entity) {
        return Role::Whole;
    }
    match class {
        Class::Roof => Role::Surface(SurfaceKind::Roof),
        Class::Slab => slab(file, relations, element, &predefined),
        Class::Covering => covering(&predefined),
        Class::CurtainWall => Role::LeftOut("a curtain wall has no framed cavity to fill".to_owned()),
        Class::Plate => Role::LeftOut("a plate has no framed cavity to fill".to_owned()),
        _ => Role::Surface(SurfaceKind::Wall),
    }
}

/// The predefined type of an element, else of its type: an element leaves its own undefined where the type has one
/// (ISO 16739-1:2018, `IfcSlab`). Models that say otherwise on both are right on the element.
fn predefined_type(file: &File<'_>, relations: &Relations, element: &Element, record: &Record<'_>) -> String {
    let own = said(record, PREDEFINED_TYPE, OBJECT_TYPE);
    let of_type = || {
        let kind = relations.types.get(&element.entity).and_then(|kind| file.record(*kind).ok())?;
        said(&kind, PREDEFINED_OF_TYPE, ELEMENT_TYPE)
    };
    own.or_else(of_type).unwrap_or_else(|| NOT_DEFINED.to_owned())
}

const NOT_DEFINED: &str = "NOTDEFINED";

/// A predefined type in capitals, `USERDEFINED` by the words that stand for it; `None` where it says nothing.
fn said(record: &Record<'_>, predefined: usize, words: usize) -> Option<String> {
    let word = String::from_utf8_lossy(record.enumeration(predefined)?).to_ascii_uppercase();
    if word != "USERDEFINED" {
        return Some(word).filter(|word| word != NOT_DEFINED);
    }
    let text = decode(record.string(words)?).text.to_uppercase();
    // What people write is not one word as the standard has it: `Roof slab`, `suspended ceiling`.
    let known = ["ROOF", "LANDING", "CEILING", "INSULATION", "FLOOR"];
    let found = text.split(|c: char| !c.is_alphanumeric()).find_map(|one| known.iter().find(|known| **known == one));
    Some(found.map_or_else(|| text.trim().to_owned(), |known| (*known).to_owned())).filter(|text| !text.is_empty())
}

/// Classes whose parts are measured for them, or that are measured for their parts.
const MEASURED: [&str; 8] = [
    "IFCWALL",
    "IFCWALLSTANDARDCASE",
    "IFCWALLELEMENTEDCASE",
    "IFCROOF",
    "IFCSLAB",
    "IFCSLABSTANDARDCASE",
    "IFCSLABELEMENTEDCASE",
    "IFCCOVERING",
];

fn is_measured(record: &Record<'_>) -> bool {
    MEASURED.iter().any(|class| record.is(class))
}

/// The whole with a body of its own that an element is a part of.
fn measured_whole(file: &File<'_>, relations: &Relations, element: &Element) -> Option<u64> {
    let wholes = relations.wholes_of(element.entity).unwrap_or_default();
    wholes.into_iter().find(|id| {
        let record = file.record(*id).ok().filter(is_measured);
        record.and_then(|record| record.optional_reference(6)).is_some_and(|shape| has_body(file, shape))
    })
}

/// Whether any part, through assemblies, is measured as a surface of its own.
pub fn has_measured_parts(file: &File<'_>, relations: &Relations, id: u64) -> bool {
    let (mut open, mut seen) = (vec![id], HashSet::from([id]));
    while let Some(id) = open.pop() {
        for &part in relations.parts.get(&id).into_iter().flatten() {
            if !seen.insert(part) {
                continue;
            }
            let Ok(record) = file.record(part) else { continue };
            let shape = record.optional_reference(6);
            if is_measured(&record) && shape.is_some_and(|shape| has_body(file, shape)) {
                return true;
            }
            open.push(part);
        }
    }
    false
}

fn slab(file: &File<'_>, relations: &Relations, element: &Element, predefined: &str) -> Role {
    let under = |class: &str| {
        let wholes = relations.wholes_of(element.entity).unwrap_or_default();
        wholes.into_iter().filter_map(|id| file.record(id).ok()).any(|record| record.is(class))
    };
    match predefined {
        "ROOF" => Role::Surface(SurfaceKind::Roof),
        "LANDING" => Role::LeftOut("a landing of a stair has no framed cavity to fill".to_owned()),
        _ if under("IFCROOF") => Role::Surface(SurfaceKind::Roof),
        _ if under("IFCSTAIR") || under("IFCRAMP") => {
            Role::LeftOut("a part of a stair or ramp has no framed cavity to fill".to_owned())
        }
        _ => Role::Surface(SurfaceKind::Floor),
    }
}

fn covering(predefined: &str) -> Role {
    match predefined {
        "CEILING" | "INSULATION" => Role::Surface(SurfaceKind::Ceiling),
        other => Role::LeftOut(format!("a covering of kind {other} is a finish, not a cavity")),
    }
}
