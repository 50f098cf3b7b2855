//! Blocking: short pieces across the bays of a wall.

use super::site::Site;
use super::studs::{MOST_MEMBERS, has_sane_count};
use super::{LayoutRules, MemberRow};
use crate::geometry::Bounds;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::Surface;

/// A gap between upright members, and the heights between which it is open.
struct Gap {
    x: [f64; 2],
    /// Lowest point of the outline's lower edge.
    base_m: f64,
    /// Lowest point above the bottom plates.
    low_m: f64,
    /// Highest point below the top plates.
    high_m: f64,
}

/// Rows of blocking across every gap between upright members (`uprights`: from and to along the wall).
///
/// Rows at a given height have their middle on every multiple of it, from the outline's lower edge in
/// that gap up; rows at even heights part what is between the plates. Fire blocks stand so that no bay
/// is higher than the limit, at even heights between the plates and the other rows; where a wall runs
/// whole past a floor, one lies below the floor's structure and one on its top.
///
/// # Source
/// Fire blocks: IRC R302.11, item 1: at the ceiling and floor levels, and at intervals of 10 ft at most.
/// All else: common practice, no source.
pub(super) fn blocking_rows(
    site: &Site,
    surface: &Surface,
    row: &MemberRow,
    rules: &LayoutRules,
    uprights: Vec<[f64; 2]>,
) -> Vec<Bounds> {
    let thickness_m = rules.plate_m(row);
    let fire_m = rules.fire_blocking_m.filter(|limit_m| *limit_m > 2.0 * thickness_m);
    let every_m = rules.blocking_every_m.filter(|every_m| *every_m > 2.0 * thickness_m);
    let is_asked = fire_m.is_some() || every_m.is_some() || rules.mid_blocking > 0;
    if !is_asked || thickness_m <= 0.0 || !has_sane_count(site, row, rules) {
        return Vec::new();
    }
    let reach_m = row.member_width_m / 2.0;
    let mut boxes = Vec::new();
    for gap in gaps(site, uprights, rules, thickness_m) {
        let mut rows = every_m.map_or(Vec::new(), |every_m| at_multiples(&gap, every_m, thickness_m));
        rows.extend(evenly([gap.low_m, gap.high_m], rules.mid_blocking, thickness_m));
        if let Some(limit_m) = fire_m {
            if rules.keeps_whole {
                let bands = surface.floor_bands.iter();
                rows.extend(bands.flat_map(|b| [[b.from_m - thickness_m, b.from_m], [b.to_m, b.to_m + thickness_m]]));
            }
            rows.retain(|row| row[0] < gap.high_m && row[1] > gap.low_m);
            let fire = at_most_apart([gap.low_m, gap.high_m], &rows, limit_m, thickness_m);
            rows.extend(fire);
        }
        // Into the members on both sides, which keep their ground.
        let x = [gap.x[0] - reach_m, gap.x[1] + reach_m];
        boxes.extend(rows.into_iter().filter_map(|y| site.rectangle(x, y)));
    }
    boxes
}

fn at_multiples(gap: &Gap, every_m: f64, thickness_m: f64) -> Vec<[f64; 2]> {
    let middles = (1_u32..).map(|k| gap.base_m + f64::from(k) * every_m).take_while(|y| *y < gap.high_m);
    middles.map(|y| [y - thickness_m / 2.0, y + thickness_m / 2.0]).collect()
}

/// A number of rows that part a stretch evenly; none where they leave nothing between them.
fn evenly([low_m, high_m]: [f64; 2], count: u32, thickness_m: f64) -> Vec<[f64; 2]> {
    let clear_m = (high_m - low_m - f64::from(count) * thickness_m) / (f64::from(count) + 1.0);
    if clear_m <= COINCIDENT_M {
        return Vec::new();
    }
    let bottom = |k: u32| low_m + f64::from(k) * clear_m + (f64::from(k) - 1.0) * thickness_m;
    (1..=count).map(|k| [bottom(k), bottom(k) + thickness_m]).collect()
}

