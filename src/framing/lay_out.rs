//! From a surface and its framing to a layout.

use super::flat::lay_out_flat;
use super::fraction::frame_by_fraction;
use super::given::lay_out_given;
use super::site::Site;
use super::studs::has_sane_count;
use super::wall::lay_out_wall;
use super::{Framing, Layout, LayoutRules, depth_of};
use crate::finding::{Code, Finding};
use crate::geometry::Polygon;
use crate::model::{Extent, Opening, Surface, SurfaceKind};
use crate::source::Place;

/// Lays out the framing of one surface.
///
/// A wall gets plates, studs and the framing around its openings; a ceiling, roof or floor gets
/// joists or rafters, rims and trimmers; a surface of which only the area is known gets framing by
/// fraction. No two members overlap, none lies in an opening or outside the outline.
pub fn lay_out(surface: &Surface, framing: &Framing, rules: &LayoutRules) -> Layout {
    let (depth_m, finding) = depth_of(surface, framing);
    let mut layout = Layout { depth_m, ..Layout::default() };
    layout.findings.extend(finding);
    let place = place_of(surface);
    let Some(outline) = outline_of(surface) else {
        frame_by_fraction(surface, rules, &mut layout);
        if matches!(surface.extent, Extent::Outline(_)) {
            layout.findings.push(opening_without_outline(&place));
        }
        return layout;
    };
    let Some(site) = Site::of(outline) else { return layout };
    if surface.framing_is_given {
        lay_out_given(&site, surface, &mut layout);
        return layout;
    }
    if !has_sane_count(&site, framing, rules) {
        layout.findings.push(too_many_members(&site, framing, &place));
    }
    match surface.kind {
        SurfaceKind::Wall => lay_out_wall(&site, surface, framing, rules, &place, &mut layout),
        SurfaceKind::Ceiling | SurfaceKind::Roof | SurfaceKind::Floor => {
            lay_out_flat(&site, surface, framing, rules, &mut layout);
        }
    }
    layout
}

/// The outline that a surface is laid out on; `None` where only an area is known of it, or of one of its openings.
pub(crate) fn outline_of(surface: &Surface) -> Option<&[Polygon]> {
    let has_no_place = |opening: &Opening| opening.outline.is_empty() && opening.area_m2 > 0.0;
    match &surface.extent {
        Extent::Outline(outline) if !surface.openings.iter().any(has_no_place) => Some(outline),
        Extent::Outline(_) | Extent::AreaM2(_) => None,
    }
}

/// Place of a surface, as findings name it.
pub(crate) fn place_of(surface: &Surface) -> Place {
    let entity = surface.source.entity.as_deref().and_then(|name| name.trim_start_matches('#').parse().ok());
    Place {
        input: surface.source.input.clone(),
        line: surface.source.line,
        column: None,
        entity,
        id: Some(surface.id.clone()),
    }
}

fn opening_without_outline(place: &Place) -> Finding {
    let message = "an opening has an area but no width and height, so that framing cannot go around it: this surface is \
                   framed by fraction; give the size of every opening";
    Finding::warning(Code::LayoutDoubt, place, message)
}

fn too_many_members(site: &Site, framing: &Framing, place: &Place) -> Finding {
    let message = format!(
        "a surface of {:.3} x {:.3} m cannot be laid out with `{}`: no members on the layout are drawn; check its size, \
         the unit and the spacing",
        site.bounds.width_m(),
        site.bounds.height_m(),
        framing.text
    );
    Finding::error(Code::LayoutDoubt, place, message)
}
