//! Flat elements: from a body to a surface in the plane of its cavity layer.

use super::axes::{Axes, Stance};
use super::bends::{bent_share, leaf};
use super::body::body;
use super::context::Context;
use super::element::Element;
use super::framed;
use super::layers::Layers;
use super::many_planes;
use super::members::{self, Cutting, FreeMembers};
use super::openings::{Cut, Found, Host, openings_of};
use super::placed::Placed;
use super::placement::Chain;
use super::relations::Relations;
use super::shape::shape;
use super::stack::{self, Stack};
use super::standing::standing;
use super::trouble::Trouble;
use super::unrolled;
use crate::finding::Code;
use crate::geometry::{Frame, Plane, Polygon, SectionError, Solid, section, total_area_m2, union};
use crate::model::{Extent, Surface, SurfaceKind};
use crate::source::Source;
use std::borrow::Cow;

/// A plane closer than this to a corner is moved, in metres.
const CORNER_M: f64 = 1e-6;
/// How far it is moved, always the same way, in metres.
const STEP_ASIDE_M: f64 = 2e-6;
/// How near to the side of a layer its section is compared, as a share of its half.
const NEARLY: f64 = 0.98;
/// A section that changes by more than this share across the layer is worth a finding.
const VARYING_SHARE: f64 = 0.01;
/// The large sides of a flat element are at least this share of its faces: half, for a square pier.
const FACE_SHARE: f64 = 0.45;
/// A body whose section misses the area of a plate by more than this share is not flat.
const PLANE_SHARE: f64 = 0.4;
/// A leg with less than this share of a body's faces is a short return: without it the rest still is a wall.
const RETURN_SHARE: f64 = 0.15;

/// What an element gives.
pub struct Measured {
    /// One surface, or one a plane where a body that lies has several.
    pub surfaces: Vec<Surface>,
    /// Where it stands, of a body of one plane.
    pub placed: Option<Placed>,
}

impl Measured {
    fn without_place(surfaces: Vec<Surface>) -> Self {
        Self { surfaces, placed: None }
    }
}

/// Measures one element: one surface, or one a plane where a body that lies has several.
///
/// # Errors
/// Why it cannot be measured.
pub fn measure(
    context: &Context<'_>,
    relations: &Relations,
    free: &FreeMembers,
    element: &Element,
    kind: SurfaceKind,
) -> Result<Measured, Trouble> {
    let chain = Chain::read(context.file, element.placement.map(|id| (element.entity, id)), context.length_m);
    chain.troubles.iter().for_each(|trouble| context.note(trouble.clone()));
    let no_body = || Trouble::new(Code::NoBody, element.entity, "the element has no representation");
    let own = match element.shape {
        Some(shape) => body(context, element.entity, shape, &Frame::identity()),
        None => Err(no_body()),
    };
    let solid = match own {
        Ok(solid) => solid,
        Err(trouble) if trouble.code == Code::NoBody => {
            let framed = framed::measure(context, relations, element, kind, &chain)?;
            return framed.map(|surface| Measured::without_place(vec![surface])).ok_or(trouble);
        }
        Err(trouble) => return Err(trouble),
    };
    note_open(context, element, &solid);
    let stance = if kind == SurfaceKind::Wall { Stance::Upright } else { Stance::Lying };
    let of_base = Axes::of(element, &solid, &chain, stance)?;
    let shape = shape(&solid, &of_base).map_err(|error| section_trouble(element, error))?;
    let shape = shape.ok_or_else(|| {
        let message = "the body is cut out of another by too many planes to tell its sides; it is not measured";
        Trouble::new(Code::BodyNotMeasured, element.entity, message)
    })?;
    let axes =
        if let Cow::Owned(shape) = &shape { Axes::of_cut(element, shape, &chain, stance, &of_base)? } else { of_base };
    check_stance(element, &shape, &axes, stance)?;
    let found = stack::material(context, relations, element, kind);
    let form = Form::of(&solid, &shape, &axes, stance);
    match (stance, form) {
        (_, Ok(Form::Flat)) => measure_flat(context, relations, free, element, kind, (&solid, &chain, &axes, &found)),
        (Stance::Lying, _) => {
            let surfaces =
                many_planes::measure(context, relations, free, element, kind, (&solid, &shape, &chain, &found))?;
            Ok(Measured::without_place(surfaces))
        }
        (Stance::Upright, Err(error)) => Err(section_trouble(element, error)),
        (Stance::Upright, Ok(form)) => {
            match unrolled::measure(context, relations, free, element, &axes, (&solid, &chain, &found)) {
                Ok(surface) => Ok(Measured::without_place(vec![surface])),
                Err(trouble) => {
                    let axes =
                        if form == Form::NearlyFlat { Some(axes) } else { leaf_of(context, element, &shape, &axes) };
                    let axes = axes.ok_or(trouble)?;
                    measure_flat(context, relations, free, element, kind, (&solid, &chain, &axes, &found))
                }
            }
        }
    }
}