/// Pieces between those that are there in a stretch, so that nothing between them is longer than the limit.
pub(super) fn at_most_apart(
    [low_m, high_m]: [f64; 2],
    rows: &[[f64; 2]],
    limit_m: f64,
    thickness_m: f64,
) -> Vec<[f64; 2]> {
    let mut rows = rows.to_vec();
    rows.sort_by(|a, b| a[0].total_cmp(&b[0]));
    rows.push([high_m, high_m]);
    let mut blocks = Vec::new();
    let mut from_m = low_m;
    for [bottom_m, top_m] in rows {
        let mut count = 0_u32;
        let clear_m = |count: u32| (bottom_m - from_m - f64::from(count) * thickness_m) / (f64::from(count) + 1.0);
        while clear_m(count) > limit_m + COINCIDENT_M && f64::from(count) < MOST_MEMBERS {
            count += 1;
        }
        blocks.extend(evenly([from_m, bottom_m], count, thickness_m));
        from_m = from_m.max(top_m);
    }
    blocks
}

/// The gaps between upright members, each as often as the outline is open there.
fn gaps(site: &Site, mut uprights: Vec<[f64; 2]>, rules: &LayoutRules, plate_m: f64) -> Vec<Gap> {
    let bounds = &site.bounds;
    uprights.push([bounds.max_x, bounds.max_x]);
    uprights.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut corners: Vec<f64> = site.outline.iter().flat_map(|p| p.rings.iter().flatten()).map(|p| p[0]).collect();
    corners.sort_by(f64::total_cmp);
    let mut gaps = Vec::new();
    let mut from = bounds.min_x;
    for [left, right] in uprights {
        let left = left.min(bounds.max_x);
        if left - from > COINCIDENT_M {
            let first = corners.partition_point(|x| *x <= from + COINCIDENT_M);
            let last = corners.partition_point(|x| *x < left - COINCIDENT_M).max(first);
            let inner = corners.get(first..last).unwrap_or_default();
            let middle = f64::midpoint(from, left);
            let runs = site.runs_at(middle).into_iter();
            gaps.extend(runs.filter_map(|run| gap_of(site, [from, left], inner, run, rules, plate_m)));
        }
        from = from.max(right);
    }
    gaps
}

/// The open heights of one gap; between two corners of the outline its edges are straight.
fn gap_of(site: &Site, x: [f64; 2], corners: &[f64], run: [f64; 2], rules: &LayoutRules, plate_m: f64) -> Option<Gap> {
    let y = f64::midpoint(run[0], run[1]);
    let mut gap = Gap { x, base_m: f64::INFINITY, low_m: f64::INFINITY, high_m: f64::NEG_INFINITY };
    let ends = corners.iter().copied().chain([x[1]]);
    let mut from = x[0];
    for to in ends {
        let inset = ((to - from) / 4.0).min(COINCIDENT_M / 10.0);
        if let (Some(a), Some(b)) = (site.run_at(from + inset, y), site.run_at(to - inset, y)) {
            let plumb = |side: [f64; 2], count: u32| {
                let slope = (side[1] - side[0]) / (to - from - 2.0 * inset);
                f64::from(count) * plate_m * slope.hypot(1.0)
            };
            let below = plumb([a[0], b[0]], rules.bottom_plates);
            let above = plumb([a[1], b[1]], rules.top_plates);
            gap.base_m = gap.base_m.min(a[0]).min(b[0]);
            gap.low_m = gap.low_m.min(a[0].min(b[0]) + below);
            gap.high_m = gap.high_m.max(a[1].max(b[1]) - above);
        }
        from = to;
    }
    (gap.high_m > gap.low_m && gap.high_m.is_finite() && gap.low_m.is_finite()).then_some(gap)
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: 6.1 m with a limit of 3 m and blocks of 0.1 m: one block leaves 3.0 m on both sides.
    #[test]
    fn fire_blocks_are_as_few_as_the_limit_allows() {
        let blocks = at_most_apart([0.0, 6.1], &[], 3.0, 0.1);
        assert_eq!(blocks.len(), 1);
        assert!((blocks[0][0] - 3.0).abs() < 1e-12);
        assert_eq!(at_most_apart([0.0, 6.2], &[], 3.0, 0.1).len(), 2);
        assert!(at_most_apart([0.0, 3.0], &[], 3.0, 0.1).is_empty());
        // A row that is there already does the work of one.
        assert!(at_most_apart([0.0, 6.2], &[[3.0, 3.2]], 3.0, 0.1).is_empty());
    }

    // By hand: 1.1 m, two rows of 0.1 m: three gaps of 0.3 m.
    #[test]
    fn rows_part_a_stretch_evenly() {
        let rows = evenly([0.0, 1.1], 2, 0.1);
        assert!((rows[0][0] - 0.3).abs() < 1e-12 && (rows[1][0] - 0.7).abs() < 1e-12);
        assert!(evenly([0.0, 0.1], 2, 0.1).is_empty());
    }
}
