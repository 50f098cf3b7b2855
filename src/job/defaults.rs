//! Every default of the job, with its source.

use super::rules::FillChoice;
use crate::fill::FillRules;
use crate::model::Assumption;
use crate::units::{INCH_M, POUND_PER_CUBIC_FOOT_KG_M3};

/// Fraction added to an order for spill, hopper and run-through.
///
/// # Source
/// Common practice, no source.
pub const ALLOWANCE: f64 = 0.05;
/// The same for filling existing walls through drilled holes.
///
/// # Source
/// Common practice, no source.
pub const RETROFIT_ALLOWANCE: f64 = 0.10;

pub(super) const PRACTICE: &str = "common practice, no source";
/// Where the settled density of open-blown fill comes from.
pub(super) const LOOSE_FILL: &str = "loose-fill cellulose in a national laboratory's open simulation library";
pub(super) const JOB_FILE: &str = "job file";

/// When a default of the layout bears on a takeoff.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// A surface was laid out.
    LaidOut,
    /// A laid-out surface has an opening.
    Opening,
    /// A laid-out surface has a corner post.
    Corner,
    /// A laid-out surface has a partition junction.
    Partition,
    /// A laid-out surface is a roof.
    Roof,
    /// A model says of a laid-out surface what meets it.
    Junction,
    /// A laid-out wall runs past a floor.
    FloorBand,
    /// Boards part a laid-out wall that is open past its studs.
    FireBoard,
    /// A laid-out wall of several rows has a partition junction.
    PartitionInRows,
}

/// When a key that a job file or a preset gives bears on a takeoff.
pub(super) fn when_of(key: &str) -> When {
    match key {
        "opening" | "header_depth" | "opening_clearance" | "opening_box" => When::Opening,
        "corner_build" => When::Corner,
        "partition_rows" => When::PartitionInRows,
        "fire_board" => When::FireBoard,
        "partition_build" | "ladder_every" => When::Partition,
        "frame_junctions" => When::Junction,
        "walls_through_floors" => When::FloorBand,
        "vent_gap" => When::Roof,
        _ => When::LaidOut,
    }
}

/// A default of the layout as people read it.
pub(super) struct Preset {
    /// Key under `[layout]`.
    pub key: &'static str,
    pub value: &'static str,
    pub unit: &'static str,
    pub source: &'static str,
    pub when: When,
}

const fn preset(
    key: &'static str,
    value: &'static str,
    unit: &'static str,
    source: &'static str,
    when: When,
) -> Preset {
    Preset { key, value, unit, source, when }
}

/// The defaults of `LayoutRules::default()`; a test holds the two together. Framing by fraction reports
/// its own, since only there it is known which kinds had no outline.
pub(super) const LAYOUT: &[Preset] = &[
    preset("layout_end", "left", "", PRACTICE, When::LaidOut),
    preset("first_stud", "one spacing", "", PRACTICE, When::LaidOut),
    preset("bottom_plates", "1", "", PRACTICE, When::LaidOut),
    preset("top_plates", "2", "", "IRC R602.3.2", When::LaidOut),
    preset("plate_thickness", "1.5", "in", "PS 20, dressed two-by", When::LaidOut),
    preset("tube_width", "1", "in", PRACTICE, When::LaidOut),
    preset("king_studs", "1", "", PRACTICE, When::Opening),
    preset("jack_studs", "1", "", PRACTICE, When::Opening),
    preset("jack_studs_wide", "2", "", PRACTICE, When::Opening),
    preset("wide_opening", "72", "in", PRACTICE, When::Opening),
    preset("header_height", "9.25", "in", "PS 20, dressed two-by-ten", When::Opening),
    preset("sill_plates", "1", "", PRACTICE, When::Opening),
    preset("corner_post_studs", "2", "", PRACTICE, When::Corner),
    preset("partition_studs", "2", "", PRACTICE, When::Partition),
    preset("ridge_board", "1.5", "in", "PS 20, dressed two-by", When::Roof),
    preset("opening_clearance", "0", "in", PRACTICE, When::Opening),
    preset("partition_build", "studs", "", PRACTICE, When::Partition),
    preset("partition_rows", "inner", "", PRACTICE, When::PartitionInRows),
    preset("fire_board", "0.75", "in", "IRC R302.11.1, from memory: 23/32 in. panel or 3/4 in. board", When::FireBoard),
    preset("frame_junctions", "false", "", PRACTICE, When::Junction),
    preset("walls_through_floors", "cut", "", "IRC R602.3, platform framing", When::FloorBand),
];

/// Name of the fill where the job file names none.
pub(super) const FILL_NAME: &str = "cellulose";

/// The fill where the job file has none.
pub(super) fn default_fill() -> FillChoice {
    named_fill(FILL_NAME)
}

/// A fill with a name and nothing else said.
pub(super) fn named_fill(name: &str) -> FillChoice {
    let of = |key: &str, value: &str, unit: &str| Assumption {
        key: format!("fill.{name}.{key}"),
        value: value.to_owned(),
        unit: unit.to_owned(),
        source: PRACTICE.to_owned(),
    };
    FillChoice {
        rules: FillRules {
            name: name.to_owned(),
            density_kg_m3: 3.5 * POUND_PER_CUBIC_FOOT_KG_M3,
            deep_density_kg_m3: 4.0 * POUND_PER_CUBIC_FOOT_KG_M3,
            deep_from_m: 9.25 * INCH_M,
            open_density_kg_m3: 1.5 * POUND_PER_CUBIC_FOOT_KG_M3,
        },
        bag_kg: None,
        allowance: ALLOWANCE,
        is_retrofit: false,
        density_source: of("density", "3.5", "lb/ft3"),
        open_source: Assumption { source: LOOSE_FILL.to_owned(), ..of("open_density", "1.5", "lb/ft3") },
        deep_sources: vec![of("deep_density", "4.0", "lb/ft3"), of("deep_from", "9.25", "in")],
        order_sources: vec![of("allowance", "0.05", "")],
    }
}