/// Refuses a body that lies where it should stand, or stands where it should lie: its edge would be measured for its side.
fn check_stance(element: &Element, shape: &Solid, axes: &Axes, stance: Stance) -> Result<(), Trouble> {
    let refuse = |message: &str| Err(Trouble::new(Code::BodyNotMeasured, element.entity, message));
    match stance {
        Stance::Lying if axes.stands(shape) => {
            refuse("the body stands upright, as a wall or pile does; it is not a cavity of a roof, floor or ceiling")
        }
        Stance::Upright if axes.lies(shape) => {
            refuse("the body lies level, as a slab or kerb does; it is not a cavity of a wall")
        }
        _ => Ok(()),
    }
}

/// The leaf of a wall that has more than two sides, with a word of what is beyond it.
fn leaf_of(context: &Context<'_>, element: &Element, shape: &Solid, axes: &Axes) -> Option<Axes> {
    let (leaf, share) = leaf(shape, axes)?;
    let message = format!(
        "the body has parts beyond its two large sides, as pilasters or a stub; it is measured between these, and {:.0} % \
         of it is not counted",
        100.0 * (1.0 - share)
    );
    context.note(Trouble::new(Code::SectionVaries, element.entity, message));
    Some(leaf)
}

/// Measures an element whose body is a plate.
fn measure_flat(
    context: &Context<'_>,
    relations: &Relations,
    free: &FreeMembers,
    element: &Element,
    kind: SurfaceKind,
    (solid, chain, axes, found): (&Solid, &Chain, &Axes, &Layers),
) -> Result<Measured, Trouble> {
    let stack = stack::lay(context, element, found, axes);
    let plane = aside(solid, axes.plane(stack.at_m));
    let region = region_of(element, solid, &plane)?;
    note_varying(context, element, solid, axes, &stack, total_area_m2(&region));
    let cut = Cut::Flat { plane: &plane, low_m: axes.low_m, high_m: axes.high_m };
    let lying = (kind != SurfaceKind::Wall).then_some(solid);
    let host = Host { element, chain, cut, lying };
    let openings = openings_of(context, relations, &host, &region);
    openings.troubles.iter().for_each(|trouble| context.note(trouble.clone()));
    let (low_m, high_m) = (axes.low_m, axes.high_m);
    let cutting = Cutting { element, chain, solid, plane: &plane, low_m, high_m, is_one_of_several: false };
    let given = members::given(context, relations, free, &cutting, &openings);
    let placed = Placed::of(element.entity, chain, axes, &plane, openings.origin, &openings.gross);
    let standing = standing(chain, &plane, openings.origin, &openings.gross, kind);
    let mut surface = surface(context, element, kind, axes, stack, openings);
    surface.standing = standing;
    given.put_into(&mut surface);
    Ok(Measured { surfaces: vec![surface], placed })
}

/// The surface of an element, as far as its plane gives it.
pub fn surface(
    context: &Context<'_>,
    element: &Element,
    kind: SurfaceKind,
    axes: &Axes,
    stack: Stack,
    found: Found,
) -> Surface {
    Surface {
        name: element.name.clone(),
        type_name: element.type_name.clone(),
        storey: element.storey.clone(),
        exposure: element.exposure,
        layers: stack.layers,
        cavity_layer: stack.cavity_layer,
        thickness_m: Some(axes.thickness_m()),
        pitch_deg: Some(axes.pitch_deg()),
        openings: found.openings,
        ..Surface::new(
            element.global_id.clone(),
            Source::of_entity(context.file.path(), element.entity),
            kind,
            Extent::Outline(found.gross),
        )
    }
}

/// The plane, or one a hair beside it where it meets a corner: on a face the section would be in doubt.
pub fn aside(solid: &Solid, plane: Plane) -> Plane {
    let mut meets = false;
    solid.for_each_corner(&mut |corner| meets |= plane.height(&corner).abs() < CORNER_M);
    if meets { plane.moved(-STEP_ASIDE_M) } else { plane }
}

fn region_of(element: &Element, solid: &Solid, plane: &Plane) -> Result<Vec<Polygon>, Trouble> {
    let region = section(solid, plane).map_err(|error| section_trouble(element, error))?;
    if total_area_m2(&region) <= 0.0 {
        let message = "the body has no area in the plane of its cavity";
        return Err(Trouble::new(Code::BodyDegenerate, element.entity, message));
    }
    Ok(union(&region))
}

