//! The job file as it is written: TOML, every key optional, unknown keys refused.

use super::ExposureAsked;
use super::crew_file::{CREW, CrewFile};
use super::fill_file::{FILL, FillFile, check_lists};
use super::heat::{AssemblyLayerFile, HEAT, HeatFile, check_assembly_layers};
pub(super) use super::keys::{check_keys, in_order, nearest};
use super::layout_file::{LayoutFile, check_layout};
use super::method::{FILLING, FillingFile};
use super::order_file::{LABOUR, LabourFile, ORDER, OrderFile};
use super::papers_file::{PAPERS, PapersFile};
use super::pattern_file::{MatchFile, check_match};
use super::reader::Reader;
use super::retrofit::{EXISTING, ExistingFile};
use super::rig_file::{RigFile, SITE, SiteFile, check_rigs};
use super::surface_file::{SurfaceFile, check_surfaces};
use super::tolerance_file::{TOLERANCE, ToleranceFile};
use super::type_words::in_words;
use crate::model::LayerUse;
use schemars::{JsonSchema, Schema, schema_for};
use serde::Deserialize;
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

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
    /// How bays are filled, and where the filling holes go.
    pub filling: FillingFile,
    /// How the order is shared out.
    pub order: OrderFile,
    /// What the work takes.
    pub labour: LabourFile,
    /// How the crew works.
    pub crew: CrewFile,
    /// What papers say of people and places.
    pub papers: PapersFile,
    /// How far the inputs may be off.
    pub tolerance: ToleranceFile,
    /// Heat through the surfaces, where their layers are known.
    pub heat: HeatFile,
    /// Assemblies by name.
    #[schemars(with = "BTreeMap<String, AssemblyFile>")]
    pub assembly: BTreeMap<Spanned<String>, AssemblyFile>,
    /// What layers are and conduct, in place of what their names say; the first that fits counts.
    #[schemars(with = "Vec<LayerFile>")]
    pub layer: Vec<Spanned<LayerFile>>,
    /// What is said of surfaces by pattern, in the words of a sheet's cells: of all tables that fit a surface, the first that gives a key counts.
    #[schemars(with = "Vec<SurfaceFile>")]
    pub surface: Vec<Spanned<SurfaceFile>>,
    /// The place of the work, for `rig`.
    pub site: SiteFile,
    /// Rigs by name; the first is used unless an option names another.
    #[schemars(with = "BTreeMap<String, RigFile>")]
    pub rig: BTreeMap<Spanned<String>, RigFile>,
}

/// The project.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct ProjectFile {
    /// Its name.
    pub name: Option<String>,
    /// Address of the building, for the papers.
    pub address: Option<String>,
    /// Whom the work is for, for the papers.
    pub client: Option<String>,
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

