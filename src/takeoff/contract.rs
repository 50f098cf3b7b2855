//! The takeoff: the measured quantities of one building, as a contract.
//!
//! The types here are what `--save x.json` holds. Field names carry their unit; files are SI.

use super::compared::FramingComparison;
use super::contract_fill::{FillTakeoff, LabelTakeoff, LabourTakeoff, OpenBlownTakeoff};
use super::heat_contract::HeatTakeoff;
use crate::fill::{FillMethod, FillUse};
use crate::finding::{Code, Finding};
use crate::geometry::Polygon;
use crate::job::{ExposureAsked, SeenFrom};
use crate::model::{Assumption, Exposure, FileRead, Input, OpeningKind, SurfaceKind};
use crate::source::Source;
use crate::tally::LeftOutElement;
use schemars::{JsonSchema, Schema, schema_for};
use serde::{Deserialize, Serialize};

/// Name of the format in `format`.
pub const FORMAT: &str = "cavitally-takeoff";
/// Version of the format in `version`.
pub const VERSION: u32 = 1;

/// The JSON Schema of the takeoff.
pub fn takeoff_schema() -> Schema {
    schema_for!(Takeoff)
}

/// The measured quantities of one building.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Takeoff {
    /// Always `cavitally-takeoff`.
    pub format: String,
    /// Version of this contract.
    pub version: u32,
    /// Name of the project, where the job file gives one.
    pub project: Option<String>,
    /// Which exposures were asked for.
    pub exposure_asked: ExposureAsked,
    /// The files that were read.
    pub inputs: Vec<Input>,
    /// The job file and the coverage tables that it names; empty without a job file.
    pub job_files: Vec<FileRead>,
    /// Every value that the inputs did not give, with its source.
    pub assumptions: Vec<Assumption>,
    /// Every surface, counted or not.
    pub surfaces: Vec<SurfaceTakeoff>,
    /// One entry a fill material.
    pub fills: Vec<FillTakeoff>,
    /// Hours of the work; null where the job gives no rate.
    pub labour: Option<LabourTakeoff>,
    /// What stays in hopper and hose at the end; null where the job does not say.
    pub left_in_machine_kg: Option<f64>,
    /// From where the crew sees the surfaces that it fills, by the job file; from outside where it does not say.
    pub crew_seen_from: SeenFrom,
    /// What must be read with the order.
    pub cautions: Vec<CautionTakeoff>,
    /// Filling holes of all surfaces.
    pub holes: HolesTakeoff,
    /// Members as a fraction of gross less openings, by volume, over all that was laid out and is not blown open; null
    /// where nothing was.
    pub framing_fraction: Option<f64>,
    /// Laid-out framing beside the published fractions, by kind and spacing.
    pub framing: Vec<FramingComparison>,
    /// Types of the surfaces, with their layers, count and area.
    pub types: Vec<TypeTakeoff>,
    /// Proof that nothing was lost.
    pub balance: Balance,
    /// Elements and rows that gave no surface, with the reason.
    pub left_out_elements: Vec<LeftOutElement>,
    /// What a person must know or decide.
    pub findings: Vec<Finding>,
}

