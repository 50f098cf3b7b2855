//! What the job says of heat: `[heat]`, the heat of layers by pattern, and the layers of an assembly.

use super::defaults::{JOB_FILE, PRACTICE};
use super::file::{LayerFile, check_keys};
use super::reader::Reader;
use crate::heat::{Films, Grade, LayerHeat};
use crate::model::{Assumption, Pattern};
use crate::units::{
    BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK, Quantity, parse_conductivity, parse_length, parse_resistance,
};
use schemars::JsonSchema;
use serde::Deserialize;
use std::ops::RangeInclusive;
use toml::Spanned;
use toml::de::DeValue;

/// The word for the cavity among the layers of an assembly.
const CAVITY: &str = "cavity";
const LAYERS_HELP: &str = "from outside inwards, `\"cavity\"` once where the framing stands: `layers = [{ name = \"OSB\", \
                           thickness = \"7/16 in\" }, \"cavity\", { name = \"gypsum board\", thickness = \"1/2 in\" }]`";
const ONE_OF_BOTH: &str = "give `conductivity` (times the thickness) or `resistance` (of the layer as it is), not both";

/// What loose fibre may conduct, in watts per metre and kelvin: still air does not reach the one, sawdust not the other.
const FILL_W_MK: RangeInclusive<f64> = 0.026..=0.1;
/// What a building material may conduct: an evacuated panel the one, copper the other.
const MATERIAL_W_MK: RangeInclusive<f64> = 0.002..=400.0;
/// What a layer may resist, in square metres and kelvins per watt; more is a slip.
const MOST_M2K_W: f64 = 50.0;

/// Conductivity of framing where nothing is said of it, in watts per metre and kelvin.
const SOFTWOOD_W_MK: f64 = 0.8 * BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK;
/// Where it comes from.
const SOFTWOOD: &str = "California energy code, JA4: softwood of 4 in., R-5.00";

/// Heat through the surfaces.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct HeatFile {
    /// Whether it is computed, where the layers are known; it is unless this says `false`.
    pub enabled: Option<bool>,
    /// Whose surface films are taken: `ASHRAE` or `ISO 6946`.
    #[schemars(with = "Option<String>")]
    pub films: Option<Spanned<String>>,
    /// Grade of the installation, which says how much of the cavity is void: `I`, `II` or `III`; none unless given.
    #[schemars(with = "Option<String>")]
    pub grade: Option<Spanned<String>>,
    /// Conductivity of the framing, such as `0.8 Btu in/(h ft2 F)` or `0.12 W/(m K)`.
    #[schemars(with = "Option<String>")]
    pub framing_conductivity: Option<Spanned<String>>,
}

/// Keys of `[heat]`.
pub(super) const HEAT: &[&str] = &["enabled", "films", "grade", "framing_conductivity"];

/// A layer of an assembly: the word `cavity`, or a table.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub(super) enum AssemblyLayerFile {
    /// `cavity`: where the framing stands.
    Cavity(String),
    /// Any other layer.
    Layer(AssemblyLayerParts),
}

/// A layer of an assembly. Without conductivity and resistance its name says what it is made of.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct AssemblyLayerParts {
    /// Its name, such as `gypsum board`.
    pub name: String,
    /// Its thickness.
    pub thickness: Option<String>,
    /// Its conductivity, such as `0.8 Btu in/(h ft2 F)` or `0.12 W/(m K)`.
    pub conductivity: Option<String>,
    /// Its resistance as it is, such as `R-4` or `0.7 m2 K/W`.
    pub resistance: Option<String>,
}

/// Keys of a layer of an assembly.
pub(super) const ASSEMBLY_LAYER: &[&str] = &["name", "thickness", "conductivity", "resistance"];

/// What is asked for of heat, and where each value comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatChoice {
    /// Whether it is computed.
    pub is_enabled: bool,
    /// Whose films are taken.
    pub films: Films,
    /// Where that comes from.
    pub films_source: Assumption,
    /// Grade of the installation, where one is asked for.
    pub grade: Option<Grade>,
    /// Conductivity of the framing, in watts per metre and kelvin.
    pub framing_w_mk: f64,
    /// Where that comes from.
    pub framing_source: Assumption,
}

