//! Corner posts and the framing of junctions with partitions.

use super::around_opening::Around;
use super::edge::Side;
use super::edges::sides;
use super::junctions::{corner_ends, framed};
use super::site::Site;
use super::studs::overlap;
use super::{LayoutRules, MemberRow, PartitionBuild};
use crate::finding::{Code, Finding};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Point};
use crate::model::{Assumption, JunctionKind, Surface};
use crate::source::Place;
use crate::units::display::both_ways;

/// More posts than this along one wall are a slip.
const MOST_POSTS: u32 = 100;

/// Where posts were placed.
#[derive(Default)]
pub(super) struct Posts {
    pub(super) corners: Vec<Bounds>,
    pub(super) partitions: Vec<Bounds>,
    /// Places of partitions that get a ladder.
    pub(super) ladders: Vec<Point>,
    pub(super) assumptions: Vec<Assumption>,
    /// Posts asked for that find no free place.
    without_place: u32,
    /// Junctions that would stand in an opening or a post: where they are and where they are framed in, in metres.
    moved_m: Vec<[f64; 2]>,
}

impl Posts {
    /// Says that posts found no place of their own.
    pub(super) fn findings(&self, place: &Place) -> Vec<Finding> {
        let mut findings = Vec::new();
        if self.without_place > 0 {
            let message = format!(
                "{} of the corner posts and partition junctions find no free place in this wall: they are left out or \
                 share their place with other framing; check the numbers",
                self.without_place
            );
            findings.push(Finding::warning(Code::LayoutDoubt, place, message));
        }
        for [from_m, to_m] in &self.moved_m {
            let message = format!(
                "a partition meets this wall {} from its left end, where an opening and its studs or a post \
                 stand: it is framed in at {}, the nearest place beside; check the place of both",
                both_ways(*from_m),
                both_ways(*to_m)
            );
            findings.push(Finding::warning(Code::LayoutDoubt, place, message));
        }
        findings
    }
}

/// Places corner posts beside the end studs and the framing of partitions: those whose place is given
/// where they are, or at the nearest place beside an opening; all others by turns left and right, and
/// evenly between the ends.
pub(super) fn place_posts(
    site: &Site,
    surface: &Surface,
    row: &MemberRow,
    rules: &LayoutRules,
    around: &[Around],
) -> Posts {
    let mut posts = Posts::default();
    place_corners(site, surface, row, rules, &mut posts);
    place_partitions(site, surface, row, rules, around, &mut posts);
    posts
}

fn place_corners(site: &Site, surface: &Surface, row: &MemberRow, rules: &LayoutRules, posts: &mut Posts) {
    let bounds = &site.bounds;
    let given = corner_ends(surface, rules, [bounds.min_x, bounds.max_x]);
    let count = surface.corner_posts.min(MOST_POSTS);
    let width = f64::from(rules.corner_post_studs) * row.post_width_m();
    // What an end stud with flanges leaves between its web and the post stays empty: it is a part of the post.
    let pocket_m = row.post_width_m() - row.member_width_m;
    if (count == 0 && given == [false; 2]) || width <= 0.0 {
        return;
    }
    let upright = sides(site, 0.0);
    let [at_left, at_right] = given;
    let (mut on_left, mut on_right) = (0_u32, 0_u32);
    let at_ends = [(at_left, true), (at_right, false)].into_iter().filter(|(is_given, _)| *is_given);
    let by_turns = (0..count).map(|_| None);
    for end in at_ends.map(|(_, is_left)| Some(is_left)).chain(by_turns) {
        let is_left = end.unwrap_or(on_left <= on_right);
        let used = if is_left { &mut on_left } else { &mut on_right };
        let end_m = row.post_width_m() + f64::from(*used + 1) * width;
        let inset_m = end_m - width - if *used == 0 { pocket_m } else { 0.0 };
        *used += 1;
        let x = if is_left {
            [bounds.min_x + inset_m, bounds.min_x + end_m]
        } else {
            [bounds.max_x - end_m, bounds.max_x - inset_m]
        };
        let y = end_y(site, &upright, is_left);
        let is_inside = x[0] >= bounds.min_x && x[1] <= bounds.max_x;
        let taken = posts.corners.iter().any(|b| overlap([b.min_x, b.max_x], x) > COINCIDENT_M);
        let post = site.rectangle(x, site.reach_at(f64::midpoint(x[0], x[1]), y));
        match post.filter(|_| is_inside && !taken) {
            Some(post) => posts.corners.push(post),
            None => posts.without_place += 1,
        }
    }
    posts.without_place = posts.without_place.saturating_add(surface.corner_posts - count);
    if count > 0 {
        posts.assumptions.push(assumed_place("layout.corner_posts", "beside the end studs, left and right by turns"));
    }
}

