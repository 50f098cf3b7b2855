//! Building models in IFC, as exchange files of ISO 10303-21 (IFC2X3, IFC4, IFC4X3).
//!
//! A file is scanned once; records are decoded when they are asked for. Bodies are read as solids
//! and cut by the plane of their cavity layer; nothing is meshed.
//! Invariant: the only place that names IFC classes; knows nothing of framing or fill.

mod axes;
mod bands;
mod bends;
mod body;
mod brep;
mod by_x;
mod bytes;
mod cavity;
mod chimneys;
mod chunks;
mod class;
mod container;
mod context;
mod corners;
mod csg;
mod curve;
mod edge;
mod element;
mod exposure;
mod extend;
mod face_set;
mod file;
mod framed;
mod index;
mod kind;
mod layers;
mod loft;
mod many_planes;
mod meet;
mod meetings;
mod members;
mod openings;
mod paths;
mod pipe;
mod placed;
mod placement;
mod plate;
mod profile;
mod proxy;
mod quantities;
mod quantity_cause;
mod record;
mod relations;
mod ruled;
mod scan;
mod shape;
mod sides;
mod spaces;
mod stack;
mod standing;
mod steel;
mod swept;
mod text;
mod trouble;
mod units;
mod unrolled;
mod written;

pub use container::is_model;
pub use extend::{ModelText, Schema, model_text};
pub use written::written;

use super::Progress;
use crate::digest::sha256 as digest;
use crate::finding::{Code, Finding, Severity};
use crate::model::{Building, Input, InputKind, LayerRule, Surface, SurfaceKind};
use crate::refusal::Refusal;
use crate::source::{Place, Source};
use crate::tally::LeftOutElement;
use chimneys::Chimneys;
use class::Class;
use context::Context;
use element::{Element, class_name};
use exposure::Exposures;
use file::File;
use kind::Role;
use members::FreeMembers;
use placed::Placed;
use rayon::prelude::*;
use relations::Relations;
use std::collections::{BTreeMap, HashMap, HashSet};
use trouble::Trouble;

/// Classes whose elements are measured, or named and left out.
const READ: [Class; 8] = [
    Class::Wall,
    Class::WallStandardCase,
    Class::WallElementedCase,
    Class::Slab,
    Class::Roof,
    Class::Covering,
    Class::CurtainWall,
    Class::Plate,
];

/// Reads a building model.
///
/// # Errors
/// A file that is no exchange file, breaks its form, or states no length unit.
pub fn read(path: &str, bytes: &[u8]) -> Result<Building, Refusal> {
    read_watched(path, bytes, &[], &Progress::default())
}

/// The same, with what the job file says of layers, for somebody who watches how far it has come.
///
/// # Errors
/// As [`read`].
pub fn read_watched(
    path: &str,
    bytes: &[u8],
    layer_rules: &[LayerRule],
    progress: &Progress,
) -> Result<Building, Refusal> {
    read_loaded(path, bytes, None, layer_rules, progress)
}

/// The same, for bytes whose checksum may be known already.
///
/// # Errors
/// As [`read`].
pub(super) fn read_loaded(
    path: &str,
    bytes: &[u8],
    sha256: Option<String>,
    layer_rules: &[LayerRule],
    progress: &Progress,
) -> Result<Building, Refusal> {
    let content = container::unpack(path, bytes)?;
    let (file, sha256) = rayon::join(|| File::open(path, &content), || sha256.unwrap_or_else(|| digest(bytes)));
    let file = file?;
    let units = units::read(&file)?;
    let elements: Vec<(Class, u64)> =
        file.indexed().iter().copied().filter(|(class, _)| READ.contains(class)).collect();
    let others = [Class::Proxy, Class::Space, Class::Chimney].into_iter().flat_map(|class| file.of_class(class));
    let ids: HashSet<u64> = elements.iter().map(|(_, id)| *id).chain(others).collect();
    let relations = Relations::read(&file, &ids);
    let mut building =
        Building { inputs: vec![input(&file, sha256, &units)], findings: file.form_findings(), ..Building::default() };
    building.findings.extend(file_findings(&file, &elements));
    building.findings.extend(relations.troubles.iter().map(|trouble| finding(&file, trouble, None)));
    let (free, exposures) = rayon::join(
        || FreeMembers::read(&file, &relations, &units),
        || Exposures::read(&file, &relations, &units, &elements),
    );
    building.findings.extend(exposures.findings.iter().cloned());
    let chimneys = Chimneys::read(&file, &relations, &units);
    let read = Read {
        file: &file,
        units: &units,
        relations: &relations,
        free: &free,
        exposures: &exposures,
        chimneys: &chimneys,
        layer_rules,
    };
    progress.expect(elements.len());
    let measure = |(class, id): &(Class, u64)| {
        let outcome = element(&read, *class, *id);
        progress.step();
        outcome
    };
    let measured: Vec<Outcome> = elements.par_iter().map(measure).collect();
    let mut placed = Vec::new();
    for outcome in measured {
        placed.extend(outcome.placed.map(|placed| (building.surfaces.len(), placed)));
        building.surfaces.extend(outcome.surfaces);
        building.left_out.extend(outcome.left_out);
        building.findings.extend(outcome.findings);
    }
    meet::fill_in(&file, &placed, &mut building.surfaces);
    building.findings.extend(quantities_of_wholes(&file, &units, &relations, &building.surfaces));
    for (left_out, trouble, element) in proxy::left_out(&file, &relations) {
        building.left_out.push(left_out);
        building.findings.push(finding(&file, &trouble, Some(&element)));
    }
    building.findings.extend(duplicate_ids(&file, &building.surfaces));
    building.findings.extend(steel::steel_studs(path, &building.surfaces));
    Ok(building)
}

