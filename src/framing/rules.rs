//! How a surface is framed: the framing itself, and the rules of the layout.

use super::{Enclosure, MemberRow};
use crate::model::Assumption;
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
    /// Distance between upright dividers of no thickness that part an open-sided cavity, in metres; `None` for none.
    pub dividers_every_m: Option<f64>,
    /// Values that the text does not give, with their sources.
    pub assumptions: Vec<Assumption>,
}

impl Framing {
    /// Solid members of one size, as deep as the cavity.
    pub fn solid(text: String, member_width_m: f64, depth_m: f64, spacing_m: f64) -> Self {
        Self {
            text,
            depth_m,
            rows: vec![MemberRow::solid(member_width_m, depth_m, spacing_m)],
            dividers_every_m: None,
            assumptions: Vec::new(),
        }
    }
}

/// Thinner than this are members bent from sheet: the thickest of AISI S201 is 118 mil, the web of a timber joist 3/8 in.
const SHEET_M: f64 = 0.2 * INCH_M;

impl Framing {
    /// Whether its members are bent from sheet metal.
    pub fn is_sheet_metal(&self) -> bool {
        self.rows.iter().any(|row| row.member_width_m > 0.0 && row.member_width_m < SHEET_M)
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

/// How the junction of a wall with a partition is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartitionBuild {
    /// Studs side by side, `partition_studs` of them.
    Studs,
    /// Flat blocks between the studs on both sides, against the inner face: they take a part of the depth.
    Ladder,
    /// Nothing: clips hold the board.
    Bare,
}

/// Which rows of a wall of several the backing of partitions stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartitionRows {
    /// The row along the inner face, which partitions meet.
    Inner,
    /// All of them.
    All,
}

/// How far fill stays off flues, chimneys and lights, in metres; `None` for what a standard or a listing says.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Clearances {
    /// Off a type B gas vent.
    pub type_b_vent_m: Option<f64>,
    /// Off a single-wall flue.
    pub single_wall_flue_m: Option<f64>,
    /// Off a masonry chimney.
    pub masonry_chimney_m: Option<f64>,
    /// Off a flue of no known kind.
    pub unnamed_flue_m: Option<f64>,
    /// Off a recessed light.
    pub recessed_light_m: Option<f64>,
}

/// The framing of openings up to a width; what it leaves open is the plain rule's.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OpeningRule {
    /// Widest opening that it is for, in metres.
    pub up_to_m: f64,
    /// Height of the header, in metres; nought for none.
    pub header_height_m: Option<f64>,
    /// Depth of the header through the wall, in metres.
    pub header_depth_m: Option<f64>,
    /// Jack studs on each side.
    pub jack_studs: Option<u32>,
    /// King studs on each side.
    pub king_studs: Option<u32>,
    /// Plates that make a rough sill.
    pub sill_plates: Option<u32>,
}

/// The rules of the layout; the default is the plain wall.
///
/// # Source
/// Common practice, no source, except where a field names one.
#[derive(Clone, Debug, PartialEq)]
pub struct LayoutRules {
    /// End that the studs are measured from.
    pub layout_end: LayoutEnd,
    /// From that end to the middle of the first stud, in metres; `None` for one spacing.
    pub first_stud_m: Option<f64>,
    /// Width of the panels on the wall, in metres: a stud at every edge of one; `None` for none beyond the layout.
    pub panel_width_m: Option<f64>,
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
    /// Framing of openings by width, narrowest first; wider ones fall back to the fields here.
    pub openings_by_width: Vec<OpeningRule>,
    /// Room between an opening's own shape and the framing around it, on each side, in metres.
    pub clearance_m: f64,
    /// Thickness of a box that lines every opening through the whole depth, outside of the rough opening, in metres; `None` for none.
    pub opening_box_m: Option<f64>,
    /// Plates that make a rough sill.
    pub sill_plates: u32,
    /// Studs in a corner post, beyond the end stud.
    pub corner_post_studs: u32,
    /// Studs at a junction with a partition.
    pub partition_studs: u32,
    /// How such a junction is built.
    pub partition_build: PartitionBuild,
    /// Which rows it stands in.
    pub partition_rows: PartitionRows,
    /// Height between the blocks of a ladder, middle to middle, in metres.
    pub ladder_every_m: f64,
    /// Whether corners and junctions that a model gives are framed in; those of a sheet always are.
    pub frame_junctions: bool,
    /// Height between rows of blocking, in metres; `None` for no blocking.
    pub blocking_every_m: Option<f64>,
    /// Thickness of a ridge board, half of which belongs to each slope, in metres.
    pub ridge_board_m: f64,
    /// Distances of rows of blocking from the low end of a ceiling, roof or floor, to their middles, in metres.
    pub blocking_at_m: Vec<f64>,
    /// What bounds the fill of roofs, ceilings and floors besides their framing.
    pub enclosure: Enclosure,
    /// How far fill stays off flues, chimneys and lights.
    pub clearances: Clearances,
    /// Rows of blocking at even heights between the plates.
    pub mid_blocking: u32,
    /// Greatest height of a bay between fire blocks, in metres; `None` for no fire blocking (IRC R302.11: 10 ft).
    pub fire_blocking_m: Option<f64>,
    /// Thickness of the boards that part a cavity open past its studs through the whole depth where fire blocking is asked for,
    /// in metres (IRC R302.11.1: one thickness of a 23/32 in. panel or 3/4 in. particleboard, from memory); `None` for
    /// blocks in each row alone.
    pub fire_board_m: Option<f64>,
    /// Whether a wall that runs past a floor stays whole (balloon framing), not cut at the floor's structure.
    pub keeps_whole: bool,
    /// Whether this is a rim: the ends of joists behind the band across them, without plates.
    pub is_rim: bool,
    /// Thickness of the band (rim joist) that stands in the plane of the wall across a rim, along the outer face of the cavity, in
    /// metres (dressed two-by); `None` where the cavity begins behind it.
    pub rim_joist_m: Option<f64>,
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
            first_stud_m: None,
            panel_width_m: None,
            bottom_plates: 1,
            top_plates: 2,
            plate_thickness_m: 1.5 * INCH_M,
            king_studs: 1,
            jack_studs: 1,
            jack_studs_wide: 2,
            wide_opening_m: 72.0 * INCH_M,
            header_height_m: 9.25 * INCH_M,
            header_depth_m: None,
            openings_by_width: Vec::new(),
            clearance_m: 0.0,
            opening_box_m: None,
            sill_plates: 1,
            corner_post_studs: 2,
            partition_studs: 2,
            partition_build: PartitionBuild::Studs,
            partition_rows: PartitionRows::Inner,
            ladder_every_m: 24.0 * INCH_M,
            frame_junctions: false,
            blocking_every_m: None,
            ridge_board_m: 1.5 * INCH_M,
            blocking_at_m: Vec::new(),
            enclosure: Enclosure::default(),
            clearances: Clearances::default(),
            mid_blocking: 0,
            fire_blocking_m: None,
            fire_board_m: Some(0.75 * INCH_M),
            keeps_whole: false,
            is_rim: false,
            rim_joist_m: Some(1.5 * INCH_M),
            tube_width_m: INCH_M,
            wall_fraction: 0.23,
            roof_fraction: 0.07,
            ceiling_fraction: 0.10,
            floor_fraction: 0.13,
        }
    }
}

impl LayoutRules {
    /// Thickness of the plates of a row, in metres.
    pub(super) fn plate_m(&self, row: &MemberRow) -> f64 {
        row.plate_thickness_m.unwrap_or(self.plate_thickness_m)
    }
}
