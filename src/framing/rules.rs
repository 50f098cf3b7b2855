//! How a surface is framed: the framing itself, and the rules of the layout.

use super::MemberRow;
use crate::units::INCH_M;

/// Framing as people write it: `2x6 @ 24 in`.
#[derive(Clone, Debug, PartialEq)]
pub struct Framing {
    /// As it was written, spaces made even.
    pub text: String,
    /// Depth of the cavity that it makes, in metres.
    pub depth_m: f64,
    /// What stands in the cavity, from its outer face (of a ceiling, roof or floor: from its underside) on.
    pub rows: Vec<MemberRow>,
}

impl Framing {
    /// Solid members of one size, as deep as the cavity.
    pub fn solid(text: String, member_width_m: f64, depth_m: f64, spacing_m: f64) -> Self {
        Self { text, depth_m, rows: vec![MemberRow::solid(member_width_m, depth_m, spacing_m)] }
    }
}

/// The end that the layout is measured from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayoutEnd {
    /// The left end, as seen from outside.
    Left,
    /// The right end.
    Right,
}

/// The rules of the layout; the default is the plain wall.
///
/// # Source
/// Common practice, no source, except where a field names one.
#[derive(Clone, Debug, PartialEq)]
pub struct LayoutRules {
    /// End that the studs are measured from.
    pub layout_end: LayoutEnd,
    /// Plates at the bottom.
    pub bottom_plates: u32,
    /// Plates on top (IRC R602.3.2: double, lapped).
    pub top_plates: u32,
    /// Thickness of a plate, in metres.
    pub plate_thickness_m: f64,
    /// King studs on each side of an opening.
    pub king_studs: u32,
    /// Jack studs on each side of an opening up to `wide_opening_m`.
    pub jack_studs: u32,
    /// Jack studs on each side of a wider opening.
    pub jack_studs_wide: u32,
    /// Width above which an opening counts as wide, in metres.
    pub wide_opening_m: f64,
    /// Height of a header, in metres (dressed 2x10).
    pub header_height_m: f64,
    /// Depth of a header through the wall, in metres, where there is a cavity behind it; `None` where it is solid.
    pub header_depth_m: Option<f64>,
    /// Room between an opening's own shape and the framing around it, on each side, in metres.
    pub clearance_m: f64,
    /// Plates that make a rough sill.
    pub sill_plates: u32,
    /// Studs in a corner post, beyond the end stud.
    pub corner_post_studs: u32,
    /// Studs at a junction with a partition.
    pub partition_studs: u32,
    /// Height between rows of blocking, in metres; `None` for no blocking.
    pub blocking_every_m: Option<f64>,
    /// Whether walls stay whole where floors run into them: balloon framing.
    pub keeps_whole: bool,
    /// Whether the surface is the strip of a wall that the structure of a floor stands in: no plates, joist ends on layout.
    pub is_rim: bool,
    /// Width of the filling tube, in metres: a gap narrower than this is left out.
    pub tube_width_m: f64,
    /// Framing fraction of a wall of which only the area is known (WAC 51-11-1005: .19 + .04).
    pub wall_fraction: f64,
    /// The same for a roof.
    pub roof_fraction: f64,
    /// The same for a ceiling.
    pub ceiling_fraction: f64,
    /// The same for a floor.
    pub floor_fraction: f64,
}

impl Default for LayoutRules {
    fn default() -> Self {
        Self {
            layout_end: LayoutEnd::Left,
            bottom_plates: 1,
            top_plates: 2,
            plate_thickness_m: 1.5 * INCH_M,
            king_studs: 1,
            jack_studs: 1,
            jack_studs_wide: 2,
            wide_opening_m: 72.0 * INCH_M,
            header_height_m: 9.25 * INCH_M,
            header_depth_m: None,
            clearance_m: 0.0,
            sill_plates: 1,
            corner_post_studs: 2,
            partition_studs: 2,
            blocking_every_m: None,
            keeps_whole: false,
            is_rim: false,
            tube_width_m: INCH_M,
            wall_fraction: 0.23,
            roof_fraction: 0.07,
            ceiling_fraction: 0.10,
            floor_fraction: 0.13,
        }
    }
}
