//! The job file as it is written: TOML, every key optional, unknown keys refused.

use super::ExposureAsked;
use super::pattern_file::{MatchFile, check_match};
use super::reader::Reader;
use crate::model::LayerUse;
use schemars::{JsonSchema, Schema, schema_for};
use serde::Deserialize;
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

/// A job file. Everything in it is optional.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
#[schemars(title = "cavitally job file")]
pub(super) struct JobFile {
    /// The project.
    pub project: ProjectFile,
    /// Which surfaces are asked for.
    pub exposure: ExposureFile,
    /// Rules of the layout, for all surfaces.
    pub layout: LayoutFile,
    /// Fill materials by name; the first is used where an assembly names none.
    #[schemars(with = "BTreeMap<String, FillFile>")]
    pub fill: BTreeMap<Spanned<String>, FillFile>,
    /// Assemblies by name.
    #[schemars(with = "BTreeMap<String, AssemblyFile>")]
    pub assembly: BTreeMap<Spanned<String>, AssemblyFile>,
    /// What layers are, in place of what their names say; the first that fits counts.
    #[schemars(with = "Vec<LayerFile>")]
    pub layer: Vec<Spanned<LayerFile>>,
}

/// The project.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct ProjectFile {
    /// Its name.
    pub name: Option<String>,
}

/// Which surfaces are asked for, and what lies on the other side of which.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct ExposureFile {
    /// Which exposures are counted: `exterior` (with unconditioned), `all` or `interior`.
    pub count: Option<ExposureAsked>,
    /// Patterns on type or name of surfaces towards the outdoors.
    pub exterior: Vec<String>,
    /// The same towards a garage, an unheated attic or a crawl space.
    pub unconditioned: Vec<String>,
    /// The same towards another heated room.
    pub interior: Vec<String>,
}

/// Rules of the layout. Lengths are texts with their unit.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct LayoutFile {
    /// End that the studs are measured from: `left` or `right`, as seen from outside.
    #[schemars(with = "Option<String>")]
    pub layout_end: Option<Spanned<String>>,
    /// Plates at the bottom.
    #[schemars(with = "Option<u32>")]
    pub bottom_plates: Option<Spanned<u32>>,
    /// Plates on top.
    #[schemars(with = "Option<u32>")]
    pub top_plates: Option<Spanned<u32>>,
    /// Thickness of a plate.
    #[schemars(with = "Option<String>")]
    pub plate_thickness: Option<Spanned<String>>,
    /// King studs on each side of an opening.
    #[schemars(with = "Option<u32>")]
    pub king_studs: Option<Spanned<u32>>,
    /// Jack studs on each side of an opening.
    #[schemars(with = "Option<u32>")]
    pub jack_studs: Option<Spanned<u32>>,
    /// Jack studs on each side of a wide opening.
    #[schemars(with = "Option<u32>")]
    pub jack_studs_wide: Option<Spanned<u32>>,
    /// Width above which an opening is wide.
    #[schemars(with = "Option<String>")]
    pub wide_opening: Option<Spanned<String>>,
    /// Height of a header.
    #[schemars(with = "Option<String>")]
    pub header_height: Option<Spanned<String>>,
    /// Plates that make a rough sill.
    #[schemars(with = "Option<u32>")]
    pub sill_plates: Option<Spanned<u32>>,
    /// Studs in a corner post, beyond the end stud.
    #[schemars(with = "Option<u32>")]
    pub corner_post_studs: Option<Spanned<u32>>,
    /// Studs at a junction with a partition.
    #[schemars(with = "Option<u32>")]
    pub partition_studs: Option<Spanned<u32>>,
    /// Height between rows of blocking; none where it is missing.
    #[schemars(with = "Option<String>")]
    pub blocking_every: Option<Spanned<String>>,
    /// What becomes of walls that run past the structure of a floor: `cut` there, or left `whole` (balloon framing).
    #[schemars(with = "Option<String>")]
    pub walls_through_floors: Option<Spanned<String>>,
    /// Width of the filling tube: a narrower gap is left out.
    #[schemars(with = "Option<String>")]
    pub tube_width: Option<Spanned<String>>,
    /// Framing fraction of a wall of which only the area is known.
    #[schemars(with = "Option<f64>")]
    pub wall_fraction: Option<Spanned<f64>>,
    /// The same for a roof.
    #[schemars(with = "Option<f64>")]
    pub roof_fraction: Option<Spanned<f64>>,
    /// The same for a ceiling.
    #[schemars(with = "Option<f64>")]
    pub ceiling_fraction: Option<Spanned<f64>>,
    /// The same for a floor.
    #[schemars(with = "Option<f64>")]
    pub floor_fraction: Option<Spanned<f64>>,
}