/// Says when the section changes across the cavity layer, or across a body without one: the one in the middle counts.
///
/// Where walls meet at a mitre it changes evenly, and the middle is the mean: that is a note, if there is a layer.
fn note_varying(context: &Context<'_>, element: &Element, solid: &Solid, axes: &Axes, stack: &Stack, middle_m2: f64) {
    let layer = stack.cavity_layer.and_then(|index| stack.layers.get(index));
    let half_m = layer.map_or(axes.thickness_m(), |layer| layer.thickness_m.min(axes.thickness_m())) / 2.0;
    let [low_m2, high_m2] = [-1.0, 1.0].map(|side| {
        let at_m = (stack.at_m + side * NEARLY * half_m).clamp(axes.low_m, axes.high_m);
        section(solid, &axes.plane(at_m)).map_or(middle_m2, |region| total_area_m2(&region).max(0.0))
    });
    let off = |area_m2: f64| (area_m2 - middle_m2).abs();
    let area_m2 = if off(low_m2) > off(high_m2) { low_m2 } else { high_m2 };
    if off(area_m2) <= VARYING_SHARE * middle_m2 {
        return;
    }
    let is_even = off(f64::midpoint(low_m2, high_m2)) <= VARYING_SHARE / 10.0 * middle_m2;
    if is_even && layer.is_none() {
        return;
    }
    let how = if is_even { "evenly, as at a mitre" } else { "unevenly, as at a step" };
    let what = if layer.is_some() { "the cavity layer" } else { "the body" };
    let message = format!(
        "the section changes across {what}, {how}: {middle_m2:.3} m2 in its middle, which counts, {area_m2:.3} m2 \
         at its side"
    );
    let trouble = if is_even { Trouble::note } else { Trouble::new };
    context.note(trouble(Code::SectionVaries, element.entity, message));
}

/// Why a section could not be taken, in words.
pub fn section_trouble(element: &Element, error: SectionError) -> Trouble {
    match error {
        SectionError::Open => {
            let message = "the body is not closed where the cavity is cut; it is not measured";
            Trouble::new(Code::BodyOpen, element.entity, message)
        }
        SectionError::Unbounded => {
            Trouble::new(Code::BodyNotMeasured, element.entity, "the body is a half-space without bounds")
        }
    }
}

/// The form of an element.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    /// One plate.
    Flat,
    /// A plate with a short return, which is unrolled if it can be.
    NearlyFlat,
    /// Curved, bent or folded: wider than its own thickness.
    Bent,
}

impl Form {
    /// A plate's section is half its two large sides, or its volume by its thickness: the first holds for bodies whose
    /// faces look either way, the second for several bodies one behind the other. A bent body may pass for one by chance:
    /// its other legs tell.
    ///
    /// # Errors
    /// A body that is not closed where it is cut.
    fn of(solid: &Solid, shape: &Solid, axes: &Axes, stance: Stance) -> Result<Self, SectionError> {
        let plane = aside(solid, axes.plane(f64::midpoint(axes.low_m, axes.high_m)));
        let base = shape.base();
        let volume_m3: f64 = base.iter().map(|piece| piece.volume_m3()).sum();
        let pieces = if std::ptr::eq(solid, shape) { base } else { vec![solid] };
        let mut area_m2 = 0.0;
        for piece in pieces {
            area_m2 += total_area_m2(&section(piece, &plane)?);
        }
        let near = |due_m2: f64| (area_m2 - due_m2).abs() <= PLANE_SHARE * due_m2;
        let is_near = near(axes.sides_m2 / 2.0) || near(volume_m3 / axes.thickness_m());
        if axes.face_share < FACE_SHARE || !is_near || (stance == Stance::Lying && axes.has_slopes(shape)) {
            return Ok(Self::Bent);
        }
        Ok(match bent_share(shape, axes, stance) {
            share if share <= 0.0 => Self::Flat,
            share if share < RETURN_SHARE => Self::NearlyFlat,
            _ => Self::Bent,
        })
    }
}

fn note_open(context: &Context<'_>, element: &Element, solid: &Solid) {
    let open_edges = |piece: &&Solid| if let Solid::Faces(body) = piece { body.open_edges() } else { 0 };
    let open: usize = solid.base().iter().map(open_edges).sum();
    if open > 0 {
        let message = format!("the body is not closed: {open} edges have a face on one side only");
        context.note(Trouble::new(Code::BodyOpen, element.entity, message));
    }
}
