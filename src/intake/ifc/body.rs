//! Bodies: representation items as solids, in metres, in the frame of their element.

use super::along::along_line;
use super::brep::{boundary, surface_model};
use super::context::Context;
use super::csg;
use super::face_set::{polygonal, triangulated};
use super::file::File;
use super::pipe::pipe;
use super::placement::{position, transformation};
use super::record::Record;
use super::shells::mended;
use super::swept;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Frame, HalfSpace, Operation, Solid, Vector};
use std::collections::HashSet;

/// Deeper than this no item is made of others.
const DEEPEST: usize = 48;

/// Deeper than this no map is followed to tell whether it holds a body.
const DEEPEST_MAP: usize = 4;

/// Farther out than this lies no part of any body, in metres: the booleans reckon within it.
const FARTHEST_M: f64 = 1e9;

/// Most cuts in a row.
const MOST_STEPS: usize = 20_000;

/// Cuts in a row from which a body is odd: an export that repeats itself.
const ODD_STEPS: usize = 500;

/// Identifiers of a shape representation that hold a body, the best first.
const BODY_IDENTIFIERS: [&str; 4] = ["Body", "Facetation", "Mesh", "Tessellation"];

/// Types of a shape representation that hold solids.
const SOLID_TYPES: [&str; 9] = [
    "SweptSolid",
    "AdvancedSweptSolid",
    "Clipping",
    "Brep",
    "CSG",
    "AdvancedBrep",
    "Tessellation",
    "SurfaceModel",
    "SolidModel",
];

/// Classes of items without volume that exports leave beside a body: curves, points and sets of these.
const WITHOUT_VOLUME: [&str; 14] = [
    "IFCPOLYLINE",
    "IFCINDEXEDPOLYCURVE",
    "IFCTRIMMEDCURVE",
    "IFCCOMPOSITECURVE",
    "IFCCIRCLE",
    "IFCELLIPSE",
    "IFCLINE",
    "IFCBSPLINECURVE",
    "IFCBSPLINECURVEWITHKNOTS",
    "IFCGEOMETRICSET",
    "IFCGEOMETRICCURVESET",
    "IFCCARTESIANPOINT",
    "IFCANNOTATIONFILLAREA",
    "IFCTEXTLITERALWITHEXTENT",
];

/// Ends of the names of classes of solids.
const SOLID_ENDS: [&str; 8] =
    ["SOLID", "BREP", "BREPWITHVOIDS", "FACESET", "SURFACEMODEL", "SOLIDTAPERED", "CLIPPINGRESULT", "BOOLEANRESULT"];