impl Default for HeatChoice {
    fn default() -> Self {
        Self {
            is_enabled: true,
            films: Films::default(),
            films_source: assumption("heat.films", Films::default().word(), "", PRACTICE),
            grade: None,
            framing_w_mk: SOFTWOOD_W_MK,
            framing_source: assumption("heat.framing_conductivity", "0.8", "Btu in/(h ft2 F)", SOFTWOOD),
        }
    }
}

fn assumption(key: &str, value: &str, unit: &str, source: &str) -> Assumption {
    let [key, value, unit, source] = [key, value, unit, source].map(str::to_owned);
    Assumption { key, value, unit, source }
}

impl HeatChoice {
    /// Takes the values that the job file gives under `[heat]`.
    pub(super) fn take(&mut self, file: &HeatFile, reader: &mut Reader<'_>) {
        self.is_enabled = file.enabled.unwrap_or(true);
        if let Some(films) = file.films.as_ref().and_then(|text| reader.word("films", text, &Films::WORDS)) {
            self.films = films;
            self.films_source = assumption("heat.films", films.word(), "", JOB_FILE);
        }
        self.grade = file.grade.as_ref().and_then(|text| reader.word("grade", text, &Grade::WORDS));
        if let Some(text) = &file.framing_conductivity
            && let Some(given) = reader.quantity(text, parse_material_conductivity)
        {
            self.framing_w_mk = given.si;
            self.framing_source = assumption("heat.framing_conductivity", &given.number, &given.unit, JOB_FILE);
        }
    }
}

/// What the job file says of a layer's heat flow.
#[derive(Clone, Debug, PartialEq)]
pub struct GivenHeat {
    /// Conductivity or resistance.
    pub heat: LayerHeat,
    /// As it was written.
    pub value: String,
    /// Its unit, as it was written.
    pub unit: String,
}

/// What the job file says of the heat flow of some layers.
#[derive(Clone, Debug, PartialEq)]
pub struct LayerHeatRule {
    /// Which layers.
    pub pattern: Pattern,
    /// What it says.
    pub given: GivenHeat,
}

/// A layer of an assembly, from outside inwards.
#[derive(Clone, Debug, PartialEq)]
pub enum AssemblyLayer {
    /// Where the framing stands.
    Cavity,
    /// Any other layer.
    Layer {
        /// Its name.
        name: String,
        /// Its thickness, in metres.
        thickness_m: Option<f64>,
        /// What the job file says of its heat flow; `None` where its name must do.
        given: Option<GivenHeat>,
    },
}

/// Reads the conductivity of a fill, within what loose fibre conducts.
pub(super) fn parse_fill_conductivity(text: &str) -> Result<Quantity, String> {
    let read = parse_conductivity(text)?;
    if !FILL_W_MK.contains(&read.si) {
        return Err(format!(
            "`{}` is not what loose fibre conducts: expected about `0.27 Btu in/(h ft2 F)` (0.039 W/(m K))",
            text.trim()
        ));
    }
    Ok(read)
}

/// Reads the conductivity of a material, within what any has.
fn parse_material_conductivity(text: &str) -> Result<Quantity, String> {
    let read = parse_conductivity(text)?;
    let message = || format!("`{}` is not what a building material conducts", text.trim());
    if MATERIAL_W_MK.contains(&read.si) { Ok(read) } else { Err(message()) }
}

/// Reads the resistance of a layer, up to what any has.
fn parse_layer_resistance(text: &str) -> Result<Quantity, String> {
    let read = parse_resistance(text)?;
    let message = || format!("`{}` is more than a layer of a building resists", text.trim());
    if read.si <= MOST_M2K_W { Ok(read) } else { Err(message()) }
}

/// Reads conductivity or resistance; `None` where neither is given.
fn read_given(conductivity: Option<&str>, resistance: Option<&str>) -> Result<Option<GivenHeat>, String> {
    let given = |quantity: Quantity, heat| GivenHeat { heat, value: quantity.number, unit: quantity.unit };
    match (conductivity, resistance) {
        (None, None) => Ok(None),
        (Some(_), Some(_)) => Err(ONE_OF_BOTH.to_owned()),
        (Some(text), None) => parse_material_conductivity(text).map(|read| {
            let heat = LayerHeat::ConductivityWMk(read.si);
            Some(given(read, heat))
        }),
        (None, Some(text)) => parse_layer_resistance(text).map(|read| {
            let heat = LayerHeat::ResistanceM2kW(read.si);
            Some(given(read, heat))
        }),
    }
}

