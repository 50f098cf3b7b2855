//! Elements without a body of their own, whose parts are the geometry: framed walls, member by member.

use super::axes::{Axes, Stance};
use super::context::Context;
use super::element::Element;
use super::layers::Layers;
use super::members::{Part, cut_members, odd_bays, parts_of, sections};
use super::openings::{Cut, Host, openings_of};
use super::placement::Chain;
use super::plate::{aside, surface};
use super::relations::Relations;
use super::stack::{self, Stack};
use super::standing::standing;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{Polygon, Solid, union};
use crate::model::{Surface, SurfaceKind};

/// Measures an element by its parts; `None` where these have no bodies either.
///
/// # Errors
/// Parts that cannot be measured.
pub fn measure(
    context: &Context<'_>,
    relations: &Relations,
    element: &Element,
    kind: SurfaceKind,
    chain: &Chain,
) -> Result<Option<Surface>, Trouble> {
    let parts = parts_of(context, relations, element, chain);
    if parts.is_empty() {
        return Ok(None);
    }
    let stance = if kind == SurfaceKind::Wall { Stance::Upright } else { Stance::Lying };
    let of =
        |wanted: fn(&Part) -> bool| Solid::Union(parts.iter().filter(|p| wanted(p)).map(|p| p.solid.clone()).collect());
    let has_members = parts.iter().any(|part| part.is_member);
    // The framing alone says where the cavity is; boards on it only say how thick the whole is.
    let framing = if has_members { of(|part| part.is_member) } else { of(|_| true) };
    let whole = of(|_| true);
    let axes = Axes::of_parts(element, &framing, chain, stance)?;
    let thickness_m = super::body::extent(&[&whole], &axes.through).map(|(low, high)| high - low);
    let plane = aside(&framing, axes.plane(f64::midpoint(axes.low_m, axes.high_m)));
    let cut = sections(context, parts, &plane);
    let region: Vec<Polygon> = cut.iter().flat_map(|(_, polygons)| polygons.iter().cloned()).collect();
    // What members enclose belongs to the element.
    let outline: Vec<Polygon> = union(&region).iter().map(Polygon::without_holes).collect();
    let outline = union(&outline);
    if outline.is_empty() {
        return Err(Trouble::new(
            Code::BodyDegenerate,
            element.entity,
            "the parts have no area in the plane of the cavity",
        ));
    }
    let cut_by = Cut::Flat { plane: &plane, low_m: axes.low_m, high_m: axes.high_m };
    let lying = (stance == Stance::Lying).then_some(&framing);
    let host = Host { element, chain, cut: cut_by, lying };
    let found = openings_of(context, relations, &host, &outline);
    found.troubles.iter().for_each(|trouble| context.note(trouble.clone()));
    let members = cut_members(context, cut, &found);
    note_odd_bays(context, element, &odd_bays(&found.gross, &members), found.openings.is_empty());
    let layers: Layers = stack::material(context, relations, element, kind);
    let cavity_layer = super::cavity::choose(context, element, &layers.layers, &layers.marks);
    let stack = Stack { layers: layers.layers, cavity_layer, at_m: 0.0 };
    let standing = standing(chain, &plane, found.origin, &found.gross, kind);
    let mut surface = surface(context, element, kind, &axes, stack, found);
    surface.standing = standing;
    surface.thickness_m = thickness_m;
    surface.measured_depth_m = has_members.then(|| axes.thickness_m());
    surface.framing_is_given = !members.is_empty();
    surface.given_members = members;
    Ok(Some(surface))
}

fn note_odd_bays(context: &Context<'_>, element: &Element, odd: &[crate::geometry::Bounds], has_no_openings: bool) {
    if odd.is_empty() || !has_no_openings {
        return;
    }
    let widths: Vec<String> = odd.iter().map(|bay| format!("{:.2} x {:.2} m", bay.width_m(), bay.height_m())).collect();
    let message = format!(
        "the model gives this framing no openings, but {} between its members ({}) may be windows or doors; they are counted as bays",
        if odd.len() == 1 { "a gap" } else { "gaps" },
        widths.join(", ")
    );
    context.note(Trouble::new(Code::OpeningNotGiven, element.entity, message));
}
