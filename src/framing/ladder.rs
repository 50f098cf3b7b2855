//! Ladder backing: flat blocks where a partition meets a wall.

use super::site::{Site, polygon_of};
use super::studs::MOST_MEMBERS;
use super::{Layout, LayoutRules, MemberRole, PartialMember};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Point, Polygon, difference, welded};
use crate::model::Surface;
use crate::units::INCH_M;

/// Height of a block, in metres: a dressed two-by-four on its wide face (PS 20).
const BLOCK_HEIGHT_M: f64 = 3.5 * INCH_M;
/// Depth of a block, in metres.
const BLOCK_DEPTH_M: f64 = 1.5 * INCH_M;

/// Adds blocks from stud to stud at every place where a partition meets the wall, against the inner
/// face of the cavity, their middles on every multiple of the rules' height from the wall's lower edge up.
///
/// A place that a stud stands at already, or touches, needs none. `spacing_m` is the widest that studs stand apart.
///
/// # Source
/// Common practice, no source.
pub(super) fn add_ladders(
    site: &Site,
    surface: &Surface,
    layout: &mut Layout,
    places: &[Point],
    spacing_m: f64,
    rules: &LayoutRules,
) {
    let every_m = rules.ladder_every_m;
    for &[x, y] in places {
        let Some(run) = site.run_about(x, y) else { continue };
        if every_m <= BLOCK_HEIGHT_M || (run[1] - run[0]) / every_m > MOST_MEMBERS {
            continue;
        }
        let strip = Bounds { min_x: x - spacing_m, max_x: x + spacing_m, min_y: run[0], max_y: run[1] };
        let solid = solid_near(site, surface, layout, &strip);
        let middles = (1_u32..).map(|k| run[0] + f64::from(k) * every_m).take_while(|middle| *middle < run[1]);
        let half_m = BLOCK_HEIGHT_M / 2.0;
        let rows = middles.filter_map(|y| site.rectangle([strip.min_x, strip.max_x], [y - half_m, y + half_m]));
        let rows: Vec<Polygon> = rows.map(|row| polygon_of(&row)).collect();
        let is_here = |piece: &Polygon| {
            piece.bounds().is_some_and(|own| own.min_x < x - COINCIDENT_M && x + COINCIDENT_M < own.max_x)
        };
        // Corners of members that lie on a slope would leave slits, which join what they part.
        let welded = welded(&[&rows, &solid]);
        let [rows, solid] = welded.as_slice() else { continue };
        let blocks = difference(rows, solid).into_iter().filter(is_here);
        let depth_m = layout.depth_m;
        layout.partial.extend(blocks.map(|outline| PartialMember {
            role: MemberRole::Blocking,
            area_m2: outline.area_m2(),
            outline,
            from_m: (depth_m - BLOCK_DEPTH_M).max(0.0),
            to_m: depth_m,
            solid_share: 1.0,
        }));
    }
}

/// What no block can stand in: other framing at its depth, openings with the boxes around them, and what is outside.
fn solid_near(site: &Site, surface: &Surface, layout: &Layout, strip: &Bounds) -> Vec<Polygon> {
    let is_at_depth = |piece: &&PartialMember| piece.to_m > layout.depth_m - BLOCK_DEPTH_M + COINCIDENT_M;
    let members = layout.members.iter().map(|member| &member.outline);
    let partial = layout.partial.iter().filter(is_at_depth).map(|piece| &piece.outline);
    let openings = surface.openings.iter().flat_map(|opening| &opening.outline);
    let all = members.chain(partial).chain(openings).chain(&layout.rough_openings).chain(&site.outside);
    let is_near =
        |outline: &&Polygon| outline.bounds().is_some_and(|own| own.min_x < strip.max_x && strip.min_x < own.max_x);
    all.filter(is_near).map(super::oriented).collect()
}
