//! What the model says of an element beside its shape: names, type, storey, exposure.

use super::class::Class;
use super::file::File;
use super::record::Record;
use super::relations::Relations;
use super::text::decode;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::model::{Exposure, FlueKind, OpeningKind, opening_use};

/// An element, with the texts that people know it by.
#[derive(Clone, Debug)]
pub struct Element {
    /// Instance name.
    pub entity: u64,
    /// Class, as people write it (`IfcWall`).
    pub class: &'static str,
    /// GlobalId; the instance name where it has none.
    pub global_id: String,
    /// Name.
    pub name: Option<String>,
    /// Name of its type.
    pub type_name: Option<String>,
    /// Storey.
    pub storey: Option<String>,
    /// What lies on the other side; it takes the whole model to know, and is filled in by [`super::exposure`].
    pub exposure: Exposure,
    /// Placement.
    pub placement: Option<u64>,
    /// Shape.
    pub shape: Option<u64>,
}

impl Element {
    /// Reads an element, and what is odd about it.
    ///
    /// # Errors
    /// Where the file does not hold it.
    pub fn read(
        file: &File<'_>,
        relations: &Relations,
        class: Class,
        id: u64,
    ) -> Result<(Self, Vec<Trouble>), Trouble> {
        let record = file.record(id)?;
        let mut troubles = Vec::new();
        let mut text = |record: &Record<'_>, index: usize| {
            let decoded = decode(record.string(index)?);
            if decoded.damaged {
                let message =
                    "the text holds a broken escape or control characters; it is shown as far as it can be read";
                troubles.push(Trouble::new(Code::TextDamaged, record.id, message));
            }
            Some(decoded.text).filter(|text| !text.trim().is_empty())
        };
        let global_id = text(&record, 0).unwrap_or_else(|| format!("#{id}"));
        let name = text(&record, 2);
        let object_type = text(&record, 4);
        let kind = relations.types.get(&id).and_then(|kind| file.record(*kind).ok());
        let type_name = kind.as_ref().and_then(|kind| text(kind, 2)).or(object_type);
        let storey = storey_of(file, relations, id).and_then(|storey| text(&storey, 2));
        let element = Self {
            entity: id,
            class: class_name(class),
            global_id,
            name,
            type_name,
            storey,
            exposure: Exposure::Unknown,
            placement: record.optional_reference(5),
            shape: record.optional_reference(6),
        };
        Ok((element, troubles))
    }
}

/// A class as people write it.
pub fn class_name(class: Class) -> &'static str {
    match class {
        Class::Wall => "IfcWall",
        Class::WallStandardCase => "IfcWallStandardCase",
        Class::WallElementedCase => "IfcWallElementedCase",
        Class::Slab => "IfcSlab",
        Class::Roof => "IfcRoof",
        Class::Covering => "IfcCovering",
        Class::CurtainWall => "IfcCurtainWall",
        Class::Plate => "IfcPlate",
        Class::Proxy => "IfcBuildingElementProxy",
        Class::Member => "IfcMember",
        Class::Beam => "IfcBeam",
        Class::Column => "IfcColumn",
        Class::Chimney => "IfcChimney",
        _ => "IfcElement",
    }
}

/// The storey that an element, or the whole that it is a part of, stands in.
fn storey_of<'a>(file: &File<'a>, relations: &Relations, id: u64) -> Option<Record<'a>> {
    let wholes = relations.wholes_of(id).unwrap_or_default();
    let container = std::iter::once(id).chain(wholes).find_map(|id| relations.containers.get(&id))?;
    let above = relations.wholes_of(*container).unwrap_or_default();
    let records = std::iter::once(*container).chain(above).filter_map(|id| file.record(id).ok());
    records.into_iter().find(|record| record.is("IFCBUILDINGSTOREY"))
}

/// What kind of opening a filling makes.
pub fn opening_kind(file: &File<'_>, filling: Option<u64>) -> OpeningKind {
    let Some(record) = filling.and_then(|id| file.record(id).ok()) else { return OpeningKind::Other };
    if record.is("IFCDOOR") || record.is("IFCDOORSTANDARDCASE") {
        OpeningKind::Door
    } else if record.is("IFCWINDOW") || record.is("IFCWINDOWSTANDARDCASE") {
        OpeningKind::Window
    } else {
        OpeningKind::Other
    }
}

/// What kind of opening it is in a floor, ceiling or roof, and how its flue is built: by the class of what fills it, else
/// by the names of both.
pub fn lying_kind(
    file: &File<'_>,
    kind: OpeningKind,
    filling: Option<u64>,
    opening: &Record<'_>,
) -> (OpeningKind, Option<FlueKind>) {
    let filling = filling.and_then(|id| file.record(id).ok());
    let texts = filling.iter().chain([opening]).flat_map(|record| [2, 4].map(|index| record.string(index)));
    let names: Vec<String> = texts.flatten().map(|raw| decode(raw).text).collect();
    let (named, flue) = opening_use(&names.join(" / "));
    let is = |class: &str| filling.as_ref().is_some_and(|record| record.is(class));
    let by_class = match kind {
        OpeningKind::Window => Some(OpeningKind::Skylight),
        OpeningKind::Door => Some(OpeningKind::Hatch),
        _ if is("IFCCHIMNEY") => Some(OpeningKind::Chimney),
        _ if is("IFCLIGHTFIXTURE") => Some(OpeningKind::Light),
        _ => None,
    };
    let kind = by_class.or(named).unwrap_or(kind);
    let has_flue = matches!(kind, OpeningKind::Chimney | OpeningKind::Flue);
    // The class says that it is a chimney where the name only says of what.
    let flue = flue.or_else(|| opening_use(&format!("chimney / {}", names.join(" / "))).1);
    (kind, flue.filter(|_| has_flue))
}
