//! Walls: from an element's body to a surface in the plane of its cavity layer.

use super::body::{body, extent};
use super::context::Context;
use super::element::Element;
use super::layers::{self, Layers, cavity_layer};
use super::openings::{Host, openings_of};
use super::placement::Chain;
use super::relations::Relations;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Frame, Plane, Polygon, SectionError, Solid, Vector, section, total_area_m2, union};
use crate::model::{Extent, Layer, Surface, SurfaceKind};
use crate::source::Source;

/// Larger than this no wall is, in metres.
const LARGEST_M: f64 = 10_000.0;
/// Thinner than this no wall is, in metres.
const THINNEST_M: f64 = 1e-4;
/// Layers and bodies that differ by less than this agree, in metres.
const LAYER_TOLERANCE_M: f64 = 1e-3;
/// A plane closer than this to a corner is moved, in metres.
const CORNER_M: f64 = 1e-6;
/// How far it is moved, always the same way, in metres.
const STEP_ASIDE_M: f64 = 2e-6;
/// The largest upright faces of a plane wall are at least this share of all of them: half, for a square pier.
const FACE_SHARE: f64 = 0.45;
/// A body whose section times thickness misses its volume by more than this share is no plane wall.
const PLANE_SHARE: f64 = 0.4;

/// A wall as measured, and what was odd.
pub struct Measured {
    /// The surface; `None` where the wall cannot be measured, for the reason in the last trouble.
    pub surface: Option<Surface>,
    /// What was odd.
    pub troubles: Vec<Trouble>,
}

/// Measures one wall.
pub fn measure(context: &Context<'_>, relations: &Relations, element: &Element) -> Measured {
    let mut troubles = Vec::new();
    match surface(context, relations, element, &mut troubles) {
        Ok(surface) => Measured { surface: Some(surface), troubles },
        Err(trouble) => {
            troubles.push(trouble);
            Measured { surface: None, troubles }
        }
    }
}

fn surface(
    context: &Context<'_>,
    relations: &Relations,
    element: &Element,
    troubles: &mut Vec<Trouble>,
) -> Result<Surface, Trouble> {
    let no_body = |message: &str| Trouble::new(Code::NoBody, element.entity, message);
    let shape = element.shape.ok_or_else(|| no_body("the wall has no representation"))?;
    let solid = body(context, element.entity, shape, &Frame::identity())?;
    let chain = Chain::read(context.file, element.placement.map(|id| (element.entity, id)), context.length_m);
    troubles.extend(chain.troubles.iter().cloned());
    let stack = material(context, relations, element, troubles);
    let axes = Axes::of(element, &solid, &chain)?;
    let (layers, cavity_layer, at_m) = place_layers(element, &stack, &axes, troubles);
    let plane = aside(&solid, axes.plane(at_m));
    let region = cut(element, &solid, &plane)?;
    check_plane_wall(element, &solid, &plane, &axes)?;
    note_open(element, &solid, troubles);
    let host = Host { element, chain: &chain, plane: &plane, low_m: axes.low_m, high_m: axes.high_m };
    let found = openings_of(context, relations, &host, &region);
    troubles.extend(found.troubles);
    Ok(Surface {
        id: element.global_id.clone(),
        part: 0,
        source: Source::of_entity(context.file.path(), element.entity),
        name: element.name.clone(),
        type_name: element.type_name.clone(),
        storey: element.storey.clone(),
        zone: None,
        count: 1,
        kind: SurfaceKind::Wall,
        exposure: element.exposure,
        assembly: None,
        layers,
        cavity_layer,
        thickness_m: Some(axes.thickness_m()),
        measured_depth_m: None,
        pitch_deg: Some(axes.pitch_deg()),
        extent: Extent::Outline(found.gross),
        openings: found.openings,
        do_not_fill: Vec::new(),
        corner_posts: 0,
        partition_junctions: 0,
    })
}

/// The axes of a wall: along, up, and through its thickness.
struct Axes {
    along: Vector,
    up: Vector,
    through: Vector,
    world_up: Vector,
    low_m: f64,
    high_m: f64,
    face_share: f64,
}

