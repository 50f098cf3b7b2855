//! What somebody saw of surfaces before the work: a test hole a row.
//!
//! Invariant: reads what was seen with its place; what follows from it, later stages say.

mod sheet;
mod words;

use crate::finding::Finding;
use crate::model::{DoNotFill, ExistingFill, Glob, Input, Wiring};
use crate::source::Place;
use jiff::civil::Date;

pub use sheet::{SURVEY_SCHEMA, read_survey_sheet};
pub use words::{Finish, Lead, Moisture, Siding};

/// A cell: what it says, in which words, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen<T> {
    /// What it says.
    pub value: T,
    /// As it is written.
    pub text: String,
    /// Where it stands.
    pub place: Place,
}

/// A row: what was seen of some surfaces.
#[derive(Clone, Debug, PartialEq)]
pub struct Looked {
    /// Where it stands.
    pub place: Place,
    /// Patterns on id or name, at least one.
    pub surfaces: Vec<Glob>,
    /// Measured depth of the cavity, in metres.
    pub depth: Option<Seen<f64>>,
    /// Fill that is there already; a value of `None` where there is none.
    pub existing: Option<Seen<Option<ExistingFill>>>,
    /// What must stay empty.
    pub blocked: Option<Seen<Vec<DoNotFill>>>,
    /// Wiring in the cavity.
    pub wiring: Option<Seen<Wiring>>,
    /// The electrician who released old wiring.
    pub released_by: Option<Seen<String>>,
    /// The finish inside.
    pub finish: Option<Seen<Finish>>,
    /// The siding.
    pub siding: Option<Seen<Siding>>,
    /// How wet it is.
    pub moisture: Option<Seen<Moisture>>,
    /// Lead in the paint.
    pub lead: Option<Seen<Lead>>,
    /// How one gets there.
    pub access: Option<Seen<String>>,
    /// The day.
    pub date: Option<Date>,
    /// Who looked.
    pub by: Option<String>,
}

/// A survey.
#[derive(Clone, Debug, PartialEq)]
pub struct Survey {
    /// The file.
    pub input: Input,
    /// Its rows, in its order.
    pub rows: Vec<Looked>,
    /// What was odd and could be read.
    pub findings: Vec<Finding>,
}
