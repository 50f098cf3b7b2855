//! Laying out a rim: the strip of a wall that the structure of a floor runs into.
//!
//! A band (rim joist) stands along the outer face of the cavity, over the whole strip, and the ends of joists meet it from
//! inside. What is filled is the depth behind the band, and joist ends go through all of that.

use super::carve::Carve;
use super::edges::sides;
use super::given::take_given;
use super::site::Site;
use super::studs::{Host, on_layout};
use super::{Layout, LayoutRules, MemberRole, MemberRow};
use crate::geometry::Bounds;
use crate::model::{Surface, SurfaceKind};

/// Less than this behind a band, in metres, is no cavity: furring is 1 in. nominal, and a filling tube has to pass. Common practice,
/// no source.
pub(super) const LEAST_BEHIND_M: f64 = 0.0254;

/// Depth that the band of a rim takes from the outer face of a wall's cavity, in metres; nought where there is none.
pub(super) fn band_m(surface: &Surface, rules: &LayoutRules) -> f64 {
    let has_band = surface.kind == SurfaceKind::Wall && rules.is_rim && !surface.framing_is_given;
    rules.rim_joist_m.filter(|_| has_band).unwrap_or(0.0)
}

/// What of the rows lies behind a band, measured from its inner face.
pub(super) fn rows_behind(rows: Vec<MemberRow>, band_m: f64) -> Vec<MemberRow> {
    let behind = |row: MemberRow| MemberRow {
        from_m: (row.from_m - band_m).max(0.0),
        to_m: (row.to_m - band_m).max(0.0),
        ..row
    };
    rows.into_iter().map(behind).collect()
}

/// The joists of a rim: one row of ends through all of the depth, whatever rows of studs stand above and below.
pub(super) fn joists_through(rows: Vec<MemberRow>, depth_m: f64) -> Vec<MemberRow> {
    rows.into_iter().take(1).map(|row| MemberRow { from_m: 0.0, to_m: depth_m, ..row }).collect()
}

/// A rim that its band fills: nothing is left of the cavity.
pub(super) fn all_band(site: &Site, surface: &Surface, layout: &mut Layout) {
    let mut carve = Carve::of(site);
    carve.block(surface.openings.iter().flat_map(|opening| opening.outline.iter().cloned()));
    carve.take(MemberRole::Rim, &site.outline);
    layout.members = carve.members();
}

/// Lays out a strip as a rim: the ends of joists on the layout and one at each end, without plates,
/// headers or blocking.
///
/// # Source
/// Common practice, no source.
pub(super) fn lay_out_rim(site: &Site, surface: &Surface, row: &MemberRow, rules: &LayoutRules, layout: &mut Layout) {
    let joist = |side: super::edge::Side| {
        let width = row.member_width_m;
        let x = if side.is_left_end { [side.x, side.x + width] } else { [side.x - width, side.x] };
        site.rectangle(x, site.reach_at(f64::midpoint(x[0], x[1]), side.y))
    };
    let ends: Vec<Bounds> = sides(site, 0.0).into_iter().filter_map(joist).collect();
    let mut carve = Carve::of(site);
    carve.block(surface.openings.iter().flat_map(|opening| opening.outline.iter().cloned()));
    take_given(&mut carve, surface);
    carve.take_boxes(MemberRole::Joist, &ends);
    let hosts: Vec<Host> = ends.iter().map(|b| Host::of(MemberRole::Joist, b)).collect();
    for (role, boxes) in on_layout(site, row, rules, &hosts, &[], [MemberRole::Joist; 2]) {
        carve.take_boxes(role, &boxes);
    }
    layout.members = carve.members();
}