impl Axes {
    fn of(element: &Element, solid: &Solid, chain: &Chain) -> Result<Self, Trouble> {
        let base = solid.base();
        let size = |axis: Vector| extent(&base, &axis);
        for axis in [Vector::x(), Vector::y(), Vector::z()] {
            let within = size(axis).is_some_and(|(low, high)| low.abs() < LARGEST_M && high.abs() < LARGEST_M);
            if !within {
                let message = format!("the body reaches over {LARGEST_M} m from its placement; no wall does");
                return Err(Trouble::new(Code::Implausible, element.entity, message));
            }
        }
        let degenerate = |message: &str| Trouble::new(Code::BodyDegenerate, element.entity, message);
        let world_up = chain.world().inverse().map_or_else(Vector::z, |world| world.direction(&Vector::z()));
        let (through, face_share) =
            thickness_direction(&base, &world_up).ok_or_else(|| degenerate("the body has no upright face"))?;
        let up = (world_up - through * through.dot(&world_up)).try_normalize(1e-9);
        let up = up.ok_or_else(|| degenerate("the body lies level; a wall stands"))?;
        let (low_m, high_m) = size(through).ok_or_else(|| degenerate("the body has no corners"))?;
        let axes = Self { along: through.cross(&up), up, through, world_up, low_m, high_m, face_share };
        if axes.thickness_m() < THINNEST_M {
            return Err(degenerate("the body has no thickness"));
        }
        Ok(axes)
    }

    fn thickness_m(&self) -> f64 {
        self.high_m - self.low_m
    }

    fn pitch_deg(&self) -> f64 {
        // Arc tangent keeps an upright wall at exactly 90 degrees.
        let level = self.through.dot(&self.world_up).abs();
        self.up.dot(&self.world_up).abs().atan2(level).to_degrees()
    }

    fn plane(&self, at_m: f64) -> Plane {
        Plane { origin: self.through * at_m, x: self.along, y: self.up, normal: self.through }
    }
}

/// The direction through a wall's thickness: at right angles to the largest upright faces.
///
/// The element's own y axis is taken to the last bit where the faces agree with it.
///
/// With it comes the share that these faces have of all upright ones.
fn thickness_direction(base: &[&Solid], world_up: &Vector) -> Option<(Vector, f64)> {
    let mut groups: Vec<(Vector, f64)> = Vec::new();
    for solid in base {
        solid.for_each_face(&mut |area| {
            let size = area.norm();
            let Some(normal) = area.try_normalize(1e-12) else { return };
            if normal.dot(world_up).abs() > 0.9 {
                return;
            }
            match groups.iter_mut().find(|(other, _)| other.dot(&normal).abs() > 1.0 - 1e-9) {
                Some((_, total)) => *total += size,
                None => groups.push((normal, size)),
            }
        });
    }
    // The first of equals wins, so that the order of the file decides and nothing else.
    let largest = groups.iter().fold(None::<&(Vector, f64)>, |best, group| match best {
        Some(best) if best.1 >= group.1 * (1.0 - 1e-9) => Some(best),
        _ => Some(group),
    })?;
    let (normal, share) = (largest.0, largest.1 / groups.iter().map(|group| group.1).sum::<f64>());
    let own = [Vector::y(), Vector::x()].into_iter().find(|axis| axis.dot(&normal).abs() > 1.0 - 1e-10);
    let turned = || normal * if normal.y.abs() > 1e-9 { normal.y.signum() } else { normal.x.signum() };
    Some((own.unwrap_or_else(turned), share))
}

/// The plane, or one a hair beside it where it meets a corner: on a face the section would be in doubt.
fn aside(solid: &Solid, plane: Plane) -> Plane {
    let mut meets = false;
    solid.for_each_corner(&mut |corner| meets |= plane.height(&corner).abs() < CORNER_M);
    if meets { plane.moved(-STEP_ASIDE_M) } else { plane }
}

fn cut(element: &Element, solid: &Solid, plane: &Plane) -> Result<Vec<Polygon>, Trouble> {
    let region = section(solid, plane).map_err(|error| match error {
        SectionError::Open => Trouble::new(
            Code::BodyOpen,
            element.entity,
            "the body is not closed where the cavity is cut; it is not measured",
        ),
        SectionError::Unbounded => {
            Trouble::new(Code::BodyNotMeasured, element.entity, "the body is a half-space without bounds")
        }
    })?;
    if total_area_m2(&region) <= 0.0 {
        let message = "the body has no area in the plane of its cavity";
        return Err(Trouble::new(Code::BodyDegenerate, element.entity, message));
    }
    Ok(union(&region))
}

/// A curved or many-sided wall is wider than its own thickness: its section says nothing of its area.
fn check_plane_wall(element: &Element, solid: &Solid, plane: &Plane, axes: &Axes) -> Result<(), Trouble> {
    let (mut volume_m3, mut area_m2) = (0.0, 0.0);
    for piece in solid.base() {
        volume_m3 += piece.volume_m3();
        area_m2 += section(piece, plane).map(|region| total_area_m2(&region)).unwrap_or(0.0);
    }
    let sectioned_m3 = area_m2 * axes.thickness_m();
    let misses = volume_m3 > 0.0 && (sectioned_m3 - volume_m3).abs() > PLANE_SHARE * volume_m3;
    if misses || axes.face_share < FACE_SHARE {
        let message = "the wall is curved or bends along its length; this version measures plane walls";
        return Err(Trouble::new(Code::BodyNotMeasured, element.entity, message));
    }
    Ok(())
}

