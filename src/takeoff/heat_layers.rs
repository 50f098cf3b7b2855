//! The layers of a surface with what they resist, from the job file or the model, and why they are not known.

use super::plan::Plan;
use crate::heat::{Film, HeatFlow, HeatLayer, LayerHeat, material_entry};
use crate::job::{Assembly, AssemblyLayer, Assigned, GivenHeat, Job, Rule};
use crate::model::{
    Assumption, Exposure, Layer, LayerMaterial, Subject, Surface, SurfaceKind, is_insulation, layer_material,
};

/// Why a surface without layers has no R.
pub(super) const LAYERS_NOT_GIVEN: &str = "layers not given";
const CAVITY_NOT_KNOWN: &str = "which layer holds the cavity is not known";
const VENTED: &str = "vented roof: which layers lie outside its channel is not known";

/// Films and layers of a surface, and the assumptions behind them.
#[derive(Debug, Default)]
pub(super) struct Layers {
    pub layers: Vec<HeatLayer>,
    pub assumptions: Vec<Assumption>,
}

/// Finds them: of the assembly where the job file gives its layers, else of the model.
pub(super) fn layers_of(
    surface: &Surface,
    plan: &Plan<'_>,
    assigned: &Assigned<'_>,
    job: &Job,
) -> Result<Layers, String> {
    let is_vented = surface.kind == SurfaceKind::Roof && assigned.layout.enclosure.vent_gap_m.is_some();
    let mut found = Layers::default();
    let mut between = Layers::default();
    match assembly_of(surface, plan, assigned, job).and_then(|assembly| Some((assembly, assembly.layers.as_ref()?))) {
        Some((assembly, layers)) => {
            // Air from outdoors moves through the channel: what lies outside it does not count.
            let behind = layers.iter().skip_while(|layer| is_vented && **layer != AssemblyLayer::Cavity);
            for layer in behind {
                if let AssemblyLayer::Layer { name, thickness_m, given } = layer {
                    let key = format!("assembly.{}.layers.{name}", assembly.name);
                    take(name, *thickness_m, given.as_ref().map(|given| (given, key)), &mut between)?;
                }
            }
        }
        None if surface.layers.is_empty() => return Err(LAYERS_NOT_GIVEN.to_owned()),
        None if is_vented => return Err(VENTED.to_owned()),
        None => of_model(surface, job, &mut between)?,
    }
    add_film(true, surface, plan, is_vented, job, &mut found);
    found.layers.append(&mut between.layers);
    found.assumptions.append(&mut between.assumptions);
    add_film(false, surface, plan, is_vented, job, &mut found);
    Ok(found)
}

/// The assembly that a surface is framed by, else, where a sheet or the model says how it is framed, the first with layers
/// that fits it.
fn assembly_of<'j>(surface: &Surface, plan: &Plan<'_>, assigned: &Assigned<'_>, job: &'j Job) -> Option<&'j Assembly> {
    // The id of a sheet's row is its name.
    let id = surface.source.line.map(|_| surface.id.as_str());
    let of_surface = Subject::of(surface, plan.exposure);
    let subject = Subject { name: of_surface.name.or(id), ..of_surface };
    let names = || surface.layers.iter().map(|layer| layer.material.as_str());
    let fits = |assembly: &&Assembly| {
        assembly.layers.is_some() && assembly.matches.iter().any(|pattern| pattern.fits(&subject, names()))
    };
    match assigned.rule {
        Rule::Sheet | Rule::Model => job.assemblies.iter().find(fits),
        Rule::Assembly(_) | Rule::BuiltIn(_) | Rule::Frame(_) => job.assembly_of(assigned),
    }
}

