//! Which elements are measured, and as what kind of surface.

use super::body::has_body;
use super::class::Class;
use super::element::Element;
use super::file::File;
use super::record::Record;
use super::relations::Relations;
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

/// The role of an element of a class that is read.
pub fn role(file: &File<'_>, relations: &Relations, class: Class, element: &Element, record: &Record<'_>) -> Role {
    let predefined = record.enumeration(PREDEFINED_TYPE).map(|word| String::from_utf8_lossy(word).to_ascii_uppercase());
    let predefined = predefined.unwrap_or_else(|| "NOTDEFINED".to_owned());
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
fn has_measured_parts(file: &File<'_>, relations: &Relations, id: u64) -> bool {
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