/// The heat of the layers that an entry of `[[layer]]` fits; nothing where it says none, `None` where it is wrong.
pub(super) fn layer_heat_rules(layer: &Spanned<LayerFile>, reader: &mut Reader<'_>) -> Option<Vec<LayerHeatRule>> {
    let file = layer.get_ref();
    match (read_given(file.conductivity.as_deref(), file.resistance.as_deref()), &file.r#match) {
        (Ok(Some(given)), Some(patterns)) => {
            let rule = |pattern| LayerHeatRule { pattern, given: given.clone() };
            Some(patterns.patterns().into_iter().map(rule).collect())
        }
        (Ok(_), _) => Some(Vec::new()),
        (Err(message), _) => {
            reader.refuse(layer.span(), message, "");
            None
        }
    }
}

/// Reads the layers of an assembly; `None` where none are given, or what is given is wrong.
pub(super) fn read_layers(
    layers: &[Spanned<AssemblyLayerFile>],
    reader: &mut Reader<'_>,
) -> Option<Vec<AssemblyLayer>> {
    let first = layers.first()?;
    let mut read = Vec::new();
    for layer in layers {
        match read_layer(layer.get_ref()) {
            Ok(one) => read.push(one),
            Err(message) => reader.refuse(layer.span(), message, LAYERS_HELP),
        }
    }
    let cavities = read.iter().filter(|layer| **layer == AssemblyLayer::Cavity).count();
    if read.len() == layers.len() && cavities != 1 {
        let message = format!("`layers` has {cavities} cavities: expected one");
        reader.refuse(first.span(), message, LAYERS_HELP);
    }
    (cavities == 1 && read.len() == layers.len()).then_some(read)
}

fn read_layer(file: &AssemblyLayerFile) -> Result<AssemblyLayer, String> {
    let parts = match file {
        AssemblyLayerFile::Cavity(word) if word.trim().eq_ignore_ascii_case(CAVITY) => {
            return Ok(AssemblyLayer::Cavity);
        }
        AssemblyLayerFile::Cavity(word) => return Err(format!("`{}` is no layer", word.trim())),
        AssemblyLayerFile::Layer(parts) => parts,
    };
    let name = parts.name.trim();
    if name.is_empty() {
        return Err("a layer has no `name`".to_owned());
    }
    let thickness_m = match parts.thickness.as_deref().map(|text| (text, parse_length(text, None, false))) {
        Some((_, Ok(thickness_m))) if thickness_m > 0.0 => Some(thickness_m),
        Some((text, Ok(_))) => return Err(format!("`{}` must be more than zero", text.trim())),
        Some((_, Err(error))) => return Err(format!("layer `{name}`: {}", error.message)),
        None => None,
    };
    let given = read_given(parts.conductivity.as_deref(), parts.resistance.as_deref())
        .map_err(|message| format!("layer `{name}`: {message}"))?;
    if thickness_m.is_none() && given.as_ref().is_some_and(|given| given.heat.conductivity_w_mk().is_some()) {
        return Err(format!("layer `{name}` has a conductivity and no `thickness`"));
    }
    Ok(AssemblyLayer::Layer { name: name.to_owned(), thickness_m, given })
}

