//! The whole of what was read.

use super::Surface;
use crate::finding::Finding;
use crate::tally::LeftOutElement;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Kind of an input, told from its content.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum InputKind {
    /// A building model in the exchange structure of ISO 10303-21.
    Ifc,
    /// A measured sheet, a plan or a log.
    Csv,
    /// A description of a home by the open standard HPXML.
    Hpxml,
}

/// An input file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Input {
    /// Path, as it was given.
    pub path: String,
    /// SHA-256 of its bytes, in hexadecimal.
    pub sha256: String,
    /// What it is.
    pub kind: InputKind,
    /// Schema of a model (`IFC4`), or the sheets of a table (`surfaces`, `openings`).
    pub schema: Option<String>,
    /// Length unit of a model, such as `millimetre`; null for a sheet with units of its own a column.
    pub length_unit: Option<String>,
}

/// A file that says how the inputs are counted: the job file, or a coverage table that it names.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct FileRead {
    /// Path, as it was given, or from the folder of the job file.
    pub path: String,
    /// SHA-256 of its bytes, in hexadecimal.
    pub sha256: String,
}

/// A value that the inputs did not give.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Assumption {
    /// What it is about, in dotted words, such as `fill.density`.
    pub key: String,
    /// The value, as text, so that `2x6` and `3.5` stand side by side.
    pub value: String,
    /// Its unit; empty where it has none.
    pub unit: String,
    /// Where it comes from: the job file, a published document, or common practice.
    pub source: String,
}

/// What the inputs hold: the model, and all that was seen while reading it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Building {
    /// The files.
    pub inputs: Vec<Input>,
    /// Every surface that could be measured, in the order of the inputs.
    pub surfaces: Vec<Surface>,
    /// Every element or row that gives no surface, with the reason.
    pub left_out: Vec<LeftOutElement>,
    /// What a person must know.
    pub findings: Vec<Finding>,
    /// Values that were filled in while reading.
    pub assumptions: Vec<Assumption>,
}

impl Building {
    /// Appends what another input holds.
    pub fn append(&mut self, other: Self) {
        self.inputs.extend(other.inputs);
        self.surfaces.extend(other.surfaces);
        self.left_out.extend(other.left_out);
        self.findings.extend(other.findings);
        self.assumptions.extend(other.assumptions);
    }
}