/// One surface. Areas, volumes and masses are for all of `count`; the lists are those of one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SurfaceTakeoff {
    /// GlobalId, or the sheet's own id.
    pub id: String,
    /// Number of the piece where one element gives several planes, else 0.
    pub part: u32,
    /// Where it was read.
    pub source: Source,
    /// Name.
    pub name: Option<String>,
    /// Name of its type.
    pub r#type: Option<String>,
    /// Storey.
    pub storey: Option<String>,
    /// Zone.
    pub zone: Option<String>,
    /// How many alike.
    pub count: u32,
    /// Kind.
    pub kind: SurfaceKind,
    /// What lies on the other side.
    pub exposure: Exposure,
    /// How it is framed, in words (`2x6 @ 16 in`); null where that is not known.
    pub assembly: Option<String>,
    /// Thickness of the whole body.
    pub thickness_m: Option<f64>,
    /// Depth that is filled: of the cavity, less the vent channel of a roof; of open-blown fill its settled thickness; null when not counted.
    pub depth_m: Option<f64>,
    /// Slope against the level; 90 for an upright wall.
    pub pitch_deg: Option<f64>,
    /// Where it stands in its model, as a plan shows it: of a wall the line of its cavity from the left end of its outline to
    /// the right end, of all else the outline; x and y of the world. Null where nobody says, as in a sheet.
    pub plan_m: Option<Vec<[f64; 2]>>,
    /// Its lowest point above the origin of its model; null where `plan_m` is.
    pub level_m: Option<f64>,
    /// Outline, openings filled: outer rings counter-clockwise, holes clockwise; empty where only an area is known.
    pub outline_m: Vec<Vec<[f64; 2]>>,
    /// Area with the openings filled.
    pub gross_area_m2: f64,
    /// What the openings take.
    pub opening_area_m2: f64,
    /// What the members take.
    pub member_area_m2: f64,
    /// What the bays hold.
    pub bay_area_m2: f64,
    /// What is left out.
    pub left_out_area_m2: f64,
    /// Gross area times depth, and what netting bulges beyond it; null when not counted.
    pub gross_volume_m3: Option<f64>,
    /// Opening area times depth.
    pub opening_volume_m3: Option<f64>,
    /// What the members take: member area times depth, and what partial members take.
    pub member_volume_m3: Option<f64>,
    /// What is filled: bay area times depth, less what partial members take and what stays empty in the bays.
    pub bay_volume_m3: Option<f64>,
    /// Left-out area times depth, less what partial members take, and what stays empty in the bays.
    pub left_out_volume_m3: Option<f64>,
    /// Members as a fraction of gross less openings, by volume: where all go through the depth, also by area.
    pub framing_fraction: Option<f64>,
    /// Name of the fill.
    pub fill: Option<String>,
    /// Installed density.
    pub density_kg_m3: Option<f64>,
    /// Mass of the fill, allowance not included.
    pub mass_kg: Option<f64>,
    /// How the fill gets in; null when not counted.
    pub method: Option<FillMethod>,
    /// How far netting bulges beyond the depth, as a mean over a bay; nought without netting, null when not counted.
    pub netting_bulge_m: Option<f64>,
    /// Filling holes, or slits in netting; null when not counted, and where only an area is known.
    pub holes: Option<u64>,
    /// Whether somebody looked for bays that must stay empty: false where existing bays are filled and nobody says;
    /// null for new work.
    pub surveyed: Option<bool>,
    /// Whether the fill is held on all sides or lies open on a ceiling; null when not counted.
    pub r#use: Option<FillUse>,
    /// What the label of the bag says of its fill; null where no coverage table is given that reaches it.
    pub label: Option<LabelTakeoff>,
    /// How open-blown fill lies; null where the fill is held on all sides.
    pub open_blown: Option<OpenBlownTakeoff>,
    /// Height of the vent channel of a roof, which is not filled and not part of `depth_m`; null where there is none.
    pub vent_gap_m: Option<f64>,
    /// Why a counted roof has no vent channel; null for all else.
    pub unvented: Option<String>,
    /// Baffles to set, one a rafter bay at an eave; null where none are needed or their number is not known.
    pub baffles: Option<u64>,
    /// Length of the dams around hatches in open-blown fill; null where the fill is held on all sides.
    pub dam_length_m: Option<f64>,
    /// Area where the roof above leaves open-blown fill too little room to reach its thickness; null where it is held on all sides.
    pub shallow_area_m2: Option<f64>,
    /// Heat through it, where that is computed.
    pub heat: Option<HeatTakeoff>,
    /// Why not, where it is not.
    pub heat_reason: Option<String>,
    /// Whether it is in the order.
    pub counted: bool,
    /// Why not, where it is not.
    pub reason: Option<String>,
    /// Openings of one.
    pub openings: Vec<OpeningTakeoff>,
    /// Members of one, united, that go through the whole depth.
    pub members: Vec<MemberTakeoff>,
    /// Pieces of framing of one that take a part of the depth; they lie in the bays.
    pub partial_members: Vec<PartialMemberTakeoff>,
    /// Bays of one.
    pub bays: Vec<BayTakeoff>,
    /// Pieces of one that are neither opening, member nor bay.
    pub left_out: Vec<LeftOutTakeoff>,
}

impl SurfaceTakeoff {
    /// What people call it: the id of a sheet's row; in a model the name, else the `GlobalId`.
    pub fn label(&self) -> &str {
        let name = if self.source.line.is_some() { None } else { self.name.as_deref() };
        name.filter(|name| !name.trim().is_empty()).unwrap_or(&self.id)
    }

    /// Whether nobody but the label can say what it takes, and its coverage table is not given.
    pub fn is_estimate(&self) -> bool {
        self.r#use == Some(FillUse::OpenBlown) && self.label.is_none()
    }

    /// Depth that is filled, which chooses the density: the cavity's, and what netting bulges beyond it.
    pub fn filled_depth_m(&self) -> Option<f64> {
        Some(self.depth_m? + self.netting_bulge_m.unwrap_or(0.0))
    }
}

/// An opening.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OpeningTakeoff {
    /// GlobalId, or the sheet's own id.
    pub id: String,
    /// What fills it.
    pub kind: OpeningKind,
    /// What it takes from the surface.
    pub area_m2: f64,
    /// Outline; empty where only an area is known.
    pub outline_m: Polygon,
}

