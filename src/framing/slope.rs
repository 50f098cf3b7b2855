//! The edges of a roof slope: ridge, eave, rake, hip and valley, and the members that lie along them.

use super::edge::{Edge, Side};
use super::site::Site;
use super::{EaveEdge, LayoutRules, MemberRow};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Point, Polygon, Ring};
use crate::model::Surface;

/// A roof that slopes less than this, in degrees, is flat: it has no ridge, hips or valleys.
const FLAT_DEG: f64 = 2.0;
/// An edge within this slope of level is level, and within this of the line of slope a rake.
const SLACK: f64 = 0.01;
/// How far a band reaches past a corner that sticks out, in widths; what lies outside is cut off.
const PAST_CORNER: f64 = 4.0;

/// What lies along the edges of a roof slope, not yet cut to the outline.
#[derive(Default)]
pub(super) struct SlopeEdges {
    /// This slope's half of the ridge board.
    pub(super) ridges: Vec<Polygon>,
    /// This slope's half of the hip rafters.
    pub(super) hips: Vec<Polygon>,
    /// This slope's half of the valley rafters.
    pub(super) valleys: Vec<Polygon>,
    /// Rims at the eaves, and at holes.
    pub(super) rims: Vec<Polygon>,
    /// Where the eaves are.
    pub(super) eaves: Vec<EaveEdge>,
    /// Where end rafters stand.
    pub(super) rakes: Vec<Side>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum EdgeUse {
    Ridge,
    Eave,
    Rake,
    Hip,
    Valley,
}

/// Whether a roof has a slope to speak of; one of unknown pitch has.
pub(super) fn is_sloped(surface: &Surface) -> bool {
    surface.pitch_deg.is_none_or(|pitch_deg| pitch_deg >= FLAT_DEG)
}

/// Sorts the edges of a slope and lays members along them.
///
/// A level edge on top is a ridge, one at the bottom an eave, an edge along the slope a rake; an
/// oblique edge with the slope below it is a hip, one with the slope above it a valley. Ridge board,
/// hip and valley rafters are shared by two slopes: half of the width is this one's. They stand
/// plumb, so that their width in the slope's plane is larger than seen from above.
pub(super) fn slope_edges(site: &Site, surface: &Surface, row: &MemberRow, rules: &LayoutRules) -> SlopeEdges {
    let rim_m = row.plate_thickness_m.unwrap_or(row.post_width_m());
    let cosine = surface.pitch_deg.map_or(1.0, |pitch_deg| pitch_deg.to_radians().cos()).max(0.1);
    let mut found = SlopeEdges::default();
    for polygon in &site.outline {
        for (index, ring) in polygon.rings.iter().enumerate() {
            for corner in corners(ring) {
                let edge = &corner.edge;
                let kind = if edge.length() > COINCIDENT_M { use_of(edge) } else { continue };
                let half = |thickness: f64| in_plane(edge, thickness / 2.0, cosine);
                let band = |width: f64| corner.band(width).map(|ring| site.clipped(&ring));
                match (kind, index) {
                    (EdgeUse::Rake, _) => found.rakes.extend(edge.side(row.member_width_m)),
                    (EdgeUse::Ridge, 0) => found.ridges.extend(band(half(rules.ridge_board_m))),
                    (EdgeUse::Hip, 0) => found.hips.extend(band(half(row.post_width_m()))),
                    (EdgeUse::Valley, 0) => found.valleys.extend(band(half(row.post_width_m()))),
                    (EdgeUse::Eave, 0) => {
                        found.rims.extend(band(rim_m));
                        let y = edge.from[1].max(edge.to[1]) + rim_m;
                        found.eaves.push(EaveEdge { from_m: edge.from[0], to_m: edge.to[0], inside_m: y });
                    }
                    // Around a hole there is nothing to share with another slope.
                    (EdgeUse::Ridge | EdgeUse::Hip | EdgeUse::Valley | EdgeUse::Eave, _) => {
                        found.rims.extend(band(rim_m));
                    }
                }
            }
        }
    }
    found
}

fn use_of(edge: &Edge) -> EdgeUse {
    let (run, rise) = (edge.run(), edge.rise());
    if run.abs() <= (SLACK * rise.abs()).max(COINCIDENT_M) {
        EdgeUse::Rake
    } else if rise.abs() <= (SLACK * run.abs()).max(COINCIDENT_M) {
        if run < 0.0 { EdgeUse::Ridge } else { EdgeUse::Eave }
    } else if run < 0.0 {
        EdgeUse::Hip
    } else {
        EdgeUse::Valley
    }
}

/// What a width seen from above, at right angles to a plumb member along this edge, is in the
/// slope's plane: both lines are shifted along the level by the same amount.
fn in_plane(edge: &Edge, width_m: f64, cosine: f64) -> f64 {
    width_m * edge.run().hypot(edge.rise() * cosine) / (cosine * edge.length())
}

/// An edge, and whether the corners at its ends stick out.
struct Corner {
    edge: Edge,
    is_out_at_start: bool,
    is_out_at_end: bool,
}

impl Corner {
    /// The strip of a width along the inside of the edge; long enough at corners that stick out to be cut by the next edge.
    fn band(&self, width: f64) -> Option<Ring> {
        let [dx, dy] = self.edge.along();
        let past = |is_out: bool| if is_out { PAST_CORNER * width } else { 0.0 };
        let (before, after) = (past(self.is_out_at_start), past(self.is_out_at_end));
        let from = [self.edge.from[0] - dx * before, self.edge.from[1] - dy * before];
        let to = [self.edge.to[0] + dx * after, self.edge.to[1] + dy * after];
        let inside = |p: Point| [p[0] - dy * width, p[1] + dx * width];
        (width > 0.0 && width.is_finite()).then(|| vec![from, to, inside(to), inside(from)])
    }
}

fn corners(ring: &Ring) -> Vec<Corner> {
    let point = |index: usize| ring.get(index % ring.len()).copied().unwrap_or_default();
    let turns_left = |a: Point, b: Point, c: Point| (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0.0;
    let corner = |index: usize| {
        let (before, from, to, after) =
            (point(index + ring.len() - 1), point(index), point(index + 1), point(index + 2));
        Corner {
            edge: Edge { from, to },
            is_out_at_start: turns_left(before, from, to),
            is_out_at_end: turns_left(from, to, after),
        }
    };
    (0..ring.len()).map(corner).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kind(from: Point, to: Point) -> EdgeUse {
        use_of(&Edge { from, to })
    }

    #[test]
    fn edges_are_told_apart_by_their_direction() {
        // Counter-clockwise: what is inside lies to the left.
        assert!(kind([0.0, 0.0], [4.0, 0.0]) == EdgeUse::Eave);
        assert!(kind([4.0, 3.0], [0.0, 3.0]) == EdgeUse::Ridge);
        assert!(kind([4.0, 0.0], [4.0, 3.0]) == EdgeUse::Rake);
        assert!(kind([4.0, 0.0], [2.0, 3.0]) == EdgeUse::Hip);
        assert!(kind([0.0, 3.0], [2.0, 0.0]) == EdgeUse::Valley);
    }

    // By hand: at 60 degrees from level a strip across the slope is twice as wide as from above, one
    // along the slope as wide.
    #[test]
    fn a_plumb_member_is_wider_in_the_plane_of_the_slope() {
        let level = Edge { from: [4.0, 3.0], to: [0.0, 3.0] };
        let rake = Edge { from: [4.0, 0.0], to: [4.0, 3.0] };
        assert!((in_plane(&level, 0.02, 0.5) - 0.04).abs() < 1e-15);
        assert!((in_plane(&rake, 0.02, 0.5) - 0.02).abs() < 1e-15);
    }
}