/// A fill material.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct FillFile {
    /// Installed density, such as `3.5 lb/ft3` or `56 kg/m3`.
    #[schemars(with = "Option<String>")]
    pub density: Option<Spanned<String>>,
    /// Installed density in deep bays.
    #[schemars(with = "Option<String>")]
    pub deep_density: Option<Spanned<String>>,
    /// Depth from which a bay is deep.
    #[schemars(with = "Option<String>")]
    pub deep_from: Option<Spanned<String>>,
    /// Net mass of a bag, from its label, such as `25 lb` or `11.3 kg`.
    #[schemars(with = "Option<String>")]
    pub bag: Option<Spanned<String>>,
    /// Fraction added for spill, hopper and run-through.
    #[schemars(with = "Option<f64>")]
    pub allowance: Option<Spanned<f64>>,
    /// Whether existing walls are filled through drilled holes, which spills more.
    pub retrofit: Option<bool>,
}

/// An assembly.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct AssemblyFile {
    /// How it is framed, such as `2x6 @ 16 in`.
    #[schemars(with = "Option<String>")]
    pub framing: Option<Spanned<String>>,
    /// Measured depth of the cavity; wins over the nominal size.
    #[schemars(with = "Option<String>")]
    pub depth: Option<Spanned<String>>,
    /// Name of the fill.
    #[schemars(with = "Option<String>")]
    pub fill: Option<Spanned<String>>,
    /// Surfaces that it frames: a pattern on type or name (`*` for any text, `?` for one character), a table of patterns
    /// that must all fit, or a list of these.
    pub r#match: Option<MatchFile>,
    /// Rules of the layout, for this assembly alone.
    pub layout: LayoutFile,
}

/// What some layers are.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct LayerFile {
    /// Which layers: the same as of an assembly. `exposure` is that of the model here.
    pub r#match: Option<MatchFile>,
    /// What they are: `cavity` for the one that holds it, `studs`, `insulation`, `masonry` or `none`.
    pub is: Option<LayerUse>,
}

/// The JSON Schema of the job file.
pub fn job_schema() -> Schema {
    schema_for!(JobFile)
}

const ROOT: &[&str] = &["project", "exposure", "layout", "fill", "assembly", "layer"];
const PROJECT: &[&str] = &["name"];
const EXPOSURE: &[&str] = &["count", "exterior", "unconditioned", "interior"];
const FILL: &[&str] = &["density", "deep_density", "deep_from", "bag", "allowance", "retrofit"];
const ASSEMBLY: &[&str] = &["framing", "depth", "fill", "match", "layout"];
const LAYER: &[&str] = &["match", "is"];
const LAYOUT: &[&str] = &[
    "layout_end",
    "bottom_plates",
    "top_plates",
    "plate_thickness",
    "king_studs",
    "jack_studs",
    "jack_studs_wide",
    "wide_opening",
    "header_height",
    "sill_plates",
    "corner_post_studs",
    "partition_studs",
    "blocking_every",
    "walls_through_floors",
    "tube_width",
    "wall_fraction",
    "roof_fraction",
    "ceiling_fraction",
    "floor_fraction",
];

/// Reads the file as it is written; `None` where that cannot be done, with refusals in the reader.
pub(super) fn parse(text: &str, reader: &mut Reader<'_>) -> Option<JobFile> {
    match DeTable::parse(text) {
        Ok(table) => check_root(table.get_ref(), reader),
        Err(error) => reader.refuse(error.span().unwrap_or(0..0), first_line(error.message()), "the job file is TOML"),
    }
    if !reader.refusals.is_empty() {
        return None;
    }
    toml::from_str(text)
        .map_err(|error| reader.refuse(error.span().unwrap_or(0..0), first_line(error.message()), ""))
        .ok()
}

fn first_line(message: &str) -> String {
    message.lines().next().unwrap_or("cannot be read").to_owned()
}