fn note_open(element: &Element, solid: &Solid, troubles: &mut Vec<Trouble>) {
    let open: usize =
        solid.base().iter().map(|piece| if let Solid::Faces(body) = piece { body.open_edges() } else { 0 }).sum();
    if open > 0 {
        let message = format!(
            "the body is not closed: {open} edges have a face on one side only; its section closes and is measured"
        );
        troubles.push(Trouble::new(Code::BodyOpen, element.entity, message));
    }
}

fn material(context: &Context<'_>, relations: &Relations, element: &Element, troubles: &mut Vec<Trouble>) -> Layers {
    let kind = relations.types.get(&element.entity);
    let own = relations.materials.get(&element.entity);
    let Some(&material) = own.or_else(|| relations.materials.get(kind?)) else { return Layers::default() };
    layers::read(context.file, element.entity, material, context.length_m).unwrap_or_else(|trouble| {
        troubles.push(trouble);
        Layers::default()
    })
}

/// Where the layers lie: the layers, the one that holds the cavity, and its middle along the thickness, in metres.
fn place_layers(
    element: &Element,
    stack: &Layers,
    axes: &Axes,
    troubles: &mut Vec<Trouble>,
) -> (Vec<Layer>, Option<usize>, f64) {
    let middle_m = f64::midpoint(axes.low_m, axes.high_m);
    let mut layers = stack.layers.clone();
    if !stack.has_thickness {
        // One material through and through fills the whole body; several without thickness lie nobody knows where.
        if let [only] = layers.as_mut_slice() {
            only.thickness_m = axes.thickness_m();
        }
        let (cavity, _) = cavity_layer(&layers);
        return (layers, cavity, middle_m);
    }
    let mut mismatch = |message: String| troubles.push(Trouble::new(Code::LayersMismatch, element.entity, message));
    if let Some(layer) = layers.iter().find(|layer| layer.thickness_m < 0.0) {
        let millimetres = layer.thickness_m * 1000.0;
        mismatch(format!(
            "layer `{}` has a negative thickness ({millimetres} mm); the layers are not used",
            layer.material
        ));
        return (layers, None, middle_m);
    }
    let total_m: f64 = layers.iter().map(|layer| layer.thickness_m).sum();
    let off = (total_m - axes.thickness_m()).abs() > LAYER_TOLERANCE_M;
    if off {
        mismatch(format!("the layers add up to {total_m:.3} m, the body is {:.3} m thick", axes.thickness_m()));
    }
    let (cavity, several) = cavity_layer(&layers);
    let Some(index) = cavity else { return (layers, None, middle_m) };
    if several {
        let chosen = layers.get(index).map(|layer| layer.material.clone()).unwrap_or_default();
        let message = format!("several layers are framed; the thickest, `{chosen}`, is taken for the cavity");
        troubles.push(Trouble::new(Code::LayerAmbiguous, element.entity, message));
    }
    let before_m: f64 = layers.iter().take(index).map(|layer| layer.thickness_m).sum();
    let half_m = layers.get(index).map_or(0.0, |layer| layer.thickness_m / 2.0);
    let at_m = layer_position(element, stack, axes, total_m, before_m + half_m, off, troubles);
    let inside = at_m > axes.low_m && at_m < axes.high_m;
    (layers, cavity, if inside { at_m } else { middle_m })
}

/// Where a point of the layer set lies along the thickness; a set that misses the body is laid against it.
fn layer_position(
    element: &Element,
    stack: &Layers,
    axes: &Axes,
    total_m: f64,
    within_m: f64,
    off: bool,
    troubles: &mut Vec<Trouble>,
) -> f64 {
    let usage = stack.usage.filter(|usage| usage.across_y && axes.through == Vector::y());
    let Some(usage) = usage else { return axes.low_m + within_m };
    let sense = if usage.positive { 1.0 } else { -1.0 };
    let end_m = usage.offset_m + sense * total_m;
    let (low_m, high_m) = (usage.offset_m.min(end_m), usage.offset_m.max(end_m));
    let fits = (low_m - axes.low_m).abs() <= LAYER_TOLERANCE_M && (high_m - axes.high_m).abs() <= LAYER_TOLERANCE_M;
    if fits {
        return usage.offset_m + sense * within_m;
    }
    if !off {
        let message = format!(
            "the layers lie from {low_m:.3} to {high_m:.3} m, the body from {:.3} to {:.3} m; they are laid against the body",
            axes.low_m, axes.high_m
        );
        troubles.push(Trouble::new(Code::LayersMismatch, element.entity, message));
    }
    if usage.positive { axes.low_m + within_m } else { axes.high_m - within_m }
}
