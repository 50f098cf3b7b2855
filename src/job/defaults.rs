//! Every default of the job, with its source.

use super::rules::{FillChoice, OpenRange};
use crate::fill::{DepthStep, Figure, FillRules, Humidity, Material, material_named};
use crate::model::Assumption;
use crate::units::Quantity;

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
    /// A laid-out wall, or a strip of one, is a rim behind a band.
    Rim,
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
        "rim_joist" => When::Rim,
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
    preset("rim_joist", "1.5", "in", PRACTICE, When::Rim),
    preset("walls_through_floors", "cut", "", "IRC R602.3, platform framing", When::FloorBand),
];

/// Name of the fill where the job file names none.
pub(super) const FILL_NAME: &str = "cellulose";

/// The fill where the job file has none.
pub(super) fn default_fill() -> FillChoice {
    named_fill(FILL_NAME, material_named(FILL_NAME))
}

/// What samples of one fill differ by from each other in density: ASTM C687 as measured, 5 %.
const DENSITY_SPREAD: f64 = 0.05;

/// The range about a settled density that the job file gives.
pub(super) fn given_open_range(density: &Quantity) -> OpenRange {
    let source = format!("job file, {} {} within 5 %, as samples of ASTM C687 differ", density.number, density.unit);
    let (least_kg_m3, most_kg_m3) = (density.si * (1.0 - DENSITY_SPREAD), density.si * (1.0 + DENSITY_SPREAD));
    OpenRange { least_kg_m3, most_kg_m3, source }
}

/// A fill with a name and nothing else said: what is published of the generic material that it is.
pub(super) fn named_fill(name: &str, material: Option<&'static Material>) -> FillChoice {
    let of = |key: &str, value: &str, unit: &str, source: &str| Assumption {
        key: format!("fill.{name}.{key}"),
        value: value.to_owned(),
        unit: unit.to_owned(),
        source: source.to_owned(),
    };
    let published = |key: &str, figure: Figure| of(key, figure.number, figure.unit, figure.source);
    let density = material.and_then(|material| material.density);
    let deep = material.and_then(|material| material.deep);
    let open = material.and_then(|material| material.open_density);
    let settling = material.and_then(|material| material.settling);
    let conductivity = material.and_then(|material| material.conductivity);
    let open_range = material.and_then(|material| material.open_range).map(|(least, most)| OpenRange {
        least_kg_m3: least.si,
        most_kg_m3: most.si,
        source: format!("{} {} ({}) to {} ({})", least.number, least.unit, least.source, most.number, most.source),
    });
    FillChoice {
        conductivity_w_mk: conductivity.map(|figure| figure.si),
        conductivity_source: conductivity.map(|figure| published("conductivity", figure)),
        rules: FillRules {
            name: name.to_owned(),
            density_kg_m3: density.map_or(0.0, |figure| figure.si),
            steps: deep.iter().map(|(deep, from)| DepthStep { from_m: from.si, density_kg_m3: deep.si }).collect(),
            netted_kg_m3: None,
            sloped_kg_m3: None,
            open_density_kg_m3: open.map(|figure| figure.si),
        },
        bag_kg: None,
        allowance: ALLOWANCE,
        is_retrofit: false,
        density_source: density.map_or_else(|| of("density", "", "", JOB_FILE), |figure| published("density", figure)),
        step_sources: deep
            .iter()
            .flat_map(|(deep, from)| [published("deep_density", *deep), published("deep_from", *from)])
            .collect(),
        use_sources: Vec::new(),
        open_source: open.map(|figure| published("open_density", figure)),
        open_range_kg_m3: open_range,
        settling_fraction: settling.map(|figure| figure.si),
        settling_source: settling.map(|figure| published("settling", figure)),
        humidity: Humidity::default(),
        coverage: Vec::new(),
        price: None,
        pallet_bags: None,
        bundle_bags: None,
        bag_refusal: None,
        material,
        order_sources: vec![of("allowance", "0.05", "", PRACTICE)],
    }
}
