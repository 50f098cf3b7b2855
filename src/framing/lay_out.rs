//! From a surface and its framing to a layout.

use super::flat::lay_out_flat;
use super::fraction::frame_by_fraction;
use super::site::Site;
use super::studs::has_sane_count;
use super::wall::lay_out_wall;
use super::{Framing, Layout, LayoutRules, depth_of};
use crate::finding::{Code, Finding};
use crate::model::{Extent, Surface, SurfaceKind};
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
    let outline = match &surface.extent {
        Extent::Outline(outline) => outline,
        Extent::AreaM2(_) => {
            frame_by_fraction(surface, rules, &mut layout);
            return layout;
        }
    };
    let Some(site) = Site::of(outline) else { return layout };
    let place = place_of(surface);
    if !has_sane_count(&site, framing) {
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

fn too_many_members(site: &Site, framing: &Framing, place: &Place) -> Finding {
    let message = format!(
        "a length of {:.3} m cannot be laid out with `{}`: no members on the layout are drawn; check the length, its unit \
         and the spacing",
        site.bounds.width_m(),
        framing.text
    );
    Finding::error(Code::LayoutDoubt, place, message)
}