fn check_root(root: &DeTable<'_>, reader: &mut Reader<'_>) {
    check_keys(root, "the job file", ROOT, reader);
    for (key, value) in in_order(root) {
        if let ("layer", Some(layers)) = (key.get_ref().as_ref(), value.get_ref().as_array()) {
            check_layers(layers, reader);
        }
        let Some(table) = value.get_ref().as_table() else { continue };
        match key.get_ref().as_ref() {
            "project" => check_keys(table, "`[project]`", PROJECT, reader),
            "exposure" => check_keys(table, "`[exposure]`", EXPOSURE, reader),
            "layout" => check_keys(table, "`[layout]`", LAYOUT, reader),
            "fill" => check_named(table, "fill", FILL, reader),
            "assembly" => check_named(table, "assembly", ASSEMBLY, reader),
            _ => {}
        }
    }
}

fn check_layers(layers: &[Spanned<DeValue<'_>>], reader: &mut Reader<'_>) {
    for layer in layers {
        if let Some(table) = layer.get_ref().as_table() {
            check_keys(table, "`[[layer]]`", LAYER, reader);
            check_match(table, reader);
        }
    }
}

fn check_named(tables: &DeTable<'_>, section: &str, known: &[&str], reader: &mut Reader<'_>) {
    for (name, value) in in_order(tables) {
        let (name, Some(table)) = (name.get_ref(), value.get_ref().as_table()) else { continue };
        check_keys(table, &format!("`[{section}.{name}]`"), known, reader);
        if section == "assembly" {
            check_match(table, reader);
        }
        for (key, inner) in in_order(table) {
            if let ("layout", Some(layout)) = (key.get_ref().as_ref(), inner.get_ref().as_table()) {
                check_keys(layout, &format!("`[{section}.{name}.layout]`"), LAYOUT, reader);
            }
        }
    }
}

/// A key and its value, with their places.
type KeyAndValue<'t, 'i> = (&'t Spanned<DeString<'i>>, &'t Spanned<DeValue<'i>>);

/// Keys and values as they stand in the file, from its top.
pub(super) fn in_order<'t, 'i>(table: &'t DeTable<'i>) -> Vec<KeyAndValue<'t, 'i>> {
    let mut entries: Vec<_> = table.iter().collect();
    entries.sort_by_key(|(key, _)| key.span().start);
    entries
}

fn check_keys(table: &DeTable<'_>, section: &str, known: &[&str], reader: &mut Reader<'_>) {
    let mut unknown: Vec<_> = table.keys().filter(|key| !known.contains(&key.get_ref().as_ref())).collect();
    unknown.sort_by_key(|key| key.span().start);
    for key in unknown {
        let name = key.get_ref().as_ref();
        let help = match nearest(name, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known here: {}", known.join(", ")),
        };
        reader.refuse(key.span(), format!("{section} has no key `{name}`"), help);
    }
}

/// The known word that an unknown one is most like; `None` where none is like it.
pub(super) fn nearest<'k>(name: &str, known: &[&'k str]) -> Option<&'k str> {
    let likeness = |word: &str| strsim::jaro_winkler(&name.to_lowercase(), &word.to_lowercase());
    known.iter().copied().filter(|word| likeness(word) > 0.8).max_by(|a, b| likeness(a).total_cmp(&likeness(b)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lists_of_keys_are_those_of_the_schema() {
        let schema = serde_json::to_value(job_schema()).unwrap();
        let keys = |pointer: &str| -> Vec<String> {
            schema.pointer(pointer).unwrap().as_object().unwrap().keys().cloned().collect()
        };
        let sorted = |list: &[&str]| {
            let mut list: Vec<String> = list.iter().map(ToString::to_string).collect();
            list.sort();
            list
        };
        assert_eq!(keys("/properties"), sorted(ROOT));
        for (name, list) in [
            ("ProjectFile", PROJECT),
            ("ExposureFile", EXPOSURE),
            ("LayoutFile", LAYOUT),
            ("FillFile", FILL),
            ("AssemblyFile", ASSEMBLY),
            ("LayerFile", LAYER),
            ("WhereFile", super::super::pattern_file::WHERE),
        ] {
            assert_eq!(keys(&format!("/$defs/{name}/properties")), sorted(list), "{name}");
        }
    }
}
