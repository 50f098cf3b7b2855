//! Layers: the materials of an element, where they lie across it, and which one holds the cavity.

use super::file::File;
use super::record::Record;
use super::text::decode;
use super::trouble::Trouble;
use crate::model::Layer;
use crate::model::{is_insulation, is_stud};

/// The layers of an element, and how they lie.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(clippy::struct_field_names, reason = "the layers are what a layer set is called after")]
pub struct Layers {
    /// The layers, in the order of their set; thickness 0 where the model gives none.
    pub layers: Vec<Layer>,
    /// How the set lies across the element; `None` where the model does not say.
    pub usage: Option<Usage>,
    /// Whether the thicknesses are given.
    pub has_thickness: bool,
}

/// How a layer set lies: offset of its start and the way that it grows, across the element.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usage {
    /// Whether the layers lie along the element's own y axis (`AXIS2`).
    pub across_y: bool,
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
    match record.class().as_str() {
        "IFCMATERIALLAYERSETUSAGE" => {
            let set = file.follow(record.id, record.reference(0, "layer set")?)?;
            let mut layers = layer_set(file, &set, length_m)?;
            layers.usage = Some(Usage {
                across_y: !record.says(1, "AXIS3") && !record.says(1, "AXIS1"),
                positive: !record.says(2, "NEGATIVE"),
                offset_m: record.optional_number(3, "offset")?.unwrap_or(0.0) * length_m,
            });
            Ok(layers)
        }
        "IFCMATERIALLAYERSET" => layer_set(file, &record, length_m),
        "IFCMATERIAL" => Ok(unsized_layers(vec![name_of(&record, 0)])),
        "IFCMATERIALLIST" => materials(file, &record, 0),
        "IFCMATERIALCONSTITUENTSET" => constituents(file, &record),
        _ => Ok(Layers::default()),
    }
}

fn layer_set(file: &File<'_>, set: &Record<'_>, length_m: f64) -> Result<Layers, Trouble> {
    let mut layers = Layers { has_thickness: true, ..Layers::default() };
    for id in set.references(0, "layers")? {
        let layer = file.follow(set.id, id)?;
        let material = match layer.optional_reference(0) {
            Some(material) => name_of(&file.follow(id, material)?, 0),
            None => String::new(),
        };
        let own = layer.string(3).map(|raw| decode(raw).text).unwrap_or_default();
        let thickness_m = layer.number(1, "layer thickness")? * length_m;
        layers.layers.push(Layer { material: joined(&material, &own), thickness_m });
    }
    Ok(layers)
}

/// Material and layer name, once where they say the same.
fn joined(material: &str, own: &str) -> String {
    match (material.trim(), own.trim()) {
        (material, own) if own.is_empty() || material.contains(own) => material.to_owned(),
        (material, own) if material.is_empty() || own.contains(material) => own.to_owned(),
        (material, own) => format!("{material} ({own})"),
    }
}

fn materials(file: &File<'_>, record: &Record<'_>, index: usize) -> Result<Layers, Trouble> {
    let read = |id: u64| Ok(name_of(&file.follow(record.id, id)?, 0));
    let names = record.references(index, "materials")?.into_iter().map(read).collect::<Result<_, Trouble>>()?;
    Ok(unsized_layers(names))
}

fn constituents(file: &File<'_>, record: &Record<'_>) -> Result<Layers, Trouble> {
    let read = |id: u64| {
        let constituent = file.follow(record.id, id)?;
        let material = file.follow(id, constituent.reference(2, "material")?)?;
        Ok(joined(&name_of(&material, 0), &name_of(&constituent, 0)))
    };
    let names = record.references(2, "constituents")?.into_iter().map(read).collect::<Result<_, Trouble>>()?;
    Ok(unsized_layers(names))
}

fn unsized_layers(names: Vec<String>) -> Layers {
    let layers = names.into_iter().map(|material| Layer { material, thickness_m: 0.0 }).collect();
    Layers { layers, usage: None, has_thickness: false }
}

fn name_of(record: &Record<'_>, index: usize) -> String {
    record.string(index).map(|raw| decode(raw).text).unwrap_or_default()
}

/// Which layer holds the cavity, and whether others could.
///
/// The layer whose material says stud or frame; else the thickest insulation between two others; else none.
pub fn cavity_layer(layers: &[Layer]) -> (Option<usize>, bool) {
    let thickest = |indices: Vec<usize>| {
        let thickness = |i: &usize| layers.get(*i).map_or(0.0, |layer| layer.thickness_m);
        indices.into_iter().max_by(|a, b| thickness(a).total_cmp(&thickness(b)).then(b.cmp(a)))
    };
    let indices = |wanted: fn(&str) -> bool| -> Vec<usize> {
        let sized = layers.iter().enumerate().filter(|(_, layer)| layer.thickness_m > 0.0);
        sized.filter(|(_, layer)| wanted(&layer.material)).map(|(index, _)| index).collect()
    };
    let studs = indices(is_stud);
    if !studs.is_empty() {
        let several = studs.len() > 1;
        return (thickest(studs), several);
    }
    let last = layers.len().saturating_sub(1);
    let between = indices(is_insulation).into_iter().filter(|&i| i > 0 && i < last).collect();
    (thickest(between), false)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn layers(of: &[(&str, f64)]) -> Vec<Layer> {
        of.iter().map(|(material, mm)| Layer { material: (*material).to_owned(), thickness_m: mm / 1000.0 }).collect()
    }

    #[test]
    fn studs_win_over_thicker_insulation() {
        let wall =
            layers(&[("Gypsum board", 13.0), ("Wood stud", 89.0), ("Rigid insulation", 120.0), ("Render", 10.0)]);
        assert_eq!(cavity_layer(&wall), (Some(1), false));
    }

    #[test]
    fn insulation_counts_only_between_two_others() {
        let outside = layers(&[("Mineral wool insulation", 160.0), ("Concrete", 200.0)]);
        assert_eq!(cavity_layer(&outside), (None, false));
        let between = layers(&[("Brick", 100.0), ("Mineral wool insulation", 90.0), ("Block", 100.0)]);
        assert_eq!(cavity_layer(&between), (Some(1), false));
    }

    #[test]
    fn two_stud_layers_are_said_to_be_ambiguous() {
        let wall = layers(&[("Stud", 45.0), ("Stud", 145.0)]);
        assert_eq!(cavity_layer(&wall), (Some(1), true));
    }
}
