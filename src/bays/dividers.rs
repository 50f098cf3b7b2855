//! Dividers of no thickness: they part bays and take no room.

use super::cut::{Bay, BayCut, TOO_NARROW, is_too_narrow, left_out};
use crate::framing::{LayoutRules, from_the_left, polygon_of};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Polygon, intersection};

/// Cuts bays along uprights, which stand in order from the left, and numbers them anew.
pub(super) fn divide(dividers_m: &[f64], rules: &LayoutRules, cut: &mut BayCut) {
    if dividers_m.is_empty() || cut.bays.iter().any(|bay| bay.outline.rings.is_empty()) {
        return;
    }
    let mut pieces: Vec<Polygon> =
        std::mem::take(&mut cut.bays).into_iter().flat_map(|bay| parted(bay.outline, dividers_m)).collect();
    pieces.sort_by(from_the_left);
    let (narrow, kept): (Vec<_>, Vec<_>) = pieces.into_iter().partition(|piece| is_too_narrow(piece, rules));
    cut.left_out.extend(narrow.into_iter().map(|piece| left_out(TOO_NARROW, piece)));
    cut.bays = (1..).zip(kept).map(|(number, outline)| Bay::of(number, outline.area_m2(), outline)).collect();
}

fn parted(outline: Polygon, dividers_m: &[f64]) -> Vec<Polygon> {
    let Some(bounds) = outline.bounds() else { return vec![outline] };
    let inside = |x: &&f64| **x > bounds.min_x + COINCIDENT_M && **x < bounds.max_x - COINCIDENT_M;
    let cuts_m: Vec<f64> = dividers_m.iter().filter(inside).copied().collect();
    if cuts_m.is_empty() {
        return vec![outline];
    }
    let from_m = std::iter::once(bounds.min_x).chain(cuts_m.iter().copied());
    let to_m = cuts_m.iter().copied().chain(std::iter::once(bounds.max_x));
    let strips = from_m.zip(to_m).map(|(min_x, max_x)| Bounds { min_x, max_x, ..bounds });
    strips.flat_map(|strip| intersection(std::slice::from_ref(&outline), &[polygon_of(&strip)])).collect()
}
