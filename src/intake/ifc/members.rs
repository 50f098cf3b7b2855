//! Framing that the model itself gives: members that are parts of an element, or stand inside it.

use super::body::{body, extent, has_body};
use super::by_x::{Corners, corners_of};
use super::clear::{Clear, clear_between};
use super::context::Context;
use super::element::Element;
use super::file::File;
use super::kind::has_measured_parts;
use super::openings::Found;
use super::placement::Chain;
use super::record::Record;
use super::relations::Relations;
use super::text::decode;
use super::trouble::Trouble;
use super::units::Units;
use super::unrolled::{Strip, unrolled_section};
use crate::finding::Code;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{
    Bounds, Frame, Plane, Polygon, Solid, Vector, difference, intersection, section, total_area_m2, welded_within,
};
use crate::model::{GivenMember, Surface};
use crate::source::Source;
use rayon::prelude::*;
use std::collections::{HashMap, HashSet};

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
/// Wholes that leave their members to the element that these stand in: assemblies, and roofs that are made of slabs.
const LOOSE_WHOLES: [&str; 2] = ["IFCELEMENTASSEMBLY", "IFCROOF"];
/// How far a member may stand out of the element that it is inside of, in metres.
const STANDS_OUT_M: f64 = 0.005;
/// As many members in an element as make its framing: fewer are posts, beams or plates among studs.
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

/// Members that are no part of an element that is measured, with their boxes in the world.
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
            .filter(|(class, id)| class.is_member() && is_free(file, relations, *id))
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

/// Whether no whole claims a member for itself: a curtain wall or a stair does, and so does a wall that it is a part of.
fn is_free(file: &File<'_>, relations: &Relations, id: u64) -> bool {
    let wholes = relations.wholes_of(id).unwrap_or_default();
    let mut wholes = wholes.iter().filter_map(|whole| file.record(*whole).ok());
    wholes.all(|whole| LOOSE_WHOLES.iter().any(|class| whole.is(class)) || gives_way(file, relations, &whole))
}

/// A whole that is measured by parts with bodies of their own.
fn gives_way(file: &File<'_>, relations: &Relations, whole: &Record<'_>) -> bool {
    let has_body = whole.optional_reference(6).is_some_and(|shape| has_body(file, shape));
    !has_body && has_measured_parts(file, relations, whole.id)
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
    /// Whether the body has other planes besides.
    pub is_one_of_several: bool,
}

/// Framing that the model gives of one surface.
#[derive(Debug, Default)]
pub struct Given {
    members: Vec<GivenMember>,
    /// Whether it is all of the framing.
    is_whole: bool,
    /// How deep the members are through the surface, in metres.
    depth_m: Option<f64>,
}

impl Given {
    /// Puts the framing into its surface.
    pub fn put_into(self, surface: &mut Surface) {
        if self.is_whole {
            surface.measured_depth_m = self.depth_m;
        }
        surface.framing_is_given = self.is_whole;
        surface.given_members = self.members;
    }
}

/// The members of an element in its plane, and whether they are all of its framing.
pub fn given(
    context: &Context<'_>,
    relations: &Relations,
    free: &FreeMembers,
    cutting: &Cutting<'_>,
    found: &Found,
) -> Given {
    let taken = |parts: Vec<Part>| {
        let depths = depths_of(&parts, &cutting.plane.normal);
        let members = cut_members(context, sections(context, parts, cutting.plane), found);
        members.into_iter().map(|member| (depths.get(&member.id).copied().unwrap_or(0.0), member)).collect::<Sized>()
    };
    let mut parts = parts_of(context, relations, cutting.element, cutting.chain);
    // The rafters of another slope are cut by this plane at the ridge, and belong there.
    parts.retain(|part| !cutting.is_one_of_several || is_within(part, cutting));
    let parts = taken(parts);
    let others = taken(inside(context, relations, free, cutting));
    judged(context, cutting.element, (parts, others), found, cutting.high_m - cutting.low_m)
}

/// The members of a curved or bent wall along its strips, and whether they are all of its framing.
pub fn given_along(
    context: &Context<'_>,
    relations: &Relations,
    free: &FreeMembers,
    (element, chain, solid): (&Element, &Chain, &Solid),
    (strips, thickness_m): (&[Strip], f64),
    found: &Found,
) -> Given {
    let cut = |parts: Vec<Part>| {
        let mut taken = Vec::new();
        for part in parts {
            let Ok(polygons) = unrolled_section(&part.solid, strips) else {
                context.note(open_part(part.entity));
                continue;
            };
            let across = strips.iter().filter_map(|strip| extent(&[&part.solid], &strip.through()));
            // The wall turns: a member is as deep as it is across the strip that it stands along.
            let depth_m = across.map(|(low, high)| high - low).reduce(f64::min).unwrap_or(0.0);
            let members = cut_members(context, vec![(part, polygons)], found);
            taken.extend(members.into_iter().map(|member| (depth_m, member)));
        }
        taken
    };
    let parts = cut(parts_of(context, relations, element, chain));
    let mut others = cut(near(context, relations, free, (element, chain, solid)));
    others.retain(|(depth_m, _)| *depth_m <= thickness_m + 2.0 * STANDS_OUT_M);
    judged(context, element, (parts, others), found, thickness_m)
}

