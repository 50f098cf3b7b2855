//! Framing that the model itself gives: members that are parts of an element, or stand inside it.

use super::body::{body, extent};
use super::by_x::{Corners, corners_of};
use super::context::Context;
use super::element::Element;
use super::file::File;
use super::openings::Found;
use super::placement::Chain;
use super::record::Record;
use super::relations::Relations;
use super::text::decode;
use super::trouble::Trouble;
use super::units::Units;
use crate::finding::Code;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{
    Bounds, Frame, Plane, Polygon, Solid, Vector, difference, intersection, section, total_area_m2, welded_within,
};
use crate::model::GivenMember;
use crate::source::Source;
use rayon::prelude::*;
use std::collections::HashSet;

/// Classes of members, by keyword.
const MEMBERS: [&str; 7] = [
    "IFCMEMBER",
    "IFCMEMBERSTANDARDCASE",
    "IFCBEAM",
    "IFCBEAMSTANDARDCASE",
    "IFCCOLUMN",
    "IFCCOLUMNSTANDARDCASE",
    "IFCPLATE",
];
/// How far a member may stand out of the element that it is inside of, in metres.
const STANDS_OUT_M: f64 = 0.005;
/// As many members inside an element as make its framing: fewer are posts and beams among studs.
const FEWEST: usize = 3;
/// Members that take less than this are not cut by the plane, in square metres.
const NOTHING_M2: f64 = 1e-6;
/// Deeper than this no part is a part of others.
const DEEPEST: usize = 16;

/// A part of an element, as a solid in the element's frame.
pub struct Part {
    entity: u64,
    global_id: String,
    /// Whether it is a member, not a board or another layer.
    pub is_member: bool,
    /// Its body.
    pub solid: Solid,
}

/// The parts of an element that have bodies, through assemblies, in the order of the file.
pub fn parts_of(context: &Context<'_>, relations: &Relations, element: &Element, chain: &Chain) -> Vec<Part> {
    let (mut parts, mut seen) = (Vec::new(), HashSet::from([element.entity]));
    let mut open: Vec<(u64, usize)> = children(relations, element.entity, 0);
    open.reverse();
    while let Some((id, depth)) = open.pop() {
        if !seen.insert(id) || depth > DEEPEST {
            continue;
        }
        match part(context, id, chain) {
            Ok(found) => parts.extend(found),
            Err(trouble) => context.note(trouble),
        }
        open.extend(children(relations, id, depth).into_iter().rev());
    }
    parts
}

fn children(relations: &Relations, id: u64, depth: usize) -> Vec<(u64, usize)> {
    relations.parts.get(&id).into_iter().flatten().map(|part| (*part, depth + 1)).collect()
}

fn part(context: &Context<'_>, id: u64, host: &Chain) -> Result<Option<Part>, Trouble> {
    let record = context.file.record(id)?;
    let Some(shape) = record.optional_reference(6) else { return Ok(None) };
    let chain = Chain::read(context.file, record.optional_reference(5).map(|p| (id, p)), context.length_m);
    match body(context, id, shape, &chain.seen_from(host)) {
        Ok(solid) => Ok(Some(Part { entity: id, global_id: global_id(&record), is_member: is_member(&record), solid })),
        // An assembly has an axis or a box and leaves the body to its parts.
        Err(trouble) if trouble.code == Code::NoBody => Ok(None),
        Err(trouble) => Err(trouble),
    }
}

fn is_member(record: &Record<'_>) -> bool {
    MEMBERS.iter().any(|class| record.is(class))
}

fn global_id(record: &Record<'_>) -> String {
    record.string(0).map_or_else(|| format!("#{}", record.id), |raw| decode(raw).text)
}

/// Members that are no part of another element, with their boxes in the world.
#[derive(Debug, Default)]
pub struct FreeMembers {
    boxes: Vec<(u64, Corners)>,
}

impl FreeMembers {
    /// Finds them; a member that cannot be read is a trouble of its own only where it is cut.
    pub fn read(file: &File<'_>, relations: &Relations, units: &Units) -> Self {
        let members: Vec<u64> = file
            .indexed()
            .iter()
            .filter(|(class, id)| class.is_member() && !relations.wholes.contains_key(id))
            .map(|(_, id)| *id)
            .collect();
        let boxed = |id: &u64| Some((*id, world_box_of(file, units, *id)?));
        Self { boxes: members.par_iter().filter_map(boxed).collect() }
    }

    /// Members whose box meets that of an element.
    fn near(&self, world: &Corners) -> impl Iterator<Item = u64> + '_ {
        let (low, high) = *world;
        let meets = move |(min, max): &Corners| {
            (0..3).all(|axis| part_of(min, axis) < part_of(&high, axis) && part_of(max, axis) > part_of(&low, axis))
        };
        self.boxes.iter().filter(move |(_, other)| meets(other)).map(|(id, _)| *id)
    }
}

fn part_of(vector: &Vector, axis: usize) -> f64 {
    vector.get(axis).copied().unwrap_or(0.0)
}