fn input(file: &File<'_>, sha256: String, units: &units::Units) -> Input {
    Input {
        path: file.path().to_owned(),
        sha256,
        kind: InputKind::Ifc,
        schema: Some(file.schema.clone().unwrap_or_else(|| "IFC4".to_owned())),
        length_unit: Some(units.length_name.clone()),
    }
}

/// What became of one element.
struct Outcome {
    surfaces: Vec<Surface>,
    placed: Option<Placed>,
    left_out: Option<LeftOutElement>,
    findings: Vec<Finding>,
}

/// What every element is read with.
struct Read<'a> {
    file: &'a File<'a>,
    units: &'a units::Units,
    relations: &'a Relations,
    free: &'a FreeMembers,
    exposures: &'a Exposures,
    chimneys: &'a Chimneys,
    layer_rules: &'a [LayerRule],
}

fn element(read: &Read<'_>, class: Class, id: u64) -> Outcome {
    let Read { file, units, relations, free, exposures, chimneys, layer_rules } = *read;
    let (mut element, mut troubles) = match Element::read(file, relations, class, id) {
        Ok(read) => read,
        Err(trouble) => return unreadable(file, class, id, &trouble),
    };
    element.exposure = exposures.of_element(id);
    troubles.extend(relations.wholes_of(id).err());
    let mut context = Context::new(file, units.length_m, units.angle_rad);
    context.layer_rules = layer_rules;
    context.chimneys = chimneys;
    let role = file.record(id).map(|record| kind::role(file, relations, class, &element, &record));
    let measured = match role {
        Ok(Role::Surface(kind)) => plate::measure(&context, relations, free, &element, kind).map_err(|trouble| {
            let reason = trouble.message.clone();
            context.note(trouble);
            reason
        }),
        Ok(Role::Whole) => Err("measured by its parts".to_owned()),
        Ok(Role::LeftOut(reason)) => Err(reason),
        Err(trouble) => Err(trouble.message),
    };
    troubles.extend(context.into_notes());
    let (surfaces, placed, reason) = match measured {
        Ok(measured) => (measured.surfaces, measured.placed, None),
        Err(reason) => (Vec::new(), None, Some(reason)),
    };
    troubles.extend(quantities::compare(file, units, relations, &element, &surfaces.iter().collect::<Vec<_>>()));
    let left_out = reason.map(|reason| LeftOutElement {
        id: element.global_id.clone(),
        class: element.class.to_owned(),
        name: element.name.clone(),
        reason,
        source: Source::of_entity(file.path(), id),
    });
    let findings = troubles.iter().map(|trouble| finding(file, trouble, Some(&element))).collect();
    Outcome { surfaces, placed, left_out, findings }
}

