//! The check of a rig, as a contract: what `rig --save x.json` holds. Files are SI; texts are in the units asked for.

use super::{CordFigures, HoseFigures, PressureFigures, TimeFigures, TrialBoxFigures};
use crate::model::{FileRead, Input};
use schemars::{JsonSchema, Schema, schema_for};
use serde::{Deserialize, Serialize};

/// Name of the format in `format`.
pub const FORMAT: &str = "cavitally-rig";
/// Version of the format in `version`.
pub const VERSION: u32 = 1;

/// The JSON Schema of the check of a rig.
pub fn rig_schema() -> Schema {
    schema_for!(RigCheck)
}

/// The check of one rig against one job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RigCheck {
    /// Always `cavitally-rig`.
    pub format: String,
    /// Version of this contract.
    pub version: u32,
    /// Name of the project, where the job file gives one.
    pub project: Option<String>,
    /// Name of the rig.
    pub rig: String,
    /// The files of the takeoff; empty where there was none.
    pub inputs: Vec<Input>,
    /// The job file and the coverage tables that it names; empty without a job file.
    pub job_files: Vec<FileRead>,
    /// Whether a takeoff was there to check against.
    pub has_takeoff: bool,
    /// The worst of all points.
    pub status: Status,
    /// Every point that was checked, in the order in which a crew goes through them.
    pub points: Vec<Point>,
    /// Pressure.
    pub pressure: PressureFigures,
    /// Hose; null where none is given, or no flow of air.
    pub hose: Option<HoseFigures>,
    /// Trial box that was filled; null where none was.
    pub trial_box: Option<TrialBoxFigures>,
    /// Cords, one a circuit.
    pub cords: Vec<CordFigures>,
    /// Time; null without a takeoff or a rate.
    pub time: Option<TimeFigures>,
    /// Hazards to look for before blowing.
    pub hazards: Vec<Hazard>,
    /// Where each figure comes from: its formula, what goes into it, and the source.
    pub steps: Vec<Step>,
}

/// How a point turned out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// It does.
    Holds,
    /// Nobody can tell from what is given.
    NotShown,
    /// It does not.
    FallsShort,
}

/// What is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Topic {
    /// Pressure of the blower.
    Pressure,
    /// Hose.
    Hose,
    /// Trial box.
    TrialBox,
    /// Circuits, cords and generator.
    Power,
    /// Hours and days.
    Time,
    /// Truck, hopper and storage.
    Haul,
}

impl Topic {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Pressure => "Pressure",
            Self::Hose => "Hose",
            Self::TrialBox => "Trial box",
            Self::Power => "Power",
            Self::Time => "Time",
            Self::Haul => "Truck and storage",
        }
    }
}

/// A point that was checked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Point {
    /// What it is about.
    pub topic: Topic,
    /// How it turned out.
    pub status: Status,
    /// What was found, as a sentence.
    pub found: String,
    /// What to do next; null where nothing needs to be done.
    pub action: Option<String>,
}

/// A hazard to look for before blowing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Hazard {
    /// What it is.
    pub what: String,
    /// What the takeoff or the job file says of it; null where they say nothing.
    pub seen: Option<String>,
    /// What to do.
    pub action: String,
    /// The rule, by its number.
    pub rule: String,
}

/// Where a figure comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Step {
    /// What it is about.
    pub topic: Topic,
    /// What the figure is.
    pub what: String,
    /// The figure, with its unit.
    pub value: String,
    /// How it is computed.
    pub formula: String,
    /// What goes into it, each with its value and where that comes from.
    pub inputs: Vec<String>,
    /// Where the formula, or a figure that is no sum, comes from.
    pub source: String,
}
