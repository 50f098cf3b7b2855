//! Cutting a surface into bays.

use super::do_not_fill::keep_empty;
use crate::finding::Finding;
use crate::framing::{Layout, LayoutRules, from_the_left, oriented, polygon_of};
use crate::geometry::tolerance::{COINCIDENT_M, NEGLIGIBLE_AREA_M2};
use crate::geometry::{Bounds, Polygon, difference, intersection};
use crate::model::{Extent, Opening, Surface};

/// Reason of a piece that the filling tube does not reach into.
pub const TOO_NARROW: &str = "too narrow";
/// Reason of what lies inside the box around an opening but not in the opening.
pub const INSIDE_ROUGH_OPENING: &str = "inside the rough opening";
/// A piece thinner than this on average is a sliver, however long it is, in metres.
const SLIVER_M: f64 = 0.001;

/// One closed cavity between members.
#[derive(Clone, Debug, PartialEq)]
pub struct Bay {
    /// Number within the surface, from the left, then from below; counted from 1.
    pub number: u32,
    /// Its area, in square metres.
    pub area_m2: f64,
    /// Its outline; empty (no rings) where only an area is known.
    pub outline: Polygon,
}

/// A piece that stays empty.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// Why.
    pub reason: String,
    /// Its area, in square metres.
    pub area_m2: f64,
    /// Its outline; empty (no rings) where only an area is known.
    pub outline: Polygon,
}

/// A surface cut into bays and pieces that stay empty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayCut {
    /// What is filled.
    pub bays: Vec<Bay>,
    /// What is not.
    pub left_out: Vec<LeftOut>,
    /// What a person must know.
    pub findings: Vec<Finding>,
}

/// Cuts a surface into bays: what is left of it when its openings and members are taken out.
///
/// Every connected piece is a bay, numbered from the left, then from below. A piece whose largest
/// horizontal extent is less than the filling tube, and a sliver, goes to `left_out` as
/// [`TOO_NARROW`]; so does, as [`INSIDE_ROUGH_OPENING`], what framing around the box of an opening
/// of another shape leaves beside that opening; so does what the sheet says must stay empty, with
/// the sheet's reason. A surface of which only the area is known has one bay without outline.
pub fn cut_bays(surface: &Surface, layout: &Layout, rules: &LayoutRules) -> BayCut {
    let mut cut = BayCut::default();
    match &surface.extent {
        Extent::AreaM2(gross_m2) => {
            let members_m2: f64 = layout.members.iter().map(|member| member.area_m2).sum();
            let area_m2 = gross_m2 - surface.opening_area_m2() - members_m2;
            if area_m2 > 0.0 {
                cut.bays.push(Bay { number: 1, area_m2, outline: Polygon::default() });
            }
        }
        Extent::Outline(outline) => cut_outline(outline, surface, layout, rules, &mut cut),
    }
    keep_empty(surface, rules, &mut cut);
    cut
}

/// What is lost (positive) or counted twice (negative) between the gross area of one surface and its
/// openings, members, bays and left-out pieces, in square metres.
pub fn balance_residual_m2(surface: &Surface, layout: &Layout, cut: &BayCut) -> f64 {
    let members: f64 = layout.members.iter().map(|member| member.area_m2).sum();
    let bays: f64 = cut.bays.iter().map(|bay| bay.area_m2).sum();
    let left_out: f64 = cut.left_out.iter().map(|piece| piece.area_m2).sum();
    surface.gross_area_m2() - surface.opening_area_m2() - members - bays - left_out
}

/// Whether a piece is too narrow for the filling tube, or a sliver.
pub(super) fn is_too_narrow(piece: &Polygon, rules: &LayoutRules) -> bool {
    piece.bounds().is_none_or(|bounds| {
        let longest = bounds.width_m().hypot(bounds.height_m());
        bounds.width_m() < rules.tube_width_m - COINCIDENT_M || piece.area_m2() < SLIVER_M * longest
    })
}

fn cut_outline(outline: &[Polygon], surface: &Surface, layout: &Layout, rules: &LayoutRules, cut: &mut BayCut) {
    let outline: Vec<Polygon> = outline.iter().map(oriented).collect();
    let members = layout.members.iter().map(|member| oriented(&member.outline));
    let mut taken: Vec<Polygon> = members.collect();
    let mut boxes = Vec::new();
    for opening in &surface.openings {
        taken.extend(opening.outline.iter().map(oriented));
        boxes.extend(box_of_other_shape(opening));
    }
    if !boxes.is_empty() {
        for corner in difference(&intersection(&boxes, &outline), &taken) {
            cut.left_out.push(left_out(INSIDE_ROUGH_OPENING, corner));
        }
        taken.extend(boxes);
    }
    let mut pieces = difference(&outline, &taken);
    pieces.sort_by(from_the_left);
    let (narrow, bays): (Vec<_>, Vec<_>) = pieces.into_iter().partition(|piece| is_too_narrow(piece, rules));
    cut.left_out.extend(narrow.into_iter().map(|piece| left_out(TOO_NARROW, piece)));
    cut.bays = (1..).zip(bays).map(|(number, outline)| Bay { number, area_m2: outline.area_m2(), outline }).collect();
}

/// The box around an opening that does not fill it.
fn box_of_other_shape(opening: &Opening) -> Option<Polygon> {
    let bounds = Bounds::of_polygons(&opening.outline)?;
    let shape_m2: f64 = opening.outline.iter().map(Polygon::area_m2).sum();
    let rough = polygon_of(&bounds);
    (rough.area_m2() - shape_m2 > NEGLIGIBLE_AREA_M2).then_some(rough)
}

pub(super) fn left_out(reason: &str, outline: Polygon) -> LeftOut {
    LeftOut { reason: reason.to_owned(), area_m2: outline.area_m2(), outline }
}
