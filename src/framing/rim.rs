//! Laying out a rim: the strip of a wall that the structure of a floor runs into.

use super::carve::Carve;
use super::edges::sides;
use super::given::take_given;
use super::site::Site;
use super::studs::{Host, on_layout};
use super::{Layout, LayoutRules, MemberRole, MemberRow};
use crate::geometry::Bounds;
use crate::model::Surface;

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