/// Middle of the height of the wall's left or right end.
fn end_y(site: &Site, upright: &[Side], is_left: bool) -> f64 {
    let x = if is_left { site.bounds.min_x } else { site.bounds.max_x };
    let at_end = upright.iter().find(|s| s.is_left_end == is_left && (s.x - x).abs() < COINCIDENT_M);
    at_end.map_or(f64::midpoint(site.bounds.min_y, site.bounds.max_y), |side| side.y)
}

fn place_partitions(
    site: &Site,
    surface: &Surface,
    row: &MemberRow,
    rules: &LayoutRules,
    around: &[Around],
    posts: &mut Posts,
) {
    let mut given = framed(surface, JunctionKind::Partition, rules);
    let most = usize::try_from(MOST_POSTS).unwrap_or(usize::MAX);
    posts.without_place += u32::try_from(given.len().saturating_sub(most)).unwrap_or(u32::MAX);
    given.truncate(most);
    let count = surface.partition_junctions.min(MOST_POSTS);
    let width = f64::from(rules.partition_studs) * row.post_width_m();
    if (count == 0 && given.is_empty()) || width <= 0.0 || rules.partition_build == PartitionBuild::Bare {
        return;
    }
    let mut taken: Vec<[f64; 2]> = around.iter().map(|a| a.reach).collect();
    taken.extend(posts.corners.iter().map(|b| [b.min_x, b.max_x]));
    let bounds = &site.bounds;
    let ends = [bounds.min_x + row.post_width_m(), bounds.max_x - row.post_width_m()];
    let even = |k: u32| bounds.min_x + bounds.width_m() * f64::from(k) / f64::from(count + 1);
    let wanted = given.iter().map(|junction| (junction.at_m, true)).chain((1..=count).map(|k| (even(k), false)));
    for (middle, is_given) in wanted {
        let from = middle - width / 2.0;
        let place = nearest_free(from, width, ends, &taken);
        posts.without_place += u32::from(place.is_none());
        let x = place.map_or([from, from + width], |from| [from, from + width]);
        if is_given && (x[0] - from).abs() > COINCIDENT_M {
            posts.moved_m.push([middle - bounds.min_x, f64::midpoint(x[0], x[1]) - bounds.min_x]);
        }
        let y = f64::midpoint(bounds.min_y, bounds.max_y);
        taken.push(x);
        if rules.partition_build == PartitionBuild::Ladder {
            posts.ladders.push([f64::midpoint(x[0], x[1]), y]);
        } else {
            posts.partitions.extend(site.rectangle(x, site.reach_at(f64::midpoint(x[0], x[1]), y)));
        }
    }
    posts.without_place = posts.without_place.saturating_add(surface.partition_junctions - count);
    if count > 0 {
        posts.assumptions.push(assumed_place("layout.partitions", "evenly spaced, clear of openings"));
    }
}

/// Left edge of the free place of a width that is nearest to `even`.
fn nearest_free(even: f64, width: f64, ends: [f64; 2], taken: &[[f64; 2]]) -> Option<f64> {
    let is_free = |from: f64| {
        from >= ends[0] - COINCIDENT_M
            && from + width <= ends[1] + COINCIDENT_M
            && taken.iter().all(|stretch| overlap(*stretch, [from, from + width]) <= COINCIDENT_M)
    };
    let beside = taken.iter().flat_map(|stretch| [stretch[0] - width, stretch[1]]);
    let free: Vec<f64> = std::iter::once(even).chain(beside).filter(|from| is_free(*from)).collect();
    let nearest_m = free.iter().map(|from| (from - even).abs()).min_by(f64::total_cmp)?;
    // Of two that are as near as each other, the left one, whatever the last digit.
    let as_near = free.into_iter().filter(|from| (from - even).abs() <= nearest_m + COINCIDENT_M);
    as_near.min_by(f64::total_cmp)
}

fn assumed_place(key: &str, value: &str) -> Assumption {
    Assumption {
        key: key.to_owned(),
        value: value.to_owned(),
        unit: String::new(),
        source: "common practice, no source".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_junction_moves_out_of_an_opening() {
        assert_eq!(nearest_free(2.0, 0.1, [0.0, 5.0], &[]), Some(2.0));
        assert_eq!(nearest_free(2.0, 0.25, [0.0, 5.0], &[[1.5, 4.0]]), Some(1.25));
        assert_eq!(nearest_free(2.0, 0.25, [0.0, 5.0], &[[0.0, 5.0]]), None);
        // As near on both sides: the left one, even where the right one is nearer by the last digit.
        assert_eq!(nearest_free(2.0, 0.25, [0.0, 5.0], &[[1.0, 3.25 - 1e-12]]), Some(0.75));
    }
}
