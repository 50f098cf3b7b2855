//! The closeout as a contract: what `closeout --save x.json` holds. Figures are SI.

use super::finish_contract::Finish;
use crate::fill::FillUse;
use crate::finding::Finding;
use crate::job::PaperFacts;
use crate::model::{Assumption, FileRead, Input};
use schemars::{JsonSchema, Schema, schema_for};
use serde::{Deserialize, Serialize};

/// Name of the format in `format`.
pub const CLOSEOUT_FORMAT: &str = "cavitally-closeout";
/// Version of the format in `version`.
pub const CLOSEOUT_VERSION: u32 = 1;

/// The JSON Schema of the closeout.
pub fn closeout_schema() -> Schema {
    schema_for!(Closeout)
}

/// What was blown, set against the takeoff.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Closeout {
    /// Always `cavitally-closeout`.
    pub format: String,
    /// Version of this contract.
    pub version: u32,
    /// Name of the project, where the job file gives one.
    pub project: Option<String>,
    /// What the job file says for the papers.
    pub papers: PaperFacts,
    /// The files: those of the takeoff, then the log.
    pub inputs: Vec<Input>,
    /// The job file and the coverage tables that it names; empty without a job file.
    pub job_files: Vec<FileRead>,
    /// What the judgement rests on, with its source.
    pub assumptions: Vec<Assumption>,
    /// One entry a place that the log names.
    pub zones: Vec<Zone>,
    /// One entry a fill, over all that the log names of it.
    pub overall: Vec<FillCloseout>,
    /// After each row of bags: how far they should have gone.
    pub running: Vec<RunningCheck>,
    /// Counted surfaces that the log blows nothing into.
    pub not_logged: Vec<String>,
    /// Finished checks; null where no sheet of them is given.
    pub finish: Option<Finish>,
    /// Whether a zone or a fill is short, an inspection found a void, or a required check is not done.
    pub is_short: bool,
    /// What a person must know or decide.
    pub findings: Vec<Finding>,
}

/// What it comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Reached {
    /// The average density, or of an attic thickness and mass, is what was promised or more, as sure as was asked for.
    Reached,
    /// It is less, as sure as was asked for.
    Short,
    /// Neither can be told.
    CannotTell,
}

impl Reached {
    /// As people read it.
    pub fn words(self, use_of: Option<FillUse>) -> &'static str {
        match (self, use_of) {
            (Self::Reached, Some(FillUse::OpenBlown)) => "thickness and mass reached",
            (Self::Reached, _) => "average density reached",
            (Self::Short, _) => "short",
            (Self::CannotTell, _) => "can't tell",
        }
    }
}

/// What a verdict rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum JudgedBy {
    /// Bags counted and remainders weighed.
    Bags,
    /// Cores cut out.
    Cores,
    /// Depth readings and bags.
    ReadingsAndBags,
}

/// A place that the log names.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Zone {
    /// As the log names it.
    pub name: String,
    /// Its surfaces.
    pub parts: Vec<String>,
    /// Its fill.
    pub fill: String,
    /// Whether the fill is held on all sides.
    pub r#use: FillUse,
    /// Days on which something was blown, as `2026-05-12`.
    pub days: Vec<String>,
    /// Volume of its bays.
    pub bay_volume_m3: f64,
    /// Area of its bays.
    pub bay_area_m2: f64,
    /// Mass that was promised: that of the takeoff.
    pub promised_kg: f64,
    /// Density that was promised, over all of it.
    pub promised_kg_m3: f64,
    /// Net mass of a bag; null where nobody gave it, and nothing was blown.
    pub bag_kg: Option<f64>,
    /// Bags that it took of the stock: those of the log, and what was weighed beside them by the mass of a bag, less those
    /// that went back.
    pub bags_exact: f64,
    /// Bags that stayed in the building: net mass by the mass of a bag; null where the hopper is not known at both ends.
    pub bags_used_exact: Option<f64>,
    /// Mass that was blown, hopper before and after included.
    pub blown_kg: f64,
    /// What did not stay in the building.
    pub taken_out: Vec<TakenOut>,
    /// Mass that stayed.
    pub net_kg: f64,
    /// Net mass over the bays' volume.
    pub density_kg_m3: f64,
    /// Lower end of its range.
    pub least_kg_m3: f64,
    /// Upper end.
    pub most_kg_m3: f64,
    /// Confidence of the range.
    pub confidence_share: f64,
    /// What the range rests on, the greatest first.
    pub uncertainty: Vec<UncertaintyInput>,
    /// Whether the hopper was run down or weighed at both ends.
    pub is_closed_off: bool,
    /// Cores; null where none were cut.
    pub cores: Option<CoresTaken>,
    /// Depth readings; null where there are none.
    pub readings: Option<Readings>,
    /// What inspections saw.
    pub bays: BaysSeen,
    /// Grade of the installation, as the rater entered it last; null where nobody graded it.
    pub grade: Option<GradeSeen>,
    /// What the label says of it; null where no table reaches it.
    pub label: Option<Labelled>,
    /// What it comes to.
    pub verdict: Reached,
    /// What the verdict rests on; null where nothing can be told.
    pub judged_by: Option<JudgedBy>,
    /// Why, in words.
    pub reason: String,
    /// What would settle it; empty where it is settled.
    pub settles: Vec<String>,
    /// Who blew and measured.
    pub by: Vec<String>,
    /// Photo numbers.
    pub photos: Vec<String>,
}