/// An assembly.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct AssemblyFile {
    /// Name of a built-in assembly, or of one above, that this one is like but for what is said here.
    #[schemars(with = "Option<String>")]
    pub like: Option<Spanned<String>>,
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
    /// Where it comes from, such as a drawing; printed with what it brings.
    pub source: Option<String>,
    /// How sure that is: `high`, `medium` or `low`.
    pub confidence: Option<Confidence>,
    /// Height of a roof's vent channel under the deck, which is not filled.
    #[schemars(with = "Option<String>")]
    pub vent_gap: Option<Spanned<String>>,
    /// Why a roof has no vent channel: then all of its depth is filled, and a warning is printed.
    #[schemars(with = "Option<String>")]
    pub unvented: Option<Spanned<String>>,
    /// Settled thickness of open-blown fill on a ceiling; without it the ceiling is a closed cavity.
    #[schemars(with = "Option<String>")]
    pub thickness: Option<Spanned<String>>,
    /// Thermal resistance that the fill of a ceiling must have, such as `R-49`: the label's coverage table gives its
    /// thickness. With existing fill whose resistance is given, what is missing to it is blown.
    #[schemars(with = "Option<String>")]
    pub r_value: Option<Spanned<String>>,
    /// Board of a ceiling, which carries the fill: `1/2 in`, `1/2 in sag-resistant` or `5/8 in`.
    #[schemars(with = "Option<String>")]
    pub board: Option<Spanned<String>>,
    /// Height from the top of the ceiling board to the underside of the roof deck, above the outer edge of the ceiling.
    #[schemars(with = "Option<String>")]
    pub heel_height: Option<Spanned<String>>,
    /// Slope of the roof above a ceiling, such as `6:12`.
    #[schemars(with = "Option<String>")]
    pub roof_pitch: Option<Spanned<String>>,
    /// Height of the vent channel at the eaves of a ceiling, measured plumb.
    #[schemars(with = "Option<String>")]
    pub baffle_gap: Option<Spanned<String>>,
    /// Edges of a ceiling under eaves: `all`, `long sides`, `short sides` or their length.
    #[schemars(with = "Option<String>")]
    pub eaves: Option<Spanned<String>>,
    /// What holds the fill of a floor from below: `netting` or `board`.
    #[schemars(with = "Option<String>")]
    pub below: Option<Spanned<String>>,
    /// Rules of the layout, for this assembly alone.
    pub layout: LayoutFile,
    /// How the fill gets into its bays: `tube`, `two holes`, `netting` or `open`.
    #[schemars(with = "Option<String>")]
    pub method: Option<Spanned<String>>,
    /// How far netting bulges beyond its framing, as a mean over a bay.
    #[schemars(with = "Option<String>")]
    pub netting_bulge: Option<Spanned<String>>,
    /// Fill that is there already, such as `glass fibre batt 50 %`.
    #[schemars(with = "Option<ExistingFile>")]
    pub existing: Option<Spanned<ExistingFile>>,
    /// What else takes room in its bays, by name: a share of their volume, such as `2 %`.
    #[schemars(with = "BTreeMap<String, String>")]
    pub displaced: BTreeMap<Spanned<String>, Spanned<String>>,
    /// Whether somebody looked for bays that must stay empty.
    pub surveyed: Option<bool>,
    /// Its layers from outside inwards, with `cavity` where the framing stands; they win over those of a model.
    #[schemars(with = "Vec<AssemblyLayerFile>")]
    pub layers: Vec<Spanned<AssemblyLayerFile>>,
}

/// How sure a source is.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(super) enum Confidence {
    /// Measured, or of a document.
    High,
    /// Usual.
    Medium,
    /// A guess.
    Low,
}

/// What some layers are.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct LayerFile {
    /// Which layers: the same as of an assembly. `exposure` is that of the model here.
    pub r#match: Option<MatchFile>,
    /// What they are: `cavity` for the one that holds it, `studs`, `insulation`, `masonry` or `none`.
    pub is: Option<LayerUse>,
    /// What they conduct, such as `0.8 Btu in/(h ft2 F)` or `0.12 W/(m K)`.
    pub conductivity: Option<String>,
    /// Their resistance whatever their thickness, such as `R-4` or `0.7 m2 K/W`; in place of `conductivity`.
    pub resistance: Option<String>,
}

/// The JSON Schema of the job file.
pub fn job_schema() -> Schema {
    schema_for!(JobFile)
}

const ROOT: &[&str] = &[
    "project",
    "exposure",
    "layout",
    "fill",
    "filling",
    "order",
    "labour",
    "crew",
    "papers",
    "tolerance",
    "heat",
    "assembly",
    "layer",
    "surface",
    "site",
    "rig",
];
const PROJECT: &[&str] = &["name", "address", "client"];
const EXPOSURE: &[&str] = &["count", "exterior", "unconditioned", "interior"];
const ASSEMBLY: &[&str] = &[
    "like",
    "framing",
    "depth",
    "fill",
    "match",
    "source",
    "confidence",
    "vent_gap",
    "unvented",
    "thickness",
    "r_value",
    "board",
    "heel_height",
    "roof_pitch",
    "baffle_gap",
    "eaves",
    "below",
    "layout",
    "method",
    "netting_bulge",
    "existing",
    "displaced",
    "surveyed",
    "layers",
];
const LAYER: &[&str] = &["match", "is", "conductivity", "resistance"];

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
        .map_err(|error| {
            let (message, help) = in_words(error.message());
            reader.refuse(error.span().unwrap_or(0..0), message, help);
        })
        .ok()
}

