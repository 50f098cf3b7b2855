//! Cutting a surface into bays.

use super::clearance::keep_clear;
use super::displaced::displace;
use super::dividers::divide;
use super::do_not_fill::keep_empty;
use super::eave_roof::EaveRoof;
use super::eaves::{count_baffles, take_wedge};
use super::kept_empty::EmptyVolume;
use crate::finding::Finding;
use crate::framing::{Layout, LayoutRules, from_the_left, oriented, outline_of};
use crate::geometry::tolerance::{COINCIDENT_M, NEGLIGIBLE_AREA_M2};
use crate::geometry::{Bounds, Polygon, difference, intersection, welded};
use crate::model::{Assumption, Opening, Surface};

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
    /// What pieces of framing that take a part of the depth displace in it, in cubic metres.
    pub displaced_m3: f64,
    /// What of it stays empty though its area is filled, in cubic metres.
    pub empty_m3: f64,
    /// Its outline; empty (no rings) where only an area is known.
    pub outline: Polygon,
}

impl Bay {
    /// A bay in which nothing takes room yet.
    pub(super) fn of(number: u32, area_m2: f64, outline: Polygon) -> Self {
        Self { number, area_m2, displaced_m3: 0.0, empty_m3: 0.0, outline }
    }
}

/// A piece that stays empty.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// Why.
    pub reason: String,
    /// Its area, in square metres.
    pub area_m2: f64,
    /// What pieces of framing that take a part of the depth displace in it, in cubic metres.
    pub displaced_m3: f64,
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
    /// Volumes inside bays that stay empty, without an area of their own.
    pub empty_volumes: Vec<EmptyVolume>,
    /// The roof above a ceiling with open-blown fill, where it leaves less room than the fill needs.
    pub roof: Option<EaveRoof>,
    /// Area of bays that the roof above leaves too little room to reach the full thickness, in square metres.
    pub shallow_area_m2: f64,
    /// Baffles to set; `None` where none are needed or their number is not known.
    pub baffles: Option<u32>,
    /// What a person must know.
    pub findings: Vec<Finding>,
    /// Values that the inputs did not give.
    pub assumptions: Vec<Assumption>,
}

impl BayCut {
    /// Notes a value that the inputs did not give, once.
    pub(super) fn assume(&mut self, assumption: Assumption) {
        if !self.assumptions.contains(&assumption) {
            self.assumptions.push(assumption);
        }
    }
}

/// Cuts a surface into bays: what is left of it when its openings and members are taken out.
///
/// Every connected piece is a bay, numbered from the left, then from below. A piece whose largest
/// horizontal extent is less than the filling tube, and a sliver, goes to `left_out` as
/// [`TOO_NARROW`]; so does, as [`INSIDE_ROUGH_OPENING`], what framing around the box of an opening
/// of another shape leaves beside that opening; so does what the sheet says must stay empty, with
/// the sheet's reason, and so do the rings around flues, chimneys and lights. Dividers part the bays that they stand
/// in. Open-blown fill leaves the wedge at the eaves empty. A surface of which only the area is known has one bay
/// without outline.
pub fn cut_bays(surface: &Surface, layout: &Layout, rules: &LayoutRules) -> BayCut {
    let mut cut = BayCut::default();
    if let Some(outline) = outline_of(surface) {
        cut_outline(outline, surface, layout, rules, &mut cut);
    } else {
        let area_m2 = balance_residual_m2(surface, layout, &cut);
        if area_m2 > 0.0 {
            cut.bays.push(Bay::of(1, area_m2, Polygon::default()));
        }
    }
    divide(&layout.dividers_m, rules, &mut cut);
    keep_empty(surface, rules, &mut cut);
    keep_clear(surface, rules, &mut cut);
    displace(&layout.partial, &mut cut);
    take_wedge(surface, layout, rules, &mut cut);
    count_baffles(surface, layout, rules, &mut cut);
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
    let shapes = surface.openings.iter().flat_map(|opening| &opening.outline).map(oriented);
    let taken: Vec<Polygon> = members.chain(shapes).collect();
    let boxes = boxes_of_other_shape(surface, layout);
    let welded = welded(&[&outline, &taken, &boxes]);
    let [outline, taken, boxes] = welded.as_slice() else { return };
    for corner in difference(&intersection(boxes, outline), taken) {
        cut.left_out.push(left_out(INSIDE_ROUGH_OPENING, corner));
    }
    let mut pieces = difference(outline, &[taken.as_slice(), boxes.as_slice()].concat());
    pieces.sort_by(from_the_left);
    let (narrow, bays): (Vec<_>, Vec<_>) = pieces.into_iter().partition(|piece| is_too_narrow(piece, rules));
    cut.left_out.extend(narrow.into_iter().map(|piece| left_out(TOO_NARROW, piece)));
    cut.bays = (1..).zip(bays).map(|(number, outline)| Bay::of(number, outline.area_m2(), outline)).collect();
}

/// The boxes that framing surrounds and that their openings do not fill.
fn boxes_of_other_shape(surface: &Surface, layout: &Layout) -> Vec<Polygon> {
    let is_filled = |rough: &Polygon| {
        let Some(bounds) = rough.bounds() else { return true };
        let own = surface.openings.iter().filter(|opening| lies_in(opening, &bounds));
        let shape_m2: f64 = own.flat_map(|opening| &opening.outline).map(Polygon::area_m2).sum();
        rough.area_m2() - shape_m2 <= NEGLIGIBLE_AREA_M2
    };
    layout.rough_openings.iter().filter(|rough| !is_filled(rough)).cloned().collect()
}

fn lies_in(opening: &Opening, bounds: &Bounds) -> bool {
    Bounds::of_polygons(&opening.outline).is_some_and(|own| {
        own.min_x >= bounds.min_x - COINCIDENT_M
            && own.max_x <= bounds.max_x + COINCIDENT_M
            && own.min_y >= bounds.min_y - COINCIDENT_M
            && own.max_y <= bounds.max_y + COINCIDENT_M
    })
}

pub(super) fn left_out(reason: &str, outline: Polygon) -> LeftOut {
    LeftOut { reason: reason.to_owned(), area_m2: outline.area_m2(), displaced_m3: 0.0, outline }
}
