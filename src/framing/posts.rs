//! Corner posts and junctions with partitions, whose place no input gives.

use super::around_opening::Around;
use super::edges::sides;
use super::site::Site;
use super::studs::overlap;
use super::{LayoutRules, MemberRow};
use crate::finding::{Code, Finding};
use crate::geometry::Bounds;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::{Assumption, Surface};
use crate::source::Place;

/// More posts than this along one wall are a slip.
const MOST_POSTS: u32 = 100;

/// Where posts were placed.
#[derive(Default)]
pub(super) struct Posts {
    pub(super) corners: Vec<Bounds>,
    pub(super) partitions: Vec<Bounds>,
    pub(super) assumptions: Vec<Assumption>,
    /// Posts asked for that find no free place.
    without_place: u32,
}

impl Posts {
    /// Says that posts found no place of their own.
    pub(super) fn finding(&self, place: &Place) -> Option<Finding> {
        (self.without_place > 0).then(|| {
            let message = format!(
                "{} of the corner posts and partition junctions find no free place in this wall: they are left out or \
                 share their place with other framing; check the numbers",
                self.without_place
            );
            Finding::warning(Code::LayoutDoubt, place, message)
        })
    }
}

/// Places corner posts beside the end studs, by turns left and right, and junctions evenly between
/// the ends; a junction that would stand in an opening moves to the nearest place beside one.
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
    let count = surface.corner_posts.min(MOST_POSTS);
    let width = f64::from(rules.corner_post_studs) * row.member_width_m;
    if count == 0 || width <= 0.0 {
        return;
    }
    let ends = sides(site, 0.0);
    let end_y = |is_left_end: bool, x: f64| {
        let at_end = ends.iter().find(|s| s.is_left_end == is_left_end && (s.x - x).abs() < COINCIDENT_M);
        at_end.map_or(f64::midpoint(site.bounds.min_y, site.bounds.max_y), |side| side.y)
    };
    for k in 0..count {
        let inset = row.member_width_m + f64::from(k / 2) * width;
        let x = if k % 2 == 0 {
            [site.bounds.min_x + inset, site.bounds.min_x + inset + width]
        } else {
            [site.bounds.max_x - inset - width, site.bounds.max_x - inset]
        };
        let y = if k % 2 == 0 { end_y(true, site.bounds.min_x) } else { end_y(false, site.bounds.max_x) };
        let is_inside = x[0] >= site.bounds.min_x && x[1] <= site.bounds.max_x;
        let taken = posts.corners.iter().any(|b| overlap([b.min_x, b.max_x], x) > COINCIDENT_M);
        let post = site.rectangle(x, site.reach_at(f64::midpoint(x[0], x[1]), y));
        match post.filter(|_| is_inside && !taken) {
            Some(post) => posts.corners.push(post),
            None => posts.without_place += 1,
        }
    }
    posts.without_place = posts.without_place.saturating_add(surface.corner_posts - count);
    posts.assumptions.push(assumed_place("layout.corner_posts", "beside the end studs, left and right by turns"));
}

fn place_partitions(
    site: &Site,
    surface: &Surface,
    row: &MemberRow,
    rules: &LayoutRules,
    around: &[Around],
    posts: &mut Posts,
) {
    let count = surface.partition_junctions.min(MOST_POSTS);
    let width = f64::from(rules.partition_studs) * row.member_width_m;
    if count == 0 || width <= 0.0 {
        return;
    }
    let mut taken: Vec<[f64; 2]> = around.iter().map(|a| a.reach).collect();
    taken.extend(posts.corners.iter().map(|b| [b.min_x, b.max_x]));
    let ends = [site.bounds.min_x + row.member_width_m, site.bounds.max_x - row.member_width_m];
    for k in 1..=count {
        let even = site.bounds.min_x + site.bounds.width_m() * f64::from(k) / f64::from(count + 1) - width / 2.0;
        let place = nearest_free(even, width, ends, &taken);
        posts.without_place += u32::from(place.is_none());
        let x = place.map_or([even, even + width], |from| [from, from + width]);
        let y = f64::midpoint(site.bounds.min_y, site.bounds.max_y);
        taken.push(x);
        posts.partitions.extend(site.rectangle(x, site.reach_at(f64::midpoint(x[0], x[1]), y)));
    }
    posts.without_place = posts.without_place.saturating_add(surface.partition_junctions - count);
    posts.assumptions.push(assumed_place("layout.partitions", "evenly spaced, clear of openings"));
}

/// Left edge of the free place of a width that is nearest to `even`.
fn nearest_free(even: f64, width: f64, ends: [f64; 2], taken: &[[f64; 2]]) -> Option<f64> {
    let is_free = |from: f64| {
        from >= ends[0] - COINCIDENT_M
            && from + width <= ends[1] + COINCIDENT_M
            && taken.iter().all(|stretch| overlap(*stretch, [from, from + width]) <= COINCIDENT_M)
    };
    let beside = taken.iter().flat_map(|stretch| [stretch[0] - width, stretch[1]]);
    let places = std::iter::once(even).chain(beside).filter(|from| is_free(*from));
    places.min_by(|a, b| (a - even).abs().total_cmp(&(b - even).abs()))
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
    }
}