/// Members and their depths in metres.
type Sized = Vec<(f64, GivenMember)>;

/// Whether members, the parts of an element and others inside it, are all of its framing.
fn judged(
    context: &Context<'_>,
    element: &Element,
    (parts, others): (Sized, Sized),
    found: &Found,
    thickness_m: f64,
) -> Given {
    let all: Sized = parts.into_iter().chain(others).collect();
    let depth_m = usual_depth_m(&all).map(|depth_m| depth_m.min(thickness_m));
    let members: Vec<GivenMember> = all.into_iter().map(|(_, member)| member).collect();
    if members.is_empty() {
        return Given::default();
    }
    let clear = clear_between(&found.gross, &found.openings, &members);
    let are_many = members.len() >= FEWEST;
    let is_whole = clear.is_framed && are_many;
    if !is_whole {
        let message = not_framing(members.len(), are_many, &clear);
        context.note(Trouble::new(Code::MembersInside, element.entity, message));
    }
    Given { members, is_whole, depth_m }
}

/// What is said of members that do not frame their surface.
fn not_framing(count: usize, are_many: bool, clear: &Clear) -> String {
    let (does, they, them) = match count {
        1 => ("member of the model stands", "it is", "it"),
        _ => ("members of the model stand", "they are", "them"),
    };
    let taken = format!("{they} taken out, and studs are laid out around {them}");
    if are_many {
        let widest_m = clear.widest_m;
        format!("{count} {does} in it but do not frame it, with up to {widest_m:.2} m clear between them: {taken}")
    } else {
        format!("{count} {does} inside it; {taken}")
    }
}

/// How deep parts are along a direction, by their GlobalIds, in metres.
fn depths_of(parts: &[Part], through: &Vector) -> HashMap<String, f64> {
    let depth = |part: &Part| extent(&[&part.solid], through).map(|(low, high)| (part.global_id.clone(), high - low));
    parts.iter().filter_map(depth).collect()
}

/// The depth of the members that take the most, in metres: half of their area is no deeper, and half no shallower.
fn usual_depth_m(members: &[(f64, GivenMember)]) -> Option<f64> {
    let mut sized: Vec<(f64, f64)> =
        members.iter().map(|(depth_m, member)| (*depth_m, total_area_m2(&member.outline))).collect();
    sized.sort_by(|a, b| a.0.total_cmp(&b.0));
    let half_m2 = sized.iter().map(|(_, area_m2)| area_m2).sum::<f64>() / 2.0;
    let mut passed_m2 = 0.0;
    sized.into_iter().find_map(|(depth_m, area_m2)| {
        passed_m2 += area_m2;
        (passed_m2 >= half_m2 && depth_m > 0.0).then_some(depth_m)
    })
}

/// Free members that lie within the thickness of an element.
fn inside(context: &Context<'_>, relations: &Relations, free: &FreeMembers, cutting: &Cutting<'_>) -> Vec<Part> {
    let mut parts = near(context, relations, free, (cutting.element, cutting.chain, cutting.solid));
    parts.retain(|part| is_within(part, cutting));
    parts
}

/// Free members whose boxes meet that of an element.
fn near(
    context: &Context<'_>,
    relations: &Relations,
    free: &FreeMembers,
    (element, chain, solid): (&Element, &Chain, &Solid),
) -> Vec<Part> {
    let Some(world) = corners_of(solid, &chain.world()) else { return Vec::new() };
    // Its own parts are read as such.
    let is_own = |id: &u64| relations.wholes_of(*id).is_ok_and(|wholes| wholes.contains(&element.entity));
    // One that cannot be read was not found to be near.
    free.near(&world).filter(|id| !is_own(id)).filter_map(|id| part(context, id, chain).ok().flatten()).collect()
}

/// Whether a part lies within the thickness of an element.
fn is_within(part: &Part, cutting: &Cutting<'_>) -> bool {
    extent(&[&part.solid], &cutting.plane.normal)
        .is_some_and(|(low, high)| low >= cutting.low_m - STANDS_OUT_M && high <= cutting.high_m + STANDS_OUT_M)
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
                context.note(open_part(part.entity));
            }
        }
    }
    let layers: Vec<&[Polygon]> = cut.iter().map(|(_, polygons)| polygons.as_slice()).collect();
    let welded = welded_within(&layers, COINCIDENT_M);
    cut.into_iter().zip(welded).map(|((part, _), polygons)| (part, polygons)).collect()
}

fn open_part(entity: u64) -> Trouble {
    let message = "the body of this part is not closed where it is cut; it is not taken out";
    Trouble::new(Code::BodyOpen, entity, message)
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
