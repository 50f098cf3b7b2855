//! What crosses the whole depth of a wall, whatever its rows: boxes that line openings, and fire boards.

use super::around_opening::rough_openings;
use super::blocking::at_most_apart;
use super::carve::Carve;
use super::site::{Site, polygon_of};
use super::{Framing, LayoutRules, Member, MemberRole, RowRun};
use crate::geometry::Bounds;
use crate::model::{Surface, SurfaceKind};

/// Lays out what crosses the whole depth; none of it overlaps another, nor an opening.
///
/// A box lines an opening outside of its rough opening, so that the framing of every row stands that
/// much further out. Boards part a cavity that is open past its studs, evenly along the wall and
/// evenly between its bottom and top plates, so that no part of it is longer or higher than the
/// limit of the fire blocking; where the wall runs whole past a floor, one lies below the floor's
/// structure and one on its top. What closes the cavity on top of the plates and below them takes no height of the wall.
///
/// # Source
/// Boards: IRC R302.11, item 1: in furred spaces and parallel rows of studs or staggered studs, at the ceiling and floor
/// levels and horizontally at 10 ft at most. Boxes and the place of boards: common practice, no source.
pub(super) fn crossing(site: &Site, surface: &Surface, framing: &Framing, rules: &LayoutRules) -> Vec<Member> {
    let has_boards = has_fire_boards(surface, framing, rules);
    let is_lined = surface.kind == SurfaceKind::Wall && !rules.is_rim && rules.opening_box_m.is_some();
    if !has_boards && !is_lined {
        return Vec::new();
    }
    let openings = rough_openings(surface, rules);
    let mut carve = Carve::of(site);
    carve.block(openings.iter().flat_map(|opening| opening.shape.iter().cloned()));
    carve.block(openings.iter().map(|opening| polygon_of(&opening.clear)));
    carve.block(surface.given_members.iter().flat_map(|member| member.outline.iter().cloned()));
    if is_lined {
        let within = |b: &Bounds| site.rectangle([b.min_x, b.max_x], [b.min_y, b.max_y]);
        let boxes: Vec<Bounds> = openings.iter().filter_map(|opening| within(&opening.rough)).collect();
        carve.take_boxes(MemberRole::OpeningBox, &boxes);
    }
    if has_boards {
        carve.take_boxes(MemberRole::Blocking, &fire_boards(site, surface, framing, rules));
    }
    carve.members()
}

/// Whether boards part the cavity of a surface at the limit of its fire blocking.
pub(super) fn has_fire_boards(surface: &Surface, framing: &Framing, rules: &LayoutRules) -> bool {
    surface.kind == SurfaceKind::Wall && !rules.is_rim && framing.has_fire_boards(rules)
}

impl Framing {
    /// Whether boards part the cavity of a wall framed so.
    pub fn has_fire_boards(&self, rules: &LayoutRules) -> bool {
        let has_room = rules.fire_board_m.zip(rules.fire_blocking_m).is_some_and(|(board, limit)| limit > 2.0 * board);
        has_room && self.is_open_past_studs()
    }
}

fn fire_boards(site: &Site, surface: &Surface, framing: &Framing, rules: &LayoutRules) -> Vec<Bounds> {
    let Some((board_m, limit_m)) = rules.fire_board_m.zip(rules.fire_blocking_m) else { return Vec::new() };
    let bounds = &site.bounds;
    let studs = framing.rows.iter().filter(|row| row.run == RowRun::Up);
    let plate_m = studs.map(|row| rules.plate_m(row)).fold(0.0, f64::max);
    let plates_m = |count: u32| f64::from(count) * plate_m;
    let between = [bounds.min_y + plates_m(rules.bottom_plates), bounds.max_y - plates_m(rules.top_plates)];
    let bands = surface.floor_bands.iter().filter(|_| rules.keeps_whole);
    let mut rows: Vec<[f64; 2]> =
        bands.flat_map(|band| [[band.from_m - board_m, band.from_m], [band.to_m, band.to_m + board_m]]).collect();
    rows.retain(|row| row[0] < between[1] && row[1] > between[0]);
    rows.extend(at_most_apart(between, &rows, limit_m, board_m));
    let uprights = at_most_apart([bounds.min_x, bounds.max_x], &[], limit_m, board_m);
    let (across, up) = ([bounds.min_x, bounds.max_x], [bounds.min_y, bounds.max_y]);
    let rows = rows.into_iter().filter_map(|row| site.rectangle(across, row));
    rows.chain(uprights.into_iter().filter_map(|upright| site.rectangle(upright, up))).collect()
}
