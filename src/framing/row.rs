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
    /// Where it begins, from the outer face of the cavity (of a ceiling, roof or floor: from its underside), in metres.
    pub from_m: f64,
    /// Where it ends, in metres.
    pub to_m: f64,
    /// Width of a member in the surface's plane, in metres.
    pub member_width_m: f64,
    /// Spacing of the members, centre to centre, in metres.
    pub spacing_m: f64,
    /// How far the middles of the members stand beside those of the layout, in metres.
    pub shift_m: f64,
    /// Which way they run.
    pub run: RowRun,
    /// Thickness of the plates, tracks or bands at the members' ends, in metres, where it is not the layout's; nought for none.
    pub plate_thickness_m: Option<f64>,
    /// Share of the members' length that is solid: 1, but for the webs of a truss.
    pub solid_share: f64,
}

impl MemberRow {
    /// One row of solid members.
    pub fn solid(member_width_m: f64, depth_m: f64, spacing_m: f64) -> Self {
        Self {
            from_m: 0.0,
            to_m: depth_m,
            member_width_m,
            spacing_m,
            shift_m: 0.0,
            run: RowRun::Up,
            plate_thickness_m: None,
            solid_share: 1.0,
        }
    }

    /// Whether both rows have the same outlines, at whatever depth.
    pub(super) fn looks_like(&self, other: &Self) -> bool {
        Self { from_m: other.from_m, to_m: other.to_m, solid_share: other.solid_share, ..self.clone() } == *other
    }
}

impl Framing {
    /// The same framing in a cavity of another depth: what lies on a face stays on it, what reaches
    /// from face to face is stretched, and what lies between moves with the far end.
    pub(super) fn rows_at(&self, depth_m: f64) -> Vec<MemberRow> {
        let more = depth_m - self.depth_m;
        let fitted = |row: &MemberRow| {
            let is_near = row.from_m < COINCIDENT_M;
            let is_far = row.to_m > self.depth_m - COINCIDENT_M;
            let from_m = if is_far && !is_near { row.from_m + more } else { row.from_m };
            let to_m = if is_near && !is_far { row.to_m } else { row.to_m + more };
            MemberRow { from_m: from_m.clamp(0.0, depth_m), to_m: to_m.clamp(0.0, depth_m), ..row.clone() }
        };
        let rows = self.rows.iter().map(fitted);
        rows.filter(|row| row.to_m - row.from_m > COINCIDENT_M).collect()
    }
}
