//! `[layout]` as it is written.

use super::file::check_keys;
use super::opening_file::{OPENING, OpeningFile};
use super::reader::Reader;
use schemars::JsonSchema;
use serde::Deserialize;
use toml::Spanned;
use toml::de::DeTable;

/// Rules of the layout. Lengths are texts with their unit.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct LayoutFile {
    /// End that the studs are measured from: `left` or `right`, as seen from outside.
    #[schemars(with = "Option<String>")]
    pub layout_end: Option<Spanned<String>>,
    /// Plates at the bottom.
    #[schemars(with = "Option<u32>")]
    pub bottom_plates: Option<Spanned<u32>>,
    /// Plates on top.
    #[schemars(with = "Option<u32>")]
    pub top_plates: Option<Spanned<u32>>,
    /// Thickness of a plate.
    #[schemars(with = "Option<String>")]
    pub plate_thickness: Option<Spanned<String>>,
    /// King studs on each side of an opening.
    #[schemars(with = "Option<u32>")]
    pub king_studs: Option<Spanned<u32>>,
    /// Jack studs on each side of an opening.
    #[schemars(with = "Option<u32>")]
    pub jack_studs: Option<Spanned<u32>>,
    /// Jack studs on each side of a wide opening.
    #[schemars(with = "Option<u32>")]
    pub jack_studs_wide: Option<Spanned<u32>>,
    /// Width above which an opening is wide.
    #[schemars(with = "Option<String>")]
    pub wide_opening: Option<Spanned<String>>,
    /// Height of a header.
    #[schemars(with = "Option<String>")]
    pub header_height: Option<Spanned<String>>,
    /// Plates that make a rough sill.
    #[schemars(with = "Option<u32>")]
    pub sill_plates: Option<Spanned<u32>>,
    /// Studs in a corner post, beyond the end stud.
    #[schemars(with = "Option<u32>")]
    pub corner_post_studs: Option<Spanned<u32>>,
    /// Studs at a junction with a partition.
    #[schemars(with = "Option<u32>")]
    pub partition_studs: Option<Spanned<u32>>,
    /// Height between rows of blocking; none where it is missing.
    #[schemars(with = "Option<String>")]
    pub blocking_every: Option<Spanned<String>>,
    /// Height of the vent channel under the deck of every roof, which is not filled.
    #[schemars(with = "Option<String>")]
    pub vent_gap: Option<Spanned<String>>,
    /// Thickness of a ridge board, half of which belongs to each slope.
    #[schemars(with = "Option<String>")]
    pub ridge_board: Option<Spanned<String>>,
    /// Distances of rows of blocking from the low end of a ceiling, roof or floor.
    #[schemars(with = "Vec<String>")]
    pub blocking_at: Vec<Spanned<String>>,
    /// Width of the filling tube: a narrower gap is left out.
    #[schemars(with = "Option<String>")]
    pub tube_width: Option<Spanned<String>>,
    /// Framing fraction of a wall of which only the area is known.
    #[schemars(with = "Option<f64>")]
    pub wall_fraction: Option<Spanned<f64>>,
    /// The same for a roof.
    #[schemars(with = "Option<f64>")]
    pub roof_fraction: Option<Spanned<f64>>,
    /// The same for a ceiling.
    #[schemars(with = "Option<f64>")]
    pub ceiling_fraction: Option<Spanned<f64>>,
    /// The same for a floor.
    #[schemars(with = "Option<f64>")]
    pub floor_fraction: Option<Spanned<f64>>,
    /// Values to begin with: `common practice` or `advanced framing`; the other keys win over them.
    #[schemars(with = "Option<String>")]
    pub preset: Option<Spanned<String>>,
    /// From the layout's end to the middle of the first stud; `one spacing` where it is missing.
    #[schemars(with = "Option<String>")]
    pub first_stud: Option<Spanned<String>>,
    /// Width of the panels on the wall: a stud at every edge of one.
    #[schemars(with = "Option<String>")]
    pub panel_width: Option<Spanned<String>>,
    /// Framing of openings by width; the first that the width fits counts.
    #[schemars(with = "Vec<OpeningFile>")]
    pub opening: Vec<Spanned<OpeningFile>>,
    /// Depth of a header through the wall, where there is cavity behind it.
    #[schemars(with = "Option<String>")]
    pub header_depth: Option<Spanned<String>>,
    /// Room between a unit as the input gives it and its rough opening, on each side.
    #[schemars(with = "Option<String>")]
    pub opening_clearance: Option<Spanned<String>>,
    /// Thickness of a box that lines openings in walls through the whole depth, outside of the rough opening, or `none`.
    #[schemars(with = "Option<String>")]
    pub opening_box: Option<Spanned<String>>,
    /// How corners are built: `three-stud` or `two-stud` (with clips).
    #[schemars(with = "Option<String>")]
    pub corner_build: Option<Spanned<String>>,
    /// Whether corners and partitions that a model gives are framed in; those of a sheet always are.
    pub frame_junctions: Option<bool>,
    /// What backs partitions: `studs`, `ladder` (flat blocks) or `none`.
    #[schemars(with = "Option<String>")]
    pub partition_build: Option<Spanned<String>>,
    /// Rows of a double or staggered wall that the backing of partitions stands in: `inner` or `all`.
    #[schemars(with = "Option<String>")]
    pub partition_rows: Option<Spanned<String>>,
    /// Height between the blocks of a ladder.
    #[schemars(with = "Option<String>")]
    pub ladder_every: Option<Spanned<String>>,
    /// Rows of blocking at even heights between the plates.
    #[schemars(with = "Option<u32>")]
    pub mid_blocking: Option<Spanned<u32>>,
    /// Greatest height of a bay between fire blocks, or `none`.
    #[schemars(with = "Option<String>")]
    pub fire_blocking: Option<Spanned<String>>,
    /// Thickness of the boards that part double, staggered and strapped walls at the limit of the fire blocking, along the
    /// wall and in height, or `none` for blocks in each row alone.
    #[schemars(with = "Option<String>")]
    pub fire_board: Option<Spanned<String>>,
    /// Balloon framing: bays run past floors. The same as `walls_through_floors = "whole"`.
    #[schemars(with = "Option<bool>")]
    pub balloon: Option<Spanned<bool>>,
    /// Walls that are drawn past a floor: `cut` at its structure, or `whole`.
    #[schemars(with = "Option<String>")]
    pub walls_through_floors: Option<Spanned<String>>,
    /// In an assembly's layout: whether its surfaces are rims, the ends of joists behind a band, without plates.
    #[schemars(with = "Option<bool>")]
    pub rim: Option<Spanned<bool>>,
    /// Thickness of the band (rim joist) across a rim, along the outer face of the cavity, or `none` where the cavity begins
    /// behind it.
    #[schemars(with = "Option<String>")]
    pub rim_joist: Option<Spanned<String>>,
    /// How far fill stays off a type B gas vent where the input does not say.
    #[schemars(with = "Option<String>")]
    pub type_b_vent_clearance: Option<Spanned<String>>,
    /// The same off a single-wall flue.
    #[schemars(with = "Option<String>")]
    pub single_wall_flue_clearance: Option<Spanned<String>>,
    /// The same off a masonry chimney.
    #[schemars(with = "Option<String>")]
    pub masonry_chimney_clearance: Option<Spanned<String>>,
    /// The same off a flue of no known kind.
    #[schemars(with = "Option<String>")]
    pub unnamed_flue_clearance: Option<Spanned<String>>,
    /// The same off a recessed light; nought where all are rated for contact (type IC).
    #[schemars(with = "Option<String>")]
    pub recessed_light_clearance: Option<Spanned<String>>,
}