/// A piece of framing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MemberTakeoff {
    /// What it is: `stud`, `top plate`, …
    pub role: String,
    /// Area in the surface's plane.
    pub area_m2: f64,
    /// Outline; empty where framing is by fraction.
    pub outline_m: Polygon,
}

/// A piece of framing that takes a part of the depth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PartialMemberTakeoff {
    /// What it is: `stud`, `joist`, …
    pub role: String,
    /// Area in the surface's plane.
    pub area_m2: f64,
    /// Where it begins, from the outer face of the cavity; of a ceiling, roof or floor from its underside.
    pub from_m: f64,
    /// Where it ends.
    pub to_m: f64,
    /// Share of it that is solid: less than one of the webs of a truss and of punched steel.
    pub solid_share: f64,
    /// What it takes from the bay that it lies in: area times its part of the depth times the solid share.
    pub volume_m3: f64,
    /// Outline.
    pub outline_m: Polygon,
}

/// One closed cavity between members.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BayTakeoff {
    /// Number within the surface, from the left, then from below.
    pub id: String,
    /// Largest width; null where only an area is known.
    pub width_m: Option<f64>,
    /// Largest height; null where only an area is known.
    pub height_m: Option<f64>,
    /// Area in the surface's plane.
    pub area_m2: f64,
    /// Depth that is filled: that of the surface, and what netting bulges beyond it.
    pub depth_m: f64,
    /// What partial members take in it.
    pub displaced_m3: f64,
    /// What of it stays empty though its area is filled.
    pub empty_m3: f64,
    /// Area times depth, less what is displaced and what stays empty.
    pub volume_m3: f64,
    /// Installed density.
    pub density_kg_m3: f64,
    /// Volume times density.
    pub mass_kg: f64,
    /// Filling holes, or slits in netting; null where only an area is known.
    pub holes: Option<u32>,
    /// Where they go, in the surface's plane; empty where only an area is known.
    pub holes_m: Vec<[f64; 2]>,
    /// Outline; empty where only an area is known.
    pub outline_m: Polygon,
}

/// A piece that is neither opening, member nor bay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LeftOutTakeoff {
    /// Why it stays empty.
    pub reason: String,
    /// Area in the surface's plane; nought where it is a part of a bay's volume that has no area of its own.
    pub area_m2: f64,
    /// Volume; null when not counted.
    pub volume_m3: Option<f64>,
    /// The bay that it lies in, where it is a part of one's volume; null too where all bays share it.
    pub bay: Option<String>,
    /// Outline; empty where only an area is known.
    pub outline_m: Polygon,
}

/// What must be read with the order.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CautionTakeoff {
    /// Code of the finding that says the same of each surface.
    pub code: Code,
    /// Surfaces that it is about.
    pub surfaces: Vec<String>,
    /// The hazard, and who decides.
    pub message: String,
}

/// Filling holes of all surfaces.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HolesTakeoff {
    /// Holes to drill.
    pub holes_to_drill: u64,
    /// Holes to plug afterwards.
    pub holes_to_plug: u64,
    /// Slits to cut in netting; none of them is drilled.
    pub slits_in_netting: u64,
    /// Diameter of a hole.
    pub hole_diameter_m: f64,
    /// Gross area of counted surfaces whose holes cannot be counted, since only an area is known of them.
    pub not_counted_area_m2: f64,
}

/// Surfaces of one type.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TypeTakeoff {
    /// Name of the type; null where the surfaces have none.
    pub r#type: Option<String>,
    /// Kind of the surfaces.
    pub kind: SurfaceKind,
    /// Layers, in words.
    pub layers: Vec<String>,
    /// How many surfaces.
    pub count: u32,
    /// Their gross area.
    pub gross_area_m2: f64,
    /// How many of them are counted.
    pub counted: u32,
    /// Why the others are not; empty where all are counted.
    pub reasons: Vec<String>,
}

/// Proof that nothing was lost: gross = openings + members + bays + left out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Balance {
    /// Gross area of all surfaces.
    pub gross_area_m2: f64,
    /// Openings.
    pub opening_area_m2: f64,
    /// Members.
    pub member_area_m2: f64,
    /// Bays.
    pub bay_area_m2: f64,
    /// Left out.
    pub left_out_area_m2: f64,
    /// Gross less the four others.
    pub residual_m2: f64,
    /// Elements and rows of the classes that are read.
    pub elements_read: u64,
    /// Those that are in the order.
    pub elements_counted: u64,
    /// Those that are not.
    pub elements_left_out: u64,
}