/// The body of an element's `IfcProductDefinitionShape`.
///
/// # Errors
/// No body, or one that cannot be measured.
pub fn body(context: &Context<'_>, element: u64, shape: u64, frame: &Frame) -> Result<Solid, Trouble> {
    let shape = context.file.follow(element, shape)?;
    let mut bodies: Vec<(usize, Record<'_>)> = Vec::new();
    for id in shape.references(2, "representations")? {
        let representation = context.file.follow(shape.id, id)?;
        if let Some(rank) = rank(context.file, &representation, 0) {
            bodies.push((rank, representation));
        }
    }
    bodies.sort_by_key(|(rank, _)| *rank);
    let (_, representation) =
        bodies.first().ok_or_else(|| no_body(shape.id, "there is no body among the representations"))?;
    solid_of(context, representation, frame)
}

/// The shape that an opening has for reference only, where the body of its element is cut already; `None` where it has none.
pub fn reference_body(context: &Context<'_>, opening: u64, shape: u64, frame: &Frame) -> Option<Solid> {
    let shape = context.file.follow(opening, shape).ok()?;
    let mut representations =
        shape.references(2, "representations").ok()?.into_iter().filter_map(|id| context.file.record(id).ok());
    let of_reference =
        representations.find(|one| one.string(1).is_some_and(|name| name.eq_ignore_ascii_case(b"Reference")))?;
    solid_of(context, &of_reference, frame).ok()
}

/// The items of a representation as one solid.
fn solid_of(context: &Context<'_>, representation: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let solids = items(context, representation, frame, &mut Vec::new())?;
    let mut solids = mended(context, representation.id, solids);
    let mut is_near = true;
    for solid in &solids {
        solid.for_each_corner(&mut |corner| is_near &= is_within_reach(&corner));
    }
    if !is_near {
        return Err(too_far(representation.id));
    }
    match solids.len() {
        0 => Err(no_body(representation.id, "the body has no items")),
        1 => Ok(solids.swap_remove(0)),
        _ => Ok(Solid::Union(solids)),
    }
}

fn no_body(id: u64, message: &str) -> Trouble {
    Trouble::new(Code::NoBody, id, message)
}

/// Whether an element's `IfcProductDefinitionShape` has a body at all.
pub fn has_body(file: &File<'_>, shape: u64) -> bool {
    let representations = file.record(shape).and_then(|shape| shape.references(2, "representations"));
    let mut representations = representations.unwrap_or_default().into_iter().filter_map(|id| file.record(id).ok());
    representations.any(|representation| rank(file, &representation, 0).is_some())
}

fn is_within_reach(place: &Vector) -> bool {
    place.iter().all(|part| part.abs() < FARTHEST_M)
}

fn too_far(id: u64) -> Trouble {
    let message = format!("the body reaches over {FARTHEST_M} m from its placement; no building does");
    Trouble::new(Code::Implausible, id, message)
}

/// How well a representation serves as a body, the best first; `None` where it holds none.
///
/// One without an identifier is known by its type, and one without either by its items.
fn rank(file: &File<'_>, representation: &Record<'_>, depth: usize) -> Option<usize> {
    let is_one_of =
        |text: &[u8], names: &[&str]| names.iter().position(|name| text.eq_ignore_ascii_case(name.as_bytes()));
    let identifier = representation.string(1).unwrap_or_default();
    if !identifier.is_empty() {
        return is_one_of(identifier, &BODY_IDENTIFIERS);
    }
    let kind = representation.string(2).unwrap_or_default();
    let is_solid = is_one_of(kind, &SOLID_TYPES).is_some()
        || ((kind.is_empty() || kind.eq_ignore_ascii_case(b"MappedRepresentation"))
            && has_solids(file, representation, depth));
    is_solid.then_some(BODY_IDENTIFIERS.len())
}

/// Whether any item of a representation is a solid, or maps a body.
fn has_solids(file: &File<'_>, representation: &Record<'_>, depth: usize) -> bool {
    let items = representation.references(3, "items").unwrap_or_default();
    items.into_iter().filter_map(|id| file.record(id).ok()).any(|item| {
        let class = item.class();
        if SOLID_ENDS.iter().any(|end| class.ends_with(end)) {
            return true;
        }
        let map = item.optional_reference(0).filter(|_| item.is("IFCMAPPEDITEM") && depth < DEEPEST_MAP);
        let mapped = map.and_then(|id| file.record(id).ok()).and_then(|map| map.optional_reference(1));
        mapped.and_then(|id| file.record(id).ok()).is_some_and(|mapped| rank(file, &mapped, depth + 1).is_some())
    })
}

/// The solids of a representation; what has no volume beside them is named and passed over.
fn items(
    context: &Context<'_>,
    representation: &Record<'_>,
    frame: &Frame,
    above: &mut Vec<u64>,
) -> Result<Vec<Solid>, Trouble> {
    let ids = representation.references(3, "items")?;
    let class_of = |id: &u64| context.file.record(*id).ok().map(|record| record.class().into_owned());
    let is_flat = |id: &u64| class_of(id).is_some_and(|class| WITHOUT_VOLUME.contains(&class.as_str()));
    let (flat, solids): (Vec<u64>, Vec<u64>) = ids.iter().partition(|id| is_flat(id));
    // Where there is nothing else, the reader of items says what was found.
    let taken = if solids.is_empty() { ids } else { solids };
    let solids =
        taken.into_iter().map(|id| item(context, representation.id, id, frame, above)).collect::<Result<_, _>>()?;
    for id in flat {
        let class = class_of(&id).unwrap_or_default();
        let message =
            format!("the body holds an item of class {class}, which has no volume; the rest of it is measured");
        context.note(Trouble::note(Code::BodyNotMeasured, id, message));
    }
    Ok(solids)
}

/// One representation item as a solid; `above` holds the items that it is part of.
fn item(context: &Context<'_>, from: u64, id: u64, frame: &Frame, above: &mut Vec<u64>) -> Result<Solid, Trouble> {
    context.count_item(id)?;
    if above.contains(&id) || above.len() > DEEPEST {
        return Err(Trouble::new(Code::CircularReference, id, format!("#{id} is part of itself, or nested too deep")));
    }
    let record = context.file.follow(from, id)?;
    above.push(id);
    let solid = match record.class().as_ref() {
        "IFCEXTRUDEDAREASOLID" => swept::extrusion(context, &record, frame),
        "IFCEXTRUDEDAREASOLIDTAPERED" => swept::tapered(context, &record, frame),
        "IFCREVOLVEDAREASOLID" => swept::revolved(context, &record, frame),
        "IFCFIXEDREFERENCESWEPTAREASOLID" | "IFCSURFACECURVESWEPTAREASOLID" => along_line(context, &record, frame),
        "IFCSWEPTDISKSOLID" | "IFCSWEPTDISKSOLIDPOLYGONAL" => pipe(context, &record, frame),
        "IFCCSGSOLID" => item(context, id, record.reference(0, "root of the tree")?, frame, above),
        "IFCBLOCK" => csg::block(context, &record, frame),
        "IFCRIGHTCIRCULARCYLINDER" => csg::cylinder(context, &record, frame),
        "IFCRIGHTCIRCULARCONE" => csg::cone(context, &record, frame),
        "IFCRECTANGULARPYRAMID" => csg::pyramid(context, &record, frame),
        "IFCSPHERE" => csg::sphere(context, &record, frame),
        "IFCBOOLEANCLIPPINGRESULT" | "IFCBOOLEANRESULT" => chain(context, record, frame, above),
        "IFCHALFSPACESOLID" | "IFCBOXEDHALFSPACE" => half_space(context, &record, frame).map(Solid::HalfSpace),
        "IFCPOLYGONALBOUNDEDHALFSPACE" => bounded_half_space(context, &record, frame),
        "IFCMAPPEDITEM" => mapped(context, &record, frame, above),
        "IFCFACETEDBREP" | "IFCFACETEDBREPWITHVOIDS" | "IFCADVANCEDBREP" | "IFCADVANCEDBREPWITHVOIDS" => {
            boundary(context, &record, frame)
        }
        "IFCFACEBASEDSURFACEMODEL" | "IFCSHELLBASEDSURFACEMODEL" => surface_model(context, &record, frame),
        "IFCTRIANGULATEDFACESET" => triangulated(context, &record, frame),
        "IFCPOLYGONALFACESET" => polygonal(context, &record, frame),
        class => {
            Err(Trouble::new(Code::BodyNotMeasured, record.id, format!("bodies of class {class} are not measured")))
        }
    };
    above.pop();
    solid
}

/// A boolean and the booleans that its first operand is made of, as one chain: thousands in a row need no recursion.
fn chain(context: &Context<'_>, top: Record<'_>, frame: &Frame, above: &mut Vec<u64>) -> Result<Solid, Trouble> {
    let mut steps = Vec::new();
    let top_id = top.id;
    let mut seen = HashSet::from([top_id]);
    let mut record = top;
    let first = loop {
        let operation = match record.enumeration(0) {
            Some(b"DIFFERENCE") => Operation::Difference,
            Some(b"INTERSECTION") => Operation::Intersection,
            Some(b"UNION") => Operation::Union,
            _ => return Err(record.trouble("the operator is none of DIFFERENCE, INTERSECTION and UNION")),
        };
        let operand = record.reference(2, "second operand")?;
        steps.push((operation, item(context, record.id, operand, frame, above)?));
        let first = record.reference(1, "first operand")?;
        let next = context.file.follow(record.id, first)?;
        if !next.is("IFCBOOLEANCLIPPINGRESULT") && !next.is("IFCBOOLEANRESULT") {
            break item(context, record.id, first, frame, above)?;
        }
        if !seen.insert(first) || steps.len() > MOST_STEPS {
            let message = format!("#{first} is an operand of itself, or of more than {MOST_STEPS} booleans");
            return Err(Trouble::new(Code::CircularReference, first, message));
        }
        record = next;
    };
    if steps.len() > ODD_STEPS {
        let message =
            format!("the body is made of {} booleans in a row; check whether the export repeats them", steps.len());
        context.note(Trouble::new(Code::Implausible, top_id, message));
    }
    steps.reverse();
    Ok(Solid::Chain { first: Box::new(first), steps })
}

fn half_space(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<HalfSpace, Trouble> {
    let surface = context.file.follow(record.id, record.reference(0, "base surface")?)?;
    if !surface.is("IFCPLANE") {
        let message = format!("half-spaces bounded by {} are not measured", surface.class());
        return Err(Trouble::new(Code::BodyNotMeasured, surface.id, message));
    }
    let plane = position(context, surface.id, surface.reference(0, "position")?)?;
    // With the agreement flag set, the material lies on the side that the normal points away from.
    let outward = if record.logical(1) == Some(false) { -1.0 } else { 1.0 };
    let normal = frame.normal(&(plane.matrix.column(2) * outward));
    let normal = normal.ok_or_else(|| record.trouble("the frame of the half-space is flat"))?;
    Ok(HalfSpace { origin: frame.point(&plane.origin), normal })
}

fn bounded_half_space(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let half_space = half_space(context, record, frame)?;
    let own = position(context, record.id, record.reference(2, "position")?)?;
    let boundary = super::curve::curve(context, record.id, record.reference(3, "polygonal boundary")?, 0)?;
    let (ring, frame) = (boundary.into_ring(), frame.compose(&own));
    if !ring.iter().all(|point| is_within_reach(&frame.plane_point(point))) {
        return Err(too_far(record.id));
    }
    Ok(Solid::BoundedHalfSpace { half_space, rings: vec![ring], frame })
}

fn mapped(context: &Context<'_>, record: &Record<'_>, frame: &Frame, above: &mut Vec<u64>) -> Result<Solid, Trouble> {
    let map = context.file.follow(record.id, record.reference(0, "mapping source")?)?;
    let origin = position(context, map.id, map.reference(0, "mapping origin")?)?;
    let target = transformation(context.file, record.id, record.reference(1, "mapping target")?, context.length_m)?;
    let representation = context.file.follow(map.id, map.reference(1, "mapped representation")?)?;
    let inner = frame.compose(&target).compose(&origin);
    let mut solids = items(context, &representation, &inner, above)?;
    if solids.len() == 1 { Ok(solids.swap_remove(0)) } else { Ok(Solid::Union(solids)) }
}

/// The box of a solid's corners along a direction: smallest and largest, in metres.
pub fn extent(solids: &[&Solid], along: &Vector) -> Option<(f64, f64)> {
    let mut range: Option<(f64, f64)> = None;
    for solid in solids {
        solid.for_each_corner(&mut |corner| {
            let at = along.dot(&corner);
            range = Some(range.map_or((at, at), |(low, high)| (low.min(at), high.max(at))));
        });
    }
    range
}