/// The box around an element in the world; `None` where it has no body that can be read.
pub fn world_box_of(file: &File<'_>, units: &Units, id: u64) -> Option<Corners> {
    let context = Context::new(file, units.length_m, units.angle_rad);
    let record = file.record(id).ok()?;
    let chain = Chain::read(file, record.optional_reference(5).map(|p| (id, p)), units.length_m);
    let solid = body(&context, id, record.optional_reference(6)?, &Frame::identity()).ok()?;
    corners_of(&solid, &chain.world())
}

/// What members are cut out of: an element, its plane, and how far it reaches through it.
pub struct Cutting<'a> {
    /// The element.
    pub element: &'a Element,
    /// Its placement.
    pub chain: &'a Chain,
    /// Its body.
    pub solid: &'a Solid,
    /// The plane of the section.
    pub plane: &'a Plane,
    /// Lower end of the body along the plane's normal, in metres.
    pub low_m: f64,
    /// Upper end.
    pub high_m: f64,
}

/// The members of an element in its plane, and whether they are all of its framing.
pub fn given(
    context: &Context<'_>,
    relations: &Relations,
    free: &FreeMembers,
    cutting: &Cutting<'_>,
    found: &Found,
) -> (Vec<GivenMember>, bool) {
    let taken = |parts: Vec<Part>| cut_members(context, sections(context, parts, cutting.plane), found);
    let mut members = taken(parts_of(context, relations, cutting.element, cutting.chain));
    let is_whole = !members.is_empty();
    let others = taken(inside(context, free, cutting));
    let makes_framing = others.len() >= FEWEST;
    if !is_whole && !makes_framing && !others.is_empty() {
        let message = format!(
            "{} members of the model stand inside it; they are taken out, and studs are laid out around them",
            others.len()
        );
        context.note(Trouble::new(Code::MembersInside, cutting.element.entity, message));
    }
    members.extend(others);
    (members, is_whole || makes_framing)
}

/// Free members that lie within the thickness of an element.
fn inside(context: &Context<'_>, free: &FreeMembers, cutting: &Cutting<'_>) -> Vec<Part> {
    let Some(world) = corners_of(cutting.solid, &cutting.chain.world()) else { return Vec::new() };
    let mut parts = Vec::new();
    for id in free.near(&world) {
        // One that cannot be read was not found to be near.
        let Ok(Some(part)) = part(context, id, cutting.chain) else { continue };
        let within = extent(&[&part.solid], &cutting.plane.normal)
            .is_some_and(|(low, high)| low >= cutting.low_m - STANDS_OUT_M && high <= cutting.high_m + STANDS_OUT_M);
        if within {
            parts.push(part);
        }
    }
    parts
}

/// Parts as the plane of their element cuts them, with corners that all but touch made to touch.
///
/// Models leave studs and plates apart by rounding, and a slit between them would join two bays.
pub fn sections(context: &Context<'_>, parts: Vec<Part>, plane: &Plane) -> Vec<(Part, Vec<Polygon>)> {
    let mut cut: Vec<(Part, Vec<Polygon>)> = Vec::new();
    for part in parts {
        match section(&part.solid, plane) {
            Ok(polygons) if !polygons.is_empty() => cut.push((part, polygons)),
            Ok(_) => {}
            Err(_) => {
                let message = "the body of this part is not closed where it is cut; it is not taken out";
                context.note(Trouble::new(Code::BodyOpen, part.entity, message));
            }
        }
    }
    let layers: Vec<&[Polygon]> = cut.iter().map(|(_, polygons)| polygons.as_slice()).collect();
    let welded = welded_within(&layers, COINCIDENT_M);
    cut.into_iter().zip(welded).map(|((part, _), polygons)| (part, polygons)).collect()
}

/// Members in the plane of a surface whose gross outline and openings are known.
pub fn cut_members(context: &Context<'_>, cut: Vec<(Part, Vec<Polygon>)>, found: &Found) -> Vec<GivenMember> {
    let openings: Vec<Polygon> = found.openings.iter().flat_map(|opening| opening.outline.iter().cloned()).collect();
    let [dx, dy] = found.origin;
    let mut members = Vec::new();
    for (part, polygons) in cut.into_iter().filter(|(part, _)| part.is_member) {
        let moved: Vec<Polygon> = polygons.iter().map(|polygon| polygon.translated(-dx, -dy)).collect();
        let outline = difference(&intersection(&moved, &found.gross), &openings);
        if total_area_m2(&outline) > NOTHING_M2 {
            let source = Source::of_entity(context.file.path(), part.entity);
            members.push(GivenMember { id: part.global_id, source, outline });
        }
    }
    members
}

/// Bays far wider than the usual one: most likely openings that the model does not give.
pub fn odd_bays(gross: &[Polygon], members: &[GivenMember]) -> Vec<Bounds> {
    let taken: Vec<Polygon> = members.iter().flat_map(|member| member.outline.iter().cloned()).collect();
    let bays: Vec<Bounds> = difference(gross, &taken).iter().filter_map(Polygon::bounds).collect();
    let mut widths: Vec<f64> = bays.iter().map(Bounds::width_m).collect();
    widths.sort_by(f64::total_cmp);
    let Some(&usual) = widths.get(widths.len() / 2) else { return Vec::new() };
    bays.into_iter().filter(|bay| bay.width_m() > 1.3 * usual && bay.width_m() > 0.65).collect()
}
