//! Studs at the edges of panels.

use super::site::Site;
use super::studs::{MOST_MEMBERS, centres};
use super::{LayoutEnd, LayoutRules, MemberRow};
use crate::geometry::tolerance::COINCIDENT_M;

/// Middles of the studs on the layout, and of those at panel edges that no stud of the layout and none
/// of the members that stand at `held` (from, to) covers.
///
/// Panels are laid from the end that the layout is measured from.
///
/// # Source
/// Edges of wall sheathing bear on framing: IRC R602.3, Table R602.3(1); panels of 4 ft: common practice, no source.
pub(super) fn centres_with_panels(site: &Site, row: &MemberRow, rules: &LayoutRules, held: &[[f64; 2]]) -> Vec<f64> {
    let mut all = centres(site, row, rules);
    let usable = |width_m: &f64| *width_m > row.member_width_m && site.bounds.width_m() / width_m <= MOST_MEMBERS;
    let Some(panel_m) = rules.panel_width_m.filter(usable) else { return all };
    let half_m = row.member_width_m / 2.0 - COINCIDENT_M;
    let length_m = site.bounds.width_m();
    let offsets = (1_u32..).map(|k| f64::from(k) * panel_m).take_while(|x| *x < length_m - COINCIDENT_M);
    let edges = offsets.map(|offset_m| match rules.layout_end {
        LayoutEnd::Left => site.bounds.min_x + offset_m,
        LayoutEnd::Right => site.bounds.max_x - offset_m,
    });
    let is_open = |x: &f64| {
        !all.iter().any(|middle| (middle - x).abs() < half_m)
            && !held.iter().any(|place| place[0] + COINCIDENT_M < *x && *x < place[1] - COINCIDENT_M)
    };
    let more: Vec<f64> = edges.filter(is_open).collect();
    all.extend(more);
    all
}
