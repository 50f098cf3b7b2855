//! Depth of the cavity.

use super::Framing;
use super::lay_out::place_of;
use crate::finding::{Code, Finding};
use crate::model::Surface;

/// A layer and a member that differ by no more than this are the same, in metres.
const SAME_DEPTH_M: f64 = 0.003;

/// Depth of the cavity of a surface in metres, and what is odd about it.
///
/// A measured depth wins. Else it is the dressed depth of the framing, or the thickness of the
/// cavity layer where that is smaller; the finding says when these two differ by over 3 mm.
pub fn depth_of(surface: &Surface, framing: &Framing) -> (f64, Option<Finding>) {
    let usable = |depth: &f64| depth.is_finite() && *depth > 0.0;
    if let Some(measured) = surface.measured_depth_m.filter(usable) {
        return (measured, None);
    }
    let dressed = framing.depth_m;
    let layer = surface.cavity_layer.and_then(|index| surface.layers.get(index));
    let Some(layer) = layer.filter(|layer| usable(&layer.thickness_m)) else { return (dressed, None) };
    let depth = dressed.min(layer.thickness_m);
    let finding = ((layer.thickness_m - dressed).abs() > SAME_DEPTH_M).then(|| {
        let message = format!(
            "the cavity layer `{}` is {:.1} mm thick but `{}` is {:.1} mm deep: the smaller of the two is used; name the \
             framing that stands in this layer, or give the measured depth",
            layer.material,
            layer.thickness_m * 1000.0,
            framing.text,
            dressed * 1000.0
        );
        Finding::warning(Code::DepthMismatch, &place_of(surface), message)
    });
    (depth, finding)
}
