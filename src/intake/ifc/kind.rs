//! Which elements are measured, and as what kind of surface.

use super::class::Class;
use super::element::Element;
use super::file::File;
use super::record::Record;
use super::relations::Relations;
use crate::model::SurfaceKind;

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

/// The role of an element of a class that is read.
pub fn role(file: &File<'_>, relations: &Relations, class: Class, element: &Element, record: &Record<'_>) -> Role {
    let predefined = record.enumeration(PREDEFINED_TYPE).map(|word| String::from_utf8_lossy(word).to_ascii_uppercase());
    let predefined = predefined.unwrap_or_else(|| "NOTDEFINED".to_owned());
    let has_parts = relations.parts.get(&element.entity).is_some_and(|parts| !parts.is_empty());
    match class {
        Class::Roof if element.shape.is_none() && has_parts => Role::Whole,
        Class::Roof => Role::Surface(SurfaceKind::Roof),
        Class::Slab => slab(file, relations, element, &predefined),
        Class::Covering => covering(&predefined),
        Class::CurtainWall => Role::LeftOut("a curtain wall has no framed cavity to fill".to_owned()),
        Class::Plate => Role::LeftOut("a plate has no framed cavity to fill".to_owned()),
        _ => Role::Surface(SurfaceKind::Wall),
    }
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
