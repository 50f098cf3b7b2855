//! Filling holes of a bay: where they go, and so how many there are.

use super::{FillMethod, HoleRules};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Point, Polygon, intersection};
use crate::units::INCH_M;

/// What a bay may be over a reach without starting another, in metres: a wall of 8 ft is 97 1/8 in. high, and an open
/// cavity may reach from plate to plate (common practice, no source).
const LITTLE_OVER_M: f64 = 3.0 * INCH_M;
/// Most strips that a bay is cut into; no building has a bay as wide.
const MOST_STRIPS: u32 = 10_000;
/// Most holes one above the other; no building is as high.
const MOST_HOLES: u32 = 10_000;
/// Where a hole is tried besides the middle of its stretch, as shares of the stretch up and down.
const NEARBY: [f64; 5] = [0.0, 0.1, 0.2, 0.35, 0.49];

/// Where the filling holes of a bay go: `None` where its outline is not known.
///
/// A bay up to `hole_spacing_m` wide is taken whole. A wider one, the cavity of a double-stud wall say,
/// is cut into upright strips of equal width, none wider than that; each piece of a strip that the tube
/// goes into is served by itself. By height, a piece takes:
///
/// - with a tube, or through netting (slits): one hole for each started `tube_reach_m`;
/// - with two holes: two up to `two_holes_reach_m` and one more for each started half of that beyond;
///   one where it is lower than `two_holes_from_m`;
/// - blown open: none.
///
/// A height of no more than 3 in. beyond a reach starts no other. A piece is parted into as many stretches of equal
/// height as it takes holes, and each stretch has its hole in its middle (common practice, no source), or as near to it as
/// the bay goes.
///
/// `tube_width_m` is the width of the tube: a narrower piece of a strip is filled from beside it.
pub fn place_holes(bay: &Polygon, method: FillMethod, rules: &HoleRules, tube_width_m: f64) -> Option<Vec<Point>> {
    let bounds = bay.bounds()?;
    if method == FillMethod::Open {
        return Some(Vec::new());
    }
    let strips = started(bounds.width_m() - COINCIDENT_M, rules.hole_spacing_m).min(MOST_STRIPS);
    if strips <= 1 {
        return Some(up_the_height(bay, &bounds, by_height(bounds.height_m(), method, rules)));
    }
    let width_m = bounds.width_m() / f64::from(strips);
    let mut holes = Vec::new();
    for strip in 0..strips {
        let from_m = bounds.min_x + f64::from(strip) * width_m;
        let upright = Polygon::rectangle(from_m, bounds.min_y, from_m + width_m, bounds.max_y);
        for piece in intersection(std::slice::from_ref(bay), &[upright]) {
            let Some(own) = piece.bounds().filter(|own| is_reached(own, tube_width_m)) else { continue };
            holes.extend(up_the_height(&piece, &own, by_height(own.height_m(), method, rules)));
        }
    }
    if holes.is_empty() {
        holes = up_the_height(bay, &bounds, 1);
    }
    Some(holes)
}

/// So many holes, one above the other, each in the middle of its stretch of a piece.
fn up_the_height(piece: &Polygon, bounds: &Bounds, holes: u32) -> Vec<Point> {
    let stretch_m = bounds.height_m() / f64::from(holes.clamp(1, MOST_HOLES));
    let middle = |hole: u32| bounds.min_y + (f64::from(hole) + 0.5) * stretch_m;
    (0..holes.min(MOST_HOLES)).map(|hole| within(piece, bounds, middle(hole), stretch_m)).collect()
}

/// The middle of the widest part of a piece at a height, or at the nearest height of the stretch that it reaches.
fn within(piece: &Polygon, bounds: &Bounds, y: f64, stretch_m: f64) -> Point {
    let tries = NEARBY.iter().flat_map(|share| [y + share * stretch_m, y - share * stretch_m]);
    let found = tries.into_iter().find_map(|y| widest_at(piece, y).map(|x| [x, y]));
    found.unwrap_or([f64::midpoint(bounds.min_x, bounds.max_x), y])
}

/// Middle of the widest part of a polygon along a level line; `None` where the line misses it.
fn widest_at(piece: &Polygon, y: f64) -> Option<f64> {
    let mut crossings: Vec<f64> = Vec::new();
    for ring in &piece.rings {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if (a[1] <= y) != (b[1] <= y) {
                crossings.push(a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]));
            }
        }
    }
    crossings.sort_by(f64::total_cmp);
    let parts = crossings.chunks_exact(2).filter_map(|pair| Some((*pair.first()?, *pair.last()?)));
    let widest = parts.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
    (widest.1 - widest.0 > COINCIDENT_M).then(|| f64::midpoint(widest.0, widest.1))
}

/// Whether the tube goes into a piece of a strip.
fn is_reached(piece: &Bounds, tube_width_m: f64) -> bool {
    piece.width_m() >= tube_width_m - COINCIDENT_M && piece.height_m() >= tube_width_m - COINCIDENT_M
}

fn by_height(height_m: f64, method: FillMethod, rules: &HoleRules) -> u32 {
    match method {
        FillMethod::Tube | FillMethod::Netting => started(height_m - LITTLE_OVER_M, rules.tube_reach_m),
        FillMethod::TwoHoles if height_m < rules.two_holes_from_m - COINCIDENT_M => 1,
        FillMethod::TwoHoles => started(height_m - LITTLE_OVER_M, rules.two_holes_reach_m / 2.0).max(2),
        FillMethod::Open => 0,
    }
}

