//! The closeout as a contract: what `closeout --save x.json` holds. Figures are SI.

use super::contract_seen::{BaysSeen, CoresTaken, GradeSeen, Readings};
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

/// What puts the mass of a place in doubt, besides its range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Doubt {
    /// Two rows of bags say the same: less may lie here than is counted.
    BlownTwice,
    /// Two rows of what was taken out say the same: more may lie here than is counted.
    TakenTwice,
    /// Bags and cores contradict each other.
    CoresContradict,
}

/// A place that the log names.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Zone {
    /// As the log names it.
    pub name: String,
    /// Its surfaces.
    pub parts: Vec<String>,
    /// Whether a row says what was blown here; else it is judged by what was cut out and seen alone.
    pub is_blown: bool,
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
    /// Net mass over the bays' volume; of open-blown fill over the volume that it was ordered to settle to. Null where no row
    /// says what was blown.
    pub density_kg_m3: Option<f64>,
    /// Lower end of its range.
    pub least_kg_m3: Option<f64>,
    /// Upper end.
    pub most_kg_m3: Option<f64>,
    /// Confidence of the range.
    pub confidence_share: f64,
    /// The most that a closed cavity takes: beyond it the count is wrong, or fill was lost. Null of open-blown fill.
    pub limit_kg_m3: Option<f64>,
    /// What the range rests on, the greatest first.
    pub uncertainty: Vec<UncertaintyInput>,
    /// Whether the hopper was run down or weighed at both ends.
    pub is_closed_off: bool,
    /// Open-blown fill over its area; null of a closed cavity.
    pub attic: Option<AtticBlown>,
    /// Cores; null where none were cut.
    pub cores: Option<CoresTaken>,
    /// Depth readings; null where there are none.
    pub readings: Option<Readings>,
    /// What inspections saw.
    pub bays: BaysSeen,
    /// Grade of the installation, as the rater entered it last; null where nobody graded it.
    pub grade: Option<GradeSeen>,
    /// What the label says of what was ordered; null where no table reaches it.
    pub label: Option<Labelled>,
    /// The highest printed row of the label's table that what was installed reaches, by thickness and by mass per area: papers
    /// print its R and no other. Null where none is.
    pub row: Option<RowReached>,
    /// Why there is none.
    pub no_row_reason: Option<String>,
    /// What puts its mass in doubt, besides the range.
    pub doubts: Vec<Doubt>,
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

/// Open-blown fill over its area.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AtticBlown {
    /// The area that the label's minimum mass per area is the minimum over.
    pub coverage_area_m2: f64,
    /// What that area is, as the label's table says it: `net` of framing, which is taken off to its own depth, or `with
    /// framing`.
    pub basis: String,
    /// Net mass over it.
    pub mass_kg_m2: f64,
    /// Lower end of its range.
    pub least_kg_m2: f64,
    /// Upper end.
    pub most_kg_m2: f64,
    /// The minimum.
    pub minimum_kg_m2: f64,
    /// Density as blown: net mass over the volume at the mean of the readings; null where no depth was read, or the hopper is
    /// not known at both ends.
    pub initial_kg_m3: Option<f64>,
}

/// A printed row of a label's table that what was installed reaches.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RowReached {
    /// Where the table comes from.
    pub source: String,
    /// Thermal resistance, as printed.
    pub r_m2k_w: f64,
    /// Minimum settled thickness.
    pub settled_m: f64,
    /// Initial installed thickness; null where the label does not print it.
    pub initial_m: Option<f64>,
    /// Minimum mass per area.
    pub mass_kg_m2: f64,
}

/// Figures of the label for what was ordered.
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
    /// Bags that are left of the order; null where there is none or the log blows nothing, and below nought where more was
    /// taken.
    pub left_exact: Option<f64>,
    /// Mass that stayed in the building.
    pub net_kg: f64,
    /// Mass that was promised for the zones of the log that something is blown into.
    pub promised_kg: f64,
    /// What it comes to: short where a place is, else by the worse of its uses.
    pub verdict: Reached,
    /// Why, in words.
    pub reason: String,
    /// Places that are short.
    pub short: Vec<String>,
    /// Closed cavities and open-blown fill apart: what one has too much does not make up for the other.
    pub uses: Vec<UseCloseout>,
}

/// A fill over all zones of one use that the log blows it into.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct UseCloseout {
    /// Whether the fill is held on all sides.
    pub r#use: FillUse,
    /// Mass that stayed in the building.
    pub net_kg: f64,
    /// Mass that gives the zones of the log the density that was promised, by their measured depths where they are.
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