fn first_line(message: &str) -> String {
    message.lines().next().unwrap_or("cannot be read").to_owned()
}

fn check_root(root: &DeTable<'_>, reader: &mut Reader<'_>) {
    check_keys(root, "the job file", ROOT, reader);
    for (key, value) in in_order(root) {
        match (key.get_ref().as_ref(), value.get_ref().as_array()) {
            ("layer", Some(layers)) => check_layers(layers, reader),
            ("surface", Some(surfaces)) => check_surfaces(surfaces, reader),
            _ => {}
        }
        let Some(table) = value.get_ref().as_table() else { continue };
        match key.get_ref().as_ref() {
            "project" => check_keys(table, "`[project]`", PROJECT, reader),
            "exposure" => check_keys(table, "`[exposure]`", EXPOSURE, reader),
            "layout" => check_layout(table, "layout", reader),
            "heat" => check_keys(table, "`[heat]`", HEAT, reader),
            "filling" => check_keys(table, "`[filling]`", FILLING, reader),
            "order" => check_keys(table, "`[order]`", ORDER, reader),
            "tolerance" => check_keys(table, "`[tolerance]`", TOLERANCE, reader),
            "papers" => check_keys(table, "`[papers]`", PAPERS, reader),
            "crew" => check_keys(table, "`[crew]`", CREW, reader),
            "labour" => check_keys(table, "`[labour]`", LABOUR, reader),
            "site" => check_keys(table, "`[site]`", SITE, reader),
            "rig" => check_rigs(table, reader),
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
            if let ("assembly", "layers", Some(layers)) = (section, key.get_ref().as_ref(), inner.get_ref().as_array())
            {
                check_assembly_layers(layers, name, reader);
            }
            let Some(inner) = inner.get_ref().as_table() else { continue };
            match (section, key.get_ref().as_ref()) {
                ("assembly", "layout") => check_layout(inner, &format!("{section}.{name}.layout"), reader),
                ("assembly", "existing") => {
                    check_keys(inner, &format!("`existing` of `[{section}.{name}]`"), EXISTING, reader);
                }
                _ => {}
            }
        }
        if section == "fill" {
            check_lists(name, table, reader);
        }
    }
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
            ("LayoutFile", super::super::layout_file::LAYOUT),
            ("FillFile", FILL),
            ("DepthDensityFile", super::super::fill_file::DEPTH_DENSITY),
            ("CoverageFile", super::super::fill_file::COVERAGE),
            ("CoverageRowFile", super::super::fill_file::COVERAGE_ROW),
            ("FillingFile", FILLING),
            ("OrderFile", ORDER),
            ("LabourFile", LABOUR),
            ("CrewFile", CREW),
            ("PapersFile", PAPERS),
            ("ToleranceFile", TOLERANCE),
            ("HeatFile", HEAT),
            ("AssemblyLayerParts", super::super::heat::ASSEMBLY_LAYER),
            ("ExistingParts", EXISTING),
            ("AssemblyFile", ASSEMBLY),
            ("LayerFile", LAYER),
            ("SurfaceFile", super::super::surface_file::SURFACE),
            ("PlatformFile", super::super::surface_opening::PLATFORM),
            ("OpeningSaidFile", super::super::surface_opening::OPENING_SAID),
            ("OpeningFile", super::super::opening_file::OPENING),
            ("WhereFile", super::super::pattern_file::WHERE),
        ]
        .into_iter()
        .chain(super::super::rig_file::ALL_KEYS.iter().copied())
        {
            assert_eq!(keys(&format!("/$defs/{name}/properties")), sorted(list), "{name}");
        }
    }
}
