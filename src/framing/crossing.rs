//! What crosses the whole depth of a wall, whatever its rows: boxes that line openings, and fire boards.

use super::around_opening::rough_openings;
use super::blocking::at_most_apart;
use super::carve::Carve;
use super::near::Near;
use super::site::{Site, polygon_of};
use super::{Framing, LayoutRules, Member, MemberRole, RowRun};
use crate::geometry::tolerance::NEGLIGIBLE_AREA_M2;
use crate::geometry::{Bounds, Polygon, difference};
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
    let mut kept_off: Vec<Polygon> = openings.iter().flat_map(|opening| opening.shape.iter().cloned()).collect();
    kept_off.extend(openings.iter().map(|opening| polygon_of(&opening.clear)));
    kept_off.extend(surface.given_members.iter().flat_map(|member| member.outline.iter().cloned()));
    carve.block(kept_off.iter().cloned());
    if is_lined {
        let within = |b: &Bounds| site.rectangle([b.min_x, b.max_x], [b.min_y, b.max_y]);
        let boxes: Vec<Bounds> = openings.iter().filter_map(|opening| within(&opening.rough)).collect();
        carve.take_boxes(MemberRole::OpeningBox, &boxes);
    }
    let mut members = carve.members();
    if has_boards {
        kept_off.extend(members.iter().map(|member| member.outline.clone()));
        kept_off.extend(site.outside.iter().cloned());
        let kept_off = Near::of(kept_off);
        let boards = fire_boards(site, surface, framing, rules).into_iter();
        members.extend(boards.flat_map(|board| free_of(&polygon_of(&board), &kept_off)));
    }
    members
}

/// What of a board is free. Boards stay apart where they meet: a whole wall of them would be one piece, which every stud
/// would be held against.
fn free_of(board: &Polygon, kept_off: &Near) -> Vec<Member> {
    let near = kept_off.meeting(board);
    let pieces = if near.is_empty() { vec![board.clone()] } else { difference(std::slice::from_ref(board), &near) };
    let member = |outline: Polygon| Member { role: MemberRole::Blocking, area_m2: outline.area_m2(), outline };
    pieces.into_iter().map(member).filter(|piece| piece.area_m2 > NEGLIGIBLE_AREA_M2).collect()
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
    let ends = [bounds.min_x, bounds.max_x];
    // Rows end at the uprights.
    let from = std::iter::once(ends[0]).chain(uprights.iter().map(|upright| upright[1]));
    let to = uprights.iter().map(|upright| upright[0]).chain(std::iter::once(ends[1]));
    let stretches: Vec<[f64; 2]> = from.zip(to).map(|(from, to)| [from, to]).collect();
    let rows = united(rows);
    let rows = rows.iter().flat_map(|row| stretches.iter().filter_map(|stretch| site.rectangle(*stretch, *row)));
    let up = [bounds.min_y, bounds.max_y];
    rows.chain(uprights.iter().filter_map(|upright| site.rectangle(*upright, up))).collect()
}

/// Stretches in order, those that overlap made one.
fn united(mut stretches: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    stretches.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut apart: Vec<[f64; 2]> = Vec::new();
    for [from, to] in stretches {
        match apart.last_mut() {
            Some(last) if from <= last[1] => last[1] = last[1].max(to),
            _ => apart.push([from, to]),
        }
    }
    apart
}

#[cfg(test)]
mod tests {
    use super::united;

    #[test]
    fn rows_at_two_floors_that_meet_are_one() {
        assert_eq!(united(vec![[3.0, 3.1], [1.0, 1.2], [1.1, 1.3], [1.3, 1.4]]), [[1.0, 1.4], [3.0, 3.1]]);
    }
}