/// Checks the keys of the layers of an assembly.
pub(super) fn check_assembly_layers(layers: &[Spanned<DeValue<'_>>], assembly: &str, reader: &mut Reader<'_>) {
    for table in layers.iter().filter_map(|layer| layer.get_ref().as_table()) {
        check_keys(table, &format!("a layer of `[assembly.{assembly}]`"), ASSEMBLY_LAYER, reader);
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;

    const TEXT: &str = r#"
[heat]
films = "ISO 6946"
grade = "II"
framing_conductivity = "0.12 W/(m K)"
[fill.cellulose]
conductivity = "0.27 Btu in/(h ft2 F)"
[[layer]]
match = { layer = "Foam*" }
conductivity = "0.035 W/(m K)"
[assembly.outer]
framing = "2x6 @ 16 in"
layers = [
  { name = "siding", resistance = "R-0.62" },
  { name = "OSB", thickness = "7/16 in" },
  "cavity",
  { name = "board", thickness = "1/2 in", conductivity = "0.16 W/(m K)" },
]
[assembly.like]
like = "outer"
"#;

    #[test]
    fn layers_films_and_grade_are_read_with_their_units() {
        let job = read_job("job.toml", TEXT).unwrap();
        assert_eq!((job.heat.films, job.heat.grade), (Films::Iso6946, Some(Grade::Ii)));
        assert!((job.heat.framing_w_mk - 0.12).abs() < 1e-12);
        // 0.27 x 0.144 227 9 W/(m K): NIST SP 811, appendix B.8.
        assert!((job.fills[0].conductivity_w_mk.unwrap() - 0.038_941_5).abs() < 1e-6);
        assert_eq!((job.layer_heat.len(), job.layer_rules.len()), (1, 0));
        let layers = job.assemblies[0].layers.as_ref().unwrap();
        assert_eq!((layers.len(), &layers[2]), (4, &AssemblyLayer::Cavity));
        assert_eq!(job.assemblies[1].layers, job.assemblies[0].layers);
    }

    #[test]
    fn framing_is_the_softwood_of_the_table() {
        let wood = crate::heat::material_entry(crate::model::LayerMaterial::Wood).unwrap();
        let heat = HeatChoice::default();
        assert!((wood.heat.conductivity_w_mk().unwrap() - heat.framing_w_mk).abs() < 1e-15);
        let framing = &heat.framing_source;
        assert_eq!((&framing.value, &framing.unit, &framing.source), (&wood.value, &wood.unit, &wood.source));
    }

    #[test]
    fn what_is_wrong_is_refused_at_its_place() {
        let of = |layers: &str| format!("[assembly.x]\nframing = \"2x4 @ 16 in\"\nlayers = {layers}\n");
        for (text, found) in [
            (of("[\"cavty\"]"), "`cavty` is no layer"),
            (of("[{ name = \"OSB\", thickness = \"1/2 in\" }]"), "0 cavities"),
            (of("[\"cavity\", \"cavity\"]"), "2 cavities"),
            (of("[\"cavity\", { thickness = \"1/2 in\" }]"), "no `name`"),
            (of("[\"cavity\", { name = \"x\", thickness = \"12\" }]"), "no unit"),
            (of("[\"cavity\", { name = \"x\", conductivity = \"0.1 W/(m K)\" }]"), "no `thickness`"),
            (of("[\"cavity\", { name = \"x\", resistance = \"0.45\" }]"), "no unit"),
            (of("[\"cavity\", { name = \"x\", resistance = \"R-1\", conductivity = \"1 W/mK\" }]"), "not both"),
            (of("[\"cavity\", { name = \"x\", lambda = \"1\" }]"), "has no key `lambda`"),
            ("[[layer]]\nmatch = \"a*\"\nresistance = \"4\"\n".to_owned(), "no unit"),
            ("[[layer]]\nresistance = \"R-4\"\n".to_owned(), "`match`"),
            ("[heat]\nfilms = \"DIN\"\n".to_owned(), "`films` cannot be `DIN`"),
            ("[heat]\ngrade = \"IV\"\n".to_owned(), "`grade` cannot be `IV`"),
            ("[fill.cellulose]\nconductivity = \"0.04\"\n".to_owned(), "no unit"),
            ("[fill.cellulose]\nconductivity = \"0.4 W/(m K)\"\n".to_owned(), "loose fibre"),
            ("[heat]\nframing_conductivity = \"0.0001 W/(m K)\"\n".to_owned(), "building material"),
            (of("[\"cavity\", { name = \"x\", resistance = \"R-4000\" }]"), "more than a layer"),
        ] {
            let refusals = read_job("job.toml", &text).unwrap_err();
            assert!(refusals[0].message.contains(found), "{text}: {}", refusals[0].message);
            assert!(refusals[0].place.line.is_some(), "{text}");
        }
    }
}
