//! Rows of members: what stands between two depths of a cavity.

use super::Framing;
use crate::geometry::tolerance::COINCIDENT_M;

/// Which way the members of a row run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowRun {
    /// Up a wall, or along the span of a ceiling, roof or floor: along y.
    Up,
    /// Across the others: strapping.
    Across,
}

/// Equal members side by side that reach from one depth of the cavity to another.
///
/// A stud wall has one row. A double-stud wall has two, with nothing between them; a joist with
/// flanges has three: flange, web, flange.
#[derive(Clone, Debug, PartialEq)]
pub struct MemberRow {
    /// Which frame it belongs to, from the outer face on: the two rows of a double or staggered wall are two frames.
    pub frame: u32,
    /// Where it begins, from the outer face of the cavity (of a ceiling, roof or floor: from its underside), in metres.
    pub from_m: f64,
    /// Where it ends, in metres.
    pub to_m: f64,
    /// Width of a member in the surface's plane, in metres.
    pub member_width_m: f64,
    /// Spacing of the members, centre to centre, in metres.
    pub spacing_m: f64,
    /// How far the layout of this row is shifted from the surface's own, in metres: half the spacing for the second row of staggered studs.
    pub shift_m: f64,
    /// How far the middle of a member stands beside its place on the layout, in metres: the web of a steel stud, at one side of its flanges.
    pub beside_m: f64,
    /// Which way they run.
    pub run: RowRun,
    /// Width of a member that stands in a post, around an opening or across the ends of others, in metres, where it is not a
    /// member's own: with flanged members, a flange's.
    pub post_width_m: Option<f64>,
    /// Thickness of the one track or band at each end of the members, in metres, where they do not stand between the plates of
    /// the layout; nought for none.
    pub plate_thickness_m: Option<f64>,
    /// Share of a member on the layout that is solid: 1, but for the webs of a truss and webs with punch-outs, which part no bays.
    pub solid_share: f64,
    /// Whether it begins at a distance from the inner face: then that end moves with this face where the cavity is of another depth.
    pub from_moves: bool,
    /// The same for where it ends.
    pub to_moves: bool,
}

impl MemberRow {
    /// One row of solid members.
    pub fn solid(member_width_m: f64, depth_m: f64, spacing_m: f64) -> Self {
        Self {
            frame: 0,
            from_m: 0.0,
            to_m: depth_m,
            member_width_m,
            spacing_m,
            shift_m: 0.0,
            beside_m: 0.0,
            run: RowRun::Up,
            post_width_m: None,
            plate_thickness_m: None,
            solid_share: 1.0,
            from_moves: false,
            to_moves: true,
        }
    }

    /// Width of a member in a post, around an opening or across the ends of others, in metres.
    pub(super) fn post_width_m(&self) -> f64 {
        self.post_width_m.unwrap_or(self.member_width_m)
    }

    /// Whether both rows have the same outlines, at whatever depth.
    pub(super) fn looks_like(&self, other: &Self) -> bool {
        let with_depth_of_other = Self {
            frame: other.frame,
            from_m: other.from_m,
            to_m: other.to_m,
            solid_share: other.solid_share,
            from_moves: other.from_moves,
            to_moves: other.to_moves,
            ..self.clone()
        };
        with_depth_of_other == *other
    }
}

impl Framing {
    /// Whether its cavity is open past the studs: parallel or staggered rows of them, or strapping across.
    pub fn is_open_past_studs(&self) -> bool {
        let first = self.rows.first();
        self.rows.iter().any(|row| row.run == RowRun::Across || first.is_some_and(|first| row.frame != first.frame))
    }

    /// Whether studs stand in several rows: a double or staggered wall.
    pub fn has_parallel_rows(&self) -> bool {
        self.inner_frame()
            > self.rows.iter().filter(|row| row.run == RowRun::Up).map(|row| row.frame).min().unwrap_or(0)
    }

    /// The frame along the inner face; that of strapping aside.
    pub(super) fn inner_frame(&self) -> u32 {
        self.rows.iter().filter(|row| row.run == RowRun::Up).map(|row| row.frame).max().unwrap_or(0)
    }

    /// The same framing in a cavity of another depth: what is held to the inner face moves with it,
    /// all else stays, so that a member that reaches from one to the other is stretched.
    pub fn at_depth(&self, depth_m: f64) -> Self {
        let more = depth_m - self.depth_m;
        let moved = |at_m: f64, moves: bool| (if moves { at_m + more } else { at_m }).clamp(0.0, depth_m);
        let fitted = |row: &MemberRow| MemberRow {
            from_m: moved(row.from_m, row.from_moves),
            to_m: moved(row.to_m, row.to_moves),
            ..row.clone()
        };
        let rows = self.rows.iter().map(fitted).filter(|row| row.to_m - row.from_m > COINCIDENT_M).collect();
        Self { depth_m, rows, ..self.clone() }
    }

    /// Least depth that its parts find room in without running into each other, in metres: where two
    /// frames stand apart, or two flanges, what is between them can shrink to nothing.
    pub fn least_depth_m(&self) -> f64 {
        let outer_m = self.rows.iter().filter(|row| !row.to_moves).map(|row| row.to_m).fold(0.0, f64::max);
        let inner = self.rows.iter().filter(|row| row.from_moves).map(|row| self.depth_m - row.from_m);
        let inner_m = inner.fold(0.0, f64::max);
        let stand_apart = outer_m + inner_m <= self.depth_m + COINCIDENT_M;
        if stand_apart { outer_m + inner_m } else { outer_m.max(inner_m) }
    }
}

#[cfg(test)]
mod tests {
    use super::super::parse_framing;

    fn rows_in(text: &str, depth_in: f64) -> Vec<[f64; 2]> {
        let framing = parse_framing(text).unwrap().at_depth(depth_in * 0.0254);
        let inches = |metres: f64| (metres / 0.0254 * 1e6).round() / 1e6;
        framing.rows.iter().map(|row| [inches(row.from_m), inches(row.to_m)]).collect()
    }

    // By hand: the studs keep their 3.5 in., the gap takes what there is; a strap keeps its 1.5 in., the stud gives;
    // flanges of 1.5 in. stay, the web is stretched.
    #[test]
    fn another_depth_changes_the_part_that_gives() {
        assert_eq!(rows_in("2x4 @ 16 in + gap 4 in + 2x4 @ 24 in", 10.0), [[0.0, 3.5], [6.5, 10.0]]);
        assert_eq!(rows_in("2x6 @ 16 in + strapping 2x2 @ 24 in", 6.5), [[0.0, 5.0], [5.0, 6.5]]);
        let joist = rows_in("I 11.875 in (flange 2.5 x 1.5 in, web 0.375 in) @ 16 in", 12.0);
        assert_eq!(joist, [[0.0, 1.5], [1.5, 10.5], [10.5, 12.0]]);
        assert_eq!(rows_in("2x4 @ 16 in staggered on 2x6", 6.0), [[0.0, 3.5], [2.5, 6.0]]);
    }

    // By hand: two frames of 3.5 in.; staggered studs overlap, so that only one of them must find room.
    #[test]
    fn parts_need_their_own_room() {
        let least_in = |text: &str| parse_framing(text).unwrap().least_depth_m() / 0.0254;
        assert!((least_in("2x4 @ 16 in + gap 4 in + 2x4 @ 24 in") - 7.0).abs() < 1e-9);
        assert!((least_in("2x4 @ 16 in staggered on 2x6") - 3.5).abs() < 1e-9);
        assert!(least_in("2x6 @ 16 in").abs() < 1e-9);
    }
}