/// Figures of the label, for the papers; a printed row of its table.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Labelled {
    /// Where the table comes from.
    pub source: String,
    /// Thermal resistance, as printed; null where it lies between two rows, which print none for it.
    pub r_m2k_w: Option<f64>,
    /// Minimum mass per area.
    pub mass_kg_m2: f64,
    /// Minimum settled thickness; null of a closed cavity.
    pub settled_m: Option<f64>,
    /// Initial installed thickness; null of a closed cavity, and where the label does not print it.
    pub initial_m: Option<f64>,
    /// Depth markers to set, one for each started 300 ft2; null of a closed cavity.
    pub markers: Option<u64>,
}

/// A grade of the installation, by ANSI/RESNET/ICC 301, as a rater entered it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GradeSeen {
    /// `I`, `II` or `III`.
    pub grade: String,
    /// How it was seen.
    pub method: String,
    /// Who entered it; null where the log does not say.
    pub by: Option<String>,
    /// Void as a share of the cavity's area that the grade allows.
    pub void_share: f64,
    /// Heat through each surface at that share.
    pub heat: Vec<GradedHeat>,
}

/// Heat through a surface at the share of void of its grade.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GradedHeat {
    /// The surface.
    pub surface: String,
    /// Thermal transmittance of the whole assembly, combined by ISO 6946; null where the takeoff did not compute it so.
    pub u_w_m2k: Option<f64>,
    /// Why not.
    pub reason: Option<String>,
}

/// Material that did not stay in the building.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TakenOut {
    /// `spilled`, `vacuumed`, `returned`, `in machine`.
    pub what: String,
    /// Its mass.
    pub mass_kg: f64,
}

/// An input that a range rests on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct UncertaintyInput {
    /// What it is.
    pub what: String,
    /// One standard deviation of it, as a share of the density.
    pub standard_share: f64,
}

/// Cores of a zone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CoresTaken {
    /// Each of them.
    pub samples: Vec<CoreSample>,
    /// Mean density.
    pub mean_kg_m3: f64,
    /// Standard deviation; null of a single one.
    pub spread_kg_m3: Option<f64>,
    /// Lower end of the mean's range, by Student's t; null of a single one.
    pub least_kg_m3: Option<f64>,
    /// Upper end.
    pub most_kg_m3: Option<f64>,
    /// Places of those below what was promised.
    pub below: Vec<String>,
}

/// A core.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CoreSample {
    /// Where it stands in the log.
    pub r#where: String,
    /// Its density.
    pub density_kg_m3: f64,
}

/// Depth readings of a zone: of open-blown fill, or of closed cavities.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Readings {
    /// How many.
    pub count: u32,
    /// Their mean.
    pub mean_m: f64,
    /// The least.
    pub least_m: f64,
    /// What was promised: initial thickness, or the depth of the takeoff; null where it is not known.
    pub promised_m: Option<f64>,
    /// Places of those below it, of open-blown fill.
    pub below: Vec<String>,
}

/// What inspections saw of the bays.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BaysSeen {
    /// Bays of the zone.
    pub bays: u64,
    /// Bays that were seen to be filled.
    pub filled: u64,
    /// Bays that were seen to have a void.
    pub voids: Vec<String>,
    /// Ways in which they were seen.
    pub methods: Vec<String>,
    /// Whether every bay was seen, and seen to be filled.
    pub every_bay_filled: bool,
}

/// A fill over all zones.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FillCloseout {
    /// Name.
    pub fill: String,
    /// Bags of the order; null where there is none.
    pub bags_order: Option<u64>,
    /// Bags that it took of the stock: those of the log, and what was weighed beside them by the mass of a bag, less those
    /// that went back.
    pub bags_exact: f64,
    /// Bags that are left of the order; null where there is none, and below nought where more was taken.
    pub left_exact: Option<f64>,
    /// Mass that stayed in the building.
    pub net_kg: f64,
    /// Mass that was promised for the zones of the log.
    pub promised_kg: f64,
    /// Net over promised.
    pub mass_ratio: f64,
    /// Lower end of its range.
    pub least_ratio: f64,
    /// Upper end.
    pub most_ratio: f64,
    /// What it comes to.
    pub verdict: Reached,
    /// Why, in words.
    pub reason: String,
}

/// How far the bags so far should have gone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RunningCheck {
    /// Where the row stands.
    pub r#where: String,
    /// The day.
    pub date: Option<String>,
    /// The zone.
    pub zone: String,
    /// Bags that the zone took of the stock so far.
    pub bags_exact: f64,
    /// Mass in the zone so far: what is in the hopper, as far as it is known, and what was taken out are not in it.
    pub mass_kg: f64,
    /// Mass that the zone takes.
    pub promised_kg: f64,
    /// Bays that should be filled by now, from the first on.
    pub bays_filled: u64,
    /// Bays of the zone.
    pub bays: u64,
    /// The last of them: `G-S bay 9`; null where none is full yet.
    pub up_to: Option<String>,
}