/// What the model states of roofs that are measured by their parts.
fn quantities_of_wholes(
    file: &File<'_>,
    units: &units::Units,
    relations: &Relations,
    surfaces: &[Surface],
) -> Vec<Finding> {
    let mut wholes: BTreeMap<u64, Vec<&Surface>> = BTreeMap::new();
    let mut own: HashSet<u64> = HashSet::new();
    for surface in surfaces.iter().filter(|surface| surface.kind != SurfaceKind::Wall) {
        let entity = surface.source.entity.as_deref().and_then(|entity| entity.trim_start_matches('#').parse().ok());
        own.extend(entity);
        for whole in entity.and_then(|entity| relations.wholes_of(entity).ok()).unwrap_or_default() {
            wholes.entry(whole).or_default().push(surface);
        }
    }
    let mut findings = Vec::new();
    for roof in file.of_class(Class::Roof).filter(|roof| !own.contains(roof)) {
        let Some(parts) = wholes.get(&roof) else { continue };
        let Ok((element, _)) = Element::read(file, relations, Class::Roof, roof) else { continue };
        let troubles = quantities::compare(file, units, relations, &element, parts);
        findings.extend(troubles.iter().map(|trouble| finding(file, trouble, Some(&element))));
    }
    findings
}

fn unreadable(file: &File<'_>, class: Class, id: u64, trouble: &Trouble) -> Outcome {
    let left_out = LeftOutElement {
        id: format!("#{id}"),
        class: class_name(class).to_owned(),
        name: None,
        reason: trouble.message.clone(),
        source: Source::of_entity(file.path(), id),
    };
    Outcome {
        surfaces: Vec::new(),
        placed: None,
        left_out: Some(left_out),
        findings: vec![finding(file, trouble, None)],
    }
}

/// A trouble as a finding; one that lies in another record also names the element that needs it.
fn finding(file: &File<'_>, trouble: &Trouble, element: Option<&Element>) -> Finding {
    let global_id = element.map(|element| element.global_id.as_str());
    let place = file.place(trouble.entity, global_id);
    let of_wall = match element {
        Some(element) if element.entity != trouble.entity => {
            format!("{} (needed by {} #{})", trouble.message, element.class, element.entity)
        }
        _ => trouble.message.clone(),
    };
    match trouble.severity {
        Severity::Note => Finding::note(trouble.code, &place, of_wall),
        Severity::Warning => Finding::warning(trouble.code, &place, of_wall),
        Severity::Error => Finding::error(trouble.code, &place, of_wall),
    }
}

/// Findings about the file as a whole.
fn file_findings(file: &File<'_>, elements: &[(Class, u64)]) -> Vec<Finding> {
    let mut findings = Vec::new();
    if elements.is_empty() {
        let message = "the model has no walls, roofs, slabs or coverings; nothing is measured";
        findings.push(Finding::warning(Code::NothingToMeasure, &Place::input(file.path()), message));
    }
    let projects: Vec<u64> = file.of_class(Class::Project).collect();
    if let [first, second, ..] = projects.as_slice() {
        let message = format!("{} projects in one file; the units of #{first} are used for all", projects.len());
        findings.push(Finding::warning(Code::DuplicateRelation, &file.place(*second, None), message));
    }
    findings.extend(schema_doubt(file, elements));
    findings
}

/// `IfcWall` has 8 attributes in IFC2X3 and 9 from IFC4 on.
fn schema_doubt(file: &File<'_>, elements: &[(Class, u64)]) -> Option<Finding> {
    let due = if file.is_schema("IFC2X3") { 8 } else { 9 };
    let name = file.schema.as_deref().unwrap_or("IFC4");
    let walls = elements.iter().filter(|(class, _)| *class == Class::Wall);
    let odd = walls.into_iter().find_map(|(_, id)| {
        let found = file.record(*id).ok()?.len();
        (found != due).then_some((*id, found))
    });
    let (id, found) = odd?;
    let message =
        format!("the header says {name}, but a wall has {found} arguments ({due} due); it is read all the same");
    Some(Finding::warning(Code::SchemaDoubt, &file.place(id, None), message))
}

fn duplicate_ids(file: &File<'_>, surfaces: &[Surface]) -> Vec<Finding> {
    let mut first: HashMap<&str, &str> = HashMap::new();
    let mut findings = Vec::new();
    for surface in surfaces.iter().filter(|surface| surface.part == 0) {
        let entity = surface.source.entity.as_deref().unwrap_or_default();
        if let Some(other) = first.insert(&surface.id, entity) {
            let number = entity.trim_start_matches('#').parse().unwrap_or(0);
            let message = format!("{other} and {entity} share one GlobalId; both are kept");
            findings.push(Finding::warning(Code::DuplicateGlobalId, &file.place(number, Some(&surface.id)), message));
        }
    }
    findings
}
