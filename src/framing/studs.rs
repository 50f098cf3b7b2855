//! Members on the layout: studs, joists and rafters, and whom they are united with.

use super::site::Site;
use super::{LayoutEnd, LayoutRules, MemberRole, MemberRow};
use crate::geometry::Bounds;
use crate::geometry::tolerance::COINCIDENT_M;
use std::collections::BTreeMap;

/// More members than this in one surface are a slip in a length or a unit, not a wall.
pub(super) const MOST_MEMBERS: f64 = 5_000.0;

/// A stretch along the surface that another member stands in.
pub(super) struct Host {
    /// What stands there.
    pub(super) role: MemberRole,
    /// From where to where.
    pub(super) x: [f64; 2],
}

impl Host {
    /// The stretch of a box.
    pub(super) fn of(role: MemberRole, bounds: &Bounds) -> Self {
        Self { role, x: [bounds.min_x, bounds.max_x] }
    }
}

/// The boxes of all members on the layout over the full height, by the role that they get.
///
/// A member stands on every multiple of the spacing smaller than the length. One that overlaps a
/// host is united with it; one that stands within a zone (an opening and its jacks) takes the role
/// for zones, since only the pieces above and below the opening are left of it.
pub(super) fn on_layout(
    site: &Site,
    row: &MemberRow,
    rules: &LayoutRules,
    hosts: &[Host],
    zones: &[[f64; 2]],
    roles: [MemberRole; 2],
) -> BTreeMap<MemberRole, Vec<Bounds>> {
    at_places(site, row, &centres(site, row, rules), hosts, zones, roles)
}

/// The same for members whose middles are given.
pub(super) fn at_places(
    site: &Site,
    row: &MemberRow,
    middles: &[f64],
    hosts: &[Host],
    zones: &[[f64; 2]],
    roles: [MemberRole; 2],
) -> BTreeMap<MemberRole, Vec<Bounds>> {
    let mut boxes: BTreeMap<MemberRole, Vec<Bounds>> = BTreeMap::new();
    let half = row.member_width_m / 2.0;
    for centre in middles {
        let x = [centre + row.beside_m - half, centre + row.beside_m + half];
        let host = hosts.iter().find(|host| overlap(host.x, x) > COINCIDENT_M);
        let in_zone = zones.iter().any(|zone| zone[0] - COINCIDENT_M < x[0] && x[1] < zone[1] + COINCIDENT_M);
        let role = match (host, in_zone) {
            (Some(host), _) => host.role,
            (None, true) => roles[1],
            (None, false) => roles[0],
        };
        boxes.entry(role).or_default().extend(site.rectangle(x, [site.bounds.min_y, site.bounds.max_y]));
    }
    boxes
}

/// Whether the spacing and the rows of blocking fit the size of the surface: above nothing and not absurdly small.
pub(super) fn has_sane_count(site: &Site, row: &MemberRow, rules: &LayoutRules) -> bool {
    let rows = rules.blocking_every_m.map_or(0.0, |every| site.bounds.height_m() / every);
    row.spacing_m > 0.0
        && row.member_width_m > 0.0
        && site.bounds.width_m() / row.spacing_m <= MOST_MEMBERS
        && rows <= MOST_MEMBERS
}

/// Middles of the members, from the end that the layout is measured from.
pub(super) fn centres(site: &Site, row: &MemberRow, rules: &LayoutRules) -> Vec<f64> {
    if !has_sane_count(site, row, rules) {
        return Vec::new();
    }
    let length = site.bounds.width_m();
    // A row that is shifted begins before the first stud of the layout, where there is room.
    let first_m = rules.first_stud_m.unwrap_or(row.spacing_m);
    let from = u32::from(row.shift_m <= COINCIDENT_M);
    let multiples = (from..).map(|k| first_m + (f64::from(k) - 1.0) * row.spacing_m + row.shift_m);
    let offsets = multiples.skip_while(|x| *x < COINCIDENT_M).take_while(|x| *x < length - COINCIDENT_M);
    match rules.layout_end {
        LayoutEnd::Left => offsets.map(|x| site.bounds.min_x + x).collect(),
        LayoutEnd::Right => offsets.map(|x| site.bounds.max_x - x).collect(),
    }
}

/// Length that two stretches share; negative where they are apart.
pub(super) fn overlap(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[1].min(b[1]) - a[0].max(b[0])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::framing::parse_framing;
    use crate::geometry::Polygon;

    fn centres_in(length_in: f64, end: LayoutEnd) -> Vec<f64> {
        let site = Site::of(&[Polygon::rectangle(0.0, 0.0, length_in * 0.0254, 2.4)]).unwrap();
        let rules = LayoutRules { layout_end: end, ..LayoutRules::default() };
        let framing = parse_framing("2x4 @ 16 in").unwrap();
        centres(&site, &framing.rows[0], &rules).iter().map(|x| (x / 0.0254 * 1e6).round() / 1e6).collect()
    }

    // By hand: multiples of 16 smaller than the length.
    #[test]
    fn multiples_smaller_than_the_length() {
        assert_eq!(centres_in(48.0, LayoutEnd::Left), [16.0, 32.0]);
        assert_eq!(centres_in(49.0, LayoutEnd::Left), [16.0, 32.0, 48.0]);
        assert_eq!(centres_in(40.0, LayoutEnd::Right), [24.0, 8.0]);
    }
}
