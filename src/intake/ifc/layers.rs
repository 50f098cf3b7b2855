//! Layers: the materials of an element, and where they lie across it.

use super::file::File;
use super::record::Record;
use super::text::decode;
use super::trouble::Trouble;
use crate::geometry::Vector;
use crate::model::{Layer, LayerCategory, LayerKind};

/// The layers of an element, and how they lie.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(clippy::struct_field_names, reason = "the layers are what a layer set is called after")]
pub struct Layers {
    /// The layers, in the order of their set; thickness 0 where the model gives none.
    pub layers: Vec<Layer>,
    /// What the model says of each beside its name.
    pub marks: Vec<Mark>,
    /// How the set lies across the element; `None` where the model does not say.
    pub usage: Option<Usage>,
    /// Whether the thicknesses are given.
    pub has_thickness: bool,
}

/// What is said of a layer beside its name.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Mark {
    /// Its category.
    pub category: Option<LayerCategory>,
    /// Whether the job file says that it holds the cavity.
    pub is_cavity: bool,
}

/// How a layer set lies: offset of its start and the way that it grows, across the element.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usage {
    /// The axis of the element that the layers lie along.
    pub across: Vector,
    /// Whether the set grows with the axis.
    pub positive: bool,
    /// Where the set begins, in metres from the reference line.
    pub offset_m: f64,
}

/// Reads what a material relation points at.
///
/// # Errors
/// A record that cannot be used.
pub fn read(file: &File<'_>, element: u64, material: u64, length_m: f64) -> Result<Layers, Trouble> {
    let record = file.follow(element, material)?;
    // Each class, and where it holds its layers, constituents, profiles or materials.
    match record.class().as_ref() {
        "IFCMATERIALLAYERSETUSAGE" => {
            let set = file.follow(record.id, record.reference(0, "layer set")?)?;
            let mut layers = layer_set(file, &set, length_m)?;
            layers.usage = Some(usage(&record, length_m)?);
            Ok(layers)
        }
        "IFCMATERIALLAYERSET" => layer_set(file, &record, length_m),
        "IFCMATERIALLAYER" | "IFCMATERIALLAYERWITHOFFSETS" => {
            let mut layers = Layers { has_thickness: true, ..Layers::default() };
            layer(file, &record, length_m, &mut layers)?;
            Ok(layers)
        }
        "IFCMATERIAL" => Ok(unsized_layers(vec![plain(&record)])),
        "IFCMATERIALLIST" => {
            let read = |id: u64| Ok(plain(&file.follow(record.id, id)?));
            let named = record.references(0, "materials")?.into_iter().map(read).collect::<Result<_, Trouble>>()?;
            Ok(unsized_layers(named))
        }
        "IFCMATERIALCONSTITUENTSET" => parts(file, &record, (2, "constituents"), CONSTITUENT),
        "IFCMATERIALCONSTITUENT" => Ok(unsized_layers(vec![part(file, &record, CONSTITUENT)?])),
        "IFCMATERIALPROFILESETUSAGE" | "IFCMATERIALPROFILESETUSAGETAPERING" => {
            let set = file.follow(record.id, record.reference(0, "profile set")?)?;
            parts(file, &set, (2, "profiles"), PROFILE)
        }
        "IFCMATERIALPROFILESET" => parts(file, &record, (2, "profiles"), PROFILE),
        "IFCMATERIALPROFILE" | "IFCMATERIALPROFILEWITHOFFSETS" => {
            Ok(unsized_layers(vec![part(file, &record, PROFILE)?]))
        }
        _ => Ok(Layers::default()),
    }
}

/// Where a part of a set holds its name, its material and its category.
#[derive(Clone, Copy)]
struct PartPlaces {
    name: usize,
    material: usize,
    category: usize,
}

const LAYER: PartPlaces = PartPlaces { name: 3, material: 0, category: 5 };
const CONSTITUENT: PartPlaces = PartPlaces { name: 0, material: 2, category: 4 };
const PROFILE: PartPlaces = PartPlaces { name: 0, material: 2, category: 5 };

fn usage(record: &Record<'_>, length_m: f64) -> Result<Usage, Trouble> {
    let across = if record.says(1, "AXIS1") {
        Vector::x()
    } else if record.says(1, "AXIS3") {
        Vector::z()
    } else {
        Vector::y()
    };
    let offset_m = record.optional_number(3, "offset")?.unwrap_or(0.0) * length_m;
    Ok(Usage { across, positive: !record.says(2, "NEGATIVE"), offset_m })
}

fn layer_set(file: &File<'_>, set: &Record<'_>, length_m: f64) -> Result<Layers, Trouble> {
    let mut layers = Layers { has_thickness: true, ..Layers::default() };
    for id in set.references(0, "layers")? {
        layer(file, &file.follow(set.id, id)?, length_m, &mut layers)?;
    }
    Ok(layers)
}

fn layer(file: &File<'_>, record: &Record<'_>, length_m: f64, layers: &mut Layers) -> Result<(), Trouble> {
    let (material, mark) = part(file, record, LAYER)?;
    let thickness_m = record.number(1, "layer thickness")? * length_m;
    layers.layers.push(Layer { material, thickness_m, kind: LayerKind::Other });
    layers.marks.push(mark);
    Ok(())
}

type Named = (String, Mark);

/// A layer, constituent or profile: its names, and what is said of it.
fn part(file: &File<'_>, record: &Record<'_>, places: PartPlaces) -> Result<Named, Trouble> {
    let (material, of_material) = match record.optional_reference(places.material) {
        Some(material) => plain(&file.follow(record.id, material)?),
        None => Named::default(),
    };
    let category = category_of(record, places.category).or(of_material.category);
    Ok((joined(&material, &text(record, places.name)), Mark { category, is_cavity: false }))
}

fn parts(
    file: &File<'_>,
    set: &Record<'_>,
    (index, what): (usize, &str),
    places: PartPlaces,
) -> Result<Layers, Trouble> {
    let read = |id: u64| part(file, &file.follow(set.id, id)?, places);
    let named = set.references(index, what)?.into_iter().map(read).collect::<Result<_, Trouble>>()?;
    Ok(unsized_layers(named))
}

/// An `IfcMaterial`.
fn plain(record: &Record<'_>) -> Named {
    (text(record, 0), Mark { category: category_of(record, 2), is_cavity: false })
}

fn category_of(record: &Record<'_>, index: usize) -> Option<LayerCategory> {
    LayerCategory::of_text(&text(record, index))
}

/// Material and layer name, once where they say the same.
fn joined(material: &str, own: &str) -> String {
    match (material.trim(), own.trim()) {
        (material, own) if own.is_empty() || material.contains(own) => material.to_owned(),
        (material, own) if material.is_empty() || own.contains(material) => own.to_owned(),
        (material, own) => format!("{material} ({own})"),
    }
}

fn unsized_layers(named: Vec<Named>) -> Layers {
    let mut layers = Layers::default();
    for (material, mark) in named {
        layers.layers.push(Layer { material, thickness_m: 0.0, kind: LayerKind::Other });
        layers.marks.push(mark);
    }
    layers
}

fn text(record: &Record<'_>, index: usize) -> String {
    record.string(index).map(|raw| decode(raw).text).unwrap_or_default()
}
