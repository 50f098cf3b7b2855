//! The audit as a contract: what `audit --save x.json` holds. Figures are SI, with their unit beside them.

use super::Cause;
use crate::finding::Finding;
use crate::intake::claims::{Basis, Quantity};
use crate::job::PaperFacts;
use crate::model::{Assumption, FileRead, Input};
use schemars::{JsonSchema, Schema, schema_for};
use serde::{Deserialize, Serialize};

/// Name of the format in `format`.
pub const AUDIT_FORMAT: &str = "cavitally-audit";
/// Version of the format in `version`.
pub const AUDIT_VERSION: u32 = 1;

/// The JSON Schema of the audit.
pub fn audit_schema() -> Schema {
    schema_for!(Audit)
}

/// A plan set against the takeoff.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Audit {
    /// Always `cavitally-audit`.
    pub format: String,
    /// Version of this contract.
    pub version: u32,
    /// Name of the project, where the job file gives one.
    pub project: Option<String>,
    /// What the job file says for the papers.
    pub papers: PaperFacts,
    /// The files: those of the takeoff, then the plan.
    pub inputs: Vec<Input>,
    /// The job file and the coverage tables that it names; empty without a job file.
    pub job_files: Vec<FileRead>,
    /// How far a claim may be from our figure and still hold, with the source of each tolerance.
    pub tolerances: Vec<Assumption>,
    /// The causes that are looked for, each with its test.
    pub causes: Vec<CauseMeaning>,
    /// Every claim, in the order of the plan.
    pub claims: Vec<JudgedClaim>,
    /// Places of rows that no surface fits.
    pub claims_without_surface: Vec<String>,
    /// Counted surfaces that no row claims anything of.
    pub surfaces_without_claim: Vec<String>,
    /// How many claims fall short: those too high, too low, or of no surface.
    pub fell_short: u64,
    /// What a person must know or decide, of the plan; those of the takeoff stand in the takeoff.
    pub findings: Vec<Finding>,
}

/// A likely cause and its test.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct CauseMeaning {
    /// The cause.
    pub cause: Cause,
    /// What it is.
    pub meaning: String,
    /// The test.
    pub test: String,
}

/// What a claim comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// It agrees with ours within the tolerance.
    Holds,
    /// It is above ours, by more than the tolerance.
    TooHigh,
    /// It is below ours, by more than the tolerance.
    TooLow,
    /// There is nothing of ours to set against it, or what there is has another basis.
    NotCompared,
    /// No surface fits the row.
    NoSurface,
}

impl Verdict {
    /// Whether the claim falls short.
    pub fn is_short(self) -> bool {
        matches!(self, Self::TooHigh | Self::TooLow | Self::NoSurface)
    }

    /// As people read it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::TooHigh => "too high",
            Self::TooLow => "too low",
            Self::NotCompared => "not compared",
            Self::NoSurface => "no surface",
        }
    }
}

/// A claim, judged.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct JudgedClaim {
    /// Where it stands.
    pub r#where: String,
    /// Which surfaces, as the plan names them.
    pub surfaces: String,
    /// The surfaces that are meant.
    pub parts: Vec<String>,
    /// Surfaces that fit and are not counted; what is theirs is not in our figure.
    pub parts_not_counted: Vec<String>,
    /// What the figure is of.
    pub quantity: Quantity,
    /// Basis of a resistance or transmittance.
    pub basis: Option<Basis>,
    /// Unit of the figures here.
    pub unit: String,
    /// The claim as it was written.
    pub claimed: String,
    /// The claim.
    pub claimed_si: f64,
    /// Ours; the least of the parts, where each has its own.
    pub ours_si: Option<f64>,
    /// The greatest of the parts; null where there is one figure.
    pub ours_most_si: Option<f64>,
    /// From here on a claim holds.
    pub least_si: Option<f64>,
    /// Up to here it holds.
    pub most_si: Option<f64>,
    /// Claim less ours: less the nearest, where each part has its own.
    pub difference_si: Option<f64>,
    /// What it comes to.
    pub verdict: Verdict,
    /// Why it is not compared, or which parts it does not hold for.
    pub reason: Option<String>,
    /// The likely cause, where the figures show one.
    pub cause: Option<CauseFound>,
    /// Causes that fit equally, of which none is named.
    pub undecided: Vec<Cause>,
    /// How ours was derived.
    pub derivation: Vec<Step>,
}

/// A likely cause, with the figure that it would have given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CauseFound {
    /// The cause.
    pub cause: Cause,
    /// What the claim would be by it.
    pub predicted_si: f64,
    /// In words, with what it was computed from.
    pub message: String,
}

/// A step from what was measured to our figure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Step {
    /// What it is.
    pub what: String,
    /// The figure.
    pub value_si: f64,
    /// Its unit.
    pub unit: String,
}

impl Step {
    /// A step.
    pub fn new(what: impl Into<String>, value_si: f64, unit: &str) -> Self {
        Self { what: what.into(), value_si, unit: unit.to_owned() }
    }
}

/// Unit of a quantity's figures.
pub(super) fn unit_of(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::GrossArea | Quantity::NetArea | Quantity::BayArea => "m2",
        Quantity::FramingFraction => "1",
        Quantity::Depth | Quantity::SettledThickness | Quantity::InitialThickness => "m",
        Quantity::Density => "kg/m3",
        Quantity::Mass | Quantity::BagMass => "kg",
        Quantity::Bags => "bags",
        Quantity::RValue => "m2K/W",
        Quantity::UValue => "W/(m2K)",
    }
}
