//! Where the layers of an element lie across its body, and where its cavity is.

use super::axes::Axes;
use super::cavity::{choose, classify};
use super::context::Context;
use super::element::Element;
use super::layers::{self, Layers};
use super::relations::Relations;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::model::{Layer, LayerKind, SurfaceKind};

/// Layers and bodies that differ by less than this agree, in metres.
const LAYER_TOLERANCE_M: f64 = 1e-3;

/// An element steeper than this stands, in degrees.
const STANDING_DEG: f64 = 60.0;

/// The layers of an element as they lie across its body.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// The layers.
    pub layers: Vec<Layer>,
    /// The one that holds the cavity.
    pub cavity_layer: Option<usize>,
    /// Middle of the cavity layer along the thickness, in metres; of the body where there is none.
    pub at_m: f64,
}

/// Reads the layers of an element from its material, or that of its type, and says what each is.
pub fn material(context: &Context<'_>, relations: &Relations, element: &Element, surface: SurfaceKind) -> Layers {
    let kind = relations.types.get(&element.entity);
    let own = relations.materials.get(&element.entity);
    let Some(&material) = own.or_else(|| relations.materials.get(kind?)) else { return Layers::default() };
    let read = layers::read(context.file, element.entity, material, context.length_m);
    let mut layers = read.unwrap_or_else(|trouble| {
        context.note(trouble);
        Layers::default()
    });
    classify(context, element, surface, &mut layers);
    layers
}

/// Gives a thickness to layers without one, where the body's own leaves no doubt.
///
/// One material fills the whole body, and so does framing with insulation between its members; others lie nobody
/// knows where.
pub fn fill_unsized(layers: &mut [Layer], thickness_m: f64) {
    if let [only] = layers {
        only.thickness_m = thickness_m;
        return;
    }
    let is_filled = layers.iter().all(|layer| matches!(layer.kind, LayerKind::Studs | LayerKind::Insulation));
    let mut framed = layers.iter_mut().filter(|layer| layer.kind == LayerKind::Studs);
    if let (true, Some(first), None) = (is_filled, framed.next(), framed.next()) {
        first.thickness_m = thickness_m;
    }
}

/// Lays the layers of an element across its body.
pub fn lay(context: &Context<'_>, element: &Element, found: &Layers, axes: &Axes) -> Stack {
    let middle_m = f64::midpoint(axes.low_m, axes.high_m);
    let mut layers = found.layers.clone();
    let stack = |layers, cavity_layer, at_m| Stack { layers, cavity_layer, at_m };
    if !found.has_thickness {
        fill_unsized(&mut layers, axes.thickness_m());
        let cavity = choose(context, element, &layers, &found.marks);
        return stack(layers, cavity, middle_m);
    }
    let mismatch = |message: String| context.note(Trouble::new(Code::LayersMismatch, element.entity, message));
    if let Some(layer) = layers.iter().find(|layer| layer.thickness_m < 0.0) {
        let (name, millimetres) = (&layer.material, layer.thickness_m * 1000.0);
        mismatch(format!("layer `{name}` has a negative thickness ({millimetres} mm); the layers are not used"));
        return stack(layers, None, middle_m);
    }
    let total_m: f64 = layers.iter().map(|layer| layer.thickness_m).sum();
    let off = (total_m - axes.thickness_m()).abs() > LAYER_TOLERANCE_M;
    if off {
        mismatch(format!("the layers add up to {total_m:.4} m, the body is {:.4} m thick", axes.thickness_m()));
    }
    let cavity = choose(context, element, &layers, &found.marks);
    let Some(index) = cavity else { return stack(layers, None, middle_m) };
    let before_m: f64 = layers.iter().take(index).map(|layer| layer.thickness_m).sum();
    let half_m = layers.get(index).map_or(0.0, |layer| layer.thickness_m / 2.0);
    let (at_m, misplaced) = position(found, axes, total_m, before_m + half_m);
    // The reference plane of a slab or covering may be its placement or its body's: both are in use.
    let stands = axes.pitch_deg() > STANDING_DEG;
    if let Some(message) = misplaced.filter(|_| !off && stands) {
        mismatch(message);
    }
    let inside = at_m > axes.low_m && at_m < axes.high_m;
    stack(layers, cavity, if inside { at_m } else { middle_m })
}

/// Where a point of the layer set lies along the thickness; a set that misses the body is laid against it.
fn position(found: &Layers, axes: &Axes, total_m: f64, within_m: f64) -> (f64, Option<String>) {
    // Seen along the thickness, the axis of the set may run the other way.
    let usage = found.usage.map(|usage| (usage, usage.across.dot(&axes.through)));
    let Some((usage, turn)) = usage.filter(|(_, turn)| turn.abs() > 1.0 - 1e-9) else {
        return (axes.low_m + within_m, None);
    };
    let sense = if usage.positive { turn.signum() } else { -turn.signum() };
    let start_m = usage.offset_m * turn.signum();
    let end_m = start_m + sense * total_m;
    let (low_m, high_m) = (start_m.min(end_m), start_m.max(end_m));
    let fits = (low_m - axes.low_m).abs() <= LAYER_TOLERANCE_M && (high_m - axes.high_m).abs() <= LAYER_TOLERANCE_M;
    if fits {
        return (start_m + sense * within_m, None);
    }
    let message = format!(
        "the layers lie from {low_m:.3} to {high_m:.3} m, the body from {:.3} to {:.3} m; they are laid against the body",
        axes.low_m, axes.high_m
    );
    let at_m = if sense > 0.0 { axes.low_m + within_m } else { axes.high_m - within_m };
    (at_m, Some(message))
}