fn of_model(surface: &Surface, job: &Job, found: &mut Layers) -> Result<(), String> {
    let cavity = surface.cavity_layer.ok_or_else(|| CAVITY_NOT_KNOWN.to_owned())?;
    let subject = Subject::of(surface, surface.exposure);
    for (index, layer) in surface.layers.iter().enumerate().filter(|(index, _)| *index != cavity) {
        let fits = |name: &str| job.layer_heat.iter().find(|r| r.pattern.fits(&subject, std::iter::once(name)));
        let given = fits(&layer.material).map(|rule| (&rule.given, format!("layer.{}", layer.material)));
        take(&name_of(layer, index), Some(layer.thickness_m), given, found)?;
    }
    Ok(())
}

fn name_of(layer: &Layer, index: usize) -> String {
    if layer.material.trim().is_empty() { format!("layer {}", index + 1) } else { layer.material.clone() }
}

/// Takes a layer, with what the job file says of it, else with what its name says.
fn take(
    name: &str,
    thickness_m: Option<f64>,
    given: Option<(&GivenHeat, String)>,
    found: &mut Layers,
) -> Result<(), String> {
    let (heat, assumption) = match given {
        Some((given, key)) => (given.heat, assumed(key, &given.value, &given.unit, "job file")),
        None => by_name(name)?,
    };
    // A membrane or an air layer may be drawn without a thickness.
    let thickness_m = thickness_m.filter(|thickness_m| *thickness_m > 0.0);
    let resistance_m2k_w =
        heat.resistance_m2k_w(thickness_m).ok_or_else(|| format!("thickness of the layer `{name}` not given"))?;
    found.layers.push(HeatLayer {
        name: name.to_owned(),
        thickness_m,
        conductivity_w_mk: heat.conductivity_w_mk(),
        resistance_m2k_w,
        source: assumption.source.clone(),
    });
    found.assumptions.push(assumption);
    Ok(())
}

fn by_name(name: &str) -> Result<(LayerHeat, Assumption), String> {
    let material = layer_material(name);
    if let Some(entry) = material.and_then(material_entry) {
        let key = format!("heat.{}", entry.material.word());
        return Ok((entry.heat, assumed(key, &entry.value, &entry.unit, &entry.source)));
    }
    Err(match material {
        Some(LayerMaterial::Air) => format!("resistance of the air layer `{name}` not given, which may be ventilated"),
        _ if is_insulation(name) => format!("conductivity of the insulation `{name}` not given"),
        _ => format!("conductivity of the layer `{name}` not known"),
    })
}

fn assumed(key: String, value: &str, unit: &str, source: &str) -> Assumption {
    Assumption { key, value: value.to_owned(), unit: unit.to_owned(), source: source.to_owned() }
}

/// The film of one side: that of the outdoors, too, where nobody says what lies there. Towards an unheated or another heated room, and above the channel of a vented roof, the air
/// stands as still as inside.
///
/// # Source
/// ISO 6946:2017, 6.9.4 (2007: 5.3.4), from memory, for what lies behind a well ventilated layer; that the film towards an
/// unheated room is an inside one: common practice, no source.
fn add_film(is_outer: bool, surface: &Surface, plan: &Plan<'_>, is_vented: bool, job: &Job, found: &mut Layers) {
    let flow = HeatFlow::through(surface.kind, surface.pitch_deg);
    let faces_outdoors =
        is_outer && !is_vented && !matches!(plan.exposure, Exposure::Unconditioned | Exposure::Interior);
    let films = job.heat.films;
    let (film, which): (Film, &str) = match (faces_outdoors, flow) {
        (true, _) => (films.outside(), "outdoors"),
        (false, HeatFlow::Horizontal) => (films.inside(flow), "still air"),
        (false, HeatFlow::Up) => (films.inside(flow), "still air, heat up"),
        (false, HeatFlow::Down) => (films.inside(flow), "still air, heat down"),
    };
    let side = if is_outer { "outer" } else { "inner" };
    found.layers.push(HeatLayer {
        name: format!("{side} film ({which})"),
        thickness_m: None,
        conductivity_w_mk: None,
        resistance_m2k_w: film.resistance_m2k_w,
        source: film.source.to_owned(),
    });
    found.assumptions.push(assumed(format!("heat.film ({which})"), film.value, film.unit, film.source));
}
