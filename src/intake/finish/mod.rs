//! What somebody checked after the work: a check a row.
//!
//! Invariant: reads what was checked with its place; what it is held against, later stages say.

mod sheet;

use crate::finding::Finding;
use crate::model::Input;
use crate::source::Place;
use jiff::civil::Date;

pub use sheet::{FINISH_SCHEMA, read_finish_sheet};

/// What is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Check {
    /// Drilled holes are plugged.
    HolesPlugged,
    /// Registers and returns are uncovered and clean.
    RegistersChecked,
    /// Attic and roof vents are clear.
    VentsClear,
    /// Combustion appliances are tested, carbon monoxide among it.
    CombustionTested,
    /// Air leakage is measured.
    BlowerDoor,
    /// Bags that are left are counted.
    BagsLeft,
    /// Labels of bags are kept.
    LabelsKept,
}

impl Check {
    /// All of them, in the order in which they are listed.
    pub const ALL: [Self; 7] = [
        Self::HolesPlugged,
        Self::RegistersChecked,
        Self::VentsClear,
        Self::CombustionTested,
        Self::BlowerDoor,
        Self::BagsLeft,
        Self::LabelsKept,
    ];

    /// As people write it.
    pub fn word(self) -> &'static str {
        match self {
            Self::HolesPlugged => "holes plugged",
            Self::RegistersChecked => "registers checked",
            Self::VentsClear => "vents clear",
            Self::CombustionTested => "combustion appliances tested",
            Self::BlowerDoor => "blower-door test",
            Self::BagsLeft => "bags left",
            Self::LabelsKept => "labels kept",
        }
    }

    /// Whether its value is a number to compare.
    pub fn is_counted(self) -> bool {
        matches!(self, Self::HolesPlugged | Self::BagsLeft)
    }
}

/// How a check stands, as the sheet says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    /// Done.
    Done,
    /// Not done.
    NotDone,
    /// Not needed, for a reason that is noted.
    NotNeeded,
}

/// A row.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// Where it stands.
    pub place: Place,
    /// What.
    pub check: Check,
    /// How it stands.
    pub stand: Stand,
    /// What was found, in its words.
    pub value: Option<String>,
    /// The same as a number, of what is counted.
    pub value_number: Option<f64>,
    /// Name of the fill, of bags.
    pub fill: Option<String>,
    /// The day.
    pub date: Option<Date>,
    /// Who.
    pub by: Option<String>,
    /// A note.
    pub note: Option<String>,
}

/// The checks of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct FinishSheet {
    /// The file.
    pub input: Input,
    /// Its rows, in its order; none comes twice.
    pub rows: Vec<Checked>,
    /// What was odd and could be read.
    pub findings: Vec<Finding>,
}