/// Its keys.
pub(super) const LAYOUT: &[&str] = &[
    "layout_end",
    "bottom_plates",
    "top_plates",
    "plate_thickness",
    "king_studs",
    "jack_studs",
    "jack_studs_wide",
    "wide_opening",
    "header_height",
    "sill_plates",
    "corner_post_studs",
    "partition_studs",
    "blocking_every",
    "vent_gap",
    "ridge_board",
    "blocking_at",
    "tube_width",
    "wall_fraction",
    "roof_fraction",
    "ceiling_fraction",
    "floor_fraction",
    "preset",
    "first_stud",
    "panel_width",
    "opening",
    "header_depth",
    "opening_clearance",
    "corner_build",
    "frame_junctions",
    "partition_build",
    "ladder_every",
    "mid_blocking",
    "fire_blocking",
    "balloon",
    "walls_through_floors",
    "rim",
    "rim_joist",
    "opening_box",
    "partition_rows",
    "fire_board",
    "type_b_vent_clearance",
    "single_wall_flue_clearance",
    "masonry_chimney_clearance",
    "unnamed_flue_clearance",
    "recessed_light_clearance",
];

pub(super) fn check_layout(table: &DeTable<'_>, section: &str, reader: &mut Reader<'_>) {
    check_keys(table, &format!("`[{section}]`"), LAYOUT, reader);
    let openings = table.get("opening").and_then(|value| value.get_ref().as_array());
    for opening in openings.into_iter().flatten().filter_map(|value| value.get_ref().as_table()) {
        check_keys(opening, &format!("`[[{section}.opening]]`"), OPENING, reader);
    }
}