/// How many stretches are started, at least one.
fn started(length_m: f64, stretch_m: f64) -> u32 {
    let stretches = (length_m / stretch_m).ceil();
    if !stretches.is_finite() {
        return 1;
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to what a u32 holds")]
    let count = stretches.clamp(1.0, f64::from(u32::MAX)) as u32;
    count
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{FOOT_M, INCH_M};

    fn count(bay: &Polygon, method: FillMethod) -> u32 {
        let holes = place_holes(bay, method, &HoleRules::default(), INCH_M).unwrap();
        u32::try_from(holes.len()).unwrap()
    }

    fn holes(width_in: f64, height_in: f64, method: FillMethod) -> u32 {
        let bay = Polygon::rectangle(1.0, 2.0, 1.0 + width_in * INCH_M, 2.0 + height_in * INCH_M);
        count(&bay, method)
    }

    // One hole, or two, a bay of an 8 ft wall: curriculum of the US weatherization programme, 2012.
    #[test]
    fn a_bay_of_an_eight_foot_wall_takes_one_hole_or_two() {
        assert_eq!(holes(14.5, 92.625, FillMethod::Tube), 1);
        assert_eq!(holes(14.5, 92.625, FillMethod::Netting), 1);
        assert_eq!(holes(14.5, 92.625, FillMethod::TwoHoles), 2);
        assert_eq!(holes(14.5, 92.625, FillMethod::Open), 0);
    }

    #[test]
    fn height_adds_holes_only_where_a_reach_is_started() {
        assert_eq!([97.125, 100.0, 192.0, 196.0].map(|height| holes(14.5, height, FillMethod::Tube)), [1, 2, 2, 3]);
        let two =
            [12.0, 23.9, 24.0, 97.125, 100.0, 144.0, 148.0].map(|height| holes(14.5, height, FillMethod::TwoHoles));
        assert_eq!(two, [1, 1, 2, 2, 3, 3, 4]);
    }

    #[test]
    fn an_open_cavity_takes_a_hole_for_each_spacing_of_width() {
        assert_eq!([24.0, 25.0, 48.0, 240.0].map(|width| holes(width, 90.0, FillMethod::Tube)), [1, 2, 2, 10]);
        assert_eq!(holes(240.0, 120.0, FillMethod::TwoHoles), 30);
        // Around a window 3 ft wide in the middle of 12 ft: six strips of 2 ft, of which the middle two are parted into
        // a piece above and a piece below; the window reaches 6 in. into the strips beside them, which stay whole.
        let outer = Polygon::rectangle(0.0, 0.0, 12.0 * FOOT_M, 8.0 * FOOT_M);
        let window = Polygon::rectangle(4.5 * FOOT_M, 3.0 * FOOT_M, 7.5 * FOOT_M, 6.0 * FOOT_M);
        let around = crate::geometry::difference(&[outer], &[window]);
        let of = |method| count(&around[0], method);
        // The strips from 4 to 6 ft and from 6 to 8 ft keep 6 in. beside the window: they hang together.
        assert_eq!(of(FillMethod::Tube), 6);
        // A window 4 ft wide takes both strips whole: two pieces each.
        let window = Polygon::rectangle(4.0 * FOOT_M, 3.0 * FOOT_M, 8.0 * FOOT_M, 6.0 * FOOT_M);
        let outer = Polygon::rectangle(0.0, 0.0, 12.0 * FOOT_M, 8.0 * FOOT_M);
        let around = crate::geometry::difference(&[outer], &[window]);
        assert_eq!(count(&around[0], FillMethod::Tube), 8);
    }

    #[test]
    fn a_bay_without_outline_has_no_known_holes() {
        assert_eq!(place_holes(&Polygon::default(), FillMethod::Tube, &HoleRules::default(), INCH_M), None);
    }

    #[test]
    fn holes_lie_in_the_bay_where_their_stretch_has_its_middle() {
        let rules = HoleRules::default();
        let bay = Polygon::rectangle(1.0, 2.0, 1.4, 4.0);
        let of = |bay: &Polygon, method| place_holes(bay, method, &rules, INCH_M).unwrap();
        let is_near = |found: &[Point], due: &[Point]| {
            found.len() == due.len()
                && found.iter().zip(due).all(|(a, b)| (a[0] - b[0]).abs() < 1e-9 && (a[1] - b[1]).abs() < 1e-9)
        };
        assert!(is_near(&of(&bay, FillMethod::Tube), &[[1.2, 3.0]]));
        assert!(is_near(&of(&bay, FillMethod::TwoHoles), &[[1.2, 2.5], [1.2, 3.5]]));
        // An angle of 0.5 m by 0.5 m with a foot 0.1 m high: its middle lies in the upright leg.
        let angle = Polygon::from_ring(vec![[0.0, 0.0], [0.5, 0.0], [0.5, 0.1], [0.1, 0.1], [0.1, 0.5], [0.0, 0.5]]);
        assert!(is_near(&of(&angle, FillMethod::Tube), &[[0.05, 0.25]]));
    }
}
